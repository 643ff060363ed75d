package ui

import (
	"fmt"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// fizzPane puts bubbles into a batch, on paper: sweeten first, then prime. It works on
// what the planner has on trial, if anything, so that both are judged together.
type fizzPane struct {
	opts   Options
	keys   fizzKeys
	fields []field
	at     int

	row   model.Row
	batch model.Batch
	state model.State

	sweet  *model.Trial // stirred in first, not written down yet; nil: nothing
	plan   model.FizzPlan
	fizz   model.Fizz
	kept   calc.Assessment // whether its yeast would leave it alone
	err    error           // why there is nothing to show
	told   string
	bad    bool
	ticket ticket
}

// The fields of the pane, by place.
const (
	fizzRoute = iota
	fizzInto
	fizzBubbles
	fizzWith
	fizzWarmest
	fizzStore
)

// usualHeadspace is the room for gas in a bottle filled as usual, over the drink's
// volume (notes on carbonation, section 5).
const usualHeadspace = 0.04

// warmDays is how far back a sample's temperature says how warm the drink has been.
const warmDays = 60

func newFizzPane(o Options) fizzPane { return fizzPane{opts: o, keys: newFizzKeys()} }

// open shows the batch in row, with what is on trial stirred in first.
func (p *fizzPane) open(row model.Row, b model.Batch, s model.State, sweet *model.Trial) {
	again := p.batch.ID == b.ID && len(p.fields) > 0
	p.row, p.batch, p.state, p.sweet = row, b, s, sweet
	p.told, p.ticket = "", 0
	if !again {
		p.fields = p.blank()
		p.at = focusOn(p.fields, 0)
	}
	p.work()
}

func (p fizzPane) blank() []field {
	boxes := make([]string, len(p.opts.Containers))
	for i, c := range p.opts.Containers {
		boxes[i] = c.Name
	}
	sugars := p.sugars()
	names := make([]string, len(sugars))
	for i, s := range sugars {
		names[i] = s.Name()
	}
	warmest := "20C"
	if t, ok := p.batch.WarmestSince(warmDays, p.opts.Now()); ok {
		warmest = fmt.Sprintf("%.0fC", float64(t))
	}
	fields := []field{
		fizzRoute:   choiceField("by", model.FizzRoutes()),
		fizzInto:    choiceField("into", boxes),
		fizzBubbles: textField("bubbles", "2.4 volumes of gas, or 4.7g/l", "2.4"),
		fizzWith:    choiceField("with", names),
		fizzWarmest: textField("warmest", "it has been since it fermented", warmest),
		fizzStore:   textField("stands", "at most so warm; of a keg, how cold it is kept", warmRoom),
	}
	for i, n := range names {
		if n == "white sugar" {
			fields[fizzWith].choice = i
		}
	}
	return fields
}

// sugars are the sweeteners that yeast turns into gas.
func (p fizzPane) sugars() []model.Sweetener {
	var out []model.Sweetener
	for _, s := range p.opts.Sweeteners {
		if s.Fermentable() {
			out = append(out, s)
		}
	}
	return out
}

// setBatch takes a fresh read.
func (p *fizzPane) setBatch(b model.Batch, s model.State, err error) {
	if b.ID != p.batch.ID || err != nil || len(p.fields) == 0 {
		return
	}
	p.batch, p.state = b, s
	p.work()
}

// liquid is what is to be closed in: the batch with what is stirred in first.
func (p fizzPane) liquid() calc.Liquid {
	if p.sweet != nil {
		return p.sweet.Liquid
	}
	return p.state.Liquid
}

// work works the plan out from the fields.
func (p *fizzPane) work() {
	if len(p.opts.Containers) == 0 || len(p.sugars()) == 0 {
		p.err = fmt.Errorf("no bottles in the handbook: %w", model.ErrInvalid)
		return
	}
	if p.plan, p.err = p.typed(); p.err == nil {
		p.fizz, p.err = p.plan.Work(p.liquid(), p.batch.Drink)
	}
	if p.err != nil {
		return
	}
	have, err := p.batch.Safeguards(p.state)
	if err == nil {
		p.kept, err = p.plan.Assess(have, p.state, p.liquid(), p.fizz, p.opts.Sorbate)
	}
	p.err = err
}

// judged is the judgement of the container by what is to be expected.
func (p fizzPane) judged() calc.Judgement {
	if _, held := p.kept.Held(); held && p.plan.Route != model.ByKeg {
		return p.fizz.Quiet
	}
	return p.fizz.Judgement
}

func (p fizzPane) typed() (model.FizzPlan, error) {
	f := p.fields
	plan := model.FizzPlan{
		Route:     model.FizzRoutes()[f[fizzRoute].choice],
		Container: p.opts.Containers[f[fizzInto].choice],
		With:      p.sugars()[f[fizzWith].choice],
		Headspace: usualHeadspace,
	}
	var err error
	if plan.Target, err = model.ParseCarbonation(f[fizzBubbles].value()); err != nil {
		return plan, err
	}
	if plan.Warmest, err = model.ParseTemperature(f[fizzWarmest].value()); err != nil {
		return plan, err
	}
	plan.Store, err = model.ParseTemperature(f[fizzStore].value())
	return plan, err
}

func (p *fizzPane) tell(text string, bad bool) { p.told, p.bad = text, bad }
