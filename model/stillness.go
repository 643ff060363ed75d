package model

import (
	"math"
	"slices"
	"time"

	"cellar.local/glassrow/calc"
)

// course is the looks of a batch, made ready for questions about its slope.
type course struct {
	looks []look
	least float64 // days that readings must span to prove that it stands

	timed []calc.TimedGravity // the same, with those of one visit as one
	of    []int               // which look each of timed ends with
}

// How readings are taken together and how far back a slope may reach.
const (
	visitDays = 0.25   // readings closer than that are one visit and share its error
	farthest  = 1000.0 // days before the last reading that still count
	oddPoints = 4.0    // beyond both neighbours: no yeast does that
)

// courseOf returns the course of looks, of which there is at least one.
func courseOf(looks []look, least float64) course {
	c := course{looks: looks, least: least}
	if len(looks) == 0 {
		return c
	}
	last := looks[len(looks)-1].at
	c.timed = make([]calc.TimedGravity, 0, len(looks))
	c.of = make([]int, 0, len(looks))
	for i := 0; i < len(looks); {
		sum, n, from, sigma := 0.0, 0, i, calc.DeviceSigma
		for ; i < len(looks) && (i == from || from > 0 && daysBetween(looks[from].at, looks[i].at) < visitDays); i++ {
			sum, n = sum+looks[i].points, n+1
			if !looks[i].device {
				sigma = calc.TypicalSigma
			}
		}
		past := daysBetween(looks[i-1].at, last)
		if past > farthest {
			continue
		}
		c.timed = append(c.timed, calc.TimedGravity{At: calc.Hour(-24 * past), SG: calc.SG(1 + sum/float64(n)/1000), Sigma: sigma})
		c.of = append(c.of, i-1)
	}
	return c
}

// withoutOdd returns the looks without those that lie beyond both neighbours by more
// than a yeast and an unsteady hand can do, and what was left out. The first and the
// last have one neighbour and stay.
func withoutOdd(all []look) (kept, odd []look) {
	kept = all
	for {
		worst, at := oddPoints+1e-9, 0
		for i := 1; i+1 < len(kept); i++ {
			p, before, after := kept[i].points, kept[i-1].points, kept[i+1].points
			beyond := p - math.Max(before, after)
			if dip := math.Min(before, after) - p; dip > 2*oddPoints && i+2 < len(kept) {
				beyond = dip // else what came after may be a rise, and true
			}
			if beyond > worst {
				worst, at = beyond, i
			}
		}
		if at == 0 {
			slices.SortFunc(odd, func(a, b look) int { return a.at.Compare(b.at) })
			return kept, odd
		}
		odd = append(odd, kept[at])
		kept = slices.Delete(slices.Clone(kept), at, at+1)
	}
}

// stillStretch is a run of looks over which gravity stood still.
type stillStretch struct {
	from, to int     // looks
	level    float64 // their mean, in points
	days     float64
	readings int
}

// enough reports whether so many visits over so many days can prove that gravity
// stands: three over the least span or, since a blunder does not hit the same figure
// twice, two over twice that (the notes ask for three; a choice).
func (c *course) enough(visits int, days float64) bool {
	return visits >= 3 && days >= c.least-1e-6 || visits == 2 && days >= 2*c.least-1e-6
}

// still returns the longest stretch up to the last look in which gravity stood, by
// the rule of the diagnosis notes, section 5: the slope less than 0.0003 a day, and
// more than 0.0007 a day ruled out. A slow steady fall is none, however slow.
func (c *course) still() (stretch, bool) {
	s, ok := c.stillUpTo(len(c.timed) - 1)
	if !ok {
		return stretch{}, false
	}
	first, last := c.looks[s.from], c.looks[s.to]
	return stretch{fall: first.points - last.points, days: daysBetween(first.at, last.at), readings: s.readings}, true
}

// stillUpTo is still for the stretches that end with a visit.
func (c *course) stillUpTo(to int) (found stillStretch, ok bool) {
	tried := 0.0
	for from := to - 1; from >= 0; from-- {
		last := c.timed[to]
		span := float64(last.At-c.timed[from].At) / 24
		if math.Abs(float64(c.timed[from].SG-last.SG)) > 2*oddPoints/1000 {
			break
		}
		if !c.enough(to-from+1, span) || span < 1.1*tried {
			continue
		}
		tried = span
		if c.flat(from, to) {
			found, ok = c.stretchOf(from, to), true
		}
	}
	return found, ok
}

// flat reports whether gravity stood from one visit to another.
func (c *course) flat(from, to int) bool {
	slope, err := calc.SlopeOf(c.timed[from : to+1]...)
	if err != nil || !slope.Flat() || !c.level(from, to) {
		return false
	}
	fall := -float64(slope.PerDay) * float64(slope.Span) / 24 * 1000
	return !(slope.Falling() && fall > creepPoints) && !c.creeping(from, to, slope)
}

// level reports whether no visit lies off the mean of the stretch by more than an
// error of reading, nor the last one by enough to be news, nor the first one by enough
// to belong to the fall before.
func (c *course) level(from, to int) bool {
	mean := c.mean(from, to)
	for i := from; i <= to; i++ {
		if math.Abs(float64(c.timed[i].SG)-mean) > oddPoints/1000 {
			return false
		}
	}
	return to-from < 2 ||
		c.mean(from, to-1)-float64(c.timed[to].SG) < lagPoints/1000 &&
			float64(c.timed[from].SG)-c.mean(from+1, to) < creepPoints/1000
}

func (c *course) mean(from, to int) float64 {
	sum := 0.0
	for _, t := range c.timed[from : to+1] {
		sum += float64(t.SG)
	}
	return sum / float64(to-from+1)
}

// creepPoints is a fall that, going on at one pace, is not made of errors.
const creepPoints = 2.0

// creeping reports whether the time before moved at much the same pace, so that the
// two together show a slow fall which neither shows alone.
func (c *course) creeping(from, to int, now calc.Slope) bool {
	before := from
	for before > 0 && c.timed[from].At-c.timed[before].At < now.Span {
		before--
	}
	if before == from || now.PerDay >= 0 {
		return false
	}
	earlier, err := calc.SlopeOf(c.timed[before : from+1]...)
	if err != nil || earlier.PerDay >= 0 || earlier.PerDay < 2*now.PerDay {
		return false
	}
	whole, err := calc.SlopeOf(c.timed[before : to+1]...)
	return err == nil && whole.Falling() && -float64(whole.PerDay)*float64(whole.Span)/24*1000 > creepPoints
}

func (c *course) stretchOf(from, to int) stillStretch {
	first := c.of[from]
	return stillStretch{from: first, to: c.of[to], level: 1000 * (c.mean(from, to) - 1),
		days: float64(c.timed[to].At-c.timed[from].At) / 24, readings: to - from + 1}
}

// asRead returns the level of a stretch with what was added before it put back in.
func (c *course) asRead(s stillStretch) float64 {
	last := c.looks[s.to]
	return s.level + last.read - last.points
}

// stoodBefore returns the last stretch in which gravity stood before it fell by
// lagPoints to where it is now. now is the stretch it stands in at the moment, if it
// does: one that reaches back into the other is the same.
func (c *course) stoodBefore(now stretch, isStill bool) (stillStretch, bool) {
	n := len(c.timed)
	if n < 3 {
		return stillStretch{}, false
	}
	last := c.timed[n-1]
	for to := n - 2; to >= 1; to-- {
		if c.timed[to].SG-last.SG < (lagPoints-1.5)/1000 {
			continue // too near to where it is now to be before the fall
		}
		s, ok := c.shortStillUpTo(to)
		if !ok {
			continue
		}
		switch {
		case s.level-1000*float64(last.SG-1) < lagPoints-1e-9,
			c.looks[0].points-s.level < lagPoints, // it had not begun
			isStill && now.days >= float64(last.At-c.timed[to].At)/24:
			return stillStretch{}, false
		}
		long, _ := c.stillUpTo(to)
		if long.readings > 0 {
			s = long
		}
		return s, true
	}
	return stillStretch{}, false
}

// shortStillUpTo asks only of the shortest stretch that could prove anything.
func (c *course) shortStillUpTo(to int) (stillStretch, bool) {
	for from := to - 1; from >= 0; from-- {
		if math.Abs(float64(c.timed[from].SG-c.timed[to].SG)) > oddPoints/1000 {
			break
		}
		span := float64(c.timed[to].At-c.timed[from].At) / 24
		if c.enough(to-from+1, span) && c.flat(from, to) {
			return c.stretchOf(from, to), true
		}
		if span > 4*c.least {
			break
		}
	}
	return stillStretch{}, false
}

// lately returns the slope of the last readings: three visits or more over three
// days or more, at most ten days back.
func (c *course) lately() (calc.Slope, bool) {
	to := len(c.timed) - 1
	from := to
	for from > 0 && float64(-c.timed[from-1].At)/24 <= gapDays && (to-from < 2 || float64(-c.timed[from].At)/24 < paceDays) {
		from--
	}
	if to-from < 2 {
		return calc.Slope{}, false
	}
	slope, err := calc.SlopeOf(c.timed[from:]...)
	return slope, err == nil && float64(slope.Span)/24 >= paceDays
}

// decidesStill returns when one more reading like the last can prove that gravity
// stands; zero when there is nothing still to prove with.
func (c *course) decidesStill() time.Time {
	to := len(c.timed) - 1
	from := to
	for from > 0 && math.Abs(float64(c.timed[from-1].SG-c.timed[to].SG)) <= stillPoints/1000 {
		from--
	}
	return c.decidesFrom(from)
}

// decides is decidesStill for what was read since a moment.
func (c *course) decides(since time.Time) time.Time {
	if len(c.timed) == 0 {
		return since.Add(days(c.least))
	}
	return c.decidesFrom(0)
}

func (c *course) decidesFrom(from int) time.Time {
	to := len(c.timed) - 1
	last := c.looks[len(c.looks)-1].at
	at, err := calc.DecidesAt(c.timed[from:], calc.TypicalSigma, decisiveShare*calc.FlatError)
	if err != nil {
		return time.Time{}
	}
	wait := float64(at) / 24
	least := c.least
	if to == from {
		least = 2 * c.least // the two of them alone
	}
	wait = math.Max(wait, least+float64(c.timed[from].At)/24)
	return last.Add(days(math.Max(wait, 1)))
}

// decisiveShare leaves a reading that decides some room to wobble.
const decisiveShare = 0.9
