package calc

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Ensure that the error bars are those of the error budget: a point of hydrometer is
// 0.13 % vol (the duty notice has 0.125 to 0.135) and 2.2 g/L of fermented sugar (4.62e-4
// of gravity a gram, kinetics notes, section 5), added in quadrature.
func TestPlusMinus(t *testing.T) {
	h := HydrometerPlusMinus
	wantNear(t, "StrengthPlusMinus", "12 % vol, two readings", float64(StrengthPlusMinus(12, h, h)), 0.257, 0.001)
	wantNear(t, "StrengthPlusMinus", "none", float64(StrengthPlusMinus(0)), 0, 0)
	wantNear(t, "StrengthPlusMinus", "one reading", float64(StrengthPlusMinus(0, h)), 0.13, 1e-9)
	wantNear(t, "SugarPlusMinus", "240 g/L, two readings", float64(SugarPlusMinus(240, h, h)), 5.69, 0.01)
	wantNear(t, "SugarPlusMinus", "one reading", float64(SugarPlusMinus(0, h)), 2.16, 0.01)

	// Two readings of one drop of measured beers differ from Balling's by up to 0.13 %
	// vol at 5 (Cutaia, Reid, Speers 2009): the bar must not promise more.
	if got := StrengthPlusMinus(5, h, h); got < 0.13 {
		t.Errorf("StrengthPlusMinus(5) = %v, want at least 0.13", got)
	}
}

func TestPlusMinus_Grows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		abv := rapid.Float64Range(0, 20).Draw(t, "abv")
		r := SG(rapid.Float64Range(0, 0.01).Draw(t, "r"))
		one, two := StrengthPlusMinus(PercentVol(abv), r), StrengthPlusMinus(PercentVol(abv), r, r)
		if !(two >= one) || !(StrengthPlusMinus(PercentVol(abv+1), r) >= one) || math.IsNaN(float64(one)) {
			t.Fatalf("one reading ± %v, two ± %v", one, two)
		}
		if a, b := SugarPlusMinus(GramPerLitre(10*abv), r), SugarPlusMinus(GramPerLitre(10*abv), r, r); !(b >= a) {
			t.Fatalf("one reading ± %v g/L, two ± %v", a, b)
		}
	})
	for _, x := range awkward { // must not panic
		StrengthPlusMinus(PercentVol(x), SG(x))
		SugarPlusMinus(GramPerLitre(x), SG(x))
	}
}
