package calc

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Ensure that the units of pressure are the legal ones.
func TestPressureUnits(t *testing.T) {
	t.Run("are those of NIST SP 811", func(t *testing.T) {
		// 1 psi = 6894.757 Pa, printed to seven digits; 1 atm = 101 325 Pa, exact.
		wantNear(t, "BarPerPSI", 1, BarPerPSI, 0.06894757, 0.5e-8)
		wantNear(t, "BarPerPSI", 1, BarPerPSI, 0.0689475729316836, 1e-15)
		wantNear(t, "BarPerAtmosphere", 1, BarPerAtmosphere, 1.01325, 0)
		wantNear(t, "StandardAtmosphere", 1, float64(StandardAtmosphere), 1.01325, 0)
		wantNear(t, "BarPerKilopascal", 1, BarPerKilopascal, 0.01, 0)
		wantNear(t, "StandardAtmosphere in psi", 1, BarGauge(StandardAtmosphere).PSI(), 14.6959, 0.00005)
		wantNear(t, "PSI", 30, float64(PSI(30)), 2.0684, 0.00005)
	})

	t.Run("turn into one another and back", rapid.MakeCheck(func(t *rapid.T) {
		g := BarGauge(rapid.Float64Range(-1, 50).Draw(t, "g"))
		if back := g.Absolute().Gauge(); math.Abs(float64(back-g)) > 1e-14*50 {
			t.Fatalf("%v bar, absolute %v, back %v", g, g.Absolute(), back)
		}
		if back := PSI(g.PSI()); math.Abs(float64(back-g)) > 1e-14*50 {
			t.Fatalf("%v bar, %v psi, back %v", g, g.PSI(), back)
		}
	}))
}
