package calc

import (
	"fmt"
	"math"
)

// Inferred is what a gravity reading says about a liquid: how far the yeast
// must have come for the liquid to read that.
type Inferred struct {
	Fermented

	// Unexplained is extract that the ledger cannot account for, in sucrose per
	// litre. Positive: the reading is above the liquid before any fermentation,
	// so late sugar from fruit, an unlogged addition or a misreading. Negative:
	// the reading is below what the liquid would read with nothing left at all.
	// Zero for a reading the sugar explains.
	Unexplained GramPerLitre
}

// ToGravity returns how far along the uptake order l must be to read sg, which
// must lie between 0.9 and 1.45.
//
// A reading lower than the fermentable sugar allows means that the must held
// more sugar than its makers thought: ToGravity then turns unfermentable
// extract into fermented sugar, dextrins first, and reports how much in
// BeyondFermentable. A reading that no amount of fermentation gives leaves the
// nearest liquid and reports the difference as Unexplained.
func (f Fermentation) ToGravity(l Liquid, sg SG) (Inferred, error) {
	if err := inRange("gravity", float64(sg), 0.9, 1.45, ""); err != nil {
		return Inferred{}, err
	}
	now, err := l.SG()
	if err != nil {
		return Inferred{}, fmt.Errorf("infer from gravity: %w", err)
	}
	if sg >= now {
		return Inferred{Fermented: Fermented{Liquid: l}, Unexplained: unexplained(l, sg)}, nil
	}
	v, err := l.Volume()
	if err != nil {
		return Inferred{}, err
	}
	w := walk{rule: f, volume: float64(v), at: Fermented{Liquid: l}}
	surelyAbove := Gram(float64(now-sg) / fastestFall * w.volume)
	for {
		step := w.stepSize(l)
		if step <= 0 {
			return w.beyond(sg)
		}
		next := w.next(step)
		if next.Hexose > surelyAbove {
			reads, err := next.Liquid.SG()
			if err != nil {
				return Inferred{}, err
			}
			if reads <= sg {
				at, err := w.stopWithin(step, sg)
				return Inferred{Fermented: at}, err
			}
		}
		w.at = next
	}
}

// fastestFall is more than gravity ever falls by for a gram of hexose fermented out
// of a litre; it is 4.62e-4 at most (kinetics notes, section 5, computed). Until the
// walk has come so far there is no need to ask for the gravity.
const fastestFall = 6e-4

// stopWithin returns the state inside the next step that reads sg. Gravity falls
// all but linearly within a step, so false position needs a few rounds.
func (w *walk) stopWithin(step float64, sg SG) (Fermented, error) {
	return solveFall(step, sg, func(part float64) Fermented { return w.next(part) })
}

// solveFall finds the part of 0..whole at which state(part) reads sg, given that
// gravity falls from above sg to sg or below.
func solveFall(whole float64, sg SG, state func(float64) Fermented) (Fermented, error) {
	var failed error
	miss := func(part float64) float64 {
		g, err := state(part).Liquid.SG()
		if err != nil {
			failed = err
			return math.NaN()
		}
		return float64(g - sg)
	}
	part := fallingRoot(miss, 0, whole, 1e-13)
	return state(part), failed
}

// beyond goes on below the fermentable sugar: maltotriose that this yeast was said
// to leave, dextrins, then other dissolved solids, are taken to have been sugar.
func (w *walk) beyond(sg SG) (Inferred, error) {
	for _, c := range [...]Component{Maltotriose, Dextrin, OtherSolids, Acid} {
		have := w.at.Liquid.grams[c]
		if have == 0 {
			continue
		}
		from := w.at
		state := func(part float64) Fermented { return from.asSugar(c, part, w.rule.Yield) }
		reads, err := state(have).Liquid.SG()
		if err != nil {
			return Inferred{}, err
		}
		if reads <= sg {
			at, err := solveFall(have, sg, state)
			return Inferred{Fermented: at}, err
		}
		w.at = state(have)
	}
	return Inferred{Fermented: w.at, Unexplained: unexplained(w.at.Liquid, sg)}, nil
}

// asSugar ferments mass grams of c as if it were hexose.
func (at Fermented) asSugar(c Component, mass float64, y Yield) Fermented {
	at.Liquid.grams[c] -= mass
	at.BeyondFermentable += Gram(mass)
	return at.gain(mass, y)
}

// unexplained returns the extract, as sucrose per litre, by which a reading of
// sg differs from the liquid, which has a volume.
func unexplained(l Liquid, sg SG) GramPerLitre {
	v, err := l.Volume()
	if err != nil || v == 0 {
		return 0
	}
	alcohol := ethanolRelative20(l.grams[Ethanol] / float64(v))
	w := sucroseFraction((float64(sg)-alcohol+1)*waterDensity20, &sucroseTerms20)
	return GramPerLitre(w*sucroseDensity20(w) - float64(l.Extract())/float64(v))
}

// fallingRoot returns x in lo..hi at which the falling function f passes zero,
// to a relative width of tol, by false position with the Illinois correction.
// Where f does not change sign it returns the end nearer to zero.
func fallingRoot(f func(float64) float64, lo, hi, tol float64) float64 {
	flo, fhi := f(lo), f(hi)
	if !(flo > 0) {
		return lo
	}
	if !(fhi < 0) {
		return hi
	}
	side := 0
	for range 100 {
		x := (lo*fhi - hi*flo) / (fhi - flo)
		fx := f(x)
		switch {
		case fx == 0 || math.IsNaN(fx):
			return x
		case fx > 0:
			lo, flo = x, fx
			if side > 0 {
				fhi /= 2
			}
			side = 1
		default:
			hi, fhi = x, fx
			if side < 0 {
				flo /= 2
			}
			side = -1
		}
		if hi-lo <= tol*(math.Abs(hi)+math.Abs(lo)) || math.Abs(fx) < 1e-12 {
			return x
		}
	}
	return (lo + hi) / 2
}
