package plot

// drawBands shades each band, column by column.
func (p *plotter) drawBands() {
	for _, b := range p.chart.Bands {
		wide := 1
		if p.set == Braille {
			wide = 2
		}
		for i, from := range b.Spans {
			to := from
			if i+1 < len(b.Spans) {
				to = b.Spans[i+1]
			}
			if from.usable() && to.usable() && from.X <= p.x.hi && to.X >= p.x.lo {
				p.shade(from, to, wide*p.cols)
			}
		}
	}
}

// shade fills between two neighbouring spans, over columns of dots or cells.
func (p *plotter) shade(from, to Span, columns int) {
	first := place(min(max(p.along(from.X), 0), 1), columns)
	last := place(min(max(p.along(to.X), 0), 1), columns)
	for x := first; x <= last; x++ {
		at := between(p.x.lo, p.x.hi, float64(x)/float64(max(columns-1, 1)))
		part := 0.0
		if to.X > from.X {
			part = min(max((at-from.X)/(to.X-from.X), 0), 1)
		}
		low, high := between(from.Low, to.Low, part), between(from.High, to.High, part)
		top, bottom := p.down(max(low, high)), p.down(min(low, high))
		if bottom < 0 || top > 1 {
			continue
		}
		if p.set == Braille {
			h := 4 * p.rows
			for y := slot(max(top, 0), h); y <= slot(min(bottom, 1), h); y++ {
				if (x+y)&1 == 0 {
					p.dot(x, y, RoleBand)
				}
			}
			continue
		}
		for y := slot(max(top, 0), p.rows); y <= slot(min(bottom, 1), p.rows); y++ {
			p.put(p.left+x, p.top+y, p.g.band, RoleBand)
		}
	}
}

func (p *plotter) drawGrid() {
	if !p.chart.Grid || p.rows < 6 || p.cols < 24 {
		return
	}
	for _, y := range p.yTicks {
		for _, x := range p.xTicks {
			if y.at < p.rows {
				p.under(x.at, y.at, p.g.grid, RoleGrid)
			}
		}
	}
}

// under draws only where nothing is yet.
func (p *plotter) under(col, row int, r rune, role Role) {
	if x, y := p.left+col, p.top+row; p.cells[y*p.w+x].r == 0 {
		p.put(x, y, r, role)
	}
}

func (p *plotter) drawRefs() {
	for _, ref := range p.chart.Refs {
		row, ok := p.rowOf(ref.Y)
		for col := 0; ok && col < p.cols; col += 2 {
			p.under(col, row, p.g.ref, RoleRef)
		}
	}
}

// drawRefLabels writes each label at the end of its line, or beside it, where
// it hides nothing; a label with no such place is given up.
func (p *plotter) drawRefLabels() {
	for _, ref := range p.chart.Refs {
		label := clean(ref.Label, p.set)
		n := width(label)
		row, ok := p.rowOf(ref.Y)
		if !ok || n == 0 || n > p.cols/2 {
			continue
		}
		right, left := p.w-n, p.left
		for _, at := range [...][2]int{{right, row}, {left, row}, {right, row - 1}, {left, row - 1}, {right, row + 1}, {left, row + 1}} {
			x, y := at[0], at[1]
			if 0 <= y && y < p.rows && p.free(x, p.top+y, n) {
				p.text(x, p.top+y, label, RoleRef)
				if x == left {
					p.space(x+n, p.top+y)
				} else {
					p.space(x-1, p.top+y)
				}
				break
			}
		}
	}
}

// space clears the cell beside a label if only the reference line is there.
func (p *plotter) space(x, y int) {
	if p.free(x, y, 1) {
		p.put(x, y, 0, RoleNone)
	}
}

// drawVerticals draws the events and the present, with their tags above.
func (p *plotter) drawVerticals() {
	for _, e := range p.chart.Events {
		if col, ok := p.colOf(e.X); ok {
			p.vertical(col, p.g.event, RoleEvent)
		}
	}
	for _, e := range p.chart.Events {
		if col, ok := p.colOf(e.X); ok && p.tagRow >= 0 {
			p.tag(p.left+col, clean(string(e.Tag), p.set))
		}
	}
	p.drawNow()
	p.drawChosen()
}

func (p *plotter) drawNow() {
	if p.chart.Now == nil {
		return
	}
	col, ok := p.colOf(*p.chart.Now)
	if !ok {
		return
	}
	p.vertical(col, p.g.now, RoleNow)
	const label = "now"
	if x := min(max(p.left+col-1, 0), p.w-len(label)); p.tagRow >= 0 && p.free(x, p.tagRow, len(label)) {
		p.text(x, p.tagRow, label, RoleNow)
	}
}

// drawChosen draws over whatever tag or line is at the same place.
func (p *plotter) drawChosen() {
	if p.chart.Chosen == nil {
		return
	}
	col, ok := p.colOf(*p.chart.Chosen)
	if !ok {
		return
	}
	p.vertical(col, p.g.chosen, RoleChosen)
	if p.tagRow >= 0 {
		p.put(p.left+col, p.tagRow, p.g.pointer, RoleChosen)
	}
}

func (p *plotter) vertical(col int, r rune, role Role) {
	for row := range p.rows {
		p.put(p.left+col, p.top+row, r, role)
	}
}

// tag writes the letter of an event above column x, or next to it when another
// is there; where even that is taken, a plus says that there is more.
func (p *plotter) tag(x int, letter string) {
	switch width(letter) {
	case 0:
		return
	case 2:
		letter = "?"
	}
	for _, at := range [...]int{x, x + 1, x - 1} {
		if at >= p.left && p.free(at, p.tagRow, 1) {
			p.text(at, p.tagRow, letter, RoleEvent)
			return
		}
	}
	p.text(x, p.tagRow, "+", RoleEvent)
}

// stackHeight returns the sum of all layers at the i-th place; what is
// negative or not a number counts as nothing.
func (c *Chart) stackHeight(i int) float64 {
	sum := 0.0
	for _, l := range c.Layers {
		sum += l.at(i)
	}
	return sum
}

func (l Layer) at(i int) float64 {
	if i < len(l.Height) && usable(l.Height[i]) {
		return max(l.Height[i], 0)
	}
	return 0
}

// drawStack fills the layers. A cell belongs to the layer that has most of it.
func (p *plotter) drawStack() {
	c, i := p.chart, 0
	if len(c.Layers) == 0 || len(c.StackX) == 0 {
		return
	}
	tops := make([]float64, len(c.Layers)) // in rows from the foot of the plot
	for col := range p.cols {
		x := between(p.x.lo, p.x.hi, float64(col)/float64(max(p.cols-1, 1)))
		for i+1 < len(c.StackX) && c.StackX[i+1] < x {
			i++
		}
		j := min(i+1, len(c.StackX)-1)
		from, to := c.StackX[i], c.StackX[j]
		if half := p.x.size() / float64(2*p.cols); !(from-half <= x && x <= to+half) {
			continue
		}
		part := 0.0
		if from < to {
			part = min(max((x-from)/(to-from), 0), 1)
		}
		sum := 0.0
		for k, l := range c.Layers {
			sum += between(l.at(i), l.at(j), part)
			tops[k] = (1 - p.down(sum)) * float64(p.rows)
		}
		p.stackColumn(col, tops)
	}
}

// stackColumn fills one column with layers that end at tops.
func (p *plotter) stackColumn(col int, tops []float64) {
	first := 0 // the lowest layer that reaches into the row
	for row := range p.rows {
		foot, head := float64(row), float64(row+1)
		for first < len(tops) && tops[first] <= foot {
			first++
		}
		most, owner, from := 0.0, first, foot
		for k := first; k < len(tops) && from < head; k++ {
			to := min(tops[k], head)
			if to-from > most {
				most, owner = to-from, k
			}
			from = max(from, to)
		}
		if from < foot+0.5 {
			return
		}
		p.put(p.left+col, p.top+p.rows-1-row, p.set.Fill(owner), SeriesRole(owner))
	}
}
