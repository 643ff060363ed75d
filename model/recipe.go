package model

import (
	"fmt"
	"slices"
	"strings"

	"cellar.local/glassrow/calc"
)

// Recipe is a must that is being thought about: what goes in and how much, with water
// poured on or made up to a volume, which yeast it is for, and what is held back to be
// fed later. It is a value; every method returns a new one.
//
// One ingredient at most is aimed at a gravity or a strength, and one acid or carbonate
// at a pH or an acidity. Their masses, that of the water when there is a volume to
// fill, and that of the nutrient are worked out anew by [Recipe.Work] whenever something
// else moves.
type Recipe struct {
	Name  string
	Drink Drink
	Items []RecipeItem

	Water    calc.Gram
	WaterAim MustAim    // thinned until the must is at this; not with Fill
	Fill     calc.Litre // topped up with water to so much in the vessel; 0: Water says

	Yeast     YeastGroup      // empty: not chosen
	Tolerance calc.PercentVol // 0: the group's usual

	Doses int     // in which what the items hold back is fed; 0: nothing is held back
	Last  calc.SG // gravity mark of the last dose; see [Recipe.Feeds]

	Nutrient RecipeNutrient
}

// RecipeItem is some of something out of the handbook.
type RecipeItem struct {
	Stuff    Stuff
	Mass     calc.Gram // of fruit as bought, or when Prepared, without its waste
	Aim      MustAim   // Mass is whatever brings the must there
	Prepared bool      // stones, cores and peel were off before it was weighed
	Crushed  bool
	Held     float64 // share that is held back and fed later; none of fruit and acid
}

// What a recipe can have.
const (
	maxItems = 30
	maxHeld  = 0.9
	maxMass  = 1e8
)

// FruitPortion returns the fruit of the item on its way into the must.
func (i RecipeItem) FruitPortion() calc.FruitPortion {
	return calc.FruitPortion{Fruit: i.Stuff.Fruit.Fruit, Mass: i.Mass, Prepared: i.Prepared, Crushed: i.Crushed}
}

// Fed returns the mass that is held back.
func (i RecipeItem) Fed() calc.Gram { return i.Mass * calc.Gram(i.Held) }

// Validate reports what is wrong with the recipe, or nil.
func (r Recipe) Validate() error {
	if err := plainText("name", r.Name, maxName, true); err != nil {
		return err
	}
	if !isOneOf(r.Drink, Drinks()) {
		return fmt.Errorf("drink %q is not one of %s: %w", r.Drink, joined(Drinks()), ErrInvalid)
	}
	if len(r.Items) == 0 || len(r.Items) > maxItems {
		return fmt.Errorf("a recipe of %d ingredients, want 1 to %d: %w", len(r.Items), maxItems, ErrInvalid)
	}
	if r.Yeast != "" && !isOneOf(r.Yeast, YeastGroups()) {
		return fmt.Errorf("yeast %q is not one of %s: %w", r.Yeast, joined(YeastGroups()), ErrInvalid)
	}
	if !(r.Tolerance >= 0 && r.Tolerance <= 25) {
		return fmt.Errorf("tolerance %.4g %% vol is outside 0 to 25: %w", float64(r.Tolerance), ErrInvalid)
	}
	if !(r.Fill >= 0 && r.Fill <= 100000) {
		return fmt.Errorf("volume %.4g L is outside 0 to 100000 L: %w", float64(r.Fill), ErrInvalid)
	}
	for _, i := range append(slices.Clone(r.Items), RecipeItem{Stuff: Stuff{Sweetener: Sweetener{Ingredient: calc.Ingredient{Name: "water"}}}, Mass: r.Water}) {
		if err := i.validate(); err != nil {
			return err
		}
	}
	if err := r.Nutrient.validate(); err != nil {
		return err
	}
	return r.checkFeeding()
}

func (i RecipeItem) validate() error {
	if err := plainText("ingredient", i.Stuff.Name(), maxName, true); err != nil {
		return err
	}
	if !(i.Mass >= 0 && i.Mass <= maxMass) {
		return fmt.Errorf("%.4g g of %s is outside 0 to 100 t: %w", float64(i.Mass), i.Stuff.Name(), ErrInvalid)
	}
	if !(i.Held >= 0 && i.Held <= maxHeld) || i.Held > 0 && (i.Stuff.IsFruit() || i.Stuff.IsAcid()) {
		return fmt.Errorf("%.0f %% of %s cannot be held back; at most %.0f %% of what dissolves can: %w", 100*i.Held, i.Stuff.Name(), 100*maxHeld, ErrInvalid)
	}
	return i.checkAim(i.Aim)
}

// row returns the mass and the aim of the i-th ingredient; the one after the last is
// water.
func (r Recipe) row(i int) (calc.Gram, MustAim) {
	if i == len(r.Items) {
		return r.Water, r.WaterAim
	}
	return r.Items[i].Mass, r.Items[i].Aim
}

// With returns the recipe with so much of the i-th ingredient, or of water where i is
// after the last. From then on that is an amount and no aim.
func (r Recipe) With(i int, mass calc.Gram) Recipe {
	r.Items = slices.Clone(r.Items)
	mass = max(0, min(mass, maxMass))
	if i == len(r.Items) {
		r.Water, r.WaterAim, r.Fill = mass, MustAim{}, 0
		return r
	}
	r.Items[i].Mass, r.Items[i].Aim = mass, MustAim{}
	return r
}

// AimedAt returns the recipe with an aim for the i-th ingredient, or for water where i
// is after the last; whatever had one of the kind keeps the amount it came to.
func (r Recipe) AimedAt(i int, aim MustAim) Recipe {
	r.Items = slices.Clone(r.Items)
	for j := range r.Items {
		if r.Items[j].Aim.sour() == aim.sour() {
			r.Items[j].Aim = MustAim{}
		}
	}
	if !aim.sour() {
		r.WaterAim = MustAim{}
	}
	if i == len(r.Items) {
		r.WaterAim, r.Fill = aim, 0
		return r
	}
	r.Items[i].Aim = aim
	return r
}

// FilledTo returns the recipe made up to v litres with water.
func (r Recipe) FilledTo(v calc.Litre) Recipe {
	r.Fill, r.WaterAim = v, MustAim{}
	return r
}

// Plus returns the recipe with another ingredient at the end of the list.
func (r Recipe) Plus(i RecipeItem) Recipe {
	r.Items = append(slices.Clone(r.Items), i)
	return r
}

// Without returns the recipe without its i-th ingredient.
func (r Recipe) Without(i int) Recipe {
	r.Items = slices.Delete(slices.Clone(r.Items), i, i+1)
	if !r.holds() {
		r.Doses = 0
	}
	return r
}

// Must returns the must of all that goes in, also of what is held back at first.
func (r Recipe) Must() (calc.Must, error) {
	return r.must(func(i RecipeItem) calc.Gram { return i.Mass })
}

// FirstDay returns the must as it is made, without what is held back.
func (r Recipe) FirstDay() (calc.Must, error) {
	return r.must(func(i RecipeItem) calc.Gram { return i.Mass - i.Fed() })
}

func (r Recipe) must(poured func(RecipeItem) calc.Gram) (calc.Must, error) {
	l, err := calc.NewLiquid(map[calc.Component]calc.Gram{calc.Water: r.Water})
	if err != nil {
		return calc.Must{}, err
	}
	var fruit []calc.FruitPortion
	for _, i := range r.Items {
		if i.Stuff.IsFruit() {
			fruit = append(fruit, i.FruitPortion())
			continue
		}
		l = l.Plus(i.Stuff.Sweetener.Ingredient.Amount(poured(i)))
	}
	return calc.NewMust(l, fruit...)
}

// Scaled returns the recipe for another volume in the vessel: every mass times the
// same factor, so that gravity and strength stay.
func (r Recipe) Scaled(to calc.Litre) (Recipe, error) {
	r, err := r.Work()
	if err != nil {
		return r, err
	}
	must, err := r.Must()
	if err != nil {
		return r, err
	}
	f, err := must.Figures()
	if err != nil {
		return r, err
	}
	if !(to > 0 && to <= 100000) || f.Volume == 0 {
		return r, fmt.Errorf("a recipe of %.4g L cannot be scaled to %.4g L; want 0 to 100000 L: %w", float64(f.Volume), float64(to), ErrInvalid)
	}
	k := float64(to / f.Volume)
	r.Items = slices.Clone(r.Items)
	for i := range r.Items {
		r.Items[i].Mass *= calc.Gram(k)
	}
	r.Water *= calc.Gram(k)
	r.Fill *= calc.Litre(k)
	r.Nutrient.Mass *= calc.Gram(k)
	return r, nil
}

// Cost returns what it costs as far as prices are known, and what has none. Water is
// free.
func (r Recipe) Cost(p Prices) (cost float64, unknown []string) {
	for _, i := range r.Items {
		perKilo, ok := p[i.Stuff.ID()]
		switch {
		case i.Mass == 0:
		case ok:
			cost += perKilo * float64(i.Mass) / 1000
		default:
			unknown = append(unknown, i.Stuff.Name())
		}
	}
	return cost, unknown
}

// Cautions returns what can hurt whom, each once, with what it is about.
func (r Recipe) Cautions() []string {
	var told, out []string
	for _, i := range r.Items {
		if c := i.Stuff.Caution(); c != "" && !slices.Contains(told, c) {
			told = append(told, c)
			out = append(out, i.Stuff.Name()+": "+c)
		}
	}
	return out
}

// DrinkOf returns the drink that is usually made of it.
func DrinkOf(s Stuff) Drink {
	switch id := s.ID(); {
	case strings.HasPrefix(id, "honey"):
		return Mead
	case strings.HasPrefix(id, "malt"):
		return Beer
	case strings.Contains(id, "apple") && !strings.HasPrefix(id, "pineapple"):
		return Cider
	case id == "pear" || strings.HasPrefix(id, "pear_"):
		return Perry
	}
	return Wine
}

// Known returns the recipe with what the handbook tells of its ingredients besides
// their composition and what they do to the pH, which stay what they were when the
// recipe was kept.
func (r Recipe) Known(l Larder) Recipe {
	r.Items = slices.Clone(r.Items)
	for i := range r.Items {
		it := &r.Items[i].Stuff
		for _, s := range l.Pantry() {
			if s.ID() != it.ID() || s.IsFruit() != it.IsFruit() || s.IsAcid() != it.IsAcid() || s.IsNutrient() {
				continue
			}
			s.Fruit.Fruit, s.Sweetener.Ingredient, s.Sour = it.Fruit.Fruit, it.Sweetener.Ingredient, it.Sour
			*it = s
			break
		}
	}
	return r
}
