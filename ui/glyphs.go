package ui

import (
	"strings"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/plot"
	"cellar.local/glassrow/ui/words"
)

// Glyphs are the runes the terminal can show.
type Glyphs struct {
	Runes         plot.Runes
	Signs         words.Signs
	Pointer, Rule string
	Left, Right   string
	standing      map[model.Standing]string
	Trouble, Late string
}

var plainGlyphs = Glyphs{
	Runes: plot.ASCII, Signs: words.ASCII, Pointer: ">", Rule: "-",
	Left: "<", Right: ">", Trouble: "!", Late: "*",
	standing: map[model.Standing]string{
		model.Lag: ".", model.Working: "v", model.Slowing: "~", model.Stuck: "x", model.Done: "=", model.Restarting: "%",
		model.Rising: "^", model.Resting: "-", model.Stable: "#", model.Conditioning: "o", model.Bottled: "b", model.Empty: " ",
	},
}

var richGlyphs = Glyphs{
	Runes: plot.Braille, Signs: words.AnySign, Pointer: "▸", Rule: "─",
	Left: "‹", Right: "›", Trouble: "!", Late: "•",
	standing: map[model.Standing]string{
		model.Lag: "°", model.Working: "▼", model.Slowing: "▿", model.Stuck: "×", model.Done: "═", model.Restarting: "%",
		model.Rising: "▲", model.Resting: "─", model.Stable: "■", model.Conditioning: "○", model.Bottled: "▪", model.Empty: " ",
	},
}

var consoleGlyphs = Glyphs{
	Runes: plot.Console, Signs: words.FewSigns, Pointer: ">", Rule: "─",
	Left: "<", Right: ">", Trouble: "!", Late: "•",
	standing: map[model.Standing]string{
		model.Lag: "°", model.Working: "▼", model.Slowing: "~", model.Stuck: "x", model.Done: "═", model.Restarting: "%",
		model.Rising: "▲", model.Resting: "─", model.Stable: "#", model.Conditioning: "o", model.Bottled: "■", model.Empty: " ",
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
// one, else by locale and TERM.
func RunesFor(getenv func(string) string) plot.Runes {
	if r, ok := plot.ParseRunes(strings.ToLower(getenv("GLASSROW_RUNES"))); ok {
		return r
	}
	if !words.UTF8(getenv) {
		return plot.ASCII
	}
	if getenv("TERM") == "linux" {
		return plot.Console
	}
	return plot.Braille
}

// Standing returns the mark for a standing.
func (g Glyphs) Standing(s model.Standing) string { return g.standing[s] }

// Words returns how to write for a person who reads in these units on a terminal
// that shows these glyphs.
func (g Glyphs) Words(us bool) words.Words { return words.Words{US: us, Signs: g.Signs} }

// text is [words.Words.Text], which cares for no units.
func (g Glyphs) text(s string) string { return g.Words(false).Text(s) }
