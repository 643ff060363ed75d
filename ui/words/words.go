// Package words is how glassrow writes things down for people: quantities, ages,
// entries, and text that somebody else typed. The dashboard and the commands both
// speak through it, so that a thing has one wording wherever it is read.
//
// It knows neither screens nor files, and it works nothing out: figures come in
// and text goes out, in one line and without colour.
package words

import "cellar.local/glassrow/calc"

// Words writes for one person on one terminal. The zero value is metric and may
// use every sign.
type Words struct {
	US    bool // gallons, pounds, Fahrenheit
	Signs Signs
}

// Signs is which signs a terminal can be trusted to show.
type Signs uint8

const (
	// AnySign is for terminals with a modern font.
	AnySign Signs = iota
	// FewSigns is for the Linux console: letters of any script that its font may
	// have, but no sign of ours besides the degree.
	FewSigns
	// ASCII is for locales without UTF-8. Nothing else is written, whatever is in
	// the text.
	ASCII
)

// PlusMinus writes an uncertainty: ±0.3.
func (w Words) PlusMinus(pm calc.PercentVol) string {
	return w.sign("±", "+-") + decimals(float64(pm), 1)
}

// Arrow leads from what was read to what it comes to.
func (w Words) Arrow() string { return w.sign("→", "->") }

// degree is written before C or F.
func (w Words) degree() string {
	if w.Signs == ASCII {
		return ""
	}
	return "°"
}

func (w Words) sign(rich, plain string) string {
	if w.Signs == AnySign {
		return rich
	}
	return plain
}
