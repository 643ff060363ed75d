package model

import (
	"fmt"
	"slices"
	"strings"

	"cellar.local/glassrow/calc"
)

// Candidate is one way to sweeten a batch that is being thought about: a sweetener,
// or a mixture of two, and how much of it. A candidate with a target keeps it
// whatever becomes of the batch; its mass is worked out anew each time.
type Candidate struct {
	First  Sweetener
	Second Sweetener // without an ID: there is none
	Share  float64   // of First in a mixture, by mass
	Aim    Aim
}

// Mixed reports whether it is a mixture of two.
func (c Candidate) Mixed() bool { return c.Second.ID != "" }

// Intense reports whether milligrams of it do.
func (c Candidate) Intense() bool {
	i, err := c.Ingredient()
	return err == nil && Sweetener{Ingredient: i}.Intense()
}

// Name says what it is.
func (c Candidate) Name() string {
	if c.Mixed() {
		return c.First.Name() + " + " + c.Second.Name()
	}
	return c.First.Name()
}

// Flavour says what it tastes of besides sweet.
func (c Candidate) Flavour() string {
	if c.Mixed() && c.Second.Flavour != c.First.Flavour {
		return strings.Trim(c.First.Flavour+"; "+c.Second.Flavour, "; ")
	}
	return c.First.Flavour
}

// Cautions returns what can hurt whom, once each.
func (c Candidate) Cautions() []string {
	var out []string
	for _, s := range []Sweetener{c.First, c.Second} {
		if s.Caution != "" && (len(out) == 0 || out[0] != s.Caution) {
			out = append(out, s.Caution)
		}
	}
	return out
}

// Ingredient returns what is stirred in.
func (c Candidate) Ingredient() (calc.Ingredient, error) {
	if !c.Mixed() {
		return c.First.Ingredient, nil
	}
	return calc.Mixture(c.First.Ingredient, c.Second.Ingredient, c.Share)
}

// Doses returns mass grams of it by its parts.
func (c Candidate) Doses(mass calc.Gram) []Dose {
	if !c.Mixed() {
		return []Dose{{c.First, mass}}
	}
	first := calc.Gram(c.Share) * mass
	return []Dose{{c.First, first}, {c.Second, mass - first}}
}

// Try works out what it would make of the batch.
func (c Candidate) Try(s State, d Drink) (Trial, error) {
	i, err := c.Ingredient()
	if err != nil {
		return Trial{}, err
	}
	mass, err := c.Aim.AmountFor(s.Liquid, i)
	if err != nil {
		return Trial{}, err
	}
	return TryDoses(s, d, c.Doses(mass)...)
}

// SameSweetness returns the candidate that tastes as sweet as a trial, with another
// sweetener in it.
func SameSweetness(as Trial, with Sweetener) Candidate {
	return Candidate{First: with, Share: 0.5, Aim: AimAtSweetness(as.After.Sweetness)}
}

// Plan is a set of candidates kept under a name, to come back to. It is no part of
// the journal: nothing was done.
type Plan struct {
	Name       string
	Candidates []Candidate
}

// Known returns the candidate with what the handbook tells of its sweeteners: flavours
// and cautions too.
func (c Candidate) Known(all []Sweetener) Candidate {
	for _, s := range []*Sweetener{&c.First, &c.Second} {
		if i := slices.IndexFunc(all, func(x Sweetener) bool { return x.ID == s.ID }); i >= 0 {
			*s = all[i]
		}
	}
	return c
}

// Known returns the plan with its candidates so.
func (p Plan) Known(all []Sweetener) Plan {
	p.Candidates = slices.Clone(p.Candidates)
	for i, c := range p.Candidates {
		p.Candidates[i] = c.Known(all)
	}
	return p
}

// MostCandidates is how many are looked at side by side.
const MostCandidates = 4

// Validate reports what is wrong with the plan, or nil.
func (p Plan) Validate() error {
	if err := plainText("name of the plan", p.Name, maxName, true); err != nil {
		return err
	}
	if n := len(p.Candidates); n < 1 || n > MostCandidates {
		return fmt.Errorf("a plan of %d candidates, want 1 to %d: %w", n, MostCandidates, ErrInvalid)
	}
	return nil
}

// Prices are what a kilogram of a sweetener costs, by its ID, in whatever money the
// person counts in.
type Prices map[string]float64

// With returns the prices with one more, or one fewer when it is 0.
func (p Prices) With(id string, perKilo float64) Prices {
	out := make(Prices, len(p)+1)
	for k, v := range p {
		out[k] = v
	}
	out[id] = perKilo
	if perKilo == 0 {
		delete(out, id)
	}
	return out
}

// ParsePrice understands a price a kilogram: 12, 12.50; empty or 0 is not known.
func ParsePrice(text string) (float64, error) {
	s := strings.TrimSpace(text)
	if s == "" {
		return 0, nil
	}
	x, rest, err := splitUnit(s)
	if err != nil || strings.TrimSpace(rest) != "" || !(x >= 0 && x <= 1e6) {
		return 0, fmt.Errorf("price %q is not understood; write what a kilogram costs, such as 12.50: %w", text, ErrInvalid)
	}
	return x, nil
}
