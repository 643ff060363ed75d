package model

import (
	"fmt"
	"math"
	"strconv"
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
// 1.4 points, so less than flatPoints over flatDays is no change. The days are
// those of the diagnosis notes, sections 2 and 5: yeast that has done nothing for
// three has not started, and stuck takes four to say.
const (
	lagPoints   = 3.0
	lagDays     = 3.0
	flatPoints  = 1.5
	flatDays    = 3.0
	stuckDays   = 4.0
	creepPoints = 2.0
	slowShare   = 1.0 / 3
	dryGramsL   = 4.0 // the OIV limit for dry wine
	toleranceAt = 0.9 // share of the tolerance from which the yeast may be spent
)

// judge tells the standing of a batch and why.
func (s *State) judge() (Standing, []string) {
	if s.Vessel == 0 && s.Bottles > 0 {
		return Bottled, []string{counted(s.Bottles, "bottle") + " filled"}
	}
	if s.Pitched.IsZero() {
		return Lag, []string{"no yeast pitched yet"}
	}
	standing, why := s.judgeLooks(s.looks())
	if s.unpitched {
		why = append(why, "it works without yeast in the journal: write the pitch down, with its time, if there was one")
	}
	return standing, why
}

// judgeLooks tells the standing by what was read since the pitch.
func (s *State) judgeLooks(all []look) (Standing, []string) {
	if len(all) < 2 {
		return Lag, []string{"no gravity read since the yeast went in"}
	}
	last := all[len(all)-1]
	if all[0].points-lowest(all) < lagPoints {
		return Lag, s.lagEvidence(all[0].points-last.points, daysBetween(s.Pitched, last.at))
	}
	recent := all
	if !s.fed.IsZero() {
		recent = looksAfter(all, s.fed) // food that came later says nothing of how it stood before
		if fall := all[len(all)-len(recent)].points - last.points; isFlat(looksUntil(all, s.fed)) && fall < lagPoints && !isFlat(recent) {
			return Lag, []string{"it was flat before it was fed; " + dropped(fall, "down since")}
		}
	}
	if isFlat(recent) {
		still := stillStretch(recent)
		s.stillDays = still.days
		return Flat, s.flatEvidence(still)
	}
	now, _ := lastStretch(all)
	best := bestPace(all)
	why := s.paceEvidence(now, best)
	if s.eatsSweetening(all) {
		why = append(why, "it falls since it was sweetened, so living yeast is at the sugar: not for sealed bottles yet")
	}
	if best > 0 && now.pace() < slowShare*best {
		return Slowing, why
	}
	return Working, why
}

// isFlat reports whether the last looks show no change.
func isFlat(looks []look) bool {
	if len(looks) < 2 {
		return false
	}
	s, _ := lastStretch(looks)
	return s.days >= flatDays && s.still() && !creeping(looks)
}

// eatsSweetening reports whether gravity has fallen since the batch was sweetened.
func (s *State) eatsSweetening(all []look) bool {
	if s.sweetened.IsZero() {
		return false
	}
	since := looksAfter(all, s.sweetened)
	return since[0].points-since[len(since)-1].points >= lagPoints
}

func (s *State) lagEvidence(drop, days float64) []string {
	said := []string{dropped(drop, "below the must so far")}
	if s.notStarted = days >= lagDays && s.hasFood(); s.notStarted {
		said = append(said, fmt.Sprintf("%.0f days after the pitch it should be falling: look at warmth, and whether the yeast was alive", days))
	}
	return said
}

func (s *State) paceEvidence(now stretch, best float64) []string {
	switch {
	case now.fall < -flatPoints:
		return []string{fmt.Sprintf("%s up in %s with nothing added: read again; sugar from fruit or an addition not written down would do it",
			points(-now.fall), daysText(now.days))}
	case now.days < flatDays && now.still():
		return []string{fmt.Sprintf("%s in %s, too short to tell: readings three days apart will show whether it has stopped", points(now.fall), daysText(now.days))}
	case best > 0 && now.pace() < slowShare*best:
		return []string{fmt.Sprintf("%.1f points a day, at best it made %.1f", now.pace(), best)}
	}
	return []string{fmt.Sprintf("%.1f points a day", now.pace())}
}

// flatEvidence says what a flat batch has left to live on.
func (s *State) flatEvidence(now stretch) []string {
	said := []string{fmt.Sprintf("%s in %s, less than a reading can tell", points(math.Abs(now.fall)), daysText(now.days))}
	if math.Abs(now.fall) < 0.05 {
		said[0] = "no change in " + daysText(now.days)
	}
	left := fmt.Sprintf("%.0f ± %.0f g/L of sugar left", float64(s.Figures.Fermentable), float64(s.SugarPM))
	switch {
	case s.HasFood():
		if s.Tolerance > 0 {
			left += fmt.Sprintf(" though this yeast stands %.1f %% vol", float64(s.Tolerance))
		}
		return append(said, left, "read again first; then look at warmth and nutrients")
	case min(s.keptSweet, s.Figures.Fermentable) >= noticeableSugar && !s.leftToEat():
		if len(looksAfter(s.looks(), s.sweetened)) < 2 {
			return append(said, left+", what it was sweetened with; read it again in a few days, for living yeast can wake")
		}
		return append(said, left+", what it was sweetened with: still so far, yet living yeast can wake")
	case s.Figures.Fermentable-s.SugarPM <= dryGramsL:
		said = append(said, "at most "+fmt.Sprintf("%.0f", float64(s.Figures.Fermentable+s.SugarPM))+
			" g/L of sugar is left to the yeast: nothing left to eat, more yeast will not help")
		if body := s.Figures.Extract - s.Figures.Fermentable; s.SG() > 1 && body > 0 {
			said = append(said, fmt.Sprintf("what holds it at %.3f is %.0f g/L that yeast cannot eat", float64(s.SG()), float64(body)))
		}
		return said
	case !s.leftToEat():
		return append(said, left+", of kinds that many yeasts leave: more yeast will hardly help")
	}
	return append(said, fmt.Sprintf("%s at %.1f %% vol, near what this yeast stands (%.1f): it may well be done",
		left, float64(s.Strength), float64(s.Tolerance)))
}

// leftToEat reports whether there surely is sugar that the yeast could use: more
// than a dry drink keeps, the error bar taken off.
func (s *State) leftToEat() bool { return s.sureFood-s.SugarPM > dryGramsL }

func (s *State) hasFood() bool {
	return s.leftToEat() && (s.Tolerance == 0 || s.Strength < toleranceAt*s.Tolerance)
}

// HasFood reports whether a flat batch still holds sugar its yeast should manage,
// which is when flat is trouble.
func (s State) HasFood() bool { return s.hasFood() }

// trouble reports whether somebody should look at the batch: it is stuck, or never
// started.
func (s *State) trouble() bool {
	return s.Standing == Flat && s.hasFood() && s.stillDays >= stuckDays || s.Standing == Lag && s.notStarted
}

// dropped says a fall in whole points, or that there is none yet.
func dropped(fall float64, below string) string {
	if fall < 0.5 {
		return "no drop yet"
	}
	return points(math.Round(fall)) + " " + below
}

// points says a number of points: 1 point, 2.4 points.
func points(x float64) string {
	s := strconv.FormatFloat(math.Round(x*10)/10+0, 'f', -1, 64)
	if s == "1" {
		return "1 point"
	}
	return s + " points"
}

// daysText says a time of some days: 18 hours, 3 days.
func daysText(days float64) string {
	if days < 2 {
		return counted(int(math.Round(days*24)), "hour")
	}
	return counted(int(math.Round(days)), "day")
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return strconv.Itoa(n) + " " + what + "s"
}
