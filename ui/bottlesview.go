package ui

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/plot"
	"cellar.local/glassrow/ui/words"
)

// bottlesColumns are the widths of a line of bottles; zero leaves a column out.
type bottlesColumns struct {
	name, lot, left, size, age, strength, mark, best int
}

// bottlesColumnsFor shares a line of w cells out. The name takes what is left.
func bottlesColumnsFor(w int) bottlesColumns {
	c := bottlesColumns{left: 8, age: 4, mark: 4}
	switch {
	case w >= 76:
		c.lot, c.size, c.strength, c.best = 13, 8, 5, 8
	case w >= 58:
		c.strength, c.best = 5, 8
	}
	used := 4 // pointer and mark
	for _, n := range []int{c.lot, c.left, c.size, c.age, c.strength, c.mark, c.best} {
		if n > 0 {
			used += n + 1
		}
	}
	c.name = max(4, w-used)
	return c
}

// line lays the cells of a line side by side; left stands before all of them.
func (c bottlesColumns) line(left, name, lot, count, size, age, strength, mark, best string) string {
	out := left + fit(name, c.name)
	for _, cell := range []struct {
		text  string
		w     int
		right bool
	}{{lot, c.lot, false}, {count, c.left, true}, {size, c.size, true}, {age, c.age, true}, {strength, c.strength, true}, {mark, c.mark, true}, {best, c.best, true}} {
		switch {
		case cell.w == 0:
		case cell.right:
			out += " " + fitRight(cell.text, cell.w)
		default:
			out += " " + fit(cell.text, cell.w)
		}
	}
	return out
}

// bottlesLeast is how many lines the chosen batch gets, if there are that many.
const bottlesLeast = 12

// view draws the pane in w by h cells: the list, and beside or under it the batch
// under the cursor.
func (p bottlesPane) view(w, h int, now time.Time, say words.Words, st *Styles) []string {
	if w >= besideFrom {
		list := min(shelfMost, w*11/20)
		right := w - list - gutter
		return beside(padLines(p.list(list, h, now, say, st), list, h), padLines(p.detail(right, h, now, say, st), right, h), strings.Repeat(" ", gutter))
	}
	room := min(len(p.shown)+2, max(4, h-bottlesLeast))
	if len(p.shown) == 0 {
		room = h
	}
	return append(padLines(p.list(w, room, now, say, st), w, room), padLines(p.detail(w, h-room, now, say, st), w, h-room)...)
}

// list draws a line for each batch.
func (p bottlesPane) list(w, h int, now time.Time, say words.Words, st *Styles) []string {
	g := p.opts.Glyphs
	lines := []string{rule(p.title(), w, g, st)}
	switch {
	case !p.loaded:
		return append(lines, "", "  "+st.Muted.Render("reading the bottles"))
	case len(p.shown) == 0:
		return append(append(lines, ""), indented(wrap(p.whyNone(), w-4), st.Muted.Render)...)
	}
	c := bottlesColumnsFor(w)
	lines = append(lines, st.Muted.Render(c.line("    ", "what", "lot", "left", "size", "age", "vol", "mark", "best")))
	room := max(1, h-len(lines))
	from := firstShown(p.cursor, len(p.shown), room)
	for i := from; i < min(len(p.shown), from+room); i++ {
		lines = append(lines, p.line(i, c, now, say, st))
	}
	return lines
}

func (p bottlesPane) title() string {
	if !p.loaded {
		return "Bottles"
	}
	left := 0
	for _, b := range p.all {
		left += b.stock.Left
	}
	return "Bottles  " + words.Count(left, "bottle", "bottles") + " left"
}

// whyNone says why there is no line.
func (p bottlesPane) whyNone() string {
	if len(p.all) > 0 {
		return "Every bottle has been taken. " + p.keys.Empties.Help().Key + " shows the batches they were of."
	}
	return "No bottles yet. On the shelf " + newShelfKeys().Bottle.Help().Key + " writes down that a batch was bottled; here it can be tasted then, bottle by bottle."
}

func (p bottlesPane) line(i int, c bottlesColumns, now time.Time, say words.Words, st *Styles) string {
	b, g := p.shown[i], p.opts.Glyphs
	pointer, mark, name := "  ", "  ", fit(g.text(b.batch.Name), c.name)
	if i == p.cursor {
		pointer, name = st.Key.Render(g.Pointer)+" ", st.Chosen.Render(name)
	}
	if b.hazard.Any() {
		mark = st.Bad.Render(g.Trouble) + " "
	}
	next, _ := b.stock.Oldest()
	size, strength := say.SmallVolume(next.Size), "-"
	if next.SG != 0 {
		strength = say.ShortStrength(next.Strength)
	}
	last, best := "-", "-"
	if marked := b.stock.Marked(); len(marked) > 0 {
		last = words.Mark(marked[len(marked)-1].Mark)
	}
	if at, ok := b.stock.Best(); ok {
		best = at.At.In(now.Location()).Format("Jan 2006")
	}
	return c.line(pointer+mark, name, b.batch.Lot(), ofText(b.stock, c.left), size, words.Age(next.At, now), strength, last, best)
}

// ofText says how many are left of how many.
func ofText(s model.Stock, w int) string {
	if text := fmt.Sprintf("%d of %d", s.Left, s.Filled); width(text) <= w {
		return text
	}
	return fmt.Sprintf("%d/%d", s.Left, s.Filled)
}

// detail is the batch under the cursor: where its bottles come from, when it was best,
// and what was said of it, the newest first.
func (p bottlesPane) detail(w, h int, now time.Time, say words.Words, st *Styles) []string {
	b, ok := p.selected()
	if !ok || h < 2 {
		return nil
	}
	g := p.opts.Glyphs
	lines := []string{rule(g.text(b.batch.Name)+"  "+b.batch.Lot(), w, g, st)}
	lines = append(lines, indented(wrap(g.text(say.BottleHazard(b.hazard)), w-4), st.Bad.Render)...)
	lines = append(lines, p.bottlings(b.stock, w, h, now, say, st)...)
	if best, ok := b.stock.Best(); ok {
		lines = append(lines, indented(wrap(g.text(say.Best(best, now.Location())), w-4), st.Good.Render)...)
	}
	lines = append(lines, p.marks(b.stock, w, h-len(lines), say, st)...)
	return append(lines, p.diary(b.stock, w, now, say, st)...)
}

// mostBottlings is how many bottlings are told of one by one.
const mostBottlings = 4

// bottlings says when the bottles were filled, the newest first, and what was in them.
func (p bottlesPane) bottlings(s model.Stock, w, h int, now time.Time, say words.Words, st *Styles) []string {
	var lines []string
	most := mostBottlings
	if h < 2*bottlesLeast {
		most = 2
	}
	for i, b := range slices.Backward(s.Bottlings) {
		if len(s.Bottlings)-i > most {
			lines = append(lines, "  "+st.Muted.Render(cut(fmt.Sprintf("and %d bottlings before", i+1), w-2)))
			break
		}
		text := fmt.Sprintf("filled %s: %d of %s", b.At.In(now.Location()).Format("2 Jan 2006"), b.Count, say.SmallVolume(b.Size))
		if b.Closure != "" {
			text += ", " + b.Closure
		}
		if b.SG != 0 {
			text += fmt.Sprintf("; at %s, about %s", say.Gravity(b.SG), say.Strength(b.Strength, b.PlusMinus))
		}
		if len(s.Bottlings) > 1 {
			text += fmt.Sprintf("; %d left", b.Left)
		}
		lines = append(lines, indented(wrap(p.opts.Glyphs.text(text), w-4), st.Plain.Render)...)
	}
	return lines
}

// chartLeast is how many lines must be left for a chart of the marks; with fewer they
// are a line.
const chartLeast = 18

// marks draws the marks over time.
func (p bottlesPane) marks(s model.Stock, w, h int, say words.Words, st *Styles) []string {
	marked := s.Marked()
	if len(marked) < 2 {
		return nil
	}
	from := s.Bottlings[0].At
	points := make([]plot.Point, len(marked))
	for i, o := range marked {
		points[i] = plot.Point{X: o.At.Sub(from).Hours() / 24, Y: o.Mark}
	}
	if h >= chartLeast {
		c := plot.Chart{
			Title:  "Marks since it was bottled",
			X:      plot.Axis{Format: plot.DayLabel},
			Y:      plot.Axis{Min: 0, Max: 10, Format: func(v, _ float64) string { return words.Mark(v) }},
			Series: []plot.Series{{Label: "mark", Points: points}},
		}
		return append([]string{""}, c.Draw(w, min(h/2, 16), plot.Options{Runes: p.opts.Glyphs.Runes, Paint: st.paint})...)
	}
	first, last := points[0], points[len(points)-1]
	n := min(30, max(8, w-32))
	line := plot.Sparkline(plot.Sample(points, first.X, last.X, 2*n), n, plot.SparkOptions{Runes: p.opts.Glyphs.Runes, Min: 0, Max: 10})
	return []string{"  " + st.Muted.Render("marks ") + words.Mark(first.Y) + " " + st.Curve.Render(line) + " " + words.Mark(last.Y) + st.Muted.Render(" of 10")}
}

// diary is what was said of the bottles, the newest first.
func (p bottlesPane) diary(s model.Stock, w int, now time.Time, say words.Words, st *Styles) []string {
	if len(s.Openings) == 0 {
		return []string{"", "  " + st.Muted.Render(cut("none was taken yet; "+p.keys.Take.Help().Key+" tastes one", w-2))}
	}
	lines := []string{""}
	for i, o := range slices.Backward(s.Openings) {
		if len(s.Openings)-1-i < min(p.scroll, len(s.Openings)-1) {
			continue
		}
		mark := "-"
		if o.Tasted.Marked {
			mark = words.Mark(o.Mark)
		}
		head := "  " + st.Muted.Render(fitRight(o.At.In(now.Location()).Format("2 Jan 2006"), 11)) + " " + st.Strong.Render(fitRight(mark, 4)) + "  "
		text := wrap(p.opts.Glyphs.text(say.Opening(o.Tasted)), max(8, w-22))
		if len(text) == 0 {
			text = []string{""}
		}
		for k, l := range text {
			if k > 0 {
				head = fit("", 20)
			}
			lines = append(lines, head+l)
		}
	}
	return lines
}
