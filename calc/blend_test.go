package calc

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Ensure that a blend is its parts by mass.
func TestBlend(t *testing.T) {
	t.Run("keeps every gram", rapid.MakeCheck(func(t *rapid.T) {
		var parts []BlendPart
		var mass, acid, sugar float64
		for i := range rapid.IntRange(1, 5).Draw(t, "parts") {
			p := BlendPart{Liquid: drawLiquid(t, fmt.Sprint(i)), Acidity: GramPerLitre(rapid.Float64Range(0, 12).Draw(t, "acidity"))}
			f := drawn(t, p.Liquid)
			mass += float64(f.Mass)
			acid += float64(p.Acidity) * float64(f.Volume)
			sugar += float64(p.Liquid.Sugar())
			parts = append(parts, p)
		}
		got, err := Blend(parts...)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "mass", float64(got.Liquid.Mass()), mass, 1e-9*mass)
		near(t, "sugar by mass", float64(got.Liquid.Sugar()/got.Liquid.Mass()), sugar/mass, 1e-9)
		near(t, "acid", float64(got.Acidity)*float64(got.Figures.Volume), acid, 1e-9*(1+acid))
		for _, c := range Components() {
			var sum float64
			for _, p := range parts {
				sum += float64(p.Liquid.Of(c))
			}
			near(t, c.String(), float64(got.Liquid.Of(c)), sum, 1e-9*mass)
		}
	}))
	t.Run("shrinks as spirit and water do", func(t *testing.T) {
		// European alcohol table at 20 °C: a litre of 40 % vol, 948.05 g, and a litre of
		// water, 998.20 g, make 1946.25 g of 20.01 % vol, 973.55 g/L: 1.9991 L.
		var spirit Liquid
		spirit.grams[Ethanol] = 0.4 * ethanolDensityPure20
		spirit.grams[Water] = 948.05 - spirit.grams[Ethanol]
		got, err := Blend(BlendPart{Liquid: spirit}, BlendPart{Liquid: plainWater(t, 1)})
		wantNoError(t, err)
		wantNear(t, "volume", "", float64(got.Figures.Volume), 1.9991, 0.0001)
		wantNear(t, "strength", "", float64(got.Figures.Strength), 20.01, 0.005)
	})
	t.Run("of nothing is nothing", func(t *testing.T) {
		if got, err := Blend(); err != nil || got != (Blended{}) {
			t.Errorf("%v, %v", got, err)
		}
	})
	t.Run("refuses what cannot be", func(t *testing.T) {
		checkRange(t, 0, 1000, 0.1, func(x float64) error {
			return second(Blend(BlendPart{Liquid: plainWater(t, 1), Acidity: GramPerLitre(x)}))
		})
		dry := BlendPart{Liquid: solids(map[Component]Gram{Sucrose: 1})}
		for _, bad := range []BlendPart{dry, {Liquid: plainWater(t, 1), Acidity: -1}} {
			err := second(Blend(BlendPart{Liquid: plainWater(t, 1)}, bad))
			if !errors.Is(err, ErrOutOfRange) || !strings.HasPrefix(err.Error(), "part 2: ") {
				t.Errorf("%v: error %v, want it to name part 2", bad, err)
			}
		}
		huge := Liquid{}
		huge.grams[Water] = math.MaxFloat64
		if err := second(Blend(BlendPart{Liquid: huge}, BlendPart{Liquid: huge})); !errors.Is(err, ErrNotANumber) {
			t.Errorf("more than a number holds: %v", err)
		}
	})
}

// Ensure that two drinks are mixed as the square of the cellar books says: the parts
// are as the distances from the target, crosswise.
func TestMixFor(t *testing.T) {
	drink := func(sg SG, abv PercentVol) BlendPart {
		l, err := LiquidOf(3, sg, abv, GrapeSolids())
		wantNoError(t, err)
		return BlendPart{Liquid: l}
	}
	square := func(first, second, target float64) float64 { return (target - first) / (second - first) }

	t.Run("by strength, but for the shrinking", func(t *testing.T) {
		// 9 and 15 % vol to 11: 4 parts to 2. Mixing shrinks by less than 0.1 %.
		got, err := MixFor(drink(1.000, 9), drink(0.992, 15), TargetStrength(11))
		wantNoError(t, err)
		wantNear(t, "share", "9, 15 to 11", got.Share, square(9, 15, 11), 0.003)
		wantNear(t, "strength", "9, 15 to 11", float64(got.Blended.Figures.Strength), 11, 1e-6)
		wantNear(t, "volume of a litre poured", "9, 15 to 11", float64(got.Blended.Figures.Volume), 1.0001, 0.0003)
		first, second := got.Of(30)
		wantNear(t, "first", 30, float64(first), 20, 0.1)
		wantNear(t, "both", 30, float64(first+second), 30, 1e-12)
	})
	t.Run("by gravity, but for the shrinking", func(t *testing.T) {
		// A must of 1.100 and water to 1.040: 4 parts in 10 of must.
		got, err := MixFor(BlendPart{Liquid: plainWater(t, 1)}, drink(1.100, 0), TargetSG(1.040))
		wantNoError(t, err)
		wantNear(t, "share", "1.000, 1.100 to 1.040", got.Share, square(1, 1.1, 1.04), 0.003)
		wantNear(t, "SG", "1.000, 1.100 to 1.040", float64(got.Blended.Figures.SG), 1.040, 1e-7)
	})
	t.Run("by acidity", func(t *testing.T) {
		// The same wine at 5 and 9 g/L to 6: 3 parts to 1, exactly.
		a, b := drink(0.994, 12), drink(0.994, 12)
		a.Acidity, b.Acidity = 5, 9
		got, err := MixForAcidity(a, b, 6)
		wantNoError(t, err)
		wantNear(t, "share", "5, 9 to 6", got.Share, 0.25, 1e-9)
		wantNear(t, "acidity", "5, 9 to 6", float64(got.Blended.Acidity), 6, 1e-9)
		got, err = MixForAcidity(b, a, 6) // and from the other side
		wantNoError(t, err)
		wantNear(t, "share", "9, 5 to 6", got.Share, 0.75, 1e-9)
	})
	t.Run("meets what lies between", rapid.MakeCheck(func(t *rapid.T) {
		a, b := BlendPart{Liquid: drawLiquid(t, "a")}, BlendPart{Liquid: drawLiquid(t, "b")}
		f, g := drawn(t, a.Liquid), drawn(t, b.Liquid)
		part := rapid.Float64Range(0, 1).Draw(t, "part")
		for _, target := range []Target{TargetSG(f.SG + SG(part)*(g.SG-f.SG)), TargetSugar(f.Sugar + GramPerLitre(part)*(g.Sugar-f.Sugar))} {
			got, err := MixFor(a, b, target)
			if err != nil {
				t.Fatal(err)
			}
			near(t, target.what, target.measure(got.Blended.Figures), target.want, 2*target.slack+1e-9*target.want)
			if !(0 <= got.Share && got.Share <= 1) {
				t.Fatalf("share %v", got.Share)
			}
		}
	}))
	t.Run("finds a gravity that neither end has", func(t *testing.T) {
		// 13 % vol at 1.000 and water: half of each is lighter than both.
		got, err := MixFor(drink(1.000, 13), BlendPart{Liquid: plainWater(t, 1)}, TargetSG(0.9995))
		wantNoError(t, err)
		wantNear(t, "SG", "", float64(got.Blended.Figures.SG), 0.9995, 1e-7)
		if got.Share > 0.5 {
			t.Errorf("share %v, want the smaller of two", got.Share)
		}
	})
	t.Run("takes all of the one that is there already", func(t *testing.T) {
		a, b := drink(1.000, 9), drink(1.040, 6)
		for want, p := range []BlendPart{a, b} {
			got, err := MixFor(a, b, TargetSG(figures(t, p.Liquid).SG))
			wantNoError(t, err)
			if got.Share != float64(want) {
				t.Errorf("share %v, want %v", got.Share, want)
			}
		}
	})
	t.Run("says what two drinks cannot give", func(t *testing.T) {
		a, b := drink(1.000, 9), drink(1.040, 6)
		for name, err := range map[string]error{
			"stronger":    second(MixFor(a, b, TargetStrength(10))),
			"heavier":     second(MixFor(a, b, TargetSG(1.041))),
			"sourer":      second(MixForAcidity(a, b, 5)),
			"empty":       second(MixFor(BlendPart{}, b, TargetSG(1.01))),
			"empty again": second(MixFor(a, BlendPart{}, TargetSG(1.01))),
		} {
			if !errors.Is(err, ErrUnreachable) {
				t.Errorf("%s: error %v", name, err)
			}
		}
		if err := second(MixFor(a, b, TargetStrength(10))); !strings.Contains(err.Error(), "what the two give, 9 and 6 % vol") {
			t.Errorf("error %v, want it to say what the two give", err)
		}
		dry := BlendPart{Liquid: solids(map[Component]Gram{Sucrose: 1})}
		if err := second(MixFor(dry, a, TargetSG(1.01))); !errors.Is(err, ErrOutOfRange) {
			t.Errorf("dry sugar: %v", err)
		}
		if err := second(MixForAcidity(BlendPart{Liquid: a.Liquid, Acidity: -1}, b, 5)); err == nil {
			t.Error("an acidity below none is taken")
		}
	})
}

// Ensure that a drink of which two figures are known has them, and some sugar.
func TestDrinkOf(t *testing.T) {
	t.Run("reads what it was made from", rapid.MakeCheck(func(t *rapid.T) {
		sg := SG(rapid.Float64Range(0.985, 1.16).Draw(t, "sg"))
		abv := PercentVol(rapid.Float64Range(0, 20).Draw(t, "abv"))
		l, err := DrinkOf(10, sg, abv)
		if err != nil {
			t.Skip("lighter than its alcohol")
		}
		f := drawn(t, l)
		near(t, "SG", float64(f.SG), float64(sg), 1e-9)
		near(t, "strength", float64(f.Strength), float64(abv), 1e-7)
		near(t, "sugar", float64(f.Sugar), max(0, float64(f.Extract)-18), 1e-6)
		near(t, "glucose", float64(l.Of(Glucose)), float64(l.Of(Fructose)), 1e-9)
	}))
	t.Run("finds half of the extract to be sugar at 1.000", func(t *testing.T) {
		// 13 % vol at 1.000: the alcohol alone would read 0.98287 (OIML R 22), so the
		// extract is that of 1.01713, 44.4 g/L (sucrose table).
		l, err := DrinkOf(1, 1.000, 13)
		wantNoError(t, err)
		f := figures(t, l)
		wantNear(t, "extract", "", float64(f.Extract), 44.4, 0.3)
		wantNear(t, "sugar", "", float64(f.Sugar), 26.4, 0.3)
	})
	t.Run("refuses what cannot be", func(t *testing.T) {
		checkRange(t, 0, 1e6, 1, func(x float64) error { return second(DrinkOf(Litre(x), 1.01, 12)) })
		if l, err := DrinkOf(1, 0.97, 2); !errors.Is(err, ErrOutOfRange) || l != (Liquid{}) {
			t.Errorf("lighter than its alcohol: %v, %v", l, err)
		}
	})
}

func FuzzBlend(f *testing.F) {
	for _, x := range awkward {
		f.Add(x, 1.0, 13.0, 6.0)
		f.Add(10.0, x, 13.0, 6.0)
		f.Add(10.0, 1.0, x, 6.0)
		f.Add(10.0, 1.0, 13.0, x)
	}
	f.Fuzz(func(t *testing.T, litres, sg, abv, acidity float64) {
		l, err := DrinkOf(Litre(litres), SG(sg), PercentVol(abv))
		checkResult(t, "DrinkOf", float64(l.Mass()), err)
		part := BlendPart{Liquid: l, Acidity: GramPerLitre(acidity)}
		water := BlendPart{Liquid: plainWater(t, 1)}
		got, err := Blend(part, water)
		checkResult(t, "Blend", float64(got.Figures.SG), err)
		for _, target := range []Target{TargetSG(SG(sg)), TargetSG(1.01), TargetStrength(PercentVol(abv / 2)), TargetSugar(GramPerLitre(acidity))} {
			mix, err := MixFor(part, water, target)
			checkPlan(t, "MixFor", mix.Share, err)
			if first, second := mix.Of(1); err == nil && (first < 0 || second < 0) {
				t.Errorf("%v and %v L", first, second)
			}
		}
		mix, err := MixForAcidity(part, water, GramPerLitre(abv))
		checkPlan(t, "MixForAcidity", mix.Share, err)
	})
}
