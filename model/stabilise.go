package model

import (
	"fmt"
	"strconv"
	"strings"

	"cellar.local/glassrow/calc"
)

// Stabilise is what was done so that a batch does not start again.
type Stabilise struct {
	Sulfite  calc.Gram // potassium metabisulfite
	Sorbate  calc.Gram // potassium sorbate
	Filtered bool      // through pores that hold yeast back
	PU       float64   // pasteurisation units
	Chilled  bool
}

// KindStabilise is the kind of a [Stabilise].
const KindStabilise Kind = "stabilise"

// Kind implements Body.
func (Stabilise) Kind() Kind { return KindStabilise }

// leastPU is heat that kills the yeast of a drink: what acid drinks with alcohol are
// given at least (from memory; beer is given 15 to 30).
const leastPU = 15

// Holds reports whether what was done keeps yeast down by itself: sulfite together with
// sorbate, a tight filter, or heat. Sulfite or sorbate alone does not, and cold only
// as long as it lasts (stabilising notes).
func (b Stabilise) Holds() bool {
	return b.Sulfite > 0 && b.Sorbate > 0 || b.Filtered || b.PU >= leastPU
}

// held reports whether the batch was stabilised in a way that keeps yeast down.
func (s *State) held() bool { return !s.stabilised.IsZero() && s.stabilisedBy.Holds() }

// and returns what was done in all.
func (b Stabilise) and(more Stabilise) Stabilise {
	return Stabilise{
		Sulfite:  b.Sulfite + more.Sulfite,
		Sorbate:  b.Sorbate + more.Sorbate,
		Filtered: b.Filtered || more.Filtered,
		PU:       b.PU + more.PU,
		Chilled:  b.Chilled || more.Chilled,
	}
}

// Validate implements Body.
func (b Stabilise) Validate() error {
	for _, c := range []struct {
		what string
		x    float64
		most float64
		unit string
	}{
		{"sulfite", float64(b.Sulfite), 1e6, " g"},
		{"sorbate", float64(b.Sorbate), 1e6, " g"},
		{"heat", b.PU, 1e6, " PU"},
	} {
		if !(c.x >= 0 && c.x <= c.most) {
			return fmt.Errorf("%s %.4g%s is outside 0 to %.0f: %w", c.what, c.x, c.unit, c.most, ErrInvalid)
		}
	}
	if b == (Stabilise{}) {
		return fmt.Errorf("nothing done; say how much sulfite and sorbate, or filtered, heated, chilled: %w", ErrInvalid)
	}
	return nil
}

// String says what was done: 1.2 g sulfite, 3.8 g sorbate.
func (b Stabilise) String() string {
	var parts []string
	grams := func(m calc.Gram, what string) {
		if m > 0 {
			parts = append(parts, strconv.FormatFloat(float64(m), 'g', 3, 64)+" g "+what)
		}
	}
	grams(b.Sulfite, "sulfite")
	grams(b.Sorbate, "sorbate")
	if b.Filtered {
		parts = append(parts, "a filter")
	}
	if b.PU > 0 {
		parts = append(parts, strconv.FormatFloat(b.PU, 'f', 0, 64)+" PU of heat")
	}
	if b.Chilled {
		parts = append(parts, "cold")
	}
	return strings.Join(parts, ", ")
}
