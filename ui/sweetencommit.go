package ui

import (
	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// committed starts over from what the batch is now. The others keep their targets,
// to be looked at beside what was done.
func (p *sweetenPane) committed() {
	p.ticket = 0
	if c := p.current(); c != nil {
		c.Aim = model.Aim{}
		p.workAll()
	}
}

// askSweeten asks before the current candidate is written, with what could go wrong.
func (a app) askSweeten() (tea.Model, tea.Cmd) {
	p := &a.sweeten
	say := a.words()
	c := p.current()
	switch {
	case c == nil:
		return a, nil
	case c.err != nil:
		p.tell(words.PlainError(c.err), true)
		return a, nil
	case c.trial.Mass == 0:
		p.tell("nothing to commit: move the amount first", true)
		return a, nil
	case c.trial.Overflow(p.row.Vessel) > 0:
		p.tell(say.Volume(c.trial.After.Volume)+" would not fit: "+p.row.Vessel.Label+" holds "+
			say.Volume(p.row.Vessel.Capacity)+". Take less, or rack to a larger vessel first.", true)
		return a, nil
	}
	now := a.opts.Now()
	var entries []model.Entry
	for _, body := range c.trial.Entries() {
		entries = append(entries, model.Entry{At: now, Recorded: now, Body: body})
	}
	what := say.Doses(c.trial.Parts)
	said := what + " written down for " + p.row.Vessel.Label + "; u undoes it"
	if len(entries) > 1 {
		said += ", one at a time"
	}
	a.confirm.ask("Stir "+what+" into "+p.row.Vessel.Label+"?", p.cautions(c, say), func(a *app) tea.Cmd {
		a.sweeten.ticket = a.newTicket()
		return appendEntries(a.opts.Store, a.sweeten.ticket, a.sweeten.batch.ID, now, said, entries...)
	})
	a.enter(onConfirm)
	return a, nil
}

// cautions returns what to think of before stirring it in: whether it will start
// again, and whom it can hurt.
func (p sweetenPane) cautions(t *tried, say words.Words) []string {
	var out []string
	if t.trial.Wakes() && !p.state.Pitched.IsZero() {
		verdict := calc.StabilityLive
		if have, err := p.batch.Safeguards(p.state); err == nil {
			if judged, err := have.Assess(p.state, &t.trial, p.opts.Sorbate); err == nil {
				verdict = judged.Verdict
			}
		}
		text := say.Stability(verdict)
		if verdict < calc.StabilityLikely {
			text += " Never close it in bottles until it is stable: sealed glass can burst. r says why, and what would stop it."
		}
		out = append(out, text)
	}
	return append(out, t.Cautions()...)
}
