package calc

import (
	"fmt"
	"math"
)

// Liquid is a composition ledger: grams of each [Component]. It is a value;
// every method returns a new one. The zero Liquid is an empty vessel.
//
// Nothing but mass is stored. Volume, gravity and strength are computed, which
// is why they stay right through additions, dilution, blending and sweetening.
type Liquid struct {
	grams [componentCount]float64
}

// NewLiquid returns a liquid of the given parts. A negative, infinite or NaN
// mass is an error.
func NewLiquid(parts map[Component]Gram) (Liquid, error) {
	var l Liquid
	for c, g := range parts {
		if c >= componentCount {
			return Liquid{}, fmt.Errorf("component %d: %w", c, ErrOutOfRange)
		}
		if err := inRange(c.String(), float64(g), 0, maxGrams, " g"); err != nil {
			return Liquid{}, err
		}
		l.grams[c] = float64(g)
	}
	return l, nil
}

// maxGrams bounds a mass that a person can mean: a thousand tonnes.
const maxGrams = 1e9

// Of returns the mass of c in the liquid; none of a component that is not one.
func (l Liquid) Of(c Component) Gram {
	if c >= componentCount {
		return 0
	}
	return Gram(l.grams[c])
}

// Mass returns the whole mass.
func (l Liquid) Mass() Gram {
	var m float64
	for _, g := range l.grams {
		m += g
	}
	return Gram(m)
}

// Plus returns l and other poured together. Mass adds; volume need not.
func (l Liquid) Plus(other Liquid) Liquid {
	for c, g := range other.grams {
		l.grams[c] += g
	}
	return l
}

// Scaled returns the liquid with every mass multiplied by factor: 0.5 is half
// of it. A negative or NaN factor gives the empty liquid.
func (l Liquid) Scaled(factor float64) Liquid {
	if !(factor > 0) || math.IsInf(factor, 0) {
		return Liquid{}
	}
	for c := range l.grams {
		l.grams[c] *= factor
	}
	return l
}

// Solids returns the liquid without its water and ethanol.
func (l Liquid) Solids() Liquid {
	l.grams[Water], l.grams[Ethanol] = 0, 0
	return l
}

// Extract returns the mass of everything dissolved: all but water and ethanol.
func (l Liquid) Extract() Gram {
	return l.Mass() - Gram(l.grams[Water]+l.grams[Ethanol])
}

// Hexose returns the hexose that yeast can get from the liquid, the water taken
// up in splitting included: 1 g of sucrose counts 1.0526 g.
func (l Liquid) Hexose() Gram {
	var h float64
	for c := Sucrose; c <= Maltotriose; c++ {
		h += l.grams[c] * traits[c].hexose
	}
	return Gram(h)
}

// Fermentable returns the mass of the sugars that yeast can use.
func (l Liquid) Fermentable() Gram {
	var m float64
	for c := Sucrose; c <= Maltotriose; c++ {
		m += l.grams[c]
	}
	return Gram(m)
}

// Sugar returns the mass of all sugars, lactose included.
func (l Liquid) Sugar() Gram { return l.Fermentable() + Gram(l.grams[Lactose]) }

// Sweetness returns the mass of sucrose that would taste as sweet, in grams for
// the whole liquid. It adds the parts; acidity, alcohol and cold, which change
// what the tongue makes of it, are left out.
func (l Liquid) Sweetness() Gram {
	var s float64
	for c, g := range l.grams {
		s += g * traits[c].sweetness
	}
	return Gram(s)
}

// WaterOf returns v litres of water at 20 °C, 0 to 1e6 L.
func WaterOf(v Litre) (Liquid, error) {
	if err := inRange("volume of water", float64(v), 0, 1e6, " L"); err != nil {
		return Liquid{}, err
	}
	var l Liquid
	l.grams[Water] = float64(v) * waterDensity20
	return l, nil
}

// LiquidOf returns v litres of a drink of the given gravity and strength, its
// extract shared out as in solids. It is how a liquid of unknown history enters
// the ledger: gravity and strength fix the extract (Tabarié), and solids says
// what that extract is made of.
//
// v 0 to 1e6 L, sg 0.95 to 1.45, abv 0 to 30 % vol. A gravity below that of the
// alcohol alone, or solids with nothing in them when there is extract, is an
// error.
func LiquidOf(v Litre, sg SG, abv PercentVol, solids Liquid) (Liquid, error) {
	if err := inRange("volume", float64(v), 0, 1e6, " L"); err != nil {
		return Liquid{}, err
	}
	if err := inRange("gravity", float64(sg), 0.95, 1.45, ""); err != nil {
		return Liquid{}, err
	}
	if err := inRange("strength", float64(abv), 0, 30, " % vol"); err != nil {
		return Liquid{}, err
	}
	ethanol := float64(abv) / 100 * ethanolDensityPure20
	extractSG := float64(sg) - ethanolRelative20(ethanol) + 1
	if extractSG < 1-1e-9 {
		return Liquid{}, fmt.Errorf("gravity %.4f is below that of %.1f %% vol alcohol in water, %.4f: %w",
			float64(sg), float64(abv), ethanolRelative20(ethanol), ErrOutOfRange)
	}
	extract, err := ExtractOfSG(SG(math.Max(extractSG, 1)))
	if err != nil {
		return Liquid{}, fmt.Errorf("extract of %.4f: %w", extractSG, err)
	}
	share := solids.Solids()
	total := float64(share.Mass())
	if total <= 0 && extract > 0 {
		return Liquid{}, fmt.Errorf("extract %.1f g/L of unknown kind: %w", float64(extract), ErrOutOfRange)
	}
	var l Liquid
	if total > 0 {
		l = share.Scaled(float64(extract) * float64(v) / total)
	}
	l.grams[Ethanol] = ethanol * float64(v)
	l.grams[Water] = float64(sg)*waterDensity20*float64(v) - float64(l.Mass())
	if l.grams[Water] < 0 {
		return Liquid{}, fmt.Errorf("gravity %.4f at %.1f %% vol leaves no room for water: %w",
			float64(sg), float64(abv), ErrOutOfRange)
	}
	return l, nil
}

// MadeUpTo returns what was poured together, topped up with water to v litres.
// When it is more than v litres already, or no amount of water gives v, the
// error wraps [ErrUnreachable].
func MadeUpTo(poured Liquid, v Litre) (Liquid, error) {
	if err := inRange("volume to make up to", float64(v), 0, 1e6, " L"); err != nil {
		return Liquid{}, err
	}
	miss := func(water float64) float64 {
		l := poured
		l.grams[Water] += water
		have, err := l.Volume()
		if err != nil {
			return 1 // too dry to be a liquid yet: more water
		}
		return float64(v - have)
	}
	if miss(0) < 0 {
		return Liquid{}, fmt.Errorf("what goes in is more than %.4g L already: %w", float64(v), ErrUnreachable)
	}
	poured.grams[Water] += fallingRoot(miss, 0, float64(v)*waterDensity20, 1e-13)
	if have, err := poured.Volume(); err != nil || math.Abs(float64(have-v)) > 1e-9*float64(v) {
		return Liquid{}, fmt.Errorf("too dry to be a liquid in %.4g L: %w", float64(v), ErrUnreachable)
	}
	return poured, nil
}
