package model

import (
	"fmt"
	"slices"
	"strings"

	"cellar.local/glassrow/calc"
)

// Larder is everything in the handbook that can go into a must. What moves the pH and
// what feeds the yeast only a recipe asks for; see [Larder.Pantry].
type Larder struct {
	Sweeteners []Sweetener
	Fruits     []Fruit
	Acids      []calc.AcidKind
	Carbonates []calc.Carbonate
	Nutrients  []calc.NitrogenSource
}

// Stuff is something out of the larder: a sweetener, a fruit when Fruit has an ID, a
// nutrient when that has one, or an acid or a carbonate, which goes in like a sweetener
// but for what Sour says it does.
type Stuff struct {
	Sweetener Sweetener
	Fruit     Fruit
	Sour      Souring
	Nutrient  calc.NitrogenSource
}

// IsFruit reports whether it is a fruit.
func (s Stuff) IsFruit() bool { return s.Fruit.ID != "" }

// IsAcid reports whether it is there for the pH: an acid or a carbonate.
func (s Stuff) IsAcid() bool { return s.Sour != Souring{} }

// IsNutrient reports whether it is food for the yeast and no part of the must.
func (s Stuff) IsNutrient() bool { return s.Nutrient.ID != "" }

// Name returns the everyday name.
func (s Stuff) Name() string {
	if s.IsFruit() {
		return s.Fruit.Name()
	}
	if s.IsNutrient() {
		return s.Nutrient.Name
	}
	return s.Sweetener.Name()
}

// ID returns the row's id in the handbook.
func (s Stuff) ID() string {
	if s.IsFruit() {
		return s.Fruit.ID
	}
	if s.IsNutrient() {
		return s.Nutrient.ID
	}
	return s.Sweetener.ID
}

// Caution returns what can hurt whom; empty: nothing special.
func (s Stuff) Caution() string {
	if s.IsFruit() {
		return s.Fruit.Caution
	}
	return s.Sweetener.Caution
}

func (s Stuff) names() []string {
	if s.IsFruit() {
		return s.Fruit.names()
	}
	if s.IsNutrient() {
		return nutrientNames(s.Nutrient)
	}
	return s.Sweetener.names()
}

// All returns everything in the larder, sweeteners first.
func (l Larder) All() []Stuff {
	all := make([]Stuff, 0, len(l.Sweeteners)+len(l.Fruits))
	for _, s := range l.Sweeteners {
		all = append(all, Stuff{Sweetener: s})
	}
	for _, f := range l.Fruits {
		all = append(all, Stuff{Fruit: f})
	}
	return all
}

// Pantry returns everything that a recipe can hold: all of the larder, then the acids
// and carbonates, then the nutrients.
func (l Larder) Pantry() []Stuff {
	all := append(l.All(), l.forPH()...)
	for _, n := range l.Nutrients {
		all = append(all, Stuff{Nutrient: n})
	}
	return all
}

// Matching returns what of the pantry is called by the words, then what has a name that
// begins with them, its own before another it goes by, then what has one that contains
// them; all of it when there are none.
func (l Larder) Matching(words string) []Stuff {
	want := foldName(words)
	var called, begins, goesBy, contains []Stuff
	for _, s := range l.Pantry() {
		switch {
		case anyName(s.names(), func(n string) bool { return n == want || singular(n) == singular(want) }):
			called = append(called, s)
		case strings.HasPrefix(foldName(s.Name()), want):
			begins = append(begins, s)
		case anyName(s.names(), func(n string) bool { return strings.HasPrefix(n, want) }):
			goesBy = append(goesBy, s)
		case anyName(s.names(), func(n string) bool { return strings.Contains(n, want) }):
			contains = append(contains, s)
		}
	}
	return slices.Concat(called, begins, goesBy, contains)
}

// Find returns what a person means by name among sweeteners and fruit together; see
// [FindFruit]. The error says what to type instead.
func (l Larder) Find(name string) (Stuff, error) {
	return findStuff(l.All(), name)
}

// FindForRecipe is [Larder.Find] with the acids and carbonates.
func (l Larder) FindForRecipe(name string) (Stuff, error) {
	return findStuff(append(l.All(), l.forPH()...), name)
}

func findStuff(all []Stuff, name string) (Stuff, error) {
	if isWater(name) {
		return Stuff{Sweetener: aWater()}, nil
	}
	found, ok, matches := FindNamed(all, Stuff.names, name)
	switch {
	case ok:
		return found, nil
	case len(matches) == 0:
		return Stuff{}, fmt.Errorf("%q is not in the handbook; try honey, sugar, blackcurrant or apple juice: %w", name, ErrInvalid)
	}
	names := make([]string, 0, 4)
	for _, m := range matches[:min(4, len(matches))] {
		names = append(names, m.Name())
	}
	return Stuff{}, fmt.Errorf("%q could be %s: %w", name, strings.Join(names, " or "), ErrInvalid)
}

// Must returns the must of portions as people write them, honey 1.5kg or
// blackcurrant 500g, and of what was poured in besides, water for one. Fruit is
// weighed as bought; crushed says whether it was mashed.
func (l Larder) Must(besides calc.Liquid, portions []string, crushed bool) (calc.Must, error) {
	var fruit []calc.FruitPortion
	for _, text := range portions {
		name, mass, err := ParsePortion(text)
		if err != nil {
			return calc.Must{}, err
		}
		stuff, err := l.Find(name)
		if err != nil {
			return calc.Must{}, err
		}
		if stuff.IsFruit() {
			fruit = append(fruit, calc.FruitPortion{Fruit: stuff.Fruit.Fruit, Mass: mass, Crushed: crushed})
			continue
		}
		besides = besides.Plus(stuff.Sweetener.Ingredient.Amount(mass))
	}
	return calc.NewMust(besides, fruit...)
}
