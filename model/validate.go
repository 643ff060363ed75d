package model

import (
	"fmt"

	"cellar.local/glassrow/calc"
)

// Validate implements Body.
func (m Must) Validate() error {
	if !(m.Volume >= 0.05 && m.Volume <= 100000) {
		return fmt.Errorf("volume %.4g L is outside 0.05 to 100000 L: %w", float64(m.Volume), ErrInvalid)
	}
	if m.Gravity == 0 && len(m.Ingredients) == 0 && len(m.Fruit) == 0 {
		return fmt.Errorf("a must needs a gravity, or what went into it: %w", ErrInvalid)
	}
	if m.Gravity != 0 && !(m.Gravity >= 1 && m.Gravity <= 1.25) {
		return fmt.Errorf("gravity %.4g of a must cannot be; want 1.000 to 1.250: %w", float64(m.Gravity), ErrInvalid)
	}
	for _, p := range m.Ingredients {
		if err := p.Validate(); err != nil {
			return err
		}
	}
	for _, p := range m.Fruit {
		if err := checkFruit(p); err != nil {
			return err
		}
	}
	return nil
}

// Validate reports what is wrong with the portion, or nil.
func (p Portion) Validate() error {
	if err := plainText("ingredient", p.Ingredient.Name, maxName, true); err != nil {
		return err
	}
	if gram := p.Ingredient.PerGram.Mass(); !(gram > 0) {
		return fmt.Errorf("%s has no composition: %w", p.Ingredient.Name, ErrInvalid)
	} else if !(gram > 0.999 && gram < 1.001) {
		return fmt.Errorf("a gram of %s weighs %.4g g: %w", p.Ingredient.Name, float64(gram), ErrInvalid)
	}
	if !(p.Mass > 0 && p.Mass <= 1e8) {
		return fmt.Errorf("%.4g g of %s is outside 0 to 100 t: %w", float64(p.Mass), p.Ingredient.Name, ErrInvalid)
	}
	return nil
}

// Liquid returns the portion as a liquid to pour in.
func (p Portion) Liquid() calc.Liquid { return p.Ingredient.Amount(p.Mass) }

// Validate implements Body.
func (p Pitch) Validate() error {
	if !isOneOf(p.Yeast, YeastGroups()) {
		return fmt.Errorf("yeast %q is not one of %s: %w", p.Yeast, joined(YeastGroups()), ErrInvalid)
	}
	if !(p.Tolerance >= 0 && p.Tolerance <= 25) {
		return fmt.Errorf("tolerance %.4g %% vol is outside 0 to 25: %w", float64(p.Tolerance), ErrInvalid)
	}
	return plainText("yeast name", p.Name, maxName, false)
}

// Validate implements Body.
func (a Addition) Validate() error {
	if err := plainText("purpose", a.Purpose, maxName, false); err != nil {
		return err
	}
	if a.Dose < 0 || a.Dose >= maxDoses {
		return fmt.Errorf("dose %d is outside 0 to %d: %w", a.Dose, maxDoses-1, ErrInvalid)
	}
	return a.Portion.Validate()
}

// Validate implements Body.
func (r Rack) Validate() error {
	if r.To == 0 {
		return fmt.Errorf("racking needs a vessel to go to: %w", ErrInvalid)
	}
	if !(r.Volume >= 0 && r.Volume <= 100000) {
		return fmt.Errorf("volume %.4g L is outside 0 to 100000 L: %w", float64(r.Volume), ErrInvalid)
	}
	return nil
}

// Validate implements Body.
func (b Bottle) Validate() error {
	if b.Count < 1 || b.Count > 100000 {
		return fmt.Errorf("%d bottles is outside 1 to 100000: %w", b.Count, ErrInvalid)
	}
	if !(b.Size >= 0.01 && b.Size <= 50) {
		return fmt.Errorf("bottle size %.4g L is outside 0.01 to 50 L: %w", float64(b.Size), ErrInvalid)
	}
	return plainText("closure", b.Closure, maxName, false)
}

// Validate implements Body.
func (n Note) Validate() error { return plainText("note", n.Text, maxText, true) }

// Validate implements Body.
func (v Void) Validate() error {
	if v.Entry == 0 {
		return fmt.Errorf("nothing to strike out: %w", ErrInvalid)
	}
	return plainText("reason", v.Reason, maxText, false)
}
