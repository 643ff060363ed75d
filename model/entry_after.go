package model

import (
	"fmt"
	"time"
)

// What is written of a batch that changes nothing in the vessel: bottles opened and
// tasted, and what is to be done.

// The kinds of what is written besides.
const (
	KindTaste  Kind = "taste"
	KindRemind Kind = "remind"
	KindTick   Kind = "tick"
)

// Tasted is a taste of the drink: out of bottles taken from the shelf, or out of the
// vessel. Bottles given away are one too, without a mark.
type Tasted struct {
	Bottles int // taken from the shelf; 0: out of the vessel
	Marked  bool
	Mark    float64 // 0 to 10, the higher the better
	Words   string
}

// Reminder is something the person wants to be told of at a time.
type Reminder struct {
	What string
	Due  time.Time
	By   Kind // of an entry that is what it asks for; empty: it takes a [Tick]
}

// Tick is something due that was done, or put off.
type Tick struct {
	Due   string    // the key of the [Due]
	Until time.Time // put off until then; zero: done
	Words string    // may be empty
}

// Kind implements Body.
func (Tasted) Kind() Kind { return KindTaste }

// Kind implements Body.
func (Reminder) Kind() Kind { return KindRemind }

// Kind implements Body.
func (Tick) Kind() Kind { return KindTick }

// Validate implements Body.
func (t Tasted) Validate() error {
	if t.Bottles < 0 || t.Bottles > 100000 {
		return fmt.Errorf("%d bottles is outside 0 to 100000: %w", t.Bottles, ErrInvalid)
	}
	if t.Marked && !(t.Mark >= 0 && t.Mark <= 10) {
		return fmt.Errorf("mark %.4g is outside 0 to 10: %w", t.Mark, ErrInvalid)
	}
	if t.Bottles == 0 && !t.Marked && t.Words == "" {
		return fmt.Errorf("a taste needs a mark, words or a bottle: %w", ErrInvalid)
	}
	return plainText("words", t.Words, maxText, false)
}

// Validate implements Body.
func (r Reminder) Validate() error {
	if r.Due.IsZero() || r.Due.Year() > 9000 {
		return fmt.Errorf("a reminder needs a time: %w", ErrInvalid)
	}
	if r.By != "" && r.By != KindReading && r.By != KindAddition {
		return fmt.Errorf("a reminder is not done by an entry of kind %q: %w", r.By, ErrInvalid)
	}
	return plainText("reminder", r.What, maxName, true)
}

// Validate implements Body.
func (t Tick) Validate() error {
	if err := plainText("due", t.Due, maxName, true); err != nil {
		return err
	}
	return plainText("words", t.Words, maxText, false)
}
