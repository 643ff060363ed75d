package cli

import (
	"fmt"
	"math"
	"strings"
	"time"
	"unicode"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// words writes quantities and other people's text the way the person reads them
// and the terminal can show them.
type words struct {
	us    bool // gallons, pounds, Fahrenheit
	ascii bool // nothing but ASCII
}

func (a *app) words(s model.Settings) words {
	return words{us: s.US, ascii: !isUTF8(a.Getenv)}
}

// isUTF8 tells from the locale whether the terminal shows more than ASCII. The
// dashboard's override counts here too.
func isUTF8(getenv func(string) string) bool {
	if strings.EqualFold(getenv("GLASSROW_RUNES"), "ascii") {
		return false
	}
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if locale := strings.ToLower(getenv(name)); locale != "" {
			return strings.Contains(locale, "utf-8") || strings.Contains(locale, "utf8")
		}
	}
	return false
}

// plainer stands for the signs of our own sentences where only ASCII can be shown.
var plainer = strings.NewReplacer("±", "+-", " °", " ", "°", " ", "³", "3", "·", "-", "–", "-", "→", "->", "×", "x", "’", "'")

// text makes text safe to print: what is not printable becomes a question mark, a
// line break or tab a blank, and on an ASCII terminal so does any other letter.
func (w words) text(s string) string {
	if w.ascii {
		s = plainer.Replace(s)
	}
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t':
			return ' '
		case !unicode.IsPrint(r), w.ascii && r > unicode.MaxASCII, r == unicode.ReplacementChar:
			return '?'
		}
		return r
	}, s)
}

func (w words) pick(rich, plain string) string {
	if w.ascii {
		return plain
	}
	return rich
}

func (w words) gravity(sg calc.SG) string     { return fmt.Sprintf("%.3f", float64(sg)) }
func (w words) fineGravity(sg calc.SG) string { return fmt.Sprintf("%.4f", float64(sg)) }

func (w words) percent(abv, pm calc.PercentVol) string {
	return fmt.Sprintf("%.1f %s%.1f", float64(abv), w.pick("±", "+-"), float64(pm))
}

func (w words) strength(abv, pm calc.PercentVol) string { return w.percent(abv, pm) + " % vol" }

func (w words) shortStrength(abv calc.PercentVol) string {
	return fmt.Sprintf("%.1f %% vol", float64(abv))
}

func (w words) perLitre(c calc.GramPerLitre) string { return fmt.Sprintf("%.1f g/L", float64(c)) }

func (w words) points(p float64) string { return fmt.Sprintf("%+.1f points", p) }

// volume shows two decimals of a litre where room is counted, one elsewhere.
func (w words) volume(v calc.Litre) string { return w.volumeTo(v, 1) }

func (w words) fineVolume(v calc.Litre) string { return w.volumeTo(v, 2) }

func (w words) volumeTo(v calc.Litre, decimals int) string {
	switch {
	case w.us:
		return fmt.Sprintf("%.2f gal", float64(v)/calc.LitresPerUSGallon)
	case v < 1:
		return fmt.Sprintf("%.0f mL", float64(v)*1000)
	}
	return fmt.Sprintf("%.*f L", decimals, float64(v))
}

func (w words) mass(m calc.Gram) string {
	g := float64(m)
	switch {
	case g != 0 && math.Abs(g) < 1:
		return fmt.Sprintf("%.0f mg", g*1000)
	case w.us && math.Abs(g) >= calc.GramsPerPound:
		return fmt.Sprintf("%.2f lb", g/calc.GramsPerPound)
	case w.us:
		return fmt.Sprintf("%.2f oz", g/calc.GramsPerOunce)
	case math.Abs(g) >= 10000:
		return fmt.Sprintf("%.2f kg", g/1000)
	case math.Abs(g) < 10:
		return fmt.Sprintf("%.1f g", g)
	}
	return fmt.Sprintf("%.0f g", g)
}

func (w words) temperature(t calc.Celsius) string {
	if w.us {
		return fmt.Sprintf("%.0f %sF", t.Fahrenheit(), w.pick("°", ""))
	}
	return fmt.Sprintf("%.1f %sC", float64(t), w.pick("°", ""))
}

// moment writes a time in the zone of now.
func moment(t, now time.Time) string { return t.In(now.Location()).Format("2006-01-02 15:04") }

// age says how long ago t was: 40m, 5h, 3d, 9w, 2y; a dash for never.
func age(t, now time.Time) string {
	if t.IsZero() {
		return "-"
	}
	return span(now.Sub(t))
}

// due says when something is due: now, in 5h, 2d late.
func due(t, now time.Time) string {
	switch d := t.Sub(now); {
	case d <= -time.Hour:
		return span(-d) + " late"
	case d < time.Hour:
		return "now"
	default:
		return "in " + span(d)
	}
}

func span(d time.Duration) string {
	const day = 24 * time.Hour
	switch {
	case d < time.Hour:
		return fmt.Sprintf("%dm", max(0, int(d/time.Minute)))
	case d < day:
		return fmt.Sprintf("%dh", int(d/time.Hour))
	case d < 60*day:
		return fmt.Sprintf("%dd", int(d/day))
	case d < 2*365*day:
		return fmt.Sprintf("%dw", int(d/(7*day)))
	}
	return fmt.Sprintf("%dy", int(d/(365*day)))
}
