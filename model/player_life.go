package model

import (
	"fmt"
	"time"

	"cellar.local/glassrow/calc"
)

// What happens to a batch in its vessel and between batches, as replay takes it.

// playLife plays the kinds of entry that most batches have none of.
func (p *player) playLife(e Entry) error {
	s := &p.state
	switch body := e.Body.(type) {
	case Draw:
		p.mark(e)
		return p.drawOff(body.Volume)
	case Pour:
		p.mark(e)
		return p.pourIn(e, body)
	case Part:
		p.mark(e)
		return p.splitOff(body)
	case Fine:
		p.weighsMore(body.Mass)
		p.mark(e)
	case Feed:
		s.nutrients = true
		p.weighsMore(body.Mass)
		p.mark(e)
	case Move:
		s.Place = body.Place
	case Tasted:
		s.Taken += body.Bottles
		if s.Taken > s.Bottles {
			return fmt.Errorf("%s taken out of %d: %w", counted(s.Taken, "bottle"), s.Bottles, ErrInvalid)
		}
	}
	return nil
}

// inVessel reports whether an entry needs something in the vessel.
func inVessel(b Body) bool {
	switch b := b.(type) {
	case Rack, Bottle, Bench, Fruited, Press, Draw, Pour, Fine, Stir, Feed:
		return true
	case Tasted:
		return b.Bottles == 0
	}
	return false
}

// heldBack is the part of the drink that counts as nothing left: what clings to the
// walls, and what a volume is rounded by.
const heldBack = 0.01

// drawOff takes drink out of the vessel; with all of it the vessel is empty.
func (p *player) drawOff(volume calc.Litre) error {
	now, err := p.state.Liquid.Volume()
	if err != nil {
		return err
	}
	if volume > now*(1+heldBack) {
		return fmt.Errorf("%.4g L drawn out of %.4g L: %w", float64(volume), float64(now), ErrInvalid)
	}
	if volume >= now*(1-heldBack) {
		p.state.Vessel, p.state.steeping, p.state.gone = 0, nil, true
		return nil
	}
	return p.keep(now - volume)
}

// pourIn adds another drink, alcohol and all.
func (p *player) pourIn(e Entry, b Pour) error {
	s := &p.state
	if b.Tolerance > 0 {
		s.Tolerance = max(s.Tolerance, b.Tolerance)
		s.unpitched = false
		if s.Pitched.IsZero() {
			s.Pitched = e.At // the yeast came with it
		}
	}
	p.came(b.Liquid, true)
	return p.stirIn(e, b.Liquid, "")
}

// splitOff begins the journal of a part: the drink so far was the other batch's.
func (p *player) splitOff(b Part) error {
	s := &p.state
	now, err := s.Liquid.Volume()
	if err != nil {
		return err
	}
	if b.Volume > now*(1+heldBack) {
		return fmt.Errorf("%.4g L split off %.4g L: %w", float64(b.Volume), float64(now), ErrInvalid)
	}
	s.Vessel, s.Place, s.Bottles, s.Taken, s.steeping, s.gone = b.Vessel, "", 0, 0, nil, false
	if err := p.keep(b.Volume); err != nil {
		return err
	}
	p.lees = -p.yeast
	p.unweigh()
	return nil
}

// How far a level read on the vessel may be from what the journal makes of it: more is
// the wrong vessel, or something not written down.
const lowestLevel, highestLevel = 0.5, 1.5

// level takes the volume of the drink from the marks of the vessel. What it is made of
// stays: what left was drink, and what the first volume was out by was must.
func (p *player) level(e Entry, seen calc.Litre) error {
	s := &p.state
	if err := s.measureFruit(); err != nil {
		return err
	}
	now, err := s.Liquid.Volume()
	if err != nil {
		return err
	}
	part := float64((seen - s.FruitRoom) / now)
	if !(part >= lowestLevel && part <= highestLevel) {
		return fmt.Errorf("a level of %.4g L, where the journal has %.4g L; write down what came or went first: %w",
			float64(seen), float64(now+s.FruitRoom), ErrInvalid)
	}
	s.Liquid, p.anchor, p.slow = s.Liquid.Scaled(part), p.anchor.Scaled(part), p.slow*calc.Gram(part)
	s.Levels = append(s.Levels[:len(s.Levels):len(s.Levels)], Levelled{Entry: e.ID, Seen: seen, Reckoned: now + s.FruitRoom})
	p.changed(func(b *weighedStart) { b.liquid, b.poured = b.liquid.Scaled(part), b.poured.Scaled(part) })
	p.moved()
	return nil
}

// Analysis is a figure and when it was found.
type Analysis[T any] struct {
	Value T
	At    time.Time // zero: never
}

// analyse keeps what a reading says of acid and sulfite.
func (s *State) analyse(e Entry, r Reading) {
	if r.PH != 0 {
		s.PH = Analysis[float64]{r.PH, e.At}
	}
	if r.Acid != 0 {
		s.Acid = Analysis[calc.GramPerLitre]{r.Acid, e.At}
	}
	if r.HasFreeSO2 {
		s.FreeSO2 = Analysis[calc.MilligramPerLitre]{r.FreeSO2, e.At}
	}
	if r.Mass != 0 {
		s.Weighed = Analysis[calc.Gram]{r.Mass, e.At}
	}
}
