package ui

import (
	"fmt"
	"time"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// batchPane shows the batch that the shelf points at: its standing and why, its
// figures, its curve and the sugars left.
type batchPane struct {
	opts  Options
	batch model.Batch
	state model.State
	err   error // why the journal cannot be worked out

	// outlook is the forecast of the batch; it comes a moment after the batch itself.
	outlook model.Outlook

	label string // the vessel on show, which the cursor may have left a moment ago

	chosen model.EntryID // the mark of the chart that is pointed at; 0: none
}

// turnTo shows another vessel.
func (p *batchPane) turnTo(label string) {
	if label != p.label {
		p.chosen = 0
	}
	p.label = label
}

func newBatchPane(o Options) batchPane { return batchPane{opts: o} }

// setBatch takes a batch as just read.
func (p *batchPane) setBatch(b model.Batch, s model.State, err error) {
	if b.ID != p.batch.ID || len(b.Entries) != len(p.batch.Entries) {
		p.outlook = model.Outlook{}
	}
	p.batch, p.state, p.err = b, s, err
	if _, ok := p.mark(); !ok {
		p.chosen = 0
	}
}

// setOutlook takes the forecast of a batch, if that is still the one on hand and
// nothing was written to it since.
func (p *batchPane) setOutlook(msg outlookMsg) {
	if p.shows(msg.batch) && len(p.batch.Entries) == msg.entries {
		p.outlook = msg.outlook
	}
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
		lines := []string{title, "", "  " + st.Muted.Render(p.opts.Glyphs.text(say.Vessel(row.Vessel)))}
		lines = append(lines, indented(wrap("nothing in it; b starts a batch, i builds its must first", w-4), st.Plain.Render)...)
		return padLines(lines, w, h)
	case !p.shows(row.Batch.Batch):
		return padLines([]string{title}, w, h)
	case p.err != nil:
		return padLines(append([]string{title}, indented(wrap(p.opts.Glyphs.text(p.err.Error()), w-4), st.Bad.Render)...), w, h)
	}
	lines := append([]string{title}, p.verdict(row, w, verdictRoom(h), now, st)...)
	lines = append(lines, p.figures(row, w, h, now, say, st)...)
	sugars := p.sugars(w, st)
	room := h - len(lines) - len(sugars)
	if room < 5 {
		sugars, room = nil, h-len(lines)
	}
	chart := min(chartMost, room)
	stack := 0
	if room >= stackFrom {
		chart = min(chartMost, room*2/5)
		stack = min(stackMost, room/4)
	}
	if chart >= 4 {
		lines = append(lines, p.chart(w, chart, now, st)...)
	}
	lines = append(lines, sugars...)
	lines = append(lines, p.sugarsOverTime(w, stack, now, st)...)
	if h-len(lines) >= dueFrom {
		lines = append(lines, dueLines(row, w, now, p.opts.Glyphs, st)...)
	}
	if room := h - len(lines) - 2; room > 0 {
		lines = append(lines, "", st.Heading.Render(fit("  Last entries", w)))
		lines = append(lines, p.recent(w, min(room-1, recentMost), now, say, st)...)
	}
	return padLines(lines, w, h)
}

// A taller chart shows nothing more, and the last entries are better company. Where
// there are stackFrom lines the sugars get a chart of their own.
const (
	chartMost  = 22
	stackFrom  = 26
	stackMost  = 9
	recentMost = 14
	dueFrom    = 8 // lines left from which what is due has room
	dueMost    = 3
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

// figures are the numbers of the batch, side by side.
func (p batchPane) figures(row model.Row, w, h int, now time.Time, say words.Words, st *Styles) []string {
	s := p.state
	from := " from "
	if s.ByDevice() {
		from = " by device, from "
	}
	figures := []string{
		st.Strong.Render(say.FineGravity(s.SG())) + st.Muted.Render(from) + say.Gravity(s.Original),
		st.Strong.Render(say.Strength(s.Strength, s.PlusMinus)),
		say.Volume(s.Figures.Volume) + st.Muted.Render(" of "+say.Volume(row.Vessel.Capacity)),
		st.Muted.Render("sugar ") + say.PerLitre(s.Figures.Sugar),
	}
	if late := say.LateSugar(s.LateSugarAt(now), s.FruitRoom); late != "" {
		figures = append(figures, late)
	}
	return p.onScale(figures, row, w, h, say, st)
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
