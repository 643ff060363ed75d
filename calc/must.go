package calc

import (
	"fmt"
	"time"
)

// Must is a must in its vessel: what was poured and stirred together, and fruit
// whose juice is still on its way. It is a value; every method returns a new one.
//
//	+--------------------------------+
//	| pulp: room, but no gravity     |
//	| juice still inside the fruit   |  comes out over days
//	| juice that is out              |  what the
//	| poured: water, sugar, juice    |  hydrometer feels
//	+--------------------------------+
type Must struct {
	poured Liquid
	fruit  []FruitPortion
}

// NewMust returns the must of all that was poured together, sugars, honey, syrups,
// juices and water, and of fruit. A fruit with a share of waste outside 0 to 0.9, a
// negative half-time, or a mass that cannot be, is an error.
func NewMust(poured Liquid, fruit ...FruitPortion) (Must, error) {
	for _, p := range fruit {
		if err := inRange("mass", float64(p.Mass), 0, maxGrams, " g"); err != nil {
			return Must{}, fmt.Errorf("%s: %w", p.Fruit.Name, err)
		}
		if err := p.Fruit.check(); err != nil {
			return Must{}, fmt.Errorf("%s: %w", p.Fruit.Name, err)
		}
	}
	return Must{poured: poured, fruit: append([]FruitPortion(nil), fruit...)}, nil
}

// Plus returns the must with l poured in.
func (m Must) Plus(l Liquid) Must {
	m.poured = m.poured.Plus(l)
	return m
}

// After returns what is free in the must a time after it was made, and the juice
// that is then still inside the fruit. Together they are [Must.AllOut].
func (m Must) After(d time.Duration) (free, inside Liquid) {
	free = m.poured
	for _, p := range m.fruit {
		out := p.Free(d)
		free = free.Plus(p.Juice().Scaled(out))
		inside = inside.Plus(p.Juice().Scaled(1 - out))
	}
	return free, inside
}

// AllOut returns the liquid of the must once all juice has left the fruit, the pulp
// taken out. It is what the yeast will have had.
func (m Must) AllOut() Liquid {
	all := m.poured
	for _, p := range m.fruit {
		all = all.Plus(p.Juice())
	}
	return all
}

// Pulp returns the mass of what never dissolves: skins, pips, fibre and starch.
func (m Must) Pulp() Gram {
	var g Gram
	for _, p := range m.fruit {
		g += p.Edible() * Gram(p.Fruit.Pulp)
	}
	return g
}

// Starch returns the mass of starch in the pulp, which yeast cannot use without
// malt, koji or enzymes; see [Fruit.Starchy].
func (m Must) Starch() Gram {
	var g Gram
	for _, p := range m.fruit {
		g += p.Edible() * Gram(p.Fruit.Starch)
	}
	return g
}

// pulpDensity is the density in g/L of what never dissolves: 1500 to 1600 for
// cellulose, 1500 for starch (textbooks, from memory).
const pulpDensity = 1500

// PulpVolume returns the room that the pulp takes up.
func (m Must) PulpVolume() Litre { return Litre(m.Pulp() / pulpDensity) }

// MustFigures is what a must shows, and what it will come to.
type MustFigures struct {
	SG       SG    // on the first day; 0 where nothing yet floats a hydrometer
	SGAllOut SG    // once all juice has left the fruit
	Volume   Litre // in the vessel: liquid, juice still inside, and pulp
	Drink    Litre // of the liquid alone once all juice is out

	// The rest counts all juice, late or not, and litres of Drink.

	Sugar         GramPerLitre // all sugars, lactose included
	Fermentable   GramPerLitre // the sugars that yeast can use
	Potential     PercentVol   // what the law expects of Fermentable
	LateSugar     Gram         // sugar that is still inside the fruit on the first day
	Unfermentable Gram         // dissolved, but left by yeast
	Starch        Gram         // not dissolved: no food without malt, koji or enzymes
}

// Figures returns the figures of the must on the day it was made.
//
// Potential is by the law's 16.83 g of sugar in a litre for 1 % vol, and only sugar
// that yeast can use counts; see [SugarPerPercentVol]. What the fruit's sugar comes
// to in practice is known to a tenth at best: fruit differs by year, sort and
// ripeness.
//
// More dissolved solids than a liquid can hold, as in dried fruit without water, is
// an error. The empty must gives the zero MustFigures.
func (m Must) Figures() (MustFigures, error) {
	all := m.AllOut()
	f, err := all.Figures()
	if err != nil || f.Volume == 0 {
		return MustFigures{}, err
	}
	free, inside := m.After(0)
	now, err := free.SG()
	if err != nil {
		now = 0 // dry sugar and whole fruit: the liquid is yet to come
	}
	return MustFigures{
		SG:            now,
		SGAllOut:      f.SG,
		Volume:        f.Volume + m.PulpVolume(),
		Drink:         f.Volume,
		Sugar:         f.Sugar,
		Fermentable:   f.Fermentable,
		Potential:     PercentVol(f.Fermentable / SugarPerPercentVol),
		LateSugar:     inside.Sugar(),
		Unfermentable: all.Extract() - all.Fermentable(),
		Starch:        m.Starch(),
	}, nil
}

// MadeUpTo returns the must topped up with water until it fills v litres of a
// vessel, the pulp and the juice still inside the fruit included. When it is more
// than v litres already, the error wraps [ErrUnreachable].
func (m Must) MadeUpTo(v Litre) (Must, error) {
	if err := inRange("volume to make up to", float64(v), 0, 1e6, " L"); err != nil {
		return Must{}, err
	}
	room := v - m.PulpVolume()
	if room < 0 {
		return Must{}, fmt.Errorf("the pulp alone takes up %.4g L of %.4g: %w", float64(m.PulpVolume()), float64(v), ErrUnreachable)
	}
	all := m.AllOut()
	full, err := MadeUpTo(all, room)
	if err != nil {
		return Must{}, err
	}
	m.poured.grams[Water] += full.grams[Water] - all.grams[Water]
	return m, nil
}
