package calc

import (
	"testing"

	"pgregory.net/rapid"
)

// Ensure that the polynomials are the table of the law.
func TestGrapeMustOf(t *testing.T) {
	t.Run("is the table of OIV Oeno 21/2004", func(t *testing.T) {
		// Sugar is printed to 0.1 g/L, density to 0.0001 kg/L; the potential strength
		// was worked out from the rounded sugar, and is a digit off in places (15.16
		// stands where 255.3/16.83 is 15.17): 0.0093 and 0.05/16.83 % vol.
		for _, row := range readTable(t, "grape-must-refractometer.csv") {
			b := number(t, row, "refractometer_brix")
			got, err := GrapeMustOf(Brix(b))
			wantNoError(t, err)
			wantNear(t, "sugar", b, float64(got.Sugar), number(t, row, "sugar_g_L"), 0.05)
			wantNear(t, "density", b, float64(got.Density), 1000*number(t, row, "must_density_20C_kg_L"), 0.07)
			wantNear(t, "potential", b, float64(got.Potential), number(t, row, "potential_abv_16_83"), 0.0123)
			// Worked out from the rounded sugar and rounded itself: 0.08 g/kg apart.
			wantNear(t, "sugar per kg", b, 1000*float64(got.Sugar)/float64(got.Density), number(t, row, "sugar_g_kg"), 0.15)
			if row["potential_abv_17_5"] != "" { // the older convention, printed to 0.1 and roughly
				wantNear(t, "potential at 17.5", b, float64(got.Sugar)/17.5, number(t, row, "potential_abv_17_5"), 0.055)
			}
		}
	})

	t.Run("is the polynomials as stated", func(t *testing.T) {
		for _, row := range readTable(t, "grape-must-pins.csv") {
			b := number(t, row, "refractometer_brix")
			got, err := GrapeMustOf(Brix(b))
			wantNoError(t, err)
			wantNear(t, "density", b, float64(got.Density), number(t, row, "must_density_20C_kg_m3"), 1e-8)
			wantNear(t, "sugar", b, float64(got.Sugar), number(t, row, "sugar_g_L"), 1e-8)
			wantNear(t, "potential", b, float64(got.Potential), number(t, row, "sugar_g_L")/16.83, 1e-8)
		}
	})

	t.Run("holds less sugar than sucrose of that Brix, and more with every degree", rapid.MakeCheck(func(t *rapid.T) {
		b := Brix(rapid.Float64Range(10, 29.9).Draw(t, "b"))
		less, err1 := GrapeMustOf(b)
		more, err2 := GrapeMustOf(b + 0.1)
		all := b / 100 * Brix(sucroseDensity20(float64(b)/100))
		if err1 != nil || err2 != nil || !(more.Sugar > less.Sugar && more.Density > less.Density) ||
			!(less.Sugar < GramPerLitre(all-20) && less.Sugar > GramPerLitre(all-31)) {
			t.Fatalf("%v Brix, %v g/L as sucrose: %+v, then %+v (%v, %v)", b, all, less, more, err1, err2)
		}
	}))

	t.Run("refuses what the table has not", func(t *testing.T) {
		checkRange(t, 10, 30, 0.001, func(x float64) error {
			_, err := GrapeMustOf(Brix(x))
			return err
		})
	})
}

func FuzzGrapeMustOf(f *testing.F) {
	for _, x := range awkward {
		f.Add(x)
	}
	f.Fuzz(func(t *testing.T, x float64) {
		got, err := GrapeMustOf(Brix(x))
		checkResult(t, "sugar", float64(got.Sugar), err)
		checkResult(t, "density", float64(got.Density), err)
		checkResult(t, "potential", float64(got.Potential), err)
	})
}
