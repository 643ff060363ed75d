package model

import (
	"math"
	"time"
)

// look is a gravity read since the yeast went in, in points, with what additions
// did to it taken out again: on such a curve only the yeast makes gravity fall.
type look struct {
	at     time.Time
	points float64
	read   float64 // the points as they were read
	device bool    // by a device
}

// looks returns what was read since the pitch, after the gravity then, which is
// the first. Additions are not among them, since nothing was read.
func (s State) looks() []look {
	var out []look
	added := 0.0 // by what was stirred in, and by fruit
	for _, p := range s.Curve {
		if !p.At.After(s.Pitched) {
			out = []look{{at: s.Pitched, points: p.SG.Points(), read: p.SG.Points(), device: p.Device}}
			continue
		}
		added += p.added + p.juice
		if !p.Computed {
			out = append(out, look{p.At, p.SG.Points() - added, p.SG.Points(), p.Device})
		}
	}
	return out
}

// looksAfter returns the looks after a moment, the last one before it brought
// forward to begin with.
func looksAfter(all []look, t time.Time) []look {
	first := len(looksUntil(all, t)) - 1
	if first < 0 {
		return all
	}
	return append([]look{{t, all[first].points, all[first].read, all[first].device}}, all[first+1:]...)
}

// looksUntil returns the looks up to a moment.
func looksUntil(all []look, t time.Time) []look {
	n := 0
	for n < len(all) && !all[n].at.After(t) {
		n++
	}
	return all[:n]
}

// lowest returns the least of the looks, in points.
func lowest(looks []look) float64 {
	low := math.Inf(1)
	for _, l := range looks {
		low = math.Min(low, l.points)
	}
	return low
}

// stretch is how far gravity fell over some days.
type stretch struct {
	fall     float64 // points
	days     float64
	readings int // where they count
}

// How to look back. Over less than shortestDays the error of two readings is as much
// as a fermentation; and a fall before a gap of gapDays says nothing of today when
// there are readings after it.
const (
	shortestDays = 0.75
	gapDays      = 10.0
)

// pace returns the fall in points a day.
func (s stretch) pace() float64 { return s.fall / math.Max(s.days, shortestDays) }

// lastStretch returns the shortest stretch at the end that spans paceDays, or all
// there is, and the index at which it begins.
func lastStretch(looks []look) (s stretch, from int) {
	last := looks[len(looks)-1]
	from = len(looks) - 1
	for i := from - 1; i >= 0 && s.days < paceDays; i-- {
		further := stretch{fall: looks[i].points - last.points, days: daysBetween(looks[i].at, last.at)}
		if s.days >= shortestDays && further.days-s.days > gapDays && !further.still() {
			break
		}
		s, from = further, i
	}
	return s, from
}

// still reports whether two readings of the same gravity may differ by so much.
func (s stretch) still() bool { return math.Abs(s.fall) <= stillPoints }

// bestPace returns the steepest fall, in points a day, between two looks that are
// at least shortestDays apart.
func bestPace(looks []look) float64 {
	best := 0.0
	from := 0
	for _, l := range looks {
		for ; daysBetween(looks[from].at, l.at) >= shortestDays; from++ {
			s := stretch{fall: looks[from].points - l.points, days: daysBetween(looks[from].at, l.at)}
			best = math.Max(best, s.pace())
		}
	}
	return best
}

func daysBetween(a, b time.Time) float64 { return b.Sub(a).Hours() / 24 }
