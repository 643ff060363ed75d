package ui

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/model"
)

// shelfKey answers a key on the shelf.
func (a app) shelfKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	keys := a.shelf.keys
	switch {
	case key.Matches(k, keys.Quit):
		return a.quit()
	case key.Matches(k, keys.Help):
		a.help(keys)
		return a, nil
	case key.Matches(k, keys.Reload):
		return a, tea.Batch(tea.ClearScreen, a.reload())
	case key.Matches(k, keys.NewVessel):
		a.status = status{}
		a.form.openVessel()
		a.enter(onForm)
		return a, nil
	case key.Matches(k, keys.Vessel):
		return a.openVesselChange()
	case key.Matches(k, keys.NewBatch):
		return a.openBatchForm()
	case key.Matches(k, keys.Must):
		return a.openMust()
	case key.Matches(k, keys.Round):
		return a.openRound()
	case key.Matches(k, keys.Handbook):
		return a.openHandbook()
	case key.Matches(k, keys.Bottles):
		return a.openBottles()
	case key.Matches(k, keys.Due):
		a.openDue()
		return a, nil
	case key.Matches(k, keys.Units):
		return a.switchUnits()
	case a.shelf.move(k):
		a.status = status{}
		a.moves++
		return a, settle(a.opts.Settle, a.moves)
	}
	return a.batchAction(k)
}

// batchAction answers the keys that need a batch to work on.
func (a app) batchAction(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	keys := a.shelf.keys
	if !key.Matches(k, keys.Read, keys.Open, keys.Note, keys.Sweeten, keys.Bench, keys.Fizz, keys.Undo, keys.Journal, keys.Yeast, keys.Add, keys.Rack, keys.Bottle, keys.MarkBack, keys.MarkAhead, keys.Else) {
		return a, nil
	}
	row, ok := a.shelf.selected()
	if !ok || row.Empty() {
		a.status = status{a.shelf.whyNoBatch(), saidPlain}
		return a, nil
	}
	if !a.batch.shows(row.Batch.Batch) {
		a.typedAhead = append(a.typedAhead, k)
		return a, a.loadSelected()
	}
	_, marked := a.batch.mark()
	switch {
	case key.Matches(k, keys.Journal), key.Matches(k, keys.Open) && marked:
		a.journal.open(row, a.batch.batch, a.batch.state, a.batch.chosen)
		a.enter(onJournal)
	case key.Matches(k, keys.Read, keys.Open):
		a.entry.openReading(row, a.batch.batch)
		a.enter(onEntry)
	case key.Matches(k, keys.Note):
		a.entry.openNote(row, a.batch.batch)
		a.enter(onEntry)
	case key.Matches(k, keys.Sweeten):
		if a.batch.err != nil {
			a.status = status{a.batch.err.Error(), saidBad}
			return a, nil
		}
		a.sweeten.open(row, a.batch.batch, a.batch.state, a.shelf.shelf.Settings)
		a.enter(onSweeten)
	case a.batch.err != nil && key.Matches(k, keys.Bench, keys.Fizz):
		a.status = status{a.batch.err.Error(), saidBad}
		return a, nil
	case key.Matches(k, keys.Fizz):
		a.openFizz(row, a.batch.batch, a.batch.state)
	case key.Matches(k, keys.Bench):
		a.openBench(row, a.batch.batch, a.batch.state)
	case key.Matches(k, keys.MarkBack):
		return a.chooseMark(-1)
	case key.Matches(k, keys.MarkAhead):
		return a.chooseMark(+1)
	case key.Matches(k, keys.Undo):
		return a.askUndo()
	case key.Matches(k, keys.Else):
		a.menu.open(row)
		a.enter(onMenu)
	case key.Matches(k, keys.Rack):
		return a.openRackForm(row)
	default:
		a.openBatchEntry(k, row)
	}
	a.status = status{}
	return a, nil
}

// openVesselChange asks what is to be corrected about the selected vessel.
func (a app) openVesselChange() (tea.Model, tea.Cmd) {
	row, ok := a.shelf.selected()
	if !ok {
		a.status = status{a.shelf.whyNoBatch(), saidPlain}
		return a, nil
	}
	a.form.openVesselChange(row, a.words())
	a.status = status{}
	a.enter(onForm)
	return a, nil
}

// openBatchEntry opens the form for the other things that happen to a batch.
func (a *app) openBatchEntry(k tea.KeyMsg, row model.Row) {
	keys := a.shelf.keys
	switch {
	case key.Matches(k, keys.Yeast):
		a.form.openPitch(row)
	case key.Matches(k, keys.Add):
		a.form.openAddition(row)
	case key.Matches(k, keys.Bottle):
		risk, err := a.batch.batch.SugarAtRisk(a.batch.state, a.opts.Sorbate)
		if err != nil {
			risk = a.batch.state.Figures.Fermentable // not known to keep
		}
		a.form.openBottling(row, risk)
		if a.batch.err == nil {
			a.form.countBottles(a.batch.state, a.words(), a.opts.Now())
		}
	}
	a.enter(onForm)
}

// switchUnits turns the screen from litres to gallons or back, and keeps it so.
func (a app) switchUnits() (tea.Model, tea.Cmd) {
	set := a.shelf.shelf.Settings
	set.US = !set.US
	said := "litres, grams and Celsius"
	if set.US {
		said = "gallons, pounds and Fahrenheit"
	}
	return a, saveSettings(a.opts.Store, a.newTicket(), set, said)
}
