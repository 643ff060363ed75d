package calc

import "math"

// course is gravity along one run of the model: at the end of each step the hours,
// the gravity and its change an hour.
type course struct{ t, sg, rate []float64 }

// place returns the step that t lies in, as the index of its end.
func (c *course) place(t float64) int {
	lo, hi := 1, len(c.t)-1
	for lo < hi {
		mid := (lo + hi) / 2
		if c.t[mid] < t {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	return lo
}

// at returns the gravity at t, by the cubic through the ends of its step.
func (c *course) at(t float64) float64 {
	if t >= c.t[len(c.t)-1] {
		return c.sg[len(c.sg)-1]
	}
	i := c.place(t)
	h := c.t[i] - c.t[i-1]
	x := (t - c.t[i-1]) / h
	y := 1 - x
	return y*y*((1+2*x)*c.sg[i-1]+x*h*c.rate[i-1]) + x*x*((3-2*x)*c.sg[i]-y*h*c.rate[i])
}

// rateAt returns the change of gravity an hour at t.
func (c *course) rateAt(t float64) float64 {
	if t >= c.t[len(c.t)-1] {
		return c.rate[len(c.rate)-1]
	}
	i := c.place(t)
	x := (t - c.t[i-1]) / (c.t[i] - c.t[i-1])
	return (1-x)*c.rate[i-1] + x*c.rate[i]
}

// flatRate is [FlatSlope] an hour.
const flatRate = float64(FlatSlope) / hoursPerDay

// ending is where a course comes to rest.
type ending struct{ sg, finish float64 }

// final returns the gravity from which on it falls less than flatRate, and the hour
// at which it is within a point of it.
func (c *course) final() ending {
	last := len(c.t) - 1
	for last > 0 && -c.rate[last] < flatRate {
		last--
	}
	rest := c.t[last]
	if last+1 < len(c.t) {
		a, b := -c.rate[last]-flatRate, flatRate+c.rate[last+1]
		if a > 0 {
			rest += (c.t[last+1] - c.t[last]) * a / (a + b)
		}
	}
	e := ending{sg: c.at(rest)}
	near := e.sg + finishWithin
	i := 1
	for i < len(c.t)-1 && c.sg[i] > near {
		i++
	}
	lo, hi := c.t[i-1], c.t[i]
	if c.sg[i-1] <= near {
		return e // there from the start
	}
	for range 20 {
		mid := (lo + hi) / 2
		if c.at(mid) > near {
			lo = mid
		} else {
			hi = mid
		}
	}
	e.finish = hi
	return e
}

// fastest returns the steepest fall up to t, as a positive number an hour.
func (c *course) fastest(t float64) float64 {
	most := 0.0
	for i, h := range c.t {
		if h <= t {
			most = math.Max(most, -c.rate[i])
		}
	}
	return math.Max(most, -c.rateAt(t))
}
