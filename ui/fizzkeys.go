package ui

import (
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// openFizz shows the pane for the batch in row.
func (a *app) openFizz(row model.Row, b model.Batch, s model.State) {
	var sweet *model.Trial
	if c := a.sweeten.current(); a.focus == onSweeten && c != nil && c.err == nil && c.trial.Mass > 0 {
		t := c.trial
		sweet = &t
	}
	a.fizz.open(row, b, s, sweet)
	a.enter(onFizz)
}

// fizzKey answers a key in the pane.
func (a app) fizzKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	p := &a.fizz
	if len(p.fields) == 0 || p.ticket != 0 {
		return a, nil
	}
	f := &p.fields[p.at]
	switch {
	case key.Matches(k, p.keys.Leave):
		a.leave()
		return a, nil
	case key.Matches(k, p.keys.Next):
		p.at = focusOn(p.fields, p.at+1)
	case key.Matches(k, p.keys.Prev):
		p.at = focusOn(p.fields, p.at-1)
	case key.Matches(k, p.keys.Accept):
		return a.askPrime()
	case f.choices == nil:
		f.input, _ = f.input.Update(k)
	case key.Matches(k, p.keys.Right), k.Type == tea.KeySpace:
		f.choice = (f.choice + 1) % len(f.choices)
	case key.Matches(k, p.keys.Left):
		f.choice = (f.choice - 1 + len(f.choices)) % len(f.choices)
	case k.Type == tea.KeyRunes:
		f.chooseByLetter(k.String())
	}
	if p.at == fizzRoute {
		p.suit()
	}
	p.told = ""
	p.work()
	return a, nil
}

// What a drink stands at: bottles in a warm room, a keg in the cold.
const (
	warmRoom = "28C"
	coldRoom = "4C"
)

// suit brings container and temperature into line with the route, where they are still
// those of another.
func (p *fizzPane) suit() {
	keg := model.FizzRoutes()[p.fields[fizzRoute].choice] == model.ByKeg
	store := &p.fields[fizzStore].input
	switch {
	case keg && store.Value() == warmRoom:
		store.SetValue(coldRoom)
	case !keg && store.Value() == coldRoom:
		store.SetValue(warmRoom)
	}
	isKeg := func(c calc.Container) bool { return strings.HasPrefix(c.Name, "keg") }
	if into := &p.fields[fizzInto]; isKeg(p.opts.Containers[into.choice]) != keg {
		into.choice = max(0, slices.IndexFunc(p.opts.Containers, func(c calc.Container) bool { return isKeg(c) == keg }))
	}
}

// askPrime asks before the priming is written down, with what speaks against it.
func (a app) askPrime() (tea.Model, tea.Cmd) {
	p := &a.fizz
	switch {
	case p.err != nil:
		p.tell(words.PlainError(p.err), true)
		return a, nil
	case p.plan.Route != model.ByPriming:
		p.tell("nothing is stirred in on this way; r in the planner stabilises, f on the shelf fills bottles", false)
		return a, nil
	case p.fizz.Mass <= 0:
		p.tell("it holds that much gas already", false)
		return a, nil
	}
	now := a.opts.Now()
	var entries []model.Entry
	var doses []model.Dose
	if p.sweet != nil {
		doses = append(doses, p.sweet.Parts...)
		for _, body := range p.sweet.Entries() {
			entries = append(entries, model.Entry{At: now, Recorded: now, Body: body})
		}
	}
	entries = append(entries, model.Entry{At: now, Recorded: now, Body: p.fizz.Entry(p.plan)})
	say := a.words()
	what := say.Mass(p.fizz.Mass) + " of " + p.plan.With.Name() + " to prime"
	if len(doses) > 0 {
		what = say.Doses(doses) + ", then " + what
	}
	said := what + " written down for " + p.row.Vessel.Label + "; u on the shelf undoes it"
	var cautions []string
	if text := p.hazard(say); text != "" {
		cautions = append(cautions, text)
	}
	id := p.batch.ID
	a.confirm.ask("Stir "+what+", into "+p.row.Vessel.Label+"?", cautions, func(a *app) tea.Cmd {
		a.fizz.ticket = a.newTicket()
		return appendEntries(a.opts.Store, a.fizz.ticket, id, now, said, entries...)
	})
	a.enter(onConfirm)
	return a, nil
}

// written goes on from what the batch is now: what was on trial is in it.
func (p *fizzPane) written() {
	p.ticket, p.sweet = 0, nil
	p.tell("written down; bottle it soon, and keep one in plastic to feel how hard it grows", false)
	p.work()
}

func (p *fizzPane) failed(why string) {
	p.ticket = 0
	p.tell(why, true)
}
