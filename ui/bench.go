package ui

import (
	"fmt"
	"strconv"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// benchPane is the row of small glasses: it lays out a ladder of doses, writes it
// down when they are poured, takes the marks, and says what was liked best.
type benchPane struct {
	opts   Options
	keys   benchKeys
	stage  benchStage
	fields []field
	at     int

	row   model.Row
	batch model.Batch
	state model.State

	poured  model.Entry     // the bench on show, once it is written down
	tasted  model.Entry     // its tasting
	glasses []model.GlassOf // worked out; nil when that failed
	err     error           // why

	asCard bool
	told   string
	bad    bool
	ticket ticket
}

// benchStage is how far a bench has come.
type benchStage uint8

const (
	benchPlanned benchStage = iota // its size is being chosen
	benchPoured                    // the glasses stand there; marks are typed
	benchTold                      // the marks are written down
)

// The fields of a bench that is being planned, by place.
const (
	benchWith = iota
	benchAgainst
	benchGlass
	benchGlasses
	benchFrom
	benchTo
	benchBy
	benchSyrup
	benchOrder
)

const (
	againstNothing = "nothing"
	bySyrup        = "syrup and syringe"
	inBlindOrder   = "blind, under letters"
)

func newBenchPane(o Options) benchPane { return benchPane{opts: o, keys: newBenchKeys()} }

// open shows the bench of the batch in row that is not finished, or the last one, or
// begins a new one with the sweetener.
func (p *benchPane) open(row model.Row, b model.Batch, s model.State, with model.Sweetener) {
	again := p.batch.ID == b.ID
	p.row, p.batch, p.state = row, b, s
	p.asCard, p.told, p.ticket = false, "", 0
	if again && len(p.fields) > 0 && p.stage != benchTold {
		p.refresh()
		return // what was typed is still there
	}
	p.poured, p.tasted = model.Entry{}, model.Entry{}
	if bench, _, ok := b.LastBench(); ok {
		p.show(bench)
		return
	}
	p.plan(with)
}

// plan begins a new bench.
func (p *benchPane) plan(with model.Sweetener) {
	names := make([]string, len(p.opts.Sweeteners))
	for i, s := range p.opts.Sweeteners {
		names[i] = s.Name()
	}
	p.stage, p.poured, p.tasted = benchPlanned, model.Entry{}, model.Entry{}
	p.fields = []field{
		benchWith:    choiceField("with", names),
		benchAgainst: choiceField("against", append([]string{againstNothing}, names...)),
		benchGlass:   textField("glass", "of the drink, 50mL", "50mL"),
		benchGlasses: textField("glasses", "2 to 12", "5"),
		benchFrom:    textField("from", "as it is, or like the next", "as it is"),
		benchTo:      textField("to", "1.020, 25g/l, taste 40, medium", fmt.Sprintf("taste %.0f", float64(p.state.Figures.Sweetness)+40)),
		benchBy:      choiceField("dosed by", []string{"scale", bySyrup}),
		benchSyrup:   textField("syrup", "grams of the sweetener in a litre of it; empty: what suits", ""),
		benchOrder:   choiceField("order", []string{"as they grow sweeter", inBlindOrder}),
	}
	for i, n := range names {
		if n == with.Name() {
			p.fields[benchWith].choice = i
		}
	}
	p.focusField(0)
	p.refresh()
}

// show turns to a bench that is written down.
func (p *benchPane) show(e model.Entry) {
	p.poured = e
	b := e.Body.(model.Bench)
	p.fields = make([]field, len(b.Poured))
	for place := range p.fields {
		p.fields[place] = textField(b.PlaceName(place), "0 to 10, then words: 7 a little thick", "")
	}
	p.focusField(0)
	p.refresh()
}

// refresh works the glasses out for the batch as it is.
func (p *benchPane) refresh() {
	p.glasses, p.err = nil, nil
	if p.poured.ID == 0 {
		p.stage = benchPlanned
		var b model.Bench
		if b, p.err = p.bench(1); p.err == nil {
			p.glasses, p.err = b.Glasses(p.state.Liquid, p.state.Liquid)
		}
		return
	}
	_, tasted, _ := p.batch.LastBench()
	p.tasted = tasted
	p.stage = benchPoured
	if tasted.ID != 0 {
		p.stage = benchTold
	}
	before, err := p.batch.Before(p.poured.ID)
	if err != nil {
		p.err = err
		return
	}
	p.glasses, p.err = p.poured.Body.(model.Bench).Glasses(before.Liquid, p.state.Liquid)
}

// setBatch takes a fresh read.
func (p *benchPane) setBatch(b model.Batch, s model.State, err error) {
	if b.ID != p.batch.ID || err != nil || len(p.fields) == 0 {
		return
	}
	p.batch, p.state = b, s
	bench, _, ok := b.LastBench()
	switch {
	case ok && p.ticket != 0 && bench.ID != p.poured.ID:
		p.show(bench) // the one just written down
	case !ok && p.poured.ID != 0: // undone
		p.plan(p.with())
	case ok && p.poured.ID != 0 && bench.ID != p.poured.ID:
		p.show(bench)
	default:
		p.refresh()
	}
}

// with returns the sweetener chosen, or the one that was poured.
func (p benchPane) with() model.Sweetener {
	name := ""
	switch b, poured := p.poured.Body.(model.Bench); {
	case poured && len(b.Poured) > 0:
		name = b.Poured[0].Ingredient.Name
	case p.stage == benchPlanned && len(p.fields) > benchWith:
		name = p.fields[benchWith].value()
	}
	return p.sweetenerNamed(name)
}

func (p benchPane) sweetenerNamed(name string) model.Sweetener {
	for _, s := range p.opts.Sweeteners {
		if s.Name() == name {
			return s
		}
	}
	return model.Sweetener{}
}

// bench returns what the fields plan, with a seed for the blind order.
func (p benchPane) bench(seed uint64) (model.Bench, error) {
	f := p.fields
	plan := model.BenchPlan{With: p.sweetenerNamed(f[benchWith].value()), Against: p.sweetenerNamed(f[benchAgainst].value())}
	var err error
	if plan.Glass, err = model.ParseVolume(f[benchGlass].value()); err != nil {
		return model.Bench{}, err
	}
	if plan.Glasses, err = strconv.Atoi(f[benchGlasses].value()); err != nil || plan.Glasses < 2 || plan.Glasses > 12 {
		return model.Bench{}, fmt.Errorf("number of glasses %q is not understood; write 2 to 12: %w", f[benchGlasses].value(), model.ErrInvalid)
	}
	if err = plan.ParseEnds(f[benchFrom].value(), f[benchTo].value(), p.state); err != nil {
		return model.Bench{}, err
	}
	if f[benchBy].value() == bySyrup {
		if err = plan.ParseSyrup(f[benchSyrup].value()); err != nil {
			return model.Bench{}, err
		}
	}
	if f[benchOrder].value() == inBlindOrder {
		plan.Seed = max(1, seed)
	}
	return plan.Pour(p.state.Liquid)
}

func (p *benchPane) focusField(i int) { p.at = focusOn(p.fields, i) }

// tasting returns the marks as typed, in the order of the ladder.
func (p benchPane) tasting() (model.Tasting, error) {
	b := p.poured.Body.(model.Bench)
	said := make([]string, len(b.Poured))
	for place := range said {
		said[place] = p.fields[place].value()
	}
	return model.TastingOf(p.poured.ID, b, said)
}

// winners are the sweeteners tasted as candidates for the planner, the best liked
// first.
func (p benchPane) winners() []model.Candidate {
	t, told := p.tasted.Body.(model.Tasting)
	b, poured := p.poured.Body.(model.Bench)
	if !told || !poured {
		return nil
	}
	var out []model.Candidate
	for _, l := range t.Likings(b, p.glasses) {
		sw := p.sweetenerNamed(l.Ingredient.Name)
		if sw.ID == "" {
			sw = model.Sweetener{ID: l.Ingredient.Name, Ingredient: l.Ingredient}
		}
		c := model.Candidate{First: sw, Share: 0.5, Aim: model.AimAtSweetness(calc.GramPerLitre(l.Preference.Best))}
		if !l.Preference.Fitted && b.Syrup == 0 { // a glass as it stood: its dose, scaled
			for _, g := range p.glasses {
				if g.Portion.Ingredient.Name == l.Ingredient.Name && float64(g.After.Sweetness) == l.Preference.Best {
					c.Aim = model.Aim{Mass: g.Vessel}
				}
			}
		}
		out = append(out, c)
	}
	return out[:min(len(out), model.MostCandidates)]
}

func (p *benchPane) tell(text string, bad bool) { p.told, p.bad = text, bad }

// failed keeps everything typed and says why nothing was written.
func (p *benchPane) failed(why string) {
	p.ticket = 0
	p.tell(why, true)
}

// written goes on to the next stage.
func (p *benchPane) written() {
	p.ticket = 0
	p.told = ""
	if p.stage == benchPoured {
		p.tell("poured and written down; type what you think of each glass", false)
	}
}
