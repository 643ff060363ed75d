package calc

import (
	"errors"
	"fmt"
	"testing"

	"pgregory.net/rapid"
)

// Ensure that two gravities give the strength of Balling's relations, worked through in
// the alcohol notes, section 2, within the 0.2 % vol that published methods differ by:
// for wort with the yield of wort, and for grape sugar with that of musts. (A must of
// pure sucrose makes 5 % more from the same gravity, since splitting it takes up water.)
func TestFermentation_ToGravity_Balling(t *testing.T) {
	for _, row := range [][3]float64{
		{1.036, 1.008, 3.67}, {1.040, 1.010, 3.94}, {1.048, 1.012, 4.74}, {1.050, 1.010, 5.27}, {1.060, 1.012, 6.34},
		{1.080, 1.010, 9.29}, {1.090, 1.000, 11.97}, {1.090, 0.994, 12.76}, {1.100, 1.000, 13.34}, {1.110, 1.015, 12.73},
	} {
		wantNear(t, "% vol of wort", row, strengthByLedger(t, beery, row[0], row[1]), row[2], 0.2)
		wantNear(t, "% vol of grape sugar", row, strengthByLedger(t, sugary, row[0], row[1]), row[2], 0.2)
	}
}

// Ensure that wort agrees with the factors of the duty notice, which the Laboratory of
// the Government Chemist found: strength = drop · factor, from 1.030 to 1.090. Balling's
// own relations are within 0.2 % vol of it (alcohol notes, section 2).
func TestFermentation_ToGravity_DutyNotice(t *testing.T) {
	for og := 30.0; og <= 90; og += 5 {
		for _, row := range readTable(t, "hmrc-gravity-drop-factors.csv") {
			for _, column := range []string{"drop_from", "drop_to"} {
				drop := number(t, row, column)
				if drop > og+4 { // no beer ends below 0.996
					continue
				}
				got := strengthByLedger(t, beery, 1+og/1000, 1+(og-drop)/1000)
				at := fmt.Sprintf("%.0f - %.1f", og, drop)
				wantNear(t, "% vol", at, got, drop*number(t, row, "factor"), 0.25)
			}
		}
	}
}

// Ensure that musts run dry make what the law and the trade expect of their sugar: 1 %
// vol for each 16.83 g/L (OIV Oeno 21/2004, 191.9 g/L at 20 Brix are 11.40 % vol),
// sucrose counted as the 5.26 % more hexose that it becomes. Fermentations lie within
// 4 % of that, and the drink is 1 % less than the must.
func TestFermentation_Run_Potential(t *testing.T) {
	for name, c := range map[string]struct {
		sugar Liquid
		want  float64
	}{
		"grape, 20 Brix": {solids(map[Component]Gram{Glucose: 95.95, Fructose: 95.95, OtherSolids: 24.3}), 11.40},
		"sucrose":        {solids(map[Component]Gram{Sucrose: 200}), 200 * 1.0526 / 16.83},
	} {
		l, err := MadeUpTo(c.sugar, 1)
		wantNoError(t, err)
		got, err := Fermentation{Yield: MustYield()}.Run(l, 1000)
		wantNoError(t, err)
		wantNear(t, "% vol", name, float64(figures(t, got.Liquid).Strength), 1.01*c.want, 0.04*c.want)
	}
}

// Ensure that a reading is met, or the difference told.
func TestFermentation_ToGravity(t *testing.T) {
	t.Run("finds the liquid that reads it", rapid.MakeCheck(func(t *rapid.T) {
		l, rule := drawLiquid(t, "must"), drawRule(t)
		dry, err := rule.Run(l, l.Hexose())
		if err != nil {
			t.Fatal(err)
		}
		highest, lowest := drawn(t, l).SG, drawn(t, dry.Liquid).SG
		sg := highest - (highest-lowest)*SG(rapid.Float64Range(0, 1).Draw(t, "how far"))
		got, err := rule.ToGravity(l, sg)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "SG", float64(drawn(t, got.Liquid).SG), float64(sg), 1e-9)
		near(t, "mass", float64(got.Liquid.Mass()+got.CO2+got.Yeast), float64(l.Mass()), 1e-9*float64(l.Mass()))
		near(t, "beyond", float64(got.BeyondFermentable), 0, 1e-6*float64(l.Mass()))
		near(t, "unexplained", float64(got.Unexplained), 0, 1e-6)
	}))
	t.Run("agrees with running so far", rapid.MakeCheck(func(t *rapid.T) {
		l, rule := drawLiquid(t, "must"), drawRule(t)
		ran, err := rule.Run(l, l.Hexose()*Gram(rapid.Float64Range(0, 0.9).Draw(t, "part")))
		if err != nil {
			t.Fatal(err)
		}
		got, err := rule.ToGravity(l, drawn(t, ran.Liquid).SG)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range Components() {
			near(t, c.String(), float64(got.Liquid.Of(c)), float64(ran.Liquid.Of(c)), 1e-6*float64(l.Mass()))
		}
	}))
	t.Run("only ever explains, whatever is read", rapid.MakeCheck(func(t *rapid.T) {
		l, rule := drawLiquid(t, "must"), drawRule(t)
		sg := SG(rapid.Float64Range(0.9, 1.45).Draw(t, "sg"))
		got, err := rule.ToGravity(l, sg)
		if err != nil {
			t.Fatal(err)
		}
		reads := drawn(t, got.Liquid).SG
		if d := float64(sg - reads); got.Unexplained == 0 && (d > 1e-9 || d < -1e-9) || float64(got.Unexplained)*d < 0 {
			t.Fatalf("read %v, ledger %v, unexplained %v", sg, reads, got.Unexplained)
		}
		for _, c := range Components() {
			if got.Liquid.Of(c) < 0 {
				t.Fatalf("%v g of %v", got.Liquid.Of(c), c)
			}
		}
	}))

	rule := Fermentation{Yield: MustYield()}
	t.Run("calls extract above the must unexplained", func(t *testing.T) {
		// 2 points are 5.2 g/L of sucrose: the OIV extract table has 5.1 at 1.002.
		must := poured(t, map[Component]Gram{Sucrose: 200})
		got, err := rule.ToGravity(must, figures(t, must).SG+0.002)
		wantNoError(t, err)
		wantNear(t, "Unexplained", "+2 points", float64(got.Unexplained), 5.2, 0.15)
		if got.Hexose != 0 || got.Liquid != must {
			t.Errorf("fermented %+v", got)
		}
	})
	t.Run("calls what is missing below the driest liquid unexplained", func(t *testing.T) {
		got, err := rule.ToGravity(plainWater(t, 1), 0.998)
		wantNoError(t, err)
		wantNear(t, "Unexplained", "-2 points", float64(got.Unexplained), -5.2, 0.15)
		// As far off as a reading can be entered, or a liquid can be: still no error.
		for _, sg := range []SG{0.9, 0.97, 1.45} {
			for _, l := range []Liquid{plainWater(t, 1), poured(t, map[Component]Gram{Sucrose: 10}), poured(t, map[Component]Gram{Sucrose: 10, Ethanol: 200})} {
				if _, err := rule.ToGravity(l, sg); err != nil {
					t.Errorf("ToGravity(%v): %v", sg, err)
				}
			}
		}
	})
	t.Run("takes dextrin for sugar when a beer goes below its limit", func(t *testing.T) {
		wort, err := LiquidOf(20, 1.050, 0, WortSolids())
		wantNoError(t, err)
		beer := Fermentation{Yield: WortYield()}
		got, err := beer.ToGravity(wort, 1.002)
		wantNoError(t, err)
		if got.BeyondFermentable <= 0 || got.Liquid.Fermentable() != 0 || got.Unexplained != 0 {
			t.Errorf("beyond %v g, %v g of sugar left, %v g/L unexplained", got.BeyondFermentable, got.Liquid.Fermentable(), got.Unexplained)
		}
		wantNear(t, "dextrin gone", 1.002, float64(wort.Of(Dextrin)-got.Liquid.Of(Dextrin)), float64(got.BeyondFermentable), 1e-6)
		wantNear(t, "other solids gone", 1.002, float64(wort.Of(OtherSolids)-got.Liquid.Of(OtherSolids)), 0, 0)
		wantNear(t, "SG", 1.002, float64(figures(t, got.Liquid).SG), 1.002, 1e-9)
	})
	t.Run("takes maltotriose first when the yeast was said to leave it", func(t *testing.T) {
		wort, err := LiquidOf(20, 1.050, 0, WortSolids())
		wantNoError(t, err)
		got, err := Fermentation{Yield: WortYield(), LeavesMaltotriose: true}.ToGravity(wort, 1.012)
		wantNoError(t, err)
		if !(got.BeyondFermentable > 0 && got.Liquid.Of(Maltotriose) < wort.Of(Maltotriose) && got.Liquid.Of(Dextrin) == wort.Of(Dextrin)) {
			t.Errorf("beyond %v g, maltotriose %v of %v g, dextrin %v of %v g", got.BeyondFermentable,
				got.Liquid.Of(Maltotriose), wort.Of(Maltotriose), got.Liquid.Of(Dextrin), wort.Of(Dextrin))
		}
	})
	t.Run("refuses what cannot be", func(t *testing.T) {
		must := poured(t, map[Component]Gram{Sucrose: 200})
		checkRange(t, 0.9, 1.45, 0.001, func(x float64) error { _, err := rule.ToGravity(must, SG(x)); return err })
		if _, err := rule.ToGravity(Liquid{}, 1.05); !errors.Is(err, ErrOutOfRange) {
			t.Errorf("empty vessel: error %v, want ErrOutOfRange", err)
		}
	})
}

func TestFermentation_ToGravity_Allocations(t *testing.T) {
	l, err := LiquidOf(10, 1.1, 0, HoneySolids())
	wantNoError(t, err)
	rule := Fermentation{Yield: MustYield()}
	if n := testing.AllocsPerRun(20, func() { _, _ = rule.ToGravity(l, 1.002) }); n != 0 {
		t.Errorf("ToGravity allocates %v times", n)
	}
}

func FuzzFermentation_ToGravity(f *testing.F) {
	for _, x := range awkward {
		f.Add(x, 200.0, 20.0, 50.0)
		f.Add(1.01, x, 5.0, x)
	}
	f.Add(0.97, 10.0, 0.0, 0.0)
	f.Fuzz(func(t *testing.T, sg, sucrose, dextrin, ethanol float64) {
		l, err := NewLiquid(map[Component]Gram{Water: 900, Sucrose: Gram(sucrose), Dextrin: Gram(dextrin), Ethanol: Gram(ethanol)})
		if err != nil {
			return
		}
		got, err := Fermentation{Yield: MustYield()}.ToGravity(l, SG(sg))
		checkResult(t, "unexplained", float64(got.Unexplained), err)
		if err == nil {
			checkLiquid(t, got.Liquid)
		}
	})
}

func BenchmarkFermentation_ToGravity(b *testing.B) {
	l, err := LiquidOf(10, 1.1, 0, HoneySolids())
	if err != nil {
		b.Fatal(err)
	}
	rule := Fermentation{Yield: MustYield()}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := rule.ToGravity(l, 1.002); err != nil {
			b.Fatal(err)
		}
	}
}

// mustKind is a typical must and what its yeast makes of it.
type mustKind struct {
	solids Liquid
	rule   Fermentation
}

var (
	beery  = mustKind{WortSolids(), Fermentation{Yield: WortYield()}}
	sugary = mustKind{solids(map[Component]Gram{Glucose: 1, Fructose: 1}), Fermentation{Yield: MustYield()}}
)

// strengthByLedger returns what a must of gravity og has for strength when it reads fg.
func strengthByLedger(t *testing.T, k mustKind, og, fg float64) float64 {
	t.Helper()
	l, err := LiquidOf(10, SG(og), 0, k.solids)
	wantNoError(t, err)
	got, err := k.rule.ToGravity(l, SG(fg))
	wantNoError(t, err)
	return float64(figures(t, got.Liquid).Strength)
}
