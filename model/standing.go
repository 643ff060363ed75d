package model

import (
	"fmt"
	"math"
	"time"
)

// Standing is what a batch, or a vessel, is doing now.
type Standing string

// The standings.
const (
	Lag     Standing = "lag"     // no drop to speak of yet
	Working Standing = "working" // fermenting
	Slowing Standing = "slowing" // falling at less than a third of its best pace
	Flat    Standing = "flat"    // no change that the readings could show
	Bottled Standing = "bottled" // out of the vessel
	Empty   Standing = "empty"   // a vessel with nothing in it
)

// Rules of the standing. Two readings of one instrument differ by chance by up to
// 1.4 points, so less than flatPoints over flatDays is no change.
const (
	lagPoints   = 3.0
	flatPoints  = 1.5
	flatDays    = 3.0
	slowShare   = 1.0 / 3
	dryGramsL   = 4.0 // the OIV limit for dry wine
	toleranceAt = 0.9 // share of the tolerance from which the yeast may be spent
)

// judge tells the standing of a batch and why.
func judge(s State) (Standing, []string) {
	if s.Vessel == 0 && s.Bottles > 0 {
		return Bottled, []string{fmt.Sprintf("%d bottles filled", s.Bottles)}
	}
	if s.Pitched.IsZero() {
		return Lag, []string{"no yeast pitched yet"}
	}
	curve := s.readSinceAddition()
	if drop := curve[0].SG.Points() - curve[len(curve)-1].SG.Points(); drop < lagPoints && len(curve) <= len(s.Curve) && !s.hasFallen() {
		return Lag, []string{fmt.Sprintf("%.0f points below the must so far", math.Max(0, drop))}
	}
	now, span := recentPace(curve)
	if span >= flatDays && math.Abs(now)*span <= flatPoints {
		return Flat, s.flatEvidence(now, span)
	}
	best := bestPace(s.Curve)
	if now < slowShare*best {
		return Slowing, []string{fmt.Sprintf("%.1f points a day, at best it made %.1f", now, best)}
	}
	return Working, []string{fmt.Sprintf("%.1f points a day", now)}
}

// hasFallen reports whether the batch has left the lag at any time.
func (s State) hasFallen() bool {
	lowest := math.Inf(1)
	for _, p := range s.Curve {
		lowest = math.Min(lowest, p.SG.Points())
	}
	return s.Original.Points()-lowest >= lagPoints
}

// readSinceAddition returns the curve from the last addition on; it is never
// empty after a must.
func (s State) readSinceAddition() []Point {
	from := 0
	for i, p := range s.Curve {
		if p.Computed {
			from = i
		}
	}
	return s.Curve[from:]
}

// recentPace returns the fall in points a day over the last readings, going back
// at least flatDays if there are that many, and the days it was taken over.
func recentPace(curve []Point) (pointsADay, days float64) {
	last := curve[len(curve)-1]
	for i := len(curve) - 2; i >= 0; i-- {
		days = daysBetween(curve[i].At, last.At)
		if days > 0 {
			pointsADay = (curve[i].SG.Points() - last.SG.Points()) / days
		}
		if days >= flatDays {
			break
		}
	}
	return pointsADay, days
}

// bestPace returns the steepest fall between two neighbouring readings at least
// half a day apart, in points a day.
func bestPace(curve []Point) float64 {
	best := 0.0
	for i := 1; i < len(curve); i++ {
		if days := daysBetween(curve[i-1].At, curve[i].At); days >= 0.5 {
			best = math.Max(best, (curve[i-1].SG.Points()-curve[i].SG.Points())/days)
		}
	}
	return best
}

func daysBetween(a, b time.Time) float64 { return b.Sub(a).Hours() / 24 }

// flatEvidence says what a flat batch has left to live on.
func (s State) flatEvidence(pace, span float64) []string {
	said := []string{fmt.Sprintf("%.1f points in %.0f days, less than a reading can tell", math.Abs(pace*span), span)}
	left := s.Figures.Fermentable
	switch {
	case !s.leftToEat():
		said = append(said, fmt.Sprintf("%.0f ± %.0f g/L of sugar the yeast could use: nothing left to eat, more yeast will not help", float64(left), float64(s.SugarPM)))
	case s.Tolerance > 0 && s.Strength >= toleranceAt*s.Tolerance:
		said = append(said, fmt.Sprintf("%.0f g/L of sugar left and %.1f %% vol, near what this yeast stands (%.1f)",
			float64(left), float64(s.Strength), float64(s.Tolerance)))
	default:
		said = append(said, fmt.Sprintf("%.0f g/L of sugar left at %.1f %% vol: read again, and look at warmth and nutrients",
			float64(left), float64(s.Strength)))
	}
	return said
}

// leftToEat reports whether there surely is sugar that the yeast could use: more
// than a dry drink keeps, the error bar taken off.
func (s State) leftToEat() bool { return s.Figures.Fermentable-s.SugarPM > dryGramsL }

// HasFood reports whether a flat batch still holds sugar its yeast should manage,
// which is when flat is trouble.
func (s State) HasFood() bool {
	return s.leftToEat() && (s.Tolerance == 0 || s.Strength < toleranceAt*s.Tolerance)
}
