package ui

import (
	"time"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// openBench shows the bench of the batch in row.
func (a *app) openBench(row model.Row, b model.Batch, s model.State) {
	var with model.Sweetener
	if len(a.opts.Sweeteners) > 0 {
		with = a.opts.Sweeteners[0]
	}
	if c := a.sweeten.current(); c != nil && a.sweeten.batch.ID == b.ID {
		with = c.First
	}
	a.bench.open(row, b, s, with)
	a.enter(onBench)
}

// benchKey answers a key on the bench.
func (a app) benchKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	p := &a.bench
	switch {
	case p.ticket != 0:
		return a, nil // being written
	case p.asCard:
		p.asCard = false
		return a, nil
	case p.stage == benchTold:
		return a.benchToldKey(k)
	case key.Matches(k, p.keys.Leave):
		a.leave()
		return a, nil
	case key.Matches(k, p.keys.Card):
		p.asCard = p.glasses != nil
		return a, nil
	case key.Matches(k, p.keys.New) && p.stage == benchPoured:
		p.plan(p.with())
		return a, nil
	case key.Matches(k, p.keys.Next):
		p.focusField(p.at + 1)
	case key.Matches(k, p.keys.Prev):
		p.focusField(p.at - 1)
	case key.Matches(k, p.keys.Accept):
		return a.acceptBench()
	default:
		p.typeKey(k)
	}
	return a, nil
}

// typeKey gives a key to the field that has the cursor.
func (p *benchPane) typeKey(k tea.KeyMsg) {
	f := &p.fields[p.at]
	switch {
	case f.choices == nil:
		f.input, _ = f.input.Update(k)
	case key.Matches(k, p.keys.Right), k.Type == tea.KeySpace:
		f.choice = (f.choice + 1) % len(f.choices)
	case key.Matches(k, p.keys.Left):
		f.choice = (f.choice - 1 + len(f.choices)) % len(f.choices)
	case k.Type == tea.KeyRunes:
		f.chooseByLetter(k.String())
	}
	p.told = ""
	if p.stage == benchPlanned {
		p.refresh()
	}
}

// acceptBench writes the glasses down as poured, or what was thought of them once
// every glass has something.
func (a app) acceptBench() (tea.Model, tea.Cmd) {
	p := &a.bench
	now := a.opts.Now()
	if p.stage == benchPlanned {
		b, err := p.bench(uint64(now.UnixNano()))
		if err != nil {
			p.tell(words.PlainError(err), true)
			return a, nil
		}
		return a.writeBench(now, b, "the glasses are written down")
	}
	for i := range p.fields {
		if next := (p.at + 1 + i) % len(p.fields); p.fields[next].value() == "" && next != p.at && p.fields[p.at].value() != "" {
			p.focusField(next)
			return a, nil
		}
	}
	for i := range p.fields {
		if _, err := model.ParseTaste(p.fields[i].value()); err != nil {
			p.focusField(i)
			break
		}
	}
	t, err := p.tasting()
	if err != nil {
		p.tell(words.PlainError(err), true)
		return a, nil
	}
	return a.writeBench(now, t, "the marks are written down; u undoes it")
}

func (a app) writeBench(now time.Time, body model.Body, said string) (tea.Model, tea.Cmd) {
	p := &a.bench
	p.ticket = a.newTicket()
	return a, appendEntries(a.opts.Store, p.ticket, p.batch.ID, now, p.row.Vessel.Label+": "+said,
		model.Entry{At: now, Recorded: now, Body: body})
}

// benchToldKey answers a key when the marks are in.
func (a app) benchToldKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	p := &a.bench
	keys := newBenchToldKeys()
	switch {
	case key.Matches(k, keys.Plan):
		winners := p.winners()
		if len(winners) == 0 {
			p.tell("no glass has a mark to go by", true)
			return a, nil
		}
		a.leave()
		if a.focus != onSweeten {
			a.enter(onSweeten)
		}
		a.sweeten.open(p.row, p.batch, p.state, a.shelf.shelf.Settings)
		a.sweeten.take(winners)
		a.sweeten.tell("the winner of the bench, for the whole of "+p.row.Vessel.Label, false)
	case key.Matches(k, keys.New):
		p.plan(p.with())
	case key.Matches(k, keys.Card):
		p.asCard = p.glasses != nil
	case key.Matches(k, keys.Undo):
		return a.askUndo()
	case key.Matches(k, keys.Help):
		a.help(keys)
	case key.Matches(k, keys.Leave):
		a.leave()
	}
	return a, nil
}
