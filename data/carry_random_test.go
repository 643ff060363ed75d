package data

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// everyBody is one body of every kind, and of some kinds more. They name vessels 1 and 2
// and batches 1 and 2.
func everyBody(t testing.TB) []model.Body {
	t.Helper()
	honey, err := calc.NewIngredient("honey", map[calc.Component]calc.Gram{calc.Water: 17, calc.Glucose: 40, calc.Fructose: 43})
	if err != nil {
		t.Fatal(err)
	}
	fruit, err := calc.NewFruit("damson", map[calc.Component]calc.Gram{calc.Water: 80, calc.Glucose: 6, calc.Acid: 2}, 3, 0)
	if err != nil {
		t.Fatal(err)
	}
	fruit.Refuse, fruit.HalfTime = 0.09, 50*time.Hour+7
	fruit.PH, fruit.Acid = calc.Span{Low: 2.9, High: 3.2}, calc.Span{Low: 15, High: 27}
	some := model.Portion{Ingredient: honey, Mass: 250.1}
	portion := calc.FruitPortion{Fruit: fruit, Mass: 4000, Prepared: true, Crushed: true}
	liquid, err := calc.NewLiquid(map[calc.Component]calc.Gram{calc.Water: 900, calc.Ethanol: 90, calc.Fructose: 1. / 3})
	if err != nil {
		t.Fatal(err)
	}
	full := readingOf(1.012)
	full.Acid, full.HasFreeSO2, full.Mass, full.Level, full.PH = 6.2, true, 24600, 18.5, 3.61
	full.HasTemperature, full.Note = true, "=smells of <bread> & plum"
	later := carryNow.Add(72 * time.Hour)
	return []model.Body{
		model.Must{Vessel: 1, Volume: 19, Gravity: 1.104, Ingredients: []model.Portion{some}, Fruit: []calc.FruitPortion{portion}},
		model.Pitch{Yeast: model.WineYeast, Name: "own", Tolerance: 16},
		readingOf(1.0985), full,
		model.Addition{Portion: some, Purpose: "feed", Plan: 3, Dose: 1},
		model.Rack{To: 2, Volume: 18},
		model.Bottle{Count: 3, Size: 0.75, Rest: true, Closure: "crown cap"},
		model.Stabilise{Sulfite: 1.9, Sorbate: 4.5, Filtered: true, PU: 22.5, Chilled: true},
		model.Bench{Glass: 0.05, Poured: []model.Portion{{Ingredient: honey}, {Ingredient: honey, Mass: 1.25}}, Syrup: 500, Seed: 1<<63 + 5},
		model.Tasting{Bench: 7, Glasses: []model.Taste{{Words: "thin"}, {Marked: true, Mark: 0}}},
		model.Note{Text: "schmeckt nach Heide, 味 ☂"},
		model.Fruited{Portion: portion}, model.Press{Volume: 17}, model.Press{}, model.Fine{Agent: "bentonite", Mass: 12}, model.Stir{},
		model.Move{Place: "south shelf"},
		model.FeedPlan{Doses: []model.Meal{{What: "DAP", Mass: 5, After: 24*time.Hour + 1, Mark: 1.07}, {What: "honey", Mass: 500, Mark: 1.03, Sugar: honey.PerGram}}},
		model.Feed{What: "DAP", Mass: 5, Nitrogen: 50, Plan: 4}, model.Draw{Volume: 2, To: 2, Why: "to top up"}, model.Draw{Volume: 0.05},
		model.Pour{From: 1, Name: "Damson wine", Liquid: liquid, Tolerance: 14}, model.Part{From: 2, Name: "Damson wine", Vessel: 2, Volume: 9},
		model.Tasted{Bottles: 1, Marked: true, Words: "thin"}, model.Reminder{What: "buy corks", Due: later, By: model.KindReading},
		model.Tick{Due: "read", Until: later, Words: "away"}, model.Tick{Due: "read"},
	}
}

// Ensure that whatever is in a cellar, also journals that make no sense, comes out of an
// import byte by byte as it was exported.
func TestCellars_RoundTrip_Random(t *testing.T) {
	bodies := everyBody(t)
	dir := t.TempDir()
	n := 0
	moment := rapid.Custom(func(t *rapid.T) time.Time {
		return carryNow.Add(time.Duration(rapid.Int64Range(-1e17, 1e17).Draw(t, "ns")))
	})
	rapid.Check(t, func(t *rapid.T) {
		n++
		vessels := []model.Vessel{{ID: 1, Label: "N1", Kind: model.Carboy, Capacity: 23, Added: moment.Draw(t, "added")},
			{ID: 2, Label: "Ü-2", Kind: model.Barrel, Capacity: 55.5, Place: "cellar <b>", Tare: 1. / 3, Added: moment.Draw(t, "added")}}
		var batches []model.Batch
		for i := range rapid.IntRange(0, 3).Draw(t, "batches") + 2 {
			b := model.Batch{ID: model.BatchID(i + 1), Name: rapid.SampledFrom([]string{"Heather mead", "Quince \"&\" pear", "味"}).Draw(t, "name"), Drink: model.Other}
			if i > 2 {
				b.ID += model.BatchID(rapid.IntRange(0, 9).Draw(t, "gap"))
			}
			for j := range rapid.IntRange(0, 12).Draw(t, "entries") {
				body := rapid.SampledFrom(bodies).Draw(t, "body")
				if rapid.IntRange(0, 6).Draw(t, "struck") == 0 && j > 0 {
					body = model.Void{Entry: model.EntryID(rapid.IntRange(1, j).Draw(t, "void")), Reason: "no"}
				}
				switch body.(type) {
				case model.Must, model.Rack, model.Part:
					if i > 0 { // or two would end in one vessel
						body = model.Stir{}
					}
				}
				b.Entries = append(b.Entries, model.Entry{ID: model.EntryID(j + 1), At: moment.Draw(t, "at"), Recorded: moment.Draw(t, "recorded"),
					Deed: rapid.Uint64Range(0, 5).Draw(t, "deed"), Body: body})
			}
			batches = append(batches, b)
		}
		path := filepath.Join(dir, fmt.Sprintf("%d.db", n))
		defer os.Remove(path)
		set := model.Settings{CellarName: "A", US: rapid.Bool().Draw(t, "us"), Calibration: 15.56, Prices: map[string]float64{"honey": 1. / 3}}
		if _, err := CreateFilled(path, set, vessels, batches); err != nil {
			t.Fatal(err)
		}
		var first, second strings.Builder
		c := CellarsWith("")
		if _, err := c.Export(path, &first); err != nil {
			t.Fatal(err)
		}
		copied := path + ".copy"
		defer os.Remove(copied)
		if _, err := c.Import(copied, strings.NewReader(first.String()), false); err != nil {
			t.Fatal(err)
		}
		if _, err := c.Export(copied, &second); err != nil {
			t.Fatal(err)
		}
		if first.String() != second.String() {
			t.Fatalf("it came out differently:\n%s", firstDifference(first.String(), second.String()))
		}
	})
}
