package ui

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// walkKeys are the keys that walk a list; a list does without those that it leaves
// unbound.
type walkKeys struct {
	Up, Down, PageUp, PageDown, Top, Bottom key.Binding
}

// newWalkKeys names the lines of the list in the help: vessel, entry, row.
func newWalkKeys(line string) walkKeys {
	return walkKeys{
		Up:       bind("up", "↑ k", line+" above", "k"),
		Down:     bind("down", "↓ j", line+" below", "j"),
		PageUp:   bind("pgup", "pgup", "a page up"),
		PageDown: bind("pgdown", "pgdn", "a page down"),
		Top:      bind("home", "home g", "first "+line, "g"),
		Bottom:   bind("end", "end G", "last "+line, "G"),
	}
}

func (w walkKeys) all() []key.Binding {
	return []key.Binding{w.Up, w.Down, w.PageUp, w.PageDown, w.Top, w.Bottom}
}

// walkPage is how many lines a page key goes: about a screenful on a small one.
const walkPage = 10

// walk returns where a key leads from line at in a list of n, and whether the key is
// one that walks.
func (w walkKeys) walk(k tea.KeyMsg, at, n int) (to int, walks bool) {
	switch {
	case key.Matches(k, w.Up):
		at--
	case key.Matches(k, w.Down):
		at++
	case key.Matches(k, w.PageUp):
		at -= walkPage
	case key.Matches(k, w.PageDown):
		at += walkPage
	case key.Matches(k, w.Top):
		at = 0
	case key.Matches(k, w.Bottom):
		at = n - 1
	default:
		return at, false
	}
	return max(0, min(at, n-1)), true
}
