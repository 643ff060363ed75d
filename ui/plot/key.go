package plot

// keyItem is a sign and the words that explain it.
type keyItem struct {
	sign  rune
	role  Role
	label string // clean
}

// keyGap is the blank between two items of a key.
const keyGap = 2

func (k keyItem) width() int { return 2 + width(k.label) }

func keyWidth(items []keyItem) int {
	w := 0
	for i, it := range items {
		if i > 0 {
			w += keyGap
		}
		w += it.width()
	}
	return w
}

func (c *canvas) keyItem(x, y int, it keyItem) {
	c.letter(x, y, it.sign, it.role)
	c.text(x+2, y, it.label, RoleLabel)
}

// drawKey flows items over as many lines as they need.
func drawKey(items []keyItem, w int, opts Options) []string {
	w = min(max(w, 0), maxSide)
	type spot struct{ x, y int }
	at := make([]spot, len(items))
	x, y := 0, 0
	for i := range items {
		items[i].label = fit(items[i].label, w-2, opts.Runes)
		if x > 0 && x+items[i].width() > w {
			x, y = 0, y+1
		}
		at[i] = spot{x, y}
		x += items[i].width() + keyGap
	}
	if len(items) == 0 || w == 0 {
		return nil
	}
	cv := newCanvas(w, y+1, opts.Runes)
	for i, it := range items {
		cv.keyItem(at[i].x, at[i].y, it)
	}
	return cv.lines(opts.Paint)
}
