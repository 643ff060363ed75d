package cli

import (
	"fmt"
	"strings"

	"cellar.local/glassrow/model"
)

// describe says what an entry is about. The words in it are still as they were
// typed: pass them through words.text.
func describe(body model.Body, at spot, w words) string {
	switch b := body.(type) {
	case model.Must:
		return describeMust(b, at, w)
	case model.Pitch:
		if b.Name != "" {
			return fmt.Sprintf("pitch: %s (%s)", b.Name, b.Yeast)
		}
		return fmt.Sprintf("pitch: %s yeast", b.Yeast)
	case model.Reading:
		return "reading: " + b.String()
	case model.Addition:
		s := fmt.Sprintf("addition: %s of %s", w.mass(b.Portion.Mass), b.Portion.Ingredient.Name)
		if b.Purpose != "" {
			s += ", to " + b.Purpose
		}
		return s
	case model.Rack:
		s := "rack: to " + at.label(b.To)
		if b.Volume != 0 {
			s += ", " + w.volume(b.Volume)
		}
		return s
	case model.Bottle:
		return fmt.Sprintf("bottle: %d of %s", b.Count, w.volume(b.Size))
	case model.Note:
		return "note: " + b.Text
	case model.Void:
		s := fmt.Sprintf("undo of %d", b.Entry)
		if b.Reason != "" {
			s += ": " + b.Reason
		}
		return s
	}
	return string(body.Kind())
}

func describeMust(m model.Must, at spot, w words) string {
	parts := []string{fmt.Sprintf("must: %s into %s", w.volume(m.Volume), at.label(m.Vessel))}
	if m.Gravity != 0 {
		parts = append(parts, w.fineGravity(m.Gravity))
	}
	for _, p := range m.Ingredients {
		parts = append(parts, w.mass(p.Mass)+" of "+p.Ingredient.Name)
	}
	return strings.Join(parts, ", ")
}

// entryJSON is an entry for scripts. Which of the later fields are there depends
// on the kind.
type entryJSON struct {
	ID       uint64 `json:"id"`
	Kind     string `json:"kind"`
	At       stamp  `json:"at"`
	Recorded stamp  `json:"recorded"`
	Counts   bool   `json:"counts"` // false: a void, or undone

	Vessel      string        `json:"vessel,omitempty"` // must, rack
	Volume      *number       `json:"volume_l,omitempty"`
	Ingredients []portionJSON `json:"ingredients,omitempty"`

	Yeast     string  `json:"yeast,omitempty"` // pitch
	YeastName string  `json:"yeast_name,omitempty"`
	Tolerance *number `json:"tolerance_pct,omitempty"`

	Reading     string  `json:"reading,omitempty"` // as typed
	SG          *number `json:"sg,omitempty"`      // reading: corrected; must: measured
	Temperature *number `json:"temperature_c,omitempty"`
	PH          *number `json:"ph,omitempty"`

	With    string  `json:"with,omitempty"` // addition
	Mass    *number `json:"mass_g,omitempty"`
	Purpose string  `json:"purpose,omitempty"`

	Count int     `json:"count,omitempty"` // bottle
	Size  *number `json:"size_l,omitempty"`

	Note   string `json:"note,omitempty"` // note, reading
	Entry  uint64 `json:"entry,omitempty"`
	Reason string `json:"reason,omitempty"` // void
}

type portionJSON struct {
	With string `json:"with"`
	Mass number `json:"mass_g"`
}

func newEntryJSON(l line, at spot) entryJSON {
	e := entryJSON{ID: uint64(l.ID), Kind: string(l.Body.Kind()), At: stamp(l.At), Recorded: stamp(l.Recorded), Counts: l.counts}
	switch b := l.Body.(type) {
	case model.Must:
		e.Vessel, e.Volume, e.SG = at.label(b.Vessel), known(b.Volume), known(b.Gravity)
		for _, p := range b.Ingredients {
			e.Ingredients = append(e.Ingredients, portionJSON{p.Ingredient.Name, number(p.Mass)})
		}
	case model.Pitch:
		e.Yeast, e.YeastName, e.Tolerance = string(b.Yeast), b.Name, known(b.Tolerance)
	case model.Reading:
		e.Reading, e.PH, e.Note = b.String(), known(b.PH), b.Note
		if b.HasGravity() {
			e.SG = known(l.sg)
		}
		if b.HasTemperature {
			e.Temperature = figure(b.Temperature)
		}
	case model.Addition:
		e.With, e.Mass, e.Purpose = b.Portion.Ingredient.Name, known(b.Portion.Mass), b.Purpose
	case model.Rack:
		e.Vessel, e.Volume = at.label(b.To), known(b.Volume)
	case model.Bottle:
		e.Count, e.Size = b.Count, known(b.Size)
	case model.Note:
		e.Note = b.Text
	case model.Void:
		e.Entry, e.Reason = uint64(b.Entry), b.Reason
	}
	return e
}
