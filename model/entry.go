package model

import (
	"time"

	"cellar.local/glassrow/calc"
)

// EntryID numbers the entries of one batch in the order they were written,
// from 1. Zero is no entry.
type EntryID uint64

// Entry is one line of a batch's journal. Entries are never changed.
type Entry struct {
	ID       EntryID
	At       time.Time // when it happened
	Recorded time.Time // when it was written down
	Deed     uint64    // entries of one deed were written together, in one batch or several, and are undone together; 0: by itself
	Body     Body
}

// Body is what an entry says. The kinds are the types in this file.
type Body interface {
	// Kind is the word for the entry in the journal and in scripts.
	Kind() Kind

	// Validate reports what is wrong with the body by itself, or nil.
	Validate() error
}

// Kind is the kind of an entry.
type Kind string

// The kinds of entry.
const (
	KindMust     Kind = "must"
	KindPitch    Kind = "pitch"
	KindReading  Kind = "reading"
	KindAddition Kind = "addition"
	KindRack     Kind = "rack"
	KindBottle   Kind = "bottle"
	KindNote     Kind = "note"
	KindVoid     Kind = "void"
)

// Must is the making of the must: what went into which vessel, and what the
// hydrometer said. A gravity measured wins over one computed from the
// ingredients; the ingredients then say what that gravity is made of. Of fruit it
// feels only the juice that was out when it was read.
type Must struct {
	Vessel      VesselID
	Volume      calc.Litre // in the vessel, fruit and all
	Gravity     calc.SG    // 20/20; 0: not measured, computed from the ingredients
	Ingredients []Portion
	Fruit       []calc.FruitPortion
}

// Portion is some of an ingredient. The composition is kept with it, so that a
// figure corrected later in the handbook does not rewrite the past.
type Portion struct {
	Ingredient calc.Ingredient
	Mass       calc.Gram
}

// Pitch is the adding of yeast.
type Pitch struct {
	Yeast     YeastGroup
	Name      string          // the person's own words for it
	Tolerance calc.PercentVol // 0: the group's usual
}

// Addition is something stirred into the batch after the must was made.
type Addition struct {
	Portion Portion
	Purpose string  // "sweeten", "feed", or the person's words
	Plan    EntryID // of the feed plan it ticks off; 0: none
	Dose    int     // which of the plan's doses, from 0
}

// Rack is moving the batch to another vessel, some being left behind.
type Rack struct {
	To     VesselID
	Volume calc.Litre // carried over; 0: all of it
}

// Bottle is drawing the batch off into bottles. What the bottles do not hold
// and is not kept is lees and loss.
type Bottle struct {
	Count   int
	Size    calc.Litre
	Rest    bool   // the vessel keeps what is left; otherwise it is empty after
	Closure string // cork, crown cap; may be empty
}

// Note is words, and nothing else.
type Note struct {
	Text string
}

// Void strikes out another entry: an undo, or the first half of a correction.
// A void can be voided in turn, which brings the entry back.
type Void struct {
	Entry  EntryID
	Reason string
}

// Kind implements Body.
func (Must) Kind() Kind { return KindMust }

// Kind implements Body.
func (Pitch) Kind() Kind { return KindPitch }

// Kind implements Body.
func (Reading) Kind() Kind { return KindReading }

// Kind implements Body.
func (Addition) Kind() Kind { return KindAddition }

// Kind implements Body.
func (Rack) Kind() Kind { return KindRack }

// Kind implements Body.
func (Bottle) Kind() Kind { return KindBottle }

// Kind implements Body.
func (Note) Kind() Kind { return KindNote }

// Kind implements Body.
func (Void) Kind() Kind { return KindVoid }
