package ui

import (
	"math"
	"slices"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// steps returns how much one key press adds: half a gram a litre and ten times that,
// and of intense sweeteners as much less as they are stronger.
func (p sweetenPane) steps() steps {
	perLitre := 0.5
	if c := p.current(); c != nil && c.Intense() {
		if i, err := c.Ingredient(); err == nil {
			perLitre /= float64(i.PerGram.Sweetness())
		}
	}
	return stepsOf(perLitre, float64(p.state.Figures.Volume))
}

// move changes the amount, never below nothing; from then on it is the amount that
// is kept and no target.
func (p *sweetenPane) move(by calc.Gram) {
	steps := p.steps()
	p.change(func(t *tried) {
		mass := calc.Gram(0)
		if t.err == nil {
			mass = steps.from(t.trial.Mass, by)
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
