package model

import (
	"fmt"
	"math"
	"strings"
	"time"

	"cellar.local/glassrow/calc"
)

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

	// slow is the part of a mead's maltose that yeast is not sure to eat.
	slow calc.Gram

	pitchComes bool        // there is a pitch in the journal
	altered    bool        // something that changes gravity was added after the pitch
	solids     calc.Liquid // what the must was made of

	// For the scale; see weigh.go.
	exact calc.Gram     // of the scale
	since *weighedStart // what weighings are held against; nil: none
	seen  time.Time     // when the gravity was known last
	lees  calc.Gram     // yeast in the vessel from before the anchor
	yeast calc.Gram     // made since the anchor, less what was left behind

	// Of a device's gravities, between which little changes: the last that the liquid
	// was worked out from, and the strength of a liquid.
	inferred calc.SG
	liquidOf calc.Liquid
	abv      calc.PercentVol

	// What fruit gave since the last point of the curve.
	juicePoints float64
	juiceSugar  calc.Gram
}

func (p *player) play(e Entry) error {
	s := &p.state
	if err := p.inOrder(e); err != nil {
		return err
	}
	s.lastEntry = e.At
	if touches(e.Body) {
		if err := p.soak(e.At); err != nil {
			return err
		}
	}
	switch body := e.Body.(type) {
	case Must:
		return p.must(e, body)
	case Note:
		s.nutrients = s.nutrients || mentionsNutrients(body.Text)
	case Pitch:
		if s.Pitched.IsZero() {
			if err := p.computed(e); err != nil {
				return err
			}
			s.Pitched, p.seen = e.At, e.At
		}
		s.unpitched = false
		s.Tolerance = max(s.Tolerance, body.tolerance())
		p.mark(e)
	case Reading:
		p.feel(e, body)
		return p.look(e, body)
	case Stabilise:
		s.stabilised, s.stabilisedBy = e.At, s.stabilisedBy.and(body)
		p.weighsMore(body.Sulfite + body.Sorbate)
		p.mark(e)
	case Addition:
		p.mark(e)
		return p.addition(e, body)
	case Fruited:
		p.mark(e)
		return p.putsFruit(e, body)
	case Press:
		p.mark(e)
		return p.takesFruitOut(e, body.Volume)
	case Rack: // which leaves the fruit behind, and the lees
		s.Vessel, s.racked = body.To, e.At
		p.mark(e)
		if err := p.takesFruitOut(e, body.Volume); err != nil {
			return err
		}
		p.lees = -p.yeast
		p.unweigh()
	case Bench:
		return p.draw(body.Drawn())
	case Bottle:
		s.Bottles += body.Count
		p.mark(e)
		return p.bottle(e, body)
	default:
		return p.playLife(e)
	}
	return nil
}

// look takes what was seen of the drink: its level first, for the rest is reckoned with
// what is there.
func (p *player) look(e Entry, r Reading) error {
	if r.Level != 0 {
		if err := p.level(e, r.Level); err != nil {
			return err
		}
	}
	if r.HasGravity() {
		if err := p.reading(e, r); err != nil {
			return err
		}
		p.seen = e.At
		p.weighedBefore(e.At)
	}
	if r.Mass != 0 {
		return p.weigh(e, r)
	}
	return nil
}

// inOrder refuses an entry that what came before makes impossible.
func (p *player) inOrder(e Entry) error {
	begun := !p.state.Started.IsZero()
	switch e.Body.(type) {
	case nil:
		return fmt.Errorf("it says nothing: %w", ErrInvalid)
	case Note, Tasting, Reminder, Tick, Distrust:
		return nil
	case Must:
		if begun {
			return fmt.Errorf("the batch has a must already; strike that out first: %w", ErrInvalid)
		}
		return nil
	}
	if begun && p.state.Vessel == 0 && inVessel(e.Body) {
		switch {
		case p.state.gone:
			return fmt.Errorf("all of it was drawn off before: %w", ErrInvalid)
		case p.state.Bottles > 0:
			return fmt.Errorf("all of it was bottled before: %w", ErrInvalid)
		}
	}
	if !begun {
		return fmt.Errorf("it lies before the must: %w", ErrInvalid)
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
	s.Started, s.Vessel, s.Liquid, p.anchor, p.slow = e.At, m.Vessel, liquid, liquid, p.slowIn(liquid)
	if s.Original, err = liquid.SG(); err != nil {
		return err
	}
	p.solids = liquid.Solids()
	s.steeped = e.At
	for _, f := range m.Fruit {
		s.steeping = append(s.steeping, steeping{portion: f, in: e.At})
	}
	s.Curve = append(s.Curve, Point{At: e.At, SG: s.Original, Entry: e.ID, Computed: m.Gravity == 0, Liquid: liquid})
	return nil
}

// Liquid returns the must as a liquid: its ingredients made up with water to
// the volume or, when a gravity was read, the extract of that gravity, shared
// out as in the ingredients or as is typical of the drink. Of fruit it is what is out
// when the must is made.
func (m Must) Liquid(d Drink) (calc.Liquid, error) {
	if len(m.Fruit) > 0 {
		return m.fruitLiquid(d)
	}
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
	if s.Pitched.IsZero() && !p.beganByItself(e.At, sg) {
		s.Last, s.Read = e, e.At
		err := p.correctMust(sg)
		if err != nil {
			return err
		}
		return p.point(Point{At: e.At, SG: sg, Entry: e.ID, Liquid: s.Liquid})
	}
	got, err := p.rule.ToGravity(p.anchor, sg)
	if err != nil {
		return err
	}
	if r.HasTemperature && r.Temperature != r.Calibration { // alcohol made since counts a little in the correction
		if abv, err = got.Liquid.Strength(); err != nil {
			return err
		}
		if sg, err = r.Corrected(abv); err != nil {
			return err
		}
		if got, err = p.rule.ToGravity(p.anchor, sg); err != nil {
			return err
		}
	}
	s.Last, s.Read = e, e.At
	s.Liquid, s.Unexplained, p.yeast = got.Liquid, got.Unexplained, got.Yeast
	return p.point(Point{At: e.At, SG: sg, Entry: e.ID, Liquid: got.Liquid})
}

// feel keeps what a reading says besides the gravity.
func (p *player) feel(e Entry, r Reading) {
	s := &p.state
	if r.HasTemperature {
		s.warmths = append(s.warmths, warmth{at: e.At, t: r.Temperature})
	}
	s.analyse(e, r)
	if r.PH != 0 && (s.lowestPH == 0 || r.PH < s.lowestPH) {
		s.lowestPH = r.PH
	}
}

// A must with no yeast in the journal that falls this far was not misread: it
// began by itself, or the pitch was not written down. A must that was never read,
// only computed, may be further off, and so may one that is pitched later.
const (
	unpitchedPoints = 5.0
	unpitchedUnsure = 20.0
	unpitchedDays   = 0.5
)

// beganByItself reports whether a reading shows fermentation without a pitch, and
// if so takes the yeast to have been there from the reading before.
func (p *player) beganByItself(at time.Time, sg calc.SG) bool {
	s := &p.state
	before := s.Curve[len(s.Curve)-1]
	fall := before.SG.Points() + p.juicePoints - sg.Points()
	enough := unpitchedPoints
	if before.Computed || p.pitchComes {
		enough = unpitchedUnsure
	}
	if fall < enough || daysBetween(before.At, at) < unpitchedDays {
		return false
	}
	s.Pitched, s.unpitched = before.At, true
	return true
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
	abv, err := p.anchor.Strength() // of spirit poured into the must
	if err != nil {
		return err
	}
	l, err := calc.LiquidOf(v, max(sg, 1), abv, solids)
	if err != nil {
		return err
	}
	p.state.Liquid, p.anchor, p.slow, p.state.Original = l, l, p.slowIn(l), sg
	p.changed(func(b *weighedStart) { b.liquid, b.kept, b.poured = l, 1, calc.Liquid{} })
	return nil
}

// addition stirs something in and adds the gravity after it to the curve.
func (p *player) addition(e Entry, a Addition) error {
	p.state.nutrients = p.state.nutrients || mentionsNutrients(a.Purpose+" "+a.Portion.Ingredient.Name)
	p.came(a.Portion.Liquid(), false)
	return p.stirIn(e, a.Portion.Liquid(), strings.ToLower(a.Purpose))
}

// stirIn adds a liquid for a purpose.
func (p *player) stirIn(e Entry, poured calc.Liquid, purpose string) error {
	s := &p.state
	if err := p.measure(); err != nil {
		return err
	}
	before, hadFood := s.Figures, s.hasFood()
	s.Liquid = s.Liquid.Plus(poured)
	p.anchor, p.slow = s.Liquid, p.slow+p.slowIn(poured)
	p.settleYeast()
	after, err := s.Liquid.Figures()
	if err != nil {
		return err
	}
	if s.Pitched.IsZero() {
		s.Original = after.SG
	}
	changed := after.SG.Points() - before.SG.Points()
	if err := p.point(Point{At: e.At, SG: after.SG, Entry: e.ID, Computed: true, Liquid: s.Liquid, added: changed}); err != nil {
		return err
	}
	p.altered = p.altered || !s.Pitched.IsZero() && math.Abs(changed) > 0.1

	s.keptSweet = min(s.keptSweet, before.Fermentable) * calc.GramPerLitre(before.Volume/after.Volume)
	sugar := calc.GramPerLitre(poured.Fermentable()) / calc.GramPerLitre(after.Volume)
	switch {
	case sugar < noticeableSugar:
	case !hadFood && strings.Contains(purpose, "prim"):
		s.primed, s.primedWith = e.At, sugar // for bubbles, meant to be eaten
	case s.held() || !hadFood && strings.Contains(purpose, "sweet"):
		s.keptSweet += sugar // for the tongue: the yeast was done
		s.sweetened = e.At
	default:
		s.fed = e.At
	}
	return nil
}

// noticeableSugar is what an addition must bring to change what there is to eat:
// a point of gravity.
const noticeableSugar calc.GramPerLitre = 2.5

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
	p.went(1 - part)
	p.state.Liquid, p.anchor, p.slow = p.state.Liquid.Scaled(part), p.anchor.Scaled(part), p.slow*calc.Gram(part)
	return nil
}

// draw takes glasses out of the vessel.
func (p *player) draw(volume calc.Litre) error {
	now, err := p.state.Liquid.Volume()
	if err != nil {
		return err
	}
	if volume >= now {
		return fmt.Errorf("glasses of %.4g L out of %.4g L: %w", float64(volume), float64(now), ErrInvalid)
	}
	return p.keep(now - volume)
}

// slowIn returns half the maltose of what goes into a mead: analyses of honey count
// all its disaccharides as maltose, and a few per cent of the honey are others that
// yeast eats slowly or not (diagnosis notes, section 3).
func (p *player) slowIn(l calc.Liquid) calc.Gram {
	if p.drink != Mead {
		return 0
	}
	return l.Of(calc.Maltose) / 2
}

// food returns the sugar per litre that any yeast of the batch would eat: not
// maltotriose, which many ale strains leave (diagnosis notes, section 3), nor the slow
// sugars of honey, nor what was stirred in for the tongue when the yeast was done.
func (p *player) food() calc.GramPerLitre {
	s := &p.state
	if s.Figures.Volume == 0 {
		return 0
	}
	l := s.Liquid
	grams := l.Of(calc.Sucrose) + l.Of(calc.Glucose) + l.Of(calc.Fructose) + max(0, l.Of(calc.Maltose)-p.slow)
	return calc.GramPerLitre(grams)/calc.GramPerLitre(s.Figures.Volume) - s.keptSweet
}

func (p *player) bottle(e Entry, b Bottle) error {
	drawn := calc.Litre(float64(b.Count)) * b.Size
	if err := p.squeeze(e.At, drawn); err != nil {
		return err
	}
	now, err := p.state.Liquid.Volume()
	if err != nil {
		return err
	}
	if drawn > now*1.05 {
		return fmt.Errorf("%d bottles hold %.4g L, the vessel %.4g L: %w", b.Count, float64(drawn), float64(now), ErrInvalid)
	}
	if !b.Rest || drawn >= now {
		p.state.Vessel, p.state.steeping = 0, nil
		return nil
	}
	return p.keep(now - drawn)
}

func (p *player) mark(e Entry) {
	p.state.Marks = append(p.state.Marks, Mark{At: e.At, Kind: e.Body.Kind(), Entry: e.ID})
}
