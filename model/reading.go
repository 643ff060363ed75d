package model

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"cellar.local/glassrow/calc"
)

// Reading is one look at a batch: what the instruments said, as they said it.
// Every part is optional, but one must be there. The gravity is kept as read,
// with the temperature of the sample; the correction is made on replay, so that
// a better formula improves old readings too.
type Reading struct {
	Gravity     calc.SG                // as read on the hydrometer; 0: none
	Scale       GravityScale           // the scale it was read on
	Calibration calc.Celsius           // the hydrometer's reference temperature; Brix and Plato scales are made for 20 °C
	Temperature calc.Celsius           // of the sample; meaningful when HasTemperature
	PH          float64                // 0: none
	Acid        calc.GramPerLitre      // titrated, reckoned as tartaric; 0: none
	FreeSO2     calc.MilligramPerLitre // meaningful when HasFreeSO2
	Mass        calc.Gram              // of the full vessel on a scale; 0: not weighed
	Level       calc.Litre             // of drink, by the marks of the vessel; 0: not looked at
	Note        string

	HasTemperature bool
	HasFreeSO2     bool
}

// GravityScale is the scale of the instrument a gravity was read on.
type GravityScale string

// The scales a hydrometer can carry.
const (
	ScaleSG    GravityScale = "sg"
	ScaleBrix  GravityScale = "bx"
	ScalePlato GravityScale = "p"
)

// Limits of what a reading can be. Wider than any drink, narrow enough to catch
// a slip of the finger.
const (
	minGravity, maxGravity         = 0.970, 1.200
	minTemperature, maxTemperature = 0, 40
	minPH, maxPH                   = 2, 8
	maxAcid                        = 40
	maxFreeSO2                     = 300
	maxWeighed                     = 1e7
)

// DefaultCalibration is the reference temperature of a hydrometer unless its
// owner says otherwise.
const DefaultCalibration calc.Celsius = 20

// HasGravity reports whether a gravity was read.
func (r Reading) HasGravity() bool { return r.Gravity != 0 }

// Corrected returns the gravity at 20/20 °C that the reading stands for, in a
// drink of the given strength. Without a sample temperature the sample is taken
// to have been at the instrument's own.
func (r Reading) Corrected(abv calc.PercentVol) (calc.SG, error) {
	sample := r.Calibration
	if r.HasTemperature {
		sample = r.Temperature
	}
	return calc.ReadingAt20(r.Gravity, abv, sample, r.Calibration)
}

// Validate implements Body.
func (r Reading) Validate() error {
	if r.empty() {
		if r.Note != "" {
			return fmt.Errorf("a note without a reading; type a gravity such as 1.034 first: %w", ErrInvalid)
		}
		return fmt.Errorf("nothing read; type a gravity such as 1.034: %w", ErrInvalid)
	}
	if r.HasGravity() && !(r.Gravity >= minGravity && r.Gravity <= maxGravity) {
		return fmt.Errorf("gravity %.4g cannot be; want %.3f to %.3f: %w", float64(r.Gravity), minGravity, maxGravity, ErrInvalid)
	}
	if r.HasTemperature && !(r.Temperature >= minTemperature && r.Temperature <= maxTemperature) {
		return fmt.Errorf("temperature %.4g °C cannot be; want %d to %d °C, or cool the sample: %w",
			float64(r.Temperature), minTemperature, maxTemperature, ErrInvalid)
	}
	if r.PH != 0 && !(r.PH >= minPH && r.PH <= maxPH) {
		return fmt.Errorf("pH %.4g cannot be; want %d to %d: %w", r.PH, minPH, maxPH, ErrInvalid)
	}
	if err := r.checkRest(); err != nil {
		return err
	}
	return plainText("note", r.Note, maxText, false)
}

// ParseReading understands a reading as people type it, in the dashboard, on the
// command line and in imported files:
//
//	1.034   1034   34        gravity, in full, without the point, in points
//	8.5bx   8.5p             the hydrometer's Brix or Plato scale
//	@21c    @70f             temperature of the sample
//	ph3.4    ta6.2           acidity: pH, and titrated in g/L as tartaric
//	so2=25                   free SO2 in mg/L
//	24.6kg   18.5l           mass of the full vessel; drink by its marks
//	; tastes of cloves       a note, to the end of the line
//
// The parts come in any order and may touch: 1.034@21c. calibration is the
// hydrometer's reference temperature. The error wraps [ErrInvalid] and says
// which part is not understood and what would be.
func ParseReading(text string, calibration calc.Celsius) (Reading, error) {
	r := Reading{Calibration: calibration, Scale: ScaleSG}
	text, note, _ := strings.Cut(text, ";")
	r.Note = strings.TrimSpace(note)
	for _, word := range readingWords(text) {
		if err := r.parseWord(word); err != nil {
			return Reading{}, err
		}
	}
	return r, r.Validate()
}

// readingWords splits at blanks and before each @, so that 1.034@21c is two words. What
// a blank has come between is one all the same, as a phone likes to put one: ph 3.4,
// 24.6 kg, @ 21 c.
func readingWords(text string) []string {
	var words []string
	for _, word := range strings.FieldsFunc(strings.ReplaceAll(text, "@", " @"), unicode.IsSpace) {
		if n := len(words); n > 0 && belongs(strings.ToLower(words[n-1]), strings.ToLower(word)) {
			words[n-1] += word
			continue
		}
		if strings.EqualFold(word, "so2") {
			word += "=" // with a blank between it cannot be misread
		}
		words = append(words, word)
	}
	return words
}

// readingUnits are the units that may stand apart from their number.
var readingUnits = []string{"sg", "bx", "brix", "°bx", "p", "plato", "°p", "kg", "lb", "l", "gal", "c", "°c", "f", "°f"}

// belongs reports whether two words in lower case are the halves of one.
func belongs(first, second string) bool {
	switch first {
	case "@", "ph", "ph=", "ta", "ta=", "so2=":
		_, _, err := splitUnit(second)
		return err == nil
	}
	_, unit, err := splitUnit(strings.TrimPrefix(first, "@"))
	return err == nil && unit == "" && slices.Contains(readingUnits, second)
}

func (r *Reading) parseWord(word string) error {
	lower := strings.ToLower(word)
	switch {
	case strings.HasPrefix(lower, "@"):
		return r.parseTemperature(word, lower[1:])
	case strings.HasPrefix(lower, "ph"):
		return r.parsePH(word, strings.TrimPrefix(lower[2:], "="))
	case strings.HasPrefix(lower, "ta"), strings.HasPrefix(lower, "so2"):
		return r.parseAnalysis(word, lower)
	}
	if done, err := r.parseWeighed(word, lower); done {
		return err
	}
	return r.parseGravity(word, lower)
}

func (r *Reading) parseTemperature(word, rest string) error {
	if r.HasTemperature {
		return fmt.Errorf("%q is a second temperature: %w", word, ErrInvalid)
	}
	rest = strings.ReplaceAll(rest, "°", "")
	x, unit, err := splitUnit(rest)
	if err != nil || (unit != "c" && unit != "f") {
		return fmt.Errorf("temperature %q is not understood; write @21c or @70f: %w", word, ErrInvalid)
	}
	r.HasTemperature = true
	r.Temperature = calc.Celsius(x)
	if unit == "f" {
		r.Temperature = calc.Fahrenheit(x)
	}
	return nil
}

func (r *Reading) parsePH(word, rest string) error {
	x, unit, err := splitUnit(rest)
	if err != nil || unit != "" || x == 0 {
		return fmt.Errorf("acidity %q is not understood; write ph3.4: %w", word, ErrInvalid)
	}
	if r.PH != 0 {
		return fmt.Errorf("%q is a second pH: %w", word, ErrInvalid)
	}
	r.PH = x
	return nil
}

func (r *Reading) parseGravity(word, lower string) error {
	x, unit, err := splitUnit(lower)
	if err != nil {
		return fmt.Errorf("%q is not understood; write a gravity such as 1.034, 34 or 8.5bx, @21c, ph3.4, ta6.2, so2=25, or a note after ; : %w", word, ErrInvalid)
	}
	if slices.Contains([]string{"c", "°c", "f", "°f"}, unit) {
		return fmt.Errorf("%q is not understood; a temperature is written @%s: %w", word, word, ErrInvalid)
	}
	if r.HasGravity() {
		return fmt.Errorf("%q is a second gravity; one reading a line: %w", word, ErrInvalid)
	}
	switch unit {
	case "", "sg":
		r.Gravity, err = gravityFromNumber(word, x, !strings.ContainsAny(lower, ".,"))
	case "bx", "brix", "°bx":
		r.Scale, r.Calibration = ScaleBrix, DefaultCalibration
		r.Gravity, err = gravityFromBrix(word, x)
	case "p", "plato", "°p":
		r.Scale, r.Calibration = ScalePlato, DefaultCalibration
		r.Gravity, err = gravityFromBrix(word, x)
	default:
		return fmt.Errorf("unit of %q is not understood; a gravity is 1.034, 34, 8.5bx or 8.5p: %w", word, ErrInvalid)
	}
	return err
}

// gravityFromNumber tells 1.034, 1034 and 34 apart. A number such as 8.5 could be
// Brix or points, and is refused rather than guessed.
func gravityFromNumber(word string, x float64, whole bool) (calc.SG, error) {
	switch {
	case x >= 0.9 && x <= 1.3 && !whole:
		return calc.SG(x), nil
	case whole && x >= 900 && x <= 1300:
		return calc.SG(x / 1000), nil
	case whole && x > -30 && x < 200:
		return calc.PointsSG(x), nil
	case !whole && x > 1.3 && x < 60 && !(x < 2 && len(word) >= len("1.340")):
		return 0, fmt.Errorf("%q could be Brix or points; write %sbx, or the gravity in full as 1.034: %w", word, word, ErrInvalid)
	}
	return 0, fmt.Errorf("gravity %q cannot be; want %.3f to %.3f, such as 1.034: %w", word, minGravity, maxGravity, ErrInvalid)
}

func gravityFromBrix(word string, x float64) (calc.SG, error) {
	if !(x >= -5 && x <= 45) {
		return 0, fmt.Errorf("%q cannot be; want -5 to 45 on a Brix or Plato scale: %w", word, ErrInvalid)
	}
	return calc.SGOfBrix(calc.Brix(x))
}

// splitUnit cuts 8.5bx into 8.5 and bx. A decimal comma is a decimal point.
func splitUnit(s string) (x float64, unit string, err error) {
	s = strings.ReplaceAll(s, ",", ".")
	end := strings.IndexFunc(s, func(r rune) bool { return !strings.ContainsRune("+-.0123456789", r) })
	if end < 0 {
		end = len(s)
	}
	x, err = strconv.ParseFloat(s[:end], 64)
	if err == nil && (math.IsNaN(x) || math.IsInf(x, 0)) {
		err = strconv.ErrRange
	}
	if !utf8.ValidString(s[end:]) {
		err = strconv.ErrSyntax
	}
	return x, s[end:], err
}

// String returns the reading as it could be typed: ParseReading of it gives the
// same reading back, to the digits an instrument has.
func (r Reading) String() string {
	var parts []string
	if r.HasGravity() {
		parts = append(parts, r.gravityText())
	}
	if r.HasTemperature {
		parts = append(parts, "@"+strconv.FormatFloat(math.Round(float64(r.Temperature)*10)/10, 'f', -1, 64)+"c")
	}
	if r.PH != 0 {
		parts = append(parts, "ph"+strconv.FormatFloat(r.PH, 'f', -1, 64))
	}
	parts = append(parts, r.restText()...)
	if r.Note != "" {
		parts = append(parts, "; "+r.Note)
	}
	return strings.Join(parts, " ")
}

func (r Reading) gravityText() string {
	if r.Scale == ScaleBrix || r.Scale == ScalePlato {
		if b, err := calc.BrixOfSG(r.Gravity); err == nil {
			return strconv.FormatFloat(inReach(math.Round(float64(b)*100)/100), 'f', -1, 64) + string(r.Scale)
		}
	}
	tenths := math.Round(float64(r.Gravity) * 1e4)
	if math.Mod(tenths, 10) != 0 {
		return strconv.FormatFloat(tenths/1e4, 'f', 4, 64)
	}
	return strconv.FormatFloat(tenths/1e4, 'f', 3, 64)
}

// inReach takes a hundredth off a Brix that rounding has put past the largest
// gravity a reading may have.
func inReach(b float64) float64 {
	if sg, err := calc.SGOfBrix(calc.Brix(b)); err == nil && sg > maxGravity {
		return math.Round(b*100-1) / 100
	}
	return b
}
