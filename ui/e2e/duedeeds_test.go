package e2e

import (
	"strings"
	"testing"
	"time"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/data"
	"cellar.local/glassrow/model"
)

// dueCellar makes a cellar in which something of every kind is due, and returns its path.
func dueCellar(t *testing.T) string {
	t.Helper()
	path := newCellar(t)
	store, err := data.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	day := func(n int) time.Time { return evening.AddDate(0, 0, -n) }
	entry := func(days int, b model.Body) model.Entry {
		return model.Entry{At: day(days), Recorded: day(days), Body: b}
	}
	gravity := func(days int, sg calc.SG) model.Entry {
		return entry(days, model.Reading{Gravity: sg, Scale: model.ScaleSG, Calibration: 20})
	}
	for _, label := range []string{"A1", "A2", "A3", "A4", "A5", "A6"} {
		if _, err := store.AddVessel(model.Vessel{Label: label, Kind: model.Carboy, Capacity: 12, Added: day(400)}); err != nil {
			t.Fatal(err)
		}
	}
	dry := func(v model.VesselID, volume calc.Litre, more ...model.Entry) []model.Entry {
		return append([]model.Entry{entry(300, model.Must{Vessel: v, Volume: volume, Gravity: 1.085}), entry(300, model.Pitch{Yeast: model.WineYeast}),
			gravity(285, 1.010), gravity(275, 0.994), gravity(268, 0.994), gravity(260, 0.994)}, more...)
	}
	honey, ok, _ := model.FindNamed(read(t, data.Sweeteners), func(s model.Sweetener) []string { return []string{s.ID} }, "honey_average")
	if !ok {
		t.Fatal("no honey in the handbook")
	}
	for _, b := range []struct {
		name    string
		entries []model.Entry
	}{
		{"Thin wine", dry(1, 8, entry(250, model.Rack{To: 1}), gravity(3, 0.994))},
		{"Kept wine", dry(2, 11.8, entry(250, model.Stabilise{Sulfite: 0.5}), gravity(3, 0.994))},
		{"Bottled wine", dry(3, 11, entry(240, model.Bottle{Count: 12, Size: 0.75}))},
		{"Primed wine", dry(4, 11, entry(12, model.Addition{Portion: model.Portion{Ingredient: honey.Ingredient, Mass: 60}, Purpose: "prime"}),
			entry(12, model.Bottle{Count: 12, Size: 0.75}))},
		{"Fed mead", []model.Entry{entry(4, model.Must{Vessel: 5, Volume: 10, Gravity: 1.1}), entry(4, model.Pitch{Yeast: model.WineYeast}), gravity(1, 1.06),
			entry(4, model.FeedPlan{Doses: []model.Meal{{What: "DAP", Mass: 3, After: 24 * time.Hour},
				{What: "honey", Mass: 500, Mark: 1.065, Sugar: honey.Ingredient.PerGram}}})}},
	} {
		if _, err := store.StartBatch(model.Batch{Name: b.name, Drink: model.Wine, Entries: b.entries}); err != nil {
			t.Fatalf("%s: %v", b.name, err)
		}
	}
	return path
}

// Ensure that enter opens, on whatever is due, where its doing is written down, already
// filled with what is known; that it is then due no more; that u takes it back there; and
// that a key to tick it off stands beside, on every size of screen.
func TestDue_EnterOpensTheDeed(t *testing.T) {
	for _, size := range [][2]int{{45, 30}, {80, 24}, {180, 50}} {
		path := dueCellar(t)
		s := openAt(t, path, &clock{evening}, size[0], size[1])
		on := func(batch, what string) bool { // walks to a thing due of a batch
			for range 30 {
				s.Press("k")
			}
			for range 30 {
				if screenHas(s, "▸") && chosenDue(s, batch, what) {
					return true
				}
				s.Press("j")
			}
			return false
		}
		choose := func(batch, what, key string) {
			t.Helper()
			if !on(batch, what) {
				t.Fatalf("%q of %s is not due:\n%s", what, batch, s.Text())
			}
			s.See("enter "+key, "x tick off").Fits()
		}
		gone := func(batch, what string) {
			t.Helper()
			s.See("What to do")
			if on(batch, what) {
				t.Errorf("%q of %s is still due:\n%s", what, batch, s.Text())
			}
		}
		s.Press("d")

		choose("Fed mead", "feed 3 g DAP", "feed")
		s.Press("enter").See("DAP 3g", "This is dose 1 of 2").Fits().Press("enter").See("fed, dose 1 of 2")
		gone("Fed mead", "feed 3 g DAP")
		choose("Fed mead", "feed 500 g honey", "feed")
		s.Press("u").See("Strike out").Press("y").See("struck out")
		choose("Fed mead", "feed 3 g DAP", "feed")
		choose("Fed mead", "feed 500 g honey", "feed")
		s.Press("enter").See("honey 500g").Press("ctrl+u").Type("plum 1kg").Press("enter").See("this dose is of honey").
			Press("ctrl+u").Type("honey 450g").See("% vol").Fits().Press("enter").See("fed, dose 2 of 2")
		gone("Fed mead", "feed 500 g honey")

		choose("Thin wine", "top up", "top up")
		s.Press("enter").See("Top up A1", "water").Press("tab").See("room for").Type("500mL").See("A1: 8.").Press("shift+tab", "right").See("Kept wine", "A2: 1").
			Fits().Press("left", "tab", "ctrl+u").Type("3.9L").Press("enter").See("topped up")
		gone("Thin wine", "top up")

		choose("Kept wine", "test free SO2", "test")
		s.Press("enter").See("so2=").Type("25").Press("enter").See("What to do")
		choose("Kept wine", "test free SO2, Wed 13 May", "test") // it comes round

		choose("Kept wine", "rack, ", "rack")
		s.Press("enter").See("Rack A2").Fits().Press("enter").See("racked")
		gone("Kept wine", "rack, ")

		choose("Bottled wine", "taste a bottle", "taste")
		s.Press("enter").See("Taste a bottle of Bottled wine").Type("7").Press("tab").Type("plums").Fits().Press("enter").See("11 left")
		gone("Bottled wine", "half a year after they were filled")

		choose("Primed wine", "open a test bottle", "open")
		s.Press("enter").See("Open a test bottle of Primed wine", "shield your face").Fits().Press("enter").See("11 left")
		gone("Primed wine", "open a test bottle")

		b := batchNamed(t, s.store, "Bottled wine")
		if got, ok := b.Entries[len(b.Entries)-1].Body.(model.Tasted); !ok || got != (model.Tasted{Bottles: 1, Marked: true, Mark: 7, Words: "plums"}) {
			t.Errorf("tasted as %+v", b.Entries[len(b.Entries)-1].Body)
		}
		fed := batchNamed(t, s.store, "Fed mead")
		if got, ok := fed.Entries[len(fed.Entries)-1].Body.(model.Addition); !ok || got.Portion.Mass != 450 || got.Plan != 4 || got.Dose != 1 {
			t.Errorf("fed as %+v", fed.Entries[len(fed.Entries)-1].Body)
		}
	}
}

// Ensure that a bottle opened with nothing said of it does away with what was due all
// the same, by a tick of the same deed that one undo takes back.
func TestDue_ABottleOfWhichNothingIsSaid(t *testing.T) {
	path := dueCellar(t)
	s := openAt(t, path, &clock{evening}, 80, 24)
	s.Press("d")
	for range 30 {
		if chosenDue(s, "Bottled wine", "taste a bottle") {
			break
		}
		s.Press("j")
	}
	s.Press("enter").See("Taste a bottle").Press("enter").See("11 left", "What to do")
	b := batchNamed(t, s.store, "Bottled wine")
	if tick, ok := b.Entries[len(b.Entries)-1].Body.(model.Tick); !ok || tick.Due != model.DueTaste {
		t.Fatalf("the journal ends with %+v, want a tick", b.Entries[len(b.Entries)-1].Body)
	}
	s.Press("u").See("2 entries written together").Press("y")
	if stock := batchNamed(t, s.store, "Bottled wine").Stock(evening); stock.Left != 12 {
		t.Errorf("%d bottles are left after the undo, want 12", stock.Left)
	}
}

// chosenDue reports whether the cursor is on a thing due of a batch.
func chosenDue(s session, batch, what string) bool {
	_, why, _ := strings.Cut(s.Text(), "─ What to do")
	i := strings.LastIndex(why, batch+" ─")
	return i >= 0 && strings.Contains(strings.Join(strings.Fields(why[i:]), " "), what)
}

func screenHas(s session, what string) bool { return strings.Contains(s.Text(), what) }
