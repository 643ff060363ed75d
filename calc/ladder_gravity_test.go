package calc

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Glasses of water sweetened with sucrose. Expected by hand from the densities of
// ICUMSA SPS-4: 20 Brix are 1.082923 and 1080.977 kg/m3, 10 Brix 1.039984, water 998.203.
func TestLadder_ToGravity(t *testing.T) {
	water, err := WaterOf(19)
	if err != nil {
		t.Fatal(err)
	}
	sugar := ingredient(t, sweetKinds["sucrose"])
	const glass, waterGrams = 0.05, 0.05 * 998.203

	t.Run("doses by mass", func(t *testing.T) {
		got, err := sugar.Ladder(water, Ladder{Glass: glass, Glasses: 3, To: TargetSG(1.082923)})
		if err != nil || len(got) != 3 {
			t.Fatalf("Ladder = %v, %v", got, err)
		}
		want := waterGrams * 20 / 80 // 20 % of sugar in the mixture
		for what, x := range map[string][3]float64{
			"first dose":     {float64(got[0].Dose), 0, 0},
			"first SG":       {float64(got[0].After.SG), 1, 1e-9},
			"middle dose":    {float64(got[1].Dose), want / 2, 0.0003},
			"last dose":      {float64(got[2].Dose), want, 0.0005},
			"last SG":        {float64(got[2].After.SG), 1.082923, 2e-7},
			"for the vessel": {float64(got[2].Vessel), want * 19 / glass, 0.2},
			"syrup":          {float64(got[2].Syrup), 0, 0},
		} {
			if !(math.Abs(x[0]-x[1]) <= x[2]) {
				t.Errorf("%s is %v, want %v ± %v", what, x[0], x[1], x[2])
			}
		}
	})
	t.Run("counts the water of a syrup", func(t *testing.T) {
		// 216.195 g of sucrose in a litre are 20 Brix; as much of it by mass as there is
		// water gives 10 Brix.
		got, err := sugar.Ladder(water, Ladder{Glass: glass, Glasses: 2, To: TargetSG(1.039984), Syrup: 216.195})
		if err != nil {
			t.Fatal(err)
		}
		if ml := 1000 * float64(got[1].Syrup); !(math.Abs(ml-1000*waterGrams/1080.977) < 0.005) {
			t.Errorf("syrup is %.4f mL, want %.4f", ml, 1000*waterGrams/1080.977)
		}
		if g := float64(got[1].Dose); !(math.Abs(g-waterGrams*0.2) < 0.001) {
			t.Errorf("dose in it is %.4f g, want %.4f", g, waterGrams*0.2)
		}
		// The vessel gets sugar without the water: a ninth of its own mass is 10 Brix.
		if g := float64(got[1].Vessel); !(math.Abs(g-19*998.203/9) < 0.2) {
			t.Errorf("the vessel takes %.2f g, want %.2f", g, 19*998.203/9)
		}
	})
}

// Ensure that every glass and the vessel come out at one gravity, by even doses,
// whatever the drink and the sweetener, weighed or as a syrup.
func TestLadder_LandsOnGravity(t *testing.T) {
	for _, name := range []string{"sucrose", "honey", "lactose", "erythritol"} {
		i := ingredient(t, sweetKinds[name])
		t.Run(name, rapid.MakeCheck(func(t *rapid.T) {
			l := drawLiquid(t, "drink")
			now := drawn(t, l)
			d := Ladder{
				Glass:   0.03,
				Glasses: rapid.IntRange(2, 9).Draw(t, "glasses"),
				To:      TargetSG(now.SG + SG(rapid.Float64Range(0.001, 0.03).Draw(t, "rise"))),
				Syrup:   GramPerLitre(rapid.SampledFrom([]float64{0, 450}).Draw(t, "syrup")),
			}
			ladder, err := i.Ladder(l, d)
			switch {
			case now.Volume < d.Glass:
				if !errors.Is(err, ErrOutOfRange) {
					t.Fatalf("a glass of %v L from %v L: %v", d.Glass, now.Volume, err)
				}
				return
			case d.Syrup > 0 && errors.Is(err, ErrUnreachable):
				t.Skip("a drink as dense as the syrup")
			case err != nil:
				t.Fatal(err)
			}
			last := ladder[d.Glasses-1]
			near(t, "last", float64(last.After.SG), d.To.want, 2e-6)
			for k, g := range ladder {
				near(t, "dose", float64(g.Dose), float64(last.Dose)*float64(k)/float64(d.Glasses-1), 1e-9*float64(last.Dose))
				if d.Syrup == 0 || g.After.SG > now.SG {
					near(t, "vessel", float64(drawn(t, l.Plus(i.Amount(g.Vessel))).SG), float64(g.After.SG), 2e-6)
				}
			}
		}))
	}
}

// Ensure that a ladder begins at the drink as it is when that is past its first glass,
// and never where nobody said how far it goes.
func TestLadder_Begins(t *testing.T) {
	sugar, wine := ingredient(t, sweetKinds["sucrose"]), must(DrinkOf(5, 0.998, 12))(t)
	for name, c := range map[string]struct {
		from Target
		want SG
	}{"unsaid": {Target{}, 0.998}, "below today's": {TargetSG(0.990), 0.998}, "above it": {TargetSG(1.004), 1.004}} {
		got := must(sugar.Ladder(wine, Ladder{Glass: 0.05, Glasses: 3, From: c.from, To: TargetSG(1.02)}))(t)
		wantNear(t, "first glass", name, float64(got[0].After.SG), float64(c.want), 1e-6)
	}
}

func TestLadder_RefusesGravities(t *testing.T) {
	wine, err := DrinkOf(5, 0.998, 12)
	if err != nil {
		t.Fatal(err)
	}
	good := Ladder{Glass: 0.05, Glasses: 5, To: TargetSG(1.02)}
	with := func(change func(*Ladder)) Ladder {
		d := good
		change(&d)
		return d
	}
	sugar := ingredient(t, sweetKinds["sucrose"])
	checkRange(t, 0.001, 5, 1e-6, func(x float64) error {
		return second(sugar.Ladder(wine, with(func(d *Ladder) { d.Glass = Litre(x) })))
	})
	big := wine.Scaled(4)
	checkRange(t, 0.001, 10, 1e-6, func(x float64) error {
		return second(sugar.Ladder(big, with(func(d *Ladder) { d.Glass = Litre(x) })))
	})
	nan, inf := math.NaN(), math.Inf(1)
	for name, c := range map[string]struct {
		with string
		on   Ladder
		want error
	}{
		"one glass":           {"sucrose", with(func(d *Ladder) { d.Glasses = 1 }), ErrOutOfRange},
		"too many glasses":    {"sucrose", with(func(d *Ladder) { d.Glasses = 51 }), ErrOutOfRange},
		"no end":              {"sucrose", with(func(d *Ladder) { d.To = Target{} }), ErrOutOfRange},
		"no gravity":          {"sucrose", with(func(d *Ladder) { d.To = TargetSG(SG(nan)) }), ErrNotANumber},
		"without end":         {"sucrose", with(func(d *Ladder) { d.To = TargetSG(SG(inf)) }), ErrNotANumber},
		"no first gravity":    {"sucrose", with(func(d *Ladder) { d.From = TargetSG(SG(nan)) }), ErrNotANumber},
		"below today's":       {"sucrose", with(func(d *Ladder) { d.To = TargetSG(0.99) }), ErrUnreachable},
		"downhill":            {"sucrose", with(func(d *Ladder) { d.From = TargetSG(1.03) }), ErrUnreachable},
		"thin syrup":          {"sucrose", with(func(d *Ladder) { d.Syrup = 0.0005 }), ErrOutOfRange},
		"less than no syrup":  {"sucrose", with(func(d *Ladder) { d.Syrup = -1 }), ErrOutOfRange},
		"thick syrup":         {"sucrose", with(func(d *Ladder) { d.Syrup = 2001 }), ErrOutOfRange},
		"no syrup":            {"sucrose", with(func(d *Ladder) { d.Syrup = GramPerLitre(nan) }), ErrNotANumber},
		"syrup without room":  {"sucrose", with(func(d *Ladder) { d.Syrup = 1999 }), ErrUnreachable},
		"syrup too thin":      {"sucrose", with(func(d *Ladder) { d.Syrup = 10 }), ErrUnreachable},
		"milligrams":          {"sucralose", good, ErrUnreachable},
		"milligrams in syrup": {"sucralose", with(func(d *Ladder) { d.Syrup = 10 }), ErrUnreachable},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := ingredient(t, sweetKinds[c.with]).Ladder(wine, c.on)
			if !errors.Is(err, c.want) || got != nil {
				t.Errorf("Ladder = %v, %v, want %v", got, err, c.want)
			}
		})
	}
	if _, err := sugar.Ladder(Liquid{}, good); !errors.Is(err, ErrOutOfRange) {
		t.Errorf("Ladder of an empty vessel: %v, want ErrOutOfRange", err)
	}
}

// Ensure that a ladder of any figures gives an error or finite doses.
func FuzzIngredient_Ladder(f *testing.F) {
	f.Add(19.0, 0.05, 5, 1.0, 1.02, 500.0)
	f.Add(19.0, 0.05, 5, 0.0, 1.02, 0.0)
	f.Fuzz(func(t *testing.T, volume, glass float64, glasses int, from, to, syrup float64) {
		l, err := DrinkOf(Litre(volume), 0.998, 12)
		if err != nil {
			return
		}
		sugar, err := NewIngredient("sugar", sweetKinds["sucrose"])
		if err != nil {
			t.Fatal(err)
		}
		ladder, err := sugar.Ladder(l, Ladder{Litre(glass), glasses, TargetSG(SG(from)), TargetSG(SG(to)), GramPerLitre(syrup)})
		if err != nil {
			return
		}
		for _, g := range ladder {
			for _, x := range []float64{float64(g.After.SG), float64(g.Dose), float64(g.Syrup), float64(g.Vessel)} {
				if math.IsNaN(x) || math.IsInf(x, 0) || x < 0 {
					t.Fatalf("Ladder gives %+v", g)
				}
			}
		}
	})
}

// Ensure that a syrup is made up to the litre it says: 216.195 g/L of sucrose are 20 Brix
// and 1080.977 g (ICUMSA SPS-4).
func TestIngredient_SyrupOf(t *testing.T) {
	sugar := ingredient(t, sweetKinds["sucrose"])
	syrup, litre, err := sugar.SyrupOf(216.195)
	wantNoError(t, err)
	wantNear(t, "mass", "a litre", float64(litre.Mass()), 1080.977, 0.005)
	wantNear(t, "sugar", "a gram", float64(syrup.PerGram.Of(Sucrose)), 0.2, 1e-6)
	checkRange(t, 0.001, 2000, 0.0001, func(x float64) error {
		_, _, err := sugar.SyrupOf(GramPerLitre(x))
		return unlessFull(err)
	})
}
