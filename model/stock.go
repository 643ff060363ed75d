package model

import (
	"fmt"
	"slices"
	"time"

	"cellar.local/glassrow/calc"
)

// Stock is the bottles of a batch: what was filled, what was taken, what is left, and
// how it tasted over time.
type Stock struct {
	Bottlings []Bottling // oldest first
	Openings  []Opening  // in the order they happened, from the first bottling on
	Filled    int
	Left      int

	standing []count // how many stood there after each change
}

// Bottling is bottles filled in one go, and what the drink was then.
type Bottling struct {
	Entry   EntryID
	At      time.Time
	Count   int
	Left    int // bottles are taken from the oldest bottling first
	Size    calc.Litre
	Closure string

	SG        calc.SG
	Strength  calc.PercentVol
	PlusMinus calc.PercentVol

	restarted bool // it was falling again
}

// Opening is bottles taken, tasted or not.
type Opening struct {
	Entry EntryID
	At    time.Time
	Tasted
}

// count is how many bottles there were from a moment on.
type count struct {
	at time.Time
	n  int
}

// Stock reckons the bottles from the live entries up to a moment. A journal that
// cannot be worked out still has its bottles, without their figures.
func (b Batch) Stock(until time.Time) Stock {
	var s Stock
	for _, e := range b.Live() {
		if e.At.After(until) {
			break
		}
		switch body := e.Body.(type) {
		case Bottle:
			s.fill(b, e, body)
		case Tasted:
			s.open(e, body)
		}
	}
	return s
}

func (s *Stock) fill(b Batch, e Entry, body Bottle) {
	filled := Bottling{Entry: e.ID, At: e.At, Count: body.Count, Left: body.Count, Size: body.Size, Closure: body.Closure}
	if at, err := b.Before(e.ID); err == nil {
		filled.SG, filled.Strength, filled.PlusMinus = at.SG(), at.Strength, at.PlusMinus
		filled.restarted = at.Standing == Restarting
	}
	s.Bottlings = append(s.Bottlings, filled)
	s.Filled += body.Count
	s.Left += body.Count
	s.standing = append(s.standing, count{e.At, s.Left})
}

// open takes bottles away. Of more than there were, which a journal mended later may
// claim, it takes what there was.
func (s *Stock) open(e Entry, body Tasted) {
	if len(s.Bottlings) == 0 {
		return // of the vessel
	}
	s.Openings = append(s.Openings, Opening{e.ID, e.At, body})
	take := body.Bottles
	for i := range s.Bottlings {
		n := min(take, s.Bottlings[i].Left)
		s.Bottlings[i].Left -= n
		s.Left -= n
		take -= n
	}
	s.standing = append(s.standing, count{e.At, s.Left})
}

// CanTake reports why n bottles cannot be taken at a moment, or nil: they must have
// been there then, and what was taken since must still have been there to take.
func (s Stock) CanTake(n int, at time.Time) error {
	least := 0
	for _, c := range s.standing {
		if c.at.After(at) {
			least = min(least, c.n)
		} else {
			least = c.n
		}
	}
	switch {
	case n <= least:
		return nil
	case s.Filled == 0:
		return fmt.Errorf("none of it is bottled: %w", ErrInvalid)
	case least == 0 && s.Left > 0:
		return fmt.Errorf("no bottle could be taken on %s: %w", at.Format("2 Jan 2006"), ErrInvalid)
	case least < s.Left:
		return fmt.Errorf("only %s could be taken on %s: %w", counted(least, "bottle"), at.Format("2 Jan 2006"), ErrInvalid)
	case s.Left == 0:
		return fmt.Errorf("no bottle is left of %d: %w", s.Filled, ErrInvalid)
	}
	return fmt.Errorf("%s: only %d of %d are left: %w", counted(n, "bottle"), s.Left, s.Filled, ErrInvalid)
}

// Oldest returns the bottling from which the next bottle comes, or the last one when
// none is left.
func (s Stock) Oldest() (Bottling, bool) {
	if len(s.Bottlings) == 0 {
		return Bottling{}, false
	}
	if i := slices.IndexFunc(s.Bottlings, func(b Bottling) bool { return b.Left > 0 }); i >= 0 {
		return s.Bottlings[i], true
	}
	return s.Bottlings[len(s.Bottlings)-1], true
}

// Marked returns the openings that were given a mark.
func (s Stock) Marked() []Opening {
	var out []Opening
	for _, o := range s.Openings {
		if o.Tasted.Marked {
			out = append(out, o)
		}
	}
	return out
}

// Best is when a batch was at its best, as far as its marks tell.
type Best struct {
	At    time.Time
	Mark  float64 // the highest or, of three marks and more, the highest average
	Marks int     // how many it rests on
	Last  bool    // it is the last of them, so it may become better still
}

// marksForAverage is from how many marks on one alone decides nothing.
const marksForAverage = 3

// Best returns when the batch was at its best: its highest mark or, from three marks
// on, the top of the average of each with the one before and the one after it, which
// takes the mood of an evening out. Fewer than two marks tell nothing. Of equals the
// earlier counts.
func (s Stock) Best() (Best, bool) {
	marked := s.Marked()
	if len(marked) < 2 {
		return Best{}, false
	}
	best := Best{Mark: -1, Marks: len(marked)}
	for i, o := range marked {
		mark := o.Mark
		if len(marked) >= marksForAverage {
			mark = averageMark(marked[max(0, i-1):min(len(marked), i+2)])
		}
		if mark > best.Mark {
			best.At, best.Mark, best.Last = o.At, mark, i == len(marked)-1
		}
	}
	return best, true
}

func averageMark(of []Opening) float64 {
	sum := 0.0
	for _, o := range of {
		sum += o.Mark
	}
	return sum / float64(len(of))
}

// Hazard is why closed bottles of a batch may burst.
type Hazard struct {
	Restarted bool              // it was falling again when they were filled, or what is left in the vessel falls
	Sugar     calc.GramPerLitre // that yeast could still eat and nothing written down keeps from it, bubbles aside
}

// Any reports whether there is anything to fear.
func (h Hazard) Any() bool { return h.Restarted || h.Sugar > 0 }

// BottleHazard tells whether bottles of the batch that are left may burst, by what they
// were when they were filled and what was done to them since. Sugar put in for bubbles
// is not counted against them: how much that may be, the fizz plan says.
func (b Batch) BottleHazard(stock Stock, now State, table calc.SorbateTable) (Hazard, error) {
	h := Hazard{Restarted: stock.Left > 0 && now.Standing == Restarting}
	for _, filled := range stock.Bottlings {
		if filled.Left == 0 {
			continue
		}
		h.Restarted = h.Restarted || filled.restarted
		then, err := b.Before(filled.Entry)
		if err != nil {
			return h, err
		}
		sugar, err := b.asFilled(filled.Entry).SugarAtRisk(then, table)
		if err != nil {
			return h, err
		}
		if sugar -= then.primedWith; sugar > harmlessSugar {
			h.Sugar = max(h.Sugar, sugar)
		}
	}
	return h, nil
}

// asFilled returns the journal of the bottles filled by an entry: what came before it,
// and how they were stabilised since. What was done to the rest in the vessel is not
// theirs.
func (b Batch) asFilled(id EntryID) Batch {
	var kept []Entry
	after, empty := false, false
	for _, e := range b.Live() {
		bottle, fills := e.Body.(Bottle)
		after = after || e.ID == id
		switch e.Body.(type) {
		case Stabilise:
			if !after || empty {
				kept = append(kept, e)
			}
		default:
			if !after {
				kept = append(kept, e)
			}
		}
		empty = empty || fills && !bottle.Rest
	}
	b.Entries = kept
	return b
}
