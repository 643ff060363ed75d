package calc

import (
	"errors"
	"math"
	"testing"
)

// Ensure that a mixture is the sum of its parts, and that each of its ends is one of
// them.
func TestMixture(t *testing.T) {
	honey, err := NewIngredient("honey", map[Component]Gram{Water: 17.1, Sucrose: 0.9, Glucose: 35.8, Fructose: 40.9, Maltose: 4.3, OtherSolids: 1})
	if err != nil {
		t.Fatal(err)
	}
	sugar, err := NewIngredient("sugar", map[Component]Gram{Sucrose: 1})
	if err != nil {
		t.Fatal(err)
	}
	for share, want := range map[float64]Liquid{
		0: sugar.PerGram, 1: honey.PerGram, 0.25: honey.Amount(0.25).Plus(sugar.Amount(0.75)),
	} {
		got, err := Mixture(honey, sugar, share)
		if err != nil || got.Name != "honey and sugar" {
			t.Fatalf("Mixture(%g) = %q, %v", share, got.Name, err)
		}
		for _, c := range Components() {
			if math.Abs(float64(got.PerGram.Of(c)-want.Of(c))) > 1e-15 {
				t.Errorf("Mixture(%g) holds %v of %s, want %v", share, got.PerGram.Of(c), c, want.Of(c))
			}
		}
		if m := got.PerGram.Mass(); math.Abs(float64(m)-1) > 1e-12 {
			t.Errorf("a gram of Mixture(%g) weighs %v g", share, m)
		}
	}
	for _, bad := range []float64{-0.01, 1.01, math.NaN(), math.Inf(1)} {
		if _, err := Mixture(honey, sugar, bad); !errors.Is(err, ErrOutOfRange) && !errors.Is(err, ErrNotANumber) {
			t.Errorf("Mixture(%g): %v", bad, err)
		}
	}
}

// Ensure that the sugar of each term reaches exactly to where the rule gives the next
// word.
func TestTermSugar_EndsWhereTheNextTermBegins(t *testing.T) {
	for _, rule := range TermRules() {
		for _, name := range TermNames(rule) {
			from, to, err := TermSugar(rule, name)
			if err != nil {
				t.Fatal(err)
			}
			inside := from + 10
			if to > 0 {
				inside = (from + to) / 2
				above, err := Term(rule, to+0.001, 0)
				if err != nil || above.Name == name {
					t.Errorf("%s: %g g/L is still %s, %v", rule, float64(to)+0.001, name, err)
				}
			}
			if got, err := Term(rule, inside, 0); err != nil || got.Name != name {
				t.Errorf("%s: %g g/L is %s, %v, want %s", rule, float64(inside), got.Name, err, name)
			}
		}
	}
	if from, to, err := TermSugar(EUSparkling, "dry"); from != 17 || to != 32 || err != nil {
		t.Errorf("sparkling dry is %g to %g, %v, want sec, 17 to 32", float64(from), float64(to), err)
	}
	for rule, name := range map[TermRule]string{"eu": "dry", EUStill: "brut"} {
		if _, _, err := TermSugar(rule, name); !errors.Is(err, ErrOutOfRange) {
			t.Errorf("TermSugar(%q, %q): %v", rule, name, err)
		}
	}
}

// Ensure that lactose, which no law counts, does not meet a term, and sugar does.
func TestTargetFermentable(t *testing.T) {
	dry, err := LiquidOf(10, 0.996, 12, SugarSolids())
	if err != nil {
		t.Fatal(err)
	}
	sugar, _ := NewIngredient("sugar", map[Component]Gram{Sucrose: 1})
	lactose, _ := NewIngredient("lactose", map[Component]Gram{Lactose: 1})
	before, _ := dry.Figures()
	mass, err := sugar.AmountFor(dry, TargetFermentable(before.Fermentable+12))
	if err != nil {
		t.Fatal(err)
	}
	if f, _ := dry.Plus(sugar.Amount(mass)).Figures(); math.Abs(float64(f.Fermentable-before.Fermentable-12)) > 1e-5 {
		t.Errorf("%g g of sugar make %g g/L from %g", float64(mass), float64(f.Fermentable), float64(before.Fermentable))
	}
	if _, err := lactose.AmountFor(dry, TargetFermentable(before.Fermentable+12)); !errors.Is(err, ErrUnreachable) {
		t.Errorf("with lactose: %v", err)
	}
}
