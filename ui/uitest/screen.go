// Package uitest drives a Bubble Tea model without a terminal and without
// sleeping, so that a test reads like what a person does:
//
//	screen.Press("r").Type("1.034@21c").See("1.034 at 21").Press("enter")
//
// A key is given to Update, the command that comes back is run at once and its
// message is given to Update in turn, until nothing is left to do. It imports
// none of the program.
package uitest

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// Screen is a program being driven.
type Screen struct {
	t       testing.TB
	model   tea.Model
	w, h    int
	held    []tea.Cmd
	holding bool
	left    bool
}

// Start begins to drive a model in a terminal of w by h cells.
func Start(t testing.TB, m tea.Model, w, h int) *Screen {
	t.Helper()
	s := &Screen{t: t, model: m}
	s.run(m.Init())
	return s.Resize(w, h)
}

// Resize gives the terminal another size.
func (s *Screen) Resize(w, h int) *Screen {
	s.w, s.h = w, h
	return s.Send(tea.WindowSizeMsg{Width: w, Height: h})
}

// Send gives the program a message and follows up on it.
func (s *Screen) Send(msg tea.Msg) *Screen {
	if s.left {
		return s
	}
	var cmd tea.Cmd
	s.model, cmd = s.model.Update(msg)
	s.run(cmd)
	return s
}

// run runs a command and whatever follows from it, or puts it aside while
// commands are held.
func (s *Screen) run(cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	if s.holding {
		s.held = append(s.held, cmd)
		return
	}
	switch msg := cmd().(type) {
	case nil:
	case tea.QuitMsg:
		s.left = true
	case tea.BatchMsg:
		for _, c := range msg {
			s.run(c)
		}
	default:
		s.Send(msg)
	}
}

// Hold puts commands aside from now on, to look at the moment in between.
func (s *Screen) Hold() *Screen {
	s.holding = true
	return s
}

// Release runs what was put aside, oldest first.
func (s *Screen) Release() *Screen {
	s.holding = false
	held := s.held
	s.held = nil
	for _, c := range held {
		s.run(c)
	}
	return s
}

// keys that are not typed as themselves.
var keys = map[string]tea.KeyMsg{
	"enter": {Type: tea.KeyEnter}, "esc": {Type: tea.KeyEsc}, "tab": {Type: tea.KeyTab},
	"shift+tab": {Type: tea.KeyShiftTab}, "up": {Type: tea.KeyUp}, "down": {Type: tea.KeyDown},
	"left": {Type: tea.KeyLeft}, "right": {Type: tea.KeyRight}, "home": {Type: tea.KeyHome},
	"end": {Type: tea.KeyEnd}, "pgup": {Type: tea.KeyPgUp}, "pgdown": {Type: tea.KeyPgDown},
	"backspace": {Type: tea.KeyBackspace}, "space": {Type: tea.KeySpace, Runes: []rune{' '}},
	"ctrl+c": {Type: tea.KeyCtrlC}, "ctrl+l": {Type: tea.KeyCtrlL}, "ctrl+u": {Type: tea.KeyCtrlU}, "ctrl+n": {Type: tea.KeyCtrlN}, "ctrl+p": {Type: tea.KeyCtrlP},
	"shift+left": {Type: tea.KeyShiftLeft}, "shift+right": {Type: tea.KeyShiftRight},
}

// Press presses keys, each by its name or as the letter it types.
func (s *Screen) Press(names ...string) *Screen {
	s.t.Helper()
	for _, name := range names {
		k, ok := keys[name]
		if !ok {
			if len([]rune(name)) != 1 {
				s.t.Fatalf("Press(%q): no key has that name", name)
			}
			k = tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(name)}
		}
		s.Send(k)
	}
	return s
}

// Type types text, a key a letter.
func (s *Screen) Type(text string) *Screen {
	s.t.Helper()
	for _, r := range text {
		if r == ' ' {
			s.Press("space")
			continue
		}
		s.Press(string(r))
	}
	return s
}

// Text returns the screen as plain text.
func (s *Screen) Text() string { return ansi.Strip(s.model.View()) }

// Raw returns the screen with its styles.
func (s *Screen) Raw() string { return s.model.View() }

// See fails the test unless the screen shows each text, on one line or wrapped
// over several.
func (s *Screen) See(texts ...string) *Screen {
	s.t.Helper()
	screen := s.Text()
	running := strings.Join(strings.Fields(screen), " ")
	for _, text := range texts {
		if !strings.Contains(screen, text) && !strings.Contains(running, text) {
			s.t.Fatalf("the screen does not show %q:\n%s", text, screen)
		}
	}
	return s
}

// DontSee fails the test if the screen shows one of the texts.
func (s *Screen) DontSee(texts ...string) *Screen {
	s.t.Helper()
	screen := s.Text()
	for _, text := range texts {
		if strings.Contains(screen, text) {
			s.t.Fatalf("the screen shows %q:\n%s", text, screen)
		}
	}
	return s
}

// Left reports whether the program has ended.
func (s *Screen) Left() bool { return s.left }

// Fits fails the test unless the screen is exactly as large as the terminal.
func (s *Screen) Fits() *Screen {
	s.t.Helper()
	lines := strings.Split(s.model.View(), "\n")
	if len(lines) > s.h {
		s.t.Fatalf("%d lines on a terminal of %d:\n%s", len(lines), s.h, s.Text())
	}
	for i, l := range lines {
		if n := ansi.StringWidth(l); n > s.w {
			s.t.Fatalf("line %d is %d cells wide on a terminal of %d: %q", i+1, n, s.w, ansi.Strip(l))
		}
	}
	return s
}
