package plot

// Part is one share of a whole. An amount that is not a positive number takes
// no room.
type Part struct {
	Label  string // for the key: say the figure here too
	Amount float64
}

func (p Part) amount() float64 {
	if usable(p.Amount) && p.Amount > 0 {
		return p.Amount
	}
	return 0
}

// Bar draws parts of a whole as one line of exactly width cells. When whole is
// larger than the sum of the parts the rest of the bar is left empty, so that
// bars drawn to one whole can be compared; otherwise the parts fill it. Each
// part has a fill of its own, so the bar can be read without colour.
func Bar(parts []Part, whole float64, width int, opts Options) string {
	cv := newCanvas(width, 1, opts.Runes)
	x := 0
	for i, n := range BarCells(parts, whole, cv.w) {
		for range n {
			cv.put(x, 0, cv.set.Fill(i), SeriesRole(i))
			x++
		}
	}
	if x > 0 || whole > 0 {
		for ; x < cv.w; x++ {
			cv.put(x, 0, cv.g.rest, RoleAxis)
		}
	}
	return cv.lines(opts.Paint)[0]
}

// BarCells returns how many of width cells each part of [Bar] takes. They are
// shared out by largest remainder, so that they sum exactly, and every part
// that is not nothing gets a cell if there are enough for all: a trace of sugar
// is seen, if not to scale.
func BarCells(parts []Part, whole float64, width int) []int {
	cells := make([]int, len(parts))
	width = min(max(width, 0), maxSide)
	sum, some := 0.0, 0
	for _, p := range parts {
		if a := p.amount(); a > 0 {
			sum += a
			some++
		}
	}
	if some == 0 || width == 0 {
		return cells
	}
	filled := width
	if usable(whole) && whole > sum {
		filled = min(max(int(sum/whole*float64(width)+0.5), some), width)
	}
	share := func(i int) float64 { return parts[i].amount() / sum * float64(filled) }
	left := filled
	for i, p := range parts {
		if p.amount() > 0 && left > 0 && some <= filled {
			cells[i] = max(int(share(i)), 1)
		}
	}
	for _, n := range cells {
		left -= n
	}
	for ; left > 0; left-- { // to whom most is owed
		to := -1
		for i, p := range parts {
			if p.amount() > 0 && (to < 0 || share(i)-float64(cells[i]) > share(to)-float64(cells[to])) {
				to = i
			}
		}
		cells[to]++
	}
	for ; left < 0; left++ { // from whom has most beyond his due
		from := -1
		for i, n := range cells {
			if n > 1 && (from < 0 || float64(n)-share(i) > float64(cells[from])-share(from)) {
				from = i
			}
		}
		cells[from]--
	}
	return cells
}

// BarLegend explains the parts of [Bar] that are not nothing, wrapped to lines
// of exactly width cells.
func BarLegend(parts []Part, width int, opts Options) []string {
	items := make([]keyItem, 0, len(parts))
	for i, p := range parts {
		if p.amount() > 0 {
			items = append(items, keyItem{opts.Runes.Fill(i), SeriesRole(i), clean(p.Label, opts.Runes)})
		}
	}
	return drawKey(items, width, opts)
}

// StackedArea draws how the parts of a whole change: layers of heights at
// rising x, one upon the other, with axes and a key. It is a [Chart] of
// nothing else.
func StackedArea(x []float64, layers []Layer, width, height int, opts Options) []string {
	c := Chart{StackX: x, Layers: layers, Legend: true}
	return c.Draw(width, height, opts)
}
