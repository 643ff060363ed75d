package model

import (
	"math"
	"strings"
	"testing"
	"time"

	"cellar.local/glassrow/calc"
)

// foods are two rows of a table: diammonium phosphate has 212 mg of nitrogen a
// gram (IUPAC atomic weights: 2·14.007/132.06).
func foods() Nutrients {
	return Nutrients{
		{Listed: calc.Listed{ID: "dap", Name: "diammonium phosphate", Aliases: []string{"DAP"}}, Nitrogen: 212.1, Most: 1},
		{Listed: calc.Listed{ID: "husks", Name: "inactive yeast"}, Nitrogen: 40},
	}
}

func mealsOf(what ...string) FeedPlan {
	var p FeedPlan
	for i, w := range what {
		p.Doses = append(p.Doses, Meal{What: w, Mass: 5, After: time.Duration(i+1) * 24 * time.Hour})
	}
	return p
}

// Ensure that a feeding is the next open dose of its nutrient, by whatever name, and of
// no plan made later.
func TestBatch_Feeding(t *testing.T) {
	must := func() *journal { return brew(Mead, 10, 1.1, WineYeast) }
	for name, c := range map[string]struct {
		j          *journal
		what       string
		day        float64
		prefer     string
		plan, dose int
		said       string
	}{
		"the first":                   {must().on(0, mealsOf("DAP", "DAP")), "DAP", 1, "", 3, 0, "dose 1 of 2 of the plan"},
		"the next":                    {must().on(0, mealsOf("DAP", "DAP")).on(1, Feed{What: "DAP", Mass: 5, Plan: 3}), "dap", 2, "", 3, 1, "dose 2 of 2 of the plan"},
		"by another name":             {must().on(0, mealsOf("DAP")), "diammonium phosphate", 1, "", 3, 0, "dose 1 of 1 of the plan"},
		"not in the table":            {must().on(0, mealsOf("Raisin tea")), "raisin  tea", 1, "", 3, 0, "dose 1 of 1 of the plan"},
		"past another nutrient":       {must().on(0, mealsOf("inactive yeast", "DAP")), "DAP", 1, "", 3, 1, "dose 2 of 2 of the plan"},
		"the one that is meant":       {must().on(0, mealsOf("DAP", "DAP")), "DAP", 1, "feed:3:2", 3, 1, "dose 2 of 2 of the plan"},
		"not what is meant of others": {must().on(0, mealsOf("DAP", "inactive yeast")), "DAP", 1, "feed:3:2", 3, 0, "dose 1 of 2 of the plan"},
		"none of it":                  {must().on(0, mealsOf("DAP")), "inactive yeast", 1, "", 0, 0, ""},
		"all given":                   {must().on(0, mealsOf("DAP")).on(1, Feed{What: "DAP", Plan: 3}), "DAP", 2, "", 0, 0, ""},
		"undone":                      {must().on(0, mealsOf("DAP")).on(1, Feed{What: "DAP", Plan: 3}).on(1, Void{Entry: 4}), "DAP", 2, "", 3, 0, "dose 1 of 1 of the plan"},
		"a plan made later":           {must().on(2, mealsOf("DAP")), "DAP", 1, "", 0, 0, ""},
		"no plan":                     {must(), "DAP", 1, "", 0, 0, ""},
	} {
		f, err := c.j.Batch.Feeding(c.what, 5, onDay(c.day), foods(), c.prefer)
		if err != nil || int(f.Feed.Plan) != c.plan || f.Feed.Dose != c.dose || f.Dosed() != c.said {
			t.Errorf("%s: %+v, %q, %v; want dose %d of entry %d, %q", name, f.Feed, f.Dosed(), err, c.dose, c.plan, c.said)
		}
		if got := c.j.Batch.DoseOf(f.Feed); got != c.said {
			t.Errorf("%s: the journal says %q, want %q", name, got, c.said)
		}
	}
}

// Ensure that a dose that was given is due no more, and is again when that is undone.
func TestBatch_Feeding_TicksOff(t *testing.T) {
	j := brew(Mead, 10, 1.1, WineYeast).on(0, mealsOf("DAP", "DAP"))
	f, err := j.Batch.Feeding("DAP", 4, onDay(1), foods(), "")
	if err != nil {
		t.Fatal(err)
	}
	j.on(1, f.Feed)
	if _, due := dueFor(Summarise(j.Batch).Dues, "feed:3:1"); due {
		t.Error("dose 1 is still due")
	}
	if _, due := dueFor(Summarise(j.Batch).Dues, "feed:3:2"); !due {
		t.Error("dose 2 is not due")
	}
	j.on(1, Void{Entry: 4})
	if _, due := dueFor(Summarise(j.Batch).Dues, "feed:3:1"); !due {
		t.Error("dose 1 is not due again once undone")
	}
}

// Ensure that the nitrogen of a feeding is known, and what was given before.
func TestBatch_Feeding_Nitrogen(t *testing.T) {
	j := brew(Mead, 10, 1.1, WineYeast).on(1, Feed{What: "DAP", Mass: 5, Nitrogen: 106})
	f, err := j.Batch.Feeding("DAP", 4, onDay(2), foods(), "")
	if err != nil || math.Abs(float64(f.Feed.Nitrogen)-84.8) > 0.3 || f.Before != 106 || f.Own.Low != 60 || f.Source.ID != "dap" {
		t.Errorf("4 g in 10 L: %+v, %v; want 84.8 mg/L after 106", f, err)
	}
	if f, err = j.Batch.Feeding("raisin tea", 4, onDay(2), foods(), ""); err != nil || f.Feed.Nitrogen != 0 || f.Source.ID != "" {
		t.Errorf("what the table has not: %+v, %v", f, err)
	}
	if f, err = j.Batch.Feeding("DAP", 4, onDay(0.5), foods(), ""); err != nil || f.Before != 0 {
		t.Errorf("before the first dose: %+v, %v", f, err)
	}
}

// Ensure that it is cautioned against where it comes late or is too much, and nowhere
// else. 9 % vol from memory; two thirds of the drop a winemaker's notes; 1 g/L the EU.
func TestFeeding_Cautions(t *testing.T) {
	for name, c := range map[string]struct {
		j    *journal
		mass calc.Gram
		want string
	}{
		"in time":          {brew(Mead, 10, 1.1, WineYeast).read(1, 1.09), 4, ""},
		"strong":           {brew(Mead, 10, 1.13, WineYeast).read(4, 1.05), 4, "% vol"},
		"past two thirds":  {brew(Cider, 10, 1.05, WineYeast).read(4, 1.012), 4, "two thirds"},
		"not yet":          {brew(Cider, 10, 1.05, WineYeast).read(4, 1.02), 4, ""},
		"too much":         {brew(Mead, 10, 1.1, WineYeast), 11, "more than the 10"},
		"too much by now":  {brew(Mead, 10, 1.1, WineYeast).on(0.5, Feed{What: "dap", Mass: 7}), 4, "more than the 10"},
		"another was much": {brew(Mead, 10, 1.1, WineYeast).on(0.5, Feed{What: "husks", Mass: 70}), 4, ""},
	} {
		f, err := c.j.Batch.Feeding("DAP", c.mass, onDay(5), foods(), "")
		if err != nil {
			t.Fatal(err)
		}
		if said := strings.Join(f.Cautions(), " "); c.want == "" && said != "" || !strings.Contains(said, c.want) {
			t.Errorf("%s: %q, want %q", name, said, c.want)
		}
	}
}

// Ensure that what the plan still wants is offered first, and nothing twice.
func TestBatch_Offered(t *testing.T) {
	b := brew(Mead, 10, 1.1, WineYeast).on(0, mealsOf("DAP", "Raisin tea", "DAP")).Batch
	for begun, want := range map[string]string{
		"": "DAP; Raisin tea; inactive yeast", "da": "DAP", "inac": "inactive yeast", "husks": "inactive yeast", "diam": "diammonium phosphate", "honey": "",
	} {
		if got := strings.Join(b.Offered(foods(), begun), "; "); got != want {
			t.Errorf("for %q: %q, want %q", begun, got, want)
		}
	}
}

// Ensure that of a must whose honey is written down the form and the builder guess the
// same nitrogen: 34 to 168 mg from a kilogram.
func TestBatch_Feeding_OwnNitrogen(t *testing.T) {
	honey := Portion{Ingredient: calc.Ingredient{Name: "Heather honey", PerGram: sugar.PerGram}, Mass: 3000}
	b := Batch{Drink: Mead}.With(Entry{At: onDay(0), Body: Must{Vessel: 1, Volume: 10, Ingredients: []Portion{honey}}})
	f, err := b.Feeding("DAP", 4, onDay(1), foods(), "")
	if err != nil || math.Abs(f.Own.Low-10.2) > 0.01 || math.Abs(f.Own.High-50.4) > 0.01 {
		t.Errorf("3 kg of honey in 10 L: %+v, %v; want 10.2 to 50.4 mg/L", f.Own, err)
	}
}
