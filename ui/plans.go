package ui

import (
	"fmt"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// plansPane lists the plans kept for a batch, each worked out for what the batch is
// now, to compare and to take up again.
type plansPane struct {
	opts   Options
	keys   plansKeys
	row    model.Row
	batch  model.Batch
	state  model.State
	plans  []model.Plan
	loaded bool
	cursor int
}

func newPlansPane(o Options) plansPane { return plansPane{opts: o, keys: newPlansKeys()} }

// open shows the plans of the batch in row, once they are read.
func (p *plansPane) open(row model.Row, b model.Batch, s model.State) {
	p.row, p.batch, p.state = row, b, s
	p.plans, p.loaded, p.cursor = nil, false, 0
}

// setPlans takes them as just read. Sweeteners that are in the handbook are taken from
// there, with their flavours and cautions.
func (p *plansPane) setPlans(msg plansLoadedMsg) {
	if msg.batch != p.batch.ID {
		return
	}
	p.plans, p.loaded = msg.plans, true
	for i, plan := range p.plans {
		p.plans[i] = plan.Known(p.opts.Sweeteners)
	}
	p.cursor = max(0, min(p.cursor, len(p.plans)-1))
}

// setBatch takes a fresh read.
func (p *plansPane) setBatch(b model.Batch, s model.State, err error) {
	if b.ID == p.batch.ID && err == nil {
		p.batch, p.state = b, s
	}
}

// openPlans shows the plans of the batch in the planner.
func (a app) openPlans() (tea.Model, tea.Cmd) {
	p := &a.sweeten
	a.plans.open(p.row, p.batch, p.state)
	a.enter(onPlans)
	return a, loadPlans(a.opts.Store, p.batch.ID)
}

// plansKey answers a key among the plans.
func (a app) plansKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	p := &a.plans
	if to, walks := p.keys.walk(k, p.cursor, len(p.plans)); walks {
		p.cursor = to
		return a, nil
	}
	switch {
	case key.Matches(k, p.keys.Leave):
		a.leave()
	case key.Matches(k, p.keys.Help):
		a.help(p.keys)
	case len(p.plans) == 0:
	case key.Matches(k, p.keys.Take):
		plan := p.plans[p.cursor]
		a.leave()
		a.sweeten.take(plan.Candidates)
		a.sweeten.tell(plan.Name+", for the batch as it is now", false)
	case key.Matches(k, p.keys.Drop):
		id, name := p.batch.ID, p.plans[p.cursor].Name
		a.confirm.ask("Discard the plan "+name+" without trace?", nil, func(a *app) tea.Cmd {
			return dropPlan(a.opts.Store, a.newTicket(), id, name)
		})
		a.enter(onConfirm)
	}
	return a, nil
}

// view lists the plans in w by h cells.
func (p plansPane) view(w, h int, say words.Words, st *Styles) []string {
	g := p.opts.Glyphs
	lines := []string{rule("Plans for "+g.text(p.row.Vessel.Label+"  "+p.batch.Name), w, g, st), ""}
	switch {
	case !p.loaded:
		return padLines(lines, w, h)
	case len(p.plans) == 0:
		return padLines(append(lines, indented(wrap("No plan is kept. In the planner w keeps what is beside each other there, under a name.", w-4), st.Muted.Render)...), w, h)
	}
	first := 0
	for i, plan := range p.plans {
		if i == p.cursor {
			first = len(lines)
		}
		pointer, name := "  ", st.Plain.Render(cut(g.text(plan.Name), w-4))
		if i == p.cursor {
			pointer, name = st.Key.Render(g.Pointer)+" ", st.Chosen.Render(cut(g.text(plan.Name), w-4))
		}
		lines = append(lines, pointer+name)
		for _, c := range plan.Candidates {
			lines = append(lines, "    "+st.Muted.Render(cut(g.text(p.candidate(c, w, say)), w-4)))
		}
	}
	if end := first + 1 + model.MostCandidates; end > h { // keep the chosen one in sight
		lines = append(lines[:1:1], lines[min(end-h+1, first):]...)
	}
	return padLines(lines, w, h)
}

// candidate is one candidate and what it makes of the batch, in a line.
func (p plansPane) candidate(c model.Candidate, w int, say words.Words) string {
	t, err := c.Try(p.state, p.batch.Drink)
	if err != nil {
		return c.Name() + ": out of reach"
	}
	figures := say.Gravity(t.After.SG) + " " + calc.BandOf(t.After.Sugar).String()
	if w >= 60 {
		figures += ", tastes like " + say.PerLitre(t.After.Sweetness) + ", " + say.Strength(t.After.Strength, 0)
	}
	return fmt.Sprintf("%s: %s of %s", figures, say.Mass(t.Mass), c.Name())
}
