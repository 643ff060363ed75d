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

// NamedSweetener is [FindSweetener] with an error that says what to type instead.
func NamedSweetener(all []Sweetener, name string) (Sweetener, error) {
	if isWater(name) {
		return aWater(), nil
	}
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
