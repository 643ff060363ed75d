package calc

import (
	"fmt"
	"math"
)

// RefractiveIndex is the refractive index in air at 20 °C for the yellow sodium
// line, 589.3 nm.
type RefractiveIndex float64

// sucroseIndexTerms is the refractive index of sucrose solutions as a polynomial in
// the mass fraction w. ICUMSA's own formula was not to be had, only its table of
// 1974; this is a fit to that table, within 0.0000055 of it from 0 to 85 Brix, its
// last printed digit. A published inverse of degree five is not used: with the
// digits it is printed with it reads 0.013 to 0.026 Brix low everywhere.
var sucroseIndexTerms = [6]float64{1.3329873, 0.14271321, 0.055243019, 0.010091091, 0.016256893, -0.011068961}

// ethanolRefraction is the specific refraction of ethanol in water, R_e, in cm³/g.
// The CRC Handbook's table gives 0.27747 to 0.27790 for 5 to 25 % by mass; this
// brings back its indices within 0.00011 up to there, 0.08 Brix. Beyond, the
// mixture refracts up to 0.001 more, at 50 %.
const ethanolRefraction = 0.27766

// SucroseIndex returns the refractive index of a solution of b % sucrose by mass,
//
//	n(w) = Σ a_k·w^k,  w = b/100
//
// b from 0 to 85 Brix; otherwise the error wraps [ErrOutOfRange] or
// [ErrNotANumber].
//
// Source: fitted to the table of ICUMSA 1974, of which OIV Oeno 21/2004 reprints 10
// to 30 Brix; the CRC Handbook's own table agrees within 0.00006 up to 60 Brix. At
// 20 Brix, 1.36384.
func SucroseIndex(b Brix) (RefractiveIndex, error) {
	if err := inRange("extract", float64(b), 0, maxBrix, " Brix"); err != nil {
		return 0, err
	}
	return RefractiveIndex(sucroseIndex(float64(b) / 100)), nil
}

// BrixOfIndex returns what a Brix refractometer at 20 °C shows for refractive index
// n, the inverse of [SucroseIndex] to 1e-10 Brix.
//
// n from 1.3329873 (water) to 1.50398 (85 Brix); otherwise the error wraps
// [ErrOutOfRange] or [ErrNotANumber]. 1.34782 is 10.00 Brix.
func BrixOfIndex(n RefractiveIndex) (Brix, error) {
	if err := inRange("refractive index", float64(n), sucroseIndex(0), sucroseIndex(maxBrix/100), ""); err != nil {
		return 0, err
	}
	return Brix(100 * sucroseFractionOfIndex(float64(n))), nil
}

// RefractometerBrix returns what a Brix refractometer at 20 °C shows for the liquid,
// alcohol and all. Each part adds its specific refraction (Lorentz and Lorenz),
//
//	(n² − 1)/(n² + 2) = ρ·(r(w) + p·(R_e − R_w))
//
// with w and p the mass fractions of extract and ethanol, ρ the density of
// [Liquid.Volume] in g/cm³, r(w) what a sucrose solution of w refracts by
// [SucroseIndex], and R_w = r(0) = 0.20606 that of water, R_e = 0.27766 of ethanol.
//
// Without alcohol it is exactly the sucrose scale, on which all extract is taken for
// sucrose; by the CRC Handbook's tables glucose and fructose read up to 2 % of
// themselves lower and maltose 2 % higher. That, with salts and acids, is what
// [CalibrateRefractometer] takes out.
//
// A liquid that reads more than 85 Brix, and the empty liquid, give an error that
// wraps [ErrOutOfRange]. Source: additivity by mass as in Plugatar et al., Beverages
// 9(2) (2023) 31; the constants are fitted here to the tables of ICUMSA and CRC. 100
// g with 6.528 g of ethanol and 7.903 g of extract show 10.59 Brix.
func (l Liquid) RefractometerBrix() (Brix, error) {
	v, err := l.Volume()
	if err != nil {
		return 0, err
	}
	if v == 0 {
		return 0, fmt.Errorf("refraction of an empty vessel: %w", ErrOutOfRange)
	}
	mass := float64(l.Mass())
	r := sucroseRefraction(float64(l.Extract())/mass) +
		l.grams[Ethanol]/mass*(ethanolRefraction-sucroseRefraction(0))
	b := 100 * sucroseFractionOfIndex(indexOfRefraction(mass/float64(v)/1000*r))
	const rounding = 1e-9
	if err := inRange("refractometer reading", b, -rounding, maxBrix+rounding, " Brix"); err != nil {
		return 0, err
	}
	return Brix(b), nil
}

func sucroseIndex(w float64) float64 { return horner(sucroseIndexTerms[:], w) }

// sucroseFractionOfIndex is the inverse of sucroseIndex, by Newton: the slope
// changes by less than a fifth from one end of the scale to the next 30 Brix.
func sucroseFractionOfIndex(n float64) float64 {
	w := (n - sucroseIndexTerms[0]) / sucroseIndexTerms[1]
	for range 20 {
		v, slope := hornerSlope(sucroseIndexTerms[:], w)
		step := (v - n) / slope
		w -= step
		if math.Abs(step) < 1e-14 {
			break
		}
	}
	return w
}

// sucroseRefraction returns the specific refraction in cm³/g of a solution with mass
// fraction w of sucrose at 20 °C.
func sucroseRefraction(w float64) float64 {
	n := sucroseIndex(w)
	return (n*n - 1) / (n*n + 2) / (sucroseDensity20(w) / 1000)
}

// indexOfRefraction returns n with (n² − 1)/(n² + 2) = y.
func indexOfRefraction(y float64) float64 { return math.Sqrt((1 + 2*y) / (1 - y)) }
