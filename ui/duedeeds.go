package ui

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/model"
)

// dueDeed is what enter opens on something due: where its doing is written down. What
// has nothing to be told of it is ticked off.
type dueDeed uint8

const (
	dueTick  dueDeed = iota
	dueRead          // the entry line
	dueTest          // the entry line, for free SO2
	duePitch         // the form for yeast
	dueRack          // that for racking
	dueFeed          // that for the dose
	dueTopUp         // that for water or another batch
	dueTaste         // that for tasting a bottle
	dueOpen          // that for a bottle opened for its pressure
)

// deedOf returns what doing something due opens.
func deedOf(due string) dueDeed {
	rule, _, _ := strings.Cut(due, ":")
	switch rule {
	case model.DueRead, model.DueSame:
		return dueRead
	case model.DueSulfite:
		return dueTest
	case model.DuePitch:
		return duePitch
	case model.DueRack:
		return dueRack
	case model.DueFeed:
		return dueFeed
	case model.DueTopUp:
		return dueTopUp
	case model.DueTaste:
		return dueTaste
	case model.DueTest:
		return dueOpen
	}
	return dueTick
}

// String is what enter is called in the footer.
func (d dueDeed) String() string {
	return [...]string{"done", "read", "test", "pitch", "rack", "feed", "top up", "taste", "open"}[d]
}

// footKeys are the keys, enter called by what it opens.
func (p duePane) footKeys() keyMap {
	k := p.keys
	if d, ok := p.selected(); ok {
		k.Do.SetHelp("enter", deedOf(d.Due.Key).String())
	}
	return k
}

// dueBatchMsg carries the journal of the batch that something is due for.
type dueBatchMsg struct{ batch model.Batch }

// doDue opens where the doing of something due is written down, once its journal is
// read, or ticks it off.
func (a app) doDue(k tea.KeyMsg, d model.DueRow) (tea.Model, tea.Cmd) {
	deed := deedOf(d.Due.Key)
	switch {
	case key.Matches(k, a.due.keys.Read):
		deed = dueRead
	case deed == dueTick:
		return a, a.tickOff(d)
	case deed == dueTaste, deed == dueOpen:
		return a.openBottleDue(k, d, deed)
	}
	if d.Row.Batch.Vessel == 0 {
		a.status = status{d.Row.Batch.Name + " is in bottles", saidPlain}
		return a, nil
	}
	row, ok := a.shelf.selectBatch(d.Row.Batch.Batch)
	if !ok {
		return a, nil
	}
	if !a.batch.shows(row.Batch.Batch) {
		a.typedAhead = append(a.typedAhead, k)
		return a, a.loadSelected()
	}
	a.status = status{}
	switch deed {
	case duePitch:
		a.form.openPitch(row)
		return a.openForm()
	case dueRack:
		return a.openRackForm(row)
	case dueFeed:
		return a.openDose(row, d.Due.Key)
	case dueTopUp:
		return a.openTopUp(row)
	}
	a.entry.openReading(row, a.batch.batch)
	if deed == dueTest {
		a.entry.begin("so2=")
	}
	a.enter(onEntry)
	return a, nil
}

// openBottleDue opens the form for a bottle of a batch, which need not be on the shelf.
func (a app) openBottleDue(k tea.KeyMsg, d model.DueRow, deed dueDeed) (tea.Model, tea.Cmd) {
	p := &a.due
	if p.read.ID != d.Row.Batch.Batch {
		a.typedAhead = append(a.typedAhead, k)
		s, id := a.opts.Store, d.Row.Batch.Batch
		return a, func() tea.Msg {
			b, err := s.Batch(id)
			if err != nil {
				return loadFailedMsg{err}
			}
			return dueBatchMsg{b}
		}
	}
	b, why := newBottled(p.read, a.opts.Now(), a.opts.Sorbate), takesToTaste
	if deed == dueOpen {
		why = takesToTest
	}
	p.read = model.Batch{} // the next time it is read anew
	a.status = status{}
	a.openTake(b, why, d.Due.Key)
	return a, nil
}

// openDose opens the form for a dose of a plan, filled with it.
func (a app) openDose(row model.Row, due string) (tea.Model, tea.Cmd) {
	b := a.batch.batch
	meal, ok := b.DoseDue(due)
	if !ok {
		return a, nil
	}
	typed := meal.What
	if meal.Mass > 0 {
		typed = fmt.Sprintf("%s %.4gg", meal.What, float64(meal.Mass))
	}
	if meal.Sugar.Mass() == 0 {
		return a.openFeedOf(row, typed, due)
	}
	body := func(p formPane) (model.Body, error) {
		name, mass, err := model.ParseDose(p.fields[0].value())
		if err != nil {
			return nil, err
		}
		given, _ := b.DoseGiven(due, mass)
		if !strings.EqualFold(name, meal.What) || mass == 0 {
			return nil, fmt.Errorf("this dose is of %s, and is weighed, as in %s; %s on the shelf stirs something else in: %w",
				meal.What, typed, a.shelf.keys.Add.Help().Key, model.ErrInvalid)
		}
		return given, nil
	}
	given, _ := b.DoseGiven(due, meal.Mass)
	a.form.openEntry("Feed", "fed, "+b.DoseOf(given), row, []field{textField("what", "", typed)}, body)
	a.form.foretell(b, a.words(), a.opts.Now(), whereItIs, body)
	return a.openForm()
}
