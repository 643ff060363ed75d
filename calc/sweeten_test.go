package calc

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// sweetKinds are one of each kind of thing people sweeten with.
var sweetKinds = map[string]map[Component]Gram{
	"sucrose":             {Sucrose: 100},
	"glucose monohydrate": {Glucose: 90.5, Water: 9.09, OtherSolids: 0.41},
	"fructose":            {Fructose: 100},
	"honey":               {Water: 17.2, Sucrose: 1.31, Glucose: 31.28, Fructose: 38.19, Maltose: 7.31, Acid: 0.57, OtherSolids: 4.14},
	"thin syrup":          {Water: 50, Sucrose: 50},
	"lactose":             {Lactose: 95, Water: 5},
	"erythritol":          {Erythritol: 100},
	"sucralose":           {Sucralose: 100},
}

// Ensure that a planned addition gives what was aimed at: gravity within half of
// 0.0001, whatever it is sweetened with and whatever the drink.
func TestIngredient_AmountFor(t *testing.T) {
	for name, parts := range sweetKinds {
		i := ingredient(t, parts)
		if i.PerGram.Extract() < 0.1 || name == "sucralose" {
			continue
		}
		t.Run("meets a gravity with "+name, rapid.MakeCheck(func(t *rapid.T) {
			l := drawLiquid(t, "drink")
			want := drawn(t, l).SG + SG(rapid.Float64Range(0, 0.05).Draw(t, "rise"))
			mass, err := i.AmountFor(l, TargetSG(want))
			if err != nil {
				t.Fatal(err)
			}
			f := drawn(t, l.Plus(i.Amount(mass)))
			near(t, "SG", float64(f.SG), float64(want), 1e-6)
		}))
	}
	for name, parts := range sweetKinds {
		i := ingredient(t, parts)
		sweetens, sugary := i.PerGram.Sweetness() > 0, i.PerGram.Sugar() > 0
		t.Run("meets sweetness and sugar with "+name, rapid.MakeCheck(func(t *rapid.T) {
			l := drawLiquid(t, "drink")
			more := GramPerLitre(rapid.Float64Range(0, 10).Draw(t, "g/L more"))
			if now := drawn(t, l); sweetens {
				mass, err := i.AmountFor(l, TargetSweetness(now.Sweetness+more))
				if err != nil {
					t.Skip("the drink is sweeter than the syrup") // only a weak one can be
				}
				near(t, "sweetness", float64(drawn(t, l.Plus(i.Amount(mass))).Sweetness), float64(now.Sweetness+more), 1e-5)
			}
			if now := drawn(t, l); sugary {
				mass, err := i.AmountFor(l, TargetSugar(now.Sugar+more))
				if err != nil {
					t.Skip("the drink has more sugar than the syrup")
				}
				near(t, "sugar", float64(drawn(t, l.Plus(i.Amount(mass))).Sugar), float64(now.Sugar+more), 1e-5)
			}
		}))
	}

	t.Run("agrees with a pound of sugar in a gallon", func(t *testing.T) {
		// The other way round: to raise a gallon of water to 43.0 points takes a pound.
		sugar := ingredient(t, sweetKinds["sucrose"])
		mass, err := sugar.AmountFor(plainWater(t, LitresPerUSGallon), TargetSG(1.04296))
		wantNoError(t, err)
		wantNear(t, "AmountFor", 1.04296, float64(mass), GramsPerPound, 0.5)
	})
	t.Run("is a matter of mass, so a glass scales to a vessel", rapid.MakeCheck(func(t *rapid.T) {
		glass := drawLiquid(t, "glass")
		k := rapid.Float64Range(1, 1000).Draw(t, "glasses")
		honey, err := NewIngredient("honey", sweetKinds["honey"])
		if err != nil {
			t.Fatal(err)
		}
		target := TargetSG(drawn(t, glass).SG + 0.012)
		small, err := honey.AmountFor(glass, target)
		if err != nil {
			t.Fatal(err)
		}
		big, err := honey.AmountFor(glass.Scaled(k), target)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "in the vessel", float64(big), k*float64(small), 1e-7*float64(big))
	}))
	t.Run("is nothing when the target is met", func(t *testing.T) {
		mead, err := LiquidOf(19, 1.012, 12, HoneySolids())
		wantNoError(t, err)
		if got, err := ingredient(t, sweetKinds["honey"]).AmountFor(mead, TargetSG(1.012)); got != 0 || err != nil {
			t.Errorf("AmountFor = %v, %v, want 0", got, err)
		}
	})
}

// Ensure that what cannot be done is said, not attempted.
func TestIngredient_AmountFor_Unreachable(t *testing.T) {
	mead, err := LiquidOf(19, 1.012, 12, HoneySolids())
	wantNoError(t, err)
	for name, c := range map[string]struct {
		with   string
		in     Liquid
		target Target
	}{
		"a gravity below today's":                 {"honey", mead, TargetSG(1.010)},
		"less sugar than there is":                {"honey", mead, TargetSugar(1)},
		"less sweetness than there is":            {"sucrose", mead, TargetSweetness(1)},
		"a gravity by a sweetener of milligrams":  {"sucralose", mead, TargetSG(1.1)},
		"sugar by what has none":                  {"erythritol", mead, TargetSugar(100)},
		"a gravity above the syrup's own":         {"thin syrup", mead, TargetSG(1.3)},
		"a gravity that only dry sugar has":       {"sucrose", mead, TargetSG(1.5)},
		"more sweetness than a syrup has":         {"thin syrup", mead, TargetSweetness(700)},
		"anything in an empty vessel":             {"honey", Liquid{}, TargetSG(1.010)},
		"a negative sugar":                        {"honey", mead, TargetSugar(-5)},
		"a target with an ingredient of no parts": {"", mead, TargetSG(1.020)},
	} {
		i := Ingredient{}
		if c.with != "" {
			i = ingredient(t, sweetKinds[c.with])
		}
		if got, err := i.AmountFor(c.in, c.target); !errors.Is(err, ErrUnreachable) || got != 0 {
			t.Errorf("%s: %v g, error %v, want ErrUnreachable", name, got, err)
		}
	}
	sugar := ingredient(t, sweetKinds["sucrose"])
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		for _, target := range []Target{TargetSG(SG(x)), TargetSugar(GramPerLitre(x)), TargetSweetness(GramPerLitre(x))} {
			if _, err := sugar.AmountFor(mead, target); !errors.Is(err, ErrNotANumber) {
				t.Errorf("a target of %v: error %v, want ErrNotANumber", x, err)
			}
		}
	}
	if _, err := sugar.AmountFor(SugarSolids(), TargetSG(1.1)); !errors.Is(err, ErrOutOfRange) {
		t.Errorf("in dry sugar: error %v, want ErrOutOfRange", err)
	}
}

// Ensure that an ingredient is one gram of its parts, in whatever unit they came.
func TestNewIngredient(t *testing.T) {
	for name, parts := range sweetKinds {
		i, err := NewIngredient(name, parts)
		wantNoError(t, err)
		wantNear(t, "PerGram", name, float64(i.PerGram.Mass()), 1, 1e-12)
		wantNear(t, "Amount", name, float64(i.Amount(300).Mass()), 300, 1e-9)
	}
	for _, parts := range []map[Component]Gram{nil, {Sucrose: 0}, {Sucrose: -1}, {Sucrose: Gram(math.NaN())}, {componentCount: 1}} {
		if i, err := NewIngredient("nothing", parts); err == nil {
			t.Errorf("NewIngredient of %v = %v, want an error", parts, i)
		}
	}
	for _, x := range awkward {
		checkLiquid(t, ingredient(t, sweetKinds["honey"]).Amount(Gram(x)).Plus(plainWater(t, 10)))
	}
}

func FuzzIngredient_AmountFor(f *testing.F) {
	for _, x := range awkward {
		f.Add(x, 1.012, 12.0, 40.0)
		f.Add(1.02, x, 12.0, x)
	}
	f.Fuzz(func(t *testing.T, target, sg, abv, water float64) {
		l, err := LiquidOf(19, SG(sg), PercentVol(abv), HoneySolids())
		if err != nil {
			return
		}
		i, err := NewIngredient("syrup", map[Component]Gram{Sucrose: 60, Water: Gram(water)})
		if err != nil {
			return
		}
		for _, want := range []Target{TargetSG(SG(target)), TargetSugar(GramPerLitre(target)), TargetSweetness(GramPerLitre(target))} {
			mass, err := i.AmountFor(l, want)
			if !(mass >= 0) || math.IsInf(float64(mass), 0) {
				t.Fatalf("%v g for %v", mass, target)
			}
			if err == nil {
				f := figures(t, l.Plus(i.Amount(mass)))
				wantNear(t, want.what, target, want.measure(f), target, 1e-5)
			}
		}
	})
}

func BenchmarkIngredient_AmountFor(b *testing.B) {
	l, err := LiquidOf(10, 0.998, 12, HoneySolids())
	if err != nil {
		b.Fatal(err)
	}
	honey, err := NewIngredient("honey", sweetKinds["honey"])
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := honey.AmountFor(l, TargetSG(1.012)); err != nil {
			b.Fatal(err)
		}
	}
}
