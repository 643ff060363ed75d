package model

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"cellar.local/glassrow/calc"
)

// RecipeDose is one feeding of what a recipe holds back: when gravity has come down to
// the mark, the parts go in.
type RecipeDose struct {
	Mark  calc.SG
	Parts []Dose
}

// usualLastMark is how far a must is let down before the last dose: nearly dry, while
// the yeast is still at work (common practice).
const usualLastMark calc.SG = 1.010

// Where the last mark can be.
const minLastMark, maxLastMark calc.SG = 0.990, 1.100

func (r Recipe) checkFeeding() error {
	switch {
	case r.Doses < 0 || r.Doses > maxFeedings:
		return fmt.Errorf("%d doses is outside 0 to %d: %w", r.Doses, maxFeedings, ErrInvalid)
	case r.Doses*r.held() > maxDoses:
		return fmt.Errorf("%d doses of %d things are more than %d; hold back fewer: %w", r.Doses, r.held(), maxDoses, ErrInvalid)
	case r.holds() != (r.Doses > 0):
		return fmt.Errorf("what is held back needs doses to be fed in, and doses something held back: %w", ErrInvalid)
	case r.Doses > 0 && !(r.Last >= minLastMark && r.Last <= maxLastMark):
		return fmt.Errorf("gravity mark %.4g of the last dose cannot be; want %.3f to %.3f: %w", float64(r.Last), float64(minLastMark), float64(maxLastMark), ErrInvalid)
	}
	return nil
}

// maxFeedings is more than anybody will walk to the cellar for.
const maxFeedings = 8

// held counts the ingredients of which some is held back.
func (r Recipe) held() int {
	n := 0
	for _, i := range r.Items {
		if i.Held > 0 {
			n++
		}
	}
	return n
}

func (r Recipe) holds() bool { return r.held() > 0 }

// Holding is how a person wants an ingredient to be fed.
type Holding struct {
	Share float64 // of it, held back at first; 0: none
	Doses int
	Last  calc.SG
}

// ParseHolding understands a share, in how many doses, and the gravity at which the
// last one goes in: 40% in 3 at 1.010. One dose and 1.010 may go without saying; 0 holds
// nothing back.
func ParseHolding(text string) (Holding, error) {
	h := Holding{Doses: 1, Last: usualLastMark}
	complaint := fmt.Errorf("%q is not understood; write a share, doses and the last mark, as in 40%% in 3 at 1.010: %w", text, ErrInvalid)
	words := strings.Fields(strings.ToLower(strings.ReplaceAll(text, "%", " ")))
	if len(words) == 0 {
		return h, complaint
	}
	x, err := strconv.ParseFloat(words[0], 64)
	if h.Share = x / 100; err != nil || !(h.Share >= 0 && h.Share <= maxHeld) {
		return h, fmt.Errorf("share in %q cannot be; write 40%%, 0 to %.0f: %w", text, 100*maxHeld, ErrInvalid)
	}
	if h.Share == 0 && len(words) == 1 {
		return Holding{}, nil
	}
	for i := 1; i < len(words); i++ {
		word := words[i]
		if word == "in" || word == "at" || word == "doses" || word == "dose" {
			continue
		}
		if n, err := strconv.Atoi(word); err == nil && n < 100 {
			h.Doses = n
			continue
		}
		if h.Last, err = ParseGravity(word); err != nil {
			return h, complaint
		}
	}
	if h.Doses < 1 || h.Doses > maxFeedings {
		return h, fmt.Errorf("%d doses in %q is outside 1 to %d: %w", h.Doses, text, maxFeedings, ErrInvalid)
	}
	if !(h.Last >= minLastMark && h.Last <= maxLastMark) {
		return h, fmt.Errorf("mark %.3f in %q cannot be; write a gravity of %.3f to %.3f: %w", float64(h.Last), text, float64(minLastMark), float64(maxLastMark), ErrInvalid)
	}
	return h, nil
}

// Text returns the holding as [ParseHolding] understands it.
func (h Holding) Text() string {
	if h.Share == 0 {
		return "0"
	}
	return fmt.Sprintf("%.4g%% in %d at %.4g", 100*h.Share, h.Doses, float64(h.Last))
}

// Holding returns how the i-th ingredient is fed.
func (r Recipe) Holding(i int) Holding {
	return Holding{Share: r.Items[i].Held, Doses: r.Doses, Last: r.Last}
}

// HoldingBack returns the recipe with so much of the i-th ingredient held back. All
// that is held back goes in together, dose by dose.
func (r Recipe) HoldingBack(i int, h Holding) (Recipe, error) {
	if i >= len(r.Items) || r.Items[i].Stuff.IsFruit() || r.Items[i].Stuff.IsAcid() {
		return r, fmt.Errorf("only sugar, honey and syrup can be held back and fed: %w", ErrInvalid)
	}
	r = r.put(i, r.Items[i].Mass)
	r.Items[i].Held = h.Share
	if h.Share > 0 {
		r.Doses, r.Last = h.Doses, h.Last
	}
	if !r.holds() {
		r.Doses, r.Last = 0, 0
	}
	return r, r.checkFeeding()
}

// Feeds returns the doses of what is held back from a must that begins at first. The
// marks lie evenly between that and the mark of the last dose [choice]: from 1.090 in
// three doses to 1.010 they are 1.063, 1.037 and 1.010. A must that begins below the
// last mark is an error.
func (r Recipe) Feeds(first calc.SG) ([]RecipeDose, error) {
	if r.Doses == 0 {
		return nil, nil
	}
	if first <= r.Last {
		return nil, fmt.Errorf("the must begins at %.4f, at or below the last mark %.4f; hold less back or lower the mark: %w", float64(first), float64(r.Last), ErrInvalid)
	}
	out := make([]RecipeDose, r.Doses)
	for k := range out {
		out[k].Mark = first - (first-r.Last)*calc.SG(k+1)/calc.SG(r.Doses)
		for _, i := range r.Items {
			if i.Held > 0 {
				out[k].Parts = append(out[k].Parts, Dose{i.Stuff.Sweetener, i.Fed() / calc.Gram(r.Doses)})
			}
		}
	}
	return out, nil
}

// roundTo rounds to parts of one: 1e4 is the fourth decimal, as a hydrometer is read.
func roundTo(x, parts float64) float64 { return math.Round(x*parts) / parts }
