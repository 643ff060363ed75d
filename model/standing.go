package model

import (
	"fmt"
	"math"
	"time"
)

// Standing is what a batch, or a vessel, is doing now.
type Standing string

// The standings. Where the diagnosis notes are silent the lines are drawn here.
const (
	// Lag is yeast that shows nothing yet: less than three points below the must, or
	// below where it stood when it was fed.
	Lag Standing = "lag"

	// Working is a ferment at its pace.
	Working Standing = "working"

	// Slowing is one that falls at less than a third of its best pace, or surely at
	// less than 0.35 of what the model expects of such a must; and one whose last
	// readings show no fall without proving yet that it stands.
	Slowing Standing = "slowing"

	// Stuck is proven to stand, with sugar left that this yeast should manage.
	Stuck Standing = "stuck"

	// Done is proven to stand with nothing left to eat, or with its yeast at the
	// alcohol it stands; the evidence says which.
	Done Standing = "done"

	// Restarting is a batch that falls after it was done, stabilised or sweetened. It
	// is a hazard to whatever it is sealed in.
	Restarting Standing = "restarting"

	// Rising is a gravity up with nothing written down that would raise it: sugar out
	// of fruit, an addition not written down, or a misreading.
	Rising Standing = "rising"

	// Resting is done, and since then racked off its lees or proven still for three
	// weeks: it ages.
	Resting Standing = "resting"

	// Stable is done and will not start by itself: stabilised in a way that holds, or
	// still for sixty days with nothing left that yeast could eat.
	Stable Standing = "stable"

	// Conditioning is primed: sugar stirred in to carbonate a batch that was done, in
	// its keg or in bottles, until the readings stand still again or, in bottles,
	// until something is written down three weeks after.
	Conditioning Standing = "conditioning"

	Bottled Standing = "bottled" // out of the vessel
	Empty   Standing = "empty"   // a vessel with nothing in it
)

// Standings returns every standing in the order of a batch's life.
func Standings() []Standing {
	return []Standing{Lag, Working, Slowing, Stuck, Done, Restarting, Rising, Resting, Stable, Conditioning, Bottled, Empty}
}

// Verdict is what a batch is doing, why, and what would change the answer. The words
// are plain and short, one thought a line.
type Verdict struct {
	Standing Standing
	Evidence []string
	RuledOut []string // what it is not, and why
	Causes   []Cause  // of trouble, the one to look at first in front

	// Decides is when the next reading will tell what Question asks; zero when
	// nothing is open.
	Decides  time.Time
	Question string
}

// Cause is something that may be wrong.
type Cause struct {
	What  string // a misreading, cold, too little nitrogen
	Clue  string // what in the journal speaks for it
	Check string // what to look at or do first
}

// Rules of the standing. Two readings of one instrument differ by chance by up to
// 1.4 points, so less than stillPoints is no change. The days are those of the
// diagnosis notes, sections 2 and 5.
const (
	lagPoints   = 3.0 // points below the must: more than two readings differ by
	lagDays     = 3.0 // yeast that did nothing for so long, at 15 °C or more, has not started
	lagTimes    = 3.0 // or for so many times its usual lag, if that is longer
	stillPoints = 1.5
	paceDays    = 3.0 // over which a pace is taken
	slowShare   = 1.0 / 3
	slowExpect  = 0.35 // of what the model expects
	dryGramsL   = 4.0  // the OIV limit for dry wine
	toleranceAt = 0.9  // share of the tolerance from which the yeast may be spent
	risePoints  = 3.0
	newsPoints  = 12.0 // so far below a standstill it is old news (choice)
	mixingDays  = 1.0  // choice: until then a reading says little of what was stirred in
	restDays    = 21.0 // choice: three weeks still
	stableDays  = 60.0 // choice: two months still and dry
	primedDays  = 21.0 // choice: what bottles take to carbonate in a warm room
)

// judge tells the standing of a batch.
func (s *State) judge() Verdict {
	v := s.verdict()
	s.sayDevice(&v)
	if s.unpitched {
		v.Evidence = append(v.Evidence, "it works without yeast in the journal: write the pitch down, with its time, if there was one")
	}
	return v
}

func (s *State) verdict() Verdict {
	switch {
	case s.Vessel == 0 && s.Bottles > 0:
		return s.inBottles()
	case s.gone:
		return Verdict{Standing: Empty, Evidence: []string{"the last of it was drawn off"}}
	case s.Pitched.IsZero():
		return Verdict{Standing: Lag, Evidence: []string{"no yeast pitched yet"}}
	}
	all, odd := withoutOdd(s.looks())
	v := s.judgeLooks(all)
	if said := s.givenByFruit(all); said != "" && v.Standing != Rising {
		v.Evidence = append(v.Evidence, said)
	}
	strays := 0
	for _, o := range odd {
		if o.device {
			strays++
			continue
		}
		v.Evidence = append(v.Evidence, fmt.Sprintf("left out: %.3f of %s, far from the readings around it",
			1+o.read/1000, o.at.Format("2 Jan")))
	}
	if strays > 0 {
		v.Evidence = append(v.Evidence, "left out: the device "+counted(strays, "time")+", far from what it said before and after")
	}
	return v
}

func (s *State) inBottles() Verdict {
	filled := counted(s.Bottles, "bottle") + " filled"
	if s.primed.IsZero() || daysBetween(s.primed, s.lastEntry) >= primedDays {
		return Verdict{Standing: Bottled, Evidence: []string{filled}}
	}
	return Verdict{Standing: Conditioning, Evidence: []string{filled + ", primed"},
		Decides: s.primed.Add(days(primedDays)), Question: "whether it has its bubbles: open one, cold"}
}

// judgeLooks tells the standing by what was read since the pitch.
func (s *State) judgeLooks(all []look) Verdict {
	if len(all) < 2 {
		return s.lagging(0, 0, "no gravity read since the yeast went in")
	}
	c := courseOf(all, s.leastStillDays())
	last := all[len(all)-1]
	still, isStill := c.still()
	if !s.primed.IsZero() {
		primed := courseOf(looksAfter(all, s.primed), c.least)
		if still, isStill = primed.still(); !isStill || len(primed.looks) < 3 {
			return s.conditioning(primed)
		}
		return s.standsStill(still)
	}
	if v, ok := s.restarting(c, still, isStill); ok {
		return v
	}
	low := lowest(all[:len(all)-1])
	if up := last.points - low; up >= risePoints-1e-9 && !isStill {
		return s.rising(all, up)
	}
	if fall := all[0].points - lowest(all); fall < lagPoints {
		return s.lagging(all[0].points-last.points, daysBetween(s.Pitched, last.at), "")
	}
	if !s.fed.IsZero() {
		// Food that came later says nothing of how it stood before.
		before, since := courseOf(looksUntil(all, s.fed), c.least), courseOf(looksAfter(all, s.fed), c.least)
		_, stoodBefore := before.still()
		still, isStill = since.still()
		if fall := since.looks[0].points - last.points; stoodBefore && fall < lagPoints && !isStill {
			return s.lagAfterFeed(since, fall)
		}
	}
	if isStill {
		return s.standsStill(still)
	}
	return s.moving(c)
}

// leastStillDays returns over how many days readings must span to prove that a batch
// stands: five, and three for beer that is read at 18 °C or more (diagnosis notes,
// section 5).
func (s *State) leastStillDays() float64 {
	if t, ok := s.lastWarmth(); ok && s.drink == Beer && t >= 18 {
		return 3
	}
	return 5
}

// lagging is a batch that shows nothing yet.
func (s *State) lagging(drop, past float64, said string) Verdict {
	if said == "" {
		said = dropped(drop, "below the must so far")
	}
	v := Verdict{Standing: Lag, Evidence: []string{said}}
	usual := s.usualLag()
	late := math.Max(lagDays, lagTimes*usual)
	if s.notStarted = past >= late && s.hasFood(); s.notStarted {
		v.Evidence = append(v.Evidence, fmt.Sprintf("%.0f days after the pitch it should be falling: look at warmth, and whether the yeast was alive", past))
		v.Causes = s.causes(true)
		return v
	}
	if s.hasFood() {
		v.RuledOut = []string{fmt.Sprintf("dead yeast: too early to say, a lag of %s is usual", daysText(usual))}
		v.Decides, v.Question = s.Pitched.Add(days(late)), "whether the yeast has started"
	}
	return v
}

// usualLag returns h0/µmax at the warmth of the batch, in days (diagnosis notes,
// section 2: 12.7 h at 20 °C).
func (s *State) usualLag() float64 {
	t, ok := s.lastWarmth()
	if !ok {
		t = typicalWarmth
	}
	return 12.7 / 24 * math.Exp(-0.0782*float64(t-20))
}

// lagAfterFeed is a batch that stood, was given food and has not taken it up yet.
func (s *State) lagAfterFeed(since course, fall float64) Verdict {
	v := Verdict{Standing: Lag, Evidence: []string{"it stood before it was fed; " + dropped(fall, "down since")}}
	v.Decides, v.Question = since.decides(s.fed), "whether it takes the food"
	return v
}

// conditioning is a primed batch in its vessel, with what was read since.
func (s *State) conditioning(since course) Verdict {
	v := Verdict{Standing: Conditioning, Evidence: []string{"primed with " + gramsPerLitre(s.primedWith) + " of sugar for its bubbles"}}
	if n := len(since.looks) - 1; n > 0 {
		v.Evidence = append(v.Evidence, dropped(since.looks[0].points-since.looks[n].points, "down since"))
	}
	v.RuledOut = []string{"restarting: the fall is meant, in a vessel made for pressure"}
	v.Decides, v.Question = s.primed.Add(days(primedDays)), "whether the priming sugar is gone"
	return v
}

// moving is a ferment under way, at its pace or slower.
func (s *State) moving(c course) Verdict {
	now, _ := lastStretch(c.looks)
	best := bestPace(c.looks)
	v := Verdict{Standing: Working}
	switch {
	case now.days < paceDays && now.still():
		v.Evidence = []string{fmt.Sprintf("%s in %s, too short to tell", points(now.fall), daysText(now.days))}
	case now.still():
		v.Evidence = []string{fmt.Sprintf("%s in %s, less than a reading can tell", points(math.Abs(now.fall)), daysText(now.days))}
	case best > 0 && now.pace() < slowShare*best:
		v.Evidence = []string{fmt.Sprintf("%.1f points a day, at best it made %.1f", now.pace(), best)}
	default:
		v.Evidence = []string{fmt.Sprintf("%.1f points a day", now.pace())}
	}
	if best > 0 && now.pace() < slowShare*best {
		v.Standing = Slowing
	}
	if stood, ok := c.stoodBefore(stretch{}, false); ok {
		s.movesSince = c.looks[stood.to].at
		if fall := stood.level - c.looks[len(c.looks)-1].points; fall <= newsPoints {
			v.Evidence = append(v.Evidence, fmt.Sprintf("it moves again: before, it stood at %.3f for %s",
				1+c.asRead(stood)/1000, daysText(daysBetween(c.looks[stood.from].at, s.movesSince))))
		}
	}
	if now.still() {
		v.Evidence = append(v.Evidence, s.leaning())
		v.Decides, v.Question = c.decidesStill(), "whether it has stopped or only creeps"
		return v
	}
	if expected, slow := s.sluggish(c); slow {
		v.Standing = Slowing
		v.Evidence = append(v.Evidence, fmt.Sprintf("such a must would make about %.1f", expected))
		v.Causes = s.causes(true)
		v.RuledOut = []string{"stuck: it still falls"}
	}
	return v
}

// leaning says what a batch would be that proves to stand.
func (s *State) leaning() string {
	switch {
	case s.held():
		return s.sugarLeft() + ", kept by what was done: stable, should it prove to stand"
	case s.hasFood():
		return s.sugarLeft() + ": stuck, should it prove to stand"
	case s.leftToEat():
		return s.sugarLeft() + ", near the alcohol its yeast stands: likely done"
	}
	return "little left to eat: likely done"
}

// sluggish reports whether gravity surely falls at less than slowExpect of what the
// model expects of the liquid as it is, and returns that, in points a day.
func (s *State) sluggish(c course) (expected float64, slow bool) {
	slope, ok := c.lately()
	if !ok || !s.leftToEat() || s.held() {
		return 0, false
	}
	rate, err := s.expectedRate()
	if err != nil {
		return 0, false
	}
	expected = -1000 * float64(rate)
	most := -1000 * float64(slope.PerDay-1.645*slope.Error)
	return expected, expected > 1 && most < slowExpect*expected
}

// leftToEat reports whether there surely is sugar that the yeast could use: more
// than a dry drink keeps, the error bar taken off.
func (s *State) leftToEat() bool { return s.sureFood-s.SugarPM > dryGramsL }

func (s *State) hasFood() bool {
	return s.leftToEat() && (s.Tolerance == 0 || s.Strength < toleranceAt*s.Tolerance)
}

// HasFood reports whether the batch still holds sugar its yeast should manage: a
// batch that stands with it is stuck.
func (s State) HasFood() bool { return s.hasFood() }

// trouble reports whether somebody should look at the batch whatever the calendar
// says: it is stuck, never started, or is a hazard.
func (s *State) trouble() bool {
	return s.Standing == Stuck || s.Standing == Restarting || s.Standing == Lag && s.notStarted
}
