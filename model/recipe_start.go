package model

import (
	"time"

	"cellar.local/glassrow/calc"
)

// hairsBreadth is how much a must is rounded up by when it goes into a journal, so
// that the ingredients surely fit the volume they came to: a few microlitres.
const hairsBreadth = 1 + 1e-9

// Batch returns the batch that begins with the recipe in a vessel: the must of the
// first day, what is held back and the nutrient as plans for feeding, and the yeast if
// there is one.
// The water is told by the volume. The recipe's amounts must be worked out.
func (r Recipe) Batch(name string, v VesselID, at, recorded time.Time) (Batch, error) {
	f, err := r.Figures()
	if err != nil {
		return Batch{}, err
	}
	if err := f.FeedsErr(); err != nil {
		return Batch{}, err
	}
	must := Must{Vessel: v, Volume: f.First.Volume * hairsBreadth}
	for _, i := range r.Items {
		switch poured := i.Mass - i.Fed(); {
		case poured <= 0:
		case i.Stuff.IsFruit():
			must.Fruit = append(must.Fruit, i.FruitPortion())
		default:
			must.Ingredients = append(must.Ingredients, Portion{Ingredient: i.Stuff.Sweetener.Ingredient, Mass: poured})
		}
	}
	bodies := []Body{must}
	if plan := f.feedPlan(); len(plan.Doses) > 0 {
		bodies = append(bodies, plan)
	}
	if len(f.Meals) > 0 {
		bodies = append(bodies, FeedPlan{Doses: f.Meals})
	}
	if r.Yeast != "" {
		bodies = append(bodies, Pitch{Yeast: r.Yeast, Tolerance: r.Tolerance})
	}
	b := Batch{Name: name, Drink: r.Drink}
	for i, body := range bodies {
		b.Entries = append(b.Entries, Entry{ID: EntryID(i + 1), At: at, Recorded: recorded, Body: body})
	}
	return b, nil
}

// feedPlan is the doses as the journal keeps them.
func (f RecipeFigures) feedPlan() FeedPlan {
	var p FeedPlan
	for _, d := range f.Feeds {
		for _, part := range d.Parts {
			i := part.Sweetener.Ingredient
			p.Doses = append(p.Doses, Meal{What: i.Name, Mass: part.Mass, Mark: calc.SG(roundTo(float64(d.Mark), 1e4)), Sugar: i.PerGram})
		}
	}
	return p
}
