package data

import (
	"errors"
	"reflect"
	"testing"

	"cellar.local/glassrow/model"
)

// Ensure that a recipe comes back as it was kept, with what its ingredients were made
// of, is replaced under its name, and is gone without trace when it is discarded.
func TestStore_Recipes(t *testing.T) {
	s := newStore(t)
	if got, err := s.Recipes(); err != nil || len(got) != 0 {
		t.Fatalf("before any is kept there are %v, %v", got, err)
	}
	if err := s.DropRecipe("none"); err != nil {
		t.Errorf("discarding what is not there: %v", err)
	}
	want := keptMelomel(t)
	other := want
	other.Name, other.Items, other.Doses, other.Last = "plain", want.Items[1:2], 0, 0
	other = other.AimedAt(len(other.Items), model.MustAim{SG: 1.04})
	before := want
	before.Yeast = ""
	for _, r := range []model.Recipe{other, before, want} {
		if err := s.KeepRecipe(r); err != nil {
			t.Fatal(err)
		}
	}
	again, err := Open(s.Path())
	if err != nil {
		t.Fatal(err)
	}
	got, err := again.Recipes()
	if err != nil || len(got) != 2 || got[1].Name != "plain" || got[1].WaterAim.SG != 1.04 {
		t.Fatalf("kept %+v, %v", got, err)
	}
	for i := range want.Items { // the store keeps what it is made of, not the rest of the row
		f := &want.Items[i].Stuff
		if f.IsFruit() {
			f.Fruit = model.Fruit{ID: f.Fruit.ID, Fruit: f.Fruit.Fruit}
		} else {
			f.Sweetener = model.Sweetener{ID: f.Sweetener.ID, Ingredient: f.Sweetener.Ingredient}
		}
	}
	if !reflect.DeepEqual(got[0], want) {
		t.Errorf("came back as\n%+v, kept\n%+v", got[0], want)
	}
	for _, name := range []string{want.Name, "plain"} {
		if err := again.DropRecipe(name); err != nil {
			t.Fatal(err)
		}
	}
	if left, err := s.Recipes(); err != nil || len(left) != 0 {
		t.Errorf("discarded, and there is %v, %v", left, err)
	}
	want.Name = "a\ab"
	if err := s.KeepRecipe(want); !errors.Is(err, model.ErrInvalid) {
		t.Errorf("a bell in the name: %v", err)
	}
}

func keptMelomel(t *testing.T) model.Recipe {
	t.Helper()
	sweeteners, err := Sweeteners()
	if err != nil {
		t.Fatal(err)
	}
	fruits, err := Fruits()
	if err != nil {
		t.Fatal(err)
	}
	acids, err := Acids()
	if err != nil {
		t.Fatal(err)
	}
	carbonates, err := Carbonates()
	if err != nil {
		t.Fatal(err)
	}
	nutrients, err := NitrogenSources()
	if err != nil {
		t.Fatal(err)
	}
	l := model.Larder{Sweeteners: sweeteners, Fruits: fruits, Acids: acids, Carbonates: carbonates, Nutrients: nutrients}
	item := func(name string) model.RecipeItem {
		s, err := l.FindForRecipe(name)
		if err != nil {
			t.Fatal(err)
		}
		return model.RecipeItem{Stuff: s, Mass: 1234.5}
	}
	honey, fruit := item("honey"), item("blackcurrant")
	honey.Held, honey.Aim = 0.4, model.MustAim{SG: 1.0951}
	fruit.Crushed, fruit.Prepared = true, true
	acid, chalk := item("citric"), item("chalk")
	acid.Mass, chalk.Mass, acid.Aim = 5, 1.5, model.MustAim{PHLow: 3.1, PHHigh: 3.2}
	feed, err := l.Nutrient("DAP 8g in quarters")
	if err != nil {
		t.Fatal(err)
	}
	return model.Recipe{Name: "creek melomel", Drink: model.Mead, Items: []model.RecipeItem{honey, fruit, acid, chalk}, Fill: 12.7, Water: 8000,
		Yeast: model.HighYeast, Tolerance: 16.5, Doses: 3, Last: 1.01, Nutrient: feed}
}

// Ensure that what was kept and read again works out to the same must, with all that
// the handbook tells of it.
func TestStore_RecipeWorksOut(t *testing.T) {
	s := newStore(t)
	kept, err := keptMelomel(t).Work()
	if err != nil {
		t.Fatal(err)
	}
	if err := s.KeepRecipe(kept); err != nil {
		t.Fatal(err)
	}
	all, err := s.Recipes()
	if err != nil || len(all) != 1 {
		t.Fatal(all, err)
	}
	sweeteners, _ := Sweeteners()
	fruits, _ := Fruits()
	got, err := all[0].Known(model.Larder{Sweeteners: sweeteners, Fruits: fruits}).Work()
	if err != nil {
		t.Fatal(err)
	}
	was, err := kept.Figures()
	if err != nil {
		t.Fatal(err)
	}
	is, err := got.Figures()
	if err != nil || is.Soured == nil {
		t.Fatalf("came back as %+v, %v", is, err)
	}
	// Sugar and acid are worked out in turn, from where they were.
	wantNear(t, "gravity", float64(is.Whole.SGAllOut), float64(was.Whole.SGAllOut), 1e-9)
	wantNear(t, "volume", float64(is.Whole.Volume), float64(was.Whole.Volume), 1e-9)
	wantNear(t, "pH", float64(is.Soured.AboutPH), float64(was.Soured.AboutPH), 1e-6)
	for i := range is.Meals {
		is.Meals[i].Mark, was.Meals[i].Mark = 0, 0
	}
	if !reflect.DeepEqual(is.Meals, was.Meals) || len(is.Meals) != 4 {
		t.Errorf("doses came back as %+v; were %+v", is.Meals, was.Meals)
	}
	if len(got.Cautions()) == 0 || !reflect.DeepEqual(got.Cautions(), kept.Cautions()) {
		t.Errorf("cautions %q, were %q", got.Cautions(), kept.Cautions())
	}
}
