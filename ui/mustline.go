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

// lineOpens answers the keys of the builder that open the line.
func (p *mustPane) lineOpens(k tea.KeyMsg) bool {
	it, isItem := p.item()
	switch {
	case key.Matches(k, p.keys.Add):
		p.startLine(mustTypesStuff, "")
		p.look()
	case key.Matches(k, p.keys.Wish) && p.onNutrient():
		p.startLine(mustTypesNutrient, "")
	case key.Matches(k, p.keys.Wish):
		p.startLine(mustTypesWish, "")
	case key.Matches(k, p.keys.Scale):
		p.startLine(mustTypesScale, "")
	case key.Matches(k, p.keys.Keep):
		p.startLine(mustTypesName, p.recipe.Name)
	case key.Matches(k, p.keys.Feed) && p.onNutrient():
		p.turnSplit()
	case key.Matches(k, p.keys.Feed) && (!isItem || it.Stuff.IsFruit() || it.Stuff.IsAcid()):
		p.tell("only sugar, honey and syrup can be held back and fed", true)
	case key.Matches(k, p.keys.Feed):
		text := ""
		if it.Held > 0 {
			text = p.recipe.Holding(p.at).Text()
		}
		p.startLine(mustTypesHolding, text)
	case key.Matches(k, p.keys.Price) && p.onNutrient():
		p.tell("only what goes into the must has a price here", true)
	case key.Matches(k, p.keys.Price) && !isItem:
		p.tell("water is free here", true)
	case key.Matches(k, p.keys.Price):
		p.startLine(mustTypesPrice, "")
	default:
		return false
	}
	return true
}

func (p *mustPane) startLine(what mustTyped, value string) {
	p.typing, p.told = what, ""
	p.line.SetValue(value)
	p.line.CursorEnd()
	p.line.Focus()
}

// lineKeys returns the keys while something is typed.
func (p mustPane) lineKeys() keyMap {
	if p.typing == mustTypesStuff {
		return newPickKeys()
	}
	if p.typing == mustTypesStart {
		return newTargetKeys().starting()
	}
	return newTargetKeys()
}

// look searches the larder for what is typed.
func (p *mustPane) look() {
	p.found, p.foundAt = p.larder.Matching(p.line.Value()), 0
}

// pickKey answers a key while something is looked for in the larder.
func (p *mustPane) pickKey(k tea.KeyMsg) {
	keys := newPickKeys()
	switch {
	case key.Matches(k, keys.Cancel):
		p.typing, p.told = mustTypesNothing, ""
	case key.Matches(k, keys.Down):
		p.foundAt = max(0, min(p.foundAt+1, len(p.found)-1))
	case key.Matches(k, keys.Up):
		p.foundAt = max(0, p.foundAt-1)
	case key.Matches(k, keys.Take):
		p.pick()
	default:
		p.line, _ = p.line.Update(k)
		p.told = ""
		p.look()
	}
}

// pick puts what was found into the recipe, a coarse step of it to begin with.
func (p *mustPane) pick() {
	if len(p.found) == 0 {
		p.tell("nothing in the handbook is called that", true)
		return
	}
	s := p.found[p.foundAt]
	if s.IsNutrient() {
		p.pickNutrient(s)
		return
	}
	r := p.recipe
	if len(r.Items) == 0 && !p.moved {
		r.Drink = model.DrinkOf(s)
	}
	// Stones stay whole unless somebody decides otherwise: crushed they give poison.
	crushed := s.IsFruit() && s.Fruit.Fruit.HalfTime > 0 && s.Fruit.Group != "stone"
	r = r.Plus(model.RecipeItem{Stuff: s, Crushed: crushed})
	p.at = len(r.Items) - 1
	p.typing, p.told = mustTypesNothing, ""
	p.recipe = r
	p.try(r.With(p.at, p.steps().coarse))
}

// pickNutrient feeds the yeast with it, as much as is missing.
func (p *mustPane) pickNutrient(s model.Stuff) {
	p.typing, p.told = mustTypesNothing, ""
	p.try(p.recipe.Feeding(model.NutrientOf(s.Nutrient)))
	p.at = p.rows() - 1
}

// turnSplit goes to the next way to share the nutrient out.
func (p *mustPane) turnSplit() {
	n := p.recipe.Nutrient
	all := calc.FeedSplits()
	n.Split = all[(slices.Index(all, n.Split)+1)%len(all)]
	p.told = ""
	p.try(p.recipe.Feeding(n))
}

// mustLineKey answers a key while anything else is typed.
func (a app) mustLineKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	p := &a.must
	keys := newTargetKeys()
	switch {
	case p.lineTicket != 0:
		return a, nil // being written
	case key.Matches(k, keys.Cancel):
		p.typing, p.told = mustTypesNothing, ""
		return a, nil
	case key.Matches(k, keys.Accept):
		return a.acceptMustLine()
	}
	p.line, _ = p.line.Update(k)
	p.told = ""
	return a, nil
}

// acceptMustLine takes what was typed; what cannot be stays on the line with its
// reason.
func (a app) acceptMustLine() (tea.Model, tea.Cmd) {
	p := &a.must
	text := strings.TrimSpace(p.line.Value())
	switch p.typing {
	case mustTypesStart:
		r := p.recipe
		r.Name = text
		if err := r.Validate(); err != nil {
			p.tell(words.PlainError(err), true)
			return a, nil
		}
		return a.askStartNamed(text)
	case mustTypesName:
		r := p.recipe
		r.Name = text
		if err := r.Validate(); err != nil {
			p.tell(words.PlainError(err), true)
			return a, nil
		}
		p.recipe.Name = text
		p.lineTicket = a.newTicket()
		return a, keepRecipe(a.opts.Store, p.lineTicket, r)
	case mustTypesPrice:
		it, _ := p.item()
		price, err := model.ParsePrice(text)
		if err != nil {
			p.tell(words.PlainError(err), true)
			return a, nil
		}
		set := a.shelf.shelf.Settings
		set.Prices = set.Prices.With(it.Stuff.ID(), price)
		p.lineTicket = a.newTicket()
		return a, saveSettings(a.opts.Store, p.lineTicket, set, "the price of "+it.Stuff.Name()+" is kept")
	}
	r, err := p.wished(text)
	if err != nil {
		p.tell(words.PlainError(err), true)
		return a, nil
	}
	p.typing, p.told = mustTypesNothing, ""
	p.try(r)
	return a, nil
}

// wished returns the recipe with what was typed of it.
func (p mustPane) wished(text string) (model.Recipe, error) {
	switch p.typing {
	case mustTypesHolding:
		h, err := model.ParseHolding(text)
		if err != nil {
			return p.recipe, err
		}
		return p.recipe.HoldingBack(p.at, h)
	case mustTypesNutrient:
		n, err := p.recipe.Nutrient.Wished(text)
		if err != nil {
			return p.recipe, err
		}
		return p.recipe.Feeding(n).Work()
	case mustTypesScale:
		v, err := p.scaleTo(text)
		if err != nil {
			return p.recipe, err
		}
		return p.recipe.Scaled(v)
	}
	w, err := model.ParseWish(text)
	if err != nil {
		return p.recipe, err
	}
	return p.recipe.Granted(p.at, w)
}

// scaleTo understands a volume; nothing typed is what the vessel has room for.
func (p mustPane) scaleTo(text string) (calc.Litre, error) {
	if text == "" && p.row.Vessel.Capacity > 0 {
		return model.RoomFor(p.row.Vessel), nil
	}
	return model.ParseVolume(text)
}

// mustLineWritten closes the line whose text is on disk.
func (p *mustPane) lineWritten() { p.typing, p.told, p.lineTicket = mustTypesNothing, "", 0 }

// failed leaves everything as it was and says why it is not written.
func (p *mustPane) failed(why string) {
	p.ticket, p.lineTicket = 0, 0
	p.tell(why, true)
}
