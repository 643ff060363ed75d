package ui

import (
	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// What becomes of a write: what asked for it closes, or keeps what was typed.

// written closes what asked for the write, and reads the shelf again.
func (a app) written(msg writtenMsg) (tea.Model, tea.Cmd) {
	a.saving--
	var ahead tea.Cmd
	moved := ""
	if msg.batch.ID != 0 {
		moved = a.movedTo(msg.batch.ID, msg.state)
		a.setBatch(msg.batch, msg.state, nil)
		ahead = foresee(msg.batch, a.opts.Now())
	}
	a.status = status{msg.said, saidGood}
	var next tea.Cmd
	switch {
	case a.entry.ticket == msg.ticket && a.focus == onEntry:
		next = a.entryWritten()
		a.due.toUndo(a.focus, msg.batch)
	case a.form.ticket == msg.ticket && a.focus == onForm:
		if !a.form.vesselless() {
			a.shelf.goTo = a.form.vesselLabel()
		}
		a.leave()
		a.due.toUndo(a.focus, msg.batch)
	case a.sweeten.ticket == msg.ticket:
		a.sweeten.committed()
	case a.sweeten.lineTicket == msg.ticket:
		a.sweeten.lineWritten()
	case a.bench.ticket == msg.ticket:
		a.bench.written()
	case a.fizz.ticket == msg.ticket:
		a.fizz.written()
	case a.keep.ticket == msg.ticket:
		a.keep.written()
	case a.journal.strike.ticket == msg.ticket:
		a.journal.strike.written()
	case a.must.ticket == msg.ticket:
		a.mustStarted()
	case a.must.lineTicket == msg.ticket:
		a.must.lineWritten()
	case a.due.ticket == msg.ticket:
		a.due.written(msg.batch)
	}
	if moved != "" {
		a.shelf.goTo = moved
	}
	switch a.focus {
	case onPlans:
		next = loadPlans(a.opts.Store, a.plans.batch.ID)
	case onRecipes:
		next = loadRecipes(a.opts.Store)
	}
	if a.quitting && a.saving == 0 {
		return a, tea.Quit
	}
	return a, tea.Batch(loadShelf(a.opts.Store), next, ahead)
}

// movedTo returns the label of the vessel that the batch under the cursor is in now, if
// that is another one: one who racks goes on with the drink, not with the vessel.
func (a app) movedTo(id model.BatchID, s model.State) string {
	row, ok := a.shelf.selected()
	if !ok || row.Batch.Batch != id || s.Vessel == 0 || s.Vessel == row.Vessel.ID {
		return ""
	}
	return a.shelf.label(s.Vessel)
}

// writeFailed leaves everything as it was typed and says why.
func (a app) writeFailed(msg writeFailedMsg) (tea.Model, tea.Cmd) {
	a.saving--
	a.quitting = false
	text := "not written: " + words.PlainError(msg.err)
	switch {
	case a.entry.ticket == msg.ticket && a.focus == onEntry:
		a.entry.failed(text)
	case a.form.ticket == msg.ticket && a.focus == onForm:
		a.form.failed(text)
	case a.sweeten.lineTicket == msg.ticket:
		a.sweeten.lineFailed(text)
	case a.bench.ticket == msg.ticket:
		a.bench.failed(text)
	case a.fizz.ticket == msg.ticket:
		a.fizz.failed(text)
	case a.keep.ticket == msg.ticket:
		a.keep.failed(text)
	case a.journal.strike.ticket == msg.ticket:
		a.journal.strike.failed(text)
	case a.must.ticket == msg.ticket, a.must.lineTicket == msg.ticket:
		a.must.failed(text)
	case a.due.ticket == msg.ticket:
		a.due.failed(text)
	}
	a.status = status{text, saidBad}
	return a, nil
}

// newTicket numbers a write and counts it as in flight.
func (a *app) newTicket() ticket {
	a.lastTicket++
	a.saving++
	return a.lastTicket
}
