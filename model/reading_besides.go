package model

import (
	"fmt"
	"strconv"
	"strings"

	"cellar.local/glassrow/calc"
)

// What a reading can hold besides gravity, temperature and pH.

// empty reports whether nothing was read.
func (r Reading) empty() bool {
	return !r.HasGravity() && !r.HasTemperature && r.PH == 0 && r.Acid == 0 && !r.HasFreeSO2 && r.Mass == 0 && r.Level == 0
}

// checkRest reports what is wrong with acid, sulfite, mass and level.
func (r Reading) checkRest() error {
	if !(r.Acid >= 0 && r.Acid <= maxAcid) {
		return fmt.Errorf("acid of %.4g g/L cannot be; want 0 to %d g/L as tartaric: %w", float64(r.Acid), maxAcid, ErrInvalid)
	}
	if !(r.FreeSO2 >= 0 && r.FreeSO2 <= maxFreeSO2) {
		return fmt.Errorf("free SO2 of %.4g mg/L cannot be; want 0 to %d mg/L: %w", float64(r.FreeSO2), maxFreeSO2, ErrInvalid)
	}
	if !(r.Mass >= 0 && r.Mass <= maxWeighed) {
		return fmt.Errorf("%.4g kg on the scale cannot be; want up to 10 t: %w", float64(r.Mass)/1000, ErrInvalid)
	}
	return checkPart("level", r.Level)
}

// parseAnalysis understands ta6.2 and so2=25.
func (r *Reading) parseAnalysis(word, lower string) error {
	name := "ta"
	if strings.HasPrefix(lower, "so2") {
		name = "so2"
	}
	rest := strings.TrimPrefix(lower[len(name):], "=")
	x, unit, err := splitUnit(rest)
	switch {
	case name == "so2" && (rest == lower[len(name):] && rest != ""):
		// so225 would be 25 or 225: with the sign it cannot be misread.
		return fmt.Errorf("free SO2 %q is not understood; write so2=25: %w", word, ErrInvalid)
	case err != nil, unit != "" && unit != "g/l" && unit != "mg/l", unit == "mg/l" != (name == "so2") && unit != "":
		return fmt.Errorf("%q is not understood; write ta6.2 for g/L of acid, so2=25 for mg/L of free SO2: %w", word, ErrInvalid)
	case name == "ta" && r.Acid != 0, name == "so2" && r.HasFreeSO2:
		return fmt.Errorf("%q is there a second time: %w", word, ErrInvalid)
	case name == "ta":
		r.Acid = calc.GramPerLitre(x)
		if x == 0 {
			return fmt.Errorf("no drink has an acid of 0 g/L; write ta6.2: %w", ErrInvalid)
		}
	default:
		r.FreeSO2, r.HasFreeSO2 = calc.MilligramPerLitre(x), true
	}
	return nil
}

// parseWeighed understands 24.6kg and 18.5l, and reports whether the word is one.
func (r *Reading) parseWeighed(word, lower string) (bool, error) {
	switch _, unit, err := splitUnit(lower); {
	case err != nil:
		return false, nil
	case unit == "kg" || unit == "lb":
		m, err := ParseMass(lower)
		if err == nil && r.Mass != 0 {
			err = fmt.Errorf("%q is a second mass: %w", word, ErrInvalid)
		}
		r.Mass = m
		return true, err
	case unit == "l" || unit == "gal":
		v, err := ParseVolume(lower)
		if err == nil && r.Level != 0 {
			err = fmt.Errorf("%q is a second level: %w", word, ErrInvalid)
		}
		r.Level = v
		return true, err
	}
	return false, nil
}

// restText returns what [Reading.String] adds.
func (r Reading) restText() []string {
	var parts []string
	say := func(prefix string, x float64, unit string) {
		parts = append(parts, prefix+strconv.FormatFloat(x, 'f', -1, 64)+unit)
	}
	if r.Acid != 0 {
		say("ta", float64(r.Acid), "")
	}
	if r.HasFreeSO2 {
		say("so2=", float64(r.FreeSO2), "")
	}
	if r.Mass != 0 {
		say("", float64(r.Mass)/1000, "kg")
	}
	if r.Level != 0 {
		say("", float64(r.Level), "l")
	}
	return parts
}
