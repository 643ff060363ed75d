package model

import (
	"fmt"

	"cellar.local/glassrow/calc"
)

// Trial is an addition tried out on paper: what the batch would be with it.
type Trial struct {
	Before, After calc.Figures
	Liquid        calc.Liquid // after
	Sweetener     Sweetener   // the only one, or the first of two
	Mass          calc.Gram   // of all that is stirred in
	Parts         []Dose      // what that is
	FruitRoom     calc.Litre  // taken up by fruit in the vessel

	// Refermented is what would be left if living yeast went through all that it
	// can use, up to its tolerance.
	Refermented calc.Figures
}

// Dose is some of a sweetener.
type Dose struct {
	Sweetener Sweetener
	Mass      calc.Gram
}

// Try works out what stirring mass of a sweetener into the batch would give. It
// changes nothing.
func Try(s State, d Drink, sw Sweetener, mass calc.Gram) (Trial, error) {
	return TryDoses(s, d, Dose{sw, mass})
}

// TryDoses is [Try] for several sweeteners at once; there has to be one.
func TryDoses(s State, d Drink, doses ...Dose) (Trial, error) {
	t := Trial{Before: s.Figures, Sweetener: doses[0].Sweetener, Parts: doses, Liquid: s.Liquid, FruitRoom: s.FruitRoom}
	for _, p := range doses {
		t.Mass += p.Mass
		t.Liquid = t.Liquid.Plus(p.Sweetener.Ingredient.Amount(p.Mass))
	}
	var err error
	if t.After, err = t.Liquid.Figures(); err != nil {
		return t, fmt.Errorf("%.0f g of %s: %w", float64(t.Mass), t.Name(), err)
	}
	rule := d.Fermentation()
	done, err := rule.Run(t.Liquid, rule.UpTo(t.Liquid, s.Tolerance))
	if err != nil {
		return t, err
	}
	t.Refermented, err = done.Liquid.Figures()
	return t, err
}

// Name says what is stirred in.
func (t Trial) Name() string {
	name := t.Sweetener.Name()
	for _, p := range t.Parts[min(1, len(t.Parts)):] {
		name += " and " + p.Sweetener.Name()
	}
	return name
}

// Overflow returns by how much the vessel would run over; zero when it holds.
func (t Trial) Overflow(v Vessel) calc.Litre {
	return max(0, t.After.Volume+t.FruitRoom-v.Capacity)
}

// Entry returns the addition to write down, of a trial with one sweetener.
func (t Trial) Entry() Addition { return sweetening(Dose{t.Sweetener, t.Mass}) }

// Entries returns the additions to write down, one a sweetener.
func (t Trial) Entries() []Addition {
	var out []Addition
	for _, p := range t.Parts {
		if p.Mass > 0 {
			out = append(out, sweetening(p))
		}
	}
	return out
}

func sweetening(d Dose) Addition {
	return Addition{Portion: Portion{Ingredient: d.Sweetener.Ingredient, Mass: d.Mass}, Purpose: "sweeten"}
}

// Wakes reports whether living yeast would find noticeably more to eat than
// before: half a gram a litre, a tenth of what can burst a still bottle.
func (t Trial) Wakes() bool { return t.After.Fermentable-t.Before.Fermentable > 0.5 }

// CouldFerment returns how much of the sugar living yeast could use, up to its
// tolerance.
func (t Trial) CouldFerment() calc.GramPerLitre {
	return max(0, t.After.Fermentable-t.Refermented.Fermentable)
}

// Cost returns what it would cost, when the price of every part is known.
func (t Trial) Cost(p Prices) (cost float64, known bool) {
	for _, d := range t.Parts {
		perKilo, ok := p[d.Sweetener.ID]
		if !ok {
			return 0, false
		}
		cost += perKilo * float64(d.Mass) / 1000
	}
	return cost, true
}
