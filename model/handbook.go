package model

import (
	"cmp"
	"slices"
	"strings"

	"cellar.local/glassrow/calc"
)

// Table names one of the two tables of the handbook that a person can add to.
type Table string

// The tables that go into a must, each in a file of its own.
const (
	SweetenerTable Table = "sweeteners"
	FruitTable     Table = "fruit"
)

// Tables returns both, sweeteners first.
func Tables() []Table { return []Table{SweetenerTable, FruitTable} }

// Origin says whose row of the handbook it is.
type Origin uint8

// Where a row is from: printed in the handbook; added by the person; or the person's
// own figures in the place of a printed row, which comes back when theirs is taken
// away.
const (
	Printed Origin = iota
	OwnRow
	OwnInPlace
)

// Own reports whether the person can take the row away.
func (o Origin) Own() bool { return o != Printed }

// Rows returns a table of the larder as stuff, in the order of the table.
func (l Larder) Rows(t Table) []Stuff {
	var all []Stuff
	if t == FruitTable {
		for _, f := range l.Fruits {
			all = append(all, Stuff{Fruit: f})
		}
		return all
	}
	for _, s := range l.Sweeteners {
		all = append(all, Stuff{Sweetener: s})
	}
	return all
}

// Table returns the table that it is a row of.
func (s Stuff) Table() Table {
	if s.IsFruit() {
		return FruitTable
	}
	return SweetenerTable
}

// Origin returns whose row it is.
func (s Stuff) Origin() Origin {
	if s.IsFruit() {
		return s.Fruit.Origin
	}
	return s.Sweetener.Origin
}

// Aliases returns the other names people search for.
func (s Stuff) Aliases() []string {
	if s.IsFruit() {
		return s.Fruit.Aliases
	}
	return s.Sweetener.Aliases
}

// Notes returns what else there is to know.
func (s Stuff) Notes() string {
	if s.IsFruit() {
		return s.Fruit.Notes
	}
	return s.Sweetener.Notes
}

// Source returns where the figures are from.
func (s Stuff) Source() string {
	if s.IsFruit() {
		return s.Fruit.Source
	}
	return s.Sweetener.Source
}

// Gram returns what one gram of it holds that dissolves: of a fruit, one gram of the
// part that goes into the must.
func (s Stuff) Gram() calc.Liquid {
	if s.IsFruit() {
		return s.Fruit.Fruit.Juice
	}
	return s.Sweetener.Ingredient.PerGram
}

// Gravity returns what so much of it, weighed as bought and made up with water to v
// litres, reads once all of it is dissolved or out.
func (s Stuff) Gravity(mass calc.Gram, v calc.Litre) (calc.SG, error) {
	if s.IsFruit() {
		return s.Fruit.Fruit.Gravity(mass, v)
	}
	return s.Sweetener.Ingredient.Gravity(mass, v)
}

// Intense reports whether milligrams of it do; see [Sweetener.Intense].
func (s Stuff) Intense() bool { return !s.IsFruit() && s.Sweetener.Intense() }

// Kind returns the words that tell what sort of thing it is: the group and form of a
// fruit, the form and flavour of a sweetener.
func (s Stuff) Kind() []string {
	if s.IsFruit() {
		return []string{s.Fruit.Group, s.Fruit.Form}
	}
	return []string{s.Sweetener.Form, s.Sweetener.Flavour}
}

// SharesName returns a name that both rows go by, if there is one.
func (s Stuff) SharesName(other Stuff) (string, bool) {
	for _, mine := range s.names() {
		for _, theirs := range other.names() {
			if foldName(mine) == foldName(theirs) {
				return theirs, true
			}
		}
	}
	return "", false
}

// Search returns the rows that have every one of the words in a name, an alias, the
// id, or what tells their kind. No words at all are in every row.
func Search(rows []Stuff, words string) []Stuff {
	want := strings.Fields(foldName(words))
	var out []Stuff
	for _, s := range rows {
		said := foldName(strings.Join(append(s.names(), s.Kind()...), " "))
		if !slices.ContainsFunc(want, func(w string) bool { return !strings.Contains(said, w) }) {
			out = append(out, s)
		}
	}
	return out
}

// Order is what the rows of a table are sorted by.
type Order string

// The orders. As listed is that of the tables, the person's own rows first. Figures
// go from the largest down; pH, which only fruit has, from the sourest up and the
// unknown last.
const (
	AsListed      Order = "listed"
	ByName        Order = "name"
	BySugar       Order = "sugar"
	ByFermentable Order = "fermentable"
	BySweetness   Order = "sweetness"
	ByPH          Order = "ph"
)

// OrdersOf returns the orders that a table can be sorted in.
func OrdersOf(t Table) []Order {
	all := []Order{AsListed, ByName, BySugar, ByFermentable, BySweetness}
	if t == FruitTable {
		all = append(all, ByPH)
	}
	return all
}

// Sorted returns the rows in an order; rows that are equal in it stay as they were.
func Sorted(rows []Stuff, o Order) []Stuff {
	out := slices.Clone(rows)
	falling := func(figure func(Stuff) float64) func(a, b Stuff) int {
		return func(a, b Stuff) int { return cmp.Compare(figure(b), figure(a)) }
	}
	switch o {
	case ByName:
		slices.SortStableFunc(out, func(a, b Stuff) int { return cmp.Compare(foldName(a.Name()), foldName(b.Name())) })
	case BySugar:
		slices.SortStableFunc(out, falling(func(s Stuff) float64 { return float64(s.Gram().Sugar()) }))
	case ByFermentable:
		slices.SortStableFunc(out, falling(func(s Stuff) float64 { return s.Gram().FermentableShare() }))
	case BySweetness:
		slices.SortStableFunc(out, falling(func(s Stuff) float64 { return float64(s.Gram().Sweetness()) }))
	case ByPH:
		slices.SortStableFunc(out, func(a, b Stuff) int { return cmp.Compare(sourness(a), sourness(b)) })
	}
	return out
}

// sourness is the middle of the printed pH; what is not known comes last.
func sourness(s Stuff) float64 {
	ph := s.Fruit.Fruit.PH
	if !ph.Known() {
		return 99
	}
	return (ph.Low + ph.High) / 2
}
