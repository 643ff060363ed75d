package calc

import (
	"fmt"
	"math"
)

// TargetStrength aims at alcohol by volume, as when a spirit is stirred in or water
// thins a drink.
func TargetStrength(abv PercentVol) Target {
	return Target{what: "strength", unit: " % vol", want: float64(abv), slack: 1e-7, byMass: true,
		measure: func(f Figures) float64 { return float64(f.Strength) }}
}

// TargetPotential aims at the strength that the law expects of the sugar yeast can
// use: 16.83 g/L for 1 % vol, see [SugarPerPercentVol].
func TargetPotential(abv PercentVol) Target {
	return Target{what: "potential strength", unit: " % vol", want: float64(abv), slack: 1e-7, byMass: true,
		measure: func(f Figures) float64 { return float64(f.Fermentable / SugarPerPercentVol) }}
}

// mostWater is how many times the liquid's own mass of water is tried to thin it.
const mostWater = 4096

// WaterFor returns how much water brings l to the target: thinner than it is, or,
// where alcohol makes it lighter than water, heavier.
//
// The error wraps [ErrUnreachable] when water leads the other way, or when not even
// four thousand times the liquid's own mass gets there.
func WaterFor(l Liquid, t Target) (Gram, error) {
	if math.IsNaN(t.want) || math.IsInf(t.want, 0) {
		return 0, fmt.Errorf("target %s: %w", t.what, ErrNotANumber)
	}
	now, err := l.Figures()
	if err != nil {
		return 0, err
	}
	if now.Volume == 0 {
		return 0, fmt.Errorf("water to an empty vessel: %w", ErrUnreachable)
	}
	above := t.measure(now) - t.want
	if math.Abs(above) <= t.slack {
		return 0, nil
	}
	falling := math.Copysign(1, above)
	miss := func(water float64) float64 {
		thinner := l
		thinner.grams[Water] += water
		f, err := thinner.Figures()
		if err != nil {
			return math.NaN()
		}
		return falling * (t.measure(f) - t.want)
	}
	lo := 0.0
	for hi := float64(now.Mass) / mostWater; hi <= mostWater*float64(now.Mass); hi *= 2 {
		if miss(hi) <= 0 {
			return Gram(fallingRoot(miss, lo, hi, 1e-13)), nil
		}
		lo = hi
	}
	return 0, fmt.Errorf("target %s %.5g%s: no amount of water gets there: %w", t.what, t.want, t.unit, ErrUnreachable)
}

// Adjustment is what brings a must to a target.
type Adjustment struct {
	Must  Must // afterwards
	Added Gram // of the ingredient
	Water Gram
}

// Adjusted returns the must brought to the target with the ingredient when it falls
// short of it, and with water when it is past it. The target is met once all juice
// has left the fruit. The error wraps [ErrUnreachable] when neither gets there.
func (m Must) Adjusted(t Target, with Ingredient) (Adjustment, error) {
	all := m.AllOut()
	f, err := all.Figures()
	if err != nil {
		return Adjustment{}, err
	}
	if t.measure(f) > t.want {
		water, err := WaterFor(all, t)
		if err != nil {
			return Adjustment{}, err
		}
		var l Liquid
		l.grams[Water] = float64(water)
		return Adjustment{Must: m.Plus(l), Water: water}, nil
	}
	mass, err := with.AmountFor(all, t)
	if err != nil {
		return Adjustment{}, err
	}
	return Adjustment{Must: m.Plus(with.Amount(mass)), Added: mass}, nil
}

// AdjustedTo is [Must.Adjusted] for a must that is also to fill v litres: so much of
// the ingredient, and water for the rest. The error wraps [ErrUnreachable] when the
// must is past the target at v litres already, or does not get there within them.
func (m Must) AdjustedTo(v Litre, t Target, with Ingredient) (Adjustment, error) {
	if math.IsNaN(t.want) || math.IsInf(t.want, 0) {
		return Adjustment{}, fmt.Errorf("target %s: %w", t.what, ErrNotANumber)
	}
	plain, err := m.MadeUpTo(v)
	if err != nil {
		return Adjustment{}, err
	}
	miss := func(mass float64) float64 {
		made, err := m.Plus(with.Amount(Gram(mass))).MadeUpTo(v)
		if err != nil {
			return math.Inf(-1) // no room for so much
		}
		f, err := made.AllOut().Figures()
		if err != nil {
			return math.Inf(-1)
		}
		return t.want - t.measure(f)
	}
	short := miss(0)
	if short < -t.slack {
		return Adjustment{}, fmt.Errorf("target %s %.5g%s: %.4g L of this must are %.5g%s without anything added: %w",
			t.what, t.want, t.unit, float64(v), t.want-short, t.unit, ErrUnreachable)
	}
	mass := 0.0
	if short > t.slack {
		most, ok := firstNegative(miss, float64(v)*waterDensity20)
		if !ok {
			return Adjustment{}, fmt.Errorf("target %s %.5g%s: no amount of %s gets there in %.4g L: %w",
				t.what, t.want, t.unit, with.Name, float64(v), ErrUnreachable)
		}
		mass = fallingRoot(miss, 0, most, 1e-13)
		if plain, err = m.Plus(with.Amount(Gram(mass))).MadeUpTo(v); err != nil {
			return Adjustment{}, err
		}
	}
	before := m.poured.grams[Water] + float64(with.Amount(Gram(mass)).Of(Water))
	return Adjustment{Must: plain, Added: Gram(mass), Water: Gram(plain.poured.grams[Water] - before)}, nil
}
