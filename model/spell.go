package model

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"cellar.local/glassrow/calc"
)

// DeviceReading is a gravity from a device that lies in the drink and reports by itself,
// every few minutes. A batch has thousands: they are a series, not entries. Its scale is
// made for 20 °C, whatever the person's hydrometer is made for.
type DeviceReading struct {
	At             time.Time
	Gravity        calc.SG // as the device gave it
	Temperature    calc.Celsius
	HasTemperature bool
}

// DeviceReadingOf takes a reading for one of a device. What only a person can have found
// is refused: that belongs in the journal.
func DeviceReadingOf(r Reading, at time.Time) (DeviceReading, error) {
	if err := r.Validate(); err != nil {
		return DeviceReading{}, err
	}
	besides := r
	besides.Gravity, besides.Temperature, besides.HasTemperature = 0, 0, false
	switch {
	case !besides.empty(), besides.Note != "":
		return DeviceReading{}, fmt.Errorf("a device's line holds a gravity and a temperature; the rest is for glassrow record LABEL: %w", ErrInvalid)
	case !r.HasGravity():
		return DeviceReading{}, fmt.Errorf("a device's line needs a gravity, such as 1.034@21c: %w", ErrInvalid)
	}
	return DeviceReading{At: at, Gravity: r.Gravity, Temperature: r.Temperature, HasTemperature: r.HasTemperature}, nil
}

// Reading returns it as a reading.
func (d DeviceReading) Reading() Reading {
	return Reading{Gravity: d.Gravity, Scale: ScaleSG, Calibration: DefaultCalibration,
		Temperature: d.Temperature, HasTemperature: d.HasTemperature}
}

// Validate reports what is wrong with the reading, or nil.
func (d DeviceReading) Validate() error {
	_, err := DeviceReadingOf(d.Reading(), d.At)
	return err
}

// DeviceReadings is what a device said of one batch.
type DeviceReadings struct {
	Batch    BatchID
	Readings []DeviceReading
}

// Taken is what became of readings of a device.
type Taken struct {
	Batch BatchID
	Added int
	There int // there was a reading of that moment already, and it stays
	Other int // of these, that said something else
}

// Spell is what a device said over a few hours: what is kept beside a series, so that
// nothing needs to read all of it. The middle of the readings is what counts of them,
// for a device in a live ferment is knocked about by bubbles.
type Spell struct {
	First, Last time.Time
	Readings    int

	Median, Low, High calc.SG // as the device gave them

	Temperature    calc.Celsius // the median; meaningful when HasTemperature
	HasTemperature bool
}

// SpellLength is how long a spell is. The first of a day begins at midnight UTC.
const SpellLength = 6 * time.Hour

// SpellStart returns when the spell of a moment began.
func SpellStart(t time.Time) time.Time { return t.UTC().Truncate(SpellLength) }

// SpellOf returns the spell of some readings; there is at least one.
func SpellOf(readings []DeviceReading) Spell {
	s := Spell{First: readings[0].At, Last: readings[0].At, Readings: len(readings)}
	gravities := make([]calc.SG, len(readings))
	var warm []calc.Celsius
	for i, r := range readings {
		if r.At.Before(s.First) {
			s.First = r.At
		}
		s.Last = later(s.Last, r.At)
		gravities[i] = r.Gravity
		if r.HasTemperature {
			warm = append(warm, r.Temperature)
		}
	}
	s.Median = middle(gravities)
	s.Low, s.High = gravities[0], gravities[len(gravities)-1]
	if len(warm) > 0 {
		s.Temperature, s.HasTemperature = middle(warm), true
	}
	return s
}

// SpellsOf cuts readings, in any order, into spells.
func SpellsOf(readings []DeviceReading) []Spell {
	sorted := slices.Clone(readings)
	slices.SortStableFunc(sorted, func(x, y DeviceReading) int { return x.At.Compare(y.At) })
	var all []Spell
	for from := 0; from < len(sorted); {
		to := from + 1
		for to < len(sorted) && SpellStart(sorted[to].At).Equal(SpellStart(sorted[from].At)) {
			to++
		}
		all = append(all, SpellOf(sorted[from:to]))
		from = to
	}
	return all
}

// middle sorts the values and returns the one in the middle; of two the lower, so that
// it is one that was read.
func middle[T cmp.Ordered](values []T) T {
	slices.Sort(values)
	return values[(len(values)-1)/2]
}

// At is the middle of the spell.
func (s Spell) At() time.Time { return s.First.Add(s.Last.Sub(s.First) / 2) }

// and joins two spells that follow each other, the medians weighed by their readings.
func (s Spell) and(next Spell) Spell {
	n, m := float64(s.Readings), float64(next.Readings)
	both := Spell{First: s.First, Last: next.Last, Readings: s.Readings + next.Readings,
		Median: s.Median + (next.Median-s.Median)*calc.SG(m/(n+m)),
		Low:    min(s.Low, next.Low), High: max(s.High, next.High),
		Temperature: s.Temperature, HasTemperature: s.HasTemperature}
	switch {
	case s.HasTemperature && next.HasTemperature:
		both.Temperature += (next.Temperature - s.Temperature) * calc.Celsius(m/(n+m))
	case next.HasTemperature:
		both.Temperature, both.HasTemperature = next.Temperature, true
	}
	return both
}

// How a series is thinned: as spells while gravity moves, else a point a day, and of
// what is longer ago than recentSpells a point a week (choices).
const (
	dayOfSpells  = 24 * time.Hour
	weekOfSpells = 7 * dayOfSpells
	recentSpells = 6 * weekOfSpells
	movingPoints = 3.0
	mostPoints   = 400 // of a thinned series, whatever it does
)

// thinned joins spells where gravity hardly moves, so that years of a series come to a
// few hundred points. A stretch that jumps about is not let make more: then moving
// means more.
func thinned(spells []Spell) []Spell {
	for moving := movingPoints; ; moving *= 2 {
		if out := thinnedBy(spells, moving); len(out) <= mostPoints || moving > 1000 {
			return out
		}
	}
}

func thinnedBy(spells []Spell, moving float64) []Spell {
	if len(spells) == 0 {
		return nil
	}
	newest := spells[len(spells)-1] // the gravity now, by itself
	recent := newest.Last.Add(-recentSpells)
	var out []Spell
	inBins(spells[:len(spells)-1], weekOfSpells, func(week []Spell) {
		if week[len(week)-1].Last.Before(recent) && steady(week, moving) {
			out = append(out, joinedSpells(week))
			return
		}
		inBins(week, dayOfSpells, func(day []Spell) {
			if steady(day, moving) {
				day = []Spell{joinedSpells(day)}
			}
			out = append(out, day...)
		})
	})
	return append(out, newest)
}

// inBins calls visit with the spells of each bin of time.
func inBins(spells []Spell, length time.Duration, visit func([]Spell)) {
	for from := 0; from < len(spells); {
		to := from + 1
		for to < len(spells) && spells[to].First.UTC().Truncate(length).Equal(spells[from].First.UTC().Truncate(length)) {
			to++
		}
		visit(spells[from:to])
		from = to
	}
}

// steady reports whether the medians lie within so many points.
func steady(spells []Spell, moving float64) bool {
	low, high := spells[0].Median, spells[0].Median
	for _, s := range spells {
		low, high = min(low, s.Median), max(high, s.Median)
	}
	return high.Points()-low.Points() < moving
}

func joinedSpells(spells []Spell) Spell {
	out := spells[0]
	for _, s := range spells[1:] {
		out = out.and(s)
	}
	return out
}
