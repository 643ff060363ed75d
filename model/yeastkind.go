package model

import "cellar.local/glassrow/calc"

// YeastKind is a row of the handbook: a kind of yeast by how much alcohol it stands.
type YeastKind struct {
	ID        string              // a [YeastGroup] where there is one
	Tolerance calc.YeastTolerance // its Name is the everyday name
	Aliases   []string            // other names people search for
	Notes     string
	Source    string
}

// Name returns the everyday name.
func (k YeastKind) Name() string { return k.Tolerance.Name }

// FindYeastKind returns the kind that a person means by name, as [FindFruit] does.
func FindYeastKind(all []YeastKind, name string) (found YeastKind, ok bool, matches []YeastKind) {
	return FindNamed(all, func(k YeastKind) []string { return append([]string{k.ID, k.Name()}, k.Aliases...) }, name)
}

// Tolerances returns the tolerances of the kinds, in their order, as
// [calc.Fermentation.LeftByEach] takes them.
func Tolerances(kinds []YeastKind) []calc.YeastTolerance {
	out := make([]calc.YeastTolerance, len(kinds))
	for i, k := range kinds {
		out[i] = k.Tolerance
	}
	return out
}
