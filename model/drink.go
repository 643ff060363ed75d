package model

import "cellar.local/glassrow/calc"

// Drink is the kind of thing a batch is to become. It decides what a must of
// unknown make-up is taken to hold, and what the yeast makes of it.
type Drink string

// The kinds of drink.
const (
	Mead  Drink = "mead"
	Wine  Drink = "wine"
	Cider Drink = "cider"
	Perry Drink = "perry"
	Beer  Drink = "beer"
	Other Drink = "other"
)

// Drinks returns every kind of drink.
func Drinks() []Drink { return []Drink{Mead, Wine, Cider, Perry, Beer, Other} }

// TypicalSolids returns what the extract of such a must is taken to be made of
// while its ingredients are not in the journal.
func (d Drink) TypicalSolids() calc.Liquid {
	switch d {
	case Mead:
		return calc.HoneySolids()
	case Wine:
		return calc.GrapeSolids()
	case Cider:
		return calc.AppleSolids()
	case Perry:
		return calc.PearSolids()
	case Beer:
		return calc.WortSolids()
	}
	return calc.SugarSolids()
}

// Fermentation returns how yeast works through such a must.
func (d Drink) Fermentation() calc.Fermentation {
	if d == Beer {
		return calc.Fermentation{Yield: calc.WortYield()}
	}
	return calc.Fermentation{Yield: calc.MustYield()}
}
