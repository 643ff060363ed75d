package plot

import (
	"math"
	"strconv"
)

// A Ticker chooses at most most places between lo and hi, rising, where an
// axis shows a figure, and says how far apart they are.
type Ticker func(lo, hi float64, most int) (at []float64, step float64)

// usable reports whether v can be drawn. Beyond 1e300 sums and differences
// would overflow, so such values are gaps just as NaN is.
func usable(v float64) bool { return math.Abs(v) <= 1e300 }

// interval is a closed range of numbers, empty when lo > hi.
type interval struct{ lo, hi float64 }

var nothing = interval{math.Inf(1), math.Inf(-1)}

func (s *interval) add(v float64) {
	if usable(v) {
		s.lo, s.hi = min(s.lo, v), max(s.hi, v)
	}
}

func (s interval) size() float64 { return s.hi - s.lo }

func (s interval) has(v float64) bool { return s.lo <= v && v <= s.hi }

// thin reports whether the interval is too small beside its own numbers for
// their float64 steps to be told apart.
func (s interval) thin() bool {
	return !(s.size() >= max(1e-9*max(math.Abs(s.lo), math.Abs(s.hi)), 1e-290))
}

// widened returns an interval around s that is at least least wide and never
// thin, so that equal values lie in the middle of it.
func (s interval) widened(least float64) interval {
	if s.lo > s.hi {
		return interval{0, 1}
	}
	middle := s.lo/2 + s.hi/2
	if s.thin() {
		least = max(least, math.Abs(middle)*0.02)
		if least < 1e-280 {
			least = 1
		}
	}
	if half := least / 2; s.size() < least {
		return interval{middle - half, middle + half}
	}
	return s
}

// onward is widened for time: it keeps the start and moves the end.
func (s interval) onward(least float64) interval {
	if s.lo > s.hi {
		return interval{0, max(least, 1)}
	}
	if s.thin() {
		least = max(least, 1, math.Abs(s.lo)*1e-6)
	}
	return interval{s.lo, max(s.hi, s.lo+least)}
}

// niceStep returns the smallest of 1, 2 or 5 times a power of ten that is not
// below least.
func niceStep(least float64) float64 {
	for e := int(math.Floor(math.Log10(least))); ; e++ {
		for _, m := range [...]float64{1, 2, 5} {
			if step := m * math.Pow10(e); step >= least*(1-1e-9) {
				return step
			}
		}
	}
}

// multiples returns the multiples of step between lo and hi, or false when
// there are more than most.
func multiples(lo, hi, step float64, most int) ([]float64, bool) {
	first, last := math.Ceil(lo/step-1e-9), math.Floor(hi/step+1e-9)
	n := last - first + 1
	if !(n <= float64(most)) {
		return nil, false
	}
	at := make([]float64, 0, max(int(n), 0))
	for i := range int(n) {
		at = append(at, (first+float64(i))*step)
	}
	return at, true
}

// NiceTicks is the [Ticker] of plain numbers: steps of 1, 2 or 5 times a power
// of ten.
func NiceTicks(lo, hi float64, most int) (at []float64, step float64) {
	if most < 1 || !usable(lo) || !usable(hi) || (interval{lo, hi}).thin() {
		return nil, 0
	}
	most = min(most, maxSide)
	step = niceStep((hi - lo) / float64(most))
	for {
		if at, ok := multiples(lo, hi, step, most); ok {
			return at, step
		}
		step = niceStep(step * 1.5)
	}
}

// NumberLabel writes v with as many decimals as ticks a step apart need. It is
// how an axis labels numbers unless told otherwise.
func NumberLabel(v, step float64) string {
	if !usable(v) || !(step > 0) || !usable(step) {
		return ""
	}
	if step < 1e-6 || step >= 1e7 {
		return strconv.FormatFloat(v, 'g', 4, 64)
	}
	decimals := max(0, int(-math.Floor(math.Log10(step)+1e-9)))
	if math.Abs(v) < step/1000 {
		v = 0 // never -0.0
	}
	return strconv.FormatFloat(v, 'f', decimals, 64)
}

// evenRows widens data to a range of rows rows in which all ticks are equally
// many rows apart. Each falls on the middle of a row, or, when the range is
// grounded on zero, on the edge between two. It returns the edges of the range
// and the step, or a step of 0 when rows are too few.
func evenRows(data interval, rows int, grounded bool) (edges interval, step float64) {
	if rows < 3 {
		return data, 0
	}
	steps := rows - 1 // between the middles of the outermost rows
	if grounded {
		steps = rows
	}
	ideal := 2.0
	if rows >= 9 {
		ideal = 3
	}
	if rows >= 16 {
		ideal = 4
	}
	least := data.size() / float64(steps) // the smallest value of a row that fits
	best := math.Inf(-1)
	for s, i := niceStep(least*1.5), 0; i < 7 && s <= least*float64(rows); i++ {
		for gap := min(int(s/least+1e-9), rows/2); gap >= 2; gap-- {
			row := s / float64(gap)
			bottom, top := math.Round(data.lo/row), math.Round(data.hi/row)
			spare := float64(rows) - (top - bottom + 1)
			if spare < 0 && !grounded {
				continue
			}
			score := least/row - 0.06*math.Abs(float64(gap)-ideal)
			if rows < 3*gap-1 {
				score -= 0.15 // fewer than three figures
			}
			if score >= best {
				best, step = score, s
				bottom -= math.Floor(spare / 2)
				edges = interval{(bottom - 0.5) * row, (bottom + float64(rows) - 0.5) * row}
				if grounded {
					edges = interval{0, float64(rows) * row}
				}
			}
			break // a smaller gap wastes more
		}
		s = niceStep(s * 1.5)
	}
	if step == 0 {
		return data, 0
	}
	return edges, step
}
