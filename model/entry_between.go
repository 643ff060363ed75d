package model

import (
	"fmt"

	"cellar.local/glassrow/calc"
)

// What passes between two batches. A journal is worked out by itself, so each side
// has an entry of its own, written in one transaction; what was poured is kept with
// the entry as it was reckoned then, and a correction to the other journal later does
// not rewrite it.

// The kinds of what passes between batches.
const (
	KindDraw Kind = "draw"
	KindPour Kind = "pour"
	KindPart Kind = "part"
)

// Draw is some of the drink taken out of the vessel: into another batch, or for
// good.
type Draw struct {
	Volume calc.Litre
	To     BatchID // 0: no batch; drunk, spilt or poured away
	Why    string  // the person's words; may be empty
}

// Pour is some of another batch, or a drink from outside, poured into this one.
type Pour struct {
	From      BatchID // 0: not a batch of this cellar
	Name      string  // what it was called
	Liquid    calc.Liquid
	Tolerance calc.PercentVol // of the yeast that came with it; 0: none alive
}

// Part is the beginning of a batch split off another: the entries before it are
// copied from that one's journal, and from here on the two go their own ways.
type Part struct {
	From   BatchID
	Name   string // what the other is called
	Vessel VesselID
	Volume calc.Litre // of the drink that came over
}

// Kind implements Body.
func (Draw) Kind() Kind { return KindDraw }

// Kind implements Body.
func (Pour) Kind() Kind { return KindPour }

// Kind implements Body.
func (Part) Kind() Kind { return KindPart }

// Validate implements Body.
func (d Draw) Validate() error {
	if err := checkSome(d.Volume); err != nil {
		return err
	}
	return plainText("reason", d.Why, maxText, false)
}

// checkSome checks a volume that must be given.
func checkSome(v calc.Litre) error {
	if !(v > 0 && v <= 100000) {
		return fmt.Errorf("volume %.4g L is outside 0 to 100000 L: %w", float64(v), ErrInvalid)
	}
	return nil
}

// Validate implements Body.
func (p Pour) Validate() error {
	if err := plainText("name", p.Name, maxName, true); err != nil {
		return err
	}
	if !(p.Tolerance >= 0 && p.Tolerance <= 25) {
		return fmt.Errorf("tolerance %.4g %% vol is outside 0 to 25: %w", float64(p.Tolerance), ErrInvalid)
	}
	v, err := p.Liquid.Volume()
	if err != nil {
		return fmt.Errorf("%s: %w: %w", p.Name, err, ErrInvalid)
	}
	return checkSome(v)
}

// Validate implements Body.
func (p Part) Validate() error {
	if p.From == 0 || p.Vessel == 0 {
		return fmt.Errorf("a part needs a batch it comes from and a vessel to go to: %w", ErrInvalid)
	}
	if err := plainText("name", p.Name, maxName, true); err != nil {
		return err
	}
	return checkSome(p.Volume)
}
