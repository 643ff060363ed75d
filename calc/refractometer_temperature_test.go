package calc

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Ensure that the table is the published one, and its filled places what they claim.
func TestCorrectRefractometer(t *testing.T) {
	correction := func(t *testing.T, b, c float64) float64 {
		t.Helper()
		got, err := CorrectRefractometer(Brix(b), Celsius(c))
		wantNoError(t, err)
		return float64(got) - b
	}

	t.Run("is the table of OIV-MA-AS2-02", func(t *testing.T) {
		// Every row exactly, but the one that looks like a misprint.
		for _, row := range readTable(t, "refractometer-temperature.csv") {
			c, b := number(t, row, "sample_temp_C"), number(t, row, "reading_brix")
			want, tolerance := number(t, row, "correction_to_add_brix"), 1e-9
			if c == 6 && b == 10 {
				want = -0.78 // printed −0.80
			}
			wantNear(t, "correction", [2]float64{b, c}, correction(t, b, c), want, tolerance)
		}
	})

	t.Run("has the places filled that could not be read", func(t *testing.T) {
		for _, row := range []struct{ b, c, want float64 }{{20, 13, -0.47}, {15, 16, -0.27}, {75, 17, -0.23}} {
			wantNear(t, "correction", [2]float64{row.b, row.c}, correction(t, row.b, row.c), row.want, 1e-9)
		}
	})

	t.Run("begins with what warmth does to water", func(t *testing.T) {
		// IAPWS R9-97, the release on the refractive index of water, at 589.3 nm;
		// rounded to 0.01 Brix, and the air of the release (1.000272) left out of the
		// difference. Printed to 0.01.
		slope := sucroseIndexTerms[1] / 100 * 1.000272
		for c := 5.0; c <= 30; c++ {
			wantNear(t, "correction", [2]float64{0, c}, correction(t, 0, c), (indexOfWater(20)-indexOfWater(c))/slope, 0.0051)
		}
		for c, want := range map[float64]float64{ // and exactly, to pin the column
			5: -0.64, 6: -0.62, 7: -0.59, 8: -0.57, 9: -0.53, 10: -0.50, 11: -0.46, 12: -0.42, 13: -0.38, 14: -0.33,
			15: -0.28, 16: -0.23, 17: -0.18, 18: -0.12, 19: -0.06, 20: 0, 21: 0.06, 22: 0.13, 23: 0.20, 24: 0.27,
			25: 0.34, 26: 0.42, 27: 0.50, 28: 0.58, 29: 0.66, 30: 0.74,
		} {
			wantNear(t, "correction", [2]float64{0, c}, correction(t, 0, c), want, 1e-9)
		}
	})

	t.Run("agrees with the index of water it starts from", func(t *testing.T) {
		// CRC Handbook: 1.33369 at 10, 1.33299 at 20, 1.33194 at 30 °C; 0.00001 is
		// half of what the release and the handbook differ by.
		for c, want := range map[float64]float64{10: 1.33369, 20: 1.33299, 30: 1.33194} {
			wantNear(t, "indexOfWater", c, indexOfWater(c)/1.000272, want, 0.00002)
		}
	})

	t.Run("is linear between the lines of the table", func(t *testing.T) {
		for _, row := range []struct{ b, c, want float64 }{
			{12.5, 25, 0.365}, {10, 25.5, 0.40}, {5, 30, 0.755}, {12.5, 25.5, 0.405}, {32.5, 15, -0.365}, {10, 29.75, 0.7475}, {67.5, 12, -0.605},
		} {
			wantNear(t, "correction", [2]float64{row.b, row.c}, correction(t, row.b, row.c), row.want, 1e-9)
		}
	})

	t.Run("holds the last column beyond it when warm", func(t *testing.T) {
		for c := 18.0; c <= 30; c++ {
			wantNear(t, "correction", [2]float64{70, c}, correction(t, 70, c), correction(t, 30, c), 1e-9)
		}
		// Below 18 °C the table tells what that leaves out: 0.06 at most.
		for c := 10.0; c <= 17; c++ {
			for b := 35.0; b <= 75; b += 5 {
				wantNear(t, "correction", [2]float64{b, c}, correction(t, b, c), correction(t, 30, c), 0.0601)
			}
		}
	})

	t.Run("is not the table of hydrometers", func(t *testing.T) {
		h, err := CorrectBrixReading(10, 30, 20)
		wantNoError(t, err)
		wantNear(t, "refractometer", 30, correction(t, 10, 30), 0.77, 1e-9)
		wantNear(t, "hydrometer", 30, float64(h)-10, 0.66, 0.0051)
	})

	t.Run("rises with warmth and with the reading", rapid.MakeCheck(func(t *rapid.T) {
		b := rapid.Float64Range(0, 29.9).Draw(t, "b")
		c := rapid.Float64Range(5, 29).Draw(t, "t")
		at, err1 := CorrectRefractometer(Brix(b), Celsius(c))
		warmer, err2 := CorrectRefractometer(Brix(b), Celsius(c+1))
		more, err3 := CorrectRefractometer(Brix(b+0.1), Celsius(c))
		if err1 != nil || err2 != nil || err3 != nil || !(warmer > at) || !(more > at) {
			t.Fatalf("%v at %v °C: %v, a degree more %v, 0.1 Brix more %v", b, c, at, warmer, more)
		}
	}))

	t.Run("adds nothing at 20 °C", rapid.MakeCheck(func(t *rapid.T) {
		b := Brix(rapid.Float64Range(0, 75).Draw(t, "b"))
		if got, err := CorrectRefractometer(b, 20); err != nil || got != b {
			t.Fatalf("CorrectRefractometer(%v, 20) = %v, %v", b, got, err)
		}
	}))

	t.Run("refuses what the table has not", func(t *testing.T) {
		for _, row := range []struct{ c, most float64 }{{5, 30}, {9.99, 30}, {10, 75}, {20, 75}, {30, 75}} {
			checkRange(t, 0, row.most, 0.01, func(x float64) error {
				_, err := CorrectRefractometer(Brix(x), Celsius(row.c))
				return err
			})
		}
		checkRange(t, 5, 30, 0.001, func(x float64) error {
			_, err := CorrectRefractometer(12, Celsius(x))
			return err
		})
	})
}

// indexOfWater returns the refractive index of water against vacuum at c °C and one
// atmosphere, 589.3 nm, by IAPWS R9-97 (coefficients from memory; checked above).
func indexOfWater(c float64) float64 {
	rho := sps4WaterDensity(c) / 1000
	temp, lambda2 := (c+273.15)/273.15, (0.5893/0.589)*(0.5893/0.589)
	y := rho * (0.244257733 + 9.74634476e-3*rho - 3.73234996e-3*temp + 2.68678472e-4*lambda2*temp +
		1.58920570e-3/lambda2 + 2.45934259e-3/(lambda2-0.2292020*0.2292020) +
		0.900704920/(lambda2-5.432937*5.432937) - 1.66626219e-2*rho*rho)
	return math.Sqrt((1 + 2*y) / (1 - y))
}

func FuzzCorrectRefractometer(f *testing.F) {
	for _, x := range awkward {
		f.Add(x, 20.0)
		f.Add(10.0, x)
	}
	f.Fuzz(func(t *testing.T, x, c float64) {
		b, err := CorrectRefractometer(Brix(x), Celsius(c))
		checkResult(t, "CorrectRefractometer", float64(b), err)
	})
}

func BenchmarkCorrectRefractometer(b *testing.B) {
	b.ReportAllocs()
	x := 0.0
	for b.Loop() {
		x = nextUpTo(x, 0.1, 30)
		got, err := CorrectRefractometer(Brix(x), 23.4)
		if err != nil {
			b.Fatal(err)
		}
		sink = float64(got)
	}
}
