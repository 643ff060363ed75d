package ui

import (
	"time"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// keepPane says whether a batch will keep its sugar or start again, and why, and
// offers what would stop it. It forbids nothing.
type keepPane struct {
	opts Options
	keys keepKeys

	row   model.Row
	batch model.Batch
	state model.State
	trial *model.Trial // stirred in on trial; nil: as it is

	have   model.Safeguards
	clear  *bool // what the person said, over what the journal tells
	judged calc.Assessment
	plan   model.StabilisePlan
	err    error

	line   textinput.Model // a pH, while it is typed
	typing bool
	told   string
	bad    bool
	ticket ticket
}

func newKeepPane(o Options) keepPane {
	in := textinput.New()
	in.Prompt = ""
	in.CharLimit = 12
	in.Cursor.SetMode(cursor.CursorStatic)
	return keepPane{opts: o, keys: newKeepKeys(), line: in}
}

// open looks at the batch in row, with what is on trial stirred in.
func (p *keepPane) open(row model.Row, b model.Batch, s model.State, t *model.Trial) {
	p.row, p.batch, p.state, p.trial = row, b, s, t
	p.clear, p.typing, p.told, p.ticket = nil, false, "", 0
	p.have, p.err = b.Safeguards(s)
	p.work()
}

// setBatch takes a fresh read.
func (p *keepPane) setBatch(b model.Batch, s model.State, err error) {
	if b.ID != p.batch.ID || err != nil || b.ID == 0 {
		return
	}
	typed := p.have.PH
	if !p.have.PHRead.IsZero() || p.ticket != 0 {
		typed = 0 // it is in the journal
	}
	p.batch, p.state = b, s
	if p.have, p.err = b.Safeguards(s); typed != 0 {
		p.have.PH, p.have.PHRead = typed, time.Time{}
	}
	p.work()
}

// work judges, and works out what is missing.
func (p *keepPane) work() {
	if p.err != nil {
		return
	}
	if p.clear != nil {
		p.have.Clear = *p.clear
	}
	if p.judged, p.err = p.have.Assess(p.state, p.trial, p.opts.Sorbate); p.err != nil {
		return
	}
	f := p.state.Figures
	if p.trial != nil {
		f = p.trial.After
	}
	p.plan, p.err = p.have.Plan(f.Volume, f.Strength, p.opts.Sorbate)
	p.plan = p.plan.Within(p.totals()...)
}

func (p *keepPane) tell(text string, bad bool) { p.told, p.bad = text, bad }

func (p *keepPane) failed(why string) {
	p.ticket = 0
	p.tell(why, true)
}

func (p *keepPane) written() {
	p.ticket = 0
	p.tell("written down; u undoes it", false)
}

// openKeep shows the pane for what the planner has on trial.
func (a *app) openKeep() {
	p := &a.sweeten
	var trial *model.Trial
	if c := p.current(); c != nil && c.err == nil && c.trial.Mass > 0 {
		t := c.trial
		trial = &t
	}
	a.keep.open(p.row, p.batch, p.state, trial)
	a.enter(onKeep)
}

// keepKey answers a key in the pane.
func (a app) keepKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	p := &a.keep
	switch {
	case p.ticket != 0:
		return a, nil
	case p.typing:
		return a.keepLineKey(k)
	case key.Matches(k, p.keys.Leave):
		a.leave()
	case key.Matches(k, p.keys.Help):
		a.help(p.keys)
	case key.Matches(k, p.keys.PH):
		p.typing, p.told = true, ""
		p.line.Reset()
		p.line.Focus()
	case key.Matches(k, p.keys.Clear):
		clear := !p.have.Clear
		p.clear = &clear
		p.told = ""
		p.work()
	case key.Matches(k, p.keys.Undo):
		return a.askUndo()
	case key.Matches(k, p.keys.Accept):
		return a.askStabilise()
	}
	return a, nil
}

// keepLineKey answers a key while the pH is typed.
func (a app) keepLineKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	p := &a.keep
	keys := newTargetKeys()
	switch {
	case key.Matches(k, keys.Cancel):
		p.typing, p.told = false, ""
	case key.Matches(k, keys.Accept):
		ph, err := model.ParsePH(p.line.Value())
		if err != nil {
			p.tell(words.PlainError(err), true)
			return a, nil
		}
		p.have.PH, p.have.PHRead, p.typing, p.err = ph, time.Time{}, false, nil
		p.work()
	default:
		p.line, _ = p.line.Update(k)
		p.told = ""
	}
	return a, nil
}

// rules are those that hold for the drink as it would be.
func (p keepPane) rules() []calc.SulfiteLimit {
	sugar := p.state.Figures.Sugar
	if p.trial != nil {
		sugar = p.trial.After.Sugar
	}
	return p.batch.Drink.SulfiteLimits(p.opts.SulfiteLimits, sugar)
}

// totals are the most that each rule allows.
func (p keepPane) totals() []calc.MilligramPerLitre {
	var out []calc.MilligramPerLitre
	for _, l := range p.rules() {
		out = append(out, l.Total)
	}
	return out
}
