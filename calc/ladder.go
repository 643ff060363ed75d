package calc

import (
	"fmt"
	"math"
	"math/rand/v2"
)

// Ladder is a row of glasses drawn from one vessel, with doses of a sweetener in even
// steps from one taste to another.
type Ladder struct {
	Glass    Litre // of the drink in each
	Glasses  int
	From, To GramPerLitre // perceived sweetness of the first and of the last, as sucrose
	Syrup    GramPerLitre // grams in a litre of the syrup it is dosed with; 0: weighed
}

// Rung is one of the glasses of a ladder.
type Rung struct {
	Dose   Gram    // of the sweetener
	Syrup  Litre   // that holds the dose; 0: weighed
	After  Figures // of the glass with it
	Vessel Gram    // of the sweetener that the whole vessel takes for the same
}

// Ladder returns the doses for a row of glasses of l: the sweetness of the first and
// of the last is as wanted, and what is stirred in grows by the same step from glass
// to glass. A taste that the drink has already is a glass left as it is.
//
// Unlike [Ingredient.Bench] it goes by what the tongue notices and not by gravity, so
// that it serves sweeteners that no hydrometer sees. The water of a syrup thins the
// glass and is counted there; Vessel is what makes the vessel taste the same when the
// sweetener is stirred in as it is.
//
// The glass from 0.001 to 10 L and no more than l, 2 to 50 glasses; otherwise the error
// wraps [ErrOutOfRange] or [ErrNotANumber]. It wraps [ErrUnreachable] when the drink
// is sweeter than From, From than To, or no amount gets there.
//
// Source: even steps are common practice. A weighed dose scales exactly: the vessel
// takes as many times the dose as it holds glasses.
func (i Ingredient) Ladder(l Liquid, d Ladder) ([]Rung, error) {
	now, err := l.Figures()
	if err != nil {
		return nil, err
	}
	if err := (Bench{Glass: d.Glass, Glasses: d.Glasses, UpTo: 1}).check(now.Volume); err != nil {
		return nil, err
	}
	stirred, litre := i, Liquid{}
	if d.Syrup > 0 {
		if stirred, litre, err = i.SyrupOf(d.Syrup); err != nil {
			return nil, err
		}
	}
	glass := l.Scaled(float64(d.Glass) / float64(now.Volume))
	from, err := stirred.AmountFor(glass, TargetSweetness(max(d.From, now.Sweetness)))
	if err != nil {
		return nil, err
	}
	to, err := stirred.AmountFor(glass, TargetSweetness(d.To))
	if err != nil {
		return nil, err
	}
	if to < from {
		return nil, fmt.Errorf("sweetness from %.4g to %.4g g/L: %w", float64(d.From), float64(d.To), ErrUnreachable)
	}
	rungs := make([]Rung, d.Glasses)
	for k := range rungs {
		mass := from + (to-from)*Gram(k)/Gram(d.Glasses-1)
		r := Rung{Dose: mass, Vessel: mass * Gram(now.Volume/d.Glass)}
		if r.After, err = glass.Plus(stirred.Amount(mass)).Figures(); err != nil {
			return nil, err
		}
		if d.Syrup > 0 {
			r.Syrup = Litre(mass / litre.Mass())
			r.Dose = Gram(float64(r.Syrup) * float64(d.Syrup))
			if r.Vessel, err = i.AmountFor(l, TargetSweetness(max(r.After.Sweetness, now.Sweetness))); err != nil {
				return nil, err
			}
		}
		rungs[k] = r
	}
	return rungs, nil
}

// SyrupOf returns the ingredient as a syrup of so many grams of it made up with water
// to a litre, and that litre. c from 0.001 to 2000 g/L; otherwise the error wraps
// [ErrOutOfRange] or [ErrNotANumber]. It wraps [ErrUnreachable] when a litre has no
// room for so much.
func (i Ingredient) SyrupOf(c GramPerLitre) (syrup Ingredient, litre Liquid, err error) {
	if err := inRange("syrup", float64(c), 0.001, mostSyrup, " g/L"); err != nil {
		return Ingredient{}, Liquid{}, err
	}
	litre, err = MadeUpTo(i.Amount(Gram(c)), 1)
	if err != nil {
		return Ingredient{}, Liquid{}, fmt.Errorf("syrup of %.6g g/L of %s: %w", float64(c), i.Name, err)
	}
	return Ingredient{Name: "syrup of " + i.Name, PerGram: litre.Scaled(1 / float64(litre.Mass()))}, litre, nil
}

// BlindOrder returns the numbers from 0 to n-1 shuffled, always alike for the same
// seed: which glass each place at the table holds.
func BlindOrder(seed uint64, n int) []int {
	return rand.New(rand.NewPCG(seed, uint64(n))).Perm(max(0, n))
}

// Scored is what somebody thought of a glass: At is its sweetness or dose, Score the
// marks it got.
type Scored struct{ At, Score float64 }

// Preference is where the marks of a row of glasses are best.
type Preference struct {
	Best      float64 // of Scored.At
	PlusMinus float64 // half-width of the likely range; 0: not known
	Fitted    bool    // from a curve through the marks; else it is the best glass
	Edge      bool    // at an end of the ladder: the best may lie beyond it
}

// leastFitted is how many marks a curve takes: one more than it has unknowns.
const leastFitted = 4

// markGrain is what a mark is good for: people mark in whole or half ones (a choice).
const markGrain = 0.5

// Prefer returns the best of glasses that were marked,
//
//	score = a + b·x + c·x²,  best = −b/2c
//
// by least squares, with the standard error of best from theirs. With fewer than four
// marks, or when they make no hill whose top lies on the ladder, it is the glass with
// the highest mark. Marks that are not numbers, or none, are an error that wraps
// [ErrNotANumber] or [ErrOutOfRange].
//
// Source: a quadratic through liking is common practice; the error is the delta
// method's. Marks of 5, 8, 8 and 5 at 0, 1, 2 and 3 are best at 1.5.
func Prefer(marks []Scored) (Preference, error) {
	if len(marks) == 0 {
		return Preference{}, fmt.Errorf("no marks: %w", ErrOutOfRange)
	}
	top, low, high := marks[0], math.Inf(1), math.Inf(-1)
	for _, m := range marks {
		if math.IsNaN(m.At+m.Score) || math.IsInf(m.At+m.Score, 0) {
			return Preference{}, fmt.Errorf("mark: %w", ErrNotANumber)
		}
		if m.Score > top.Score {
			top = m
		}
		low, high = min(low, m.At), max(high, m.At)
	}
	best := Preference{Best: top.At, Edge: top.At == low || top.At == high}
	if len(marks) < leastFitted || !(high > low) {
		return best, nil
	}
	centre, half := (low+high)/2, (high-low)/2
	b, c, varB, varC, cov, ok := parabola(marks, centre, half)
	if !ok || c >= 0 {
		return best, nil
	}
	x := -b / (2 * c)
	if x < -1 || x > 1 {
		return best, nil
	}
	db, dc := -1/(2*c), b/(2*c*c)
	spread := db*db*varB + dc*dc*varC + 2*db*dc*cov
	return Preference{Best: centre + x*half, PlusMinus: min(half, half*math.Sqrt(max(0, spread))), Fitted: true}, nil
}

// parabola fits a + b·u + c·u² to marks with u = (x − centre)/half, and returns the
// variances of b and c and their covariance.
func parabola(marks []Scored, centre, half float64) (b, c, varB, varC, cov float64, ok bool) {
	var s [5]float64 // sums of powers of u
	var t [3]float64 // of those times the score
	for _, m := range marks {
		u, p := (m.At-centre)/half, 1.0
		for k := range s {
			s[k] += p
			if k < len(t) {
				t[k] += p * m.Score
			}
			p *= u
		}
	}
	// Cofactors of the symmetric matrix of sums.
	c00, c01, c02 := s[2]*s[4]-s[3]*s[3], s[2]*s[3]-s[1]*s[4], s[1]*s[3]-s[2]*s[2]
	c11, c12, c22 := s[0]*s[4]-s[2]*s[2], s[1]*s[2]-s[0]*s[3], s[0]*s[2]-s[1]*s[1]
	det := s[0]*c00 + s[1]*c01 + s[2]*c02
	if !(math.Abs(det) > 1e-9) {
		return 0, 0, 0, 0, 0, false
	}
	a := (c00*t[0] + c01*t[1] + c02*t[2]) / det
	b = (c01*t[0] + c11*t[1] + c12*t[2]) / det
	c = (c02*t[0] + c12*t[1] + c22*t[2]) / det
	var miss float64
	for _, m := range marks {
		u := (m.At - centre) / half
		d := m.Score - (a + b*u + c*u*u)
		miss += d * d
	}
	variance := max(miss/float64(len(marks)-3), markGrain*markGrain)
	return b, c, variance * c11 / det, variance * c22 / det, variance * c12 / det, true
}
