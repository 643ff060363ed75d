package words

import (
	"testing"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// Ensure that every kind of entry is told in one line, in the same words wherever
// it is read, and that vessels are named where their labels are known.
func TestWords_Entry(t *testing.T) {
	labels := Labels(func(id model.VesselID) string { return map[model.VesselID]string{1: "N1"}[id] })
	portion := model.Portion{Ingredient: calc.Ingredient{Name: "honey"}, Mass: 300}
	brix, err := calc.SGOfBrix(8.5)
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		body         model.Body
		want, placed string // without and with labels
	}{
		"a must": {model.Must{Vessel: 1, Volume: 19, Gravity: 1.1041, Ingredients: []model.Portion{portion, portion}},
			"must, 19.0 L, at 1.104, 300 g honey, 300 g honey", "must, 19.0 L into N1, at 1.104, 300 g honey, 300 g honey"},
		"a must in a vessel long gone": {model.Must{Vessel: 9, Volume: 19}, "must, 19.0 L", "must, 19.0 L"},
		"yeast":                        {model.Pitch{Yeast: model.WineYeast}, "yeast, wine", ""},
		"yeast by name":                {model.Pitch{Yeast: model.WineYeast, Name: "the blue packet"}, "yeast, the blue packet (wine)", ""},
		"a reading": {model.Reading{Gravity: 1.084, Scale: model.ScaleSG, Temperature: 21.4, HasTemperature: true, PH: 3.4, Note: "cloves"},
			"reading 1.084, 21 °C, pH 3.40; cloves", ""},
		"a reading between the lines": {model.Reading{Gravity: 1.0335, Scale: model.ScaleSG}, "reading 1.0335", ""},
		"a reading on another scale":  {model.Reading{Gravity: brix, Scale: model.ScaleBrix}, "reading 8.5bx", ""},
		"a reading of pH":             {model.Reading{PH: 3.4}, "reading pH 3.40", ""},
		"an addition":                 {model.Addition{Portion: portion}, "300 g of honey", ""},
		"an addition with a purpose":  {model.Addition{Portion: portion, Purpose: "sweeten"}, "300 g of honey to sweeten", ""},
		"a racking":                   {model.Rack{To: 1}, "racked", "racked to N1"},
		"a racking with a loss":       {model.Rack{To: 1, Volume: 18}, "racked, 18.0 L", "racked to N1, 18.0 L"},
		"bottling":                    {model.Bottle{Count: 24, Size: 0.75}, "bottled, 24 of 750 mL", ""},
		"stabilising":                 {model.Stabilise{Sulfite: 1.25, Sorbate: 4, Filtered: true}, "stabilised, 1.25 g sulfite, 4 g sorbate, a filter", ""},
		"heat and cold":               {model.Stabilise{PU: 21.6, Chilled: true}, "stabilised, 22 PU of heat, cold", ""},
		"a bench": {model.Bench{Glass: 0.05, Poured: []model.Portion{{Ingredient: portion.Ingredient}, portion}, Seed: 3},
			"bench, 2 glasses of 50 mL with honey, blind", ""},
		"a tasting":              {model.Tasting{Bench: 3, Glasses: []model.Taste{{Marked: true, Mark: 7.5}, {Words: "thin"}}}, "tasted the bench, marks by the ladder 1: 7.5", ""},
		"fruit":                  {model.Fruited{Portion: calc.FruitPortion{Fruit: calc.Fruit{Name: "damson"}, Mass: 4000, Crushed: true}}, "4000 g crushed damson in", ""},
		"pressing":               {model.Press{Volume: 17}, "fruit out, 17.0 L left", ""},
		"a fining":               {model.Fine{Agent: "bentonite", Mass: 12}, "fined with 12 g of bentonite", ""},
		"a move":                 {model.Move{Place: "south shelf"}, "moved to south shelf", ""},
		"a feed":                 {model.Feed{What: "yeast hulls"}, "fed yeast hulls", ""},
		"a feed plan":            {model.FeedPlan{Doses: []model.Meal{{What: "honey", Mass: 500, Mark: 1.03}}}, "feed plan: 500 g of honey at 1.030", ""},
		"a draw":                 {model.Draw{Volume: 2, Why: "to top up N1"}, "2.0 L drawn off, to top up N1", ""},
		"a part":                 {model.Part{From: 2, Name: "Damson wine", Vessel: 1, Volume: 9}, "split from Damson wine, 9.0 L", "split from Damson wine, 9.0 L into N1"},
		"a taste":                {model.Tasted{Bottles: 1, Marked: true, Mark: 8, Words: "round"}, "tasted, 1 bottle, 8 of 10; round", ""},
		"bottles for somebody":   {model.Tasted{Bottles: 3, Words: "to the choir"}, "3 bottles taken; to the choir", ""},
		"a taste of the vessel":  {model.Tasted{Words: "raw"}, "tasted; raw", ""},
		"bottles given away":     {model.Tasted{Bottles: 2}, "2 bottles taken", ""},
		"a tick":                 {model.Tick{Due: "read"}, "done: read", ""},
		"a note":                 {model.Note{Text: "smells of bread"}, "smells of bread", ""},
		"a note that would ring": {model.Note{Text: "ding\x07\ndong"}, "ding? dong", ""},
		"a void":                 {model.Void{Entry: 7}, "struck out entry 7", ""},
		"a void with a reason":   {model.Void{Entry: 7, Reason: "wrong vessel"}, "struck out entry 7, wrong vessel", ""},
	} {
		t.Run(name, func(t *testing.T) {
			if c.placed == "" {
				c.placed = c.want
			}
			if got := metric.Entry(c.body, nil); got != c.want {
				t.Errorf("Entry(%#v) = %q, want %q", c.body, got, c.want)
			}
			if got := metric.Entry(c.body, labels); got != c.placed {
				t.Errorf("with labels Entry(%#v) = %q, want %q", c.body, got, c.placed)
			}
		})
	}
}

// Ensure that an entry fits the person and the terminal.
func TestWords_EntryElsewhere(t *testing.T) {
	r := model.Reading{Gravity: 1.084, Scale: model.ScaleSG, Temperature: 21, HasTemperature: true, Note: "čučo"}
	if got, want := serial.Entry(r, nil), "reading 1.084, 70 F; ?u?o"; got != want {
		t.Errorf("Entry = %q, want %q", got, want)
	}
	if got, want := serial.Entry(model.Rack{To: 1, Volume: calc.LitresPerUSGallon}, nil), "racked, 1.00 gal"; got != want {
		t.Errorf("Entry = %q, want %q", got, want)
	}
}
