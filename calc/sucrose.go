package calc

import "math"

// The sucrose scale runs from minBrix to maxBrix. 85 is as far as the polynomial
// was compared with printed tables. Below 0 it stands for the apparent extract of
// a drink lighter than water: −6 is SG 0.977, drier than any drink without spirit,
// and the polynomial is smooth well past it.
const (
	minBrix = -6.0
	maxBrix = 85.0
)

// Bounds of the mass fraction within which the solvers look. They are wider than
// the scale, so that a reading corrected for temperature may end outside it; the
// density still rises all the way.
const (
	minFraction = -0.2
	maxFraction = 1.0
)

// sps4 holds the coefficients of the sucrose polynomial as printed: row k−1 is for
// w^k, and the columns a, b, c, d, e are for T⁰ to T⁴, T = (t − 20)/100. One
// transcription has a4 = −3.9646; that changes nothing above 0.0002 kg/m³.
var sps4 = [6][5]float64{
	{385.1761, -46.2720, 59.7712, -47.2207, 18.3184},
	{135.3705, -7.1720, 7.2491, -21.6977, 12.3081},
	{40.9299, 1.1597, 12.3630, 27.6301},
	{-3.9643, 5.1126, -35.4791},
	{13.4853, 17.5254},
	{-17.2890},
}

// sucroseTerms20 is the density at 20 °C as a polynomial in w: T is zero there, so
// only the water and the first column remain.
var sucroseTerms20 = [7]float64{waterDensity20,
	sps4[0][0], sps4[1][0], sps4[2][0], sps4[3][0], sps4[4][0], sps4[5][0]}

// SucroseDensity returns the density of a solution of b % sucrose by mass at t,
//
//	ρ(w, t) = ρw(t) + Σ a_k·w^k + T·Σ b_k·w^k + T²·Σ c_k·w^k + T³·Σ d_k·w^k + T⁴·Σ e_k·w^k
//
// with w = b/100 and T = (t − 20 °C)/100. ρw is the water of the same source, not
// [WaterDensity].
//
// b from −6 to 85 Brix, t from 0 to 100 °C; otherwise the error wraps
// [ErrOutOfRange] or [ErrNotANumber]. Negative b is no solution but an apparent
// extract.
//
// Source: ICUMSA SPS-4 (Bubnik et al., Sugar Technologists Manual, Bartens 1995,
// p. 164). It agrees with Plato's table within 0.02 Brix up to 40 Brix and lies 0.6
// kg/m³ above it at 85. At 20 Brix and 20 °C, 1080.977 kg/m³.
func SucroseDensity(b Brix, t Celsius) (KilogramPerCubicMetre, error) {
	if err := inRange("extract", float64(b), minBrix, maxBrix, " Brix"); err != nil {
		return 0, err
	}
	if err := inRange("temperature", float64(t), 0, 100, " °C"); err != nil {
		return 0, err
	}
	return KilogramPerCubicMetre(sucroseDensity(float64(b)/100, float64(t))), nil
}

// SGOfBrix returns the specific gravity of a solution of b % sucrose by mass: the
// density of [SucroseDensity] at 20 °C over that of water, both in vacuum.
//
// b from −6 to 85; otherwise the error wraps [ErrOutOfRange] or [ErrNotANumber].
// Source: ICUMSA SPS-4. 10 Brix are 1.039984 and 20 Brix 1.082923.
func SGOfBrix(b Brix) (SG, error) {
	if err := inRange("extract", float64(b), minBrix, maxBrix, " Brix"); err != nil {
		return 0, err
	}
	return SG(sucroseDensity20(float64(b)/100) / waterDensity20), nil
}

// BrixOfSG returns the percentage of sucrose by mass in a solution of gravity g,
// the inverse of [SGOfBrix] to 1e-10 Brix. For anything else it is the apparent
// extract; below 1.000 it is negative.
//
// g from 0.9773 (−6 Brix) to 1.4485 (85 Brix); otherwise the error wraps
// [ErrOutOfRange] or [ErrNotANumber]. Source: ICUMSA SPS-4, solved for w. 1.050
// is 12.397 Brix.
func BrixOfSG(g SG) (Brix, error) {
	w, err := fractionOfSG(g)
	if err != nil {
		return 0, err
	}
	return Brix(100 * w), nil
}

// ExtractOfSG returns the grams of sucrose in a litre, at 20 °C, of a pure solution
// of gravity g: w·ρ(w). Of a drink it is the sucrose equivalent of all that is
// dissolved, once the alcohol is out; below 1.000 it is negative.
//
// g from 0.9773 to 1.4485; otherwise the error wraps [ErrOutOfRange] or
// [ErrNotANumber]. Source: ICUMSA SPS-4. 1.010 holds 25.9 g/L; the extract table
// of the OIV says 25.8.
func ExtractOfSG(g SG) (GramPerLitre, error) {
	w, err := fractionOfSG(g)
	if err != nil {
		return 0, err
	}
	return GramPerLitre(w * sucroseDensity20(w)), nil
}

// SGOfExtract returns the gravity of a pure sucrose solution with c grams in a
// litre at 20 °C, the inverse of [ExtractOfSG].
//
// c from −58.5 (−6 Brix) to 1229 g/L (85 Brix); otherwise the error wraps
// [ErrOutOfRange] or [ErrNotANumber]. Source: ICUMSA SPS-4. 100 g/L read 1.038521.
func SGOfExtract(c GramPerLitre) (SG, error) {
	lo, hi := minBrix/100*sucroseDensity20(minBrix/100), maxBrix/100*sucroseDensity20(maxBrix/100)
	if err := inRange("extract", float64(c), lo, hi, " g/L"); err != nil {
		return 0, err
	}
	return SG(sucroseRelative20(float64(c))), nil
}

// airDensity is what apparent gravities are reckoned with, in kg/m³.
const airDensity = 1.2

// ApparentSG returns the gravity that weighing in air gives for a true gravity g,
//
//	(g·ρw − 1.2) / (ρw − 1.2)
//
// with air of 1.2 kg/m³ and ρw the density of water at 20 °C. Older sugar tables
// print it. No range: NaN gives NaN. 1.08292 true is 1.08302 apparent.
func ApparentSG(g SG) SG {
	return (g*waterDensity20 - airDensity) / (waterDensity20 - airDensity)
}

// TrueSG returns the gravity in vacuum of an apparent gravity in air, the inverse of
// [ApparentSG]. 1.08302 apparent is 1.08292 true.
func TrueSG(apparent SG) SG {
	return (apparent*(waterDensity20-airDensity) + airDensity) / waterDensity20
}

// fractionOfSG returns the mass fraction of sucrose at gravity g, or an error that
// names the gravities of the ends of the scale.
func fractionOfSG(g SG) (float64, error) {
	lo, hi := sucroseDensity20(minBrix/100)/waterDensity20, sucroseDensity20(maxBrix/100)/waterDensity20
	if err := inRange("gravity", float64(g), lo, hi, ""); err != nil {
		return 0, err
	}
	return sucroseFraction(float64(g)*waterDensity20, &sucroseTerms20), nil
}

// sucroseDensity returns the density in kg/m³ of a solution with mass fraction w of
// sucrose at t °C; see [SucroseDensity]. Nothing is checked.
func sucroseDensity(w, t float64) float64 {
	k := sucroseTerms(t)
	return horner(k[:], w)
}

// sucroseDensity20 is sucroseDensity at 20 °C, four times as fast.
func sucroseDensity20(w float64) float64 { return horner(sucroseTerms20[:], w) }

// sucroseTerms returns the density at t °C as a polynomial in w.
func sucroseTerms(t float64) (k [7]float64) {
	k[0] = sps4WaterDensity(t)
	for i := range sps4 {
		k[i+1] = horner(sps4[i][:], (t-20)/100)
	}
	return k
}

// sucroseFraction returns the mass fraction at which the polynomial k of
// [sucroseTerms] gives the density rho: Newton, kept inside a bracket that each
// step narrows and halved when a step would leave it. A density beyond the bounds
// of w gives the nearer bound.
func sucroseFraction(rho float64, k *[7]float64) float64 {
	lo, hi := minFraction, maxFraction
	w := (rho - k[0]) / (k[1] + 0.3*(rho-k[0])) // right to 0.011 up to 60 Brix
	for range 64 {
		v, slope := hornerSlope(k[:], w)
		if v > rho {
			hi = w
		} else {
			lo = w
		}
		next := w - (v-rho)/slope
		if !(lo <= next && next <= hi) {
			next = (lo + hi) / 2
		}
		if math.Abs(next-w) < 1e-14 {
			return next
		}
		w = next
	}
	return w
}

// sucroseFractionFromConcentration20 returns the mass fraction of sucrose when a
// litre at 20 °C holds c grams, which may be a little below zero.
func sucroseFractionFromConcentration20(c float64) float64 {
	guess := c / (waterDensity20 + 0.385*c) // right to 0.014 up to 85 Brix
	return fractionOfConcentration(c, sucroseTerms20[:], guess, minFraction, maxFraction)
}

// sucroseRelative20 returns the gravity 20/20 of a solution with c grams of sucrose
// per litre; exactly 1 for none. Nothing is checked.
func sucroseRelative20(c float64) float64 {
	return sucroseDensity20(sucroseFractionFromConcentration20(c)) / waterDensity20
}
