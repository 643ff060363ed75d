package calc

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Ensure that a drink of known strength and extract reads the gravity of the printed
// table, to the last digit there: 0–20 % vol with 0–30 g/L.
func TestLiquid_SG(t *testing.T) {
	for _, row := range readTable(t, "apparent-gravity-dry.csv") {
		abv := number(t, row, "abv_pct_20C")
		for column := range row {
			grams, ok := strings.CutPrefix(column, "sg_extract_")
			if !ok {
				continue
			}
			extract := number(t, map[string]string{"g": strings.TrimSuffix(grams, "_g_L")}, "g")
			l, err := NewLiquid(map[Component]Gram{Ethanol: Gram(abv / 100 * ethanolDensityPure20), Sucrose: Gram(extract)})
			wantNoError(t, err)
			l, err = MadeUpTo(l, 1)
			wantNoError(t, err)
			sg, err := l.SG()
			wantNoError(t, err)
			wantNear(t, "SG", [2]float64{abv, extract}, float64(sg), number(t, row, column), 0.00006)
		}
	}

	t.Run("is that of sucrose solutions for sucrose", func(t *testing.T) {
		for _, row := range readTable(t, "sucrose-density.csv") {
			b := number(t, row, "brix_pct_mass")
			l, err := NewLiquid(map[Component]Gram{Water: Gram(100 - b), Sucrose: Gram(b)})
			wantNoError(t, err)
			sg, err := l.SG()
			wantNoError(t, err)
			wantNear(t, "SG", b, float64(sg), number(t, row, "sg_20_20_true_vacuum"), 0.000001)
		}
	})
	t.Run("is that of spirit for spirit", func(t *testing.T) {
		// Alcohol by mass against volume needs no density of ours.
		for _, abv := range []PercentVol{0.5, 5, 12, 20, 40, 60, 96} {
			abw, err := ABWOfABV(abv)
			wantNoError(t, err)
			l, err := NewLiquid(map[Component]Gram{Ethanol: Gram(abw), Water: Gram(100 - abw)})
			wantNoError(t, err)
			got, err := l.Strength()
			wantNoError(t, err)
			wantNear(t, "Strength", abv, float64(got), float64(abv), 0.0002) // the waters of the two formulas differ by 2e-6
		}
	})
	t.Run("rises with every kind of sugar stirred in", rapid.MakeCheck(func(t *rapid.T) {
		l := drawLiquid(t, "l")
		c := rapid.SampledFrom(Components()[Sucrose:Sucralose]).Draw(t, "kind")
		grams := rapid.Float64Range(1e-6, 0.5).Draw(t, "share") * float64(l.Mass())
		before := drawn(t, l)
		l.grams[c] += grams
		after := drawn(t, l)
		if !(after.SG > before.SG) || !(after.Volume > before.Volume) || !(after.Strength <= before.Strength) {
			t.Fatalf("%v g of %v: from %+v to %+v", grams, c, before, after)
		}
	}))
	t.Run("falls with alcohol", rapid.MakeCheck(func(t *rapid.T) {
		l := drawLiquid(t, "l")
		before := drawn(t, l)
		l.grams[Ethanol] += rapid.Float64Range(1e-6, 0.1).Draw(t, "share") * float64(l.Mass())
		if after := drawn(t, l); !(after.SG < before.SG) {
			t.Fatalf("from %+v to %+v", before, after)
		}
	}))
}

// Ensure that mixing shrinks as it does in nature: alcohol and water by up to 3.6 %, a
// drink and a drink by less. Two weak drinks may swell by a thousandth, since alcohol
// takes up least room at about 20 % by mass.
func TestLiquid_Volume(t *testing.T) {
	t.Run("of a mix is a little less than the sum", rapid.MakeCheck(func(t *rapid.T) {
		a, b := drawLiquid(t, "a"), drawLiquid(t, "b")
		apart := drawn(t, a).Volume + drawn(t, b).Volume
		together := drawn(t, a.Plus(b)).Volume
		if r := together / apart; !(r > 0.99 && r < 1.002) {
			t.Fatalf("%v L and %v L make %v of it", drawn(t, a).Volume, drawn(t, b).Volume, r)
		}
	}))
	t.Run("of spirit and water is a litre by the alcohol table", func(t *testing.T) {
		// Each row says what a litre weighs, so what water half a litre of alcohol needs
		// to make one of 50 % vol: 0.5365 L, not half.
		for _, row := range readTable(t, "alcohol-density.csv") {
			abv := number(t, row, "abv_pct_20C")
			ethanol := abv / 100 * ethanolDensityPure20
			l := Liquid{}
			l.grams[Ethanol], l.grams[Water] = ethanol, number(t, row, "density_20C_kg_m3")-ethanol
			v, err := l.Volume()
			wantNoError(t, err)
			wantNear(t, "Volume", abv, float64(v), 1, 3e-6)
		}
	})
	t.Run("times density is the mass", rapid.MakeCheck(func(t *rapid.T) {
		l := drawLiquid(t, "l")
		f := drawn(t, l)
		near(t, "mass", float64(f.Volume)*float64(f.SG)*waterDensity20, float64(l.Mass()), 1e-12*float64(l.Mass()))
		sg := ethanolRelative20(l.grams[Ethanol]/float64(f.Volume)) + sucroseRelative20(float64(f.Extract)) - 1
		near(t, "Tabarié's sum", sg, float64(f.SG), 1e-12)
	}))
	t.Run("of an empty vessel is none", func(t *testing.T) {
		if f, err := (Liquid{}).Figures(); f != (Figures{}) || err != nil {
			t.Errorf("Figures of nothing = %+v, %v", f, err)
		}
		if v, err := (Liquid{}).Strength(); v != 0 || err != nil {
			t.Errorf("Strength of nothing = %v, %v", v, err)
		}
		if _, err := (Liquid{}).SG(); !errors.Is(err, ErrOutOfRange) {
			t.Errorf("SG of nothing: error %v, want ErrOutOfRange", err)
		}
	})
	t.Run("of dry sugar is an error", func(t *testing.T) {
		for share, dry := range map[Gram]bool{84.9: false, 85.1: true, 100: true} {
			l, err := NewLiquid(map[Component]Gram{Sucrose: share, Water: 100 - share})
			wantNoError(t, err)
			if _, err := l.Volume(); (err != nil) != dry || err != nil && !errors.Is(err, ErrOutOfRange) {
				t.Errorf("%v %% sugar: error %v", share, err)
			}
		}
	})
}

// Ensure that asking for gravity stays cheap enough to do at every key, without
// touching the heap.
func TestLiquid_SG_Allocations(t *testing.T) {
	l, err := LiquidOf(10, 1.02, 8, HoneySolids())
	wantNoError(t, err)
	if n := testing.AllocsPerRun(100, func() { _, _ = l.SG() }); n != 0 {
		t.Errorf("SG allocates %v times", n)
	}
	if n := testing.AllocsPerRun(100, func() { _, _ = l.Figures() }); n != 0 {
		t.Errorf("Figures allocates %v times", n)
	}
}

func BenchmarkLiquid_SG(b *testing.B) {
	l, err := LiquidOf(10, 1.02, 8, HoneySolids())
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := l.SG(); err != nil {
			b.Fatal(err)
		}
	}
}
