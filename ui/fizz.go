package ui

import (
	"fmt"
	"strings"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
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
	err    error // why there is nothing to show
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

// hazard says in plain words what can burst; empty when nothing is near it.
func (p fizzPane) hazard(say words.Words) string {
	if p.err != nil {
		return ""
	}
	f, still := p.fizz, p.plan.Container.Still
	box, _, _ := strings.Cut(p.plan.Container.Name, ",")
	most := say.Pressure(f.Warm.Highest())
	switch {
	case p.plan.Route == model.ByKeg && f.Judgement.Verdict == calc.Danger:
		return fmt.Sprintf("DANGER: warm, a %s would be at %s. Keep it cold, or take fewer bubbles, and see that its valve works.", box, most)
	case p.plan.Route == model.ByKeg && still:
		return fmt.Sprintf("DANGER: gas under pressure belongs in a keg with a working valve. A %s bursts.", box)
	case p.plan.Route == model.ByKeg:
		return ""
	case still && f.Judgement.Verdict == calc.Danger:
		return fmt.Sprintf("DANGER: DO NOT CLOSE THIS IN. Living yeast and sugar in a closed %s make up to %s. It was made for no pressure at all: it bursts, and the glass flies. Take bottles made for pressure, or stabilise it and leave it still.", box, most)
	case p.plan.Route == model.ByHeat && f.InBath.Verdict == calc.Danger:
		return fmt.Sprintf("DANGER: in the bath the bottles would be at %s, more than a %s may hold. Hot bottles burst in the hand. Take fewer bubbles or stronger bottles, or go by priming.", say.Pressure(f.Bath.Highest()), box)
	case p.plan.Route == model.ByHeat && f.Judgement.Verdict == calc.Danger:
		return fmt.Sprintf("DANGER if forgotten: unheated, all of the sugar would make %s, and a %s bursts. Open the test bottle every day, heat every bottle the day it is ready, lids on the pot, goggles and gloves on.", most, box)
	case f.Judgement.Verdict == calc.Danger:
		return fmt.Sprintf("DANGER: with %s of sugar in it already it can reach %.1f volumes and %s, more than a %s may hold. It can burst. Let it ferment out, or sweeten with what yeast leaves.",
			say.PerLitre(f.Held), float64(f.Warm.Volumes()), most, box)
	case f.Judgement.Verdict == calc.Caution:
		return fmt.Sprintf("Near what a %s may hold: keep it cool, in a closed crate, and open one now and then.", box)
	}
	return ""
}
