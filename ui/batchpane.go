package ui

import (
	"fmt"
	"math"
	"time"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/plot"
	"cellar.local/glassrow/ui/words"
)

// batchPane shows the batch that the shelf points at: its standing and why, its
// figures, its curve and the sugars left.
type batchPane struct {
	opts  Options
	batch model.Batch
	state model.State
	err   error  // why the journal cannot be worked out
	label string // the vessel on show, which the cursor may have left a moment ago
}

// turnTo shows another vessel.
func (p *batchPane) turnTo(label string) { p.label = label }

func newBatchPane(o Options) batchPane { return batchPane{opts: o} }

// setBatch takes a batch as just read.
func (p *batchPane) setBatch(b model.Batch, s model.State, err error) {
	p.batch, p.state, p.err = b, s, err
}

// shows reports whether the batch with this id is the one on hand.
func (p batchPane) shows(id model.BatchID) bool { return id != 0 && p.batch.ID == id }

// view draws the batch of row in w by h cells.
func (p batchPane) view(row model.Row, w, h int, now time.Time, say words.Words, st *Styles) []string {
	if h <= 0 {
		return nil
	}
	title := rule(p.opts.Glyphs.text(rowTitle(row, now)), w, p.opts.Glyphs, st)
	switch {
	case row.Empty():
		return padLines([]string{title, "", "  " + st.Muted.Render(p.opts.Glyphs.text(capacityText(row.Vessel, say))), "  nothing in it"}, w, h)
	case !p.shows(row.Batch.Batch):
		return padLines([]string{title}, w, h)
	case p.err != nil:
		return padLines(append([]string{title}, indented(wrap(p.opts.Glyphs.text(p.err.Error()), w-4), st.Bad.Render)...), w, h)
	}
	reasons := p.reasons(row, w, st)
	if h < roomyFrom {
		reasons = reasons[:min(len(reasons), 2)]
	}
	lines := append(append([]string{title}, reasons...), p.figures(row, w, say, st)...)
	sugars := p.sugars(w, st)
	chart := min(chartMost, h-len(lines)-len(sugars))
	if chart < 5 {
		sugars, chart = nil, h-len(lines)
	}
	if chart >= 4 {
		lines = append(lines, p.chart(w, chart, now, st)...)
	}
	lines = append(lines, sugars...)
	if room := h - len(lines) - 2; room > 0 {
		lines = append(lines, "", st.Heading.Render(fit("  Last entries", w)))
		lines = append(lines, p.recent(w, min(room-1, recentMost), now, say, st)...)
	}
	return padLines(lines, w, h)
}

// With fewer lines than roomyFrom the reasons are cut short for the chart's sake.
const roomyFrom = 11

// A taller chart shows nothing more, and the last entries are better company.
const (
	chartMost  = 22
	recentMost = 14
)

// recent lists the newest entries that count.
func (p batchPane) recent(w, most int, now time.Time, say words.Words, st *Styles) []string {
	live := p.batch.Live()
	var lines []string
	for i := len(live) - 1; i >= 0 && len(lines) < most; i-- {
		when := live[i].At.In(now.Location()).Format("02 Jan 15:04")
		lines = append(lines, "  "+st.Muted.Render(when)+"  "+cut(say.Entry(live[i].Body, nil), w-16))
	}
	return lines
}

func rowTitle(row model.Row, now time.Time) string {
	if row.Empty() {
		return row.Vessel.Label
	}
	return fmt.Sprintf("%s  %s, day %d", row.Vessel.Label, row.Batch.Name, int(now.Sub(row.Batch.Started).Hours()/24))
}

// rule is a heading with a line drawn on to the end.
func rule(title string, w int, g Glyphs, st *Styles) string {
	title = cut(title, w-4)
	rest := max(0, w-width(title)-4)
	return st.Muted.Render(g.Rule+" ") + st.Title.Render(title) + " " + st.Muted.Render(repeat(g.Rule, rest+1))
}

func repeat(s string, n int) string {
	out := make([]byte, 0, n*len(s))
	for range n {
		out = append(out, s...)
	}
	return string(out)
}

func indented(lines []string, style func(...string) string) []string {
	for i, l := range lines {
		lines[i] = "  " + style(l)
	}
	return lines
}

// reasons are the standing and why.
func (p batchPane) reasons(row model.Row, w int, st *Styles) []string {
	s := p.state
	cells := max(8, len(s.Standing))
	word := st.Standing(s.Standing, row.Batch.Trouble).Render(fit(string(s.Standing), cells))
	var lines []string
	for _, reason := range s.Evidence {
		for _, l := range wrap(p.opts.Glyphs.text(reason), w-3-cells) {
			lines = append(lines, "  "+word+" "+l)
			word = repeat(" ", cells)
		}
	}
	return lines
}

// figures are the numbers of the batch, side by side.
func (p batchPane) figures(row model.Row, w int, say words.Words, st *Styles) []string {
	s := p.state
	return flow([]string{
		st.Strong.Render(say.FineGravity(s.SG())) + st.Muted.Render(" from ") + say.Gravity(s.Original),
		st.Strong.Render(say.Strength(s.Strength, s.PlusMinus)),
		say.Volume(s.Figures.Volume) + st.Muted.Render(" of "+say.Volume(row.Vessel.Capacity)),
		st.Muted.Render("sugar ") + say.PerLitre(s.Figures.Sugar),
	}, w, "   ")
}

// flow sets words side by side and starts a new line when one is full.
func flow(words []string, w int, gap string) []string {
	var lines []string
	line := " "
	for _, word := range words {
		switch {
		case line == " ":
			line += " " + word
		case width(line)+len(gap)+width(word) > w:
			lines = append(lines, line)
			line = "  " + word
		default:
			line += gap + word
		}
	}
	return append(lines, line)
}

// markTags are the letters of events on the chart.
var markTags = map[model.Kind]struct {
	tag   rune
	label string
}{
	model.KindPitch:    {'y', "yeast"},
	model.KindAddition: {'a', "addition"},
	model.KindRack:     {'r', "racked"},
	model.KindBottle:   {'b', "bottled"},
}

// chart draws gravity over time with real axes.
func (p batchPane) chart(w, h int, now time.Time, st *Styles) []string {
	start := p.state.Started
	days := func(t time.Time) float64 { return t.Sub(start).Hours() / 24 }
	points := make([]plot.Point, 0, len(p.state.Curve))
	for _, c := range p.state.Curve {
		points = append(points, plot.Point{X: days(c.At), Y: float64(c.SG)})
	}
	c := plot.Chart{
		X:      plot.Axis{Format: plot.DayLabel},
		Y:      plot.Axis{MinSpan: 0.010, Format: func(v, _ float64) string { return fmt.Sprintf("%.3f", v) }},
		Series: []plot.Series{{Label: "gravity", Points: points}},
		Legend: h >= 12,
	}
	for _, m := range p.state.Marks {
		if tag, ok := markTags[m.Kind]; ok {
			c.Events = append(c.Events, plot.Event{X: days(m.At), Tag: tag.tag, Label: tag.label})
		}
	}
	if today := days(now); today <= 1.2*math.Max(3, days(p.lastPoint())) {
		c.Now = &today
	}
	return c.Draw(w, h, plot.Options{Runes: p.opts.Glyphs.Runes, Paint: st.paint})
}

func (p batchPane) lastPoint() time.Time {
	if n := len(p.state.Curve); n > 0 {
		return p.state.Curve[n-1].At
	}
	return p.state.Started
}

// sugars draws what is dissolved as a stacked bar, in the order the yeast takes
// it, with its legend.
func (p batchPane) sugars(w int, st *Styles) []string {
	return sugarBar(p.state.Liquid, p.state.Figures.Volume, w, p.opts.Glyphs, st)
}

// sugarBar is a bar of the sugars of a liquid with their grams per litre.
func sugarBar(l calc.Liquid, v calc.Litre, w int, g Glyphs, st *Styles) []string {
	if v == 0 {
		return nil
	}
	var parts []plot.Part
	for _, c := range calc.Components() {
		perLitre := float64(l.Of(c)) / float64(v)
		if isSugarOfBar(c) && perLitre >= 0.05 {
			parts = append(parts, plot.Part{Label: fmt.Sprintf("%s %.0f", c, perLitre), Amount: perLitre})
		}
	}
	if len(parts) == 0 {
		return []string{"  " + st.Muted.Render("no sugar left")}
	}
	o := plot.Options{Runes: g.Runes, Paint: st.paintBar}
	lines := []string{"  " + plot.Bar(parts, 0, max(1, w-4), o)}
	for _, l := range plot.BarLegend(parts, max(1, w-4), o) {
		lines = append(lines, "  "+l)
	}
	return lines
}

// isSugarOfBar tells the components that belong in a bar of sugars: all that
// yeast eats, and the sugars and polyols that stay and sweeten.
func isSugarOfBar(c calc.Component) bool {
	return c.Sugar() || c == calc.Dextrin || c == calc.Erythritol || c == calc.Xylitol || c == calc.Sorbitol || c == calc.Allulose
}
