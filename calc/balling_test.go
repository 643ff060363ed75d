package calc

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Ensure that alcohol from two gravities is Balling's, and what was measured.
func TestAlcoholFromGravities(t *testing.T) {
	t.Run("is the worked example", func(t *testing.T) {
		// OG 1.050, FG 1.010: p 12.397, m 2.568, n 4.422, A 4.123, 5.27 % vol.
		p, err := BrixOfSG(1.050)
		wantNoError(t, err)
		m, err := BrixOfSG(1.010)
		wantNoError(t, err)
		got, err := AlcoholFromGravities(1.050, 1.010)
		wantNoError(t, err)
		wantNear(t, "original extract", 1.050, float64(p), 12.397, 0.00051)
		wantNear(t, "apparent extract", 1.010, float64(m), 2.568, 0.00051)
		wantNear(t, "real extract", "1.050, 1.010", float64(got.RealExtract), 4.422, 0.00051)
		wantNear(t, "ABW", "1.050, 1.010", float64(got.ABW), 4.123, 0.00051)
		wantNear(t, "ABV", "1.050, 1.010", float64(got.ABV), 5.27, 0.0051)
		wantNear(t, "apparent attenuation", "1.050, 1.010", got.ApparentAttenuationPct, 100*(12.397-2.568)/12.397, 0.01)
		wantNear(t, "real attenuation", "1.050, 1.010", got.RealAttenuationPct, 100*(12.397-4.422)/12.397, 0.01)
	})

	t.Run("is the column of the method's comparison", func(t *testing.T) {
		// Computed with SPS-4 and R 22, printed to 0.01 % vol.
		for _, row := range []struct{ og, fg, abv float64 }{
			{1.036, 1.008, 3.67}, {1.040, 1.010, 3.94}, {1.048, 1.012, 4.74}, {1.060, 1.012, 6.34}, {1.080, 1.010, 9.29},
			{1.090, 1.000, 11.97}, {1.090, 0.994, 12.76}, {1.100, 1.000, 13.34}, {1.110, 1.015, 12.73},
		} {
			got, err := AlcoholFromGravities(SG(row.og), SG(row.fg))
			wantNoError(t, err)
			wantNear(t, "AlcoholFromGravities", [2]float64{row.og, row.fg}, float64(got.ABV), row.abv, 0.0051)
		}
	})

	t.Run("is within 0.25 % vol of the duty notice", func(t *testing.T) {
		// Excise Notice 226: strength is the drop in points times a factor that
		// rises with the drop. For each line its two ends, from the original
		// gravities that beer has, 1.030 to 1.100, fermented to 1.000 or above.
		// That the two methods differ by 0.2 is what either is worth.
		for _, row := range readTable(t, "hmrc-gravity-drop-factors.csv") {
			for _, column := range []string{"drop_from", "drop_to"} {
				drop, factor := number(t, row, column), number(t, row, "factor")
				for og := max(1.030, 1+drop/1000); og <= 1.1008; og += 0.01 {
					got, err := AlcoholFromGravities(SG(og), SG(og-drop/1000))
					wantNoError(t, err)
					wantNear(t, "AlcoholFromGravities with drop", [2]float64{og, drop}, float64(got.ABV), drop*factor, 0.25)
				}
			}
		}
	})

	t.Run("is within 3 % of measured beers", func(t *testing.T) {
		// Means of 92, 112 and 221 beers, each column for itself. The two extracts
		// give the alcohol; the differences are 2.8, 1.7 and 1.6 %.
		for _, row := range readTable(t, "beer-extract-alcohol-means.csv") {
			p, n := number(t, row, "original_extract_P"), number(t, row, "real_extract_P")
			want := number(t, row, "alcohol_pct_mass")
			wantNear(t, "ballingAlcohol", row["dataset"], float64(ballingAlcohol(Brix(p), Brix(n))), want, 0.03*want)
			m := Brix(number(t, row, "apparent_extract_P"))
			real, err := RealExtract(Brix(p), m)
			wantNoError(t, err)
			wantNear(t, "RealExtract", row["dataset"], float64(real), n, 0.15) // 0.03 Brix a line, and means of ratios
		}
	})

	t.Run("makes no alcohol without a drop", rapid.MakeCheck(func(t *rapid.T) {
		g := SG(rapid.Float64Range(1, 1.2).Draw(t, "g"))
		got, err := AlcoholFromGravities(g, g)
		if err != nil || math.Abs(float64(got.ABV)) > 1e-10 || math.Abs(got.ApparentAttenuationPct) > 1e-10 {
			t.Fatalf("AlcoholFromGravities(%v, %v) = %+v, %v", g, g, got, err)
		}
	}))

	t.Run("makes more of a greater drop", rapid.MakeCheck(func(t *rapid.T) {
		og := rapid.Float64Range(1.01, 1.2).Draw(t, "og")
		fg := rapid.Float64Range(0.979, og).Draw(t, "fg")
		less, err1 := AlcoholFromGravities(SG(og), SG(fg))
		more, err2 := AlcoholFromGravities(SG(og), SG(fg-0.001))
		if err1 != nil || err2 != nil || !(more.ABV > less.ABV && more.RealExtract < less.RealExtract) {
			t.Fatalf("from %v to %v: %+v, then %+v (%v, %v)", og, fg, less, more, err1, err2)
		}
	}))

	t.Run("keeps the mass", rapid.MakeCheck(func(t *rapid.T) {
		// 100 g of drink are left of 100 + 1.0665·A g of must, which held 2.0665·A + n.
		og := rapid.Float64Range(1, 1.2).Draw(t, "og")
		fg := rapid.Float64Range(0.978, og).Draw(t, "fg")
		got, err := AlcoholFromGravities(SG(og), SG(fg))
		p, err2 := BrixOfSG(SG(og))
		if err != nil || err2 != nil {
			t.Fatal(err, err2)
		}
		a, n := float64(got.ABW), float64(got.RealExtract)
		if back := 100 * (2.0665*a + n) / (100 + 1.0665*a); math.Abs(back-float64(p)) > 1e-9 {
			t.Fatalf("from %v to %v: original extract %v, want %v", og, fg, back, p)
		}
	}))

	t.Run("reads a still dry drink back", func(t *testing.T) {
		// Balling, Tabarié, R 22 and SPS-4 come from different hands; put together
		// they return the gravity they started from within 0.11 Brix for p from 8 to
		// 20, that is 0.0004.
		for p := 8.0; p <= 20; p++ {
			for m := -1.0; m <= p; m++ {
				og, err := SGOfBrix(Brix(p))
				wantNoError(t, err)
				fg, err := SGOfBrix(Brix(m))
				wantNoError(t, err)
				got, err := AlcoholFromGravities(og, fg)
				wantNoError(t, err)
				kgPerM3 := float64(fg) * waterDensity20
				back := ethanolRelative20(float64(got.ABW)/100*kgPerM3) + sucroseRelative20(float64(got.RealExtract)/100*kgPerM3) - 1
				b, err := BrixOfSG(SG(back))
				wantNoError(t, err)
				wantNear(t, "apparent extract put together", [2]float64{p, m}, float64(b), m, 0.12)
			}
		}
	})

	t.Run("gives no attenuation to water", func(t *testing.T) {
		got, err := AlcoholFromGravities(1, 1)
		wantNoError(t, err)
		if got.ApparentAttenuationPct != 0 || got.RealAttenuationPct != 0 {
			t.Errorf("AlcoholFromGravities(1, 1) = %+v, want attenuations of 0", got)
		}
	})

	t.Run("refuses what was never a must", func(t *testing.T) {
		checkRange(t, 1, 1.2, 0.0001, func(x float64) error {
			_, err := AlcoholFromGravities(SG(x), 0.998)
			return err
		})
		checkRange(t, 0.97733, 1.08, 0.0001, func(x float64) error {
			_, err := AlcoholFromGravities(1.08, SG(x))
			return err
		})
	})

	t.Run("says so when gravity rose", func(t *testing.T) {
		_, err := AlcoholFromGravities(1.040, 1.050)
		if !errors.Is(err, ErrOutOfRange) || !strings.Contains(err.Error(), "above the original") {
			t.Errorf("AlcoholFromGravities(1.040, 1.050) gives the error %v", err)
		}
	})
}

// Ensure that real extract and Balling's own table are one.
func TestRealExtract(t *testing.T) {
	t.Run("gives Balling's alcohol factors", func(t *testing.T) {
		// 30 published factors for 6 to 30 Brix, printed to 0.0001. At 15 he has one
		// less in the last digit than his own formula gives unrounded.
		for _, row := range readTable(t, "balling-alcohol-factors.csv") {
			p := Brix(number(t, row, "original_extract_pct"))
			for _, m := range []Brix{0, 1, p / 2} {
				n, err := RealExtract(p, m)
				wantNoError(t, err)
				factor := float64(ballingAlcohol(p, n)) / float64(p-m)
				wantNear(t, "alcohol factor", p, factor, number(t, row, "factor_published"), 0.00011)
				wantNear(t, "alcohol factor", p, factor, number(t, row, "factor_computed"), 0.0000051)
			}
		}
	})

	t.Run("is the usual form near 12 Brix", func(t *testing.T) {
		// With p = 12: n = 0.1883·p + 0.8117·m.
		for _, m := range []Brix{-1, 0, 2, 4, 12} {
			n, err := RealExtract(12, m)
			wantNoError(t, err)
			wantNear(t, "RealExtract(12, m)", m, float64(n), 0.1883*12+0.8117*float64(m), 0.0013)
		}
	})

	t.Run("lies between apparent and original", rapid.MakeCheck(func(t *rapid.T) {
		p := rapid.Float64Range(0, 85).Draw(t, "p")
		m := rapid.Float64Range(-6, p).Draw(t, "m")
		n, err := RealExtract(Brix(p), Brix(m))
		if err != nil || !(m-1e-12 <= float64(n) && float64(n) <= p+1e-12) {
			t.Fatalf("RealExtract(%v, %v) = %v, %v", p, m, n, err)
		}
	}))

	t.Run("refuses what is off the scale", func(t *testing.T) {
		checkRange(t, 0, 85, 0.01, func(x float64) error {
			_, err := RealExtract(Brix(x), -1)
			return err
		})
		checkRange(t, -6, 12, 0.01, func(x float64) error {
			_, err := RealExtract(12, Brix(x))
			return err
		})
	})
}

// Ensure that potential alcohol is the law's.
func TestPotentialABV(t *testing.T) {
	t.Run("is the column of the law", func(t *testing.T) {
		// French order of 14 September 2011, annex IV: sugar to 0.1 g/L, so 0.003 %
		// vol, and strength to 0.01.
		for _, row := range []struct{ sugar, abv float64 }{
			{82.2, 4.88}, {87.5, 5.20}, {98.2, 5.83}, {119.7, 7.11}, {296.9, 17.64}, {302.9, 17.99}, {308.9, 18.35},
		} {
			got, err := PotentialABV(GramPerLitre(row.sugar))
			wantNoError(t, err)
			wantNear(t, "PotentialABV", row.sugar, float64(got), row.abv, 0.01)
		}
	})

	t.Run("never exceeds chemistry", func(t *testing.T) {
		// Gay-Lussac: 15.43 g of hexose make 1 % vol if nothing is lost.
		got, err := PotentialABV(15.43)
		wantNoError(t, err)
		wantNear(t, "PotentialABV", 15.43, float64(got), 0.917, 0.0005)
	})

	t.Run("refuses what is not a solution", func(t *testing.T) {
		checkRange(t, 0, 1229, 0.1, func(x float64) error {
			_, err := PotentialABV(GramPerLitre(x))
			return err
		})
	})
}

func FuzzBalling(f *testing.F) {
	for _, x := range awkward {
		f.Add(x, 1.01)
		f.Add(1.05, x)
	}
	f.Fuzz(func(t *testing.T, x, y float64) {
		a, err := AlcoholFromGravities(SG(x), SG(y))
		for _, v := range []float64{float64(a.ABV), float64(a.ABW), float64(a.RealExtract),
			a.ApparentAttenuationPct, a.RealAttenuationPct} {
			checkResult(t, "AlcoholFromGravities", v, err)
		}
		n, err := RealExtract(Brix(x), Brix(y))
		checkResult(t, "RealExtract", float64(n), err)
		p, err := PotentialABV(GramPerLitre(x))
		checkResult(t, "PotentialABV", float64(p), err)
	})
}
