package e2e

import (
	"math"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/data"
	"cellar.local/glassrow/model"
)

// dryWine makes a cellar with one dry, quiet wine in it that nobody has stabilised, and
// returns its path.
func dryWine(t testing.TB) string {
	t.Helper()
	days := func(n int) time.Time { return evening.AddDate(0, 0, -n) }
	read := func(sg calc.SG, ph float64) model.Reading {
		return model.Reading{Gravity: sg, Scale: model.ScaleSG, Calibration: 20, PH: ph}
	}
	vessels := []model.Vessel{
		{ID: 1, Label: "N5", Kind: model.Demijohn, Capacity: 5, Added: days(200)},
		{ID: 2, Label: "N6", Kind: model.Bucket, Capacity: 15, Added: days(200)},
	}
	b := model.Batch{ID: 1, Name: "Beetroot wine", Drink: model.Wine, Entries: []model.Entry{
		{At: days(148), Body: model.Must{Vessel: 2, Volume: 4.9, Gravity: 1.096}},
		{At: days(148), Body: model.Pitch{Yeast: model.WineYeast}},
		{At: days(140), Body: read(1.040, 0)},
		{At: days(120), Body: read(0.994, 0)},
		{At: days(100), Body: model.Rack{To: 1, Volume: 4.7}},
		{At: days(40), Body: read(0.994, 3.5)},
		{At: days(20), Body: read(0.994, 0)},
		{At: days(5), Body: read(0.994, 0)},
	}}
	for i := range b.Entries {
		b.Entries[i].ID, b.Entries[i].Recorded = model.EntryID(i+1), b.Entries[i].At
	}
	path := filepath.Join(t.TempDir(), "dry.db")
	if _, err := data.CreateFilled(path, model.Settings{CellarName: "Shed"}, vessels, []model.Batch{b}); err != nil {
		t.Fatal(err)
	}
	return path
}

// Ensure that candidates stand beside each other, keep their targets, share their
// sweetness, and cost what their prices say.
func TestDesk_CandidatesSideBySide(t *testing.T) {
	path := dryWine(t)
	s := openAt(t, path, &clock{evening}, 180, 50)
	selectLabel(s, "N5")
	s.Press("s").See("‹ 1 honey ›").DontSee("cost").Type("t1.008").Press("enter").See("1.0080", "the target 1.008")
	s.Press("=").See("‹ 2 white sugar ›", "the taste of").Press("n", "m").See("‹ 3 ", " + honey")
	s.Press("]").Press("[", "[").Press("n").See("‹ 4 ")
	s.Press("n").See("four are as many as fit")
	s.Press("tab").See("‹ 1 honey ›").Press("p").Type("much").Press("enter").See("not understood", "much").Press("ctrl+u").
		Type("14.50").Press("enter").See("cost").DontSee("what a kilogram")
	s.Resize(80, 24).See("‹ 1 honey ›", "2 white sugar", "1 honey").Resize(45, 30).See("‹ 1 honey ›", "4 ").Press("tab").See("‹ 2 white sugar ›")
	s.Press("x").Press("x").Press("x").Press("x").See("the last one stays")
	s.Press("esc", "s").See("‹ 1 ")

	// The base changes under a target: it is met again.
	s = openAt(t, path, &clock{evening}, 180, 50)
	id := selectLabel(s, "N5")
	s.Press("s").Type("t1.008").Press("enter", "n").Type("t100g").Press("enter")
	s.Press("enter", "y").See("written down", "1.0080", "the target 1.008")
	if after := replay(t, s, id); after.Figures.SG < 1.001 {
		t.Errorf("after 100 g the gravity is %v", after.Figures.SG)
	}
	s.See("cost") // the price is in the cellar
	s.Press("u", "y", "esc")
}

// Ensure that every figure of the planner is the one that package calc gives for the
// same drink, whatever the batch, and that scaling, targets and strengths hold.
func TestDesk_FiguresAreThoseOfCalc(t *testing.T) {
	sweeteners, err := data.Sweeteners()
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(7, 2026))
	for range 200 {
		drink := model.Drinks()[r.IntN(len(model.Drinks()))]
		volume, from := calc.Litre(1+40*r.Float64()), calc.SG(1.040+0.080*r.Float64())
		to := max(0.992, from-calc.SG(0.03+0.09*r.Float64()))
		b := model.Batch{ID: 1, Name: "x", Drink: drink, Entries: []model.Entry{
			{ID: 1, At: evening.AddDate(0, 0, -60), Body: model.Must{Vessel: 1, Volume: volume, Gravity: from}},
			{ID: 2, At: evening.AddDate(0, 0, -60), Body: model.Pitch{Yeast: model.WineYeast}},
			{ID: 3, At: evening.AddDate(0, 0, -9), Body: model.Reading{Gravity: to, Scale: model.ScaleSG, Calibration: 20}},
		}}
		state, err := model.Replay(b, evening)
		if err != nil {
			t.Fatal(err)
		}
		c := model.Candidate{First: sweeteners[r.IntN(len(sweeteners))], Share: r.Float64()}
		if r.IntN(2) == 0 {
			c.Second = sweeteners[r.IntN(len(sweeteners))]
		}
		aims := []string{"300g", "25g/l", "taste 40", "medium", "eu medium", "1.020"}
		if c.Aim, err = model.ParseAim(aims[r.IntN(len(aims))]); err != nil {
			t.Fatal(err)
		}
		trial, err := c.Try(state, drink)
		if err != nil {
			continue // past the target already, or nobody could get there
		}
		liquid := state.Liquid
		for _, p := range trial.Parts {
			liquid = liquid.Plus(p.Sweetener.Ingredient.Amount(p.Mass))
		}
		want, err := liquid.Figures()
		if err != nil || trial.After != want {
			t.Fatalf("%s of %s: planner %+v, calc %+v, %v", "some", c.Name(), trial.After, want, err)
		}
		checkAim(t, c.Aim, trial)
		checkStrength(t, b, state, trial)
	}
}

// checkAim asks that a target is met within half a hundredth of a point of gravity,
// and a ten-thousandth of a gram per litre.
func checkAim(t *testing.T, a model.Aim, trial model.Trial) {
	t.Helper()
	got := map[string]float64{
		"25g/l": float64(trial.After.Sugar) - 25, "taste 40": float64(trial.After.Sweetness) - 40, "medium": float64(trial.After.Sugar) - 28.5,
		"eu medium": float64(trial.After.Fermentable) - 28.5, "1.020": float64(trial.After.SG) - 1.020,
	}
	if off, ok := got[a.Text]; ok && math.Abs(off) > 1e-4 {
		t.Errorf("aimed at %q and missed by %g", a.Text, off)
	}
}

// checkStrength writes the plan down and then reads the gravity it predicts: the
// strength must stay within its error bar.
func checkStrength(t *testing.T, b model.Batch, before model.State, trial model.Trial) {
	t.Helper()
	for _, a := range trial.Entries() {
		b.Entries = append(b.Entries, model.Entry{ID: model.EntryID(len(b.Entries) + 1), At: evening.AddDate(0, 0, -2), Body: a})
	}
	if trial.After.SG > 1.15 {
		return // a syrup, which no hydrometer reads
	}
	sg := calc.SG(math.Round(float64(trial.After.SG)*1000) / 1000)
	b.Entries = append(b.Entries, model.Entry{ID: model.EntryID(len(b.Entries) + 1), At: evening.AddDate(0, 0, -1),
		Body: model.Reading{Gravity: sg, Scale: model.ScaleSG, Calibration: 20}})
	after, err := model.Replay(b, evening)
	if err != nil {
		t.Fatal(err)
	}
	if off := math.Abs(float64(after.Strength - trial.After.Strength)); off > float64(before.PlusMinus) {
		t.Errorf("read %v after %v of %s: strength %v, planned %v ± %v", sg, trial.Mass, trial.Name(), after.Strength, trial.After.Strength, before.PlusMinus)
	}
}

// Ensure that five glasses of honey against sugar can be poured, marked blind, taken
// to the planner, committed, and all of it undone, on a phone.
func TestDesk_BenchFromGlassToVessel(t *testing.T) {
	path := dryWine(t)
	s := openAt(t, path, &clock{evening}, 45, 30)
	id := selectLabel(s, "N5")
	before := replay(t, s, id)
	s.Press("s", "b").See("Bench N5", "honey").Press("tab").Type("w").See("white sugar")
	s.Press("tab", "ctrl+u").Type("a cup").See("is not understood").Press("ctrl+u").Type("50mL").Press("tab", "tab", "tab", "ctrl+u").Type("taste 50")
	s.Press("tab", "right").See("syrup and syringe", "measuring jug").Press("tab", "tab", "right").See("blind")
	s.Press("ctrl+p").See("For who pours", "To taste").Press("esc").Press("enter").See("written down", "Which is which")
	s.DontSee("0.0 g/L")
	marks := []string{"4 thin", "12", "8 round", "9 best", "7 ok"}
	for _, m := range marks {
		s.Type(m).Press("enter")
	}
	s.See("outside 0 to 10").Press("ctrl+u").Type("3 sour").Press("esc")
	s.Press("b").See("3 sour", "4 thin") // what was typed is still there
	s.Press("enter").See("on average", "honey: ", "white sugar: ")
	poured := replay(t, s, id)
	if off := math.Abs(float64(before.Figures.Volume-poured.Figures.Volume) - 0.25); off > 1e-6 {
		t.Errorf("five glasses of 50 mL took %v of %v L", before.Figures.Volume-poured.Figures.Volume, before.Figures.Volume)
	}
	s.Press("enter").See("Sweeten N5", "the winner of the bench", "the taste of")
	s.Press("enter").See("Stir ").Press("y").See("written down")
	s.Press("u", "y", "u", "y", "u", "y", "esc")
	if after := replay(t, s, id); after.Liquid != before.Liquid {
		t.Errorf("all undone: %v, before: %v", after.Figures, before.Figures)
	}
	s.Press("t").See("Bench N5", "glasses").Press("esc")
}

// Ensure that a dry wine sweetened with what yeast leaves can be primed for beer
// bottles, that the same in a wine bottle gets the strongest word there is, and that
// both entries come out again.
func TestDesk_SweetenThenPrime(t *testing.T) {
	s := openAt(t, dryWine(t), &clock{evening}, 80, 24)
	id := selectLabel(s, "N5")
	before := replay(t, s, id)
	s.Press("s")
	for !strings.Contains(s.Text(), "1 erythritol") {
		s.Press("up")
	}
	s.Type("t90g").Press("enter", "f").See("Fizz N5", "first 90 g of erythritol", "priming", "air in the neck")
	s.Press("tab").Type("s").Type("s").See("still-wine bottle").See("DO NOT CLOSE THIS IN", "bursts")
	s.Type("b").See("beer bottle").DontSee("DO NOT")
	s.Press("tab", "ctrl+u").Type("fizzy").See("is not understood").Press("enter").See("fizzy").Press("ctrl+u").Type("2.2")
	s.Press("shift+tab", "shift+tab", "right").See("too little for 2.2 volumes").Press("right").See("set the gauge", "4 °C", "keg").Press("right", "right")
	s.Press("enter").See("Stir 90 g of erythritol, then", "to prime").Press("y").See("written down")
	primed := replay(t, s, id)
	if primed.Figures.Fermentable < 4 || primed.Figures.Fermentable > 7 {
		t.Errorf("primed with %v g/L", primed.Figures.Fermentable)
	}
	s.Press("esc", "u", "y", "u", "y", "esc")
	if after := replay(t, s, id); after.Liquid != before.Liquid {
		t.Errorf("undone: %v, before: %v", after.Figures, before.Figures)
	}
}

// Ensure that the check before a commit says plainly what would happen, that what it
// offers can be written down and undone, and that it forbids nothing.
func TestDesk_WillItRestart(t *testing.T) {
	s := openAt(t, dryWine(t), &clock{evening}, 80, 24)
	id := selectLabel(s, "N5")
	before := replay(t, s, id)
	s.Press("s").Type("t1.008").Press("enter", "r").See("Will it start again?", "of honey stirred in", "To make it stable", "contains sulphites", "metabisulfite", "sorbate")
	s.Press("p").Type("sour").Press("enter").See("not understood", "sour").Press("ctrl+u").Type("3.2").Press("enter").See("pH 3.20")
	s.Press("c").See("taken to be cloudy").Press("c").See("taken to be clear")
	s.Press("enter").See("asthma", "Stir ").Press("y").See("written down", "LIKELY", "Some of the sulfite has bound")
	s.Press("u").See("Strike out").Press("y").See("RISKY")
	s.Press("esc", "enter").See("It may start again", "sealed glass can burst").Press("y").See("written down")
	s.Press("esc", "f").See("DO NOT CLOSE THIS IN", "bar").Press("esc", "u", "y")
	if after := replay(t, s, id); after.Liquid != before.Liquid {
		t.Errorf("undone: %v, before: %v", after.Figures, before.Figures)
	}
}

// Ensure that a plan is kept under a name over a restart, compared with another on the
// batch as it is then, taken up again and discarded without trace.
func TestDesk_PlansAreKept(t *testing.T) {
	path := dryWine(t)
	s := openAt(t, path, &clock{evening}, 80, 24)
	id := selectLabel(s, "N5")
	entries, _ := s.store.Batch(id)
	s.Press("s", "o").See("No plan is kept").Press("esc").Type("t1.008").Press("enter", "=", "w").Press("enter").See("is empty").Type("for Sunday").Press("enter").See("for Sunday is kept")
	s.Press("x").Type("t300g").Press("enter", "w").Type("bold").Press("enter").See("bold is kept")
	s = openAt(t, path, &clock{evening}, 45, 30)
	selectLabel(s, "N5")
	s.Press("s", "o").See("bold", "for Sunday", "1.008 medium: ").Press("down", "enter").See("1 honey", "2 white", "the target 1.008", "for Sunday, for the batch")
	s.Press("o", "x").See("Discard the plan bold").Press("y").See("for Sunday").DontSee("300 g")
	s.Press("x", "n").See("for Sunday").Press("x", "y").See("No plan is kept").Press("esc", "esc")
	if b, err := s.store.Batch(id); err != nil || len(b.Entries) != len(entries.Entries) {
		t.Errorf("the journal has %d entries, %v; before %d", len(b.Entries), err, len(entries.Entries))
	}
}

// Ensure that an evening at the desk goes through on a phone from the first small glass
// to the primed bottle, and that all of it comes out again.
func TestDesk_AWholeEvening(t *testing.T) {
	s := openAt(t, dryWine(t), &clock{evening}, 45, 30)
	id := selectLabel(s, "N5")
	before := replay(t, s, id)
	s.Press("s", "b", "tab").Type("w").Press("tab", "tab", "tab", "tab", "ctrl+u").Type("taste 50").Press("tab", "right", "tab", "tab", "right", "enter").See("Which is which")
	for _, mark := range []string{"4", "3 thin", "8 round", "9 best", "7"} {
		s.Type(mark).Press("enter")
	}
	s.See("honey: ", "white sugar: ").Press("enter").See("the winner of the bench").Press("r").See("RISKY").Press("enter", "y").See("LIKELY")
	s.Press("esc", "enter").See("one thing short of sure").Press("y").See("written down")
	s.Press("f").See("Fizz N5").Press("enter").See("Nothing will ferment", "to prime").Press("y").See("written down")
	done := replay(t, s, id)
	if done.Figures.Sweetness < 45 || done.Figures.Volume >= before.Figures.Volume {
		t.Errorf("at the end of the evening it is %v", done.Figures)
	}
	s.Press("esc", "esc")
	for range 5 { // priming, sweetening, the stabilising and its steps together, marks, glasses
		s.Press("u").See("Strike out").Press("y")
	}
	if after := replay(t, s, id); after.Liquid != before.Liquid || after.Strength != before.Strength {
		t.Errorf("all undone: %v, before: %v", after.Figures, before.Figures)
	}
}

// Ensure that sugar headed for still bottles gets the strongest word there is while
// nothing holds it, and a plain one that says what holds it once something does.
func TestDesk_StillBottlesByWhatHolds(t *testing.T) {
	for name, c := range map[string]struct {
		held model.Stabilise
		by   string
	}{
		"sulfite and sorbate": {model.Stabilise{Sulfite: 0.7, Sorbate: 0.8}, "sulfite and sorbate are both in it"},
		"a filter":            {model.Stabilise{Filtered: true}, "filtered so finely"},
		"heat":                {model.Stabilise{PU: 90}, "heated well enough"},
		"some heat":           {model.Stabilise{PU: 60}, "one thing short of sure"},
		"heat as for beer":    {model.Stabilise{PU: 20}, ""},
		"sulfite alone":       {model.Stabilise{Sulfite: 0.7}, ""},
		"cold":                {model.Stabilise{Chilled: true}, ""},
	} {
		t.Run(name, func(t *testing.T) {
			s := openAt(t, dryWine(t), &clock{evening}, 80, 50)
			id := selectLabel(s, "N5")
			toStill := func() {
				s.Press("s").Type("t1.010").Press("enter", "f")
				for !strings.Contains(s.Text(), "‹ leave it still ›") {
					s.Press("right")
				}
				s.Press("tab").Type("s").Type("s").See("still-wine bottle").DontSee("bubbles  ").Press("shift+tab")
			}
			toStill()
			s.See("DO NOT CLOSE THIS IN").Press("esc", "esc")
			if _, err := s.store.Append(id, model.Entry{At: evening.Add(-time.Hour), Recorded: evening, Body: c.held}); err != nil {
				t.Fatal(err)
			}
			s = openAt(t, s.store.Path(), &clock{evening}, 80, 50)
			selectLabel(s, "N5")
			toStill()
			if c.by == "" {
				s.See("DO NOT CLOSE THIS IN", "the bottle      danger")
				return
			}
			s.DontSee("DO NOT", "DANGER").See(c.by, "the bottle      fine", "if that failed")
			for !strings.Contains(s.Text(), "‹ prime ›") {
				s.Press("right")
			}
			s.See("Nothing will ferment the priming sugar").DontSee("DANGER").Press("enter").See("Nothing will ferment", "to prime").Press("n")
		})
	}
}

// Ensure that a dry drink that nobody stabilised is not told that its priming sugar
// keeps, though it holds nothing that could start again.
func TestDesk_PrimingADryDrinkWorks(t *testing.T) {
	s := openAt(t, dryWine(t), &clock{evening}, 80, 50)
	selectLabel(s, "N5")
	s.Press("s", "f").See("Fizz N5", "priming").DontSee("Nothing will ferment")
}

// Ensure that on a phone the last word of the stabilising plan, who must not drink it, is
// not cut off.
func TestDesk_AllergenNoteOnAPhone(t *testing.T) {
	s := openAt(t, dryWine(t), &clock{evening}, 45, 30)
	selectLabel(s, "N5")
	s.Press("s").Type("t1.010").Press("enter", "r").See("RISKY", "contains", "asthma", "react to them.")
}
