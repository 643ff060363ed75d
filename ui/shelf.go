package ui

import (
	"fmt"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/plot"
	"cellar.local/glassrow/ui/words"
)

// shelfPane is the list of vessels, what needs attention first.
type shelfPane struct {
	opts   Options
	keys   shelfKeys
	shelf  model.Shelf
	rows   []model.Row
	cursor int
	loaded bool
	goTo   string // label to put the cursor on once it is on the shelf
}

func newShelfPane(o Options) shelfPane {
	return shelfPane{opts: o, keys: newShelfKeys()}
}

// setShelf takes a fresh read of the cellar; the cursor stays on its vessel.
func (p *shelfPane) setShelf(s model.Shelf) {
	label := ""
	if row, ok := p.selected(); ok {
		label = row.Vessel.Label
	}
	p.shelf, p.loaded = s, true
	p.rows = s.Rows(p.opts.Now())
	p.cursor = min(p.cursor, max(0, len(p.rows)-1))
	p.selectLabel(label)
	p.selectLabel(p.goTo)
	p.goTo = ""
}

// selectLabel puts the cursor on the vessel with that label, if there is one.
func (p *shelfPane) selectLabel(label string) {
	for i, r := range p.rows {
		if strings.EqualFold(r.Vessel.Label, label) {
			p.cursor = i
		}
	}
}

// selected returns the row under the cursor.
func (p shelfPane) selected() (model.Row, bool) {
	if p.cursor < 0 || p.cursor >= len(p.rows) {
		return model.Row{}, false
	}
	return p.rows[p.cursor], true
}

// selectedBatch returns the batch under the cursor, or zero.
func (p shelfPane) selectedBatch() model.BatchID {
	row, _ := p.selected()
	return row.Batch.Batch
}

// selectedLabel returns the label under the cursor, or nothing.
func (p shelfPane) selectedLabel() string {
	row, _ := p.selected()
	return row.Vessel.Label
}

// labelled returns the row of a label.
func (p shelfPane) labelled(label string) (model.Row, bool) {
	for _, r := range p.rows {
		if r.Vessel.Label == label {
			return r, true
		}
	}
	return model.Row{}, false
}

// whyNoBatch says why a key that needs a batch does nothing.
func (p shelfPane) whyNoBatch() string {
	row, ok := p.selected()
	if !ok {
		return "no vessel yet; " + p.keys.NewVessel.Help().Key + " adds one"
	}
	return row.Vessel.Label + " is empty; " + p.keys.NewBatch.Help().Key + " starts a batch in it"
}

// move answers the keys that walk the list, and reports whether it did.
func (p *shelfPane) move(k tea.KeyMsg) bool {
	to, walks := p.keys.walk(k, p.cursor, len(p.rows))
	if walks {
		p.cursor = to
	}
	return walks
}

// column widths of a shelf line, for the width it has; zero leaves it out.
type shelfColumns struct {
	mark, word, label, name, gravity, spark, strength, days, read, due int
}

// columnsFor shares a shelf line of w cells out. The name takes what is left.
func columnsFor(w int) shelfColumns {
	c := shelfColumns{mark: 1, word: 7, label: 4, gravity: 5}
	switch {
	case w >= 92:
		c.word, c.label, c.spark, c.strength, c.days, c.read, c.due = 12, 6, 18, 6, 4, 4, 14
	case w >= 76:
		c.label, c.spark, c.strength, c.days, c.read, c.due = 5, 10, 6, 4, 4, 13
	case w >= 58:
		c.spark, c.strength, c.read = 8, 6, 4
	default:
		c.read = 4
	}
	used := 2 + c.mark + 1 + c.word // gutter, mark, word
	for _, n := range []int{c.label, c.gravity, c.spark, c.strength, c.days, c.read, c.due} {
		if n > 0 {
			used += n + 1
		}
	}
	c.name = max(4, w-used-1)
	return c
}

// view draws the shelf in w by h cells.
func (p shelfPane) view(w, h int, now time.Time, st *Styles) []string {
	if !p.loaded {
		return padLines([]string{"", st.Muted.Render("  reading the cellar")}, w, h)
	}
	if len(p.rows) == 0 {
		return padLines(p.emptyShelf(w, st), w, h)
	}
	cols := columnsFor(w)
	lines := []string{st.Muted.Render(fit(p.heading(cols), w))}
	room := max(1, h-1)
	from := firstShown(p.cursor, len(p.rows), room)
	for i := from; i < min(len(p.rows), from+room); i++ {
		lines = append(lines, p.row(i, cols, now, st))
	}
	return padLines(lines, w, h)
}

// firstShown returns the first of n lines to show in room lines so that the
// cursor is among them.
func firstShown(cursor, n, room int) int {
	return max(0, min(cursor-room/2, n-room))
}

// footKeys are the keys that the footer names.
func (p shelfPane) footKeys() keyMap {
	if p.loaded && len(p.rows) == 0 {
		return noVesselKeys{p.keys}
	}
	return p.keys
}

func (p shelfPane) emptyShelf(w int, st *Styles) []string {
	lines := []string{"", st.Strong.Render("  No vessels yet.")}
	for _, l := range wrap("Press "+p.keys.NewVessel.Help().Key+" to add the first one: what is written on it, and what it holds.", w-4) {
		lines = append(lines, "  "+l)
	}
	return lines
}

func (p shelfPane) heading(c shelfColumns) string {
	return p.assemble(c, " ", fit("", c.mark), fit("doing", c.word), "", "", "SG", "over time", fitRight("vol", c.strength), "days", "read", "next")
}

// assemble lays the cells of a line side by side; mark and word come styled.
func (p shelfPane) assemble(c shelfColumns, pointer, mark, word, label, name, gravity, spark, strength, days, read, due string) string {
	var b strings.Builder
	b.WriteString(pointer + " " + mark + " " + word)
	put := func(text string, w int, right bool) {
		if w == 0 {
			return
		}
		b.WriteByte(' ')
		if right {
			b.WriteString(fitRight(text, w))
		} else {
			b.WriteString(fit(text, w))
		}
	}
	put(label, c.label, false)
	put(name, c.name, false)
	put(gravity, c.gravity, true)
	put(spark, c.spark, false)
	put(strength, c.strength, true)
	put(days, c.days, true)
	put(read, c.read, true)
	put(due, c.due, false)
	return b.String()
}

// row draws one vessel.
func (p shelfPane) row(i int, c shelfColumns, now time.Time, st *Styles) string {
	r := p.rows[i]
	g := p.opts.Glyphs
	pointer := " "
	if i == p.cursor {
		pointer = st.Key.Render(g.Pointer)
	}
	urgency := r.Urgency(now)
	style := st.Standing(r.Standing(), urgency == model.Trouble)
	mark := g.Standing(r.Standing())
	switch urgency {
	case model.Trouble:
		mark = g.Trouble
	case model.Overdue:
		mark, style = g.Late, st.Warn
	}
	mark, word := style.Render(fit(mark, c.mark)), style.Render(fit(standingWord(r.Standing(), c.word), c.word))
	label, name := p.opts.Glyphs.text(r.Vessel.Label), p.opts.Glyphs.text(r.Batch.Name)
	if i == p.cursor {
		label, name = st.Chosen.Render(fit(label, c.label)), st.Chosen.Render(fit(name, c.name))
	}
	if r.Empty() {
		return p.assemble(c, pointer, mark, word, label, st.Muted.Render(fit(capacityText(r.Vessel, p.words()), c.name)), "", "", "", "", "", "")
	}
	b := r.Batch
	due := r.Next()
	dueText := ""
	if !due.At.IsZero() {
		dueText = fit(dueCell(due, now, c.due), c.due)
		if urgency == model.Overdue {
			dueText = st.Warn.Render(dueText)
		}
	}
	read := fitRight(words.Age(b.LastReading, now), c.read)
	if urgency == model.Overdue {
		read = st.Warn.Render(read)
	}
	say := p.words()
	return p.assemble(c, pointer, mark, word, label, name, say.Gravity(b.SG), p.spark(b, c.spark, st),
		say.ShortStrength(b.Strength), words.Age(b.Started, now), read, dueText)
}

func (p shelfPane) words() words.Words { return p.opts.Glyphs.Words(p.shelf.Settings.US) }

// dueCell says what is due in w cells: where there is no room for both, the time stays
// whole.
func dueCell(d model.Due, now time.Time, w int) string {
	when := " " + words.Due(d.At, now)
	return cut(d.What, max(3, w-width(when))) + when
}

// standingWord is the word for a standing in w cells: the two that are longer than the
// narrow column are cut where they can still be told.
func standingWord(s model.Standing, w int) string {
	switch {
	case s == model.Restarting && w < len(s):
		return "restart"
	case s == model.Conditioning && w < len(s):
		return "condit."
	}
	return string(s)
}

// capacityText is what an empty vessel has beside its label.
func capacityText(v model.Vessel, say words.Words) string {
	v.Tare = 0
	return say.Vessel(v)
}

// spark draws the sketch of the curve. Every batch runs from its own must down to
// 0.990, so that a dry one ends low and a sweet one visibly does not.
func (p shelfPane) spark(b model.Summary, w int, st *Styles) string {
	values := make([]float64, len(b.Sketch))
	for i, sg := range b.Sketch {
		values[i] = float64(sg)
	}
	runes := p.opts.Glyphs.Runes
	if runes == plot.Braille {
		runes = plot.Blocks
	}
	line := plot.Sparkline(values, w, plot.SparkOptions{Runes: runes, Min: 0.990, Max: max(float64(b.Original), 1.010)})
	return st.Curve.Render(line)
}

// attention counts what needs somebody, for the header.
func (p shelfPane) attention(now time.Time) (trouble, late int) {
	for _, r := range p.rows {
		switch r.Urgency(now) {
		case model.Trouble:
			trouble++
		case model.Overdue:
			late++
		}
	}
	return trouble, late
}

// headline sums the cellar up in a line; a narrow screen leaves out what is not
// news.
func (p shelfPane) headline(now time.Time, narrow bool, st *Styles) string {
	trouble, late := p.attention(now)
	var parts []string
	if !narrow || trouble+late == 0 {
		parts = append(parts, words.Count(len(p.rows), "vessel", "vessels"))
	}
	if trouble > 0 {
		parts = append(parts, st.Bad.Render(fmt.Sprintf("%d in trouble", trouble)))
	}
	if late > 0 {
		parts = append(parts, st.Warn.Render(fmt.Sprintf("%d late", late)))
	}
	if trouble+late == 0 && len(p.rows) > 0 {
		parts = append(parts, st.Good.Render("all on track"))
	}
	return strings.Join(parts, ", ")
}
