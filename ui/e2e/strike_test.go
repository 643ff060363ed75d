package e2e

import (
	"fmt"
	"math"
	"testing"
	"unicode"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/data"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui"
	"cellar.local/glassrow/ui/plot"
	"cellar.local/glassrow/ui/uitest"
)

// gramsOf returns what all vessels of a cellar hold together of every component, and
// each batch's volume, read afresh from the file.
func gramsOf(t *testing.T, path string) map[string]float64 {
	t.Helper()
	store, err := data.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	shelf, err := store.Shelf()
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]float64{}
	for _, sum := range shelf.Batches {
		if sum.Vessel == 0 {
			continue
		}
		b, err := store.Batch(sum.Batch)
		if err != nil {
			t.Fatal(err)
		}
		s, err := model.Replay(b, evening.AddDate(1, 0, 0))
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range calc.Components() {
			all[fmt.Sprintf("g of component %v", c)] += float64(s.Liquid.Of(c))
		}
		all["L of "+b.Name] = float64(s.Figures.Volume)
	}
	return all
}

func sameGrams(t *testing.T, what string, want, got map[string]float64) {
	t.Helper()
	if len(want) != len(got) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
	for k, had := range want {
		if has := got[k]; math.Abs(had-has) > 1e-9*math.Max(1, had) {
			t.Errorf("%s: %.12g %s, want %.12g", what, has, k, had)
		}
	}
}

// twoDrinks makes a cellar with two drinks that ferment out, and an empty vessel.
func twoDrinks(t *testing.T) string {
	t.Helper()
	path := newCellar(t)
	said := newCommands(t, path)
	for _, args := range [][]string{
		{"vessel", "add", "N1", "--capacity", "23L"}, {"vessel", "add", "S1", "--capacity", "5L"}, {"vessel", "add", "S2", "--capacity", "5L"},
		{"start", "Heather mead", "--vessel", "N1", "--kind", "mead", "--volume", "18L", "--gravity", "1.104", "--yeast", "wine", "--at", "20d"},
		{"start", "Windfall perry", "--vessel", "S1", "--kind", "perry", "--volume", "4.5L", "--gravity", "1.052", "--yeast", "wine", "--at", "20d"},
		{"record", "N1", "1.020", "--at", "2d"}, {"record", "S1", "1.004", "--at", "2d"},
	} {
		if out, ok := said.run(args...); !ok {
			t.Fatalf("%v: %s %s", args, out, said.deps.Err)
		}
	}
	return path
}

// Ensure that a pour struck out by keys is struck out on both sides, later entries or
// not, from either side, and comes back on both.
func TestStrike_APourByKeys(t *testing.T) {
	for _, size := range [][2]int{{45, 30}, {80, 24}, {180, 50}} {
		path := twoDrinks(t)
		before := gramsOf(t, path)
		s := openAt(t, path, &clock{evening}, size[0], size[1])
		selectLabel(s, "N1")
		s.Press("e", "b", "tab").Type("1.5L").Press("enter").See("poured in")
		poured := gramsOf(t, path)
		s.Press("n").Type("a note after it").Press("enter")

		s.Press("l", "down").See("▸").Press("x").See("Strike this out of Heather mead?", "1.5 L of Windfall perry poured in",
			"In the journal of Windfall perry: 1.5 L drawn off, into Heather mead", "Windfall perry: ").Fits()
		s.Press("enter").See("struck out: 1.5 L of Windfall perry")
		sameGrams(t, "struck out in N1", before, gramsOf(t, path))
		s.Press("x").See("Bring this back into Heather mead?", "In the journal of Windfall perry").Fits().Press("enter").See("brought back")
		sameGrams(t, "brought back in N1", poured, gramsOf(t, path))

		s.Press("esc")
		selectLabel(s, "S1")
		s.Press("l", "f", "f", "f").See("vessel: 1 of").Press("x").See("In the journal of Heather mead: 1.5 L of Windfall perry poured in").Fits()
		s.Type("never happened").Press("enter").See("struck out: 1.5 L drawn off")
		sameGrams(t, "struck out in S1", before, gramsOf(t, path))
	}
}

// Ensure that a pour struck out by the command is struck out on both sides, and a split.
func TestStrike_ByCommand(t *testing.T) {
	path := twoDrinks(t)
	said := newCommands(t, path)
	store, err := data.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	before := gramsOf(t, path)
	run := func(args ...string) string {
		t.Helper()
		out, ok := said.run(args...)
		if !ok {
			t.Fatalf("%v: %s %s", args, out, said.deps.Err)
		}
		return out
	}
	run("blend", "N1", "--from", "S1", "--volume", "1.5L")
	poured := gramsOf(t, path)
	run("note", "N1", "after it")
	run("void", "S1", "4") // the draw
	sameGrams(t, "pour struck out", before, gramsOf(t, path))
	run("void", "N1", "4") // the pour
	sameGrams(t, "pour brought back", poured, gramsOf(t, path))
	run("void", "N1", "4")
	sameGrams(t, "pour struck out again", before, gramsOf(t, path))

	run("split", "N1", "--to", "S2", "--volume", "4L", "--name", "Heather, dry")
	split := gramsOf(t, path)
	b := batchNamed(t, store, "Heather, dry")
	copied := b.Entries[2]
	run("void", "S2", fmt.Sprint(copied.ID)) // a reading of the copied journal, by itself
	if is := gramsOf(t, path); math.Abs(is["L of Heather mead"]-split["L of Heather mead"]) > 1e-9 {
		t.Errorf("a reading struck out of the part left %.3f L in N1, want %.3f", is["L of Heather mead"], split["L of Heather mead"])
	}
	run("void", "S2", fmt.Sprint(copied.ID))
	sameGrams(t, "reading brought back", split, gramsOf(t, path))
	run("void", "S2", fmt.Sprint(b.Entries[len(b.Entries)-1].ID))
	sameGrams(t, "split struck out", before, gramsOf(t, path))
	n1 := batchNamed(t, store, "Heather mead")
	for _, e := range n1.Entries {
		if d, ok := e.Body.(model.Draw); ok && d.To == b.ID {
			run("void", "N1", fmt.Sprint(e.ID))
		}
	}
	sameGrams(t, "split brought back", split, gramsOf(t, path))
}

// Ensure that where only ASCII can be shown other people's letters are left out of what
// follows from striking out, and of the fields of a form.
func TestStrike_ASCII(t *testing.T) {
	path := twoDrinks(t)
	said := newCommands(t, path)
	for _, args := range [][]string{
		{"vessel", "set", "S2", "--place", "süd"},
		{"start", "Weißdorn", "--vessel", "S2", "--kind", "wine", "--volume", "4L", "--gravity", "1.080", "--yeast", "wine", "--at", "20d"},
		{"blend", "N1", "--from", "S2", "--volume", "1L"},
	} {
		if out, ok := said.run(args...); !ok {
			t.Fatalf("%v: %s %s", args, out, said.deps.Err)
		}
	}
	o := options(t, &clock{evening})
	store, err := data.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	o.Store, o.Glyphs = store, ui.GlyphsFor(plot.ASCII)
	s := session{uitest.Start(t, ui.New(o), 80, 24), store, &clock{evening}}
	selectLabel(s, "N1")
	ascii := func() {
		t.Helper()
		for i, r := range s.Text() {
			if r > unicode.MaxASCII {
				t.Fatalf("byte %d is %q on an ASCII screen:\n%s", i, r, s.Text())
			}
		}
	}
	s.Press("l", "x").See("Wei?dorn: ")
	ascii()
	s.Press("esc", "esc")
	selectLabel(s, "S2")
	s.Press("V").See("place     s?d")
	ascii()
}
