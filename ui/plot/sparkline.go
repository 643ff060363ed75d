package plot

import "unicode/utf8"

// SparkOptions say how a sparkline is drawn. The zero value draws in braille
// over the range of the data.
type SparkOptions struct {
	Runes Runes

	// Min and Max are the values of the lowest and highest level; when Min is
	// not below Max they come from the data. With a given range a flat line
	// sits where its value lies, and what lies beyond is shown at the edge;
	// without one a flat line runs through the middle.
	Min, Max float64
}

// Sparkline draws evenly spaced values as one line of exactly width cells. NaN
// is a gap, shown as a blank. More values than there are places are averaged,
// fewer are joined by straight lines, and a lone value becomes one dot.
func Sparkline(values []float64, width int, opts SparkOptions) string {
	width = min(max(width, 0), maxSide)
	if width == 0 {
		return ""
	}
	var room [3 * 64]byte
	out := room[:0]
	levels := opts.Runes.set().levels
	s := newSampler(values, width, opts, len(levels))
	if levels != nil {
		for x := range width {
			if level := s.level(x); level < 0 {
				out = append(out, ' ')
			} else {
				out = utf8.AppendRune(out, levels[level])
			}
		}
		return string(out)
	}
	last := -1
	for x := range width {
		dots := noDots
		for half := range 2 {
			level := s.level(2*x + half)
			if level >= 0 {
				dots |= stroke(last, level, half)
			}
			last = level
		}
		if dots == noDots {
			out = append(out, ' ')
		} else {
			out = utf8.AppendRune(out, dots)
		}
	}
	return string(out)
}

// stroke returns the dots of one half of a cell that lead from the level of
// the column before, or from nowhere, to this one.
func stroke(last, level, half int) (dots rune) {
	from := level
	switch {
	case last > level+1:
		from = last - 1
	case last >= 0 && last < level-1:
		from = last + 1
	}
	for l := min(from, level); l <= max(from, level); l++ {
		dots |= dotBits[3-l][half]
	}
	return dots
}

// sampler spreads values over columns and turns them into levels.
type sampler struct {
	values  []float64
	columns int
	levels  int
	lo, per float64 // level = (value - lo) * per
}

func newSampler(values []float64, width int, opts SparkOptions, levels int) sampler {
	columns := width
	if levels == 0 {
		columns, levels = 2*width, 4
	}
	scope := interval{opts.Min, opts.Max}
	if !usable(opts.Min) || !usable(opts.Max) || scope.thin() {
		scope = nothing
		for _, v := range values {
			scope.add(v)
		}
		if scope.thin() {
			scope = scope.widened(0)
		}
	}
	return sampler{values, columns, levels, scope.lo, float64(levels) / scope.size()}
}

// level returns the level of a column from 0 up, or -1 for a gap.
func (s *sampler) level(column int) int {
	v, ok := s.at(column)
	if !ok {
		return -1
	}
	level := (v - s.lo) * s.per
	return int(min(max(level, 0), float64(s.levels-1)))
}

// at returns the value that a column stands for.
func (s *sampler) at(column int) (float64, bool) {
	n := len(s.values)
	switch {
	case n == 0:
		return 0, false
	case n == 1:
		return s.values[0], column == s.columns/2 && usable(s.values[0])
	case n > s.columns:
		return mean(s.values[column*n/s.columns : (column+1)*n/s.columns])
	case s.columns == 1:
		return s.values[0], usable(s.values[0])
	}
	// Whole numbers keep a column that falls on a value exactly on it.
	place := column * (n - 1)
	i, rest := place/(s.columns-1), place%(s.columns-1)
	if rest == 0 {
		return s.values[i], usable(s.values[i])
	}
	a, b := s.values[i], s.values[i+1]
	part := float64(rest) / float64(s.columns-1)
	switch {
	case usable(a) && usable(b):
		return a + (b-a)*part, true
	case part < 0.5:
		return a, usable(a)
	}
	return b, usable(b)
}

func mean(values []float64) (float64, bool) {
	sum, n := 0.0, 0
	for _, v := range values {
		if usable(v) {
			sum, n = sum+v, n+1
		}
	}
	if n == 0 {
		return 0, false
	}
	return sum / float64(n), true
}

// Sample reads a curve at n evenly spaced places from lo to hi, joining its
// points by straight lines: what [Sparkline] needs when readings were not
// taken at even intervals. The points must be in order of X. Outside them, and
// beside a point that is not a number, the result is NaN.
func Sample(points []Point, lo, hi float64, n int) []float64 {
	out := make([]float64, min(max(n, 0), maxSide))
	i := 0
	for k := range out {
		x := lo
		if len(out) > 1 {
			x = lo + (hi-lo)*float64(k)/float64(len(out)-1)
		}
		for i+1 < len(points) && points[i+1].X < x {
			i++
		}
		out[k] = valueAt(points[i:min(i+2, len(points))], x)
	}
	return out
}
