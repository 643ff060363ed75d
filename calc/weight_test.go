package calc

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Ensure that a scale follows a fermentation as the kinetics notes say, section 5.
func TestFermentation_ToLoss(t *testing.T) {
	rule := Fermentation{Yield: MustYield()}

	t.Run("is a point of gravity for a gram in a litre", func(t *testing.T) {
		// 0.00099 SG for each gram of gas lost from a litre, reckoned without the glycerol that
		// stays in the drink; within 2 %.
		l, err := LiquidOf(1, 1.090, 0, GrapeSolids())
		wantNoError(t, err)
		for _, lost := range []Gram{10, 50, 80} {
			got, err := rule.ToLoss(l, Weighing{Lost: lost, Scale: 1})
			wantNoError(t, err)
			wantNear(t, "fall for each gram", lost, float64(1.090-got.Figures.SG)/float64(lost), 0.00099, 0.00002)
			wantNear(t, "uncertainty", lost, float64(got.SGPlusMinus), 0.00099*math.Sqrt2, 0.00005)
		}
	})
	t.Run("sees a fifth of a point in five litres", func(t *testing.T) {
		// 1 g in 5 L is 0.0002 SG; the start was weighed too, so times the square root
		// of two. Over a must of 200 g/L the vessel loses about a kilogram.
		l, err := NewLiquid(map[Component]Gram{Glucose: 500, Fructose: 500})
		wantNoError(t, err)
		l, err = MadeUpTo(l, 5)
		wantNoError(t, err)
		got, err := rule.ToLoss(l, Weighing{Lost: 400, Scale: 1})
		wantNoError(t, err)
		wantNear(t, "uncertainty", "1 g", float64(got.SGPlusMinus), 0.0002*math.Sqrt2, 0.00002)
		if got.SGPlusMinus > HydrometerPlusMinus/3 {
			t.Errorf("± %v, and a hydrometer ± %v", got.SGPlusMinus, HydrometerPlusMinus)
		}
		dry, err := rule.Run(l, 1000)
		wantNoError(t, err)
		wantNear(t, "gas of it all", "g", float64(dry.CO2), 465, 0.1)
	})
	t.Run("is undone by the gravity it gives", rapid.MakeCheck(func(t *rapid.T) {
		l := drawLiquid(t, "must")
		all := rule.UpTo(l, 0)
		part := rapid.Float64Range(0.05, 0.9).Draw(t, "part")
		want, err := rule.Run(l, all*Gram(part))
		if err != nil || all == 0 {
			t.Skip(err)
		}
		got, err := rule.ToLoss(l, Weighing{Lost: want.CO2})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "hexose", float64(got.Hexose), float64(want.Hexose), 1e-9*float64(want.Hexose)+1e-9)
		near(t, "mass", float64(got.Liquid.Mass()+got.CO2+got.Yeast), float64(l.Mass()), 1e-9*float64(l.Mass()))
		near(t, "unexplained", float64(got.Unexplained), 0, 1e-9*float64(l.Mass()))
		near(t, "uncertainty without one", float64(got.SGPlusMinus), 0, 1e-12)
		near(t, "spread of the yield", float64(got.StrengthPlusMinus), float64(StrengthPlusMinus(got.Figures.Strength)), 1e-12)
	}))
	t.Run("counts what the drink keeps to itself", func(t *testing.T) {
		l := poured(t, map[Component]Gram{Glucose: 200})
		free, err := rule.ToLoss(l, Weighing{Lost: 50})
		wantNoError(t, err)
		held, err := rule.ToLoss(l, Weighing{Lost: 50, Held: 1.7})
		wantNoError(t, err)
		wantNear(t, "gas", 1.7, float64(held.CO2-free.CO2), 1.7, 1e-9)
		none, err := rule.ToLoss(l, Weighing{Held: 1.7})
		wantNoError(t, err)
		wantNear(t, "gas before any is lost", 1.7, float64(none.CO2), 0, 0)
	})
	t.Run("adds the scale to the spread of the strength", func(t *testing.T) {
		l := poured(t, map[Component]Gram{Glucose: 200})
		got, err := rule.ToLoss(l, Weighing{Lost: 50, Scale: 2})
		wantNoError(t, err)
		// 2·√2 g of gas are 2·√2/0.465·0.475 g of ethanol in 0.98 L: 0.38 % vol.
		scale := 2 * math.Sqrt2 / 0.465 * 0.475 / float64(got.Figures.Volume) / 7.8924
		wantNear(t, "strength", "2 g", float64(got.StrengthPlusMinus), math.Hypot(scale, 0.015*float64(got.Figures.Strength)), 0.003)
	})
	t.Run("says what the sugar cannot explain", func(t *testing.T) {
		l := poured(t, map[Component]Gram{Glucose: 100})
		got, err := rule.ToLoss(l, Weighing{Lost: 60, Scale: 1})
		wantNoError(t, err)
		wantNear(t, "unexplained", 60, float64(got.Unexplained), 60-100*0.465, 1e-9)
		if got.Figures.Fermentable > 1e-9 || got.SGPlusMinus != 0 { // 58.6 g would have been all of it too
			t.Errorf("%v g/L left ± %v", got.Figures.Fermentable, got.SGPlusMinus)
		}
		got, err = rule.ToLoss(l, Weighing{Lost: 46.1, Scale: 1}) // 0.4 g before the end
		wantNoError(t, err)
		wantNear(t, "uncertainty looking back", 46.1, float64(got.SGPlusMinus), 0.00099*math.Sqrt2, 0.0001)
	})
	t.Run("refuses what cannot be", func(t *testing.T) {
		l := poured(t, map[Component]Gram{Glucose: 100})
		checkRange(t, 0, 1e9, 1, func(x float64) error { return second(rule.ToLoss(l, Weighing{Lost: Gram(x)})) })
		checkRange(t, 0, 1e9, 1, func(x float64) error { return second(rule.ToLoss(l, Weighing{Scale: Gram(x)})) })
		checkRange(t, 0, 5, 0.001, func(x float64) error { return second(rule.ToLoss(l, Weighing{Held: GramPerLitre(x)})) })
		for _, one := range []func(*Weighing) *float64{
			func(w *Weighing) *float64 { return &w.Carried },
			func(w *Weighing) *float64 { return (*float64)(&w.Start) },
			func(w *Weighing) *float64 { return &w.Room },
		} {
			checkRange(t, 0, 1, 0.001, func(x float64) error {
				w := Weighing{Lost: 1}
				*one(&w) = x
				return second(rule.ToLoss(l, w))
			})
		}
		checkRange(t, 0, 1, 0.0005, func(x float64) error {
			if x == 0 {
				return nil // refused below, for another reason
			}
			return second(Fermentation{Yield: Yield{CO2: x}}.ToLoss(l, Weighing{Lost: 1}))
		})
		if err := second(Fermentation{}.ToLoss(l, Weighing{Lost: 1})); !errors.Is(err, ErrOutOfRange) {
			t.Errorf("no gas to weigh: %v", err)
		}
		if err := second(rule.ToLoss(solids(map[Component]Gram{Glucose: 1}), Weighing{Lost: 1})); !errors.Is(err, ErrOutOfRange) {
			t.Errorf("dry sugar: %v", err)
		}
		got, err := rule.ToLoss(Liquid{}, Weighing{})
		if err != nil || got != (Weighed{}) {
			t.Errorf("empty vessel: %+v, %v", got, err)
		}
	})
}

func FuzzToLoss(f *testing.F) {
	for _, x := range awkward {
		f.Add(x, 1.0, 1.0, 0.45)
		f.Add(40.0, x, 1.0, 0.45)
		f.Add(40.0, 1.0, x, 0.45)
		f.Add(40.0, 1.0, 1.0, x)
	}
	f.Fuzz(func(t *testing.T, lost, scale, held, yield float64) {
		rule := Fermentation{Yield: Yield{Ethanol: 0.475, CO2: yield}}
		got, err := rule.ToLoss(poured(t, map[Component]Gram{Glucose: 100, Sucrose: 50}),
			Weighing{Lost: Gram(lost), Scale: Gram(scale), Held: GramPerLitre(held)})
		checkResult(t, "ToLoss", float64(got.Figures.SG), err)
		checkResult(t, "SGPlusMinus", float64(got.SGPlusMinus), err)
		if err == nil && (got.SGPlusMinus < -1e-12 || got.Unexplained < 0) {
			t.Errorf("± %v, unexplained %v g", got.SGPlusMinus, got.Unexplained)
		}
	})
}
