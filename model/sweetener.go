package model

import (
	"strings"

	"cellar.local/glassrow/calc"
)

// Sweetener is a row of the handbook: something sweet to stir in.
type Sweetener struct {
	ID         string
	Ingredient calc.Ingredient // its Name is the everyday name
	Aliases    []string        // other names people search for
	Form       string          // crystals, syrup, powder
	KgPerLitre float64         // as poured or scooped; 0: not known
	CupGrams   float64         // a level US cup; 0: not known
	Flavour    string          // neutral, honey, caramel
	Caution    string          // what can hurt whom; empty: nothing special
	Notes      string
	Source     string
	Origin     Origin
}

// Name returns the everyday name.
func (s Sweetener) Name() string { return s.Ingredient.Name }

// Intense reports whether milligrams of it do, so that no kitchen scale and no
// hydrometer will notice.
func (s Sweetener) Intense() bool {
	return s.Ingredient.PerGram.Sweetness() > 20
}

// Fermentable reports whether yeast could live on it.
func (s Sweetener) Fermentable() bool { return s.Ingredient.PerGram.Fermentable() > 0.01 }

// FindSweetener returns the sweetener that a person means by name: its id, its
// name, an alias, or the one name that begins with or contains the words.
// matches lists the candidates when there is not exactly one.
func FindSweetener(all []Sweetener, name string) (found Sweetener, ok bool, matches []Sweetener) {
	want := foldName(name)
	if want == "" {
		return Sweetener{}, false, nil
	}
	for _, s := range all {
		for _, n := range s.names() {
			if foldName(n) == want {
				return s, true, nil
			}
		}
	}
	for _, fits := range []func(string) bool{
		func(n string) bool { return strings.HasPrefix(n, want) },
		func(n string) bool { return strings.Contains(n, want) },
	} {
		matches = matching(all, fits)
		if len(matches) == 1 {
			return matches[0], true, nil
		}
		if len(matches) > 1 {
			return Sweetener{}, false, matches
		}
	}
	return Sweetener{}, false, nil
}

func (s Sweetener) names() []string {
	return append([]string{s.ID, s.Name()}, s.Aliases...)
}

func matching(all []Sweetener, fits func(string) bool) []Sweetener {
	var out []Sweetener
	for _, s := range all {
		for _, n := range s.names() {
			if fits(foldName(n)) {
				out = append(out, s)
				break
			}
		}
	}
	return out
}

// foldName makes names compare as people mean them: case, hyphens, underscores
// and doubled spaces do not count.
func foldName(s string) string {
	s = strings.NewReplacer("_", " ", "-", " ", ",", " ").Replace(strings.ToLower(s))
	return strings.Join(strings.Fields(s), " ")
}
