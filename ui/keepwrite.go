package ui

import (
	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// askStabilise asks before the sulfite and the sorbate are written down.
func (a app) askStabilise() (tea.Model, tea.Cmd) {
	p := &a.keep
	switch {
	case p.err != nil:
		p.tell(words.PlainError(p.err), true)
		return a, nil
	case p.plan.TooMuch:
		p.tell("nothing to stir in: at this pH it would take more sulfite than the rules allow", true)
		return a, nil
	case !p.plan.Needed():
		p.tell("as much of both as helps is in it already", false)
		return a, nil
	}
	now := a.opts.Now()
	say := a.words()
	body := p.plan.Entry()
	var entries []model.Entry
	if p.have.PH != 0 && p.have.PHRead.IsZero() { // typed here, and worth keeping
		entries = append(entries, model.Entry{At: now, Recorded: now, Body: model.Reading{PH: float64(p.have.PH)}})
	}
	entries = append(entries, model.Entry{At: now, Recorded: now, Body: body})
	for _, r := range p.plan.Steps(now) {
		entries = append(entries, model.Entry{At: now, Recorded: now, Body: r})
	}
	what := say.Stabilising(p.plan)
	cautions := []string{"With asthma some people react to sulfite, some of them badly: say so on the label, contains sulphites. Weigh it on a fine scale and do not breathe its dust."}
	if !p.have.Finished {
		cautions = append(cautions, "It is not known to have finished. Sulfite and sorbate do not stop yeast at work: wait until gravity stands still.")
	}
	id, label := p.batch.ID, p.row.Vessel.Label
	a.confirm.ask("Stir "+what+" into "+label+"?", cautions, func(a *app) tea.Cmd {
		a.keep.ticket = a.newTicket()
		return appendEntries(a.opts.Store, a.keep.ticket, id, now, label+": stabilised; u undoes it", entries...)
	})
	a.enter(onConfirm)
	return a, nil
}
