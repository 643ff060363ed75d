package model

import (
	"strings"
	"testing"

	"cellar.local/glassrow/calc"
)

// Ensure that a batch whose sugar came after the first reading has its true strength,
// with the figure of the two gravities beside it and why that is wrong.
func TestState_NaiveMisleads(t *testing.T) {
	berries := mixture("berries", map[calc.Component]calc.Gram{calc.Water: 88, calc.Glucose: 5, calc.Fructose: 6, calc.Acid: 1})
	fruit := brew(Mead, 10, 1.080, WineYeast).read(2, 1.070).on(2, added(berries, 1500, "fruit"), added(sugar, 900, "")).
		read(8, 1.020, 14, 1.000, 20, 0.998, 26, 0.998).replay(t)
	said := fruit.NaiveMisleads()
	if !strings.HasPrefix(said, "1.080 and 0.998 alone would make 11.0") || !strings.HasSuffix(said, "which leaves out the sugar that came after the first reading") {
		t.Errorf("said %q", said)
	}
	// 1065 g of sugar at 0.475 g/g (0.5 for sucrose) in 11.8 L are 5.6 % vol; the 1.9 L that
	// came with them thin the rest, 10.9, by a sixth.
	if off := fruit.Strength - fruit.Naive; off < 3 || off > 4.5 {
		t.Errorf("strength %.2f, by two gravities %.2f", float64(fruit.Strength), float64(fruit.Naive))
	}
	sweetened := brew(Wine, 10, 1.090, WineYeast).read(10, 0.994, 20, 0.993, 30, 0.993).on(31, added(honey, 500, "sweeten")).replay(t)
	if off := sweetened.Strength - sweetened.Naive; off < 1.5 || off > 3 { // 16 points are 2.1 % vol
		t.Errorf("sweetened: strength %.2f, by two gravities %.2f", float64(sweetened.Strength), float64(sweetened.Naive))
	}
	thinned := brew(Wine, 10, 1.090, WineYeast).read(10, 1.020).on(11, added(water, 3000, "")).replay(t)
	if said := thinned.NaiveMisleads(); !strings.HasSuffix(said, "which takes for fermented what was thinned") && thinned.Naive-thinned.Strength > naiveApart {
		t.Errorf("thinned: %q", said)
	}
	for name, j := range map[string]*journal{
		"nothing added":      brew(Wine, 10, 1.090, WineYeast).read(10, 0.994),
		"added before yeast": unpitched(Wine, Must{Vessel: 1, Volume: 10, Gravity: 1.07}).on(0.1, added(sugar, 500, "")).on(0.2, Pitch{Yeast: WineYeast}).read(10, 1.0),
		"nutrients":          brew(Wine, 10, 1.090, WineYeast).on(1, added(sugar, 1, "feed")).read(10, 0.994),
	} {
		if said := j.replay(t).NaiveMisleads(); said != "" {
			t.Errorf("%s: %q", name, said)
		}
	}
}
