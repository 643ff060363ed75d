package model

import (
	"errors"
	"math"
	"testing"

	"cellar.local/glassrow/calc"
)

// Ensure that what people want of a sweetening is understood, and that its words are
// understood again when they come back from a plan that was kept.
func TestParseAim(t *testing.T) {
	for text, want := range map[string]calc.Figures{
		"1.012": {SG: 1.012}, "25 g/l": {Sugar: 25}, "taste 30": {Sweetness: 30}, "tastes like 30g/l": {Sweetness: 30},
		"off-dry": {Sugar: 8}, "medium": {Sugar: 28.5},
		"medium dry": {Fermentable: 8}, "brut": {Fermentable: 9}, "EU sparkling dry": {Fermentable: 24.5}, "oiv semi-sweet": {Fermentable: 28.5},
		"eu-still sweet": {Fermentable: 60}, "doux": {Fermentable: 200.0 / 3},
	} {
		a, err := ParseAim(text)
		if err != nil {
			t.Errorf("ParseAim(%q): %v", text, err)
			continue
		}
		again, err := ParseAim(a.Text)
		if err != nil {
			t.Errorf("ParseAim(%q), as kept: %v", a.Text, err)
			continue
		}
		dry, err := calc.LiquidOf(10, 0.9862, 11, calc.SugarSolids())
		if err != nil {
			t.Fatal(err)
		}
		sugar, _ := calc.NewIngredient("sugar", map[calc.Component]calc.Gram{calc.Sucrose: 1})
		first, err1 := a.AmountFor(dry, sugar)
		second, err2 := again.AmountFor(dry, sugar)
		if err1 != nil || err2 != nil || first != second {
			t.Errorf("%q asks for %v g, %v; kept as %q for %v g, %v", text, first, err1, a.Text, second, err2)
			continue
		}
		f, _ := dry.Plus(sugar.Amount(first)).Figures()
		for what, pair := range map[string][2]float64{
			"gravity": {float64(want.SG), float64(f.SG)}, "sugar": {float64(want.Sugar), float64(f.Sugar)},
			"fermentable": {float64(want.Fermentable), float64(f.Fermentable)}, "sweetness": {float64(want.Sweetness), float64(f.Sweetness)},
		} {
			if pair[0] != 0 && math.Abs(pair[0]-pair[1]) > 1e-5 {
				t.Errorf("%q gives a %s of %g, want %g", text, what, pair[1], pair[0])
			}
		}
	}
	for _, bad := range []string{"", "sweetish", "taste", "taste -3", "taste 3000", "eu brut", "600g/l", "7"} {
		if a, err := ParseAim(bad); !errors.Is(err, ErrInvalid) {
			t.Errorf("ParseAim(%q) = %+v, %v", bad, a, err)
		}
	}
}

// Ensure that a mixture is committed as its parts, that they add up, and that it
// costs what they do.
func TestCandidate_Mixture(t *testing.T) {
	honey := Sweetener{ID: "honey", Ingredient: ingredientOf(t, "honey", map[calc.Component]calc.Gram{calc.Water: 17, calc.Glucose: 38, calc.Fructose: 45}), Flavour: "honey", Caution: "not for infants"}
	sugar := Sweetener{ID: "sugar", Ingredient: ingredientOf(t, "white sugar", map[calc.Component]calc.Gram{calc.Sucrose: 1})}
	c := Candidate{First: honey, Second: sugar, Share: 0.25, Aim: Aim{Mass: 400}}
	l, err := calc.LiquidOf(19, 0.996, 12, calc.SugarSolids())
	if err != nil {
		t.Fatal(err)
	}
	s := State{Liquid: l, Tolerance: 14}
	if s.Figures, err = l.Figures(); err != nil {
		t.Fatal(err)
	}
	trial, err := c.Try(s, Mead)
	if err != nil {
		t.Fatal(err)
	}
	entries := trial.Entries()
	if len(entries) != 2 || entries[0].Portion.Mass != 100 || entries[1].Portion.Mass != 300 || trial.Mass != 400 {
		t.Errorf("a quarter of honey in 400 g is written down as %+v", entries)
	}
	if got := c.Cautions(); len(got) != 1 || c.Flavour() != "honey" || c.Name() != "honey + white sugar" {
		t.Errorf("cautions %q, flavour %q, name %q", got, c.Flavour(), c.Name())
	}
	if _, known := trial.Cost(Prices{"honey": 15}); known {
		t.Error("the cost is told though the price of sugar is not known")
	}
	if cost, known := trial.Cost(Prices{"honey": 15, "sugar": 2}); !known || math.Abs(cost-2.1) > 1e-9 {
		t.Errorf("100 g at 15 and 300 g at 2 cost %g, want 2.10", cost)
	}
	same, err := SameSweetness(trial, sugar).Try(s, Mead)
	if err != nil || math.Abs(float64(same.After.Sweetness-trial.After.Sweetness)) > 1e-5 {
		t.Errorf("as sweet with sugar alone: %v against %v g/L, %v", same.After.Sweetness, trial.After.Sweetness, err)
	}
}

func ingredientOf(t *testing.T, name string, parts map[calc.Component]calc.Gram) calc.Ingredient {
	t.Helper()
	i, err := calc.NewIngredient(name, parts)
	if err != nil {
		t.Fatal(err)
	}
	return i
}

// Ensure that prices are understood, kept and taken back without touching the ones
// that somebody else holds.
func TestPrices(t *testing.T) {
	for text, want := range map[string]float64{"": 0, "12": 12, " 12.50 ": 12.5} {
		if got, err := ParsePrice(text); got != want || err != nil {
			t.Errorf("ParsePrice(%q) = %g, %v", text, got, err)
		}
	}
	for _, bad := range []string{"much", "-1", "12 eur", "1e9"} {
		if _, err := ParsePrice(bad); !errors.Is(err, ErrInvalid) {
			t.Errorf("ParsePrice(%q): %v", bad, err)
		}
	}
	old := Prices{"honey": 15}
	if p := old.With("sugar", 2).With("honey", 0); len(p) != 1 || p["sugar"] != 2 || old["honey"] != 15 {
		t.Errorf("prices %v from %v", p, old)
	}
}
