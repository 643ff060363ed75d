package calc

import (
	"fmt"
	"math"
	"math/rand/v2"
)

// Ladder is a row of glasses drawn from one vessel for a sweetening trial, with doses
// of a sweetener in even steps.
type Ladder struct {
	Glass    Litre // of the drink in each
	Glasses  int
	From, To Target       // of the first glass and of the last; the zero From is the drink as it is
	Syrup    GramPerLitre // grams in a litre of the syrup it is dosed with; 0: weighed
}

// Rung is one of the glasses of a ladder.
type Rung struct {
	Dose   Gram    // of the sweetener
	Syrup  Litre   // that holds the dose; 0: weighed
	After  Figures // of the glass with it
	Vessel Gram    // of the sweetener that the whole vessel takes for the same
}

// What a ladder can be.
const (
	leastGlasses, mostGlasses = 2, 50
	leastGlass, mostGlass     = 0.001, 10 // litres
	mostSyrup                 = 2000      // g/L: more than any sweetener weighs
)

// Ladder returns the doses for a row of glasses of l: the first and the last are as
// wanted, and what is stirred in grows by the same step from glass to glass, so that it
// can be measured in multiples. A first that the drink is past already is a glass left
// as it is.
//
// Grams of a thick thing in a glass are hard to weigh. With a syrup, so many grams of
// the ingredient made up with water to a litre, each dose is told in syrup too. The
// water of it thins the glass and is counted there; Vessel is what brings the vessel to
// the same when the sweetener is stirred in as it is: the same gravity on a ladder that
// goes to a gravity, the same taste on one that goes to a sweetness.
//
// The glass from 0.001 to 10 L and no more than l, 2 to 50 glasses, a syrup from 0.001
// to 2000 g/L, 0 for none; otherwise the error wraps [ErrOutOfRange] or
// [ErrNotANumber], as it does without a To. It wraps [ErrUnreachable] when the drink is
// past To, From is past it, or no amount gets there.
//
// Source: even steps are common practice. A weighed dose scales exactly: the vessel
// takes as many times the dose as it holds glasses. Of 50 mL of water the last glass up
// to 1.082923, which is 20 Brix (ICUMSA SPS-4), takes 12.48 g of sucrose.
func (i Ingredient) Ladder(l Liquid, d Ladder) ([]Rung, error) {
	now, err := l.Figures()
	if err != nil {
		return nil, err
	}
	if err := d.check(now.Volume); err != nil {
		return nil, err
	}
	stirred, litre := i, Liquid{}
	if d.Syrup != 0 {
		if stirred, litre, err = i.SyrupOf(d.Syrup); err != nil {
			return nil, err
		}
	}
	glass := l.Scaled(float64(d.Glass) / float64(now.Volume))
	from, to, err := d.ends(glass, now, stirred)
	if err != nil {
		return nil, err
	}
	rungs := make([]Rung, d.Glasses)
	for k := range rungs {
		mass := from + (to-from)*Gram(k)/Gram(d.Glasses-1)
		r := Rung{Dose: mass, Vessel: mass * Gram(now.Volume/d.Glass)}
		if r.After, err = glass.Plus(stirred.Amount(mass)).Figures(); err != nil {
			return nil, err
		}
		if d.Syrup != 0 {
			r.Syrup = Litre(mass / litre.Mass())
			r.Dose = Gram(float64(r.Syrup) * float64(d.Syrup))
			if r.Vessel, err = i.AmountFor(l, d.To.asIn(r.After, now)); err != nil {
				return nil, err
			}
		}
		rungs[k] = r
	}
	return rungs, nil
}

// ends returns what the first and the last glass take.
func (d Ladder) ends(glass Liquid, now Figures, stirred Ingredient) (from, to Gram, err error) {
	if d.From.measure != nil && !(d.From.want <= d.From.measure(now)) {
		if from, err = stirred.AmountFor(glass, d.From); err != nil {
			return 0, 0, err
		}
	}
	if to, err = stirred.AmountFor(glass, d.To); err != nil {
		return 0, 0, err
	}
	if to < from {
		return 0, 0, fmt.Errorf("first glass, at %s %.5g%s, is past the last, at %s %.5g%s: %w",
			d.From.what, d.From.want, d.From.unit, d.To.what, d.To.want, d.To.unit, ErrUnreachable)
	}
	return from, to, nil
}

func (d Ladder) check(vessel Litre) error {
	if err := inRange("glass", float64(d.Glass), leastGlass, mostGlass, " L"); err != nil {
		return err
	}
	if d.Glass > vessel*(1+1e-9) { // rounding
		return fmt.Errorf("a glass of %.4g L is more than the %.4g L there are: %w", float64(d.Glass), float64(vessel), ErrOutOfRange)
	}
	if d.To.measure == nil {
		return fmt.Errorf("last glass: nothing to aim at: %w", ErrOutOfRange)
	}
	return inRange("glasses", float64(d.Glasses), leastGlasses, mostGlasses, "")
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
