package model

import (
	"errors"
	"fmt"
	"math"
	"time"

	"cellar.local/glassrow/calc"
)

// State is what a batch is at a moment, worked out from its journal.
type State struct {
	Started time.Time
	Pitched time.Time // zero: no yeast yet
	Vessel  VesselID  // zero: none, all bottled or poured away
	Liquid  calc.Liquid
	Figures calc.Figures

	Original    calc.SG           // gravity of the must
	Strength    calc.PercentVol   // now
	PlusMinus   calc.PercentVol   // half-width of the likely range of Strength
	Tolerance   calc.PercentVol   // of the yeast; 0: no yeast yet
	SugarPM     calc.GramPerLitre // half-width of the likely range of the fermentable sugar
	Unexplained calc.GramPerLitre // extract in the last reading that nothing explains

	Curve   []Point // gravity over time
	Marks   []Mark  // events worth showing on a chart
	Last    Entry   // the last reading with a gravity; ID 0: none
	Bottles int

	Standing Standing
	Evidence []string // why that standing, in plain words
}

// Point is a gravity at a time.
type Point struct {
	At       time.Time
	SG       calc.SG // at 20/20 °C
	Entry    EntryID
	Computed bool // worked out after an addition, not read
}

// Mark is an event on the time axis of a chart.
type Mark struct {
	At    time.Time
	Kind  Kind
	Entry EntryID
}

// Replay works out the state of the batch at a moment: entries that happened
// later do not count. A journal whose must is missing or whose parts cannot be
// gives an error that names the entry.
func Replay(b Batch, until time.Time) (State, error) {
	p := player{rule: b.Drink.Fermentation(), drink: b.Drink}
	for _, e := range b.Live() {
		if e.At.After(until) {
			break
		}
		if err := p.play(e); err != nil {
			return p.state, fmt.Errorf("entry %d, %s of %s: %w", e.ID, e.Body.Kind(), e.At.Format("2 Jan 2006"), err)
		}
	}
	return p.finish()
}

// player walks a journal.
type player struct {
	rule  calc.Fermentation
	drink Drink
	state State

	// anchor is the liquid as it was made or last added to, before what the
	// readings since say was fermented. Each reading is inferred afresh from it,
	// so one that is a point too high takes back a little of the fermentation
	// instead of leaving extract unexplained.
	anchor calc.Liquid
}

func (p *player) play(e Entry) error {
	s := &p.state
	switch body := e.Body.(type) {
	case Must:
		return p.must(e, body)
	case Pitch:
		if s.Pitched.IsZero() {
			s.Pitched = e.At
		}
		s.Tolerance = max(s.Tolerance, body.tolerance())
		p.mark(e)
	case Reading:
		if body.HasGravity() {
			return p.reading(e, body)
		}
	case Addition:
		s.Liquid = s.Liquid.Plus(body.Portion.Liquid())
		p.anchor = s.Liquid
		p.mark(e)
		return p.computed(e)
	case Rack:
		s.Vessel = body.To
		p.mark(e)
		return p.keep(body.Volume)
	case Bottle:
		s.Bottles += body.Count
		p.mark(e)
		return p.bottle(body)
	}
	return nil
}

func (p Pitch) tolerance() calc.PercentVol {
	if p.Tolerance > 0 {
		return p.Tolerance
	}
	return p.Yeast.Tolerance()
}

func (p *player) must(e Entry, m Must) error {
	liquid, err := m.Liquid(p.drink)
	if err != nil {
		return err
	}
	s := &p.state
	s.Started, s.Vessel, s.Liquid, p.anchor = e.At, m.Vessel, liquid, liquid
	if s.Original, err = liquid.SG(); err != nil {
		return err
	}
	s.Curve = append(s.Curve, Point{At: e.At, SG: s.Original, Entry: e.ID, Computed: m.Gravity == 0})
	return nil
}

// Liquid returns the must as a liquid: its ingredients made up with water to
// the volume or, when a gravity was read, the extract of that gravity, shared
// out as in the ingredients or as is typical of the drink.
func (m Must) Liquid(d Drink) (calc.Liquid, error) {
	var poured calc.Liquid
	for _, p := range m.Ingredients {
		poured = poured.Plus(p.Liquid())
	}
	if m.Gravity != 0 {
		solids := poured
		if poured.Extract() == 0 {
			solids = d.TypicalSolids()
		}
		return calc.LiquidOf(m.Volume, m.Gravity, 0, solids)
	}
	return calc.MadeUpTo(poured, m.Volume)
}

// reading infers from a gravity how far the yeast has come. Before yeast is
// pitched it corrects the must instead.
func (p *player) reading(e Entry, r Reading) error {
	s := &p.state
	abv, err := s.Liquid.Strength()
	if err != nil {
		return err
	}
	sg, err := r.Corrected(abv)
	if err != nil {
		return err
	}
	s.Last = e
	s.Curve = append(s.Curve, Point{At: e.At, SG: sg, Entry: e.ID})
	if s.Pitched.IsZero() && s.Started.Before(e.At) {
		return p.correctMust(sg)
	}
	got, err := p.rule.ToGravity(p.anchor, sg)
	if err != nil {
		return err
	}
	s.Liquid, s.Unexplained = got.Liquid, got.Unexplained
	return nil
}

// correctMust takes a reading made before there was yeast for the gravity of the
// must.
func (p *player) correctMust(sg calc.SG) error {
	v, err := p.anchor.Volume()
	if err != nil {
		return err
	}
	solids := p.anchor.Solids()
	if solids.Mass() == 0 {
		solids = p.drink.TypicalSolids()
	}
	l, err := calc.LiquidOf(v, max(sg, 1), 0, solids)
	if err != nil {
		return err
	}
	p.state.Liquid, p.anchor, p.state.Original = l, l, sg
	return nil
}

// computed adds the gravity after an addition to the curve.
func (p *player) computed(e Entry) error {
	sg, err := p.state.Liquid.SG()
	if err != nil {
		return err
	}
	p.state.Curve = append(p.state.Curve, Point{At: e.At, SG: sg, Entry: e.ID, Computed: true})
	return nil
}

// keep leaves volume litres of the batch; zero leaves all.
func (p *player) keep(volume calc.Litre) error {
	if volume == 0 {
		return nil
	}
	now, err := p.state.Liquid.Volume()
	if err != nil {
		return err
	}
	if volume > now*1.02 {
		return fmt.Errorf("%.4g L out of %.4g L: %w", float64(volume), float64(now), ErrInvalid)
	}
	part := math.Min(1, float64(volume/now))
	p.state.Liquid, p.anchor = p.state.Liquid.Scaled(part), p.anchor.Scaled(part)
	return nil
}

func (p *player) bottle(b Bottle) error {
	drawn := calc.Litre(float64(b.Count)) * b.Size
	now, err := p.state.Liquid.Volume()
	if err != nil {
		return err
	}
	if drawn > now*1.05 {
		return fmt.Errorf("%d bottles hold %.4g L, the vessel %.4g L: %w", b.Count, float64(drawn), float64(now), ErrInvalid)
	}
	if !b.Rest || drawn >= now {
		p.state.Vessel = 0
		return nil
	}
	return p.keep(now - drawn)
}

func (p *player) mark(e Entry) {
	p.state.Marks = append(p.state.Marks, Mark{At: e.At, Kind: e.Body.Kind(), Entry: e.ID})
}

// errNoMust is what is wrong with a batch that begins with nothing.
var errNoMust = errors.New("the journal has no must, so nothing can be worked out")

func (p *player) finish() (State, error) {
	s := &p.state
	if s.Started.IsZero() {
		return *s, errNoMust
	}
	f, err := s.Liquid.Figures()
	if err != nil {
		return *s, err
	}
	s.Figures, s.Strength = f, f.Strength
	s.PlusMinus = calc.StrengthPlusMinus(s.Strength, calc.HydrometerPlusMinus, calc.HydrometerPlusMinus)
	if extract, err := calc.ExtractOfSG(s.Original); err == nil {
		s.SugarPM = calc.SugarPlusMinus(extract, calc.HydrometerPlusMinus, calc.HydrometerPlusMinus)
	}
	s.Standing, s.Evidence = judge(*s)
	return *s, nil
}

// SG returns the gravity to show: the last one read or computed.
func (s State) SG() calc.SG {
	if len(s.Curve) == 0 {
		return 0
	}
	return s.Curve[len(s.Curve)-1].SG
}
