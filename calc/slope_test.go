package calc

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// readingsAt returns readings of one gravity at the given days.
func readingsAt(sigma SG, days ...float64) []TimedGravity {
	var all []TimedGravity
	for _, d := range days {
		all = append(all, TimedGravity{At: Hour(24 * d), SG: 1.01, Sigma: sigma})
	}
	return all
}

// Ensure that a slope is told with what the readings can bear.
func TestSlopeOf(t *testing.T) {
	t.Run("has the standard errors of the diagnosis notes", func(t *testing.T) {
		// Section 5: σ 0.0015; printed with two digits, so half of the last.
		for _, row := range []struct {
			days        []float64
			want, digit float64
		}{
			{[]float64{0, 1}, 0.0021, 0.00005},
			{[]float64{0, 3, 6}, 0.00035, 0.000005},
			{[]float64{0, 3, 6, 9}, 0.00022, 0.000005},
		} {
			s, err := SlopeOf(readingsAt(0.0015, row.days...)...)
			wantNoError(t, err)
			wantNear(t, "standard error", row.days, float64(s.Error), row.want, row.digit)
			wantNear(t, "slope", row.days, float64(s.PerDay), 0, 1e-15)
		}
	})

	t.Run("finds the line that was drawn", rapid.MakeCheck(func(t *rapid.T) {
		b := rapid.Float64Range(-0.02, 0.02).Draw(t, "slope")
		from := rapid.Float64Range(-100, 5000).Draw(t, "from")
		var all []TimedGravity
		for i := range rapid.IntRange(2, 9).Draw(t, "n") {
			h := from + 5*float64(i) + rapid.Float64Range(0, 4).Draw(t, "h")
			all = append(all, TimedGravity{Hour(h), SG(1.05 + b*h/24/100), SG(rapid.Float64Range(0.0005, 0.01).Draw(t, "sigma"))})
		}
		s, err := SlopeOf(all...)
		if err != nil || math.Abs(float64(s.PerDay)-b/100) > 1e-9 {
			t.Fatalf("slope %v, want %v (%v)", s.PerDay, b/100, err)
		}
	}))

	t.Run("refuses what has no slope", func(t *testing.T) {
		for _, all := range [][]TimedGravity{nil, readingsAt(0, 1), readingsAt(0, 2, 2)} {
			if _, err := SlopeOf(all...); !errors.Is(err, ErrOutOfRange) {
				t.Errorf("SlopeOf(%v): %v", all, err)
			}
		}
		checkRange(t, -1e6, 1e6, 1, func(x float64) error {
			_, err := SlopeOf(TimedGravity{At: Hour(x), SG: 1}, TimedGravity{At: 17, SG: 1})
			return err
		})
		checkRange(t, 0.9, 1.5, 0.01, func(x float64) error {
			_, err := SlopeOf(TimedGravity{SG: SG(x)}, TimedGravity{At: 17, SG: 1})
			return err
		})
		checkRange(t, 0, 0.1, 0.001, func(x float64) error {
			_, err := SlopeOf(TimedGravity{SG: 1, Sigma: SG(x)}, TimedGravity{At: 17, SG: 1})
			return err
		})
	})
}

// Ensure that flat and falling are said only when they are shown.
func TestSlope_Flat(t *testing.T) {
	for name, row := range map[string]struct {
		slope         Slope
		flat, falling bool
	}{
		"three readings over six days that stand":    {Slope{PerDay: 0, Error: 0.00035}, true, false},
		"two readings a day apart show nothing":      {Slope{PerDay: 0, Error: 0.0021}, false, false},
		"four over nine days that creep":             {Slope{PerDay: -0.0005, Error: 0.00022}, false, true},
		"a slow fall within the limit is still flat": {Slope{PerDay: -0.00025, Error: 0.00022}, true, false},
		"a rise is neither":                          {Slope{PerDay: 0.001, Error: 0.0002}, false, false},
	} {
		if row.slope.Flat() != row.flat || row.slope.Falling() != row.falling {
			t.Errorf("%s: flat %v, falling %v, want %v, %v", name, row.slope.Flat(), row.slope.Falling(), row.flat, row.falling)
		}
	}
}

// Ensure that the time told for the next reading is the time that decides.
func TestDecidesAt(t *testing.T) {
	t.Run("keeps its word", rapid.MakeCheck(func(t *rapid.T) {
		all := readingsAt(SG(rapid.Float64Range(0.0005, 0.003).Draw(t, "sigma")), 0, 2, rapid.Float64Range(2, 9).Draw(t, "last"))
		next := SG(rapid.Float64Range(0.0005, 0.003).Draw(t, "next"))
		want := SGPerDay(rapid.Float64Range(0.00005, 0.002).Draw(t, "want"))
		at, err := DecidesAt(all, next, want)
		if err != nil {
			t.Fatal(err)
		}
		s, err := SlopeOf(append(all, TimedGravity{At: at, SG: 1.01, Sigma: next})...)
		if err != nil || s.Error > want*(1+1e-9) {
			t.Fatalf("standard error %v at %v h, want %v (%v)", s.Error, at, want, err)
		}
		if at > all[2].At {
			s, err := SlopeOf(append(all, TimedGravity{At: at - 1, SG: 1.01, Sigma: next})...)
			if err != nil || s.Error <= want {
				t.Fatalf("an hour sooner it is %v already, want more than %v (%v)", s.Error, want, err)
			}
		}
	}))

	t.Run("is five days on from one reading", func(t *testing.T) {
		// σ√2/dt = 0.000426 a day: dt = 4.98 days.
		at, err := DecidesAt(readingsAt(0.0015, 0), 0.0015, FlatError)
		wantNoError(t, err)
		wantNear(t, "days", "", float64(at)/24, 4.98, 0.01)
	})

	t.Run("refuses what cannot be asked", func(t *testing.T) {
		if _, err := DecidesAt(nil, 0.001, 0.001); !errors.Is(err, ErrOutOfRange) {
			t.Errorf("no readings: %v", err)
		}
		checkRange(t, 1e-9, 1, 1e-10, func(x float64) error {
			_, err := DecidesAt(readingsAt(0, 1, 2), 0.001, SGPerDay(x))
			return err
		})
		checkRange(t, 0, 0.1, 0.01, func(x float64) error {
			_, err := DecidesAt(readingsAt(0, 1, 2), SG(x), 0.001)
			return err
		})
		if _, err := DecidesAt([]TimedGravity{{SG: 7}}, 0, 0.001); !errors.Is(err, ErrOutOfRange) {
			t.Errorf("gravity 7: %v", err)
		}
	})
}

// Ensure that the rate expected is the one the simulation then runs at.
func TestUptakeParameters_ExpectedRate(t *testing.T) {
	must, p := uptakeCases()[1].must(t)
	t.Run("is the slope of the curve", func(t *testing.T) {
		rows, err := p.Simulate(must, 95, 96, 97)
		wantNoError(t, err)
		got, err := p.ExpectedRate(rows[1].Uptake)
		wantNoError(t, err)
		// An hour either side; the curve bends by 2 % a day, the volume is taken anew.
		want := float64(rows[2].Figures.SG-rows[0].Figures.SG) / 2 * 24
		wantNear(t, "ExpectedRate", 96, float64(got), want, 0.02*math.Abs(want))
	})

	t.Run("follows warmth", func(t *testing.T) {
		// exp(0.0771·(T − 20)): 0.46 at 10 °C, 1.47 at 25 (diagnosis notes, section 7).
		rate := func(c Celsius) float64 {
			p := p
			p.Temperature = c
			r, err := p.ExpectedRate(p.InFullSwing(must))
			wantNoError(t, err)
			return float64(r)
		}
		wantNear(t, "10 against 20 °C", "", rate(10)/rate(20), 0.46, 0.005)
		wantNear(t, "25 against 20 °C", "", rate(25)/rate(20), 1.47, 0.005)
	})

	t.Run("is a fifth at 80 % of the tolerance", func(t *testing.T) {
		// Diagnosis notes, section 3: speed falls in a straight line to none.
		strong, err := LiquidOf(1, 1.0, 12, GrapeSolids())
		wantNoError(t, err)
		fresh, err := LiquidOf(1, 1.0162, 0, GrapeSolids())
		wantNoError(t, err)
		p.Tolerance = 15
		a, err := p.ExpectedRate(p.InFullSwing(strong))
		wantNoError(t, err)
		b, err := p.ExpectedRate(p.InFullSwing(fresh))
		wantNoError(t, err)
		wantNear(t, "share", "", float64(a/b), 0.2, 0.02)
	})

	t.Run("refuses an empty vessel", func(t *testing.T) {
		if _, err := p.ExpectedRate(Uptake{}); !errors.Is(err, ErrOutOfRange) {
			t.Errorf("empty: %v", err)
		}
	})
}

func FuzzSlope(f *testing.F) {
	for _, x := range awkward {
		f.Add(x, 1.05, 24.0, 1.04, 0.001, 0.001)
		f.Add(0.0, x, x, 1.04, x, x)
	}
	f.Fuzz(func(t *testing.T, h1, g1, h2, g2, sigma, want float64) {
		all := []TimedGravity{{Hour(h1), SG(g1), SG(sigma)}, {Hour(h2), SG(g2), 0}}
		s, err := SlopeOf(all...)
		checkResult(t, "SlopeOf", float64(s.PerDay), err)
		checkResult(t, "SlopeOf", float64(s.Error), err)
		at, err := DecidesAt(all, SG(sigma), SGPerDay(want))
		checkResult(t, "DecidesAt", float64(at), err)
	})
}
