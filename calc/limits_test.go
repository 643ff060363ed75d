package calc

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Ensure that what a yeast leaves is what was seen to be left.
func TestFermentation_LeftBy(t *testing.T) {
	rule := Fermentation{Yield: MustYield()}

	t.Run("agrees with a must that a weak yeast left", func(t *testing.T) {
		// L. thermotolerans alone paused at 63 to 65 g/L of gas, about 135 g/L of sugar
		// and 8.3 % vol (diagnosis notes, section 3), within 5 %.
		l, err := LiquidOf(1, 1.095, 0, GrapeSolids())
		wantNoError(t, err)
		got, err := rule.LeftBy(l, 8.3)
		wantNoError(t, err)
		wantNear(t, "hexose", 8.3, float64(got.Hexose), 135, 7)
		wantNear(t, "gas", 8.3, float64(got.CO2), 64, 3.2)
	})
	t.Run("leaves a beer about ten points", func(t *testing.T) {
		// Common practice. Dextrins, not alcohol, are what is left.
		l, err := LiquidOf(20, 1.048, 0, WortSolids())
		wantNoError(t, err)
		got, err := Fermentation{Yield: WortYield()}.LeftBy(l, 10)
		wantNoError(t, err)
		wantNear(t, "points", 1.048, got.Figures.SG.Points(), 10, 3)
		if got.AtTolerance || got.Figures.Fermentable > 1e-9 {
			t.Errorf("at tolerance %v with %v g/L to ferment", got.AtTolerance, got.Figures.Fermentable)
		}
	})
	t.Run("stops at the tolerance or at the end of the sugar", rapid.MakeCheck(func(t *rapid.T) {
		l, rule := drawLiquid(t, "must"), drawRule(t)
		tolerance := PercentVol(rapid.Float64Range(1, 25).Draw(t, "tolerance"))
		got, err := rule.LeftBy(l, tolerance)
		if err != nil {
			t.Fatal(err)
		}
		before := drawn(t, l)
		switch {
		case got.AtTolerance && before.Strength < tolerance:
			near(t, "strength", float64(got.Figures.Strength), float64(tolerance), 0.01)
		case got.AtTolerance:
			near(t, "strength of a drink past it", float64(got.Figures.Strength), float64(before.Strength), 1e-9)
		default:
			want := Gram(0)
			if rule.LeavesMaltotriose {
				want = l.Of(Maltotriose)
			}
			near(t, "sugar left", float64(got.Liquid.Fermentable()), float64(want), 1e-9*float64(l.Mass()))
		}
		near(t, "mass", float64(got.Liquid.Mass()+got.CO2+got.Yeast), float64(l.Mass()), 1e-9*float64(l.Mass()))
	}))
	t.Run("refuses what no yeast stands", func(t *testing.T) {
		l := poured(t, map[Component]Gram{Glucose: 200})
		checkRange(t, 1, 25, 0.001, func(x float64) error { return second(rule.LeftBy(l, PercentVol(x))) })
		if err := second(rule.LeftBy(solids(map[Component]Gram{Glucose: 1}), 12)); !errors.Is(err, ErrOutOfRange) {
			t.Errorf("dry sugar: %v", err)
		}
	})
}

// Ensure that each kind of yeast is asked at both ends.
func TestFermentation_LeftByEach(t *testing.T) {
	rule := Fermentation{Yield: MustYield()}
	l, err := LiquidOf(4.5, 1.110, 0, HoneySolids())
	wantNoError(t, err)
	kinds := []YeastTolerance{{"ale", 8, 12}, {"wine", 13, 16}, {"high", 16, 18}}
	got, err := rule.LeftByEach(l, kinds)
	wantNoError(t, err)
	for i, k := range kinds {
		if got[i].Yeast != k {
			t.Errorf("row %d is for %v, want %v", i, got[i].Yeast, k)
		}
		weak, err := rule.LeftBy(l, k.Low)
		wantNoError(t, err)
		strong, err := rule.LeftBy(l, k.High)
		wantNoError(t, err)
		if got[i].Weak != weak || got[i].Strong != strong {
			t.Errorf("%s: %+v and %+v", k.Name, got[i].Weak, got[i].Strong)
		}
	}
	for _, bad := range []YeastTolerance{{"x", 0, 12}, {"x", 12, 26}} {
		if _, err := rule.LeftByEach(l, []YeastTolerance{bad}); !errors.Is(err, ErrOutOfRange) {
			t.Errorf("%v: error %v", bad, err)
		}
	}
}

func FuzzLeftBy(f *testing.F) {
	for _, x := range awkward {
		f.Add(x, 200.0)
		f.Add(12.0, x)
	}
	f.Fuzz(func(t *testing.T, tolerance, sugar float64) {
		l, err := NewLiquid(map[Component]Gram{Water: 1000, Sucrose: Gram(sugar), Maltotriose: 5})
		if err != nil {
			return
		}
		got, err := Fermentation{Yield: MustYield(), LeavesMaltotriose: true}.LeftBy(l, PercentVol(tolerance))
		checkResult(t, "LeftBy", float64(got.Figures.Strength), err)
		if err == nil && float64(got.Figures.Strength) > math.Max(tolerance, 0)+0.02 {
			t.Errorf("%v %% vol by a yeast of %v", got.Figures.Strength, tolerance)
		}
	})
}
