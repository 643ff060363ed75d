package model

import "cellar.local/glassrow/calc"

// Fruit is a row of the handbook: a fruit, a root or a grain to make a must of.
type Fruit struct {
	ID       string
	Fruit    calc.Fruit // its Name is the everyday name
	Aliases  []string   // other names people search for
	Group    string     // pome, stone, berry, grape, citrus, tropical, juice, root, starch
	Form     string     // fresh, frozen, dried, juice, grain
	MainAcid string     // empty: not known
	Caution  string     // what can hurt whom; empty: nothing special
	Notes    string
	Source   string
	Origin   Origin
}

// Name returns the everyday name.
func (f Fruit) Name() string { return f.Fruit.Name }

// FindFruit returns the fruit that a person means by name: its id, its name, an
// alias, or the one name that begins with or contains the words; blackcurrants does
// for blackcurrant. matches lists the candidates when there is not exactly one.
func FindFruit(all []Fruit, name string) (found Fruit, ok bool, matches []Fruit) {
	return FindNamed(all, Fruit.names, name)
}

func (f Fruit) names() []string { return append([]string{f.ID, f.Name()}, f.Aliases...) }
