package ui

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	_ "cellar.local/glassrow/ui/darkfirst" // before the screen library: see there

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/colorprofile"
	"github.com/charmbracelet/lipgloss"
	"github.com/mattn/go-runewidth"
	"github.com/muesli/termenv"
)

// framesPerSecond brings a key's frame out in 4 ms instead of 10; an idle screen
// costs the same.
const framesPerSecond = 120

// lookEvery is how often a dashboard looks for what other sessions wrote.
const lookEvery = time.Second

// settleAfter is shorter than a person takes to look from a line to its chart, and
// longer than a held-down key takes to repeat.
const settleAfter = 120 * time.Millisecond

// Terminal is where the dashboard runs.
type Terminal struct {
	In     *os.File
	Out    *os.File
	Getenv func(string) string
	Env    []string
}

// Dark reports whether the terminal is taken to have a dark background: told by
// GLASSROW_BACKGROUND (dark or light), else by COLORFGBG, else dark. It is never
// asked: see package darkfirst.
func (t Terminal) Dark() bool {
	switch strings.ToLower(t.Getenv("GLASSROW_BACKGROUND")) {
	case "light":
		return false
	case "dark":
		return true
	}
	fgbg := t.Getenv("COLORFGBG")
	bg := fgbg[strings.LastIndex(fgbg, ";")+1:]
	return bg != "7" && bg != "15"
}

// Prepare fits options to the terminal: styles, runes and colours.
func (t Terminal) Prepare(o Options) Options {
	// Some runes of the sets are counted two wide under an East Asian locale by
	// one library and one wide by another; one wide is what terminals draw.
	runewidth.DefaultCondition.EastAsianWidth = false
	lipgloss.SetColorProfile(colourProfile(colorprofile.Detect(t.Out, t.Env)))
	o.Styles = NewStyles(t.Dark())
	o.Glyphs = GlyphsFor(RunesFor(t.Getenv))
	return o
}

// colourProfile is the style library's name for what the terminal can show.
// Without colour the weight of letters is kept: styles are rendered for sixteen
// colours and the writer takes the colours out.
func colourProfile(p colorprofile.Profile) termenv.Profile {
	switch p {
	case colorprofile.TrueColor:
		return termenv.TrueColor
	case colorprofile.ANSI256:
		return termenv.ANSI256
	}
	return termenv.ANSI
}

// terminalWriter is the terminal with the colours it cannot show taken out. It
// stays a file, so that the screen library can ask its size.
type terminalWriter struct {
	*os.File
	w io.Writer
}

// Write implements io.Writer.
func (t terminalWriter) Write(p []byte) (int, error) { return t.w.Write(p) }

// Run shows the dashboard until the person leaves. A panic inside it restores
// the terminal and comes back as an error.
func Run(o Options, t Terminal) error {
	o = t.Prepare(o)
	o.LookEvery, o.Settle = lookEvery, settleAfter
	out := terminalWriter{t.Out, &colorprofile.Writer{Forward: t.Out, Profile: colorprofile.Detect(t.Out, t.Env)}}
	p := tea.NewProgram(New(o), tea.WithAltScreen(), tea.WithInput(t.In), tea.WithOutput(out), tea.WithFPS(framesPerSecond))
	_, err := p.Run()
	switch {
	case errors.Is(err, tea.ErrProgramPanic):
		return fmt.Errorf("the dashboard broke down; everything written down is safe: %w", err)
	case errors.Is(err, tea.ErrInterrupted):
		return nil
	}
	return err
}
