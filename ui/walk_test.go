package ui

import (
	"testing"

	tea "github.com/charmbracelet/bubbletea"
)

func TestWalkKeys_StayInTheList(t *testing.T) {
	keys := newWalkKeys("row")
	for _, c := range []struct {
		key     tea.KeyMsg
		at, n   int
		to      int
		goes    bool
		because string
	}{
		{tea.KeyMsg{Type: tea.KeyDown}, 0, 3, 1, true, "one down"},
		{tea.KeyMsg{Type: tea.KeyDown}, 2, 3, 2, true, "the last stays"},
		{tea.KeyMsg{Type: tea.KeyUp}, 0, 3, 0, true, "the first stays"},
		{tea.KeyMsg{Type: tea.KeyPgDown}, 1, 30, 1 + walkPage, true, "a page"},
		{tea.KeyMsg{Type: tea.KeyPgUp}, 3, 30, 0, true, "no page before the first"},
		{tea.KeyMsg{Type: tea.KeyEnd}, 0, 30, 29, true, "the last"},
		{tea.KeyMsg{Type: tea.KeyEnd}, 0, 0, 0, true, "an empty list has a first line at most"},
		{tea.KeyMsg{Type: tea.KeyEnter}, 4, 30, 4, false, "enter does not walk"},
	} {
		if to, goes := keys.walk(c.key, c.at, c.n); to != c.to || goes != c.goes {
			t.Errorf("%s: %v at %d of %d leads to %d, %v; want %d, %v", c.because, c.key, c.at, c.n, to, goes, c.to, c.goes)
		}
	}
	bottles := newBottlesKeys()
	if _, goes := bottles.walk(tea.KeyMsg{Type: tea.KeyPgDown}, 0, 9); goes {
		t.Error("pages of the bottles are of their tastings, and walk the list")
	}
}
