package ui

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

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
	if by, ok := p.keys.by(k, p.steps()); ok {
		p.move(by)
		return true
	}
	switch {
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
