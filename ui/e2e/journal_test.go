package e2e

import (
	"strings"
	"testing"
	"time"

	"cellar.local/glassrow/data"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui"
	"cellar.local/glassrow/ui/uitest"
)

// Ensure that the journal reads as a diary: by day, corrected, the newest first, and
// turned round with one key.
func TestJournal_IsADiary(t *testing.T) {
	s := open(t, newCellar(t)).addVessel("N1", "23L").startBatch("Mead", "20L", "1.090", "9d")
	s.Press("r").Type("1.050 @30c !3d; smells of bread").Press("enter").Press("r").Type("1.070 !6d").Press("enter")
	s.Press("n").Type(strings.Repeat("a long evening in the shed ", 5) + "and home").Press("enter").Press("l")
	// the second reading was written after the first and happened before it
	s.See("5 entries, newest first", "Wed 11 Mar, day 6", "Sun 8 Mar, day 3", "Thu 5 Mar, day 0", "and home",
		"reading 1.050, 30 °C → 1.05", "; smells of bread (written Sat 14 Mar 19:30)", "reading 1.070, -20 points, 2.6 % vol")
	before := func(first, then string) {
		t.Helper()
		if i, j := strings.Index(s.Text(), first), strings.Index(s.Text(), then); i < 0 || j < i {
			t.Fatalf("%q is not above %q:\n%s", first, then, s.Text())
		}
	}
	before("day 6", "day 3")
	s.Press("o").See("oldest first")
	before("day 3", "day 6")
	s.Press("o").See("newest first")
}

// Ensure that one kind can be picked out, that the screen says which, and that none of
// it is said in words.
func TestJournal_ShowsOneKind(t *testing.T) {
	s := open(t, newCellar(t)).addVessel("N1", "23L").startBatch("Mead", "20L", "1.090", "9d")
	s.Press("r").Type("1.070 !6d").Press("enter").Press("n").Type("quiet").Press("enter").Press("l")
	s.Press("f").See("readings: 1 of 4", "reading 1.070").DontSee("quiet", "must,")
	s.Press("f").See("what went in: 2 of 4", "must,", "yeast").DontSee("reading 1.070")
	s.Press("f").See("vessel: 0 of 4", "nothing was done to the vessel; f shows something else").Press("x", "down", "end", "pgup")
	s.Press("f").See("tastes and notes: 1 of 4", "quiet")
	s.Press("f").See("due: 0 of 4", "nothing was planned")
	s.Press("f").See("struck out: 0 of 4", "nothing is struck out")
	s.Press("F", "F", "x").Type("beside the point").Press("enter").See("struck out: quiet")
	s.Press("f", "f").See("struck out: 2 of 5", "(struck out: beside the point) quiet", "struck out entry 4, beside the point")
	s.Press("f").See("5 entries, newest first", "reading 1.070")
}

// Ensure that a failing disk keeps the reason, and that an entry which somebody else
// struck out meanwhile is not brought back by the same enter.
func TestJournal_KeepsTheReason(t *testing.T) {
	path := newCellar(t)
	open(t, path).addVessel("N1", "23L").startBatch("Mead", "20L", "1.090", "3d").Press("r").Type("1.080").Press("enter")
	real, err := data.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	o := options(t, &clock{evening})
	o.Store = failing{real}
	s := uitest.Start(t, ui.New(o), 80, 24)
	s.Press("l", "x").Type("foam").Press("enter").See("not written", "no room on the disk", "foam")

	other := open(t, path)
	other.Press("l", "x").Type("misread")
	if _, err := real.Append(1, model.Entry{At: evening, Recorded: evening, Body: model.Void{Entry: 3}}); err != nil {
		t.Fatal(err)
	}
	other.Send(ui.LookNow()).Press("enter").See("somebody else did that meanwhile", "misread")
}

// Ensure that the marks of the chart are walked, named, told apart without colour, and
// lead to their entry.
func TestChart_LeadsToTheJournal(t *testing.T) {
	for _, size := range [][2]int{{45, 30}, {80, 24}, {180, 50}} {
		s := openAt(t, newDemo(t), &clock{evening}, size[0], size[1])
		turnTo(s.Screen, "N3")
		s.DontSee("┃").Press(",").See("Thu 12 Mar 18:30  reading 1.055", "┃").Fits()
		s.Press(",", ",").See("Thu 5 Mar 18:35  reading 1.054").Fits()
		s.Press("l").See("▸ 18:35   16  reading 1.054").Press("esc").See("Thu 5 Mar 18:35")
		s.Press("enter").See("▸ 18:35   16  reading 1.054").Press("esc").See("Thu 5 Mar 18:35")
		s.Press(".", ".", ".").See("no mark;").DontSee("┃")
		s.Press("enter").See("reading of N3").Press("esc") // without a mark it reads
		s.Press(".").See("Sun 8 Feb 18:40  must")
		s.Press("down").DontSee("Sun 8 Feb 18:40").Press("l").See("Journal of")
	}
	empty := open(t, newCellar(t)).addVessel("N1", "23L")
	empty.Press(",").DontSee("┃")
}

// Ensure that a journal of a year is drawn wherever the cursor is.
func TestJournal_IsLong(t *testing.T) {
	path := newCellar(t)
	s := open(t, path).addVessel("N1", "23L").startBatch("Mead", "20L", "1.090", "300d")
	var entries []model.Entry
	for i := range 2000 {
		at := evening.Add(time.Duration(i-2001) * 3 * time.Hour)
		entries = append(entries, model.Entry{At: at, Recorded: at, Body: model.Note{Text: strings.Repeat("words ", 1+i%40)}})
	}
	if _, err := s.store.Append(1, entries...); err != nil {
		t.Fatal(err)
	}
	s = open(t, path)
	s.Press("l").See("2002 entries")
	for _, keys := range [][]string{{"down"}, {"pgdown"}, {"end"}, {"up"}, {"pgup"}, {"o"}, {"home"}, {"x"}} {
		s.Press(keys...)
		for _, size := range [][2]int{{45, 30}, {40, 12}, {180, 50}, {80, 24}} {
			s.Resize(size[0], size[1]).Fits().See("▸")
		}
	}
}
