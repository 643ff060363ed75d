package ui

import (
	"github.com/charmbracelet/lipgloss"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/plot"
)

// Styles is every colour and weight the program uses. Colour only ever repeats
// what a word or a mark says already.
type Styles struct {
	Plain   lipgloss.Style
	Title   lipgloss.Style // the name of what is on screen
	Heading lipgloss.Style // a section within it
	Strong  lipgloss.Style // the figure that matters
	Muted   lipgloss.Style // units, labels, what can be skipped
	Key     lipgloss.Style // a key to press
	Good    lipgloss.Style
	Warn    lipgloss.Style
	Bad     lipgloss.Style
	Chosen  lipgloss.Style // the selected line, besides the mark in the gutter
	Curve   lipgloss.Style
	Band    lipgloss.Style
	Bar     []lipgloss.Style // parts of a stacked bar, in order
}

// NewStyles returns the styles for a dark or a light terminal. The palette is
// the sixteen colours that every terminal has and its owner has chosen.
func NewStyles(dark bool) *Styles {
	pick := func(onDark, onLight string) lipgloss.Style {
		c := onLight
		if dark {
			c = onDark
		}
		return lipgloss.NewStyle().Foreground(lipgloss.Color(c))
	}
	accent, muted := pick("14", "6"), pick("8", "8")
	if dark {
		muted = lipgloss.NewStyle().Faint(true)
	}
	return &Styles{
		Plain:   lipgloss.NewStyle(),
		Title:   accent.Bold(true),
		Heading: accent,
		Strong:  lipgloss.NewStyle().Bold(true),
		Muted:   muted,
		Key:     accent,
		Good:    pick("10", "2"),
		Warn:    pick("11", "3"),
		Bad:     pick("9", "1").Bold(true),
		Chosen:  lipgloss.NewStyle().Bold(true),
		Curve:   pick("6", "4"),
		Band:    muted,
		Bar: []lipgloss.Style{
			pick("11", "3"), pick("14", "6"), pick("13", "5"), pick("12", "4"), pick("10", "2"), muted,
		},
	}
}

// Standing returns the style for a standing; trouble overrules it.
func (s *Styles) Standing(st model.Standing, trouble bool) lipgloss.Style {
	switch {
	case trouble:
		return s.Bad
	case st == model.Working || st == model.Conditioning:
		return s.Good
	case st == model.Rising:
		return s.Warn
	case st == model.Empty:
		return s.Muted
	}
	return s.Plain
}

// paint is the hook that gives charts their colours.
func (s *Styles) paint(role plot.Role, text string) string {
	if i, ok := role.Series(); ok {
		if i <= 1 { // what was read, and the forecast of it
			return s.Curve.Render(text)
		}
		return s.Bar[i%len(s.Bar)].Render(text)
	}
	switch role {
	case plot.RoleTitle:
		return s.Heading.Render(text)
	case plot.RoleEvent:
		return s.Warn.Render(text)
	case plot.RoleChosen:
		return s.Chosen.Render(text)
	case plot.RoleBand:
		return s.Band.Render(text)
	}
	return s.Muted.Render(text)
}

// paintBar is the hook for stacked bars, where every part has its own colour.
func (s *Styles) paintBar(role plot.Role, text string) string {
	if i, ok := role.Series(); ok {
		return s.Bar[i%len(s.Bar)].Render(text)
	}
	return s.Muted.Render(text)
}
