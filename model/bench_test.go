package model

import (
	"errors"
	"math"
	"testing"
	"time"

	"cellar.local/glassrow/calc"
)

// Ensure that what is said of a glass is understood.
func TestParseTaste(t *testing.T) {
	for text, want := range map[string]Taste{
		"":                     {},
		"7":                    {Marked: true, Mark: 7},
		"7.5 honey, too thick": {Marked: true, Mark: 7.5, Words: "honey, too thick"},
		"8/10, round":          {Marked: true, Mark: 8, Words: "round"},
		"8/10 round":           {Marked: true, Mark: 8, Words: "round"},
		"9: best":              {Marked: true, Mark: 9, Words: "best"},
		"thin":                 {Words: "thin"},
		"0":                    {Marked: true},
	} {
		if got, err := ParseTaste(text); err != nil || got != want {
			t.Errorf("ParseTaste(%q) = %+v, %v, want %+v", text, got, err, want)
		}
	}
	for _, bad := range []string{"11", "-1 awful", "NaN", "7 a\x1b"} {
		if got, err := ParseTaste(bad); !errors.Is(err, ErrInvalid) {
			t.Errorf("ParseTaste(%q) = %+v, %v", bad, got, err)
		}
	}
}

func FuzzParseTaste(f *testing.F) {
	for _, s := range []string{"7", "7.5 thick", "thin", "8/10", "1e400", "NaN", "-0"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got, err := ParseTaste(s)
		if err == nil && !(got.Mark >= 0 && got.Mark <= 10) {
			t.Errorf("ParseTaste(%q) = %+v", s, got)
		}
	})
}

// Ensure that glasses count as drawn, that undoing them brings the drink back to the
// last gram, and that a bench shows the same glasses afterwards as when it was poured.
func TestBench_DrawsFromTheVessel(t *testing.T) {
	start := time.Date(2026, 1, 1, 12, 0, 0, 0, time.UTC)
	at := func(days int) time.Time { return start.AddDate(0, 0, days) }
	b := Batch{ID: 1, Name: "x", Drink: Mead, Entries: []Entry{
		{ID: 1, At: at(0), Body: Must{Vessel: 1, Volume: 5, Gravity: 1.090}},
		{ID: 2, At: at(0), Body: Pitch{Yeast: WineYeast}},
		{ID: 3, At: at(40), Body: Reading{Gravity: 0.998, Scale: ScaleSG, Calibration: 20}},
	}}
	before, err := Replay(b, at(60))
	if err != nil {
		t.Fatal(err)
	}
	honey := Sweetener{ID: "honey", Ingredient: ingredientOf(t, "honey", map[calc.Component]calc.Gram{calc.Water: 17, calc.Glucose: 38, calc.Fructose: 45})}
	sugar := Sweetener{ID: "sugar", Ingredient: ingredientOf(t, "white sugar", map[calc.Component]calc.Gram{calc.Sucrose: 1})}
	plan := BenchPlan{With: honey, Against: sugar, Glass: 0.05, Glasses: 5}
	if err := plan.ParseEnds("as it is", "taste 60", before); err != nil {
		t.Fatal(err)
	}
	bench, err := plan.Pour(before.Liquid)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(bench.Poured); n != 5 || bench.Poured[0].Mass != 0 || bench.Poured[3].Mass == 0 || bench.Poured[4].Ingredient.Name != "white sugar" {
		t.Errorf("poured %+v", bench.Poured)
	}
	glasses, err := bench.Glasses(before.Liquid, before.Liquid)
	if err != nil || math.Abs(float64(glasses[2].After.Sweetness)-60) > 1e-4 || math.Abs(float64(glasses[4].After.Sweetness)-60) > 1e-4 {
		t.Errorf("the last glasses taste like %v and %v, %v", glasses[2].After.Sweetness, glasses[4].After.Sweetness, err)
	}
	b.Entries = append(b.Entries, Entry{ID: 4, At: at(50), Body: bench})
	after, err := Replay(b, at(60))
	if err != nil || math.Abs(float64(before.Figures.Volume-after.Figures.Volume)-0.25) > 1e-9 {
		t.Errorf("five glasses took %v L, %v", before.Figures.Volume-after.Figures.Volume, err)
	}
	if s, err := b.Before(4); err != nil || s.Liquid != before.Liquid {
		t.Errorf("before the bench it was %v, %v", s.Figures, err)
	}
	b.Entries = append(b.Entries, Entry{ID: 5, At: at(50), Body: Tasting{Bench: 4, Glasses: make([]Taste, 5)}})
	if _, tasting, ok := b.LastBench(); !ok || tasting.ID != 5 {
		t.Errorf("the last bench has tasting %d, %v", tasting.ID, ok)
	}
	b.Entries = append(b.Entries, Entry{ID: 6, At: at(51), Body: Void{Entry: 5}}, Entry{ID: 7, At: at(51), Body: Void{Entry: 4}})
	if undone, err := Replay(b, at(60)); err != nil || undone.Liquid != before.Liquid {
		t.Errorf("undone: %v, %v", undone.Figures, err)
	}
	bench.Glass = 1
	b.Entries = append(b.Entries, Entry{ID: 8, At: at(52), Body: bench})
	if _, err := Replay(b, at(60)); !errors.Is(err, ErrInvalid) {
		t.Errorf("five litres drawn from five: %v", err)
	}
}

// Ensure that what cannot be a bench or a tasting is refused.
func TestBench_Validate(t *testing.T) {
	sugar := ingredientOf(t, "white sugar", map[calc.Component]calc.Gram{calc.Sucrose: 1})
	two := []Portion{{Ingredient: sugar}, {Ingredient: sugar, Mass: 1}}
	good := Bench{Glass: 0.05, Poured: two}
	if err := good.Validate(); err != nil {
		t.Error(err)
	}
	for name, body := range map[string]Body{
		"no glass": Bench{Poured: two}, "one glass": Bench{Glass: 0.05, Poured: two[:1]}, "a negative dose": Bench{Glass: 0.05, Poured: []Portion{{sugar, -1}, {sugar, 1}}},
		"a rock": Bench{Glass: 0.05, Poured: two, Syrup: 3000}, "no bench": Tasting{Glasses: []Taste{{Words: "a"}, {}}},
		"nothing said": Tasting{Bench: 3, Glasses: make([]Taste, 3)}, "eleven": Tasting{Bench: 3, Glasses: []Taste{{Marked: true, Mark: 11}, {}}},
	} {
		if err := body.Validate(); !errors.Is(err, ErrInvalid) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Ensure that the usual syrup of an intense sweetener is one that a kitchen scale can
// make.
func TestBench_Syrup(t *testing.T) {
	sucralose := Sweetener{ID: "sucralose", Ingredient: ingredientOf(t, "sucralose", map[calc.Component]calc.Gram{calc.Sucralose: 1})}
	if c := UsualSyrup(sucralose); c != 1 {
		t.Errorf("sucralose goes into a syrup of %v g/L", c)
	}
	b := Bench{Glass: 0.05, Syrup: 1, Poured: []Portion{{Ingredient: sucralose.Ingredient}, {sucralose.Ingredient, 0.004}}}
	if size, mass := b.SyrupToMake(); size != 1 || mass != 1 {
		t.Errorf("make %v L with %v g in it; want 1 g in a litre", size, mass)
	}
	b.Syrup = 0
	if size, mass := b.SyrupToMake(); size != 0 || mass != 0 {
		t.Errorf("by the scale: %v L, %v g", size, mass)
	}
}
