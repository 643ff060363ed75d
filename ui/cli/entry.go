package cli

import (
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// entryJSON is an entry for scripts. Which of the later fields are there depends
// on the kind.
type entryJSON struct {
	ID       uint64 `json:"id"`
	Kind     string `json:"kind"`
	At       stamp  `json:"at"`
	Recorded stamp  `json:"recorded"`
	Counts   bool   `json:"counts"` // false: a void, or undone

	Vessel      string        `json:"vessel,omitempty"` // must, rack; volume of press too
	Volume      *number       `json:"volume_l,omitempty"`
	Ingredients []portionJSON `json:"ingredients,omitempty"`
	Fruit       []fruitJSON   `json:"fruit,omitempty"` // must, fruit

	Yeast     string  `json:"yeast,omitempty"` // pitch
	YeastName string  `json:"yeast_name,omitempty"`
	Tolerance *number `json:"tolerance_pct,omitempty"`

	Reading     string       `json:"reading,omitempty"` // as typed
	SG          *number      `json:"sg,omitempty"`      // reading: corrected; must: measured
	Temperature *number      `json:"temperature_c,omitempty"`
	PH          *number      `json:"ph,omitempty"`
	Weighed     *weighedJSON `json:"weighed,omitempty"`
	Level       *levelJSON   `json:"level,omitempty"`

	With    string  `json:"with,omitempty"` // addition
	Mass    *number `json:"mass_g,omitempty"`
	Purpose string  `json:"purpose,omitempty"`

	Count int     `json:"count,omitempty"` // bottle
	Size  *number `json:"size_l,omitempty"`

	Sulfite  *number `json:"metabisulfite_g,omitempty"` // stabilise
	Sorbate  *number `json:"sorbate_g,omitempty"`
	Filtered bool    `json:"filtered,omitempty"`
	PU       *number `json:"pu,omitempty"`
	Chilled  bool    `json:"chilled,omitempty"`

	Glass  *number     `json:"glass_l,omitempty"` // bench
	Syrup  *number     `json:"syrup_g_l,omitempty"`
	Tasted []tasteJSON `json:"tasted,omitempty"` // tasting, by the ladder of the bench

	entryLifeJSON

	Note   string `json:"note,omitempty"` // note, reading
	Entry  uint64 `json:"entry,omitempty"`
	Reason string `json:"reason,omitempty"` // void, distrust

	Text string `json:"text"`           // the entry in one line, as the dashboard tells it
	Deed uint64 `json:"deed,omitempty"` // the same for entries that were written together
}

type portionJSON struct {
	With string `json:"with"`
	Mass number `json:"mass_g"`
}

type fruitJSON struct {
	With    string `json:"with"`
	Mass    number `json:"mass_g"` // as bought
	Crushed bool   `json:"crushed"`
}

type tasteJSON struct {
	Mark  *number `json:"mark"` // null: none
	Words string  `json:"words,omitempty"`
}

func newEntryJSON(l model.Told, at spot, say words.Words) entryJSON {
	e := entryJSON{ID: uint64(l.ID), Kind: string(l.Body.Kind()), At: stamp(l.At), Recorded: stamp(l.Recorded), Counts: l.Counts,
		Text: say.Entry(l.Body, at.label), Deed: l.Deed}
	switch b := l.Body.(type) {
	case model.Must:
		e.Vessel, e.Volume, e.SG = at.label(b.Vessel), known(b.Volume), known(b.Gravity)
		for _, p := range b.Ingredients {
			e.Ingredients = append(e.Ingredients, portionJSON{p.Ingredient.Name, number(p.Mass)})
		}
		for _, f := range b.Fruit {
			e.Fruit = append(e.Fruit, fruitJSON{f.Fruit.Name, number(f.Mass), f.Crushed})
		}
	case model.Fruited:
		e.Fruit = []fruitJSON{{b.Portion.Fruit.Name, number(b.Portion.Mass), b.Portion.Crushed}}
	case model.Press:
		e.Volume = known(b.Volume)
	case model.Pitch:
		e.Yeast, e.YeastName, e.Tolerance = string(b.Yeast), b.Name, known(b.Tolerance)
	case model.Reading:
		e.Reading, e.PH, e.Note = b.String(), known(b.PH), b.Note
		e.Weighed, e.Level = newWeighedJSON(l.Weighing, at.shelf.Tare(l.Weighing.Vessel)), newLevelJSON(l.Level)
		if b.HasGravity() {
			e.SG = known(l.SG)
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
	case model.Stabilise:
		e.Sulfite, e.Sorbate, e.PU = known(b.Sulfite), known(b.Sorbate), known(b.PU)
		e.Filtered, e.Chilled = b.Filtered, b.Chilled
	case model.Bench:
		e.Glass, e.Syrup = known(b.Glass), known(b.Syrup)
		for _, p := range b.Poured {
			e.Ingredients = append(e.Ingredients, portionJSON{p.Ingredient.Name, number(p.Mass)})
		}
	case model.Tasting:
		e.Entry = uint64(b.Bench)
		for _, g := range b.Glasses {
			taste := tasteJSON{Words: g.Words}
			if g.Marked {
				taste.Mark = figure(g.Mark)
			}
			e.Tasted = append(e.Tasted, taste)
		}
	case model.Note:
		e.Note = b.Text
	case model.Void:
		e.Entry, e.Reason = uint64(b.Entry), b.Reason
	default:
		e.life(l.Body, at)
	}
	return e
}
