package ui

import (
	"strings"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/plot"
)

// Glyphs are the runes the terminal can show.
type Glyphs struct {
	Runes                    plot.Runes
	Pointer, Rule, Dot       string
	Times, Degree, PlusMinus string
	Arrow, Left, Right       string
	standing                 map[model.Standing]string
	Trouble, Late            string
}

var plainGlyphs = Glyphs{
	Runes: plot.ASCII, Pointer: ">", Rule: "-", Dot: "-", Times: "x", Degree: " ", PlusMinus: "+-",
	Arrow: "->", Left: "<", Right: ">", Trouble: "!", Late: "*",
	standing: map[model.Standing]string{
		model.Lag: ".", model.Working: "v", model.Slowing: "~", model.Flat: "=", model.Bottled: "b", model.Empty: " ",
	},
}

var richGlyphs = Glyphs{
	Runes: plot.Braille, Pointer: "▸", Rule: "─", Dot: "·", Times: "×", Degree: "°", PlusMinus: "±",
	Arrow: "→", Left: "‹", Right: "›", Trouble: "!", Late: "•",
	standing: map[model.Standing]string{
		model.Lag: "°", model.Working: "▼", model.Slowing: "▿", model.Flat: "─", model.Bottled: "▪", model.Empty: " ",
	},
}

var consoleGlyphs = Glyphs{
	Runes: plot.Console, Pointer: ">", Rule: "─", Dot: "·", Times: "x", Degree: "°", PlusMinus: "+-",
	Arrow: "->", Left: "<", Right: ">", Trouble: "!", Late: "•",
	standing: map[model.Standing]string{
		model.Lag: "°", model.Working: "▼", model.Slowing: "~", model.Flat: "─", model.Bottled: "■", model.Empty: " ",
	},
}

// GlyphsFor returns the glyphs for a rune set.
func GlyphsFor(r plot.Runes) Glyphs {
	var g Glyphs
	switch r {
	case plot.ASCII:
		g = plainGlyphs
	case plot.Console:
		g = consoleGlyphs
	default:
		g = richGlyphs
	}
	g.Runes = r
	return g
}

// RunesFor chooses a rune set from the environment: the override if it names
// one, else by locale (LC_ALL, LC_CTYPE, LANG, in that order) and TERM.
func RunesFor(getenv func(string) string) plot.Runes {
	if r, ok := plot.ParseRunes(strings.ToLower(getenv("GLASSROW_RUNES"))); ok {
		return r
	}
	locale := getenv("LC_ALL")
	if locale == "" {
		locale = getenv("LC_CTYPE")
	}
	if locale == "" {
		locale = getenv("LANG")
	}
	locale = strings.ToLower(locale)
	if !strings.Contains(locale, "utf-8") && !strings.Contains(locale, "utf8") {
		return plot.ASCII
	}
	if getenv("TERM") == "linux" {
		return plot.Console
	}
	return plot.Braille
}

// Standing returns the mark for a standing.
func (g Glyphs) Standing(s model.Standing) string { return g.standing[s] }

// text makes words from a file, a keyboard or an error safe to show: control
// characters become visible stand-ins and, where the terminal knows only ASCII,
// everything else does too.
func (g Glyphs) text(s string) string {
	s = clean(s)
	if g.Runes == plot.ASCII {
		s = strings.Map(func(r rune) rune {
			if r > '~' {
				return '?'
			}
			return r
		}, inASCII.Replace(s))
	}
	return s
}

// inASCII spells out what the program itself writes.
var inASCII = strings.NewReplacer("±", "+-", " °C", " C", " °F", " F", "°", " deg", "→", "->", "×", "x", "–", "-", "’", "'")
