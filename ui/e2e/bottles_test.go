package e2e

import (
	"testing"

	"cellar.local/glassrow/model"
)

// Ensure that bottles are taken, marked and put back from the dashboard, that what is
// typed survives a refusal, and that the journal reached from there is that of the
// bottles and not of the shelf.
func TestBottles_TakeTasteUndo(t *testing.T) {
	path := newDemo(t)
	s := openAt(t, path, &clock{evening}, 80, 24)
	s.Press("c").See("5 bottles left", "Quince wine", "5 of 13", "best on", "shut, all cork and cellar")
	s.Press("t").See("Taste a bottle of Quince wine").Type("12").Press("tab").Type("fading").Press("enter").See("outside 0 to 10", "fading")
	s.Press("up").Press("ctrl+u").Type("7").Press("enter").See("1 bottle taken, 4 left", "4 of 13", "fading")
	s.Press("g").Press("ctrl+u").Type("9").Press("enter", "enter").See("9 bottles: only 4 of 13 are left")
	s.Press("up", "ctrl+u").Type("4").Press("tab").Type("to the mill").Press("enter").See("4 bottles taken, none left", "0 of 13")
	s.Press("t").See("no bottle is left of 13").Press("u").See("Strike out of Quince wine: 4 bottles taken; to the mill").Press("y").See("4 of 13")
	s.Press("l").See("Journal of Quince wine").Press("u").See("Strike out of Quince wine: tasted, 1 bottle, 7 of 10; fading").Press("y")
	s.See("Journal of Quince wine", "(struck out: undo) tasted").Press("esc").See("5 of 13").DontSee("   7  fading")
	s.Press("o").See("by name").Press("?").See("take some away").Press("esc").Press("esc").See("SG")

	s = openAt(t, path, &clock{evening}, 45, 30)
	s.Press("c").See("5 of 13").Press("enter").Press("enter").See("4 of 13").Press("g", "esc").See("4 of 13")
}

// Ensure that keys typed before the bottles are read are not lost, and that bottles
// taken by another session show.
func TestBottles_AheadAndBeside(t *testing.T) {
	path := newDemo(t)
	s := openAt(t, path, &clock{evening}, 80, 24)
	s.Hold()
	s.Press("c", "t").See("reading the bottles")
	s.Release().See("Taste a bottle of Quince wine").Press("esc")
	other := openAt(t, path, s.clock, 80, 24)
	if _, err := other.store.Append(12, model.Entry{At: evening, Recorded: evening, Body: model.Tasted{Bottles: 2}}); err != nil {
		t.Fatal(err)
	}
	s.Press("esc", "ctrl+l", "c").See("3 of 13")
}
