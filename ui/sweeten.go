package ui

import (
	"math"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// sweetenPane tries a sweetener on a copy of the batch: every key works the whole
// liquid out again. Nothing is written until it is committed.
type sweetenPane struct {
	opts     Options
	keys     sweetenKeys
	target   textinput.Model // the typed target, while typing
	typing   bool
	settings model.Settings

	row    model.Row
	batch  model.Batch
	state  model.State
	choice int
	mass   calc.Gram
	trial  model.Trial
	err    error  // why the amount gives nothing to show
	told   string // what happened last
	bad    bool   // and whether that was a refusal
	ticket ticket
}

func newSweetenPane(o Options) sweetenPane {
	in := textinput.New()
	in.Prompt = ""
	in.CharLimit = 40
	in.Cursor.SetMode(cursor.CursorStatic)
	return sweetenPane{opts: o, keys: newSweetenKeys(), target: in}
}

// open starts a trial on the batch of row, with nothing added yet.
func (p *sweetenPane) open(row model.Row, b model.Batch, s model.State, set model.Settings) {
	if row.Batch.Batch != p.batch.ID {
		p.mass = 0
	}
	p.row, p.batch, p.state, p.settings = row, b, s, set
	p.typing, p.told, p.ticket = false, "", 0
	p.work()
}

// setBatch takes a fresh read of the batch on trial.
func (p *sweetenPane) setBatch(b model.Batch, s model.State, err error) {
	if b.ID != p.batch.ID || err != nil {
		return
	}
	p.batch, p.state = b, s
	p.work()
}

// committed starts over from what the batch is now.
func (p *sweetenPane) committed() {
	p.mass, p.ticket = 0, 0
	p.work()
}

// sweetener returns the one chosen.
func (p sweetenPane) sweetener() (model.Sweetener, bool) {
	if p.choice < 0 || p.choice >= len(p.opts.Sweeteners) {
		return model.Sweetener{}, false
	}
	return p.opts.Sweeteners[p.choice], true
}

// work tries the amount as it stands.
func (p *sweetenPane) work() {
	sw, ok := p.sweetener()
	if !ok || p.batch.ID == 0 {
		return
	}
	p.trial, p.err = model.Try(p.state, p.batch.Drink, sw, p.mass)
}

// steps returns how much one key press adds: fine and coarse. They suit the
// volume: half a gram a litre and ten times that, rounded to a figure a kitchen
// scale can show, and for intense sweeteners as much less as they are stronger.
func (p sweetenPane) steps() (fine, coarse calc.Gram) {
	volume := math.Max(0.1, float64(p.state.Figures.Volume))
	step := roundToScale(0.5 * volume)
	if sw, ok := p.sweetener(); ok && sw.Intense() {
		step = roundToScale(0.5 * volume / float64(sw.Ingredient.PerGram.Sweetness()))
	}
	return calc.Gram(step), calc.Gram(10 * step)
}

// roundToScale returns the nearest of 1, 2, 5 times a power of ten below x.
func roundToScale(x float64) float64 {
	base := math.Pow(10, math.Floor(math.Log10(x)))
	switch f := x / base; {
	case f >= 5:
		return 5 * base
	case f >= 2:
		return 2 * base
	}
	return base
}

// change moves the amount, never below nothing.
func (p *sweetenPane) change(by calc.Gram) {
	p.mass = max(0, p.mass+by)
	if fine, _ := p.steps(); p.mass < fine/1000 {
		p.mass = 0
	}
	p.told = ""
	p.work()
}

// choose goes to another sweetener; the amount is kept, so that two can be
// compared, unless one of them counts in milligrams.
func (p *sweetenPane) choose(by int) {
	n := len(p.opts.Sweeteners)
	if n == 0 {
		return
	}
	before, _ := p.sweetener()
	p.choice = (p.choice + by + n) % n
	after, _ := p.sweetener()
	if before.Intense() != after.Intense() {
		p.mass = 0
	}
	p.told = ""
	p.work()
}

// aim takes a typed target or amount.
func (p *sweetenPane) aim(text string) error {
	aim, err := model.ParseAim(text)
	if err != nil {
		return err
	}
	sw, _ := p.sweetener()
	mass, err := aim.AmountFor(p.state.Liquid, sw.Ingredient)
	if err != nil {
		return err
	}
	p.mass = mass
	p.work()
	return nil
}

// sweetenKey answers a key in the planner.
func (a app) sweetenKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	p := &a.sweeten
	if p.typing {
		return a.targetKey(k)
	}
	fine, coarse := p.steps()
	switch {
	case key.Matches(k, p.keys.Leave):
		a.leave()
	case key.Matches(k, p.keys.Help):
		a.help(p.keys)
	case key.Matches(k, p.keys.More):
		p.change(fine)
	case key.Matches(k, p.keys.Less):
		p.change(-fine)
	case key.Matches(k, p.keys.MuchMore):
		p.change(coarse)
	case key.Matches(k, p.keys.MuchLess):
		p.change(-coarse)
	case key.Matches(k, p.keys.Zero):
		p.change(-p.mass)
	case key.Matches(k, p.keys.Next):
		p.choose(+1)
	case key.Matches(k, p.keys.Prev):
		p.choose(-1)
	case key.Matches(k, p.keys.Target):
		p.typing, p.told = true, ""
		p.target.Reset()
		p.target.Focus()
	case key.Matches(k, p.keys.Commit):
		return a.askSweeten()
	case key.Matches(k, p.keys.Undo):
		return a.askUndo()
	}
	return a, nil
}

// targetKey answers a key while a target is typed.
func (a app) targetKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	p := &a.sweeten
	keys := newTargetKeys()
	switch {
	case key.Matches(k, keys.Cancel):
		p.typing, p.told = false, ""
		return a, nil
	case key.Matches(k, keys.Accept):
		if err := p.aim(p.target.Value()); err != nil {
			p.told, p.bad = words.PlainError(err), true
			return a, nil
		}
		p.typing, p.told = false, ""
		return a, nil
	}
	p.target, _ = p.target.Update(k)
	p.told = ""
	return a, nil
}

// askSweeten asks before the addition is written, with what could go wrong.
func (a app) askSweeten() (tea.Model, tea.Cmd) {
	p := &a.sweeten
	say := a.words()
	switch over := p.trial.Overflow(p.row.Vessel); {
	case p.err != nil:
		p.told, p.bad = words.PlainError(p.err), true
		return a, nil
	case p.mass == 0:
		p.told, p.bad = "nothing to commit: move the amount first", true
		return a, nil
	case over > 0:
		p.told, p.bad = say.Volume(p.trial.After.Volume)+" would not fit: "+p.row.Vessel.Label+" holds "+
			say.Volume(p.row.Vessel.Capacity)+". Take less, or rack to a larger vessel first.", true
		return a, nil
	}
	now := a.opts.Now()
	entry := model.Entry{At: now, Recorded: now, Body: p.trial.Entry()}
	what := say.Mass(p.mass) + " of " + p.trial.Sweetener.Name()
	question := "Stir " + what + " into " + p.row.Vessel.Label + "?"
	said := what + " written down for " + p.row.Vessel.Label + "; u undoes it"
	a.confirm.ask(question, cautions(p.trial, p.state), func(a *app) tea.Cmd {
		a.sweeten.ticket = a.newTicket()
		return appendEntries(a.opts.Store, a.sweeten.ticket, a.sweeten.batch.ID, now, said, entry)
	})
	a.enter(onConfirm)
	return a, nil
}

// cautions returns what to think of before stirring it in.
func cautions(t model.Trial, s model.State) []string {
	var out []string
	if t.Wakes() && !s.Pitched.IsZero() {
		out = append(out, "The yeast in it is not known to be stopped and may ferment this. Never close it in bottles until it is stable: sealed glass can burst.")
	}
	if t.Sweetener.Caution != "" {
		out = append(out, t.Sweetener.Caution)
	}
	return out
}
