package model

import (
	"fmt"
	"math"
	"time"

	"cellar.local/glassrow/calc"
)

func feedKey(plan EntryID, dose int) string { return fmt.Sprintf("%s:%d:%d", DueFeed, plan, dose+1) }

// feeds are the doses of the feed plans that nobody has given yet, as long as there is
// yeast at work to give them to.
func (d dueing) feeds() []occurrence {
	switch d.s.Standing {
	case Lag, Working, Slowing, Stuck, Rising:
	default:
		return nil
	}
	if d.s.Pitched.IsZero() {
		return nil
	}
	given := dosesGiven(d.live)
	var all []occurrence
	for _, e := range d.live {
		plan, ok := e.Body.(FeedPlan)
		if !ok {
			continue
		}
		for i, meal := range plan.Doses {
			if given[feedKey(e.ID, i)] {
				continue
			}
			if due, ok := d.meal(meal); ok {
				if due.At.Before(e.At) { // nobody was to give it before it was planned
					due.At = e.At
				}
				due.Key = feedKey(e.ID, i)
				due.Because = doseOf(i, len(plan.Doses)) + ": " + due.Because
				all = append(all, occurrence{Due: due})
			}
		}
	}
	return all
}

// meal tells when a dose is due: when gravity has come to its mark or its time has
// passed, whichever is first. A mark that lies ahead is foretold from the pace of the
// last days; without a pace, and without a time, nothing is told yet.
func (d dueing) meal(m Meal) (Due, bool) {
	due := Due{What: "feed " + m.What}
	if m.Mass > 0 {
		due.What = fmt.Sprintf("feed %.3g g %s", float64(m.Mass), m.What)
	}
	if m.After > 0 {
		due.At = d.s.Pitched.Add(m.After)
		due.Because = daysText(m.After.Hours()/24) + " after the yeast went in"
	}
	if m.Mark == 0 {
		return due, m.After > 0
	}
	mark := fmt.Sprintf("%.3f", float64(m.Mark))
	if d.atThird(m.Mark) {
		mark += ", a third of the way"
	}
	if at, passed := d.passed(m.Mark); passed {
		if due.At.IsZero() || at.Before(due.At) {
			due.At, due.Because = at, "gravity has come down to "+mark
		}
		return due, true
	}
	if at, ok := d.foretold(m.Mark); ok && (due.At.IsZero() || at.Before(due.At)) {
		due.At, due.Because = at, "at its pace gravity comes to about "+mark+" then; read it first"
	}
	return due, !due.At.IsZero()
}

// atThird reports whether a mark is the one at a third of the drop to 1.000; see
// [calc.FeedSplit].
func (d dueing) atThird(mark calc.SG) bool {
	third := d.s.Original.Points() * 2 / 3
	return math.Abs(mark.Points()-third) < 1
}

// passed returns when gravity was first read at a mark or below.
func (d dueing) passed(mark calc.SG) (time.Time, bool) {
	for _, p := range d.s.Curve {
		if !p.Computed && !p.At.Before(d.s.Pitched) && p.SG <= mark {
			return p.At, true
		}
	}
	return time.Time{}, false
}

// foretold returns when gravity comes to a mark at the pace of the last days.
func (d dueing) foretold(mark calc.SG) (time.Time, bool) {
	all := d.s.looks()
	if len(all) < 2 {
		return time.Time{}, false
	}
	now, _ := lastStretch(all)
	last := all[len(all)-1]
	if now.still() || now.pace() <= 0 {
		return time.Time{}, false
	}
	return last.at.Add(days((last.read - mark.Points()) / now.pace())), true
}
