package ui

import (
	"fmt"
	"time"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// journalPane is the diary of a batch, the newest entry first.
type journalPane struct {
	opts   Options
	keys   journalKeys
	row    model.Row
	batch  model.Batch
	live   map[model.EntryID]bool
	cursor int // from the newest

	strength string // how far the strength by two gravities alone is off; empty: it is not
}

func newJournalPane(o Options) journalPane { return journalPane{opts: o, keys: newJournalKeys()} }

// open shows the journal of the batch in row.
func (p *journalPane) open(row model.Row, b model.Batch, s model.State) {
	p.row, p.cursor = row, 0
	p.setBatch(b, s)
}

// setBatch takes a fresh read.
func (p *journalPane) setBatch(b model.Batch, s model.State) {
	p.batch, p.strength = b, s.NaiveMisleads()
	p.live = make(map[model.EntryID]bool, len(b.Entries))
	for _, e := range b.Live() {
		p.live[e.ID] = true
	}
	p.cursor = min(p.cursor, max(0, len(b.Entries)-1))
}

// at returns the i-th entry from the newest.
func (p journalPane) at(i int) model.Entry { return p.batch.Entries[len(p.batch.Entries)-1-i] }

// journalKey answers a key in the journal.
func (a app) journalKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	p := &a.journal
	switch {
	case key.Matches(k, p.keys.Leave):
		a.leave()
	case key.Matches(k, p.keys.Help):
		a.help(p.keys)
	case key.Matches(k, p.keys.Up):
		p.cursor = max(0, p.cursor-1)
	case key.Matches(k, p.keys.Down):
		p.cursor = min(max(0, len(p.batch.Entries)-1), p.cursor+1)
	case key.Matches(k, p.keys.Undo):
		return a.askUndoOf(p.batch)
	case key.Matches(k, p.keys.Void):
		a.voidAtCursor()
	case key.Matches(k, p.keys.Print):
		return a, a.printSheet(p.batch, false)
	}
	return a, nil
}

// voidAtCursor strikes out the entry under the cursor, or the void that struck it
// out.
func (a *app) voidAtCursor() {
	p := &a.journal
	if len(p.batch.Entries) == 0 {
		return
	}
	e := p.at(p.cursor)
	switch {
	case e.Body.Kind() == model.KindMust:
		a.status = status{"the must stays: without it nothing can be worked out", saidPlain}
	case p.live[e.ID] || e.Body.Kind() == model.KindVoid:
		a.askVoid(p.batch, e, "")
	default:
		if v, ok := p.voidOf(e.ID); ok {
			a.askVoid(p.batch, v, "brought back")
		}
	}
}

// voidOf returns the newest void that strikes out an entry.
func (p journalPane) voidOf(id model.EntryID) (model.Entry, bool) {
	for i := range p.batch.Entries {
		e := p.at(i)
		if v, ok := e.Body.(model.Void); ok && v.Entry == id {
			return e, true
		}
	}
	return model.Entry{}, false
}

// view draws the journal in w by h cells.
func (p journalPane) view(w, h int, now time.Time, say words.Words, st *Styles) []string {
	lines := []string{rule("Journal of "+p.opts.Glyphs.text(p.batch.Name), w, p.opts.Glyphs, st)}
	lines = append(lines, indented(wrap(p.opts.Glyphs.text(p.strength), w-4), st.Muted.Render)...)
	room := max(1, h-len(lines))
	from := firstShown(p.cursor, len(p.batch.Entries), room)
	for i := from; i < min(len(p.batch.Entries), from+room); i++ {
		lines = append(lines, p.line(i, w, now, say, st))
	}
	return padLines(lines, w, h)
}

func (p journalPane) line(i, w int, now time.Time, say words.Words, st *Styles) string {
	e := p.at(i)
	pointer := "  "
	if i == p.cursor {
		pointer = st.Key.Render(p.opts.Glyphs.Pointer) + " "
	}
	date := e.At.In(now.Location()).Format("02 Jan 15:04")
	if e.At.Year() != now.Year() {
		date = e.At.In(now.Location()).Format("02 Jan 2006 ")
	}
	text := say.Entry(e.Body, nil)
	style := st.Plain
	switch {
	case e.Body.Kind() == model.KindVoid:
		style = st.Muted
	case !p.live[e.ID]:
		style, text = st.Muted, "(struck out) "+text
	case i == p.cursor:
		style = st.Chosen
	}
	head := st.Muted.Render(fmt.Sprintf("%3d  %s  ", e.ID, date))
	return pointer + head + style.Render(cut(text, max(1, w-2-width(head))))
}
