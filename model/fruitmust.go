package model

import (
	"fmt"
	"math"
	"strings"
	"time"

	"cellar.local/glassrow/calc"
)

// Fruit that stands in a batch and gives its juice to it over days. The ledger is as at
// the last entry that touched the drink, juice and fermentation alike: what has come
// out of the fruit since then has partly been eaten, and no reading has told how much.

// steeping is fruit standing in a batch.
type steeping struct {
	portion calc.FruitPortion
	in      time.Time // when it went in
	kept    bool      // into a drink held from fermenting: its sugar is for the tongue
}

// out returns the juice that had come out by a time.
func (f steeping) out(at time.Time) calc.Liquid {
	return f.portion.Juice().Scaled(f.portion.Free(at.Sub(f.in)))
}

// between returns the juice that came out from one time to another.
func (f steeping) between(from, to time.Time) calc.Liquid {
	share := f.portion.Free(to.Sub(f.in)) - f.portion.Free(from.Sub(f.in))
	return f.portion.Juice().Scaled(max(0, share))
}

// inside returns the juice that at a time is still to come.
func (f steeping) inside(at time.Time) calc.Liquid {
	return f.portion.Juice().Scaled(1 - f.portion.Free(at.Sub(f.in)))
}

// insideFruit returns the juice that is still in the fruit at a time.
func (s *State) insideFruit(at time.Time) calc.Liquid {
	var l calc.Liquid
	for _, f := range s.steeping {
		l = l.Plus(f.inside(at))
	}
	return l
}

// LateSugarAt returns the sugar that is still inside the fruit in the vessel at a time.
func (s State) LateSugarAt(at time.Time) calc.Gram { return s.insideFruit(at).Sugar() }

// soaked returns the liquid as it will have become by a time through the juice that
// comes, as if nothing fermented meanwhile.
func (s *State) soaked(until time.Time) calc.Liquid {
	l := s.Liquid
	for _, f := range s.steeping {
		l = l.Plus(f.between(s.steeped, until))
	}
	return l
}

// made returns the must with its fruit, which is free of a gravity read.
func (m Must) made() (calc.Must, error) {
	var poured calc.Liquid
	for _, p := range m.Ingredients {
		poured = poured.Plus(p.Liquid())
	}
	return calc.NewMust(poured, m.Fruit...)
}

// fruitLiquid returns what is free in a must with fruit in it on the day it is made:
// Volume, less the pulp and the juice still inside.
func (m Must) fruitLiquid(d Drink) (calc.Liquid, error) {
	must, err := m.made()
	if err != nil {
		return calc.Liquid{}, fmt.Errorf("%w: %w", err, ErrInvalid)
	}
	free, inside := must.After(0)
	if m.Gravity == 0 {
		if must, err = must.MadeUpTo(m.Volume); err != nil {
			return calc.Liquid{}, err
		}
		if free, _ = must.After(0); free.Mass() <= 0 {
			return free, fmt.Errorf("nothing but whole fruit: no liquid is out yet; crush it, or write what it stands in: %w", ErrInvalid)
		}
		return free, nil
	}
	held, err := inside.Volume()
	if err != nil {
		return calc.Liquid{}, err
	}
	room := m.Volume - held - must.PulpVolume()
	if room < 0.02*m.Volume {
		return calc.Liquid{}, fmt.Errorf("the fruit alone fills %.4g L of %.4g L, which leaves nothing to float a hydrometer in: %w",
			float64(m.Volume-room), float64(m.Volume), ErrInvalid)
	}
	solids, err := m.readSolids(free, room, d)
	if err != nil {
		return calc.Liquid{}, err
	}
	return calc.LiquidOf(room, m.Gravity, 0, solids)
}

// readSolids returns what a gravity read in room litres is made of: what is free as in
// the ingredients or, where only fruit is in the journal, its juice, and for the rest
// what is typical of the drink.
func (m Must) readSolids(free calc.Liquid, room calc.Litre, d Drink) (calc.Liquid, error) {
	solids := free.Solids()
	for _, p := range m.Ingredients {
		if p.Liquid().Extract() > 0 {
			return solids, nil
		}
	}
	typical, err := calc.LiquidOf(room, m.Gravity, 0, d.TypicalSolids())
	if err != nil {
		return solids, err
	}
	all := float64(typical.Extract())
	if all <= 0 {
		return d.TypicalSolids(), nil
	}
	rest := max(0, 1-float64(solids.Extract())/all)
	if solids.Mass() == 0 {
		rest = 1
	}
	return solids.Plus(typical.Solids().Scaled(rest)), nil
}

// touches reports whether an entry needs the drink as it is at its time. Between such
// entries nobody looked, and the ledger waits.
func touches(b Body) bool {
	switch b := b.(type) {
	case Reading:
		return b.HasGravity() || b.Level != 0
	case Pitch, Addition, Fruited, Press, Rack, Bench, Bottle, Draw, Pour, Part:
		return true
	}
	return false
}

// soak brings the ledger up to a time with the juice that came out since it was last
// touched.
func (p *player) soak(at time.Time) error {
	s := &p.state
	from := s.steeped
	s.steeped = at
	for _, f := range s.steeping {
		if err := p.joins(f.between(from, at), f.kept); err != nil {
			return fmt.Errorf("juice of %s: %w", f.portion.Fruit.Name, err)
		}
	}
	return nil
}

// joins adds juice to what is in the vessel, and counts what that does to the gravity
// until the next point of the curve.
func (p *player) joins(juice calc.Liquid, kept bool) error {
	s := &p.state
	if juice.Mass() <= 0 {
		return nil
	}
	before, err := s.Liquid.Figures()
	if err != nil {
		return err
	}
	s.Liquid, p.anchor = s.Liquid.Plus(juice), p.anchor.Plus(juice)
	p.unweigh()
	after, err := s.Liquid.Figures()
	if err != nil {
		return err
	}
	p.juicePoints += after.SG.Points() - before.SG.Points()
	p.juiceSugar += juice.Fermentable()
	s.keptSweet *= calc.GramPerLitre(before.Volume / after.Volume)
	if kept {
		s.keptSweet += calc.GramPerLitre(juice.Fermentable()) / calc.GramPerLitre(after.Volume)
	}
	if !s.Pitched.IsZero() {
		p.altered, s.juiced = true, true
	}
	return nil
}

// point adds a gravity to the curve, and with it what the fruit did to it since the
// point before.
func (p *player) point(c Point) error {
	s := &p.state
	if p.juiceSugar > 0 {
		v, err := c.Liquid.Volume()
		if err != nil {
			return err
		}
		if v > 0 {
			c.juice, c.juiceSugar = p.juicePoints, calc.GramPerLitre(p.juiceSugar)/calc.GramPerLitre(v)
		}
	}
	p.juicePoints, p.juiceSugar = 0, 0
	s.Curve = append(s.Curve, c)
	return nil
}

// computed adds the gravity as it is reckoned to the curve, where juice has changed it
// since the point before.
func (p *player) computed(e Entry) error {
	if p.juiceSugar == 0 {
		return nil
	}
	sg, err := p.state.Liquid.SG()
	if err != nil {
		return err
	}
	return p.point(Point{At: e.At, SG: sg, Entry: e.ID, Computed: true, Liquid: p.state.Liquid})
}

// putsFruit puts fruit into the batch; what crushing set free joins at once.
func (p *player) putsFruit(e Entry, f Fruited) error {
	s := &p.state
	in := steeping{portion: f.Portion, in: e.At, kept: s.held()}
	p.unweigh()
	// Full slice expression: a copy of the state keeps its own.
	s.steeping = append(s.steeping[:len(s.steeping):len(s.steeping)], in)
	if in.kept {
		s.sweetened = e.At
	} else {
		s.fed = e.At
	}
	if err := p.joins(in.out(e.At), in.kept); err != nil {
		return err
	}
	return p.computed(e)
}

// takesFruitOut ends the steeping and leaves volume litres of drink, all of it when
// that is zero. More than had run free by itself was squeezed out of the fruit.
func (p *player) takesFruitOut(e Entry, volume calc.Litre) error {
	if err := p.squeeze(e.At, volume); err != nil {
		return err
	}
	if len(p.state.steeping) > 0 {
		p.unweigh()
	}
	p.state.steeping = nil
	return p.keep(volume)
}

// squeeze lets as much of the juice still inside join as makes up a volume; never more
// than there is.
func (p *player) squeeze(at time.Time, volume calc.Litre) error {
	s := &p.state
	inside := s.insideFruit(at)
	if volume == 0 || inside.Mass() <= 0 {
		return nil
	}
	now, err := s.Liquid.Volume()
	if err != nil || volume <= now {
		return err
	}
	all, err := s.Liquid.Plus(inside).Volume()
	if err != nil || all <= now {
		return err
	}
	share := math.Min(1, float64((volume-now)/(all-now)))
	for _, f := range s.steeping {
		if err := p.joins(f.inside(at).Scaled(share), f.kept); err != nil {
			return err
		}
	}
	return nil
}

// measureFruit works out what the fruit in the vessel still holds.
func (s *State) measureFruit() error {
	s.LateSugar, s.FruitRoom = 0, 0
	if len(s.steeping) == 0 {
		return nil
	}
	inside := s.insideFruit(s.steeped)
	v, err := inside.Volume()
	if err != nil {
		return err
	}
	portions := make([]calc.FruitPortion, len(s.steeping))
	for i, f := range s.steeping {
		portions[i] = f.portion
	}
	must, err := calc.NewMust(calc.Liquid{}, portions...)
	if err != nil {
		return err
	}
	s.LateSugar, s.FruitRoom = inside.Sugar(), v+must.PulpVolume()
	return nil
}

// InVessel returns the room that the batch takes up: the drink, and the fruit in it.
func (s State) InVessel() calc.Litre { return s.Figures.Volume + s.FruitRoom }

// gave reports whether fruit gave a sugar that shows since the gravity before the last.
func (s *State) gave() bool { return s.Curve[len(s.Curve)-1].juiceSugar >= noticeableSugar }

// gaveBetween returns the sugar that fruit gave after one time and until another, in
// what was read and reckoned between.
func (s *State) gaveBetween(from, to time.Time) calc.GramPerLitre {
	var g calc.GramPerLitre
	for _, p := range s.Curve {
		if p.At.After(from) && !p.At.After(to) {
			g += p.juiceSugar
		}
	}
	return g
}

// givenByFruit says that the last gravity is where it is because fruit gave its sugar;
// empty when that made no difference that shows.
func (s *State) givenByFruit(all []look) string {
	if len(all) < 2 {
		return ""
	}
	last, before := all[len(all)-1], all[len(all)-2]
	up, fall := last.read-before.read, before.points-last.points
	gave := s.gaveBetween(before.at, last.at)
	if gave < noticeableSugar || up < stillPoints && fall-(before.read-last.read) < stillPoints {
		return ""
	}
	return fmt.Sprintf("the fruit gives its sugar: %s since the reading before", gramsPerLitre(gave))
}

// ParseFruit understands an amount of a fruit with how it went in: crushed damson 4kg.
// What is neither fruit nor sweetener, or a sweetener, is for the caller to refuse; a
// sweetener has no portion of fruit.
func (l Larder) ParseFruit(text string) (p calc.FruitPortion, sweet Portion, caution string, err error) {
	name, mass, err := ParsePortion(text)
	if err != nil {
		return p, sweet, "", err
	}
	bare, crushed := withoutCrushed(name)
	stuff, err := l.Find(bare)
	if err != nil {
		return p, sweet, "", err
	}
	if stuff.IsFruit() {
		return calc.FruitPortion{Fruit: stuff.Fruit.Fruit, Mass: mass, Crushed: crushed}, sweet, stuff.Caution(), nil
	}
	if crushed {
		return p, sweet, "", fmt.Errorf("%s is no fruit, so it is not crushed: %w", stuff.Name(), ErrInvalid)
	}
	return p, Portion{Ingredient: stuff.Sweetener.Ingredient, Mass: mass}, stuff.Caution(), nil
}

// withoutCrushed takes the words for how the fruit goes in off its name.
func withoutCrushed(name string) (bare string, crushed bool) {
	var kept []string
	for _, w := range strings.Fields(name) {
		switch strings.ToLower(w) {
		case "crushed", "mashed":
			crushed = true
		case "whole":
		default:
			kept = append(kept, w)
		}
	}
	return strings.Join(kept, " "), crushed
}

// ParseStuff understands a list such as honey 5.5kg, crushed damson 4kg: what is
// stirred in, and what fruit goes in.
func (l Larder) ParseStuff(text string) (in []Portion, fruit []calc.FruitPortion, err error) {
	for part := range strings.SplitSeq(text, ",") {
		if strings.TrimSpace(part) == "" {
			continue
		}
		f, sweet, _, err := l.ParseFruit(part)
		if err != nil {
			return nil, nil, err
		}
		if f.Mass > 0 {
			fruit = append(fruit, f)
		} else {
			in = append(in, sweet)
		}
	}
	return in, fruit, nil
}
