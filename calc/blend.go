package calc

import (
	"fmt"
	"math"
)

// BlendPart is one of the drinks that go into a blend.
type BlendPart struct {
	Liquid  Liquid
	Acidity GramPerLitre // titratable; 0 for water, which has none
}

// Blended is what a blend comes to.
type Blended struct {
	Liquid  Liquid
	Figures Figures
	Acidity GramPerLitre
}

// Blend returns the parts poured together. Mass adds, component by component; the
// volume is that of the whole, a little less or more than the parts'. Acid adds by
// mass too: acidity times volume of each part, over the volume of the blend.
//
// A part's acidity outside 0 to 1000 g/L is an error that wraps [ErrOutOfRange] or
// [ErrNotANumber].
func Blend(parts ...BlendPart) (Blended, error) {
	var b Blended
	var acid float64
	for i, p := range parts {
		if err := inRange("acidity", float64(p.Acidity), 0, 1000, " g/L"); err != nil {
			return Blended{}, fmt.Errorf("part %d: %w", i+1, err)
		}
		v, err := p.Liquid.Volume()
		if err != nil {
			return Blended{}, fmt.Errorf("part %d: %w", i+1, err)
		}
		b.Liquid = b.Liquid.Plus(p.Liquid)
		acid += float64(p.Acidity) * float64(v)
	}
	var err error
	if b.Figures, err = b.Liquid.Figures(); err != nil {
		return Blended{}, err
	}
	if b.Figures.Volume > 0 {
		b.Acidity = GramPerLitre(acid / float64(b.Figures.Volume))
	}
	return b, nil
}

// Mix is how much of two drinks goes into a blend.
type Mix struct {
	Share   float64 // of the second drink, by volume poured
	Blended Blended // from one litre poured
}

// Of returns the litres of each drink when total litres are poured in all.
func (m Mix) Of(total Litre) (first, second Litre) {
	second = total * Litre(m.Share)
	return total - second, second
}

// MixFor returns the blend of a and b that meets the target, the one with the least
// of b where there are two. Only what a and b are counts, not how much of them there
// is. The error wraps [ErrUnreachable] when the target lies outside what they give.
func MixFor(a, b BlendPart, t Target) (Mix, error) {
	return mixFor(a, b, t.what, t.unit, t.want, t.slack, func(x Blended) float64 { return t.measure(x.Figures) })
}

// MixForAcidity is [MixFor] with an acidity in g/L for a target.
func MixForAcidity(a, b BlendPart, acidity GramPerLitre) (Mix, error) {
	return mixFor(a, b, "acidity", " g/L", float64(acidity), 1e-9, func(x Blended) float64 { return float64(x.Acidity) })
}

// mixSteps is in how many steps a target is looked for from all of one drink to all
// of the other. Halves would not do: mixed with water, a sweet drink of the gravity
// of water gets lighter first and heavier again.
const mixSteps = 64

func mixFor(a, b BlendPart, what, unit string, want, slack float64, measure func(Blended) float64) (Mix, error) {
	if math.IsNaN(want) || math.IsInf(want, 0) {
		return Mix{}, fmt.Errorf("target %s: %w", what, ErrNotANumber)
	}
	first, err := litreOf(a)
	if err != nil {
		return Mix{}, fmt.Errorf("first drink: %w", err)
	}
	second, err := litreOf(b)
	if err != nil {
		return Mix{}, fmt.Errorf("second drink: %w", err)
	}
	pour := func(share float64) (Blended, error) { return Blend(first.scaled(1-share), second.scaled(share)) }
	above := func(share float64) float64 {
		x, err := pour(share)
		if err != nil {
			return math.NaN()
		}
		return measure(x) - want
	}
	share, ok := firstZero(above, slack)
	if !ok {
		return Mix{}, fmt.Errorf("target %s %.5g%s lies outside what the two give, %.5g and %.5g%s: %w",
			what, want, unit, want+above(0), want+above(1), unit, ErrUnreachable)
	}
	x, err := pour(share)
	return Mix{Share: share, Blended: x}, err
}

// firstZero returns the lowest x in 0..1 at which f is zero within slack.
func firstZero(f func(float64) float64, slack float64) (float64, bool) {
	last, from := f(0), 0.0
	if math.Abs(last) <= slack {
		return 0, true
	}
	rising := math.Copysign(1, last)
	for i := 1; i <= mixSteps; i++ {
		to := float64(i) / mixSteps
		here := f(to)
		if math.Abs(here) <= slack {
			return to, true
		}
		if here*rising < 0 {
			return fallingRoot(func(x float64) float64 { return rising * f(x) }, from, to, 1e-14), true
		}
		from = to
	}
	return 0, false
}

// litreOf returns one litre of p.
func litreOf(p BlendPart) (BlendPart, error) {
	v, err := p.Liquid.Volume()
	if err != nil {
		return BlendPart{}, err
	}
	if v == 0 {
		return BlendPart{}, fmt.Errorf("empty: %w", ErrUnreachable)
	}
	return p.scaled(1 / float64(v)), nil
}

func (p BlendPart) scaled(factor float64) BlendPart {
	p.Liquid = p.Liquid.Scaled(factor)
	return p
}
