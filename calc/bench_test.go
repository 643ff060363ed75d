package calc

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Glasses of water sweetened with sucrose. Expected by hand from the densities of
// ICUMSA SPS-4: 20 Brix are 1.082923 and 1080.977 kg/m3, 10 Brix 1.039984, water 998.203.
func TestIngredient_Bench(t *testing.T) {
	water, err := WaterOf(19)
	if err != nil {
		t.Fatal(err)
	}
	sugar := ingredient(t, sweetKinds["sucrose"])
	const glass, waterGrams = 0.05, 0.05 * 998.203

	t.Run("doses by mass", func(t *testing.T) {
		got, err := sugar.Bench(water, Bench{Glass: glass, Glasses: 3, UpTo: 1.082923})
		if err != nil || len(got) != 3 {
			t.Fatalf("Bench = %v, %v", got, err)
		}
		want := waterGrams * 20 / 80 // 20 % of sugar in the mixture
		for what, x := range map[string][3]float64{
			"first dose":     {float64(got[0].Dose), 0, 0},
			"first SG":       {float64(got[0].SG), 1, 1e-9},
			"middle SG":      {float64(got[1].SG), 1.0414615, 1e-9},
			"last dose":      {float64(got[2].Dose), want, 0.0005},
			"last SG":        {float64(got[2].SG), 1.082923, 1e-9},
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
		got, err := sugar.Bench(water, Bench{Glass: glass, Glasses: 2, UpTo: 1.039984, Syrup: 216.195})
		if err != nil {
			t.Fatal(err)
		}
		if ml := 1000 * float64(got[1].Syrup); !(math.Abs(ml-1000*waterGrams/1080.977) < 0.005) {
			t.Errorf("syrup is %.4f mL, want %.4f", ml, 1000*waterGrams/1080.977)
		}
		if g := float64(got[1].Dose); !(math.Abs(g-waterGrams*0.2) < 0.001) {
			t.Errorf("dose in it is %.4f g, want %.4f", g, waterGrams*0.2)
		}
	})
}

// Ensure that every glass and the vessel come out where they are said to, by even
// steps, whatever the drink and the sweetener, and that each dose is above the last.
func TestIngredient_Bench_Lands(t *testing.T) {
	for _, name := range []string{"sucrose", "honey", "lactose", "erythritol"} {
		i := ingredient(t, sweetKinds[name])
		t.Run(name, rapid.MakeCheck(func(t *rapid.T) {
			l := drawLiquid(t, "drink")
			now := drawn(t, l)
			b := Bench{
				Glass:   0.03,
				Glasses: rapid.IntRange(2, 9).Draw(t, "glasses"),
				UpTo:    now.SG + SG(rapid.Float64Range(0.001, 0.03).Draw(t, "rise")),
			}
			ladder, err := i.Bench(l, b)
			if now.Volume < b.Glass {
				if !errors.Is(err, ErrOutOfRange) {
					t.Fatalf("a glass of %v L from %v L: %v", b.Glass, now.Volume, err)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			step := float64(b.UpTo-now.SG) / float64(b.Glasses-1)
			for k, g := range ladder {
				near(t, "step", float64(g.SG-now.SG), float64(k)*step, 1e-9)
				near(t, "vessel", float64(drawn(t, l.Plus(i.Amount(g.Vessel))).SG), float64(g.SG), 2e-6)
				if k > 0 && g.Dose <= ladder[k-1].Dose {
					t.Errorf("glass %d takes %v, no more than the one before, %v", k, g.Dose, ladder[k-1].Dose)
				}
			}
		}))
	}
}

func TestIngredient_Bench_Refuses(t *testing.T) {
	wine, err := DrinkOf(5, 0.998, 12)
	if err != nil {
		t.Fatal(err)
	}
	good := Bench{Glass: 0.05, Glasses: 5, UpTo: 1.02}
	with := func(change func(*Bench)) Bench {
		b := good
		change(&b)
		return b
	}
	nan := math.NaN()
	for name, c := range map[string]struct {
		with string
		on   Bench
		want error
	}{
		"one glass":            {"sucrose", with(func(b *Bench) { b.Glasses = 1 }), ErrOutOfRange},
		"too many glasses":     {"sucrose", with(func(b *Bench) { b.Glasses = 51 }), ErrOutOfRange},
		"a thimble":            {"sucrose", with(func(b *Bench) { b.Glass = 0.0009 }), ErrOutOfRange},
		"more than the vessel": {"sucrose", with(func(b *Bench) { b.Glass = 5.1 }), ErrOutOfRange},
		"no glass":             {"sucrose", with(func(b *Bench) { b.Glass = Litre(nan) }), ErrNotANumber},
		"no gravity":           {"sucrose", with(func(b *Bench) { b.UpTo = SG(nan) }), ErrNotANumber},
		"below today's":        {"sucrose", with(func(b *Bench) { b.UpTo = 0.99 }), ErrUnreachable},
		"thin syrup":           {"sucrose", with(func(b *Bench) { b.Syrup = 0.5 }), ErrOutOfRange},
		"no syrup":             {"sucrose", with(func(b *Bench) { b.Syrup = GramPerLitre(nan) }), ErrNotANumber},
		"syrup without room":   {"sucrose", with(func(b *Bench) { b.Syrup = 1999 }), ErrUnreachable},
		"syrup too thin":       {"sucrose", with(func(b *Bench) { b.Syrup = 10 }), ErrUnreachable},
		"milligrams":           {"sucralose", good, ErrUnreachable},
		"milligrams in syrup":  {"sucralose", with(func(b *Bench) { b.Syrup = 10 }), ErrUnreachable},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := ingredient(t, sweetKinds[c.with]).Bench(wine, c.on)
			if !errors.Is(err, c.want) || got != nil {
				t.Errorf("Bench = %v, %v, want %v", got, err, c.want)
			}
		})
	}
	if _, err := ingredient(t, sweetKinds["sucrose"]).Bench(Liquid{}, good); !errors.Is(err, ErrOutOfRange) {
		t.Errorf("Bench of an empty vessel: %v, want ErrOutOfRange", err)
	}
}

// Ensure that a bench of any figures gives an error or finite doses.
func FuzzIngredient_Bench(f *testing.F) {
	f.Add(19.0, 0.05, 5, 1.02, 500.0)
	f.Add(19.0, 0.05, 5, 1.02, 0.0)
	f.Fuzz(func(t *testing.T, volume, glass float64, glasses int, upTo, syrup float64) {
		l, err := DrinkOf(Litre(volume), 0.998, 12)
		if err != nil {
			return
		}
		sugar, err := NewIngredient("sugar", sweetKinds["sucrose"])
		if err != nil {
			t.Fatal(err)
		}
		ladder, err := sugar.Bench(l, Bench{Litre(glass), glasses, SG(upTo), GramPerLitre(syrup)})
		if err != nil {
			return
		}
		for _, g := range ladder {
			for _, x := range []float64{float64(g.SG), float64(g.Dose), float64(g.Syrup), float64(g.Vessel)} {
				if math.IsNaN(x) || math.IsInf(x, 0) || x < 0 {
					t.Fatalf("Bench gives %+v", g)
				}
			}
		}
	})
}
