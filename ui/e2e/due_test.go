package e2e

import (
	"strings"
	"testing"
	"time"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// Ensure that what is due can be done, ticked off, put off and undone in one place, on
// a phone too, and that it is so after a restart.
func TestDue_AnEvening(t *testing.T) {
	path := newDemo(t)
	for _, size := range [][2]int{{45, 30}, {80, 24}, {180, 50}} {
		s := openAt(t, path, &clock{evening}, size[0], size[1])
		s.Press("d").See("What to do", "LATE", "LATER", "because").Fits()
		s.Press("?").See("put off", "tick off").Press("esc", "esc").See("doing")
	}

	s := openAt(t, path, &clock{evening}, 80, 24)
	chosen := func(what string) { // walks to a thing due
		t.Helper()
		s.Press("k", "k", "k", "k", "k", "k", "k", "k", "k", "k", "k", "k", "k", "k", "k", "k", "k", "k", "k", "k", "k", "k", "k", "k", "k")
		for range 30 {
			for line := range strings.SplitSeq(s.Text(), "\n") {
				if strings.HasPrefix(line, "▸") && strings.Contains(line, what) {
					return
				}
			}
			s.Press("j")
		}
		t.Fatalf("%q is not due:\n%s", what, s.Text())
	}
	s.Press("d")
	chosen("top up")
	s.See("% full").Press("x").See("N4: top up is done").Press("u").See("Strike out").Press("n").See("left as it was").Press("u", "y").See("struck out")
	chosen("top up")
	s.Press("p").Type("yesterday").See("not understood").Press("enter").See("not understood", "yesterday").Press("ctrl+u").Type("3d").See("top up put off to").Press("enter").See("N4: top up put off")
	chosen("top up")
	s.See("in 3d")

	// A reading is typed where one is due, and the list is there again after it.
	chosen("N1      2d late  read")
	s.Press("enter").See("reading of N1").Type("1.003").Press("enter").See("written down", "What to do").DontSee("N1      2d late")
	chosen("pitch")
	s.Press("enter").See("Yeast into N2").Press("esc").See("What to do")

	// The person's own, typed in one line.
	chosen("pitch")
	s.Press("n").See("remind me of N2").Type("buy corks").Press("enter").See("not understood").Type(" 2apr").See("you will be reminded, Thu 2 Apr 12:00").Press("enter")
	s = openAt(t, path, &clock{evening}, 80, 24)
	s.Press("d")
	chosen("buy corks")
	s.See("because you asked for it on 14 Mar 2026").Press("enter").See("N2: buy corks is done").DontSee("N2       in")
}

// Ensure that a dose of a feed plan becomes a feeding, and a cap a stirring.
func TestDue_ADoseIsAFeeding(t *testing.T) {
	path := dryWine(t)
	s := openAt(t, path, &clock{evening}, 80, 24)
	day := func(n int) time.Time { return evening.AddDate(0, 0, -n) }
	entry := func(days int, b model.Body) model.Entry {
		return model.Entry{At: day(days), Recorded: evening, Body: b}
	}
	made, err := s.store.StartBatch(model.Batch{Name: "Plain mead", Drink: model.Mead, Entries: []model.Entry{
		entry(3, model.Must{Vessel: 2, Volume: 10, Gravity: 1.1}), entry(3, model.Pitch{Yeast: model.WineYeast}),
		entry(3, model.FeedPlan{Doses: []model.Meal{{What: "yeast food", Mass: 5, After: 24 * time.Hour}, {What: "yeast food", Mass: 5, Mark: 1.067}}}),
		entry(1, model.Reading{Gravity: 1.065, Scale: model.ScaleSG, Calibration: calc.Celsius(20)}),
	}})
	if err != nil {
		t.Fatal(err)
	}
	s = openAt(t, path, &clock{evening}, 80, 24)
	s.Press("d").See("feed 5 g yeast food", "dose 1 of 2").Press("x").See("is done", "dose 2 of 2", "gravity has come down to 1.067")
	s.Press("enter").See("Feed N6, Plain mead", "yeast food 5g", "This is dose 2 of 2 of the plan").Press("enter").See("N6: fed, dose 2 of 2 of the plan").DontSee("because dose 2")
	b, err := s.store.Batch(made.ID)
	if err != nil {
		t.Fatal(err)
	}
	for i, e := range b.Entries[len(b.Entries)-2:] {
		if f, ok := e.Body.(model.Feed); !ok || f.Plan != 3 || f.Dose != i || f.Mass != 5 {
			t.Errorf("entry %d is %+v", e.ID, e.Body)
		}
	}
}
