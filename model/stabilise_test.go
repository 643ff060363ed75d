package model

import (
	"errors"
	"math"
	"testing"
)

// Ensure that only what keeps yeast down by itself counts as holding (stabilising notes:
// any one of a sterile filter or heat, or sulfite and sorbate together).
func TestStabilise(t *testing.T) {
	for name, c := range map[string]struct {
		did   Stabilise
		holds bool
		says  string
	}{
		"both":    {Stabilise{Sulfite: 1.25, Sorbate: 4}, true, "1.25 g sulfite, 4 g sorbate"},
		"sulfite": {Stabilise{Sulfite: 1}, false, "1 g sulfite"},
		"sorbate": {Stabilise{Sorbate: 2}, false, "2 g sorbate"},
		"filter":  {Stabilise{Filtered: true}, true, "a filter"},
		"heat":    {Stabilise{PU: 30}, true, "30 PU of heat"},
		"tepid":   {Stabilise{PU: 3}, false, "3 PU of heat"},
		"cold":    {Stabilise{Chilled: true}, false, "cold"},
	} {
		if c.did.Holds() != c.holds || c.did.String() != c.says || c.did.Validate() != nil {
			t.Errorf("%s: holds %v, says %q, %v", name, c.did.Holds(), c.did, c.did.Validate())
		}
	}
	for _, wrong := range []Stabilise{{}, {Sulfite: -1}, {Sorbate: 1, Sulfite: -1}, {PU: 1e9}, {PU: math.NaN()}} {
		if err := wrong.Validate(); !errors.Is(err, ErrInvalid) {
			t.Errorf("%+v: %v, want it refused", wrong, err)
		}
	}
}
