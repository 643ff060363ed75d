package calc

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// fitTails is the degrees of freedom of Student's t for readings and for what may be
// wrong outright, a label or the original gravity: real logs hold 3 to 5 % blunders
// of 0.02 to 0.03 (diagnosis notes, section 6).
const fitTails = 4

// forecastMisfit is how far the model itself strays from a ferment it is fitted to,
// as a standard deviation: 0.0009 to 0.0012 over the shared series (kinetics notes,
// section 4). It is added to each reading's error.
const forecastMisfit = 0.001

// wideTailed says which of the fitted are held loosely far out.
var wideTailed = [fitCount]bool{fitTolerance: true, fitGravity: true}

// tailWeight is what a residual of x standard deviations counts for in a fit by least
// squares that gives Student's t.
func tailWeight(x float64) float64 { return (fitTails + 1) / (fitTails + x*x) }

// tailLog is the logarithm of Student's t at x, but for a constant.
func tailLog(x float64) float64 { return -(fitTails + 1) / 2.0 * math.Log1p(x*x/fitTails) }

// fit is one run compared with the readings.
type fit struct {
	at   fitVector
	off  []float64 // residuals, in standard deviations
	loge float64   // logarithm of the posterior, but for a constant
}

// compare sets the fit at z.
func (m *forecastModel) compare(f *fit, z *fitVector) {
	f.at = *z
	c := m.course(z)
	f.off = f.off[:0]
	f.loge = priorLog(z)
	for _, p := range m.seen {
		x := (c.at(p.hour) - p.sg) / math.Hypot(p.sigma, forecastMisfit)
		f.off = append(f.off, x)
		f.loge += tailLog(x)
	}
}

func priorLog(z *fitVector) float64 {
	sum := 0.0
	for i, x := range z {
		if wideTailed[i] {
			sum += tailLog(x)
		} else {
			sum -= x * x / 2
		}
	}
	return sum
}

// mode is a place where the posterior is highest round about, with its curvature.
type mode struct {
	at        fitVector
	loge      float64
	curvature *mat.SymDense
}

// fitStarts are the courses that fits start from: typical, slow, fast, a yeast that
// stops far short, a long lag.
var fitStarts = []fitVector{
	{},
	{fitRate: -1.5},
	{fitRate: 1.5},
	{fitTolerance: -4},
	{fitLag: 1.5, fitNitrogen: 1},
}

// Limits of a fit.
const (
	fitRounds   = 14
	fitEnough   = 1e-4 // gain in the posterior that ends it
	fitStep     = 0.02 // for differences, in standard deviations
	fitMost     = 1.5  // a step in any direction
	modesApart  = 0.25 // closer than that they are one
	modesWithin = 7.0  // of the best, in the logarithm of the posterior
)

// modes climbs from each start and returns the tops, the highest first.
func (m *forecastModel) modes() []mode {
	var tops []mode
	for _, z := range fitStarts {
		top := m.climb(z)
		if !slices.ContainsFunc(tops, func(o mode) bool { return closeTops(&o.at, &top.at) }) {
			tops = append(tops, top)
		}
	}
	slices.SortStableFunc(tops, func(a, b mode) int { return cmp.Compare(b.loge, a.loge) })
	return slices.DeleteFunc(tops, func(o mode) bool { return o.loge < tops[0].loge-modesWithin })
}

// possible reports whether z is near enough to typical for the model to be asked.
func possible(z *fitVector) bool {
	for i, x := range z {
		most := 6.0
		if wideTailed[i] {
			most = 15
		}
		if !(math.Abs(x) < most) {
			return false
		}
	}
	return true
}

func closeTops(a, b *fitVector) bool {
	for i := range a {
		if math.Abs(a[i]-b[i]) > modesApart {
			return false
		}
	}
	return true
}

// climb goes up from z by damped least squares (Levenberg and Marquardt), readings
// and priors weighted anew each round so that the tails are Student's.
func (m *forecastModel) climb(z fitVector) mode {
	var now, next fit
	m.compare(&now, &z)
	slopes := make([]fitVector, len(m.seen))
	damp := 1e-2
	for range fitRounds {
		m.differ(slopes, &now)
		curvature, push := normalEquations(&now, slopes)
		gain := 0.0
		for range 6 {
			step, ok := dampedStep(curvature, push, damp)
			to := now.at
			for i := range to {
				to[i] += step[i]
			}
			if ok && possible(&to) {
				m.compare(&next, &to)
				if gain = next.loge - now.loge; gain > 0 {
					now, next = next, now
					damp = math.Max(1e-6, damp/5)
					break
				}
			}
			damp *= 6
		}
		if gain < fitEnough {
			break
		}
	}
	m.differ(slopes, &now)
	curvature, _ := normalEquations(&now, slopes)
	return mode{at: now.at, loge: now.loge, curvature: curvature}
}

// differ sets slopes to how each residual changes with each of the fitted.
func (m *forecastModel) differ(slopes []fitVector, now *fit) {
	for i := range now.at {
		z := now.at
		z[i] += fitStep
		c := m.course(&z)
		for k, p := range m.seen {
			x := (c.at(p.hour) - p.sg) / math.Hypot(p.sigma, forecastMisfit)
			slopes[k][i] = (x - now.off[k]) / fitStep
		}
	}
}

// normalEquations returns the curvature of the posterior at now and its slope.
func normalEquations(now *fit, slopes []fitVector) (*mat.SymDense, *mat.VecDense) {
	curvature := mat.NewSymDense(fitCount, nil)
	push := mat.NewVecDense(fitCount, nil)
	for i, x := range now.at {
		w := 1.0
		if wideTailed[i] {
			w = tailWeight(x)
		}
		curvature.SetSym(i, i, w)
		push.SetVec(i, -w*x)
	}
	for k, x := range now.off {
		w := tailWeight(x)
		for i, a := range slopes[k] {
			push.SetVec(i, push.AtVec(i)-w*a*x)
			for j := i; j < fitCount; j++ {
				curvature.SetSym(i, j, curvature.At(i, j)+w*a*slopes[k][j])
			}
		}
	}
	return curvature, push
}

// dampedStep solves for the step up, held short by damp and by fitMost.
func dampedStep(curvature *mat.SymDense, push *mat.VecDense, damp float64) (step fitVector, ok bool) {
	held := mat.NewSymDense(fitCount, nil)
	held.CopySym(curvature)
	for i := range fitCount {
		held.SetSym(i, i, held.At(i, i)*(1+damp))
	}
	var chol mat.Cholesky
	if !chol.Factorize(held) {
		return step, false
	}
	var x mat.VecDense
	if err := chol.SolveVecTo(&x, push); err != nil {
		return step, false
	}
	longest := 0.0
	for i := range step {
		step[i] = x.AtVec(i)
		longest = math.Max(longest, math.Abs(step[i]))
	}
	if longest > fitMost {
		for i := range step {
			step[i] *= fitMost / longest
		}
	}
	return step, true
}
