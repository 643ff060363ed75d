package plot

import "math"

var nan = math.NaN()

func orNaN(v float64) float64 {
	if usable(v) {
		return v
	}
	return nan
}

func between(a, b, part float64) float64 { return a + (b-a)*part }

// drawSeries draws all curves, then all marks over them.
func (p *plotter) drawSeries() {
	first := len(p.chart.Layers)
	for i, s := range p.chart.Series {
		if s.Shape == Marks {
			continue
		}
		role := SeriesRole(first + i)
		if p.set == Braille {
			p.dotCurve(s, role)
		} else {
			p.stepCurve(s, role)
		}
	}
	for i, s := range p.chart.Series {
		if p.marked(s) {
			p.drawMarks(s, p.set.Mark(i), SeriesRole(first+i))
		}
	}
}

// marked reports whether the points of a series get marks: those of a line
// only while they are on average four columns apart.
func (p *plotter) marked(s Series) bool {
	if s.Shape != LineMarks {
		return s.Shape == Marks
	}
	n := 0
	for _, at := range s.Points {
		if p.x.has(at.X) {
			n++
		}
	}
	return 4*n <= p.cols+3
}

func (p *plotter) drawMarks(s Series, mark rune, role Role) {
	for _, at := range s.Points {
		col, ok := p.colOf(at.X)
		row, in := p.rowOf(at.Y)
		if ok && in {
			p.put(p.left+col, p.top+row, mark, role)
		}
	}
}

// stretches calls draw with each straight piece of a curve that is in sight,
// its ends as fractions of the plot. A point between gaps is a piece of no
// length.
func (p *plotter) stretches(points []Point, draw func(x0, y0, x1, y1 float64)) {
	joined := false
	for i, a := range points {
		if !usable(a.X) || !usable(a.Y) {
			joined = false
			continue
		}
		b := a
		if i+1 < len(points) && usable(points[i+1].X) && usable(points[i+1].Y) {
			b = points[i+1]
		} else if joined {
			continue
		}
		joined = true
		x0, y0, x1, y1 := p.along(a.X), p.down(a.Y), p.along(b.X), p.down(b.Y)
		if clip(&x0, &y0, &x1, &y1) {
			draw(x0, y0, x1, y1)
		}
	}
}

// clip cuts a line to the unit square, after Liang and Barsky (ACM
// Transactions on Graphics 3 (1984) 1), and reports whether any is left.
func clip(x0, y0, x1, y1 *float64) bool {
	from, to := 0.0, 1.0
	dx, dy := *x1-*x0, *y1-*y0
	for _, edge := range [...][2]float64{{-dx, *x0}, {dx, 1 - *x0}, {-dy, *y0}, {dy, 1 - *y0}} {
		speed, room := edge[0], edge[1]
		switch {
		case speed == 0 && room < 0:
			return false
		case speed < 0:
			from = max(from, room/speed)
		case speed > 0:
			to = min(to, room/speed)
		}
	}
	if !(from <= to) {
		return false
	}
	*x1, *y1 = *x0+to*dx, *y0+to*dy
	*x0, *y0 = *x0+from*dx, *y0+from*dy
	return true
}

// dotCurve draws a curve in braille dots.
func (p *plotter) dotCurve(s Series, role Role) {
	w, h := 2*p.cols, 4*p.rows
	p.stretches(s.Points, func(x0, y0, x1, y1 float64) {
		ax, ay := place(x0, w), slot(y0, h)
		bx, by := place(x1, w), slot(y1, h)
		dx, dy := abs(bx-ax), -abs(by-ay)
		sx, sy := sign(bx-ax), sign(by-ay)
		for e := dx + dy; ; { // Bresenham
			if s.Shape != Dashed || ax&3 < 2 {
				p.dot(ax, ay, role)
			}
			if ax == bx && ay == by {
				return
			}
			if e2 := 2 * e; e2 >= dy {
				e += dy
				ax += sx
				if e2 <= dx {
					e += dx
					ay += sy
				}
			} else {
				e += dx
				ay += sy
			}
		}
	})
}

// dot raises one braille dot of the plot. A curve clears the shading it
// crosses, so that it stays sharp.
func (p *plotter) dot(x, y int, role Role) {
	if uint(x) >= uint(2*p.cols) || uint(y) >= uint(4*p.rows) {
		return
	}
	at := &p.cells[(p.top+y>>2)*p.w+p.left+x>>1]
	if !isDots(at.r) || at.role == RoleBand && role != RoleBand {
		at.r = noDots
	}
	at.r |= dotBits[y&3][x&1]
	at.role = role
}

// stepCurve draws a curve in whole cells: horizontal strokes, with walls where
// it climbs or falls by a row or more.
func (p *plotter) stepCurve(s Series, role Role) {
	const thirds = 3 // ASCII shows in which third of a row the curve runs
	at := p.scratch(&p.lows)
	p.stretches(s.Points, func(x0, y0, x1, y1 float64) {
		a, b := place(x0, p.cols), place(x1, p.cols)
		for x := min(a, b); x <= max(a, b); x++ {
			part := 1.0
			if a != b {
				part = float64(x-a) / float64(b-a)
			}
			at[x] = between(y0, y1, part)
		}
	})
	last := -1
	for x, v := range at {
		if math.IsNaN(v) {
			last = -1
			continue
		}
		third := slot(v, thirds*p.rows)
		row := third / thirds
		if s.Shape != Dashed || x%4 < 2 {
			p.step(x, last, row, third%thirds, role)
		}
		last = row
	}
}

// step draws one column of a stepped curve that comes from row last.
func (p *plotter) step(x, last, row, third int, role Role) {
	x += p.left
	if p.g.down == 0 {
		p.put(x, p.top+row, [...]rune{'\'', '-', '_'}[third], role)
	} else if last < 0 || last == row {
		p.put(x, p.top+row, p.g.line, role)
	} else if last < row {
		p.put(x, p.top+last, p.g.down, role)
		p.put(x, p.top+row, p.g.downEnd, role)
	} else {
		p.put(x, p.top+last, p.g.up, role)
		p.put(x, p.top+row, p.g.upEnd, role)
	}
	if last >= 0 {
		for y := min(last, row) + 1; y < max(last, row); y++ {
			p.put(x, p.top+y, p.g.wall, role)
		}
	}
}

// scratch returns a slice of NaN, one for each column.
func (p *plotter) scratch(s *[]float64) []float64 {
	if *s == nil {
		*s = make([]float64, p.cols)
	}
	for i := range *s {
		(*s)[i] = nan
	}
	return *s
}

// place spreads 0 to 1 over n places whose first and last are the ends.
func place(part float64, n int) int {
	return min(max(int(math.Round(part*float64(n-1))), 0), n-1)
}

// slot cuts 0 to 1 into n equal slots.
func slot(part float64, n int) int {
	return min(max(int(part*float64(n)), 0), n-1)
}

func abs(n int) int { return max(n, -n) }

func sign(n int) int {
	switch {
	case n > 0:
		return 1
	case n < 0:
		return -1
	}
	return 0
}
