package model

import (
	"fmt"
	"slices"
)

// Strand is what a journal is read for: a few kinds of entry that belong together.
type Strand string

// The strands, in the order in which a screen goes through them.
const (
	AllOfIt    Strand = "all"
	Readings   Strand = "readings"
	Additions  Strand = "additions" // what went in
	VesselWork Strand = "vessel"    // what was done to the vessel, or moved between vessels
	NotesOfIt  Strand = "notes"     // notes, tastes, and readings with a note
	DueOfIt    Strand = "due"       // what was to be done, and what of it was
	StruckOut  Strand = "struck"    // what does not count, and the voids that say so
)

// Strands lists them.
func Strands() []Strand {
	return []Strand{AllOfIt, Readings, Additions, VesselWork, NotesOfIt, DueOfIt, StruckOut}
}

// ParseStrand returns the strand of that name.
func ParseStrand(name string) (Strand, error) {
	if s := Strand(name); slices.Contains(Strands(), s) {
		return s, nil
	}
	return "", fmt.Errorf("a journal has no %q; want one of %s: %w", name, joined(Strands()), ErrInvalid)
}

// Next returns the strand so many steps on, counting round.
func (s Strand) Next(by int) Strand {
	all := Strands()
	return all[((slices.Index(all, s)+by)%len(all)+len(all))%len(all)]
}

// strandOf is the one strand that every kind belongs to.
var strandOf = map[Kind]Strand{
	KindReading: Readings, KindDistrust: Readings,

	KindMust: Additions, KindPitch: Additions, KindFruit: Additions, KindAddition: Additions,
	KindPour: Additions, KindFeed: Additions, KindStabilise: Additions,

	KindRack: VesselWork, KindPress: VesselWork, KindPart: VesselWork, KindDraw: VesselWork,
	KindMove: VesselWork, KindFine: VesselWork, KindStir: VesselWork, KindBottle: VesselWork,

	KindNote: NotesOfIt, KindTaste: NotesOfIt, KindBench: NotesOfIt, KindTasting: NotesOfIt,

	KindRemind: DueOfIt, KindTick: DueOfIt, KindPlan: DueOfIt,

	KindVoid: StruckOut,
}

// Holds reports whether a line of the diary belongs to the strand.
func (s Strand) Holds(t Told) bool {
	switch s {
	case AllOfIt:
		return true
	case StruckOut:
		return !t.Counts
	case NotesOfIt:
		if r, ok := t.Body.(Reading); ok && r.Note != "" {
			return true
		}
	}
	return strandOf[t.Body.Kind()] == s
}
