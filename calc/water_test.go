package calc

import (
	"encoding/csv"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// Every density at 1 kg/m³ is 0.001 in gravity, so 0.01 kg/m³ is a hundredth of
// what can be read off a hydrometer.

// Ensure that the density of water is that of its source, and of three others.
func TestWaterDensity(t *testing.T) {
	t.Run("is Tanaka's to the last digit printed", func(t *testing.T) {
		// Printed to 0.0001, so half of that and a little for rounding.
		for _, row := range readTable(t, "water-density.csv") {
			if row["tanaka2001_kg_m3"] == "" {
				continue
			}
			x := number(t, row, "temp_C")
			got, err := WaterDensity(Celsius(x))
			wantNoError(t, err)
			wantNear(t, "WaterDensity", x, float64(got), number(t, row, "tanaka2001_kg_m3"), 0.000051)
		}
	})

	t.Run("lies within the spread of independent formulas", func(t *testing.T) {
		// Kell 1975 and OIML R 22 stand on older temperature scales: the four
		// formulas spread over 0.0055 kg/m³ at 20 °C and 0.007 at 15 °C. A digit
		// swapped in a coefficient moves the density by 0.27.
		for _, row := range readTable(t, "water-density.csv") {
			x := number(t, row, "temp_C")
			if x > 40 {
				continue
			}
			got, err := WaterDensity(Celsius(x))
			wantNoError(t, err)
			wantNear(t, "WaterDensity", x, float64(got), number(t, row, "kell1975_kg_m3"), 0.008)
			wantNear(t, "WaterDensity", x, float64(got), number(t, row, "oiml_r22_p0_kg_m3"), 0.008)
		}
	})

	t.Run("has its maximum at 3.983 °C", func(t *testing.T) {
		// Tanaka's a1 is by construction the temperature of the maximum, a5 its density.
		top, err := WaterDensity(3.983035)
		wantNoError(t, err)
		wantNear(t, "WaterDensity", 3.983035, float64(top), 999.974950, 1e-9)
	})

	t.Run("refuses what lies outside 0 to 40 °C", func(t *testing.T) {
		checkRange(t, 0, 40, 0.01, func(x float64) error {
			_, err := WaterDensity(Celsius(x))
			return err
		})
	})
}

// Ensure that the water of the sucrose polynomial is that of its source.
func TestSPS4WaterDensity(t *testing.T) {
	t.Run("is the printed formula", func(t *testing.T) {
		for _, row := range readTable(t, "water-density.csv") {
			x := number(t, row, "temp_C")
			wantNear(t, "sps4WaterDensity", x, sps4WaterDensity(x), number(t, row, "its90_sps4_kg_m3"), 0.000051)
		}
	})

	t.Run("follows Kell to 100 °C", func(t *testing.T) {
		// The same form on another temperature scale: 0.019 kg/m³ apart at 100 °C.
		for _, row := range readTable(t, "water-density.csv") {
			x := number(t, row, "temp_C")
			wantNear(t, "sps4WaterDensity", x, sps4WaterDensity(x), number(t, row, "kell1975_kg_m3"), 0.02)
		}
	})

	t.Run("is the constant at 20 °C", func(t *testing.T) {
		wantNear(t, "sps4WaterDensity", 20, sps4WaterDensity(20), waterDensity20, 1e-12)
	})
}

func FuzzWaterDensity(f *testing.F) {
	for _, x := range awkward {
		f.Add(x)
	}
	f.Fuzz(func(t *testing.T, x float64) {
		got, err := WaterDensity(Celsius(x))
		checkResult(t, "WaterDensity", float64(got), err)
	})
}

// awkward seeds the fuzz targets.
var awkward = []float64{0, math.Copysign(0, -1), 1, -1, 20, 0.98, 1.0485, 1e-300, 1e300, math.MaxFloat64,
	math.SmallestNonzeroFloat64, math.NaN(), math.Inf(1), math.Inf(-1)}

// checkResult fails the test unless a function gave either a finite number or
// nothing and an error of the two kinds that this package documents.
func checkResult(t *testing.T, call string, got float64, err error) {
	t.Helper()
	switch {
	case err == nil && (math.IsNaN(got) || math.IsInf(got, 0)):
		t.Errorf("%s = %v without an error", call, got)
	case err != nil && got != 0:
		t.Errorf("%s = %v beside the error %q, want 0", call, got, err)
	case err != nil && !errors.Is(err, ErrOutOfRange) && !errors.Is(err, ErrNotANumber):
		t.Errorf("%s gives the error %q, want one that wraps ErrOutOfRange or ErrNotANumber", call, err)
	}
}

// checkRange fails the test unless call takes both ends of lo..hi and refuses
// one step beyond them, NaN and the infinities, each with the right error.
func checkRange(t *testing.T, lo, hi, step float64, call func(float64) error) {
	t.Helper()
	for _, x := range []float64{lo, (lo + hi) / 2, hi} {
		if err := call(x); err != nil {
			t.Errorf("at %v: error %q, want none", x, err)
		}
	}
	for _, x := range []float64{lo - step, hi + step} {
		if err := call(x); !errors.Is(err, ErrOutOfRange) {
			t.Errorf("at %v: error %v, want ErrOutOfRange", x, err)
		}
	}
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if err := call(x); !errors.Is(err, ErrNotANumber) {
			t.Errorf("at %v: error %v, want ErrNotANumber", x, err)
		}
	}
}

// wantNear reports a got that is further than tolerance from want.
func wantNear(t *testing.T, call string, at any, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) { // this way round so NaN fails too
		t.Errorf("%s(%v) = %.9g, want %.9g ± %.3g", call, at, got, want, tolerance)
	}
}

func wantNoError(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// readTable reads a reference table: a row is its cells by the name of the column.
// Each file carries the source and the standing of every row in its last columns.
func readTable(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join("testdata", name))
	wantNoError(t, err)
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	wantNoError(t, err)
	if len(lines) < 2 {
		t.Fatalf("%s has no rows", name)
	}
	var rows []map[string]string
	for _, line := range lines[1:] {
		row := make(map[string]string)
		for i, cell := range line {
			row[lines[0][i]] = cell
		}
		rows = append(rows, row)
	}
	return rows
}

func number(t *testing.T, row map[string]string, column string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(row[column], 64)
	if err != nil {
		t.Fatalf("column %s: %v", column, err)
	}
	return x
}
