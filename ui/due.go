package ui

import (
	"fmt"
	"slices"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// duePane lists what is due in the whole cellar, the earliest first, so what is late is
// on top. What was done leaves the list.
type duePane struct {
	opts   Options
	keys   dueKeys
	shelf  model.Shelf    // as read last
	all    []model.DueRow // of a shelf read before, while nobody looks
	cursor int

	input   textinput.Model
	typing  dueLine
	about   model.DueRow // what the line is about
	trouble string
	saving  bool
	ticket  ticket
	last    model.Batch // what was written to here last, for the undo
	read    model.Batch // the journal of what enter was pressed on, once read
	stay    bool        // the next read finds the cursor where it is, not what it was on
}

// dueLine is what is being typed.
type dueLine uint8

const (
	dueNothing dueLine = iota
	dueLater           // until when it is put off
	dueNew             // what to be reminded of, and when
)

func newDuePane(o Options) duePane {
	in := textinput.New()
	in.Prompt = ""
	in.CharLimit = 120
	in.Cursor.SetMode(cursor.CursorStatic)
	return duePane{opts: o, keys: newDueKeys(), input: in}
}

// setShelf takes a fresh read of the cellar. What is due in all of it is not sought
// before somebody looks.
func (p *duePane) setShelf(s model.Shelf, looking bool) {
	p.shelf = s
	if looking {
		p.list()
	}
}

// list lists what is due; the cursor stays on what it was on or, when that was just
// ticked off, goes on to the next.
func (p *duePane) list() {
	was, ok := p.selected()
	p.all = p.shelf.Dues()
	ok, p.stay = ok && !p.stay, false
	if i := slices.IndexFunc(p.all, func(d model.DueRow) bool { return sameDue(d, was) }); ok && i >= 0 {
		p.cursor = i
	}
	p.cursor = max(0, min(p.cursor, len(p.all)-1))
}

func sameDue(x, y model.DueRow) bool {
	return x.Row.Batch.Batch == y.Row.Batch.Batch && x.Due.Key == y.Due.Key
}

// setBatch takes a fresh read of what was written to last.
func (p *duePane) setBatch(b model.Batch) {
	if b.ID == p.last.ID {
		p.last = b
	}
}

func (p duePane) selected() (model.DueRow, bool) {
	if p.cursor >= len(p.all) {
		return model.DueRow{}, false
	}
	return p.all[p.cursor], true
}

func (p *duePane) written(b model.Batch) {
	p.ticket, p.saving, p.typing, p.last, p.stay = 0, false, dueNothing, b, true
}

// toUndo remembers what a form or the line wrote that was opened here.
func (p *duePane) toUndo(back focus, b model.Batch) {
	if back == onDue {
		p.last, p.stay = b, true
	}
}

// failed keeps what was typed and says why nothing was written.
func (p *duePane) failed(why string) { p.ticket, p.saving, p.trouble = 0, false, why }

// openDue shows what is due, from the first.
func (a *app) openDue() {
	a.due.cursor, a.due.typing, a.due.last = 0, dueNothing, model.Batch{}
	a.due.all = a.due.shelf.Dues()
	a.status = status{}
	a.enter(onDue)
}

// dueKey answers a key among what is due.
func (a app) dueKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	p := &a.due
	switch {
	case p.saving:
		return a, nil
	case p.typing != dueNothing:
		return a.dueLineKey(k)
	case key.Matches(k, p.keys.Leave):
		a.status = status{}
		a.leave()
	case key.Matches(k, p.keys.Help):
		a.help(p.keys)
	case key.Matches(k, p.keys.Undo):
		return a.undoDue()
	case key.Matches(k, p.keys.New):
		a.remindOf()
	default:
		if to, walks := p.keys.walk(k, p.cursor, len(p.all)); walks {
			p.cursor = to
			return a, nil
		}
		return a.dueAction(k)
	}
	return a, nil
}

// dueAction answers the keys that need something due to work on.
func (a app) dueAction(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	p := &a.due
	d, ok := p.selected()
	switch {
	case !ok:
		if key.Matches(k, p.keys.Do, p.keys.Tick, p.keys.Later, p.keys.Read) {
			a.status = status{"nothing is due", saidPlain}
		}
	case key.Matches(k, p.keys.Later):
		p.typeLine(dueLater, d)
	case key.Matches(k, p.keys.Tick):
		return a, a.tickOff(d)
	case key.Matches(k, p.keys.Do, p.keys.Read):
		return a.doDue(k, d)
	}
	return a, nil
}

// selectBatch puts the cursor on the vessel of a batch.
func (p *shelfPane) selectBatch(id model.BatchID) (model.Row, bool) {
	for i, r := range p.rows {
		if r.Batch.Batch == id {
			p.cursor = i
			return r, true
		}
	}
	return model.Row{}, false
}

// tickOff writes down that it was done.
func (a *app) tickOff(d model.DueRow) tea.Cmd {
	p := &a.due
	p.saving, p.ticket = true, a.newTicket()
	a.status = status{}
	return fulfil(a.opts, p.ticket, d)
}

// fulfil writes what the doing of a thing due is in the journal, which only the journal
// can tell: a dose of a plan is a feeding.
func fulfil(o Options, t ticket, d model.DueRow) tea.Cmd {
	s, id, now := o.Store, d.Row.Batch.Batch, o.Now()
	return func() tea.Msg {
		b, err := s.Batch(id)
		if err != nil {
			return writeFailedMsg{t, err}
		}
		e := model.Entry{At: now, Recorded: now, Body: b.Fulfil(d.Due.Key, now, o.Nutrients)}
		return appendEntries(s, t, id, now, dueLabel(d)+": "+d.Due.What+" is done; u undoes it", e)()
	}
}

// dueLabel names the batch of something due as short as it can.
func dueLabel(d model.DueRow) string {
	if d.Row.Vessel.ID != 0 {
		return d.Row.Vessel.Label
	}
	return fmt.Sprintf("#%d", d.Row.Batch.Batch)
}

// undoDue asks before the last entry of what was written to here is struck out.
func (a app) undoDue() (tea.Model, tea.Cmd) {
	if _, ok := a.due.last.LastUndoable(); !ok {
		a.status = status{"nothing was written here yet; the journal (l on the shelf) undoes older things", saidPlain}
		return a, nil
	}
	return a.askUndoOf(a.due.last)
}

// remindOf opens the line for a reminder of the batch under the cursor, or of the one
// selected on the shelf when nothing is due.
func (a *app) remindOf() {
	p := &a.due
	d, ok := p.selected()
	if !ok {
		row, found := a.shelf.selected()
		if !found || row.Empty() {
			a.status = status{"a reminder belongs to a batch: choose a vessel with one on the shelf", saidPlain}
			return
		}
		d = model.DueRow{Row: row}
	}
	p.typeLine(dueNew, d)
}

func (p *duePane) typeLine(what dueLine, about model.DueRow) {
	p.typing, p.about, p.trouble = what, about, ""
	p.input.Reset()
	p.input.Focus()
}

// dueLineKey answers a key while a line is typed.
func (a app) dueLineKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	p := &a.due
	keys := newLineKeys()
	switch {
	case key.Matches(k, keys.Cancel):
		p.typing = dueNothing
	case key.Matches(k, keys.Accept):
		now := a.opts.Now()
		body, said, err := p.typed()
		if err == nil {
			err = body.Validate()
		}
		if err != nil {
			p.trouble = words.PlainError(err)
			return a, nil
		}
		p.saving, p.ticket = true, a.newTicket()
		return a, appendEntries(a.opts.Store, p.ticket, p.about.Row.Batch.Batch, now, dueLabel(p.about)+": "+said+"; u undoes it",
			model.Entry{At: now, Recorded: now, Body: body})
	default:
		p.input, _ = p.input.Update(k)
		p.trouble = ""
	}
	return a, nil
}

// typed returns what the line says to write down.
func (p duePane) typed() (body model.Body, said string, err error) {
	now := p.opts.Now()
	if p.typing == dueNew {
		r, err := model.ParseReminder(p.input.Value(), now)
		return r, "you will be reminded, " + r.Due.Format("Mon 2 Jan 15:04"), err
	}
	tick, err := p.about.Due.PutOff(p.input.Value(), now)
	return tick, p.about.Due.What + " put off to " + tick.Until.Format("Mon 2 Jan 15:04"), err
}
