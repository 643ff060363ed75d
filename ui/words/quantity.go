package words

import (
	"math"
	"strconv"
	"strings"

	"cellar.local/glassrow/calc"
)

// Gravity writes a gravity to the point, as a hydrometer is read: 1.034. None is
// a dash.
func (w Words) Gravity(sg calc.SG) string {
	if sg == 0 {
		return "-"
	}
	return decimals(float64(sg), 3)
}

// FineGravity shows the fourth digit, for corrections and plans.
func (w Words) FineGravity(sg calc.SG) string { return decimals(float64(sg), 4) }

// Strength writes a strength with its uncertainty, if any: 6.5 ±0.2 % vol.
func (w Words) Strength(abv, pm calc.PercentVol) string { return w.Percent(abv, pm) + " % vol" }

// Percent is Strength without the unit, for a column that names it: 6.5 ±0.2.
func (w Words) Percent(abv, pm calc.PercentVol) string {
	if pm <= 0 {
		return decimals(float64(abv), 1)
	}
	return decimals(float64(abv), 1) + " " + w.PlusMinus(pm)
}

// ShortStrength is Strength where every cell counts: 6.5%.
func (w Words) ShortStrength(abv calc.PercentVol) string { return decimals(float64(abv), 1) + "%" }

// Points writes a change of gravity in points, to the tenth: -19.7 points.
func (w Words) Points(p float64) string { return signed(p, 1) + " points" }

// WholePoints is Points for the change between two readings, neither of which is
// better than a point: -20 points.
func (w Words) WholePoints(p float64) string {
	text := signed(p, 0)
	if text == "+1" || text == "-1" {
		return text + " point"
	}
	return text + " points"
}

// PerLitre writes a concentration: 25.0 g/L, whatever the person's units.
func (w Words) PerLitre(c calc.GramPerLitre) string { return decimals(float64(c), 1) + " g/L" }

// PerHundred writes a share by mass as grams in 100 g: 78.1 g, whatever the person's
// units.
func (w Words) PerHundred(share calc.Gram) string { return decimals(100*float64(share), 1) + " g" }

// Volume writes a volume: 4.6 L, 750 mL, 5.02 gal.
func (w Words) Volume(v calc.Litre) string { return w.volume(v, 1) }

// FineVolume shows a second decimal of a litre, for where it decides whether
// something fits.
func (w Words) FineVolume(v calc.Litre) string { return w.volume(v, 2) }

func (w Words) volume(v calc.Litre, digits int) string {
	switch {
	case w.US:
		return decimals(float64(v)/calc.LitresPerUSGallon, 2) + " gal"
	case v < 1:
		return decimals(float64(v)*1000, 0) + " mL"
	}
	return decimals(float64(v), digits) + " L"
}

// Mass writes a mass: 40 mg, 1.5 g, 1430 g, 25.00 kg, 2.00 oz, 12.13 lb.
func (w Words) Mass(m calc.Gram) string {
	g := float64(m)
	size := math.Abs(g)
	switch {
	case g != 0 && size < 1:
		return decimals(g*1000, 0) + " mg"
	case w.US && size >= calc.GramsPerPound:
		return decimals(g/calc.GramsPerPound, 2) + " lb"
	case w.US:
		return decimals(g/calc.GramsPerOunce, 2) + " oz"
	case size >= 10000:
		return decimals(g/1000, 2) + " kg"
	case size < 10:
		return decimals(g, 1) + " g"
	}
	return decimals(g, 0) + " g"
}

// Temperature writes a temperature to the degree: 21 °C, 70 °F.
func (w Words) Temperature(t calc.Celsius) string {
	if w.US {
		return decimals(t.Fahrenheit(), 0) + " " + w.degree() + "F"
	}
	return decimals(float64(t), 0) + " " + w.degree() + "C"
}

// Pressure writes a pressure as gauges show it: 1.70 bar, 24.7 psi.
func (w Words) Pressure(p calc.BarGauge) string {
	if w.US {
		return decimals(p.PSI(), 1) + " psi"
	}
	return decimals(float64(p), 2) + " bar"
}

// Count writes a number of things: 1 vessel, 12 vessels.
func Count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// decimals writes x with n of them. What rounds to nothing loses its minus: nobody
// reads -0.0.
func decimals(x float64, n int) string {
	s := strconv.FormatFloat(x, 'f', n, 64)
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return s
}

// signed is decimals with the sign of a gain written too.
func signed(x float64, n int) string {
	s := decimals(x, n)
	if strings.HasPrefix(s, "-") {
		return s
	}
	return "+" + s
}
