package model

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"cellar.local/glassrow/calc"
)

// soured returns the guess of a recipe that has an acid or a carbonate.
func souredOf(t *testing.T, r Recipe) Soured {
	t.Helper()
	f := figuresOf(t, r)
	if f.Soured == nil {
		t.Fatal("nothing in it moves the pH")
	}
	return *f.Soured
}

// Ensure that acid and carbonate move the acidity of a must by their equivalents, and
// the pH by as much as practice has it.
func TestRecipe_Soured(t *testing.T) {
	juice := Recipe{Name: "juice", Drink: Cider, Items: []RecipeItem{some(t, "apple juice", 10480)}}
	volume := float64(figuresOf(t, juice).Whole.Drink)
	before := souredOf(t, juice.Plus(some(t, "tartaric acid", 1e-9)))
	// Acid notes, sections 2 and 3, computed from equivalent weights: grams a litre that
	// raise the acidity by 1 g/L as tartaric, and 1.334 of bicarbonate that lower it.
	for name, c := range map[string]struct{ grams, acidity float64 }{
		"tartaric acid": {1, 1}, "malic acid": {0.893, 1}, "citric acid": {0.853, 1}, "potassium bicarbonate": {1.334, -1},
	} {
		after := souredOf(t, juice.Plus(some(t, name, calc.Gram(c.grams*volume))))
		near(t, "acidity by "+name, float64(after.AboutAcidity-before.AboutAcidity), c.acidity, 0.02)
		// As there: the pH of a fruit must goes down by 0.05 to 0.2 for 1 g/L of tartaric
		// acid, a little less with malic and citric. Nobody prints it of a carbonate.
		if moved := math.Abs(float64(after.AboutPH - before.AboutPH)); !(moved > 0.04 && (moved < 0.25 || c.acidity < 0)) || (after.AboutPH < before.AboutPH) != (c.acidity > 0) {
			t.Errorf("1 g/L by %s takes the pH from %.2f to %.2f", name, before.AboutPH, after.AboutPH)
		}
	}
	near(t, "pH of the juice, lowest", before.PH.Low, 3.3, 1e-4)
	near(t, "pH of the juice, highest", before.PH.High, 3.7, 1e-4)
	near(t, "acidity of the juice, as malic acid of 3 to 8 g/kg", float64(before.AboutAcidity), 5.5*10.48/volume*75.04/67.04, 0.1)
	if figuresOf(t, juice).Soured != nil {
		t.Error("a must without acid has a guess with it")
	}
}

// Ensure that a must meets a pH or an acidity, with as little as does, also while sugar
// is worked out beside it, and that the guess is no narrower than the tables.
func TestRecipe_SolvesForPH(t *testing.T) {
	base := Recipe{Name: "x", Drink: Mead, Fill: 10, Items: []RecipeItem{some(t, "honey", 0), some(t, "apple", 3000), some(t, "tartaric acid", 0), some(t, "potassium bicarbonate", 0)}}
	const honey, apple, acid, carbonate = 0, 1, 2, 3
	base, err := base.SolveFor(honey, MustAim{SG: 1.095})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		item int
		wish string
		want float64 // of the pH, or where it is 0 of the acidity
	}{
		{acid, "3.3-3.4", 3.4}, {acid, "ph 3.2", 3.2}, {acid, "pH3,1–3.1", 3.1}, {carbonate, "3.9 to 4.1", 3.9}, {acid, "ta6.5", 0}, {acid, "6.5 g/L", 0},
	} {
		w, err := ParseWish(c.wish)
		if err != nil {
			t.Fatal(err)
		}
		r, err := base.Granted(c.item, w)
		if err != nil {
			t.Errorf("%s: %v", c.wish, err)
			continue
		}
		s := souredOf(t, r)
		if c.want > 0 {
			near(t, c.wish, float64(s.AboutPH), c.want, 1e-4)
		} else {
			near(t, c.wish, float64(s.AboutAcidity), 6.5, 1e-4)
		}
		if !(s.PH.Low < float64(s.AboutPH) && float64(s.AboutPH) < s.PH.High && s.PH.High-s.PH.Low > 0.3) {
			t.Errorf("%s: the guess is %v about %v", c.wish, s.PH, s.AboutPH)
		}
		f := figuresOf(t, r)
		near(t, "gravity beside "+c.wish, float64(f.Whole.SGAllOut), 1.095, 1e-7)
		near(t, "volume beside "+c.wish, float64(f.Whole.Volume), 10, 1e-6)
		near(t, "acid in the liquid", float64(f.All.Of(calc.Acid)), float64(r.Items[acid].Mass), 1e-9)
		if r.Items[c.item].Mass <= 0 || !r.Items[honey].Aim.Set() || r.Items[c.item].Aim.Text() == "" {
			t.Errorf("%s: %+v", c.wish, r.Items)
		}
		if back, err := ParseWish(r.Items[c.item].Aim.Text()); err != nil || back != w {
			t.Errorf("%s is kept as %q, which is %+v, %v", c.wish, r.Items[c.item].Aim.Text(), back, err)
		}
		again, err := r.Work()
		if err != nil || math.Abs(float64(again.Items[c.item].Mass-r.Items[c.item].Mass)) > 1e-4 {
			t.Errorf("%s worked out again is %v g, was %v, %v", c.wish, again.Items[c.item].Mass, r.Items[c.item].Mass, err)
		}
	}
	t.Run("with none where the guess is in the range", func(t *testing.T) {
		r, err := base.SolveFor(acid, MustAim{PHLow: 3.0, PHHigh: 4.5})
		if err != nil || r.Items[acid].Mass != 0 || !strings.Contains(strings.Join(r.AcidAdvice(figuresOf(t, r)), " "), "there without tartaric acid") {
			t.Errorf("%v g, %v", r.Items[acid].Mass, err)
		}
	})
	t.Run("says which way an ingredient moves it", func(t *testing.T) {
		r, err := base.SolveFor(acid, MustAim{PHLow: 4.4, PHHigh: 4.5})
		if !errors.Is(err, calc.ErrUnreachable) || !strings.Contains(err.Error(), "a carbonate raises it") || r.Items[acid].Mass != 0 {
			t.Errorf("acid to a higher pH: %v", err)
		}
		if _, err := base.SolveFor(carbonate, MustAim{PHLow: 3, PHHigh: 3.1}); !errors.Is(err, calc.ErrUnreachable) {
			t.Errorf("carbonate to a lower pH: %v", err)
		}
	})
	t.Run("only of an acid or a carbonate", func(t *testing.T) {
		for _, i := range []int{honey, apple, len(base.Items)} {
			if _, err := base.SolveFor(i, MustAim{PHLow: 3.3, PHHigh: 3.5}); !errors.Is(err, ErrInvalid) {
				t.Errorf("ingredient %d aimed at a pH: %v", i, err)
			}
		}
		if _, err := base.SolveFor(acid, MustAim{SG: 1.095}); !errors.Is(err, ErrInvalid) {
			t.Errorf("acid aimed at a gravity: %v", err)
		}
		if _, err := base.HoldingBack(acid, Holding{Share: 0.4, Doses: 2, Last: 1.01}); !errors.Is(err, ErrInvalid) {
			t.Errorf("acid held back: %v", err)
		}
		bad := base
		bad.Items = []RecipeItem{{Stuff: base.Items[honey].Stuff, Mass: 1, Aim: MustAim{Acidity: 6}}}
		if err := bad.Validate(); !errors.Is(err, ErrInvalid) {
			t.Errorf("kept: %v", err)
		}
	})
}

// Ensure that the advice tells when a guess is wider than asked, and when
// nothing in the must buffers.
func TestRecipe_AcidAdvice(t *testing.T) {
	for name, c := range map[string]struct {
		items []RecipeItem
		want  string
		not   string
		wide  float64 // at least so wide
	}{
		"fruit":           {[]RecipeItem{some(t, "apple", 6000), some(t, "tartaric acid", 5)}, "wider than asked", "buffer", 0.3},
		"honey and water": {[]RecipeItem{some(t, "honey", 3000), some(t, "tartaric acid", 5)}, "hardly buffer", "Nothing", 0.5},
		"sugar and water": {[]RecipeItem{some(t, "white sugar", 2000), some(t, "tartaric acid", 5)}, "Nothing in it buffers", "Honey", 0.5},
	} {
		r := Recipe{Name: "x", Drink: Wine, Items: c.items, Fill: 10}
		r, err := r.SolveFor(1, MustAim{PHLow: 3.3, PHHigh: 3.4})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		f := figuresOf(t, r)
		advice := strings.Join(r.AcidAdvice(f), " ")
		if !strings.Contains(advice, c.want) || strings.Contains(advice, c.not) || !strings.Contains(advice, "measure with a meter") || !strings.Contains(advice, "Put in half") {
			t.Errorf("%s: %s", name, advice)
		}
		if wide := f.Soured.PH.High - f.Soured.PH.Low; wide < c.wide {
			t.Errorf("%s: the guess is %v", name, f.Soured.PH)
		}
	}
	if got := melomel(t).AcidAdvice(RecipeFigures{}); got != nil {
		t.Errorf("without acid: %q", got)
	}
}

// Ensure that acid and nutrient are scaled with the must, go into the journal with it,
// and that the dues ask for the doses.
func TestRecipe_CarriesAcidAndNutrient(t *testing.T) {
	r := melomel(t)
	r.Items = append(r.Items, some(t, "citric acid", 12))
	n, err := pantry(t).Nutrient("DAP in thirds")
	if err != nil {
		t.Fatal(err)
	}
	r, err = r.Feeding(n).Work()
	if err != nil {
		t.Fatal(err)
	}
	f := figuresOf(t, r)
	want, _ := f.NitrogenWanted(calc.MediumNeed)
	near(t, "nitrogen there and fed", float64(r.NutrientBrings(f))+(f.Nitrogen.Low+f.Nitrogen.High)/2, float64(want), 1e-6)
	double, err := r.Scaled(20)
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct{ got, want float64 }{
		"acid":     {float64(double.Items[3].Mass), 24},
		"nutrient": {float64(double.Nutrient.Mass), 2 * float64(r.Nutrient.Mass)},
		"pH":       {float64(souredOf(t, double).AboutPH), float64(f.Soured.AboutPH)},
	} {
		near(t, name+" at twice the volume", c.got, c.want, 1e-6*c.want)
	}
	if worked, err := double.Work(); err != nil || math.Abs(float64(worked.Nutrient.Mass-double.Nutrient.Mass)) > 1e-4 {
		t.Errorf("worked out again there are %v, %v", worked.Nutrient.Mass, err)
	}

	at := time.Date(2026, 9, 1, 18, 0, 0, 0, time.UTC)
	b, err := r.Batch("first", 1, at, at)
	if err != nil {
		t.Fatal(err)
	}
	if err := CheckStart(b, Vessel{ID: 1, Label: "N1", Kind: Carboy, Capacity: 23}); err != nil {
		t.Fatal(err)
	}
	must := b.Entries[0].Body.(Must)
	acid := must.Ingredients[len(must.Ingredients)-1]
	if acid.Ingredient.Name != "citric acid, anhydrous" || acid.Mass != 12 {
		t.Errorf("the must of the journal ends with %+v", acid)
	}
	state, err := Replay(b, at.Add(time.Hour))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "acid in the liquid", float64(state.Liquid.Of(calc.Acid)), 12, 1e-6)
	sugar, nutrient := b.Entries[1].Body.(FeedPlan), b.Entries[2].Body.(FeedPlan)
	if len(sugar.Doses) != 3 || len(nutrient.Doses) != 3 || nutrient.Doses[0].What != "diammonium phosphate" || nutrient.Doses[0].After == 0 || nutrient.Doses[1].Mark == 0 {
		t.Errorf("the plans are %+v and %+v", sugar, nutrient)
	}
	byMenu, err := PlanFeeding("diammonium phosphate", r.Nutrient.Mass, calc.FeedThirds, f.First.SGAllOut)
	if err != nil || len(byMenu.Doses) != 3 || byMenu.Doses[1] != nutrient.Doses[1] {
		t.Errorf("the menu plans %+v, %v", byMenu, err)
	}
	var due []string
	state, err = Replay(b, at.Add(2*24*time.Hour))
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range Dues(b, state) {
		due = append(due, d.What)
	}
	if !strings.Contains(strings.Join(due, "; "), "g diammonium phosphate") {
		t.Errorf("due are %q", due)
	}
}

// Ensure that a nutrient is understood as people write it.
func TestLarder_Nutrient(t *testing.T) {
	l := pantry(t)
	for text, want := range map[string]RecipeNutrient{
		"DAP":                                 {Missing: true, Split: calc.FeedThirds},
		"dap 12g":                             {Mass: 12, Split: calc.FeedThirds},
		"diammonium phosphate 12 g in halves": {Mass: 12, Split: calc.FeedHalves},
		"dap quarters":                        {Missing: true, Split: calc.FeedQuarters},
		"DAP missing in quarters":             {Missing: true, Split: calc.FeedQuarters},
	} {
		want.Name, want.Nitrogen, want.Most = "diammonium phosphate", 212.1, 1
		if got, err := l.Nutrient(text); err != nil || got != want {
			t.Errorf("%q is %+v, %v; want %+v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "gravel 3g", "dap 12 spoons", "dap 12g in fifths", "dap -3g"} {
		if got, err := l.Nutrient(text); !errors.Is(err, ErrInvalid) {
			t.Errorf("%q is %+v, %v", text, got, err)
		}
	}
	n, _ := l.Nutrient("dap 12g")
	if got, err := n.Wished("missing"); err != nil || !got.Missing || got.Mass != 12 {
		t.Errorf("missing: %+v, %v", got, err)
	}
	for _, text := range []string{"", "much"} {
		if _, err := n.Wished(text); !errors.Is(err, ErrInvalid) {
			t.Errorf("%q: %v", text, err)
		}
	}
}
