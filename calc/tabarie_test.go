package calc

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"testing"
)

// Ensure that strength and extract give the gravities of the dry-drink table, which
// was computed apart from this package and printed to 0.0001.
func TestDrinkSG(t *testing.T) {
	for _, row := range readTable(t, "apparent-gravity-dry.csv") {
		abv := number(t, row, "abv_pct_20C")
		for column := range row {
			c, err := strconv.ParseFloat(extractOfColumn(column), 64)
			if err != nil {
				continue // not a column of gravities
			}
			want := number(t, row, column)
			sg, err := DrinkSG(PercentVol(abv), GramPerLitre(c))
			wantNoError(t, err)
			wantNear(t, "DrinkSG", [2]float64{abv, c}, float64(sg), want, 0.000051)
			back, err := DrinkExtract(PercentVol(abv), sg)
			wantNoError(t, err)
			wantNear(t, "DrinkExtract of DrinkSG", [2]float64{abv, c}, float64(back), c, 1e-6)
		}
	}
}

// extractOfColumn returns 5 for sg_extract_5 and sg_extract_5_g_L.
func extractOfColumn(name string) string {
	return strings.TrimSuffix(strings.TrimPrefix(name, "sg_extract_"), "_g_L")
}

// Ensure that both directions refuse what cannot be poured.
func TestDrinkSG_Range(t *testing.T) {
	checkRange(t, 0, 30, 0.01, func(x float64) error { _, err := DrinkSG(PercentVol(x), 20); return err })
	checkRange(t, 0, 1228, 2, func(x float64) error { _, err := DrinkSG(0, GramPerLitre(x)); return err })
	checkRange(t, 0, 30, 0.01, func(x float64) error { _, err := DrinkExtract(PercentVol(x), 1); return err })
	checkRange(t, 0.98413, 1.20, 0.3, func(x float64) error { _, err := DrinkExtract(12, SG(x)); return err })
	if _, err := DrinkExtract(12, 0.984); !errors.Is(err, ErrOutOfRange) {
		t.Errorf("DrinkExtract(12, 0.984): error %v, want ErrOutOfRange, since the alcohol alone reads 0.98413", err)
	}
	if _, err := DrinkSG(30, 1200); !errors.Is(err, ErrOutOfRange) {
		t.Errorf("DrinkSG(30, 1200): error %v, want ErrOutOfRange", err)
	}
}

// Ensure that a density is that of the sucrose solution of the same gravity.
func TestSG_Density(t *testing.T) {
	for _, b := range []Brix{0, 10, 20, 60} {
		sg, err := SGOfBrix(b)
		wantNoError(t, err)
		want, err := SucroseDensity(b, 20)
		wantNoError(t, err)
		wantNear(t, "Density", b, float64(sg.Density()), float64(want), 1e-9)
	}
	if got := SG(math.NaN()).Density(); !math.IsNaN(float64(got)) {
		t.Errorf("Density of NaN = %v", got)
	}
}
