package model

import (
	"fmt"

	"cellar.local/glassrow/calc"
)

// Trial is an addition tried out on paper: what the batch would be with it.
type Trial struct {
	Before, After calc.Figures
	Liquid        calc.Liquid // after
	Sweetener     Sweetener
	Mass          calc.Gram

	// Refermented is what would be left if living yeast went through all that it
	// can use, up to its tolerance.
	Refermented calc.Figures
}

// Try works out what stirring mass of a sweetener into the batch would give. It
// changes nothing.
func Try(s State, d Drink, sw Sweetener, mass calc.Gram) (Trial, error) {
	t := Trial{Before: s.Figures, Sweetener: sw, Mass: mass}
	t.Liquid = s.Liquid.Plus(sw.Ingredient.Amount(mass))
	var err error
	if t.After, err = t.Liquid.Figures(); err != nil {
		return t, fmt.Errorf("%.0f g of %s: %w", float64(mass), sw.Name(), err)
	}
	rule := d.Fermentation()
	done, err := rule.Run(t.Liquid, rule.UpTo(t.Liquid, s.Tolerance))
	if err != nil {
		return t, err
	}
	t.Refermented, err = done.Liquid.Figures()
	return t, err
}

// Overflow returns by how much the vessel would run over; zero when it holds.
func (t Trial) Overflow(v Vessel) calc.Litre { return max(0, t.After.Volume-v.Capacity) }

// Entry returns the addition to write down.
func (t Trial) Entry() Addition {
	return Addition{Portion: Portion{Ingredient: t.Sweetener.Ingredient, Mass: t.Mass}, Purpose: "sweeten"}
}

// Wakes reports whether living yeast would find noticeably more to eat than
// before: half a gram a litre, a tenth of what can burst a still bottle.
func (t Trial) Wakes() bool { return t.After.Fermentable-t.Before.Fermentable > 0.5 }
