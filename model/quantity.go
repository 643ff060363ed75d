package model

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"cellar.local/glassrow/calc"
)

// unit is a name people write after a number and what one of it is in SI.
type unit struct {
	names []string
	size  float64
}

var volumeUnits = []unit{
	{[]string{"l", "lt", "ltr", "litre", "litres", "liter", "liters"}, 1},
	{[]string{"ml", "millilitre", "milliliter"}, 0.001},
	{[]string{"cl"}, 0.01},
	{[]string{"dl"}, 0.1},
	{[]string{"hl"}, 100},
	{[]string{"gal", "gallon", "gallons", "usgal"}, calc.LitresPerUSGallon},
	{[]string{"impgal", "ukgal"}, calc.LitresPerImpGallon},
	{[]string{"qt", "quart", "quarts"}, calc.LitresPerUSQuart},
	{[]string{"pt", "pint", "pints"}, calc.LitresPerUSQuart / 2},
	{[]string{"floz", "fl oz"}, calc.LitresPerUSFluidOz},
	{[]string{"cup", "cups"}, calc.LitresPerUSCup},
}

var massUnits = []unit{
	{[]string{"g", "gram", "grams"}, 1},
	{[]string{"kg", "kilo", "kilos"}, 1000},
	{[]string{"mg"}, 0.001},
	{[]string{"lb", "lbs", "pound", "pounds"}, calc.GramsPerPound},
	{[]string{"oz", "ounce", "ounces"}, calc.GramsPerOunce},
}

var pressureUnits = []unit{
	{[]string{"bar", "bars"}, 1},
	{[]string{"mbar"}, 0.001},
	{[]string{"psi", "psig", "lb/in2"}, calc.BarPerPSI},
	{[]string{"kpa"}, calc.BarPerKilopascal},
	{[]string{"atm"}, calc.BarPerAtmosphere},
}

var carbonationUnits = []unit{
	{[]string{"vol", "vols", "volume", "volumes"}, 1},
	{[]string{"g/l"}, float64(calc.CO2Volumes(1))},
}

// ParseVolume understands 19L, 750 mL, 5gal, 2 qt. A number without a unit is
// an error, whatever the cellar is shown in: gallons and litres are too easily confused,
// bottles and draws are told in millilitres beside them, and a line of a script has to
// mean the same in every cellar. The error says how the number could be meant.
func ParseVolume(text string) (calc.Litre, error) {
	x, err := parseQuantity(text, "volume", volumeExample(text), volumeUnits)
	return calc.Litre(x), err
}

// volumeExample is how a bare number could be meant, or else how volumes are written.
func volumeExample(text string) string {
	text = strings.TrimSpace(text)
	switch x, unit, err := splitUnit(text); {
	case err != nil || unit != "" || x <= 0 || len(text) > 8:
		return "19L or 5gal"
	case x >= 100:
		return text + "mL or " + text + "L"
	}
	return text + "L or " + text + "gal"
}

// ParseMass understands 300g, 1.5 kg, 2lb, 3oz. A number without a unit is an
// error.
func ParseMass(text string) (calc.Gram, error) {
	x, err := parseQuantity(text, "mass", "300g or 2lb", massUnits)
	return calc.Gram(x), err
}

// ParsePressure understands what a gauge shows: 1.2bar, 17 psi, 120kPa. A number
// without a unit is an error.
func ParsePressure(text string) (calc.BarGauge, error) {
	x, err := parseQuantity(text, "pressure", "1.2bar or 17psi", pressureUnits)
	return calc.BarGauge(x), err
}

// ParseCarbonation understands carbon dioxide in a drink: 2.4 and 2.4 vol are
// volumes, 4.7 g/L is the mass.
func ParseCarbonation(text string) (calc.VolumesCO2, error) {
	if x, err := strconv.ParseFloat(strings.ReplaceAll(strings.TrimSpace(text), ",", "."), 64); err == nil && x >= 0 && !math.IsInf(x, 0) {
		return calc.VolumesCO2(x), nil
	}
	x, err := parseQuantity(text, "carbonation", "2.4 for volumes, or 4.7g/L", carbonationUnits)
	return calc.VolumesCO2(x), err
}

func parseQuantity(text, what, example string, units []unit) (float64, error) {
	x, name, err := splitUnit(strings.ToLower(strings.TrimSpace(text)))
	if err != nil {
		return 0, fmt.Errorf("%s %q is not understood; write %s: %w", what, text, example, ErrInvalid)
	}
	if x < 0 {
		return 0, fmt.Errorf("%s %q is negative: %w", what, text, ErrInvalid)
	}
	name = strings.TrimSpace(name)
	if name == "" {
		return 0, fmt.Errorf("%s %q has no unit; write %s: %w", what, text, example, ErrInvalid)
	}
	for _, u := range units {
		for _, n := range u.names {
			if n == name {
				return finite(x*u.size, what, text)
			}
		}
	}
	return 0, fmt.Errorf("unit %q of %s %q is not known; write %s: %w", name, what, text, example, ErrInvalid)
}

// finite refuses what a number with hundreds of digits becomes in another unit.
func finite(x float64, what, text string) (float64, error) {
	if math.IsInf(x, 0) {
		return 0, fmt.Errorf("%s %.12q... is too large: %w", what, text, ErrInvalid)
	}
	return x, nil
}

// ParseTemperature understands 21C, 70F, 21 °C.
func ParseTemperature(text string) (calc.Celsius, error) {
	x, name, err := splitUnit(strings.ToLower(strings.ReplaceAll(strings.TrimSpace(text), "°", "")))
	switch name = strings.TrimSpace(name); {
	case err == nil && name == "c":
		return calc.Celsius(x), nil
	case err == nil && name == "f":
		return calc.Fahrenheit(x), nil
	}
	return 0, fmt.Errorf("temperature %q is not understood; write 21C or 70F: %w", text, ErrInvalid)
}

// ParseBrix understands what a refractometer shows, 24Bx or 24 Brix or 24P, and
// turns a gravity written in full, 1.101, into Brix. A bare 24 is an error: it
// could be points.
func ParseBrix(text string) (calc.Brix, error) {
	x, name, err := splitUnit(strings.ToLower(strings.ReplaceAll(strings.TrimSpace(text), "°", "")))
	switch name = strings.TrimSpace(name); {
	case err != nil:
	case name == "bx" || name == "brix" || name == "p" || name == "plato":
		if x < 0 || x > maxBrix {
			return 0, fmt.Errorf("%q is outside 0 to %d Brix: %w", text, maxBrix, ErrInvalid)
		}
		return calc.Brix(x), nil
	case name == "" && 0.9 < x && x < 2:
		sg, err := ParseGravity(text)
		if err != nil {
			return 0, err
		}
		b, err := calc.BrixOfSG(sg)
		return max(0, b), err
	}
	return 0, fmt.Errorf("%q is not understood; write 24Bx or, for a gravity, 1.101: %w", text, ErrInvalid)
}

// maxBrix is as far as there is a table of sugar in water.
const maxBrix = 85

// ParseGravity understands a gravity alone, as in [ParseReading].
func ParseGravity(text string) (calc.SG, error) {
	r, err := ParseReading(text, DefaultCalibration)
	if err != nil {
		return 0, err
	}
	if !r.HasGravity() || r.HasTemperature || r.PH != 0 || r.Note != "" {
		return 0, fmt.Errorf("gravity %q is not understood; write 1.048, 12Bx or 12P: %w", text, ErrInvalid)
	}
	return r.Gravity, nil
}

// ParsePortion understands an amount and a name in either order: honey 5.5kg,
// 5.5 kg honey; of water a volume too, water 2L. It returns the name as typed.
func ParsePortion(text string) (name string, mass calc.Gram, err error) {
	words := strings.Fields(text)
	for _, n := range []int{1, 2} { // the amount is one word, 5.5kg, or two, 5.5 kg
		if len(words) <= n {
			break
		}
		cut := len(words) - n
		if mass, err = ParseMass(strings.Join(words[cut:], "")); err == nil {
			return strings.Join(words[:cut], " "), mass, nil
		}
		if mass, err = ParseMass(strings.Join(words[:n], "")); err == nil {
			return strings.Join(words[n:], " "), mass, nil
		}
		for _, half := range [][2][]string{{words[:cut], words[cut:]}, {words[n:], words[:n]}} {
			if name = strings.Join(half[0], " "); isWater(name) {
				if mass, err = ParseWater(strings.Join(half[1], "")); err == nil {
					return name, mass, nil
				}
			}
		}
	}
	return "", 0, fmt.Errorf("%q is not understood; write a name and an amount, as in honey 5.5kg: %w", text, ErrInvalid)
}

// ParseDrink understands a drink of which only this is known, as one part of a blend:
// 10L 1.000 13%, in any order.
func ParseDrink(text string) (v calc.Litre, sg calc.SG, abv calc.PercentVol, err error) {
	var have [3]bool // volume, gravity, strength
	for _, word := range unitsJoined(text) {
		var which int
		if number, ok := strings.CutSuffix(strings.TrimSuffix(strings.TrimSuffix(word, "vol"), "abv"), "%"); ok {
			which = 2
			abv, err = parsePercent(number, text)
		} else if _, unit, _ := splitUnit(word); unit != "" && !isGravityUnit(unit) {
			v, err = ParseVolume(word)
		} else {
			which = 1
			sg, err = ParseGravity(word)
		}
		if err == nil && have[which] {
			err = fmt.Errorf("%q says one thing twice; write 10L 1.000 13%%: %w", text, ErrInvalid)
		}
		if err != nil {
			return 0, 0, 0, err
		}
		have[which] = true
	}
	if have != [3]bool{true, true, true} {
		return 0, 0, 0, fmt.Errorf("%q is not understood; write volume, gravity and strength, as in 10L 1.000 13%%: %w", text, ErrInvalid)
	}
	return v, sg, abv, nil
}

func parsePercent(number, text string) (calc.PercentVol, error) {
	x, rest, err := splitUnit(number)
	if err != nil || rest != "" || x < 0 || x > 100 {
		return 0, fmt.Errorf("strength in %q is not understood; write 13%%: %w", text, ErrInvalid)
	}
	return calc.PercentVol(x), nil
}

func isGravityUnit(unit string) bool {
	return unit == "bx" || unit == "brix" || unit == "p" || unit == "plato"
}

// unitsJoined returns the words of a text in lower case, a unit that stands alone
// joined to the number before it: 10 L is 10l.
func unitsJoined(text string) []string {
	var out []string
	for _, w := range strings.Fields(strings.ToLower(text)) {
		if last := len(out) - 1; last >= 0 && !strings.ContainsAny(w[:1], "+-.,0123456789") {
			out[last] += w
			continue
		}
		out = append(out, w)
	}
	return out
}

var durationUnits = []unit{ // in minutes
	{[]string{"min", "mins", "minute", "minutes", "m"}, 1},
	{[]string{"s", "sec", "secs", "second", "seconds"}, 1.0 / 60},
	{[]string{"h", "hr", "hour", "hours"}, 60},
}

// ParseHeatStep understands a temperature and how long it was held, 65C 10min, in
// either order.
func ParseHeatStep(text string) (calc.Celsius, time.Duration, error) {
	words := unitsJoined(text)
	if len(words) != 2 {
		return 0, 0, fmt.Errorf("%q is not understood; write temperature and time, as in 65C 10min: %w", text, ErrInvalid)
	}
	t, err := ParseTemperature(words[0])
	held := words[1]
	if err != nil {
		if t, err = ParseTemperature(words[1]); err != nil {
			return 0, 0, fmt.Errorf("%q is not understood; write temperature and time, as in 65C 10min: %w", text, ErrInvalid)
		}
		held = words[0]
	}
	minutes, err := parseQuantity(held, "time", "10min or 90s", durationUnits)
	if err == nil && minutes > mostMinutes {
		err = fmt.Errorf("time %q is more than a week: %w", held, ErrInvalid)
	}
	if err != nil {
		return 0, 0, err
	}
	return t, time.Duration(minutes * float64(time.Minute)), nil
}

// mostMinutes is a week.
const mostMinutes = 7 * 24 * 60
