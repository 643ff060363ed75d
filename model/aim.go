package model

import (
	"fmt"
	"strings"

	"cellar.local/glassrow/calc"
)

// Aim is what a person wants of an addition: so much of it, or enough for a
// target.
type Aim struct {
	Mass   calc.Gram // when Target is nil
	Target *calc.Target
}

// ParseAim understands what people type when they sweeten:
//
//	300g   2lb   40mg        so much of it
//	1.012                    until the hydrometer reads that
//	25g/l                    until that much sugar is in a litre
//	off-dry   medium         the middle of that band
func ParseAim(text string) (Aim, error) {
	s := strings.ToLower(strings.TrimSpace(text))
	for _, b := range calc.SweetnessBands() {
		if s == b.String() {
			t := calc.TargetSugar(b.Sugar())
			return Aim{Target: &t}, nil
		}
	}
	if number, ok := strings.CutSuffix(strings.ReplaceAll(s, " ", ""), "g/l"); ok {
		x, rest, err := splitUnit(number)
		if err != nil || rest != "" || !(x >= 0 && x <= 500) {
			return Aim{}, fmt.Errorf("sugar %q cannot be; write 25g/l, 0 to 500: %w", text, ErrInvalid)
		}
		t := calc.TargetSugar(calc.GramPerLitre(x))
		return Aim{Target: &t}, nil
	}
	if mass, err := ParseMass(s); err == nil {
		return Aim{Mass: mass}, nil
	}
	if sg, err := ParseGravity(s); err == nil && strings.Contains(s, ".") {
		t := calc.TargetSG(sg)
		return Aim{Target: &t}, nil
	}
	return Aim{}, fmt.Errorf("%q is not understood; write 300g, 1.012, 25g/l or a word such as off-dry: %w", text, ErrInvalid)
}

// AmountFor returns the mass of the ingredient that meets the aim in l.
func (a Aim) AmountFor(l calc.Liquid, i calc.Ingredient) (calc.Gram, error) {
	if a.Target == nil {
		return a.Mass, nil
	}
	return i.AmountFor(l, *a.Target)
}
