package model

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"cellar.local/glassrow/calc"
)

// What is due, asked of a batch, a vessel and the whole shelf; and what doing it writes.

// Next returns the next thing due in the vessel, or the zero Due.
func (s Summary) Next() Due {
	if s.Vessel == 0 {
		return Due{}
	}
	for _, d := range s.Dues {
		if !d.Room {
			return d
		}
	}
	return Due{}
}

// fullEnough is the share of a vessel that needs no topping up (common practice: up to
// the neck).
const fullEnough = 0.9

// Dues returns what is due for the batch in this vessel, the earliest first.
func (r Row) Dues() []Due {
	full := r.InVessel()
	short := r.Vessel.Kind != Keg && full > 0 && full < fullEnough*r.Vessel.Capacity
	dues := make([]Due, 0, len(r.Batch.Dues))
	for _, d := range r.Batch.Dues {
		if d.Room {
			if !short {
				continue
			}
			d.Because = fmt.Sprintf("it is %.0f %% full: ", 100*float64(full/r.Vessel.Capacity)) + d.Because
		}
		dues = append(dues, d)
	}
	return dues
}

// Next returns the next thing due in the vessel, or the zero Due.
func (r Row) Next() Due {
	if dues := r.Dues(); r.Batch.Vessel != 0 && len(dues) > 0 {
		return dues[0]
	}
	return Due{}
}

// DueRow is something due and the batch it is for. A batch in no vessel any more has
// the zero Vessel.
type DueRow struct {
	Row Row
	Due Due
}

// Dues returns what is due in the whole cellar, the earliest first: bottles too.
func (s Shelf) Dues() []DueRow {
	vessels := make(map[VesselID]Vessel, len(s.Vessels))
	for _, v := range s.Vessels {
		vessels[v.ID] = v
	}
	var all []DueRow
	for _, b := range s.Batches {
		row := Row{Vessel: vessels[b.Vessel], Batch: b}
		for _, d := range row.Dues() {
			all = append(all, DueRow{row, d})
		}
	}
	return sorted(all, func(d DueRow) int64 { return d.Due.At.Unix() }, func(x, y *DueRow) int {
		return cmp.Or(x.Due.At.Compare(y.Due.At), CompareLabels(x.Row.Vessel.Label, y.Row.Vessel.Label), cmp.Compare(x.Row.Batch.Batch, y.Row.Batch.Batch))
	})
}

// Fulfil returns what to write down when the thing due with that key was done at a
// moment: the entry that says so where there is one, and a [Tick] otherwise.
func (b Batch) Fulfil(key string, at time.Time, food Nutrients) Body {
	if key == DueStir {
		return Stir{}
	}
	d, meal, ok := b.doseDue(key)
	if !ok {
		return Tick{Due: key}
	}
	body := meal.entry(d.plan, d.n)
	if _, feed := body.(Feed); feed {
		if f, err := b.Feeding(meal.What, meal.Mass, at, food, key); err == nil && f.Feed.Plan == d.plan && f.Feed.Dose == d.n {
			return f.Feed // with the nitrogen that it brings
		}
	}
	return body
}

// Settled returns entries, and behind them a [Tick] of what is due under a key if by the
// rules that would still be due: for what was done in another way than they look for.
func (b Batch) Settled(key string, entries ...Entry) []Entry {
	due := func(b Batch) (Due, bool) {
		dues := Summarise(b).Dues
		i := slices.IndexFunc(dues, func(d Due) bool { return d.Key == key })
		if i < 0 {
			return Due{}, false
		}
		return dues[i], true
	}
	was, _ := due(b)
	is, still := due(b.With(entries...))
	if !still || is.At.After(was.At) || len(entries) == 0 {
		return entries
	}
	last := entries[len(entries)-1]
	last.Body = Tick{Due: key}
	return append(entries[:len(entries):len(entries)], last)
}

// DoseGiven returns what to write down when so much was given of the dose that a key of
// something due means.
func (b Batch) DoseGiven(key string, mass calc.Gram) (Body, bool) {
	d, meal, ok := b.doseDue(key)
	meal.Mass = mass
	return meal.entry(d.plan, d.n), ok
}

// entry returns the feeding of a dose of a plan.
func (m Meal) entry(plan EntryID, dose int) Body {
	if m.Sugar.Mass() > 0 && m.Mass > 0 {
		return Addition{Portion: Portion{Ingredient: calc.Ingredient{Name: m.What, PerGram: m.Sugar}, Mass: m.Mass}, Purpose: "feed", Plan: plan, Dose: dose}
	}
	return Feed{What: m.What, Mass: m.Mass, Plan: plan, Dose: dose}
}
