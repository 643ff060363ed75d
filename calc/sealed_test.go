package calc

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// stillAt20 is a drink closed at 20 °C as after any airlock, filled as usual.
func stillAt20(t testing.TB) Bottling {
	t.Helper()
	b, err := BottledAt(20, 0.04, 0)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// Ensure that sugar closed in comes out as the pressure of the tables.
func TestBottling_SealedPressure(t *testing.T) {
	t.Run("is the sealed table of the notes", func(t *testing.T) {
		// Carbonation notes, section 5: bottled still at 20 °C, sucrose equivalent,
		// theory, h = 0.04; volumes, then gauge bar without and with air at 10, 20 and
		// 30 °C. Printed to 0.1, so half of that, and 0.002 for the atmosphere of 1.013
		// and the solubilities of three decimals it was computed with.
		temps := []Celsius{10, 20, 30}
		for sugar, row := range map[GramPerLitre]struct {
			volumes float64
			bar     [3][2]float64
		}{
			2:  {1.4, [3][2]float64{{0.1, 1.1}, {0.6, 1.6}, {1.1, 2.1}}},
			4:  {1.9, [3][2]float64{{0.6, 1.6}, {1.2, 2.2}, {1.9, 2.9}}},
			6:  {2.4, [3][2]float64{{1.0, 2.0}, {1.8, 2.8}, {2.7, 3.7}}},
			8:  {2.9, [3][2]float64{{1.5, 2.5}, {2.4, 3.4}, {3.5, 4.5}}},
			10: {3.5, [3][2]float64{{1.9, 2.9}, {3.0, 4.0}, {4.3, 5.3}}},
			12: {4.0, [3][2]float64{{2.4, 3.3}, {3.6, 4.6}, {5.1, 6.1}}},
			15: {4.8, [3][2]float64{{3.0, 4.0}, {4.5, 5.5}, {6.3, 7.3}}},
			20: {6.1, [3][2]float64{{4.1, 5.1}, {6.0, 7.0}, {8.3, 9.3}}},
			24: {7.1, [3][2]float64{{5.0, 6.0}, {7.2, 8.2}, {9.9, 10.9}}},
			30: {8.7, [3][2]float64{{6.4, 7.3}, {9.0, 10.0}, {12.2, 13.3}}},
		} {
			for i, c := range temps {
				got, err := stillAt20(t).SealedPressure(sugar, c)
				wantNoError(t, err)
				at := [2]float64{float64(sugar), float64(c)}
				wantNear(t, "volumes", at, float64(got.Volumes()), row.volumes, 0.052)
				wantNear(t, "gauge", at, float64(got.Gauge), row.bar[i][0], 0.052)
				wantNear(t, "gauge with air", at, float64(got.GaugeWithAir), row.bar[i][1], 0.052)
				wantNear(t, "highest", at, float64(got.Highest()), float64(max(got.Gauge, got.GaugeWithAir)), 0)
			}
		}
	})

	t.Run("gives the handy figures", func(t *testing.T) {
		// 1 g/L of sucrose adds 0.26 volumes, and about 0.30 bar at 20 °C, 0.23 at 10.
		for c, want := range map[Celsius]float64{20: 0.30, 10: 0.23} {
			less, err1 := stillAt20(t).SealedPressure(4, c)
			more, err2 := stillAt20(t).SealedPressure(5, c)
			wantNoError(t, errors.Join(err1, err2))
			wantNear(t, "volumes", c, float64(more.Volumes()-less.Volumes()), 0.26, 0.0051)
			wantNear(t, "new volumes", c, float64(more.NewVolumes()-less.NewVolumes()), 0.26, 0.0051)
			wantNear(t, "bar", c, float64(more.Gauge-less.Gauge), want, 0.011)
		}
	})

	t.Run("bears the rule of 4 g/L an atmosphere out, in a cool cellar", func(t *testing.T) {
		// Of wine, near 10 to 12 °C (two stored pages); at 20 °C it is nearer 3.
		b := Bottling{At: 20, Headspace: 0.04, Strength: 12}
		for c, want := range map[Celsius]float64{11: 4, 20: 3} {
			less, err1 := b.SealedPressure(10, c)
			more, err2 := b.SealedPressure(14, c)
			wantNoError(t, errors.Join(err1, err2))
			wantNear(t, "g/L a bar", c, 4/float64(more.Gauge-less.Gauge), want, 0.1*want)
		}
	})

	t.Run("is worked out by hand with every part", func(t *testing.T) {
		// Residual 1 g/L, 10 g/L of sucrose give 5.142844 more; closed at 15 °C and
		// stored at 30: S 1.219121, gas 44.0095/(0.08314462618·303.15) = 1.746024. Of
		// wine's strength S is 0.87 of that; of 7.5 % vol, half way, 0.935.
		for strength, share := range map[PercentVol]float64{0: 1, 4.9: 1, 5: 1, 7.5: 0.935, 10: 0.87, 14: 0.87, 30: 0.87} {
			b := Bottling{Residual: 1, At: 15, Headspace: 0.05, Strength: strength}
			got, err := b.SealedPressure(10, 30)
			wantNoError(t, err)
			p := 6.142844 / (share*1.2191207 + 0.05*1.746024)
			wantNear(t, "CO2", strength, float64(got.CO2), 6.142844, 2e-6)
			wantNear(t, "new", strength, float64(got.New), 5.142844, 2e-6)
			wantNear(t, "gauge", strength, float64(got.Gauge), p-1.01325, 5e-6)
			wantNear(t, "gauge with air", strength, float64(got.GaugeWithAir), p+1.01325*303.15/288.15-1.01325, 5e-6)
		}
	})

	t.Run("is the equilibrium pressure without headspace", rapid.MakeCheck(func(t *rapid.T) {
		b := Bottling{Residual: GramPerLitre(rapid.Float64Range(0, 4).Draw(t, "residual")), At: 20}
		c, at := GramPerLitre(rapid.Float64Range(0, 20).Draw(t, "c")), Celsius(rapid.Float64Range(-1, 70).Draw(t, "t"))
		got, err1 := b.Pressure(c, at)
		want, err2 := EquilibriumPressure(b.Residual+c, at)
		if err1 != nil || err2 != nil || math.Abs(float64(got.Gauge-want)) > 1e-12 {
			t.Fatalf("%v, want %v (%v, %v)", got.Gauge, want, err1, err2)
		}
	}))

	t.Run("rises with sugar, warmth and strength, and falls with headspace", rapid.MakeCheck(func(t *rapid.T) {
		b := Bottling{
			Residual:  GramPerLitre(rapid.Float64Range(0, 3).Draw(t, "residual")),
			At:        Celsius(rapid.Float64Range(0, 39).Draw(t, "at")),
			Headspace: rapid.Float64Range(0, 1).Draw(t, "h"),
			Strength:  PercentVol(rapid.Float64Range(5, 9).Draw(t, "abv")),
		}
		sugar, c := GramPerLitre(rapid.Float64Range(0.1, 100).Draw(t, "sugar")), Celsius(rapid.Float64Range(-1, 69).Draw(t, "t"))
		at := func(b Bottling, sugar GramPerLitre, c Celsius) BarGauge {
			s, err := b.SealedPressure(sugar, c)
			if err != nil {
				t.Fatal(err)
			}
			if !(s.GaugeWithAir > s.Gauge) || s.Highest() != s.GaugeWithAir {
				t.Fatalf("with air %v, without %v, highest %v", s.GaugeWithAir, s.Gauge, s.Highest())
			}
			return s.Gauge
		}
		p := at(b, sugar, c)
		stronger, roomier := b, b
		stronger.Strength++
		roomier.Headspace += 0.1
		if !(at(b, sugar+0.1, c) > p && at(b, sugar, c+1) > p && at(stronger, sugar, c) > p && at(roomier, sugar, c) < p) {
			t.Fatalf("%v at %v g/L and %v °C, %+v", p, sugar, c, b)
		}
	}))

	t.Run("keeps the gas: what is dissolved and what is above it add up", rapid.MakeCheck(func(t *rapid.T) {
		b := Bottling{Residual: 1, At: 20, Headspace: rapid.Float64Range(0, 10).Draw(t, "h")}
		c, at := GramPerLitre(rapid.Float64Range(0, 50).Draw(t, "c")), Celsius(rapid.Float64Range(-1, 70).Draw(t, "t"))
		s, err := b.Pressure(c, at)
		if err != nil {
			t.Fatal(err)
		}
		p := float64(s.Gauge.Absolute())
		// Ideal gas, with R in J/(mol·K): n = pV/RT.
		gas := p * 1e5 * b.Headspace * 1e-3 / (8.314462618 * float64(at.Kelvin())) * 44.0095
		if sum := p*co2Solubility(at) + gas; math.Abs(sum-float64(s.CO2)) > 1e-9 {
			t.Fatalf("%v g/L dissolved and above, want %v", sum, s.CO2)
		}
	}))

	t.Run("refuses what is no bottle", func(t *testing.T) {
		base := stillAt20(t)
		for _, row := range []struct {
			lo, hi, step float64
			set          func(*Bottling, float64)
		}{
			{0, 160, 0.001, func(b *Bottling, x float64) { b.Residual = GramPerLitre(x) }},
			{-1, 40, 0.001, func(b *Bottling, x float64) { b.At = Celsius(x) }},
			{0, 10, 0.001, func(b *Bottling, x float64) { b.Headspace = x }},
			{0, 30, 0.001, func(b *Bottling, x float64) { b.Strength = PercentVol(x) }},
		} {
			checkRange(t, row.lo, row.hi, row.step, func(x float64) error {
				b := base
				row.set(&b, x)
				_, err := b.SealedPressure(0, 20)
				return err
			})
		}
		checkRange(t, 0, 300, 0.001, func(x float64) error {
			_, err := base.SealedPressure(GramPerLitre(x), 20)
			return err
		})
		checkRange(t, -1, 70, 0.001, func(x float64) error {
			_, err := base.SealedPressure(2, Celsius(x))
			return err
		})
		checkRange(t, 0, 160, 0.001, func(x float64) error {
			_, err := Bottling{At: 20}.Pressure(GramPerLitre(x), 20)
			return err
		})
		if _, err := (Bottling{Residual: 100, At: 20}).Pressure(100, 20); !errors.Is(err, ErrOutOfRange) {
			t.Errorf("200 g/L in all: error %v, want ErrOutOfRange", err)
		}
	})
}

// Ensure that sugar of known kinds makes the gas that chemistry has of it.
func TestSealedSugar(t *testing.T) {
	b := stillAt20(t)
	t.Run("by kind", func(t *testing.T) {
		// Carbonation notes, section 4, computed: 0.4886 g of gas a gram of glucose or
		// fructose, 0.5143 of sucrose or maltose, whatever comes along with them.
		for _, c := range []struct {
			parts map[Component]Gram
			want  float64
		}{
			{map[Component]Gram{Glucose: 1}, 4.886}, {map[Component]Gram{Fructose: 1}, 4.886},
			{map[Component]Gram{Sucrose: 1}, 5.143}, {map[Component]Gram{Maltose: 1}, 5.143},
			{map[Component]Gram{Glucose: 1, Water: 0.1, Lactose: 3}, 4.886},
			{map[Component]Gram{Fructose: 1, Sucrose: 1}, 5.0145},
		} {
			got, err := b.SealedSugar(10, Ingredient{"some", solids(c.parts)}, 20)
			wantNoError(t, err)
			wantNear(t, "gas", c.parts, float64(got.New), c.want, 0.0006)
		}
	})
	t.Run("as in the liquid itself", rapid.MakeCheck(func(t *rapid.T) {
		l := drawLiquid(t, "drink")
		f := drawn(t, l)
		if !(f.Fermentable > 0 && f.Fermentable < 290) {
			t.Skip("nothing to ferment, or a syrup")
		}
		gas, err := FermentableCO2(l)
		if err != nil {
			t.Fatal(err)
		}
		got, err := b.SealedSugar(f.Fermentable, Ingredient{"it", l}, 20)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "gas", float64(got.New), float64(gas), 1e-9*float64(gas))
		if l.Of(Maltotriose) > 0 {
			return // which makes a fiftieth more than sucrose does
		}
		if most, err := b.SealedPressure(f.Fermentable, 20); err != nil || got.New > most.New*(1+1e-12) {
			t.Errorf("%v g/L of gas, as sucrose %v, %v", got.New, most.New, err)
		}
	}))
	t.Run("refuses what cannot be", func(t *testing.T) {
		honey := ingredient(t, sweetKinds["honey"])
		checkRange(t, 0, 300, 0.001, func(x float64) error { return second(b.SealedSugar(GramPerLitre(x), honey, 20)) })
		checkRange(t, -1, 70, 0.001, func(x float64) error { return second(b.SealedSugar(2, honey, Celsius(x))) })
		for _, i := range []Ingredient{ingredient(t, sweetKinds["lactose"]), {}} {
			if err := second(b.SealedSugar(2, i, 20)); !errors.Is(err, ErrUnreachable) {
				t.Errorf("%q: %v", i.Name, err)
			}
		}
	})
}

// Ensure that a bottling knows what the airlock left in it.
func TestBottledAt(t *testing.T) {
	b := stillAt20(t)
	residual, err := ResidualCO2(20)
	wantNoError(t, err)
	if (b != Bottling{Residual: residual, At: 20, Headspace: 0.04}) {
		t.Errorf("BottledAt(20, 0.04, 0) = %+v", b)
	}
	checkRange(t, -1, 40, 0.001, func(x float64) error {
		_, err := BottledAt(Celsius(x), 0, 0)
		return err
	})
	checkRange(t, 0, 10, 0.001, func(x float64) error {
		b, err := BottledAt(20, x, 0)
		if err != nil && b != (Bottling{}) {
			t.Errorf("BottledAt(20, %v) = %+v beside an error", x, b)
		}
		return err
	})
	checkRange(t, 0, 30, 0.001, func(x float64) error {
		_, err := BottledAt(20, 0, PercentVol(x))
		return err
	})
}

// Ensure that a fall of gravity after closing is told as gas.
func TestBottling_DropPressure(t *testing.T) {
	t.Run("is the handy figure of the notes", func(t *testing.T) {
		// Section 5: 0.001 means about 2.1 g/L of sugar, 1.1 g/L of CO2, 0.55 volumes,
		// 0.6 bar at 20 °C.
		before, err1 := stillAt20(t).DropPressure(0, 20)
		after, err2 := stillAt20(t).DropPressure(0.001, 20)
		wantNoError(t, errors.Join(err1, err2))
		wantNear(t, "CO2", 0.001, float64(after.New), 1.1, 0.0505)
		wantNear(t, "volumes", 0.001, float64(after.NewVolumes()), 0.55, 0.0505)
		wantNear(t, "bar", 0.001, float64(after.Gauge-before.Gauge), 0.6, 0.0505)
		wantNear(t, "CO2", 0.001, float64(after.New), 1.1, 1e-12)
	})

	t.Run("is the gas that the ledger makes, or a little more", func(t *testing.T) {
		// Ferment the 5 g of sucrose in a litre of a nearly dry drink, and turn the fall
		// it makes back into gas.
		l, err := NewLiquid(map[Component]Gram{Water: 900, Ethanol: 80, Sucrose: 5, OtherSolids: 15})
		wantNoError(t, err)
		before, err := l.SG()
		wantNoError(t, err)
		for name, row := range map[string]struct {
			yield Yield
			perSG float64
		}{
			"must": {MustYield(), 1081}, "wort": {WortYield(), 1006},
			"chemistry": {Yield{Ethanol: 1 - co2PerHexose, CO2: co2PerHexose}, 1095},
		} {
			f, err := Fermentation{Yield: row.yield}.Run(l, 1000)
			wantNoError(t, err)
			after, err := f.Liquid.SG()
			wantNoError(t, err)
			v, err := f.Liquid.Volume()
			wantNoError(t, err)
			made := float64(f.CO2) / float64(v)
			wantNear(t, "gas a unit of gravity", name, made/float64(before-after), row.perSG, 5)
			got, err := stillAt20(t).DropPressure(before-after, 20)
			wantNoError(t, err)
			if float64(got.New) < made {
				t.Errorf("%s: a fall of %v is told as %v g/L, and is %v", name, before-after, got.New, made)
			}
		}
	})

	t.Run("rises with the fall", rapid.MakeCheck(func(t *rapid.T) {
		b := Bottling{Residual: 1.5, At: 20, Headspace: 0.04}
		fall := SG(rapid.Float64Range(0, 0.1).Draw(t, "fall"))
		less, err1 := b.DropPressure(fall, 20)
		more, err2 := b.DropPressure(fall+0.001, 20)
		if err1 != nil || err2 != nil || !(more.Gauge > less.Gauge) {
			t.Fatalf("%v, then %v (%v, %v)", less, more, err1, err2)
		}
	}))

	t.Run("refuses a rise, and what no bottle survives", func(t *testing.T) {
		checkRange(t, 0, 0.14, 0.0001, func(x float64) error {
			_, err := stillAt20(t).DropPressure(SG(x), 20)
			return err
		})
	})
}

func FuzzBottling(f *testing.F) {
	for _, x := range awkward {
		f.Add(x, 20.0, 0.04, 0.0, 10.0, 20.0)
		f.Add(1.6, x, 0.04, 0.0, 10.0, 20.0)
		f.Add(1.6, 20.0, x, 0.0, 10.0, 20.0)
		f.Add(1.6, 20.0, 0.04, x, 10.0, 20.0)
		f.Add(1.6, 20.0, 0.04, 0.0, x, 20.0)
		f.Add(1.6, 20.0, 0.04, 0.0, 10.0, x)
	}
	f.Fuzz(func(t *testing.T, residual, at, h, abv, x, c float64) {
		b := Bottling{GramPerLitre(residual), Celsius(at), h, PercentVol(abv)}
		s, err := b.SealedPressure(GramPerLitre(x), Celsius(c))
		checkResult(t, "SealedPressure", float64(s.Highest()), err)
		s, err = b.DropPressure(SG(x), Celsius(c))
		checkResult(t, "DropPressure", float64(s.Highest()), err)
		s, err = b.Pressure(GramPerLitre(x), Celsius(c))
		checkResult(t, "Pressure", float64(s.Highest()), err)
		b, err = BottledAt(Celsius(at), h, PercentVol(abv))
		checkResult(t, "BottledAt", float64(b.Residual), err)
	})
}

func BenchmarkSealedPressure(b *testing.B) {
	b.ReportAllocs()
	still := stillAt20(b)
	x := 0.0
	for b.Loop() {
		x = nextUpTo(x, 0.1, 30)
		s, err := still.SealedPressure(GramPerLitre(x), 30)
		if err != nil {
			b.Fatal(err)
		}
		sink = float64(s.Gauge)
	}
}
