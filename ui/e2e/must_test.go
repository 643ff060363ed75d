package e2e

import (
	"errors"
	"math"
	"strings"
	"testing"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/data"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui"
	"cellar.local/glassrow/ui/uitest"
)

// Ensure that a must is built from the handbook, kept, found again, scaled, and started
// from, on a phone and on a terminal.
func TestMust_FromShelfToBatch(t *testing.T) {
	for _, size := range [][2]int{{45, 30}, {80, 24}} {
		path := newDemo(t)
		s := openAt(t, path, &clock{evening}, size[0], size[1])
		selectLabel(s, "N6")
		s.Press("i").See("Must", "N6", "puts in honey")
		s.Press("enter").See("nothing in it yet")
		s.Press("n").Type("honey").See("▸ honey").Press("enter").See("honey", "12.7 L", "Not for children")
		s.Press("t").Type("1.3").Press("enter").See("not understood", "1.3").Press("ctrl+u").Type("1.095").Press("enter").See("to 1.095", "1.0950").Fits()
		s.Press("n").Type("gravel").See("nothing in the handbook").Press("enter").See("called that").Press("ctrl+u").Type("tart").See("▸ tartaric").Press("ctrl+u").Type("damson").Press("enter")
		s.See("damson", "1.0950", "cyanide").Press("c", "s").See("prepared").Fits()
		s.Press("f").See("only sugar, honey and syrup").Press("up", "f").Type("40% in 2").Press("enter").See("feed", "1.010", "first day")
		s.Press("y").See("▸wine").Press("y").See("▸high")
		s.Press("n").Type("tartaric").Press("enter").See("tartaric acid", "guess, about")
		s.Press("t").Type("1.095").Press("enter").See("cannot be aimed at 1.095", "1.095").Press("ctrl+u").Type("3.0").Press("enter").See("pH3", "about 3.0", "meter", "wider").Fits()
		s.Press("f").See("only sugar, honey and syrup").Press("right").DontSee("pH3").Press("t").Type("4g/L").Press("enter").See("to 4g/L").Fits()
		s.Press("n").Type("phosphate").Press("enter").See("missing", "fed", "in thirds", "12h").Press("f").See("in quarters").Fits()
		s.Press("right").See("quarters").DontSee("missing").Press("t").Type("much").Press("enter").See("not understood").Press("ctrl+u").Type("9g in halves").Press("enter").See("9.00 g", "halves")
		s.Press("p").See("has a price").Press("up", "up", "up")
		if strings.Count(s.Text(), "infant") != 1 {
			t.Errorf("the caution for infants is not there once:\n%s", s.Text())
		}
		s.Press("p").Type("12").Press("enter").Press("w").Press("enter").See("name is empty").Type("Creek melomel").Press("enter").See("is kept")
		s.Press("esc").See("N6").Press("q")

		s = openAt(t, path, &clock{evening}, size[0], size[1])
		selectLabel(s, "N6")
		s.Press("i", "o").See("Recipes", "Creek melomel", "12.7 L at 1.095").Press("enter").See("as it was kept", "to 1.095", "▸high")
		s.Press("v").Type("9L").Press("enter").See("to 9.0 L", "1.0950").Fits()
		s.Press("right").See("1 ").Press("t").Type("1.095").Press("enter")
		s.Press("enter").See("Start Creek melomel in N6").Press("n").See("left as it was")
		s.Press("enter", "y").See("Creek melomel has begun", "aired", "▸").Fits() // the caution whole

		store, err := data.Open(path)
		if err != nil {
			t.Fatal(err)
		}
		b := batchNamed(t, store, "Creek melomel")
		var must model.Must
		var plan, nutrient model.FeedPlan
		var pitch model.Pitch
		for _, e := range b.Entries {
			switch body := e.Body.(type) {
			case model.Must:
				must = body
			case model.FeedPlan:
				if plan.Doses != nil {
					nutrient = body
					continue
				}
				plan = body
			case model.Pitch:
				pitch = body
			}
		}
		if n := len(nutrient.Doses); n != 2 || nutrient.Doses[0].What != "diammonium phosphate" || math.Abs(float64(2*nutrient.Doses[0].Mass)-9*9/12.7) > 0.1 {
			t.Errorf("the nutrient is fed by %+v", nutrient)
		}
		if acid := must.Ingredients[len(must.Ingredients)-1]; acid.Ingredient.Name != "tartaric acid" || acid.Mass < 5 || acid.Ingredient.PerGram.Of(calc.Acid) != 1 {
			t.Errorf("the must is soured with %+v", acid)
		}
		if len(must.Ingredients) != 2 || len(must.Fruit) != 1 || !must.Fruit[0].Prepared || pitch.Yeast != model.HighYeast || len(plan.Doses) != 2 {
			t.Errorf("the journal begins with %+v, %+v, %+v", must, plan, pitch)
		}
		if plan.Doses[1].Mark != 1.01 || plan.Doses[0].Mass != plan.Doses[1].Mass || plan.Doses[0].Sugar.Sugar() < 0.7 {
			t.Errorf("the plan for feeding is %+v", plan)
		}
		selectLabel(s, "N3")
		s.Press("i", "n").Type("white sugar").Press("enter", "enter").See("holds Sea-buckthorn mead").Fits()
		s.Press("o").See("Creek melomel").Press("x", "y").See("No recipe is kept").Fits()
	}
}

func batchNamed(t *testing.T, s *data.Store, name string) model.Batch {
	t.Helper()
	shelf, err := s.Shelf()
	if err != nil {
		t.Fatal(err)
	}
	for _, sum := range shelf.Batches {
		if sum.Name == name {
			b, err := s.Batch(sum.Batch)
			if err != nil {
				t.Fatal(err)
			}
			return b
		}
	}
	t.Fatalf("no batch is called %s", name)
	return model.Batch{}
}

// forgetful is a store that keeps no recipe and starts no batch.
type forgetful struct{ ui.Store }

func (forgetful) KeepRecipe(model.Recipe) error { return errors.New("the disk is full; make room") }

func (forgetful) StartBatch(model.Batch) (model.Batch, error) {
	return model.Batch{}, errors.New("the disk is full; make room")
}

// Ensure that nothing typed is lost when it cannot be written.
func TestMust_SurvivesAFullDisk(t *testing.T) {
	path := newDemo(t)
	real, err := data.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	o := options(t, &clock{evening})
	o.Store = forgetful{real}
	s := session{uitest.Start(t, ui.New(o), 80, 24), real, nil}
	selectLabel(s, "N6")
	s.Press("i", "n").Type("honey").Press("enter").Press("enter").Type("Marsh").Press("enter").See("Start Marsh in N6").Press("n").See("Must Marsh")
	s.Press("w", "ctrl+u").Type("Creek").Press("enter").See("not written: the disk is full; make room", "name Creek").Press("esc")
	s.Press("enter").See("Start Creek in N6").Press("y").See("not written", "honey", "Must Creek").DontSee("has begun")
	s.Press("right").See("honey").Fits()
	for _, size := range [][2]int{{180, 50}, {111, 31}, {76, 20}, {60, 15}, {40, 12}, {20, 5}} {
		s.Resize(size[0], size[1]).Fits().Press("n").Fits().Press("esc", "t").Fits().Press("esc", "o").Fits().Press("esc", "?").Fits().Press("esc")
	}
}
