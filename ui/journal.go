package ui

import (
	"slices"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/model"
)

// journalPane is the diary of a batch, day by day, the newest first unless turned
// round.
type journalPane struct {
	opts  Options
	keys  journalKeys
	row   model.Row
	batch model.Batch
	state model.State
	diary []model.Told // in the order in which it happened

	only        model.Strand
	oldestFirst bool
	shown       []int // places in the diary, from the top of the screen
	cursor      int   // among shown

	strike   strikeLine
	partners []model.Batch // with the other sides of the entry to be struck out, once read
	strength string        // how far the strength by two gravities alone is off; empty: it is not
}

func newJournalPane(o Options) journalPane {
	return journalPane{opts: o, keys: newJournalKeys(), only: model.AllOfIt, strike: newStrikeLine(o)}
}

// open shows the journal of the batch in row, at an entry if there is that one.
func (p *journalPane) open(row model.Row, b model.Batch, s model.State, at model.EntryID) {
	p.row, p.only, p.cursor, p.shown = row, model.AllOfIt, 0, nil
	p.strike.open = false
	p.setBatch(b, s)
	p.goTo(at)
}

// setBatch takes a fresh read and stays at the entry under the cursor.
func (p *journalPane) setBatch(b model.Batch, s model.State) {
	var at model.EntryID
	if e, ok := p.selected(); ok && b.ID == p.batch.ID {
		at = e.ID
	}
	p.partners = nil
	p.batch, p.state, p.diary, p.strength = b, s, b.Diary(s), s.NaiveMisleads()
	p.choose()
	p.goTo(at)
}

// choose lists what is shown, by strand and order.
func (p *journalPane) choose() {
	p.shown = nil
	for i, t := range p.diary {
		if p.only.Holds(t) {
			p.shown = append(p.shown, i)
		}
	}
	if !p.oldestFirst {
		slices.Reverse(p.shown)
	}
	p.cursor = max(0, min(p.cursor, len(p.shown)-1))
}

// goTo puts the cursor on an entry, or leaves it where it is.
func (p *journalPane) goTo(id model.EntryID) {
	if i := slices.IndexFunc(p.shown, func(at int) bool { return p.diary[at].ID == id }); i >= 0 {
		p.cursor = i
	}
}

// selected returns what the cursor is on.
func (p journalPane) selected() (model.Told, bool) {
	if p.cursor < 0 || p.cursor >= len(p.shown) {
		return model.Told{}, false
	}
	return p.diary[p.shown[p.cursor]], true
}

// rearrange shows another strand or another order, near the entry under the cursor.
func (p *journalPane) rearrange(only model.Strand, oldestFirst bool) {
	was := -1
	if len(p.shown) > 0 {
		was = p.shown[p.cursor]
	}
	p.only, p.oldestFirst, p.cursor = only, oldestFirst, 0
	p.choose()
	if was < 0 {
		return
	}
	off := func(i int) int { return max(p.shown[i]-was, was-p.shown[i]) }
	for i := range p.shown {
		if off(i) < off(p.cursor) {
			p.cursor = i
		}
	}
}

// journalKey answers a key in the journal.
func (a app) journalKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	p := &a.journal
	if p.strike.open {
		return a.strikeKey(k)
	}
	if to, walks := p.keys.walk(k, p.cursor, len(p.shown)); walks {
		p.cursor = to
		return a, nil
	}
	switch {
	case key.Matches(k, p.keys.Leave):
		a.leave()
	case key.Matches(k, p.keys.Help):
		a.help(p.keys)
	case key.Matches(k, p.keys.Only):
		p.rearrange(p.only.Next(+1), p.oldestFirst)
	case key.Matches(k, p.keys.OnlyBack):
		p.rearrange(p.only.Next(-1), p.oldestFirst)
	case key.Matches(k, p.keys.Order):
		p.rearrange(p.only, !p.oldestFirst)
	case key.Matches(k, p.keys.Undo):
		return a.askUndoOf(p.batch)
	case key.Matches(k, p.keys.Void):
		return a.openStrike(k)
	case key.Matches(k, p.keys.Print):
		return a, a.printSheet(p.batch, false)
	}
	return a, nil
}
