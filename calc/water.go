package calc

// The water of the sucrose polynomial, numerator and denominator of
//
//	ρ(t) = (w0 + w1·t + w2·t² + w3·t³ + w4·t⁴ + w5·t⁵) / (1 + w6·t)
//
// as printed with ICUMSA SPS-4. It is Kell's form refitted; do not mix its
// coefficients with Kell's own, of which some reprints have two digits swapped.
const (
	sps4Water0 = 999.83952
	sps4Water1 = 16.952577
	sps4Water2 = -7.9905127e-3
	sps4Water3 = -46.241757e-6
	sps4Water4 = 105.84601e-9
	sps4Water5 = -281.03006e-12
	sps4Water6 = 16.887236e-3
)

// waterDensity20 is the density of water at 20 °C in kg/m³ that goes with the
// sucrose polynomial, 998.20312, and so the unit of SG 20/20 in this package.
// Being a constant expression it is computed exactly.
const waterDensity20 = (sps4Water0 + 20*(sps4Water1+20*(sps4Water2+20*(sps4Water3+20*(sps4Water4+20*sps4Water5))))) /
	(1 + 20*sps4Water6)

// WaterDensity returns the density of pure air-free water at 101.325 kPa,
//
//	ρ(t) = a5·(1 − (t + a1)²·(t + a2) / (a3·(t + a4)))
//
// with t in °C (ITS-90), for 0 to 40 °C. Outside that the error wraps
// [ErrOutOfRange]; for NaN and the infinities it wraps [ErrNotANumber].
//
// It is the best water there is, within 0.0009 kg/m³. A gravity is a ratio,
// though, and stays right only if both densities come from one formula, so
// [SGOfBrix] divides by the water of its own polynomial, 0.004 lower at 20 °C.
//
// Source: Tanaka et al., Metrologia 38 (2001) 301, table 1. At 20 °C, 998.2067
// kg/m³.
func WaterDensity(t Celsius) (KilogramPerCubicMetre, error) {
	if err := inRange("water temperature", float64(t), 0, 40, " °C"); err != nil {
		return 0, err
	}
	const a1, a2, a3, a4, a5 = -3.983035, 301.797, 522528.9, 69.34881, 999.974950
	x := float64(t)
	return KilogramPerCubicMetre(a5 * (1 - (x+a1)*(x+a1)*(x+a2)/(a3*(x+a4)))), nil
}

// sps4WaterDensity returns the density of water in kg/m³ at t °C that belongs to
// the sucrose polynomial; 0 to 100 °C, not checked. At 60 °C, 983.1908.
func sps4WaterDensity(t float64) float64 {
	return (sps4Water0 + t*(sps4Water1+t*(sps4Water2+t*(sps4Water3+t*(sps4Water4+t*sps4Water5))))) /
		(1 + t*sps4Water6)
}

// horner returns k[0] + k[1]·x + k[2]·x² + …
func horner(k []float64, x float64) float64 {
	v := 0.0
	for i := len(k) - 1; i >= 0; i-- {
		v = v*x + k[i]
	}
	return v
}

// hornerSlope returns the same sum as horner and its derivative in x.
func hornerSlope(k []float64, x float64) (v, slope float64) {
	for i := len(k) - 1; i >= 0; i-- {
		slope = slope*x + v
		v = v*x + k[i]
	}
	return v, slope
}

// fractionOfConcentration returns the mass fraction x for which x·ρ(x) = c, where
// the density ρ is the polynomial k and c is in kg/m³. x·ρ(x) rises throughout
// lo..hi for sucrose and for ethanol, so there is one root; a c without one gives
// the nearer end. Newton's error goes as the square of its last step, so a step
// below 1e-8 leaves less than the rounding.
func fractionOfConcentration(c float64, k []float64, guess, lo, hi float64) float64 {
	x := guess
	for range 10 {
		rho, slope := hornerSlope(k, x)
		step := (x*rho - c) / (rho + x*slope)
		x = min(max(x-step, lo), hi)
		if -1e-8 < step && step < 1e-8 {
			break
		}
	}
	return x
}
