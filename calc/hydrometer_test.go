package calc

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// The demand on a corrected reading from 10 to 30 °C is 0.0002, a fifth of what the
// eye reads. The tables marked computed are of the same method, though, made apart
// from this code and printed to 0.00001, so much less is asked of them: half of the
// last digit, and 0.005 K times 0.0005 per kelvin for the temperatures in °F, which
// are printed to 0.01 °C.
const correctionTolerance = 0.000008

// Ensure that a reading is corrected as the tables say, at any temperature in them.
func TestCorrectReading(t *testing.T) {
	for name, table := range map[string]string{"on a 20 °C scale": "B_sg_20C", "on a 60 °F scale": "C_sg_60F"} {
		t.Run(name, func(t *testing.T) {
			for _, row := range correctionRows(t, table) {
				got, err := CorrectReading(SG(row.reading), row.sample, row.calibration)
				wantNoError(t, err)
				wantNear(t, "CorrectReading", [2]float64{row.reading, float64(row.sample)},
					float64(got)-row.reading, row.correction, correctionTolerance)
			}
		})
	}

	t.Run("agrees with the leaflet that comes with a 60 °F hydrometer", func(t *testing.T) {
		// Add 0.001 at 70 °F, 0.002 at 77, 0.003 at 84, 0.005 at 95: the water row in
		// whole points, from memory. Half a point.
		for _, row := range []struct{ f, add float64 }{{70, 0.001}, {77, 0.002}, {84, 0.003}, {95, 0.005}} {
			got, err := CorrectReading(1, Fahrenheit(row.f), CalibratedAt60F)
			wantNoError(t, err)
			wantNear(t, "CorrectReading(1.000) at °F", row.f, float64(got)-1, row.add, 0.0005)
		}
	})

	t.Run("adds nothing at the calibration temperature", rapid.MakeCheck(func(t *rapid.T) {
		s, c := drawReading(t), drawCelsius(t, "calibration", 60)
		got, err := CorrectReading(s, c, c)
		if err != nil || math.Abs(float64(got-s)) > 1e-12 {
			t.Fatalf("CorrectReading(%v, %v, %v) = %v, %v", s, c, c, got, err)
		}
	}))

	t.Run("finds the must that was measured", rapid.MakeCheck(func(t *rapid.T) {
		// The instrument forwards: a must of known sugar, warmed, in it the glass.
		w := rapid.Float64Range(0, 0.4).Draw(t, "w")
		sample, cal := drawCelsius(t, "sample", 60), drawCelsius(t, "calibration", 60)
		glass := 1 + 25e-6*float64(sample-cal)
		reading := sucroseDensity(w, float64(sample)) * glass / sps4WaterDensity(float64(cal))
		if reading < minReading || reading > maxReading {
			t.Skip("the instrument would not float")
		}
		want := sucroseDensity(w, float64(cal)) / sps4WaterDensity(float64(cal))
		got, err := CorrectReading(SG(reading), sample, cal)
		if err != nil || math.Abs(float64(got)-want) > 1e-11 {
			t.Fatalf("CorrectReading(%v, %v, %v) = %v, %v, want %v", reading, sample, cal, got, err, want)
		}
	}))

	t.Run("adds more the warmer the sample", rapid.MakeCheck(func(t *rapid.T) {
		// Water is densest at 4 °C; with the glass, which shrinks too, it turns at 6 °C.
		s, c := SG(rapid.Float64Range(1, 1.2).Draw(t, "reading")), rapid.Float64Range(7, 59).Draw(t, "sample")
		cooler, err1 := CorrectReading(s, Celsius(c), 20)
		warmer, err2 := CorrectReading(s, Celsius(c+0.5), 20)
		if err1 != nil || err2 != nil || !(warmer > cooler) {
			t.Fatalf("%v at %v °C is %v, at %v °C %v (%v, %v)", s, c, cooler, c+0.5, warmer, err1, err2)
		}
	}))

	t.Run("refuses what no hydrometer says", func(t *testing.T) {
		checkRange(t, 0.97, 1.2, 0.0001, func(x float64) error {
			_, err := CorrectReading(SG(x), 25, 20)
			return err
		})
		checkRange(t, 0, 60, 0.01, func(x float64) error {
			_, err := CorrectReading(1.04, Celsius(x), 20)
			return err
		})
		checkRange(t, 0, 60, 0.01, func(x float64) error {
			_, err := CorrectReading(1.04, 20, Celsius(x))
			return err
		})
	})

	t.Run("names the value it refuses", func(t *testing.T) {
		if _, err := CorrectReading(9.9, 20, 20); err == nil || !strings.Contains(err.Error(), "9.9") {
			t.Errorf("CorrectReading(9.9) gives the error %v, want one with 9.9 in it", err)
		}
	})
}

// Ensure that alcohol is allowed for.
func TestCorrectReadingWithAlcohol(t *testing.T) {
	t.Run("is the table for dry wine", func(t *testing.T) {
		// Computed with the water of R 22 where this code takes that of the sucrose
		// polynomial, 0.000001 apart in ratio; readings printed to 0.00001 as well.
		for _, row := range correctionRows(t, "D_dry_alcohol_20C") {
			abv, _, _ := strings.Cut(strings.TrimPrefix(row.unit, "SG 20/20; "), " ")
			strength := number(t, map[string]string{"abv": abv}, "abv")
			got, err := CorrectReadingWithAlcohol(SG(row.reading), PercentVol(strength), row.sample, row.calibration)
			wantNoError(t, err)
			wantNear(t, "CorrectReadingWithAlcohol", [3]float64{row.reading, strength, float64(row.sample)},
				float64(got)-row.reading, row.correction, 0.000012)
		}
	})

	t.Run("is the correction of a must when there is none", rapid.MakeCheck(func(t *rapid.T) {
		s, sample, cal := drawReading(t), drawCelsius(t, "sample", 40), drawCelsius(t, "calibration", 40)
		plain, err1 := CorrectReading(s, sample, cal)
		got, err2 := CorrectReadingWithAlcohol(s, 0, sample, cal)
		if err1 != nil || err2 != nil || math.Abs(float64(got-plain)) > 1e-12 {
			t.Fatalf("%v, want %v (%v, %v)", got, plain, err2, err1)
		}
	}))

	t.Run("adds nothing at the calibration temperature", rapid.MakeCheck(func(t *rapid.T) {
		s, c := drawReading(t), drawCelsius(t, "calibration", 40)
		abv := PercentVol(rapid.Float64Range(0, 30).Draw(t, "abv"))
		got, err := CorrectReadingWithAlcohol(s, abv, c, c)
		if err != nil || math.Abs(float64(got-s)) > 1e-12 {
			t.Fatalf("CorrectReadingWithAlcohol(%v, %v, %v, %v) = %v, %v", s, abv, c, c, got, err)
		}
	}))

	t.Run("refuses what lies outside its formulas", func(t *testing.T) {
		for _, call := range []func(SG, PercentVol, Celsius, Celsius) (SG, error){CorrectReadingWithAlcohol, ReadingAt20} {
			checkRange(t, 0.95, 1.2, 0.0001, func(x float64) error {
				_, err := call(SG(x), 12, 25, 20)
				return err
			})
			checkRange(t, 0, 30, 0.01, func(x float64) error {
				_, err := call(0.99, PercentVol(x), 25, 20)
				return err
			})
			checkRange(t, 0, 40, 0.01, func(x float64) error {
				_, err := call(0.99, 12, Celsius(x), 20)
				return err
			})
			checkRange(t, 0, 40, 0.01, func(x float64) error {
				_, err := call(0.99, 12, 20, Celsius(x))
				return err
			})
		}
	})
}

// Ensure that Tabarié's sum is what the table of dry wines was made with.
func TestMixtureGravity(t *testing.T) {
	for _, row := range readTable(t, "apparent-gravity-dry.csv") {
		abv := number(t, row, "abv_pct_20C")
		for column, extract := range map[string]float64{"sg_extract_0_g_L": 0, "sg_extract_2": 2, "sg_extract_5": 5,
			"sg_extract_10": 10, "sg_extract_15": 15, "sg_extract_20": 20, "sg_extract_25": 25, "sg_extract_30": 30} {
			m := mixture{ethanolFractionOfABV(abv), sucroseFractionFromConcentration20(extract)}
			// Asked for within 0.0002; printed to 0.0001, so half of that.
			wantNear(t, "gravity", [2]float64{abv, extract}, float64(m.gravity(20)), number(t, row, column), 0.000053)
			wantNear(t, "sum of the cores", [2]float64{abv, extract},
				ethanolRelative20(abv/100*ethanolDensityPure20)+sucroseRelative20(extract)-1, number(t, row, column), 0.000053)
		}
	}
}

// Ensure that scales turn into one another.
func TestSGAt20(t *testing.T) {
	t.Run("agrees with the table of scales", func(t *testing.T) {
		// Computed from SPS-4, printed to 0.000001.
		for _, row := range readTable(t, "sg-reference-temperatures.csv") {
			for column, cal := range map[string]Celsius{
				"sg_20_20": CalibratedAt20C, "sg_60F_60F": CalibratedAt60F, "sg_17_5_17_5": 17.5, "sg_15_15": 15} {
				got, err := SGAt20(SG(number(t, row, column)), cal)
				wantNoError(t, err)
				wantNear(t, column, row["brix_pct_mass"], float64(got), number(t, row, "sg_20_20"), 0.0000011)
			}
		}
	})

	t.Run("leaves water at 1.000", func(t *testing.T) {
		for _, cal := range []Celsius{0, 15, CalibratedAt60F, 20, 60} {
			got, err := SGAt20(1, cal)
			wantNoError(t, err)
			wantNear(t, "SGAt20(1)", cal, float64(got), 1, 1e-12)
		}
	})

	t.Run("refuses what no hydrometer says", func(t *testing.T) {
		checkRange(t, 0.97, 1.2, 0.0001, func(x float64) error {
			_, err := SGAt20(SG(x), CalibratedAt60F)
			return err
		})
		checkRange(t, 0, 60, 0.01, func(x float64) error {
			_, err := SGAt20(1.04, Celsius(x))
			return err
		})
	})
}

// Ensure that one step to 20/20 knows of the alcohol.
func TestReadingAt20(t *testing.T) {
	t.Run("turns ethanol and water at 60 °F into 20 °C", func(t *testing.T) {
		// Both columns computed from R 22, printed to 0.00001; waters as in table D.
		for _, row := range readTable(t, "alcohol-density.csv") {
			abv := number(t, row, "abv_pct_20C")
			if abv > 25 {
				continue
			}
			got, err := ReadingAt20(SG(number(t, row, "sg_60F_60F")), PercentVol(abv), CalibratedAt60F, CalibratedAt60F)
			wantNoError(t, err)
			wantNear(t, "ReadingAt20", abv, float64(got), number(t, row, "sg_20_20"), 0.000012)
		}
	})

	t.Run("is correction and change of scale for a must", rapid.MakeCheck(func(t *rapid.T) {
		s, sample, cal := drawReading(t), drawCelsius(t, "sample", 40), drawCelsius(t, "calibration", 40)
		corrected, err1 := CorrectReading(s, sample, cal)
		if corrected < minReading || corrected > maxReading {
			t.Skip("off the scale once corrected")
		}
		want, err2 := SGAt20(corrected, cal)
		got, err3 := ReadingAt20(s, 0, sample, cal)
		if err1 != nil || err2 != nil || err3 != nil || math.Abs(float64(got-want)) > 1e-11 {
			t.Fatalf("%v, want %v (%v, %v, %v)", got, want, err1, err2, err3)
		}
	}))
}

// Ensure that a Brix hydrometer is corrected as the tables say.
func TestCorrectBrixReading(t *testing.T) {
	t.Run("is the table of the method", func(t *testing.T) {
		// Computed, printed to 0.01 Brix.
		for _, row := range correctionRows(t, "A_brix_20C") {
			got, err := CorrectBrixReading(Brix(row.reading), row.sample, row.calibration)
			wantNoError(t, err)
			wantNear(t, "CorrectBrixReading", [2]float64{row.reading, float64(row.sample)},
				float64(got)-row.reading, row.correction, 0.0051)
		}
	})

	t.Run("agrees with NBS C440", func(t *testing.T) {
		// It rests on Plato's thermal data: 0.03 Brix apart from 10 to 30 °C and up
		// to 0.10 at 0 °C; half of the last digit on top.
		for _, row := range correctionRows(t, "E_brix_20C_published") {
			tolerance := 0.035
			if row.sample < 10 || row.sample > 30 {
				tolerance = 0.105
			}
			got, err := CorrectBrixReading(Brix(row.reading), row.sample, row.calibration)
			wantNoError(t, err)
			wantNear(t, "CorrectBrixReading", [2]float64{row.reading, float64(row.sample)},
				float64(got)-row.reading, row.correction, tolerance)
		}
	})

	t.Run("corrects like the gravity scale", rapid.MakeCheck(func(t *rapid.T) {
		b := Brix(rapid.Float64Range(0, 40).Draw(t, "b"))
		sample := drawCelsius(t, "sample", 60)
		s, err1 := SGOfBrix(b)
		got, err2 := CorrectBrixReading(b, sample, 20)
		want, err3 := CorrectReading(s, sample, 20)
		if err1 != nil || err2 != nil || err3 != nil {
			t.Fatal(err1, err2, err3)
		}
		if sg := sucroseDensity20(float64(got)/100) / waterDensity20; math.Abs(sg-float64(want)) > 1e-11 {
			t.Fatalf("%v Brix at %v °C: %v, want %v", b, sample, sg, want)
		}
	}))

	t.Run("refuses what no hydrometer says", func(t *testing.T) {
		checkRange(t, -6, 60, 0.01, func(x float64) error {
			_, err := CorrectBrixReading(Brix(x), 25, 20)
			return err
		})
		checkRange(t, 0, 60, 0.01, func(x float64) error {
			_, err := CorrectBrixReading(10, Celsius(x), 20)
			return err
		})
		checkRange(t, 0, 60, 0.01, func(x float64) error {
			_, err := CorrectBrixReading(10, 20, Celsius(x))
			return err
		})
	})
}

func FuzzHydrometer(f *testing.F) {
	for _, x := range awkward {
		f.Add(x, 12.0, 25.0, 20.0)
		f.Add(1.01, x, x, 20.0)
		f.Add(1.01, 12.0, 20.0, x)
	}
	f.Fuzz(func(t *testing.T, x, abv, sample, cal float64) {
		sg, err := CorrectReading(SG(x), Celsius(sample), Celsius(cal))
		checkResult(t, "CorrectReading", float64(sg), err)
		sg, err = CorrectReadingWithAlcohol(SG(x), PercentVol(abv), Celsius(sample), Celsius(cal))
		checkResult(t, "CorrectReadingWithAlcohol", float64(sg), err)
		sg, err = ReadingAt20(SG(x), PercentVol(abv), Celsius(sample), Celsius(cal))
		checkResult(t, "ReadingAt20", float64(sg), err)
		sg, err = SGAt20(SG(x), Celsius(cal))
		checkResult(t, "SGAt20", float64(sg), err)
		b, err := CorrectBrixReading(Brix(x), Celsius(sample), Celsius(cal))
		checkResult(t, "CorrectBrixReading", float64(b), err)
	})
}

type correctionRow struct {
	reading, correction float64
	sample, calibration Celsius
	unit                string
}

// correctionRows returns the rows of one of the tables of hydrometer corrections.
func correctionRows(t *testing.T, table string) []correctionRow {
	t.Helper()
	var rows []correctionRow
	for _, row := range readTable(t, "hydrometer-temperature.csv") {
		if row["table"] == table {
			rows = append(rows, correctionRow{
				reading:     number(t, row, "reading"),
				correction:  number(t, row, "correction_to_add"),
				sample:      Celsius(number(t, row, "sample_temp_C")),
				calibration: Celsius(number(t, row, "calibration_temp_C")),
				unit:        row["reading_unit"],
			})
		}
	}
	if rows == nil {
		t.Fatalf("no table %s", table)
	}
	return rows
}

func drawReading(t *rapid.T) SG { return SG(rapid.Float64Range(0.97, 1.2).Draw(t, "reading")) }

func drawCelsius(t *rapid.T, name string, most float64) Celsius {
	return Celsius(rapid.Float64Range(0, most).Draw(t, name))
}
