package plot

// drawAxes draws both axes with their figures, as far as there is room.
func (p *plotter) drawAxes() {
	axis := p.left - 1
	if axis >= 0 {
		for row := range p.rows {
			p.put(axis, p.top+row, p.g.axisY, RoleAxis)
		}
	}
	for _, t := range p.yTicks {
		if axis < 0 {
			break
		}
		p.put(axis, p.top+t.at, p.g.tickY, RoleAxis)
		if axis > 0 {
			room := axis
			if p.w >= 40 {
				room--
			}
			p.text(room-width(t.label), p.top+t.at, t.label, RoleLabel)
		}
	}
	if p.axisRow >= 0 {
		for x := max(axis, 0); x < p.w; x++ {
			p.put(x, p.axisRow, p.g.axisX, RoleAxis)
		}
		if axis >= 0 {
			p.put(axis, p.axisRow, p.g.corner, RoleAxis)
		}
		for _, t := range p.xTicks {
			p.put(p.left+t.at, p.axisRow, p.g.tickX, RoleAxis)
		}
	}
	if p.labelRow >= 0 {
		p.drawTimes()
	}
}

// drawTimes writes the figures under the x axis, each in the middle below its
// tick and drawn in from the edges.
func (p *plotter) drawTimes() {
	used := 0 // first free cell
	for _, t := range p.xTicks {
		n := width(t.label)
		x := min(max(p.left+t.at-(n-1)/2, 0), p.w-n)
		if n > 0 && x >= used {
			p.text(x, p.labelRow, t.label, RoleLabel)
			used = x + n + 1
		}
	}
}

// drawHeading writes the title and the key.
func (p *plotter) drawHeading() {
	c := p.chart
	title := fit(clean(c.Title, p.set), p.w, p.set)
	if p.titleRow >= 0 {
		p.text(0, p.titleRow, title, RoleTitle)
	}
	if !c.Legend || p.titleRow < 0 {
		return
	}
	items := p.keyItems()
	switch {
	case p.keyRow >= 0:
		p.keyLine(items, p.left, p.keyRow)
	case title == "":
		p.keyLine(items, 0, p.titleRow)
	case p.keyFitsTitle():
		p.keyLine(items, p.w-keyWidth(items), p.titleRow)
	}
}

// keyLine writes the items that fit on one row.
func (p *plotter) keyLine(items []keyItem, x, y int) {
	for _, it := range items {
		if x+it.width() > p.w {
			return
		}
		p.keyItem(x, y, it)
		x += it.width() + keyGap
	}
}

func (p *plotter) keyFitsTitle() bool {
	return width(clean(p.chart.Title, p.set))+3+keyWidth(p.keyItems()) <= p.w
}

// keyItems lists what the key explains.
func (p *plotter) keyItems() []keyItem {
	c, g := p.chart, p.g
	var items []keyItem
	add := func(sign rune, role Role, label string) {
		if label = clean(label, p.set); label != "" {
			items = append(items, keyItem{sign, role, label})
		}
	}
	for i, l := range c.Layers {
		add(p.set.Fill(i), SeriesRole(i), l.Label)
	}
	for i, s := range c.Series {
		sign := g.line
		if p.marked(s) {
			sign = p.set.Mark(i)
		} else if s.Shape == Dashed {
			sign = g.dashed
		}
		add(sign, SeriesRole(len(c.Layers)+i), s.Label)
	}
	for _, b := range c.Bands {
		add(g.band, RoleBand, b.Label)
	}
	for i, e := range c.Events {
		seen := false
		for _, before := range c.Events[:i] {
			seen = seen || before.Tag == e.Tag
		}
		if tag := clean(string(e.Tag), p.set); !seen && width(tag) == 1 {
			add([]rune(tag)[0], RoleEvent, e.Label)
		}
	}
	return items
}
