package plot

import "math"

// tick is a figure beside an axis, at a row or column of the plot.
type tick struct {
	at    int
	label string
}

// plotter draws one chart on one canvas. The plot is the rectangle of cells
// left after axes and headings; rows and columns below count inside it.
type plotter struct {
	*canvas
	chart *Chart

	left, top  int // of the plot on the canvas
	cols, rows int
	x, y       interval // what the edges of the plot stand for
	bare       bool     // nothing to show: no axes either

	titleRow, keyRow, tagRow, axisRow, labelRow int // -1 when given up
	xTicks, yTicks                              []tick

	lows []float64 // scratch: a value per column
}

const (
	leastRows    = 3 // of plot before anything else gets a row
	leastColumns = 8
)

// layout decides what fits where.
func (p *plotter) layout() {
	x, y := p.chart.ranges()
	_, hasX := p.chart.X.given()
	_, hasY := p.chart.Y.given()
	p.bare = !hasX && x == nothing || !hasY && y == nothing
	p.layoutRows()
	p.layoutY(y)
	p.layoutX(x)
}

// layoutRows shares the height out, the most useful rows first.
func (p *plotter) layoutRows() {
	c, spare := p.chart, p.h-leastRows
	take := func(wanted bool, above int) bool {
		if !wanted || spare < above {
			return false
		}
		spare--
		return true
	}
	heading := c.Title != "" || c.Legend
	labels := take(true, 1)
	axis := take(true, 2)
	tags := take(len(c.Events) > 0 || c.Now != nil || c.Chosen != nil, 2)
	title := take(heading, 2)
	key := take(c.Legend && c.Title != "" && !p.keyFitsTitle(), 5)

	p.titleRow, p.keyRow, p.tagRow, p.axisRow, p.labelRow = -1, -1, -1, -1, -1
	row := 0
	give := func(has bool, at *int) {
		if has {
			*at = row
			row++
		}
	}
	give(title, &p.titleRow)
	give(key, &p.keyRow)
	give(tags, &p.tagRow)
	p.top, row = row, p.h
	if labels {
		row--
		p.labelRow = row
	}
	if axis {
		row--
		p.axisRow = row
	}
	p.rows = row - p.top
}

// layoutY chooses the range of y, then its ticks, then the room they need.
func (p *plotter) layoutY(data interval) {
	axis := &p.chart.Y
	ticker, format := axis.Ticks, axis.Format
	if format == nil {
		format = NumberLabel
	}
	var step float64
	asked, fixed := axis.given()
	p.y = asked
	if !fixed {
		grounded := p.grounded() && data.lo == 0
		if grounded {
			data.hi = max(data.hi, axis.least())
		}
		p.y = data.widened(axis.least())
		if grounded {
			p.y.lo = 0
		}
		if even, s := evenRows(p.y, p.rows, grounded); s > 0 {
			p.y, step = even, s
			if ticker == nil {
				ticker = func(lo, hi float64, _ int) ([]float64, float64) {
					at, _ := multiples(lo, hi, s, p.rows)
					return at, s
				}
			}
		} else if !grounded {
			edge := p.y.size() * 0.02
			p.y = interval{p.y.lo - edge, p.y.hi + edge}
		}
	}
	if ticker == nil {
		ticker = NiceTicks
	}
	most := max((p.rows+1)/3, 2)
	at, step := ticker(p.y.lo, p.y.hi, most)
	widest, last := 0, p.rows+1
	for _, v := range at {
		row, ok := p.rowOf(v)
		if ok && v == p.y.lo && p.grounded() && p.axisRow >= 0 {
			row = p.rows // on the axis itself
		}
		if !ok || row >= last {
			continue
		}
		last = row
		label := clean(format(v, step), p.set)
		widest = max(widest, width(label))
		p.yTicks = append(p.yTicks, tick{row, label})
	}
	p.left = widest + 1
	if p.w >= 40 {
		p.left++
	}
	if p.w-p.left < max(leastColumns, p.w/2) {
		p.left = 0
		if p.w > leastColumns {
			p.left = 1 // the axis alone
		}
	}
	p.cols = p.w - p.left
}

// layoutX chooses the range of x and as many ticks as have room for a label.
func (p *plotter) layoutX(data interval) {
	axis := &p.chart.X
	ticker, format := axis.Ticks, axis.Format
	if ticker == nil {
		ticker = DayTicks
	}
	if format == nil {
		format = DayLabel
	}
	asked, fixed := axis.given()
	if p.x = asked; !fixed {
		p.x = data.onward(axis.least())
	}
	for most := max(p.cols/8, min(3, p.cols/4)); most > 0; {
		at, step := ticker(p.x.lo, p.x.hi, most)
		widest, apart := 0, p.cols
		p.xTicks = p.xTicks[:0]
		for _, v := range at {
			col, ok := p.colOf(v)
			if !ok || len(p.xTicks) >= most {
				continue
			}
			label := clean(format(v, step), p.set)
			widest = max(widest, width(label))
			if n := len(p.xTicks); n > 0 {
				apart = min(apart, col-p.xTicks[n-1].at)
			}
			p.xTicks = append(p.xTicks, tick{col, label})
		}
		if apart >= widest+2 || len(p.xTicks) < 2 {
			return
		}
		most = min(len(p.xTicks)-1, p.cols/(widest+2))
	}
	p.xTicks = nil
}

// grounded reports whether values stand on the x axis as heights.
func (p *plotter) grounded() bool { return len(p.chart.Layers) > 0 }

// rowOf returns the row of the plot that a value falls in.
func (p *plotter) rowOf(v float64) (int, bool) {
	if !p.y.has(v) {
		return 0, false
	}
	return min(int(p.down(v)*float64(p.rows)+1e-9), p.rows-1), true
}

// colOf returns the column of the plot that a time falls in.
func (p *plotter) colOf(v float64) (int, bool) {
	if !p.x.has(v) {
		return 0, false
	}
	return int(math.Round(p.along(v) * float64(p.cols-1))), true
}

// down and along place a value between the edges of the plot: 0 at the top or
// left, 1 at the bottom or right.
func (p *plotter) down(v float64) float64  { return (p.y.hi - v) / p.y.size() }
func (p *plotter) along(v float64) float64 { return (v - p.x.lo) / p.x.size() }
