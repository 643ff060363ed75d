package words

import (
	"strings"

	"cellar.local/glassrow/model"
)

// Follows says which figures another journal gives, each before and after; nothing
// when every figure reads the same.
func (w Words) Follows(before, after model.State) []string {
	var said []string
	tell := func(what, was, is, unit string) {
		if was != is {
			said = append(said, w.Text(what+" "+was+" "+w.Arrow()+" "+is+unit))
		}
	}
	tell("strength", w.Percent(before.Strength, 0), w.Percent(after.Strength, 0), " % vol")
	tell("gravity", w.Gravity(before.SG()), w.Gravity(after.SG()), "")
	tell("sugar", decimals(float64(before.Figures.Sugar), 1), decimals(float64(after.Figures.Sugar), 1), " g/L")
	tell("volume", w.Volume(before.Figures.Volume), w.Volume(after.Figures.Volume), "")
	tell("standing", string(before.Standing), string(after.Standing), "")
	return said
}

// Strand names a part of the journal to a person.
func Strand(s model.Strand) string {
	switch s {
	case model.AllOfIt:
		return "everything"
	case model.Additions:
		return "what went in"
	case model.VesselWork:
		return "vessel"
	case model.NotesOfIt:
		return "tastes and notes"
	case model.StruckOut:
		return "struck out"
	}
	return string(s)
}

// NothingOf says that a journal holds nothing of a strand.
func NothingOf(s model.Strand) string {
	switch s {
	case model.AllOfIt:
		return "nothing is written down yet"
	case model.Readings:
		return "nothing was read yet"
	case model.Additions:
		return "nothing went in"
	case model.VesselWork:
		return "nothing was done to the vessel"
	case model.NotesOfIt:
		return "no taste and no note"
	case model.DueOfIt:
		return "nothing was planned or put off"
	}
	return "nothing is struck out"
}

// CopiedIn says that other journals, split off this one or it off them, have an entry
// too that is struck out, or brought back, in this one alone. The names are not yet safe
// to print.
func CopiedIn(names []string, back bool) string {
	also, do := "have it too", "strike it out there as well"
	if len(names) == 1 {
		also = "has it too"
	}
	if back {
		do = "bring it back there as well"
	}
	return strings.Join(names, " and ") + " " + also + ", from before the split; if it was wrong, " + do
}
