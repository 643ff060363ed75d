package calc

import (
	"fmt"
	"math"
	"strconv"
)

// Ingredient is something poured or stirred in, known by what one gram of it
// holds: honey, table sugar, a syrup, a spirit.
type Ingredient struct {
	Name    string
	PerGram Liquid // one gram; see NewIngredient
}

// NewIngredient returns an ingredient from its parts, in any unit as long as it
// is the same for all: a percentage table as printed will do. Parts that add up
// to nothing are an error.
func NewIngredient(name string, parts map[Component]Gram) (Ingredient, error) {
	l, err := NewLiquid(parts)
	if err != nil {
		return Ingredient{}, fmt.Errorf("%s: %w", name, err)
	}
	m := float64(l.Mass())
	if m <= 0 {
		return Ingredient{}, fmt.Errorf("%s: nothing in it: %w", name, ErrOutOfRange)
	}
	return Ingredient{Name: name, PerGram: l.Scaled(1 / m)}, nil
}

// Amount returns mass grams of the ingredient.
func (i Ingredient) Amount(mass Gram) Liquid { return i.PerGram.Scaled(float64(mass)) }

// Target is what an addition is aimed at: a measure of the finished liquid and
// the value it should have.
type Target struct {
	what    string
	unit    string
	want    float64
	measure func(Figures) float64
	slack   float64 // how far off still counts as met
	byMass  bool    // it takes mass to get there, not sweetness
}

// TargetSG aims at a gravity.
func TargetSG(sg SG) Target {
	return Target{"gravity", "", float64(sg), func(f Figures) float64 { return float64(f.SG) }, 1e-7, true}
}

// TargetSugar aims at grams of all sugars per litre.
func TargetSugar(c GramPerLitre) Target {
	return Target{"sugar", " g/L", float64(c), func(f Figures) float64 { return float64(f.Sugar) }, 1e-6, true}
}

// TargetFermentable aims at grams per litre of the sugars that yeast can use: what a
// law means that counts no lactose.
func TargetFermentable(c GramPerLitre) Target {
	return Target{"sugar other than lactose", " g/L", float64(c), func(f Figures) float64 { return float64(f.Fermentable) }, 1e-6, true}
}

// TargetSweetness aims at perceived sweetness, as grams of sucrose per litre.
func TargetSweetness(c GramPerLitre) Target {
	return Target{"sweetness", " g/L", float64(c), func(f Figures) float64 { return float64(f.Sweetness) }, 1e-6, false}
}

// told writes what a drink has, to a tenth of a gram in a litre or the fourth decimal of
// a gravity, and finer where it would read like what is wanted.
func (t Target) told(have float64) string {
	tens := 10.0
	if t.unit == "" {
		tens = 1e4
	}
	for ; tens < 1e7; tens *= 10 {
		if x := math.Round(have*tens) / tens; x > t.want {
			return strconv.FormatFloat(x, 'f', -1, 64)
		}
	}
	return strconv.FormatFloat(have, 'g', -1, 64)
}

// asIn returns the target that a drink has met already, or, where it is further along
// itself, the one now has met.
func (t Target) asIn(drink, now Figures) Target {
	t.want = max(t.measure(drink), t.measure(now))
	return t
}

// AmountFor returns how much of the ingredient must be stirred into l to meet
// the target, volume change and dilution included. The result meets a gravity
// within 1e-6.
//
// The error wraps [ErrUnreachable] when the liquid is past the target already,
// when not even thirty times its own mass of the ingredient gets there, and when
// a gravity is asked of a sweetener too strong to move the hydrometer: kilograms
// of it would, but nobody could drink that.
func (i Ingredient) AmountFor(l Liquid, t Target) (Gram, error) {
	if math.IsNaN(t.want) || math.IsInf(t.want, 0) {
		return 0, fmt.Errorf("target %s: %w", t.what, ErrNotANumber)
	}
	now, err := l.Figures()
	if err != nil {
		return 0, err
	}
	if now.Volume == 0 {
		return 0, fmt.Errorf("sweeten an empty vessel: %w", ErrUnreachable)
	}
	have := t.measure(now)
	if have > t.want+t.slack {
		return 0, fmt.Errorf("target %s %.5g%s is below today's %s%s: %w", t.what, t.want, t.unit, t.told(have), t.unit, ErrUnreachable)
	}
	if have >= t.want-t.slack {
		return 0, nil
	}
	if t.byMass && i.PerGram.Sweetness() > tooSweetToWeigh*i.PerGram.Mass() {
		return 0, fmt.Errorf("target %s %.5g%s with %s, of which milligrams sweeten; aim at a taste: %w", t.what, t.want, t.unit, i.Name, ErrUnreachable)
	}
	miss := func(mass float64) float64 {
		f, err := l.Plus(i.Amount(Gram(mass))).Figures()
		if err != nil {
			return math.Inf(-1) // no longer a liquid: surely too much
		}
		return t.want - t.measure(f)
	}
	most, ok := firstNegative(miss, float64(now.Mass))
	if !ok {
		return 0, fmt.Errorf("target %s %.5g%s: no amount of %s gets there: %w", t.what, t.want, t.unit, i.Name, ErrUnreachable)
	}
	mass := fallingRoot(miss, 0, most, 1e-13)
	if math.Abs(miss(mass)) > max(t.slack, 1e-9*math.Abs(t.want))*10 {
		return 0, fmt.Errorf("target %s %.5g%s: no amount of %s gets there: %w", t.what, t.want, t.unit, i.Name, ErrUnreachable)
	}
	return Gram(mass), nil
}

// tooSweetToWeigh is the sweetness of a gram, sucrose = 1, from which a sweetener
// is for the tongue alone. Sugars and polyols have 1.7 at most, the others 175 up.
const tooSweetToWeigh = 20

// firstNegative looks for a mass at which miss is no longer positive: from a
// millionth of the liquid's mass, for sweeteners of which milligrams suffice,
// up to thirty times it.
func firstNegative(miss func(float64) float64, mass float64) (float64, bool) {
	for m := mass * 1e-6; m < 30*mass; m *= 4 {
		if v := miss(m); v <= 0 {
			if math.IsInf(v, -1) {
				return shrinkToLiquid(miss, m/4, m)
			}
			return m, true
		}
	}
	return 0, false
}

// shrinkToLiquid walks back from an amount that is no longer a liquid, hi, to one
// that still is and overshoots the target, if there is one above lo.
func shrinkToLiquid(miss func(float64) float64, lo, hi float64) (float64, bool) {
	for range 60 {
		mid := (lo + hi) / 2
		switch v := miss(mid); {
		case math.IsInf(v, -1):
			hi = mid
		case v <= 0:
			return mid, true
		default:
			lo = mid
		}
	}
	return 0, false
}
