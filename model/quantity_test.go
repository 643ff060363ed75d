package model

import (
	"errors"
	"math"
	"testing"
	"time"

	"cellar.local/glassrow/calc"
)

// quantityCase is a text and the number that it must give; NaN stands for a text
// that must be refused.
type quantityCase map[string]float64

var refused = math.NaN()

// check calls parse on every text. The unit sizes are those of NIST Handbook 44,
// appendix C: gallon 3.785411784 L, pound 453.59237 g, both exact; the imperial
// gallon is 4.54609 L (UK Weights and Measures Act 1985).
func (c quantityCase) check(t *testing.T, parse func(string) (float64, error)) {
	t.Helper()
	for text, want := range c {
		t.Run(text, func(t *testing.T) {
			got, err := parse(text)
			if math.IsNaN(want) {
				if !errors.Is(err, ErrInvalid) || got != 0 {
					t.Errorf("%q gives %v, %v, want 0 and ErrInvalid", text, got, err)
				}
				return
			}
			if err != nil || !(math.Abs(got-want) <= 1e-9*math.Abs(want)) {
				t.Errorf("%q gives %v, %v, want %v", text, got, err, want)
			}
		})
	}
}

// Ensure that a volume is understood in the units of both sides of the ocean.
func TestParseVolume(t *testing.T) {
	quantityCase{
		"19L": 19, "19 l": 19, "4,5L": 4.5, "750mL": 0.75, "75 cl": 0.75, "5dl": 0.5, "2hl": 200,
		"19 litres": 19, "5gal": 18.92705892, "1 US gallon": refused, "1usgal": 3.785411784,
		"1impgal": 4.54609, "4qt": 3.785411784, "8 pints": 3.785411784, "128floz": 3.785411784, "128 fl oz": 3.785411784,
		"16 cups": 3.785411784, "0L": 0, " 19L ": 19,
		"": refused, "19": refused, "L": refused, "-19L": refused, "19kg": refused, "1.2.3L": refused, "nanL": refused,
		"19L of must": refused,
	}.check(t, func(s string) (float64, error) {
		v, err := ParseVolume(s)
		return float64(v), err
	})
}

// Ensure that a mass is understood likewise.
func TestParseMass(t *testing.T) {
	quantityCase{
		"300g": 300, "1.5 kg": 1500, "1,5kg": 1500, "250mg": 0.25, "2lb": 907.18474, "16 oz": 453.59237, "1 pound": 453.59237,
		"": refused, "300": refused, "kg": refused, "-1kg": refused, "3L": refused, "1kg500g": refused,
	}.check(t, func(s string) (float64, error) {
		m, err := ParseMass(s)
		return float64(m), err
	})
}

// Ensure that no number, however long, becomes infinite on its way to SI.
func TestParseMass_TooLong(t *testing.T) {
	digits := "9"
	for len(digits) < 308 {
		digits += "9"
	}
	if m, err := ParseMass(digits + "kg"); !errors.Is(err, ErrInvalid) || m != 0 {
		t.Errorf("ParseMass of 308 digits = %v, %v, want ErrInvalid", m, err)
	}
}

// Ensure that a temperature needs its unit.
func TestParseTemperature(t *testing.T) {
	quantityCase{
		"21C": 21, "21 °c": 21, "70F": 21.0 + 1.0/9, "-2.5c": -2.5, "32 f": 0,
		"": refused, "21": refused, "C": refused, "21K": refused,
	}.check(t, func(s string) (float64, error) {
		c, err := ParseTemperature(s)
		return float64(c), err
	})
}

// Ensure that a pressure is understood as gauges are printed. A psi is 6894.757 Pa
// (NIST Special Publication 811), an atmosphere 101325 Pa by definition.
func TestParsePressure(t *testing.T) {
	quantityCase{
		"1.2bar": 1.2, "1,2 BAR": 1.2, "850mbar": 0.85, "17psi": 17 * 0.06894757293168, "120 kPa": 1.2, "1atm": 1.01325, "0bar": 0,
		"": refused, "1.2": refused, "bar": refused, "-1bar": refused, "1.2bars of gas": refused, "1 vol": refused, "nanbar": refused,
	}.check(t, func(s string) (float64, error) {
		p, err := ParsePressure(s)
		return float64(p), err
	})
}

// Ensure that carbonation is in volumes unless it says otherwise. 1.9635 g/L are a
// volume of CO2 as an ideal gas: 44.0095 g/mol over 22.414 L/mol.
func TestParseCarbonation(t *testing.T) {
	const gramsPerVolume = 44.0095 * 1.01325 / (0.08314462618 * 273.15)
	quantityCase{
		"2.4": 2.4, " 2,4 ": 2.4, "2.4vol": 2.4, "2.4 volumes": 2.4, "4.7 g/L": 4.7 / gramsPerVolume, "0": 0,
		"": refused, "-1": refused, "inf": refused, "nan": refused, "2.4bar": refused, "vol": refused,
	}.check(t, func(s string) (float64, error) {
		v, err := ParseCarbonation(s)
		return float64(v), err
	})
}

// Ensure that Brix is told from gravity and from points. 1.050 is 12.397 Brix
// (ICUMSA SPS-4), to the third digit.
func TestParseBrix(t *testing.T) {
	quantityCase{
		"24Bx": 24, "24 °Brix": 24, "24,5 brix": 24.5, "12P": 12, "0bx": 0, "0.995": 0,
		"": refused, "24": refused, "1050": refused, "bx": refused, "-1bx": refused, "86bx": refused, "24C": refused, "1.9": refused,
	}.check(t, func(s string) (float64, error) {
		b, err := ParseBrix(s)
		return float64(b), err
	})
	if b, err := ParseBrix("1.050"); err != nil || !(math.Abs(float64(b)-12.397) < 0.0015) {
		t.Errorf("ParseBrix(1.050) = %v, %v, want 12.397", b, err)
	}
}

// Ensure that a gravity stands alone. 12.397 Brix is 1.050 and 10 Brix 1.039984
// (ICUMSA SPS-4).
func TestParseGravity(t *testing.T) {
	t.Run("reads every scale", func(t *testing.T) {
		for text, want := range map[string]float64{"1.048": 1.048, "1048": 1.048, "48": 1.048, "12.397Bx": 1.05, "10P": 1.039984, "10 plato": 1.039984, "10 20": 0} {
			got, err := ParseGravity(text)
			if want == 0 {
				if !errors.Is(err, ErrInvalid) {
					t.Errorf("ParseGravity(%q) = %v, %v, want ErrInvalid", text, got, err)
				}
				continue
			}
			if err != nil || !(math.Abs(float64(got)-want) < 5e-6) {
				t.Errorf("ParseGravity(%q) = %.6f, %v, want %.6f", text, float64(got), err, want)
			}
		}
	})
	for _, text := range []string{"", "1.048@20c", "1.048 ph3.4", "1.048 ; note", "ph3.4", "@20c"} {
		t.Run("refuses "+text, func(t *testing.T) {
			if got, err := ParseGravity(text); !errors.Is(err, ErrInvalid) {
				t.Errorf("ParseGravity(%q) = %v, %v, want ErrInvalid", text, got, err)
			}
		})
	}
}

// Ensure that amount and name may come in either order.
func TestParsePortion(t *testing.T) {
	for text, want := range map[string]struct {
		name string
		mass calc.Gram
	}{
		"honey 5.5kg":          {"honey", 5500},
		"5.5kg honey":          {"honey", 5500},
		"5.5 kg honey":         {"honey", 5500},
		"heather honey 5.5 kg": {"heather honey", 5500},
		"  2  lb   honey ":     {"honey", 907.18474},
		"golden syrup 250 g":   {"golden syrup", 250},
	} {
		name, mass, err := ParsePortion(text)
		if err != nil || name != want.name || !(math.Abs(float64(mass-want.mass)) < 1e-9) {
			t.Errorf("ParsePortion(%q) = %q, %v, %v, want %q, %v", text, name, mass, err, want.name, want.mass)
		}
	}
	for _, text := range []string{"", "honey", "5kg", "5 kg", "honey 5", "honey 5 litres", "-1kg honey"} {
		t.Run("refuses "+text, func(t *testing.T) {
			if name, mass, err := ParsePortion(text); !errors.Is(err, ErrInvalid) {
				t.Errorf("ParsePortion(%q) = %q, %v, %v, want ErrInvalid", text, name, mass, err)
			}
		})
	}
}

// Ensure that volume, gravity and strength of a drink are told apart, in any order.
// 10 Brix are 1.039984 (ICUMSA SPS-4).
func TestParseDrink(t *testing.T) {
	for text, want := range map[string][3]float64{
		"10L 1.000 13%":           {10, 1, 13},
		"13% 1.000 10L":           {10, 1, 13},
		"10 L 1.000 13 % vol":     {10, 1, 13},
		"5gal 10Bx 0%":            {18.92705892, 1.039984, 0},
		"750 mL 0,996 12,5%abv":   {0.75, 0.996, 12.5},
		"  2 US gallons  1.0 1% ": {},
		"10L 1.000":               {},
		"10L 13%":                 {},
		"1.000 13%":               {},
		"10L 5L 1.000 13%":        {},
		"10L 1.000 13% 12%":       {},
		"10kg 1.000 13%":          {},
		"10L 9.000 13%":           {},
		"10L 1.000 -13%":          {},
		"10L 1.000 130%":          {},
		"10L 1.000 nan%":          {},
		"10L 1.000 %":             {},
		"":                        {},
		"L":                       {},
	} {
		v, sg, abv, err := ParseDrink(text)
		got := [3]float64{float64(v), float64(sg), float64(abv)}
		if want == [3]float64{} && !errors.Is(err, ErrInvalid) || want[0] != 0 && err != nil {
			t.Errorf("ParseDrink(%q) = %v, %v", text, got, err)
		}
		for i := range want {
			if !(math.Abs(got[i]-want[i]) < 1e-6) {
				t.Errorf("ParseDrink(%q) = %v, want %v", text, got, want)
			}
		}
	}
}

// Ensure that a step of heating is understood in either order.
func TestParseHeatStep(t *testing.T) {
	for text, want := range map[string]struct {
		celsius float64
		held    time.Duration
	}{
		"65C 10min":     {65, 10 * time.Minute},
		"10min 65C":     {65, 10 * time.Minute},
		"65 °C 10 min":  {65, 10 * time.Minute},
		"149F 90s":      {65, 90 * time.Second},
		"60c 0,5h":      {60, 30 * time.Minute},
		"60C 0min":      {60, 0},
		"65C":           {},
		"10min":         {},
		"65 10":         {},
		"65C 10":        {},
		"65C -10min":    {},
		"65C 10min 20s": {},
		"65C 60C":       {},
		"65C 8d":        {},
		"65C 200h":      {},
		"65C 1e9h":      {},
		"":              {},
	} {
		c, held, err := ParseHeatStep(text)
		if want.celsius == 0 && !errors.Is(err, ErrInvalid) || want.celsius != 0 && err != nil {
			t.Errorf("ParseHeatStep(%q) = %v, %v, %v", text, c, held, err)
		}
		if !(math.Abs(float64(c)-want.celsius) < 1e-9) || held != want.held {
			t.Errorf("ParseHeatStep(%q) = %v, %v, want %v, %v", text, c, held, want.celsius, want.held)
		}
	}
}

// Ensure that whatever is typed gives a finite number that is not negative, or
// an error that says it is about what was typed.
func FuzzQuantities(f *testing.F) {
	for _, s := range []string{"19L", "5.5 kg", "honey 5.5kg", "70F", "12Bx", "17psi", "2.4", "4.7g/L", "10L 1.000 13%", "65C 10min", "1 l 1 % vol 12bx", "1,048", "-1kg", "1e9kg", "°c", "\xff5g"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		check := func(what string, x float64, lowest float64, err error) {
			switch {
			case err != nil && !errors.Is(err, ErrInvalid):
				t.Errorf("%s %q: %v does not wrap ErrInvalid", what, text, err)
			case err == nil && (math.IsNaN(x) || math.IsInf(x, 0) || x < lowest):
				t.Errorf("%s %q = %v", what, text, x)
			}
		}
		v, err := ParseVolume(text)
		check("volume", float64(v), 0, err)
		m, err := ParseMass(text)
		check("mass", float64(m), 0, err)
		c, err := ParseTemperature(text)
		check("temperature", float64(c), -math.MaxFloat64, err)
		g, err := ParseGravity(text)
		check("gravity", float64(g), minGravity, err)
		p, err := ParsePressure(text)
		check("pressure", float64(p), 0, err)
		co2, err := ParseCarbonation(text)
		check("carbonation", float64(co2), 0, err)
		b, err := ParseBrix(text)
		check("Brix", float64(b), 0, err)
		v, g, abv, err := ParseDrink(text)
		check("drink", min(float64(v), float64(abv)), 0, err)
		if err == nil {
			check("drink", float64(g), minGravity, err)
		}
		c, held, err := ParseHeatStep(text)
		check("heat step", float64(c), -math.MaxFloat64, err)
		check("heat step", held.Minutes(), 0, err)
		_, m, err = ParsePortion(text)
		check("portion", float64(m), 0, err)
	})
}
