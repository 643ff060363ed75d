package e2e

import (
	"strings"
	"testing"
	"time"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/data"
	"cellar.local/glassrow/model"
)

// Ensure that one sees where one types, on the narrowest screen too: what is longer moves
// along under the cursor, and back with it.
func TestTyping_IsSeenWhereTheCursorIs(t *testing.T) {
	path := newDemo(t)
	s := openAt(t, path, &clock{evening}, 45, 30)
	s.Press("r").Type("1.053 @19c ; smells of bread, and of honey").See("and of honey").Press("home").See("reading of N3 1.053").Fits()
	s.Press("esc").Press("n").Type("the cap is thick and dry, and pushes the lid up").See("pushes the lid up").Press("esc")
	s.Press("a").Type("honey 300g, crushed plum 2kg, white sugar 200g").See("white sugar 200g").Fits()
	s.Press("tab").See("what      honey 300g, crushed").Press("esc")
	s.Press("d", "n").Type("ask the neighbour for more plums 20dec").See("plums 20dec").Press("esc", "esc")
	s.Press("h", "/").Type("something nobody has ever").See("ever").Press("esc", "esc")
}

// Ensure that what a field wants can be read to its end on the narrowest screen, and that
// a choice stands in the column of what is typed, chosen from or not.
func TestForm_HintsAreWhole(t *testing.T) {
	s := openAt(t, newDemo(t), &clock{evening}, 45, 30)
	s.Press("V").See("its mass when empty", "may stay empty").Press("tab", "tab").
		See("\n▸ kind    ‹ demijohn ›", "\n  label     N3").Press("tab").See("\n  kind      demijohn").Press("esc")
	s.Press("m").Press("tab").See("what arrived, 18L; empty if", "nothing was left behind").Fits()
}

// Ensure that what is due now is not called late, over midnight too.
func TestDue_NowIsNotLate(t *testing.T) {
	for name, after := range map[string]time.Duration{"in the evening": 0, "over midnight": 4*time.Hour + 20*time.Minute} {
		path := newCellar(t)
		store, err := data.Open(path)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := store.AddVessel(model.Vessel{Label: "N1", Kind: model.Carboy, Capacity: 23, Added: evening}); err != nil {
			t.Fatal(err)
		}
		now := evening.Add(after)
		at := now.Add(-24*time.Hour - 30*time.Minute) // a must without yeast asks for it within a day
		if _, err := store.StartBatch(model.Batch{Name: "Heather mead", Drink: model.Mead, Entries: []model.Entry{
			{At: at, Recorded: at, Body: model.Must{Vessel: 1, Volume: 20, Gravity: calc.SG(1.104)}},
		}}); err != nil {
			t.Fatal(err)
		}
		s := openAt(t, path, &clock{now}, 45, 30)
		s.DontSee("1 late").Press("d").See("now  pitch").DontSee("LATE")
		if first := strings.Index(s.Text(), "TODAY"); first < 0 {
			t.Errorf("%s: what is due now is not among what is due today:\n%s", name, s.Text())
		}
		openAt(t, path, &clock{now.Add(time.Hour)}, 45, 30).See("1 late").Press("d").See("LATE", "1h late  pitch")
	}
}

// Ensure that words beside marks are whole on the narrowest screen, with two sweeteners
// and with one, and a mixture and its flavour in the planner.
func TestBench_WordsAreWhole(t *testing.T) {
	s := openAt(t, newDemo(t), &clock{evening}, 45, 30)
	chooseOnShelf(s, "N4")
	s.Press("t", "tab", "right", "enter").Type("6 thin").Press("tab").Type("7.5 round and long, of berries").Press("enter", "enter").
		See("round and long, of berries", "marks are written down").Fits()
	s.Press("esc", "s", "n", "m").See("‹ 2 white sugar + honey ›", "neutral; honey, floral").Fits()
	s.Press("t").Type("300g").Press("enter").See("300 g")
}

// Ensure that of a must what falls off a small screen is what tells least: the yeasts that
// are not meant, then the bar, and neither nitrogen nor cost.
func TestMust_LeastFallsOff(t *testing.T) {
	path := newDemo(t)
	for _, size := range [][2]int{{80, 24}, {45, 30}} {
		s := openAt(t, path, &clock{evening}, size[0], size[1])
		chooseOnShelf(s, "N6")
		s.Press("i", "y", "y", "y", "y", "n").Type("honey").Press("enter", "t").Type("3.5kg").Press("enter", "p").Type("9").Press("enter", "f").Type("30% in 2 at 1.02").Press("enter")
		s.Press("n").Type("tartaric").Press("enter").Press("n").Type("DAP").Press("enter")
		s.See("nitrogen", "there", "fed", "lager", "pH", "acidity", "about 1.").DontSee("wild").Fits()
		if size[0] == 80 {
			s.See("cost")
		}
	}
	openAt(t, path, &clock{evening}, 180, 50).Press("i", "n").Type("honey").Press("enter").See("lager", "wine")
}

// chooseOnShelf goes to a vessel on the shelf.
func chooseOnShelf(s session, label string) {
	for range 12 {
		for line := range strings.SplitSeq(s.Text(), "\n") {
			if strings.HasPrefix(line, "▸") && strings.Contains(line, " "+label+" ") {
				return
			}
		}
		s.Press("down")
	}
}

// Ensure that a volume without a unit is told beside its field as soon as it is left, with
// how it could be meant, that enter leads back to it, and that nothing typed is lost.
func TestForm_TellsWhereItIsWrong(t *testing.T) {
	path := newCellar(t)
	s := openAt(t, path, &clock{evening}, 45, 30)
	s.Press("enter").See("no vessel yet").Press("v").DontSee("no vessel yet")
	s.Type("N1").Press("tab", "tab").Type("12").Press("tab").See("\n  holds     12 ", `volume "12" has no unit; write 12L or`, "12gal").Fits()
	s.Type("shelf").Press("tab").Type("2").Press("tab", "tab", "tab", "tab", "enter").See("▸ holds     12").See("shelf", "has no unit")
	s.Type("L").DontSee("12 has no unit").Press("tab", "tab").See("▸ tare").Press("backspace").Type("2kg").Press("enter").See("carboy, 12.0 L", "N1 is on the shelf")
	s.See("b starts a batch, i builds", "its must first").Press("enter").See("N1 is empty").Press("b").DontSee("N1 is empty").Press("esc")
	s.Press("b").Type("Heather mead").Press("tab", "tab").Type("500").Press("tab").See("500mL or 500L").Press("esc")
}

// Ensure that a test of sulfite begins with a hint and not with a refusal.
func TestEntryLine_BegunIsNotWrong(t *testing.T) {
	s := openAt(t, newDemo(t), &clock{evening}, 45, 30)
	s.Press("d")
	for range 20 {
		if strings.Contains(s.Text(), "test free SO2,") {
			break
		}
		s.Press("down")
	}
	s.Press("enter").See("reading of N5 so2=", "so2=25").DontSee("not understood").Type("30").See("free SO2 30 mg/L").Press("esc")
}

// Ensure that racking tells what comes of it, as the other forms do: how full the next
// vessel is, and that it holds less.
func TestRack_TellsWhatComes(t *testing.T) {
	s := openAt(t, newDemo(t), &clock{evening}, 45, 30)
	chooseOnShelf(s, "N1")
	s.Press("m").See("N6: 19.", "of 15.0 L", "more than N6 holds").Press("tab").Type("14L").See("N6: 14.00 L of 15.0 L").DontSee("more than").Fits().Press("esc")
	s.Press("e").See("feed a nutrient").Press("esc")
}

// Ensure that what a form holds because it is usual makes way for what is typed.
func TestForm_UsualMakesWay(t *testing.T) {
	s := openAt(t, newDemo(t), &clock{evening}, 45, 30)
	selectLabel(s, "N5")
	s.Press("f").Type("4").Press("tab").See("750mL").Type("500mL").See("500mL").DontSee("750mL500").Press("tab", "tab", "tab").Type("2d")
	s.See("2d").DontSee("now2d").Press("ctrl+u").Type("now").See("▸ when      now").Press("esc")
	// going on from it is another thing than typing over it
	s.Press("f").Press("tab", "backspace", "backspace").Type("cL").See("750cL").Press("esc")
}

// Ensure that what honey does to infants is told once, before it is stirred in and in the
// question whether to.
func TestSweeten_TellsACautionOnce(t *testing.T) {
	for _, size := range [][2]int{{45, 30}, {80, 24}, {180, 50}} {
		s := openAt(t, newDemo(t), &clock{evening}, size[0], size[1])
		selectLabel(s, "N5")
		s.Press("s", "right", "right")
		for _, then := range []string{"", "enter"} {
			if then != "" {
				s.Press(then).See("Stir", "y yes")
			}
			if n := strings.Count(s.Text(), "infant botulism"); n != 1 {
				t.Errorf("%v after %q: the caution stands there %d times:\n%s", size, then, n, s.Text())
			}
		}
	}
}

// Ensure that on a narrow screen the footer of a cellar without a vessel names the key
// that adds one, and that of another cellar the reading.
func TestShelf_NamesTheFirstThingToDo(t *testing.T) {
	s := openAt(t, newCellar(t), &clock{evening}, 45, 30).See("No vessels yet", "v add a vessel", "? keys", "q quit").DontSee("r read", "s sweeten").Fits()
	s.Press("v").Type("N1").Press("tab", "tab").Type("23L").Press("enter").See("r read").DontSee("v add a vessel")
}

// Ensure that what is known of a vessel is told in gallons and pounds where those are
// meant, and that what is not typed anew stays exactly what it was.
func TestVessel_ChangedInUSUnits(t *testing.T) {
	s := open(t, newCellar(t)).addVessel("N1", "23L")
	s.Press("V").See("holds     23l").Type("6.4kg").Press("enter").See("6400 g empty")
	s.Press("U").Press("V").See("holds     6.08 gal", "tare      14.11 lb").Press("shift+tab").Type("shelf").Press("enter").See("shelf", "written down anew")
	shelf, err := s.store.Shelf()
	if err != nil {
		t.Fatal(err)
	}
	if v := shelf.Vessels[0]; v.Capacity != 23 || v.Tare != 6400 || v.Place != "shelf" {
		t.Errorf("vessel %+v, want 23 L, 6400 g, shelf", v)
	}
}
