package model

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"cellar.local/glassrow/calc"
)

// Nutrients is the table of what yeast is fed with.
type Nutrients []calc.NitrogenSource

// Find returns the row that a person means by name.
func (n Nutrients) Find(name string) (calc.NitrogenSource, bool) {
	source, ok, _ := FindNamed(n, nutrientNames, name)
	return source, ok
}

// same reports whether two names mean one nutrient.
func (n Nutrients) same(x, y string) bool {
	a, known := n.Find(x)
	b, too := n.Find(y)
	if known && too {
		return a.ID == b.ID
	}
	return foldName(x) == foldName(y)
}

// Feeding is a nutrient about to be given, and what is known of it.
type Feeding struct {
	Feed   Feed
	Source calc.NitrogenSource    // the row of the handbook; without a name: it is not in it
	Before calc.MilligramPerLitre // that was given before, as far as known
	Own    NitrogenGuess          // that the must likely had of itself
	Doses  int                    // of the plan that it ticks one off; 0: none

	Planned calc.MilligramPerLitre // that the open doses of plans will bring, this one too

	state State
	given calc.Gram // of the source before this
}

// Feeding returns what giving so much of a nutrient at a moment is: with the nitrogen
// that it brings to what is then in the vessel, and as the next open dose of a plan that
// has one of it. Every feeding is written down by this, so that a dose given is ticked
// off wherever it is told.
//
// prefer is the key of a thing due: a dose of the plan that is meant before any other;
// it may be empty.
func (b Batch) Feeding(what string, mass calc.Gram, at time.Time, food Nutrients, prefer string) (Feeding, error) {
	s, err := Replay(b, at)
	if err != nil {
		return Feeding{}, err
	}
	f := Feeding{Feed: Feed{What: what, Mass: mass}, Own: b.ownNitrogen(), state: s}
	if source, ok := food.Find(what); ok {
		f.Source = source
		if s.Figures.Volume > 0 {
			f.Feed.Nitrogen = source.Brings(mass, s.Figures.Volume)
		}
	}
	for _, e := range b.Live() {
		if fed, ok := e.Body.(Feed); ok && !e.At.After(at) {
			f.Before += fed.Nitrogen
			if food.same(fed.What, what) {
				f.given += fed.Mass
			}
		}
	}
	f.Planned = b.nitrogenPlanned(food, s.Figures.Volume)
	if d, ok := b.openDose(what, at, food, prefer); ok {
		f.Feed.Plan, f.Feed.Dose, f.Doses = d.plan, d.n, d.of
	}
	return f, f.Feed.Validate()
}

// ownNitrogen guesses what the must had of itself: by its honey, as the builder of a must
// does, or else what is typical of such a drink.
func (b Batch) ownNitrogen() NitrogenGuess {
	for _, e := range b.Live() {
		must, is := e.Body.(Must)
		if !is || must.Volume == 0 {
			continue
		}
		var g NitrogenGuess
		for _, p := range must.Ingredients {
			if strings.Contains(foldName(p.Ingredient.Name), "honey") {
				g.add(nitrogenOfHoney, float64(p.Mass)/1000, must.Volume)
			}
		}
		for _, f := range must.Fruit {
			g.Unknown = append(g.Unknown, f.Fruit.Name)
		}
		if g.High > 0 {
			return g
		}
	}
	usual := float64(b.Drink.nitrogen())
	return NitrogenGuess{Span: calc.Span{Low: usual, High: usual}}
}

// Dosed says which dose of the plan is given; empty: none.
func (f Feeding) Dosed() string {
	if f.Doses == 0 {
		return ""
	}
	return doseOf(f.Feed.Dose, f.Doses) + " of the plan"
}

// DoseOf says which dose of a plan in this journal an entry is; empty: none.
func (b Batch) DoseOf(body Body) string {
	var key string
	switch e := body.(type) {
	case Feed:
		key = feedKey(e.Plan, e.Dose)
	case Addition:
		key = feedKey(e.Plan, e.Dose)
	}
	if d, _, ok := b.doseDue(key); ok {
		return doseOf(d.n, d.of) + " of the plan"
	}
	return ""
}

func doseOf(dose, of int) string { return fmt.Sprintf("dose %d of %d", dose+1, of) }

// planned is a dose of a plan, and of how many it is.
type planned struct {
	plan  EntryID
	n, of int
}

// dosesGiven returns the doses of plans that entries ticked off.
func dosesGiven(live []Entry) map[string]bool {
	given := make(map[string]bool)
	for _, e := range live {
		switch body := e.Body.(type) {
		case Feed:
			given[feedKey(body.Plan, body.Dose)] = true
		case Addition:
			given[feedKey(body.Plan, body.Dose)] = true
		}
	}
	return given
}

// openDose returns the dose that a nutrient given at a moment is: the preferred one if
// it is of that nutrient, or else the first that nobody has given. A plan made later
// than that knew of it.
func (b Batch) openDose(what string, at time.Time, food Nutrients, prefer string) (first planned, ok bool) {
	live := b.Live()
	given := dosesGiven(live)
	for _, e := range live {
		plan, is := e.Body.(FeedPlan)
		if !is || e.At.After(at) {
			continue
		}
		for i, meal := range plan.Doses {
			key := feedKey(e.ID, i)
			if given[key] || meal.Sugar.Mass() > 0 || !food.same(meal.What, what) {
				continue
			}
			d := planned{e.ID, i, len(plan.Doses)}
			if key == prefer {
				return d, true
			}
			if !ok {
				first, ok = d, true
			}
		}
	}
	return first, ok
}

// Cautions are what speaks against giving it now, in plain words.
func (f Feeding) Cautions() []string {
	var said []string
	s := f.state
	switch drop := s.Original.Points() - s.SG().Points(); {
	case s.Strength >= calc.NitrogenUntil:
		said = append(said, fmt.Sprintf("It has %.1f %% vol: from about %.0f on yeast takes up little more nitrogen, and what it leaves feeds what spoils.",
			float64(s.Strength), float64(calc.NitrogenUntil)))
	case s.Original > 1 && drop >= s.Original.Points()*calc.LastDoseShare:
		said = append(said, "Gravity is past two thirds of the way: the last dose is given before that, and what the yeast leaves feeds what spoils.")
	}
	if most := calc.Gram(float64(f.Source.Most) * float64(s.Figures.Volume)); most > 0 && f.given+f.Feed.Mass > most {
		said = append(said, fmt.Sprintf("With what it was given that is %.1f g of %s, more than the %.1f g that rules allow or makers advise in this volume: take another nutrient for the rest.",
			float64(f.given+f.Feed.Mass), f.Source.Name, float64(most)))
	}
	return said
}

// Missing returns how much of the nutrient covers what medium need wants [choice] beyond
// the middle of what the must likely had of itself, what was given and what is planned. It is not known of
// what is not in the handbook, nor of a must too light or too heavy for the scale.
func (f Feeding) Missing() (calc.Feeding, bool) {
	b, err := calc.BrixOfSG(f.state.Original)
	if err != nil || f.Source.ID == "" || f.state.Figures.Volume <= 0 {
		return calc.Feeding{}, false
	}
	there := calc.MilligramPerLitre(f.Own.Low+f.Own.High)/2 + f.Before + f.Planned
	plan, err := f.Source.Plan(calc.MustToFeed{Volume: f.state.Figures.Volume, Original: b, Nitrogen: there, Need: calc.MediumNeed}, calc.FeedThirds)
	if plan.Mass < leastDose {
		plan.Add, plan.Mass = 0, 0
	}
	return plan, err == nil
}

// nitrogenPlanned returns what the open doses of the batch's plans bring to v litres, as
// far as the handbook knows them.
func (b Batch) nitrogenPlanned(food Nutrients, v calc.Litre) calc.MilligramPerLitre {
	live := b.Live()
	given := dosesGiven(live)
	var sum calc.MilligramPerLitre
	for _, e := range live {
		plan, _ := e.Body.(FeedPlan)
		for i, meal := range plan.Doses {
			if source, known := food.Find(meal.What); known && v > 0 && !given[feedKey(e.ID, i)] {
				sum += source.Brings(meal.Mass, v)
			}
		}
	}
	return sum
}

// OfferedMissing returns the nutrients of [Batch.Offered], each with as much as is
// missing at a moment where that is known and the yeast would still take it up, as
// [ParseDose] understands it.
func (b Batch) OfferedMissing(at time.Time, food Nutrients, begun string) []string {
	all := b.Offered(food, begun)
	for i, name := range all {
		f, err := b.Feeding(name, 0, at, food, "")
		if err != nil || f.state.Strength >= calc.NitrogenUntil {
			continue
		}
		if plan, known := f.Missing(); known && plan.Mass > 0 {
			all[i] = fmt.Sprintf("%s %.1fg", name, float64(plan.Mass))
		}
	}
	return all
}

// leastDose is what can be weighed in a kitchen at all (choice).
const leastDose calc.Gram = 0.1

// nutrientsPlanned returns what the open doses of the batch's plans are of, in their order,
// each once.
func (b Batch) nutrientsPlanned() []string {
	live := b.Live()
	given := dosesGiven(live)
	var all []string
	for _, e := range live {
		plan, _ := e.Body.(FeedPlan)
		for i, meal := range plan.Doses {
			if !given[feedKey(e.ID, i)] && meal.Sugar.Mass() == 0 && !slices.Contains(all, meal.What) {
				all = append(all, meal.What)
			}
		}
	}
	return all
}

// Offered returns the names of nutrients that what was begun to be typed may mean: those
// of the open doses first, then the table.
func (b Batch) Offered(food Nutrients, begun string) []string {
	want := foldName(begun)
	means := func(names ...string) bool {
		return anyName(names, func(n string) bool { return strings.Contains(n, want) })
	}
	var all []string
	for _, name := range b.nutrientsPlanned() {
		if means(name) {
			all = append(all, name)
		}
	}
	for _, row := range food {
		have := slices.ContainsFunc(all, func(have string) bool { return food.same(have, row.Name) })
		if !have && means(nutrientNames(row)...) {
			all = append(all, row.Name)
		}
	}
	return all
}

// DoseDue returns the dose of a plan that a key of something due means.
func (b Batch) DoseDue(key string) (Meal, bool) {
	_, meal, ok := b.doseDue(key)
	return meal, ok
}

func (b Batch) doseDue(key string) (planned, Meal, bool) {
	for _, e := range b.Live() {
		plan, _ := e.Body.(FeedPlan)
		for i, meal := range plan.Doses {
			if key == feedKey(e.ID, i) {
				return planned{e.ID, i, len(plan.Doses)}, meal, true
			}
		}
	}
	return planned{}, Meal{}, false
}
