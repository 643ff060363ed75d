package ui

import (
	"slices"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// mustPane builds a must on paper: every key works the whole recipe out again. Nothing
// is written until it is kept under a name or a batch is started from it. What was
// built stays until something else takes its place, so that another vessel can be
// chosen for it.
type mustPane struct {
	opts     Options
	keys     mustKeys
	larder   model.Larder
	settings model.Settings
	row      model.Row // the vessel it is meant for; without one in an empty cellar

	recipe  model.Recipe // worked out, unless err
	figures model.RecipeFigures
	err     error // why there is nothing to show
	at      int   // the ingredient that the keys move; after the last come water and the nutrient
	moved   bool  // the person has chosen a drink

	line    textinput.Model // what is typed: an amount, a name, letters to look for
	typing  mustTyped
	found   []model.Stuff // in the larder, by the letters typed
	foundAt int

	told       string
	bad        bool
	ticket     ticket // of a batch being started
	lineTicket ticket // of what was typed, being written
}

// mustTyped says what the line in the builder is for.
type mustTyped uint8

const (
	mustTypesNothing mustTyped = iota
	mustTypesStuff             // letters to look for in the larder
	mustTypesWish
	mustTypesHolding
	mustTypesNutrient
	mustTypesScale
	mustTypesPrice
	mustTypesName  // to keep it under
	mustTypesStart // the name of the batch
)

func newMustPane(o Options) mustPane {
	in := textinput.New()
	in.Prompt = ""
	in.CharLimit = 60
	in.Cursor.SetMode(cursor.CursorStatic)
	return mustPane{opts: o, keys: newMustKeys(), line: in, larder: o.larder()}
}

// usualMust is the volume that a must begins with where there is no vessel to fill.
const usualMust calc.Litre = 4.5

// open turns to the vessel in row. An empty recipe is to fill it, with room for foam.
func (p *mustPane) open(row model.Row, set model.Settings) {
	p.row, p.settings = row, set
	p.typing, p.told, p.ticket, p.lineTicket = mustTypesNothing, "", 0, 0
	if len(p.recipe.Items) == 0 {
		p.recipe = model.Recipe{Drink: model.Mead, Fill: usualMust}
		p.at, p.moved = 0, false
		if row.Vessel.Capacity > 0 {
			p.recipe.Fill = calc.Litre(toTenth(float64(model.RoomFor(row.Vessel))))
		}
	}
	p.try(p.recipe)
}

// toTenth rounds to a figure that reads well: 12.7 for 12.75.
func toTenth(x float64) float64 {
	if x < 1 {
		return x
	}
	return float64(int(x*10)) / 10
}

// try works a recipe out and shows it. One that cannot be stays on screen with its
// reason, as the person left it.
func (p *mustPane) try(r model.Recipe) {
	p.recipe, p.err = r.Work()
	if p.err == nil {
		p.figures, p.err = p.recipe.Figures()
	}
	p.at = max(0, min(p.at, p.rows()-1))
}

// setLarder takes the tables of the handbook after they changed. What was put in from
// the tables before follows them; what an older recipe holds stays what it was.
func (p *mustPane) setLarder(l model.Larder) {
	l.Acids, l.Carbonates, l.Nutrients = p.larder.Acids, p.larder.Carbonates, p.larder.Nutrients // nobody has own rows of these
	before, now := p.larder.All(), l.All()
	r := p.recipe
	r.Items = slices.Clone(r.Items)
	for i := range r.Items {
		it := &r.Items[i].Stuff
		is := func(s model.Stuff) bool { return s.ID() == it.ID() && s.IsFruit() == it.IsFruit() && !it.IsAcid() }
		was, to := slices.IndexFunc(before, is), slices.IndexFunc(now, is)
		if was >= 0 && to >= 0 && before[was].Sweetener.Ingredient == it.Sweetener.Ingredient && before[was].Fruit.Fruit == it.Fruit.Fruit {
			*it = now[to]
		}
	}
	p.larder = l
	if len(r.Items) > 0 {
		p.try(r)
	}
}

// take shows a recipe that was kept.
func (p *mustPane) take(r model.Recipe) {
	p.at, p.moved = 0, true
	p.try(r.Known(p.larder))
	p.tell(r.Name+", as it was kept", false)
}

func (p *mustPane) tell(text string, bad bool) { p.told, p.bad = text, bad }

// item returns the ingredient that the keys move; ok is false on water.
func (p mustPane) item() (model.RecipeItem, bool) {
	if p.at < len(p.recipe.Items) {
		return p.recipe.Items[p.at], true
	}
	return model.RecipeItem{}, false
}

// volume is what steps are measured by.
func (p mustPane) volume() float64 {
	switch {
	case p.err == nil && p.figures.Whole.Volume > 0:
		return float64(p.figures.Whole.Volume)
	case p.recipe.Fill > 0:
		return float64(p.recipe.Fill)
	}
	return float64(usualMust)
}

// steps returns how much one key press adds: 5 and 50 g/L of what is sweet, which is two
// points and twenty, twice that of fruit and water, and little of what a small scale
// weighs: a tenth of a gram a litre of acid, which moves a fruit must by 0.01 of pH, and
// half of that of a nutrient.
func (p mustPane) steps() steps {
	perLitre := 10.0
	switch it, ok := p.item(); {
	case p.onNutrient():
		perLitre = 0.05
	case ok && it.Stuff.IsAcid():
		perLitre = 0.1
	case ok && !it.Stuff.IsFruit() && it.Stuff.Sweetener.Intense():
		perLitre = 5 / float64(it.Stuff.Sweetener.Ingredient.PerGram.Sweetness())
	case ok && !it.Stuff.IsFruit():
		perLitre = 5
	}
	return stepsOf(perLitre, p.volume())
}

// move changes the amount of the ingredient, or the volume that water fills.
func (p *mustPane) move(by calc.Gram) {
	if _, ok := p.item(); !ok && !p.onNutrient() && p.recipe.Fill > 0 {
		p.told = ""
		p.try(p.recipe.FilledTo(max(0.1, p.recipe.Fill+calc.Litre(by/1000))))
		return
	}
	p.setAmount(p.steps().from(p.amount(), by))
}

// setAmount gives the ingredient, or the nutrient, another amount.
func (p *mustPane) setAmount(mass calc.Gram) {
	p.told = ""
	if p.onNutrient() {
		n := p.recipe.Nutrient
		n.Mass, n.Missing = mass, false
		p.try(p.recipe.Feeding(n))
		return
	}
	p.try(p.recipe.With(p.at, mass))
}

// amount is how much there is of the ingredient.
func (p mustPane) amount() calc.Gram {
	if p.onNutrient() {
		return p.recipe.Nutrient.Mass
	}
	if it, ok := p.item(); ok {
		return it.Mass
	}
	return p.recipe.Water
}

// rows counts what the keys can go to: the ingredients, water, and the nutrient if there
// is one.
func (p mustPane) rows() int {
	if p.recipe.Nutrient.Set() {
		return len(p.recipe.Items) + 2
	}
	return len(p.recipe.Items) + 1
}

// onNutrient reports whether the keys move the nutrient.
func (p mustPane) onNutrient() bool { return p.at > len(p.recipe.Items) }

// choose goes to another ingredient.
func (p *mustPane) choose(by int) {
	p.told = ""
	p.at = max(0, min(p.at+by, p.rows()-1))
}

// change gives the ingredient another shape; needs says what it must be for that.
func (p *mustPane) change(needs string, can func(model.RecipeItem) bool, how func(*model.RecipeItem)) {
	it, ok := p.item()
	if !ok || !can(it) {
		p.tell(needs, true)
		return
	}
	p.told = ""
	r := p.recipe
	r.Items = slices.Clone(r.Items)
	how(&r.Items[p.at])
	p.try(r)
}

// drop takes the ingredient away.
func (p *mustPane) drop() {
	if p.onNutrient() {
		p.told = ""
		p.try(p.recipe.Feeding(model.RecipeNutrient{}))
		return
	}
	if _, ok := p.item(); !ok {
		p.tell("water stays; 0 takes it to nothing", true)
		return
	}
	p.told = ""
	p.try(p.recipe.Without(p.at))
}

// turnYeast and turnDrink go to the next that can be chosen; no yeast is one of them.
func (p *mustPane) turnYeast() {
	all := append([]model.YeastGroup{""}, model.YeastGroups()...)
	r := p.recipe
	r.Yeast, r.Tolerance = all[(slices.Index(all, r.Yeast)+1)%len(all)], 0
	p.told = ""
	p.try(r)
}

func (p *mustPane) turnDrink() {
	all := model.Drinks()
	r := p.recipe
	r.Drink = all[(slices.Index(all, r.Drink)+1)%len(all)]
	p.told, p.moved = "", true
	p.try(r)
}

// openMust shows the builder for the vessel that the shelf points at.
func (a app) openMust() (tea.Model, tea.Cmd) {
	row, _ := a.shelf.selected()
	a.must.open(row, a.shelf.shelf.Settings)
	a.status = status{}
	a.enter(onMust)
	return a, nil
}

// mustKey answers a key in the builder.
func (a app) mustKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	p := &a.must
	switch {
	case p.ticket != 0:
		return a, nil // a batch is being started
	case p.typing == mustTypesStuff:
		p.pickKey(k)
		return a, nil
	case p.typing != mustTypesNothing:
		return a.mustLineKey(k)
	case p.moveKey(k), p.lineOpens(k):
		return a, nil
	}
	switch {
	case key.Matches(k, p.keys.Leave):
		a.leave()
	case key.Matches(k, p.keys.Help):
		a.help(p.keys)
	case key.Matches(k, p.keys.Recipes):
		a.recipes.open(p.row)
		a.enter(onRecipes)
		return a, loadRecipes(a.opts.Store)
	case key.Matches(k, p.keys.Start):
		return a.askStart()
	}
	return a, nil
}

// moveKey answers the keys that only change what is being built.
func (p *mustPane) moveKey(k tea.KeyMsg) bool {
	if by, ok := p.keys.by(k, p.steps()); ok {
		p.move(by)
		return true
	}
	switch {
	case key.Matches(k, p.keys.Next):
		p.choose(+1)
	case key.Matches(k, p.keys.Prev):
		p.choose(-1)
	case key.Matches(k, p.keys.Zero):
		p.setAmount(0)
	case key.Matches(k, p.keys.Drop):
		p.drop()
	case key.Matches(k, p.keys.Crush):
		p.change("only fruit is crushed", func(i model.RecipeItem) bool { return i.Stuff.IsFruit() && i.Stuff.Fruit.Fruit.HalfTime > 0 },
			func(i *model.RecipeItem) { i.Crushed = !i.Crushed })
	case key.Matches(k, p.keys.Prepare):
		p.change("nothing of it is thrown away", func(i model.RecipeItem) bool { return i.Stuff.IsFruit() && i.Stuff.Fruit.Fruit.Refuse > 0 },
			func(i *model.RecipeItem) { i.Prepared = !i.Prepared })
	case key.Matches(k, p.keys.Yeast):
		p.turnYeast()
	case key.Matches(k, p.keys.Drink):
		p.turnDrink()
	default:
		return false
	}
	return true
}
