package e2e

import (
	"strings"
	"testing"

	"cellar.local/glassrow/data"
	"cellar.local/glassrow/model"
)

// Ensure that drink goes from one batch to another and into a new one from the menu,
// that the form tells what will come of it, and that one undo takes both sides back, on
// every size of screen.
func TestLife_BetweenVessels(t *testing.T) {
	for _, size := range [][2]int{{45, 30}, {80, 24}, {180, 50}} {
		path := newDemo(t)
		store, err := data.Open(path)
		if err != nil {
			t.Fatal(err)
		}
		beforeB1, beforeN1 := volumeOf(t, store, "Buckwheat mead"), volumeOf(t, store, "Heather-honey mead")
		s := openAt(t, path, &clock{evening}, size[0], size[1])
		selectLabel(s, "N1")

		// Too much is told while it is typed, and refused with what was typed kept.
		s.Press("e").See("top up or blend", "split a part off").Fits()
		s.Press("b").See("Pour into N1", "B1 Buckwheat mead").Press("tab").Type("12L").See("more than N1 holds").Fits()
		s.Press("enter").See("not written", "does not fit", "12L").DontSee("not accepted")
		s.Press("ctrl+u").Type("2L").See("N1: 21.", "B1: 1").Press("enter").See("2.0 L of Buckwheat mead poured in")
		if is := volumeOf(t, store, "Buckwheat mead"); is > beforeB1-1.99 || is < beforeB1-2.01 {
			t.Errorf("B1 holds %.3f L after 2 L of %.3f went", is, beforeB1)
		}

		// The other side undoes it too.
		selectLabel(s, "B1")
		s.Press("u").See("and what was written with it in", "2.0 L drawn off").Press("y").See("struck out")
		if is := volumeOf(t, store, "Heather-honey mead"); is != beforeN1 {
			t.Errorf("N1 holds %.9f L after an undo in B1, %.9f before", is, beforeN1)
		}

		// A part begins in an empty vessel, and vanishes from there with its undo.
		selectLabel(s, "N1")
		s.Press("e", "s").See("Split N1", "N6").Press("tab").Type("50L").See("50 L out of 19").Press("enter", "enter", "enter", "enter").See("50L", "50 L out of 19")
		s = openAt(t, path, &clock{evening}, size[0], size[1])
		selectLabel(s, "N1")
		s.Press("e", "s", "tab").Type("6L").See("N6: 6.00 L of 15.0 L").Press("tab").Type("Heather, dry").Press("enter").See("Heather, dry is in N6 now").Fits()
		selectLabel(s, "N6")
		s.See("Heather, dry").Press("u").See("entries written together", "must, 19", "what was written with it in").Fits().Press("y").See("struck out")
		s.DontSee("Heather, dry")
		if is := volumeOf(t, store, "Heather-honey mead"); is != beforeN1 {
			t.Errorf("N1 holds %.9f L after its part was undone, %.9f before", is, beforeN1)
		}
	}
}

// Ensure that each line of the menu writes what it says.
func TestLife_InTheVessel(t *testing.T) {
	path := newDemo(t)
	s := openAt(t, path, &clock{evening}, 80, 24)
	selectLabel(s, "N1")
	s.Press("e", "n").See("boils over").Type("five DAP 5 spoons").Press("enter", "enter").See("not understood").Press("shift+tab")
	s.Press("esc", "e", "enter").Type("DAP 5g").Press("enter").See("feed written down")
	s.Press("e", "c", "enter").See("stirring written down")
	s.Press("e", "w").See("room for 3.7").Type("500mL").See("N1: 19.77").Press("enter").See("topped up")
	s.Press("e", "d").Type("250mL").See("N1: 19.5").Press("enter").See("drawn off")
	s.Press("e", "f").See("allergic").Type("bentonite").Press("enter").See("fining written down")
	s.Press("e", "m").Type("under the stairs").Press("enter").See("moved")
	s.Press("e", "t").Type("11").Press("enter", "enter", "enter", "enter").See("outside 0 to 10").Press("esc")
	s.Press("e", "t").Type("7").Press("tab").Type("young").Press("enter").See("taste written down")
	s.Press("e", "p").Type("18L").See("N1: 18.00 L").Press("enter").See("fruit out")

	store, err := data.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	var kinds []string
	b := batchNamed(t, store, "Heather-honey mead")
	for _, e := range b.Entries[len(b.Entries)-8:] {
		kinds = append(kinds, string(e.Body.Kind()))
	}
	if got, want := strings.Join(kinds, " "), "feed stir addition draw fine move taste press"; got != want {
		t.Errorf("the journal ends with %q, want %q", got, want)
	}

	// Bottling says how many fit, and keeps the closure.
	s.Press("f").Type("20").See("18.00 L fills 24 bottles of 750 mL", "3.00 L is left behind")
	s.Press("tab", "tab").Type("cork").Press("tab", "right").See("3.00 L stays in N1").Press("enter").See("bottling written down")
	b = batchNamed(t, store, "Heather-honey mead")
	if bottled, ok := b.Entries[len(b.Entries)-1].Body.(model.Bottle); !ok || bottled.Closure != "cork" || !bottled.Rest {
		t.Errorf("bottled as %+v", b.Entries[len(b.Entries)-1].Body)
	}
	s.Press("e", "t", "tab").Type("sharp").Press("tab", "ctrl+u").Type("21").Press("enter").See("21 bottles taken out of 20").Press("ctrl+u").Type("1").Press("enter").See("taste written down")
}

// volumeOf returns what is left of the batch of that name, reckoned from its journal.
func volumeOf(t *testing.T, store *data.Store, name string) float64 {
	t.Helper()
	s, err := model.Replay(batchNamed(t, store, name), evening)
	if err != nil {
		t.Fatal(err)
	}
	return float64(s.Figures.Volume)
}

// Ensure that the keys of the shelf can all be read on a phone: the help scrolls, and
// any other key leaves it.
func TestHelp_Scrolls(t *testing.T) {
	s := openAt(t, newDemo(t), &clock{evening}, 45, 20)
	s.Press("?").See("vessel above", "the rest").DontSee("a note after ;").Fits()
	s.Press("down", "down", "down", "down", "down").See("quit", "a note after ;", "any key").DontSee("vessel above").Fits()
	s.Press("down").See("quit").Press("up", "up", "up", "up").See("vessel above")
	s.Press("x").DontSee("vessel above")
	s.Resize(180, 50).Press("?").DontSee("the rest").Press("down").DontSee("vessel above")
}
