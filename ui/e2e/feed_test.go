package e2e

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/data"
	"cellar.local/glassrow/model"
)

// meadToFeed makes a cellar with a mead of a day, and returns its path.
func meadToFeed(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "cellar.db")
	store, err := data.Create(path, model.Settings{CellarName: "Test cellar"})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := store.AddVessel(model.Vessel{Label: "N1", Kind: model.Carboy, Capacity: 23, Added: evening}); err != nil {
		t.Fatal(err)
	}
	at := evening.Add(-25 * day / 24)
	if _, err := store.StartBatch(model.Batch{Name: "Heather mead", Drink: model.Mead, Entries: []model.Entry{
		{At: at, Recorded: at, Body: model.Must{Vessel: 1, Volume: 20, Gravity: 1.104}},
		{At: at, Recorded: at, Body: model.Pitch{Yeast: model.WineYeast}},
	}}); err != nil {
		t.Fatal(err)
	}
	return path
}

// Ensure that a feeding is the same entry by the menu and by the command, nitrogen and
// dose and all, and that the list of what is due follows.
func TestFeed_ByMenuAndByCommand(t *testing.T) {
	byKeys, byCommands := meadToFeed(t), meadToFeed(t)
	said := newCommands(t, byCommands)
	for _, args := range [][]string{
		{"feed", "N1", "diammonium phosphate 3g"}, {"feed", "N1", "DAP 12g", "--plan", "quarters"}, {"feed", "N1", "complex nutrient 4g", "--at", "3h"},
		{"feed", "N1", "ammonium phosphate 3.5g"}, {"feed", "N1", "yeast hulls"},
	} {
		if out, ok := said.run(args...); !ok {
			t.Fatalf("%v: %s %s", args, out, said.deps.Err)
		}
	}
	for _, size := range [][2]int{{45, 30}, {80, 24}, {180, 50}} {
		openAt(t, byKeys, &clock{evening}, size[0], size[1]).Press("e", "n").See("diammonium phosphate, ").Type("inac").
			See("inactive yeast").DontSee("diammonium").Fits().Press("esc")
	}
	s := openAt(t, byKeys, &clock{evening}, 80, 24)
	// the first offered, the next, and back; then the amount
	s.Press("e", "n", "right", "right").See("▸ what ammonium sulfate").Press("left").Type("3g")
	s.See("3.00 g of diammonium phosphate: 32 mg/L", "Nothing given before; of itself the must of a mead has some 60 mg/L").DontSee("of the plan").Press("enter").See("N1: feed written down")
	s.Press("e", "l").Type("DAP 12g").Press("tab", "right", "right").See("quarters").Press("enter").See("plan written down")
	s.Press("e", "n").Type("mix").See("complex nutrient").Press("right").Type("4g").See("32 mg/L given before, 57 with this")
	s.Press("tab", "ctrl+u").Type("3h").See("Nothing given").Press("enter").See("feed written down")
	s.Press("e", "n").Type("ammonium phosphate 3.5g").See("This is dose 1 of 4 of the plan").Fits().Press("enter").See("N1: fed, dose 1 of 4 of the plan")
	s.Press("e", "n").Type("yeast hulls").See("yeast hulls is not in the handbook").Press("enter").See("feed written down")

	_, keys := batchIn(t, byKeys)
	_, commands := batchIn(t, byCommands)
	if diff := cmp.Diff(commands.Entries, keys.Entries, cmp.AllowUnexported(calc.Liquid{})); diff != "" {
		t.Errorf("by keys (+) and by command (-) it is not the same:\n%s", diff)
	}
	if f, ok := keys.Entries[5].Body.(model.Feed); !ok || f.Plan != 4 || f.Dose != 0 || f.Nitrogen < 30 {
		t.Errorf("entry 6 is %+v, want dose 1 of the plan in entry 4", keys.Entries[5].Body)
	}
	s.Press("d", "j").See("dose 2 of 4", "3 g DAP").DontSee("dose 1 of 4").Press("esc")
	s.Press("u", "y", "u", "y").See("struck out").Press("d", "j").See("dose 1 of 4")
}

// Ensure that a dose that another session gave meanwhile is not given twice.
func TestFeed_TheDoseWasGivenMeanwhile(t *testing.T) {
	path := meadToFeed(t)
	said := newCommands(t, path)
	said.run("feed", "N1", "DAP 12g", "--plan", "quarters")
	s := openAt(t, path, &clock{evening}, 80, 24)
	s.Press("e", "n").Type("DAP 3g").See("dose 1 of 4")
	said.run("feed", "N1", "DAP 3g")
	s.Press("enter").See("dose 2 of 4 of the plan")
}

// Ensure that a feeding too late or too large is cautioned against while it is typed.
func TestFeed_IsCautionedAgainst(t *testing.T) {
	path := meadToFeed(t)
	newCommands(t, path).run("record", "N1", "1.030")
	for _, size := range [][2]int{{45, 30}, {80, 24}, {180, 50}} {
		s := openAt(t, path, &clock{evening}, size[0], size[1])
		s.Press("e", "n").Type("DAP 30g").See("% vol: from about 9 on", "more than the 19.", "that rules allow or makers advise").Fits()
	}
}

// Ensure that the form of a feeding plan offers as much as is missing, by the sums of the
// command, and counts what was given and planned.
func TestFeedPlan_OffersWhatIsMissing(t *testing.T) {
	path := meadToFeed(t)
	said := newCommands(t, path)
	s := openAt(t, path, &clock{evening}, 45, 30)
	s.Press("e", "l").See("diammonium phosphate 17.4g").Press("right").
		See("it wants 245 mg/L", "of itself", "has some 60 mg/L. 185 are missing: 17.4 g", "The doses: 8.70 g at 12h").Fits()
	s.Press("tab", "right").See("thirds", "5.80 g at 12h", "1.040").Press("enter").See("plan written down")
	s.Press("e", "l").Type("DAP").See("185 is planned", "None is missing.").DontSee("DAP 0").Press("esc")
	s.Press("e", "n").Type("DAP 5.8g").Press("enter").See("fed, dose 1 of 3")
	s.Press("e", "l").Type("DAP").See("was given, ", "None is missing.").Press("ctrl+u").Type("tea leaves").See("is not in the handbook").Press("esc")
	s.Press("e", "l").Type("DAP 40g").See("more than the").Press("esc")
	done := openAt(t, newDemo(t), &clock{evening}, 45, 30) // of what is done no amount is offered
	chooseOnShelf(done, "N4")
	done.Press("e", "l").See("› diammonium phosphate, ").Press("right").See("takes up little more").Press("esc")
	if out, ok := said.run("calc", "feed", "--volume", "20L", "--brix", "24.66", "--need", "medium", "--nitrogen", "60"); !ok || !strings.Contains(out, "17.4") {
		t.Errorf("calc feed says another amount than the form: %s", out)
	}
}
