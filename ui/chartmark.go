package ui

import (
	"cmp"
	"slices"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// marks lists what the chart shows that an entry stands behind, readings too, in the
// order of time.
func (p batchPane) marks() []model.Mark {
	var all []model.Mark
	seen := make(map[model.EntryID]bool)
	add := func(m model.Mark) {
		if m.Entry != 0 && !seen[m.Entry] {
			seen[m.Entry] = true
			all = append(all, m)
		}
	}
	for _, m := range p.state.Marks {
		add(m)
	}
	for _, c := range p.state.Curve {
		add(model.Mark{At: c.At, Entry: c.Entry})
	}
	slices.SortStableFunc(all, func(x, y model.Mark) int { return cmp.Or(x.At.Compare(y.At), cmp.Compare(x.Entry, y.Entry)) })
	return all
}

// mark returns the mark that is pointed at.
func (p batchPane) mark() (model.Mark, bool) {
	if p.chosen == 0 {
		return model.Mark{}, false
	}
	all := p.marks()
	i := slices.IndexFunc(all, func(m model.Mark) bool { return m.Entry == p.chosen })
	if i < 0 {
		return model.Mark{}, false
	}
	return all[i], true
}

// walkMarks points at the next mark, or the one before. Beyond the last there is none,
// and from none it begins at the other end.
func (p *batchPane) walkMarks(by int) bool {
	all := p.marks()
	if len(all) == 0 {
		return false
	}
	at := slices.IndexFunc(all, func(m model.Mark) bool { return m.Entry == p.chosen })
	if at < 0 && by < 0 {
		at = len(all)
	}
	p.chosen = 0
	if at += by; at >= 0 && at < len(all) {
		p.chosen = all[at].Entry
	}
	return true
}

// chooseMark walks the marks of the chart.
func (a app) chooseMark(by int) (tea.Model, tea.Cmd) {
	a.status = status{}
	switch {
	case a.batch.err != nil:
		a.status = status{a.batch.err.Error(), saidBad}
	case !a.batch.walkMarks(by):
		a.status = status{"no mark on the chart yet", saidPlain}
	case a.batch.chosen == 0:
		a.status = status{"no mark; " + a.shelf.keys.Marks.Help().Key + " walk them again", saidPlain}
	}
	return a, nil
}

// markLine says what the mark is that is pointed at; empty without one.
func (p batchPane) markLine(w int, now time.Time, say words.Words, labels words.Labels, st *Styles) string {
	m, ok := p.mark()
	if !ok {
		return ""
	}
	i := slices.IndexFunc(p.batch.Entries, func(e model.Entry) bool { return e.ID == m.Entry })
	if i < 0 {
		return ""
	}
	e := p.batch.Entries[i]
	when := dayText(dateOf(e.At, now), now) + e.At.In(now.Location()).Format(" 15:04")
	hint := "  " + st.Key.Render("enter") + " " + st.Muted.Render("in the journal")
	head := " " + st.Muted.Render(when) + "  "
	text := say.Entry(e.Body, labels)
	if room := w - width(head) - width(hint); room >= min(width(text), leastMarkWords) {
		return head + st.Strong.Render(cut(text, room)) + hint
	}
	return head + st.Strong.Render(cut(text, w-width(head)))
}

// leastMarkWords is how much of an entry must be left to read beside the hint.
const leastMarkWords = 24
