package calc

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Ensure that water thins a drink as printed tables say.
func TestWaterFor(t *testing.T) {
	t.Run("follows the alcohol table", func(t *testing.T) {
		// A litre of 40 % vol weighs 948.05 g and two of 20 % vol 1947.12 (European
		// table at 20 °C, printed to 0.01 kg/m³): 999.07 g of water, 0.02 for rounding.
		var l Liquid
		l.grams[Ethanol] = 0.4 * ethanolDensityPure20
		l.grams[Water] = 948.05 - l.grams[Ethanol]
		water, err := WaterFor(l, TargetStrength(20))
		wantNoError(t, err)
		wantNear(t, "WaterFor", "40 to 20 % vol", float64(water), 2*973.56-948.05, 0.05)
	})
	t.Run("meets a gravity", rapid.MakeCheck(func(t *rapid.T) {
		l := drawLiquid(t, "drink")
		now := drawn(t, l).SG
		want := 1 + (now-1)*SG(rapid.Float64Range(0.01, 0.99).Draw(t, "part"))
		if math.Abs(now.Points()) < 2 {
			t.Skip("as heavy as water: it gets lighter first")
		}
		water, err := WaterFor(l, TargetSG(want))
		if err != nil {
			t.Fatal(err)
		}
		l.grams[Water] += float64(water)
		near(t, "SG", float64(drawn(t, l).SG), float64(want), 1e-7)
	}))
	t.Run("meets sugar, strength and potential strength", rapid.MakeCheck(func(t *rapid.T) {
		l := drawLiquid(t, "drink")
		f := drawn(t, l)
		part := rapid.Float64Range(0.01, 1).Draw(t, "part")
		for _, target := range []Target{
			TargetSugar(f.Sugar * GramPerLitre(part)), TargetStrength(f.Strength * PercentVol(part)),
			TargetPotential(PercentVol(f.Fermentable/SugarPerPercentVol) * PercentVol(part)),
		} {
			if target.want == 0 {
				continue
			}
			water, err := WaterFor(l, target)
			if err != nil {
				t.Fatal(err)
			}
			thinner := l
			thinner.grams[Water] += float64(water)
			near(t, target.what, target.measure(drawn(t, thinner)), target.want, max(2e-6, 1e-8*target.want))
		}
	}))
	t.Run("takes as much water as four thousand drinks", func(t *testing.T) {
		l := solids(map[Component]Gram{Water: 900, Sucrose: 100})
		f := figures(t, l)
		// Sugar per litre falls as mass does, nearly: 108 g/L in 1 and 0.0257 in 4096.
		water, err := WaterFor(l, TargetSugar(f.Sugar/4200))
		if err != nil || !(water > 4000*1000 && water < 4400*1000) {
			t.Errorf("thinned 4200 times: %v g, %v", water, err)
		}
		if _, err := WaterFor(l, TargetSugar(f.Sugar/4500)); !errors.Is(err, ErrUnreachable) {
			t.Errorf("thinned 4500 times: error %v", err)
		}
	})
	t.Run("says when water leads nowhere", func(t *testing.T) {
		l := solids(map[Component]Gram{Water: 900, Sucrose: 100})
		for name, target := range map[string]Target{
			"heavier": TargetSG(1.2), "lighter than water": TargetSG(0.99), "stronger": TargetStrength(5), "no sugar at all": TargetSugar(0),
		} {
			if got, err := WaterFor(l, target); !errors.Is(err, ErrUnreachable) || got != 0 {
				t.Errorf("%s: %v g, %v", name, got, err)
			}
		}
		if _, err := WaterFor(Liquid{}, TargetSG(1.05)); !errors.Is(err, ErrUnreachable) {
			t.Errorf("empty vessel: %v", err)
		}
		if _, err := WaterFor(solids(map[Component]Gram{Sucrose: 1}), TargetSG(1.05)); !errors.Is(err, ErrOutOfRange) {
			t.Errorf("dry sugar: %v", err)
		}
		if got, err := WaterFor(l, TargetSG(figures(t, l).SG)); got != 0 || err != nil {
			t.Errorf("where it is already: %v g, %v", got, err)
		}
	})
}

// Ensure that a must is brought to what was asked, from both sides.
func TestMust_Adjusted(t *testing.T) {
	t.Run("meets the target within a twentieth of a point", rapid.MakeCheck(func(t *rapid.T) {
		m, _ := drawMust(t)
		m.poured.grams[Ethanol] = 0
		want := SG(rapid.Float64Range(1.02, 1.15).Draw(t, "want"))
		got, err := m.Adjusted(TargetSG(want), Ingredient{Name: "sugar", PerGram: solids(map[Component]Gram{Sucrose: 1})})
		if err != nil {
			t.Fatal(err)
		}
		f, err := got.Must.Figures()
		if err != nil {
			t.Fatal(err)
		}
		near(t, "SG", float64(f.SGAllOut), float64(want), 1e-6)
		if got.Added < 0 || got.Water < 0 || got.Added > 0 && got.Water > 0 {
			t.Fatalf("%v g of sugar and %v g of water", got.Added, got.Water)
		}
		mass := got.Must.AllOut().Mass() - m.AllOut().Mass()
		near(t, "mass", float64(mass), float64(got.Added+got.Water), 1e-9*float64(got.Must.AllOut().Mass()))
	}))
	t.Run("reaches a potential strength", func(t *testing.T) {
		m, err := NewMust(plainWater(t, 4), FruitPortion{Fruit: plum(t), Mass: 2000, Crushed: true})
		wantNoError(t, err)
		got, err := m.Adjusted(TargetPotential(12), honey(t))
		wantNoError(t, err)
		wantNear(t, "potential", "", float64(mustFigures(t, got.Must).Potential), 12, 1e-6)
	})
	t.Run("says what cannot be", func(t *testing.T) {
		m, err := NewMust(plainWater(t, 4).Plus(honey(t).Amount(1000)))
		wantNoError(t, err)
		for name, target := range map[string]Target{
			"lighter than water": TargetSG(0.99), "heavier than honey": TargetSG(1.5), "strength of sugar": TargetStrength(5),
		} {
			if got, err := m.Adjusted(target, honey(t)); !errors.Is(err, ErrUnreachable) || got.Added != 0 || got.Water != 0 {
				t.Errorf("%s: %v, %v", name, got, err)
			}
		}
		if _, err := (Must{}).Adjusted(TargetSG(1.05), honey(t)); !errors.Is(err, ErrUnreachable) {
			t.Errorf("nothing: %v", err)
		}
		dry, err := NewMust(solids(map[Component]Gram{Sucrose: 1}))
		wantNoError(t, err)
		if _, err := dry.Adjusted(TargetSG(1.05), honey(t)); !errors.Is(err, ErrOutOfRange) {
			t.Errorf("dry sugar: %v", err)
		}
	})
}

// Ensure that a volume and a gravity can be asked for at once.
func TestMust_AdjustedTo(t *testing.T) {
	t.Run("is a pound in a gallon, backwards", func(t *testing.T) {
		// 119.83 g/L are 46.1 points (sucrose table): a pound in a US gallon.
		sugar := ingredient(t, map[Component]Gram{Sucrose: 100})
		got, err := (Must{}).AdjustedTo(LitresPerUSGallon, TargetSugar(119.8264), sugar)
		wantNoError(t, err)
		wantNear(t, "sugar", "", float64(got.Added), GramsPerPound, 0.001)
		wantNear(t, "points", "", mustFigures(t, got.Must).SG.Points(), 46.1, 0.05)
		wantNear(t, "water", "", float64(got.Water+got.Added), float64(got.Must.AllOut().Mass()), 1e-9)
	})
	t.Run("meets both", rapid.MakeCheck(func(t *rapid.T) {
		m, _ := drawMust(t)
		m.poured.grams[Ethanol] = 0
		f, err := m.Figures()
		if err != nil {
			t.Fatal(err)
		}
		v := f.Volume * Litre(rapid.Float64Range(2, 10).Draw(t, "times"))
		plain, err := m.MadeUpTo(v)
		if err != nil {
			t.Fatal(err)
		}
		want := drawn(t, plain.AllOut()).SG + SG(rapid.Float64Range(0, 0.08).Draw(t, "rise"))
		got, err := m.AdjustedTo(v, TargetSG(want), Ingredient{Name: "honey", PerGram: HoneySolids().Scaled(0.01)})
		if err != nil {
			t.Fatal(err)
		}
		after, err := got.Must.Figures()
		if err != nil {
			t.Fatal(err)
		}
		near(t, "SG", float64(after.SGAllOut), float64(want), 1e-6)
		near(t, "volume", float64(after.Volume), float64(v), 1e-9*float64(v))
		if got.Added < 0 || got.Water < -1e-9*got.Must.AllOut().Mass() {
			t.Fatalf("%v g and %v g of water", got.Added, got.Water)
		}
	}))
	t.Run("says what cannot be", func(t *testing.T) {
		m, err := NewMust(honey(t).Amount(1000))
		wantNoError(t, err)
		for name, err := range map[string]error{
			"past it already": second(m.AdjustedTo(2, TargetSG(1.05), honey(t))),
			"no room":         second(m.AdjustedTo(0.5, TargetSG(1.05), honey(t))),
			"too much to ask": second(m.AdjustedTo(4.5, TargetSG(1.44), honey(t))),
			"wrong sugar":     second(m.AdjustedTo(4.5, TargetPotential(20), ingredient(t, map[Component]Gram{Lactose: 1}))),
			"nothing at all":  second((Must{}).AdjustedTo(0, TargetSG(1.05), honey(t))),
		} {
			if !errors.Is(err, ErrUnreachable) {
				t.Errorf("%s: error %v", name, err)
			}
		}
		got, err := m.AdjustedTo(4.5, TargetSG(1.09), honey(t))
		wantNoError(t, err)
		again, err := got.Must.AdjustedTo(4.5, TargetSG(mustFigures(t, got.Must).SG), honey(t))
		if err != nil || again.Added != 0 || math.Abs(float64(again.Water)) > 1e-6 {
			t.Errorf("where it is already: %v, %v", again, err)
		}
	})
}

func second[T any](_ T, err error) error { return err }

func FuzzAdjust(f *testing.F) {
	for _, x := range awkward {
		f.Add(x, 10.0, 1.0)
		f.Add(1.05, x, 1.0)
		f.Add(1.05, 10.0, x)
	}
	f.Fuzz(func(t *testing.T, sg, percent, litres float64) {
		m, err := NewMust(plainWater(t, 3).Plus(honey(t).Amount(500)), FruitPortion{Fruit: plum(t), Mass: 500})
		wantNoError(t, err)
		for _, target := range []Target{TargetSG(SG(sg)), TargetStrength(PercentVol(percent)), TargetPotential(PercentVol(percent))} {
			water, err := WaterFor(m.AllOut(), target)
			checkPlan(t, "WaterFor", float64(water), err)
			got, err := m.Adjusted(target, honey(t))
			checkPlan(t, "Adjusted", float64(got.Added+got.Water), err)
			got, err = m.AdjustedTo(Litre(litres), target, honey(t))
			checkPlan(t, "AdjustedTo", float64(got.Added+got.Water), err)
		}
	})
}

// checkPlan is checkResult for what may also be out of reach.
func checkPlan(t *testing.T, call string, got float64, err error) {
	t.Helper()
	if errors.Is(err, ErrUnreachable) {
		if got != 0 {
			t.Errorf("%s = %v beside the error %q", call, got, err)
		}
		return
	}
	checkResult(t, call, got, err)
}
