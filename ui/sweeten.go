package ui

import (
	"math"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// sweetenPane tries up to four ways to sweeten on copies of the batch: every key
// works the whole liquid out again. Nothing is written until one is committed.
type sweetenPane struct {
	opts     Options
	keys     sweetenKeys
	line     textinput.Model // what is typed: a target, a price, a name
	typing   typed
	settings model.Settings

	row   model.Row
	batch model.Batch
	state model.State

	tried []tried
	at    int // the one that the keys move

	told       string // what happened last
	bad        bool   // and whether that was a refusal
	ticket     ticket // of an addition being written
	lineTicket ticket // of what was typed, being written
}

// tried is a candidate and what it would make of the batch.
type tried struct {
	model.Candidate
	trial model.Trial
	err   error // why it gives nothing to show
}

// typed says what the line in the planner is for.
type typed uint8

const (
	typingNothing typed = iota
	typingTarget
	typingPrice
	typingPlanName
)

func newSweetenPane(o Options) sweetenPane {
	in := textinput.New()
	in.Prompt = ""
	in.CharLimit = 60
	in.Cursor.SetMode(cursor.CursorStatic)
	return sweetenPane{opts: o, keys: newSweetenKeys(), line: in}
}

// open looks at the batch of row. Candidates are kept from the last visit to the
// same batch; another one begins with the first sweetener of the handbook.
func (p *sweetenPane) open(row model.Row, b model.Batch, s model.State, set model.Settings) {
	if row.Batch.Batch != p.batch.ID || len(p.tried) == 0 {
		p.tried, p.at = nil, 0
		if len(p.opts.Sweeteners) > 0 {
			p.tried = []tried{{Candidate: model.Candidate{First: p.opts.Sweeteners[0], Share: 0.5}}}
		}
	}
	p.row, p.batch, p.state, p.settings = row, b, s, set
	p.typing, p.told, p.ticket, p.lineTicket = typingNothing, "", 0, 0
	p.workAll()
}

// setBatch takes a fresh read of the batch on trial.
func (p *sweetenPane) setBatch(b model.Batch, s model.State, err error) {
	if b.ID != p.batch.ID || err != nil {
		return
	}
	p.batch, p.state = b, s
	p.workAll()
}

// committed starts over from what the batch is now. The others keep their targets,
// to be looked at beside what was done.
func (p *sweetenPane) committed() {
	p.ticket = 0
	if c := p.current(); c != nil {
		c.Aim = model.Aim{}
		p.workAll()
	}
}

// take replaces the candidates, as by a plan that was kept.
func (p *sweetenPane) take(all []model.Candidate) {
	p.tried, p.at = nil, 0
	for _, c := range all {
		p.tried = append(p.tried, tried{Candidate: c})
	}
	p.workAll()
}

// candidates returns what is being looked at.
func (p sweetenPane) candidates() []model.Candidate {
	out := make([]model.Candidate, len(p.tried))
	for i, t := range p.tried {
		out[i] = t.Candidate
	}
	return out
}

// current returns the candidate that the keys move; nil without a handbook.
func (p *sweetenPane) current() *tried {
	if p.at >= len(p.tried) {
		return nil
	}
	return &p.tried[p.at]
}

// workAll tries every candidate anew.
func (p *sweetenPane) workAll() {
	for i := range p.tried {
		p.work(&p.tried[i])
	}
}

func (p *sweetenPane) work(t *tried) {
	if p.batch.ID != 0 {
		t.trial, t.err = t.Try(p.state, p.batch.Drink)
	}
}

// change gives the current candidate another shape and tries it. It works on a copy
// of the list: earlier screens share the old one.
func (p *sweetenPane) change(how func(*tried)) {
	if p.current() == nil {
		return
	}
	p.tried = slices.Clone(p.tried)
	p.told = ""
	c := p.current()
	how(c)
	p.work(c)
}

// steps returns how much one key press adds: fine and coarse. They suit the
// volume: half a gram a litre and ten times that, rounded to a figure a kitchen
// scale can show, and for intense sweeteners as much less as they are stronger.
func (p sweetenPane) steps() (fine, coarse calc.Gram) {
	volume := math.Max(0.1, float64(p.state.Figures.Volume))
	step := roundToScale(0.5 * volume)
	if c := p.current(); c != nil && c.Intense() {
		if i, err := c.Ingredient(); err == nil {
			step = roundToScale(0.5 * volume / float64(i.PerGram.Sweetness()))
		}
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

// move changes the amount, never below nothing; from then on it is the amount that
// is kept and no target.
func (p *sweetenPane) move(by calc.Gram) {
	fine, _ := p.steps()
	p.change(func(t *tried) {
		mass := calc.Gram(0)
		if t.err == nil {
			mass = max(0, t.trial.Mass+by)
		}
		if mass < fine/1000 {
			mass = 0
		}
		t.Aim = model.Aim{Mass: mass}
	})
}

// choose goes to another sweetener. A target is kept, and so is an amount, unless
// one of them counts in milligrams.
func (p *sweetenPane) choose(by int) {
	p.change(func(t *tried) {
		before := t.Intense()
		t.First = p.beside(t.First, by, t.Second.ID)
		if t.Aim.Target == nil && before != t.Intense() {
			t.Aim = model.Aim{}
		}
	})
}

// beside returns the sweetener by places further on in the handbook, leaving out the
// one that is taken.
func (p sweetenPane) beside(s model.Sweetener, by int, taken string) model.Sweetener {
	all := p.opts.Sweeteners
	i := slices.IndexFunc(all, func(x model.Sweetener) bool { return x.ID == s.ID })
	for range all {
		i = (i + by + len(all)) % len(all)
		if all[i].ID != taken {
			break
		}
	}
	return all[i]
}

// mix makes a mixture of the current candidate, half and half at first, then goes
// through what may be the second.
func (p *sweetenPane) mix() {
	p.change(func(t *tried) {
		if !t.Mixed() {
			t.Share, t.Second = 0.5, p.opts.Sweeteners[0]
			if t.First.ID == t.Second.ID {
				t.Second = p.beside(t.First, +1, t.First.ID)
			}
			return
		}
		t.Second = p.beside(t.Second, +1, t.First.ID)
	})
}

// share moves how much of the mixture is the first; at its ends it is none any more.
func (p *sweetenPane) share(by float64) {
	if c := p.current(); c == nil || !c.Mixed() {
		p.tell("only a mixture has a share: m mixes a second sweetener in", true)
		return
	}
	p.change(func(t *tried) {
		t.Share = math.Round((t.Share+by)*100) / 100
		switch {
		case t.Share >= 1:
			t.Second, t.Share = model.Sweetener{}, 0.5
		case t.Share <= 0:
			t.First, t.Second, t.Share = t.Second, model.Sweetener{}, 0.5
		}
	})
}

// another puts a copy of the current candidate beside it, with the next sweetener.
func (p *sweetenPane) another(c model.Candidate) {
	if len(p.tried) >= model.MostCandidates {
		p.tell("four are as many as fit beside each other; x takes one away", true)
		return
	}
	p.tried = append(slices.Clone(p.tried), tried{Candidate: c})
	p.at = len(p.tried) - 1
	p.told = ""
	p.work(p.current())
}

// sameSweetness puts another sweetener beside the current candidate, as much of it
// as tastes the same; if four are there, the next takes it on.
func (p *sweetenPane) sameSweetness() {
	c := p.current()
	switch {
	case c == nil:
		return
	case c.err != nil:
		p.tell(words.PlainError(c.err), true)
		return
	}
	as := c.trial
	if len(p.tried) < model.MostCandidates {
		p.another(model.SameSweetness(as, p.beside(c.First, +1, c.Second.ID)))
		return
	}
	p.at = (p.at + 1) % len(p.tried)
	p.change(func(t *tried) { t.Aim = model.AimAtSweetness(as.After.Sweetness) })
}

// drop takes the current candidate away; the last one stays.
func (p *sweetenPane) drop() {
	if len(p.tried) < 2 {
		p.tell("the last one stays; 0 brings it back to nothing", true)
		return
	}
	p.tried = slices.Delete(slices.Clone(p.tried), p.at, p.at+1)
	p.at = min(p.at, len(p.tried)-1)
	p.told = ""
}

// turn goes to another candidate.
func (p *sweetenPane) turn(by int) {
	if n := len(p.tried); n > 1 {
		p.at = (p.at + by + n) % n
		p.told = ""
		return
	}
	p.tell("there is only one; n puts another beside it", true)
}

func (p *sweetenPane) tell(text string, bad bool) { p.told, p.bad = text, bad }

// aim takes a typed target or amount.
func (p *sweetenPane) aim(text string) error {
	aim, err := model.ParseAim(text)
	if err != nil {
		return err
	}
	c := p.current()
	if c == nil {
		return nil
	}
	i, err := c.Ingredient()
	if err != nil {
		return err
	}
	if _, err := aim.AmountFor(p.state.Liquid, i); err != nil {
		return err
	}
	p.change(func(t *tried) { t.Aim = aim })
	return nil
}

// priced returns the sweetener whose price is asked for: of a mixture the one that
// has none yet.
func (p sweetenPane) priced() model.Sweetener {
	c := p.current()
	if c == nil {
		return model.Sweetener{}
	}
	if _, known := p.settings.Prices[c.First.ID]; known && c.Mixed() {
		if _, known := p.settings.Prices[c.Second.ID]; !known {
			return c.Second
		}
	}
	return c.First
}

// startLine opens the line for something typed.
func (p *sweetenPane) startLine(what typed, value string) {
	if p.current() == nil {
		return
	}
	p.typing, p.told = what, ""
	p.line.SetValue(value)
	p.line.CursorEnd()
	p.line.Focus()
}

// sweetenKey answers a key in the planner.
func (a app) sweetenKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	p := &a.sweeten
	if p.typing != typingNothing {
		return a.sweetenLineKey(k)
	}
	if p.moveKey(k) {
		return a, nil
	}
	switch {
	case key.Matches(k, p.keys.Leave):
		a.leave()
	case key.Matches(k, p.keys.Help):
		a.help(p.keys)
	case key.Matches(k, p.keys.Target):
		p.startLine(typingTarget, "")
	case key.Matches(k, p.keys.Price):
		p.startLine(typingPrice, "")
	case key.Matches(k, p.keys.Bench):
		a.openBench(p.row, p.batch, p.state)
	case key.Matches(k, p.keys.KeepPlan):
		p.startLine(typingPlanName, "")
	case key.Matches(k, p.keys.Plans):
		return a.openPlans()
	case key.Matches(k, p.keys.Keep):
		a.openKeep()
	case key.Matches(k, p.keys.Fizz):
		a.openFizz(p.row, p.batch, p.state)
	case key.Matches(k, p.keys.Commit):
		return a.askSweeten()
	case key.Matches(k, p.keys.Undo):
		return a.askUndo()
	}
	return a, nil
}

// moveKey answers the keys that only change what is being tried.
func (p *sweetenPane) moveKey(k tea.KeyMsg) bool {
	fine, coarse := p.steps()
	switch {
	case key.Matches(k, p.keys.More):
		p.move(fine)
	case key.Matches(k, p.keys.Less):
		p.move(-fine)
	case key.Matches(k, p.keys.MuchMore):
		p.move(coarse)
	case key.Matches(k, p.keys.MuchLess):
		p.move(-coarse)
	case key.Matches(k, p.keys.Zero):
		p.change(func(t *tried) { t.Aim = model.Aim{} })
	case key.Matches(k, p.keys.Next):
		p.choose(+1)
	case key.Matches(k, p.keys.Prev):
		p.choose(-1)
	case key.Matches(k, p.keys.Mix):
		p.mix()
	case key.Matches(k, p.keys.MoreOfIt):
		p.share(+0.05)
	case key.Matches(k, p.keys.LessOfIt):
		p.share(-0.05)
	case key.Matches(k, p.keys.Another):
		if c := p.current(); c != nil {
			next := c.Candidate
			next.First = p.beside(next.First, +1, next.Second.ID)
			p.another(next)
		}
	case key.Matches(k, p.keys.Same):
		p.sameSweetness()
	case key.Matches(k, p.keys.Drop):
		p.drop()
	case key.Matches(k, p.keys.NextOne):
		p.turn(+1)
	case key.Matches(k, p.keys.PrevOne):
		p.turn(-1)
	default:
		return false
	}
	return true
}

// sweetenLineKey answers a key while something is typed.
func (a app) sweetenLineKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	p := &a.sweeten
	keys := newTargetKeys()
	switch {
	case p.lineTicket != 0:
		return a, nil // being written
	case key.Matches(k, keys.Cancel):
		p.typing, p.told = typingNothing, ""
		return a, nil
	case key.Matches(k, keys.Accept):
		return a.acceptLine()
	}
	p.line, _ = p.line.Update(k)
	p.told = ""
	return a, nil
}

// acceptLine takes what was typed; what cannot be stays on the line with its reason.
func (a app) acceptLine() (tea.Model, tea.Cmd) {
	p := &a.sweeten
	switch text := p.line.Value(); p.typing {
	case typingTarget:
		if err := p.aim(text); err != nil {
			p.tell(words.PlainError(err), true)
			return a, nil
		}
		p.typing, p.told = typingNothing, ""
	case typingPrice:
		price, err := model.ParsePrice(text)
		if err != nil {
			p.tell(words.PlainError(err), true)
			return a, nil
		}
		set := a.shelf.shelf.Settings
		set.Prices = set.Prices.With(p.priced().ID, price)
		p.lineTicket = a.newTicket()
		return a, saveSettings(a.opts.Store, p.lineTicket, set, "the price of "+p.priced().Name()+" is kept")
	case typingPlanName:
		plan := model.Plan{Name: strings.TrimSpace(text), Candidates: p.candidates()}
		if err := plan.Validate(); err != nil {
			p.tell(words.PlainError(err), true)
			return a, nil
		}
		p.lineTicket = a.newTicket()
		return a, keepPlan(a.opts.Store, p.lineTicket, p.batch.ID, plan)
	}
	return a, nil
}

// lineWritten closes the line whose text is on disk.
func (p *sweetenPane) lineWritten() { p.typing, p.told, p.lineTicket = typingNothing, "", 0 }

// lineFailed leaves the text on the line and says why it is not written.
func (p *sweetenPane) lineFailed(why string) {
	p.lineTicket = 0
	p.tell(why, true)
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
	what := dosesText(c.trial.Parts, say)
	said := what + " written down for " + p.row.Vessel.Label + "; u undoes it"
	if len(entries) > 1 {
		said += ", one at a time"
	}
	a.confirm.ask("Stir "+what+" into "+p.row.Vessel.Label+"?", p.cautions(c), func(a *app) tea.Cmd {
		a.sweeten.ticket = a.newTicket()
		return appendEntries(a.opts.Store, a.sweeten.ticket, a.sweeten.batch.ID, now, said, entries...)
	})
	a.enter(onConfirm)
	return a, nil
}

// dosesText says what goes in: 300 g of honey, 150 g of white sugar.
func dosesText(doses []model.Dose, say words.Words) string {
	text := ""
	for i, d := range doses {
		switch {
		case i > 0 && i == len(doses)-1:
			text += " and "
		case i > 0:
			text += ", "
		}
		text += say.Mass(d.Mass) + " of " + d.Sweetener.Name()
	}
	return text
}

// cautions returns what to think of before stirring it in: whether it will start
// again, and whom it can hurt.
func (p sweetenPane) cautions(t *tried) []string {
	var out []string
	if t.trial.Wakes() && !p.state.Pitched.IsZero() {
		verdict := calc.StabilityLive
		if have, err := p.batch.Safeguards(p.state); err == nil {
			if judged, err := have.Assess(p.state, &t.trial, p.opts.Sorbate); err == nil {
				verdict = judged.Verdict
			}
		}
		text := verdictText(verdict)
		if verdict < calc.StabilityLikely {
			text += " Never close it in bottles until it is stable: sealed glass can burst. r says why, and what would stop it."
		}
		out = append(out, text)
	}
	return append(out, t.Cautions()...)
}
