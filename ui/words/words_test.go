package words

import (
	"math"
	"testing"

	"cellar.local/glassrow/calc"
)

// how the same person reads in three places.
var (
	metric  = Words{}
	console = Words{Signs: FewSigns}
	serial  = Words{US: true, Signs: ASCII}
)

// Ensure that quantities are written in the person's units and with the signs that
// the terminal has.
func TestWords_Quantities(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{metric.Gravity(1.0343), "1.034"},
		{metric.Gravity(0), "-"},
		{metric.FineGravity(1.0343), "1.0343"},

		{metric.Strength(12.44, 0.26), "12.4 ±0.3 % vol"},
		{console.Strength(12.44, 0.26), "12.4 +-0.3 % vol"},
		{serial.Strength(12.44, 0.26), "12.4 +-0.3 % vol"},
		{metric.Strength(12.44, 0), "12.4 % vol"},
		{metric.Strength(12.44, -1), "12.4 % vol"},
		{metric.Strength(-0.01, 0), "0.0 % vol"},
		{metric.Percent(12.44, 0.26), "12.4 ±0.3"},
		{metric.ShortStrength(12.44), "12.4%"},
		{metric.PlusMinus(0.26), "±0.3"},

		{metric.Points(-19.72), "-19.7 points"},
		{metric.Points(0.5), "+0.5 points"},
		{metric.Points(-0.04), "+0.0 points"},
		{metric.WholePoints(-19.72), "-20 points"},
		{metric.WholePoints(-0.3), "+0 points"},
		{metric.WholePoints(10), "+10 points"},
		{metric.WholePoints(-1.2), "-1 point"},

		{metric.PerLitre(25), "25.0 g/L"},
		{serial.PerLitre(25), "25.0 g/L"},

		{metric.Volume(19), "19.0 L"},
		{metric.FineVolume(19), "19.00 L"},
		{metric.Volume(0.75), "750 mL"},
		{metric.FineVolume(0.75), "750 mL"},
		{serial.Volume(calc.LitresPerUSGallon), "1.00 gal"},
		{serial.FineVolume(calc.LitresPerUSGallon), "1.00 gal"},

		{metric.Mass(0), "0.0 g"},
		{metric.Mass(0.04), "40 mg"},
		{metric.Mass(-0.04), "-40 mg"},
		{metric.Mass(1.5), "1.5 g"},
		{metric.Mass(10), "10 g"},
		{metric.Mass(5500), "5500 g"},
		{metric.Mass(25000), "25.00 kg"},
		{serial.Mass(0.04), "40 mg"},
		{serial.Mass(calc.GramsPerPound * 2), "2.00 lb"},
		{serial.Mass(calc.GramsPerOunce * 2), "2.00 oz"},

		{metric.Pressure(1.2), "1.20 bar"},
		{Words{US: true}.Pressure(1.2), "17.4 psi"},
		{metric.Temperature(21.4), "21 °C"},
		{metric.Temperature(-0.2), "0 °C"},
		{console.Temperature(21.4), "21 °C"},
		{serial.Temperature(21), "70 F"},
		{Words{US: true}.Temperature(21), "70 °F"},

		{metric.Arrow() + console.Arrow() + serial.Arrow(), "→->->"},

		{Count(0, "entry", "entries"), "0 entries"},
		{Count(1, "entry", "entries"), "1 entry"},
		{Count(2, "entry", "entries"), "2 entries"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

// Ensure that a figure that went astray is still written, and looks it.
func TestWords_NotANumber(t *testing.T) {
	nan := math.NaN()
	for _, got := range []string{
		metric.Gravity(calc.SG(nan)), metric.Strength(calc.PercentVol(nan), calc.PercentVol(nan)), metric.Volume(calc.Litre(nan)),
		serial.Mass(calc.Gram(nan)), serial.Temperature(calc.Celsius(nan)), metric.Points(nan),
	} {
		if len(got) < 3 || len(got) > 20 {
			t.Errorf("NaN is written as %q", got)
		}
	}
}
