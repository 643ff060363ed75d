package model

import (
	"errors"
	"fmt"
	"strings"
)

// CheckStart reports what is wrong with a batch about to begin in a vessel, or
// nil: its name, its entries, and whether the vessel holds the must.
func CheckStart(b Batch, v Vessel) error {
	if err := b.Validate(); err != nil {
		return err
	}
	for _, e := range b.Entries {
		if err := e.Body.Validate(); err != nil {
			return err
		}
	}
	s, err := Replay(b, endOfTime)
	switch {
	case errors.Is(err, ErrInvalid):
		return err
	case err != nil:
		return fmt.Errorf("%w: %w", err, ErrInvalid)
	}
	if s.InVessel() > v.Capacity*1.001 {
		return fmt.Errorf("%.1f L of must does not fit: %s holds %.1f L: %w",
			float64(s.InVessel()), v.Label, float64(v.Capacity), ErrInvalid)
	}
	return nil
}

// ParsePortions understands a list such as "honey 5.5kg, sugar 300g", each name
// one that [FindSweetener] knows.
func ParsePortions(all []Sweetener, text string) ([]Portion, error) {
	var out []Portion
	for part := range strings.SplitSeq(text, ",") {
		if strings.TrimSpace(part) == "" {
			continue
		}
		name, mass, err := ParsePortion(part)
		if err != nil {
			return nil, err
		}
		sw, err := NamedSweetener(all, name)
		if err != nil {
			return nil, err
		}
		out = append(out, Portion{Ingredient: sw.Ingredient, Mass: mass})
	}
	return out, nil
}

// NamedSweetener is [FindSweetener] with an error that says what to type instead.
func NamedSweetener(all []Sweetener, name string) (Sweetener, error) {
	s, ok, matches := FindSweetener(all, name)
	if ok {
		return s, nil
	}
	if len(matches) == 0 {
		return Sweetener{}, fmt.Errorf("%q is not in the handbook; try honey, sugar, maple or lactose: %w", name, ErrInvalid)
	}
	names := make([]string, 0, 4)
	for _, m := range matches[:min(4, len(matches))] {
		names = append(names, m.Name())
	}
	return Sweetener{}, fmt.Errorf("%q could be %s: %w", name, strings.Join(names, " or "), ErrInvalid)
}
