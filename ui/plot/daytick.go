package plot

import (
	"math"
	"strconv"
	"time"
)

const (
	minute = 1.0 / (24 * 60)
	hour   = 1.0 / 24
	week   = 7.0
	month  = 30.0
	year   = 365.0
)

// dayLadder holds the steps, in days, that an axis of elapsed time may take.
var dayLadder = [...]float64{
	minute, 5 * minute, 10 * minute, 15 * minute, 30 * minute,
	hour, 2 * hour, 3 * hour, 6 * hour, 12 * hour,
	1, 2, week, 2 * week, month, 2 * month, 3 * month, 6 * month, year,
}

// DayTicks is the [Ticker] of elapsed time in days: minutes, hours, days,
// weeks, months of thirty days, and years of 365. The x axis uses it unless
// told otherwise.
func DayTicks(lo, hi float64, most int) (at []float64, step float64) {
	if most < 1 || !usable(lo) || !usable(hi) || (interval{lo, hi}).thin() || hi-lo < 2*minute {
		return NiceTicks(lo, hi, most)
	}
	most = min(most, maxSide)
	for _, step := range dayLadder {
		if at, ok := multiples(lo, hi, step, most); ok {
			return at, step
		}
	}
	years, step := NiceTicks(lo/year, hi/year, most)
	for i := range years {
		years[i] *= year
	}
	return years, step * year
}

// DayLabel writes v days in the unit that suits the step: "90m", "36h", "14d",
// "2y". It is how the x axis is labelled unless told otherwise.
func DayLabel(v, step float64) string {
	if !usable(v) {
		return ""
	}
	unit, name := 1.0, "d"
	switch {
	case step >= year:
		unit, name = year, "y"
	case step < hour*0.999:
		unit, name = minute, "m"
	case step < 0.999:
		unit, name = hour, "h"
	}
	n := math.Round(v/unit*100) / 100
	if n == 0 {
		return "0"
	}
	return strconv.FormatFloat(n, 'f', -1, 64) + name
}

// pace is a step of the calendar: so many of a unit.
type pace struct {
	n    int
	unit byte    // m minute, h hour, d day, M month, y year
	days float64 // about
}

var paces = [...]pace{
	{1, 'm', minute}, {5, 'm', 5 * minute}, {15, 'm', 15 * minute}, {30, 'm', 30 * minute},
	{1, 'h', hour}, {3, 'h', 3 * hour}, {6, 'h', 6 * hour}, {12, 'h', 12 * hour},
	{1, 'd', 1}, {2, 'd', 2}, {7, 'd', week}, {14, 'd', 2 * week},
	{1, 'M', month}, {2, 'M', 2 * month}, {3, 'M', 3 * month}, {6, 'M', 6 * month},
	{1, 'y', year}, {2, 'y', 2 * year}, {5, 'y', 5 * year}, {10, 'y', 10 * year}, {50, 'y', 50 * year},
}

// step returns the wall-clock time that is by steps after the last one at or
// before t. Weeks begin on Monday.
func (p pace) step(t time.Time, by int) time.Time {
	y, m, d := t.Date()
	switch p.unit {
	case 'm':
		return time.Date(y, m, d, t.Hour(), t.Minute()-t.Minute()%p.n+by*p.n, 0, 0, t.Location())
	case 'h':
		return time.Date(y, m, d, t.Hour()-t.Hour()%p.n+by*p.n, 0, 0, 0, t.Location())
	case 'd':
		// The first day of 1970 was a Thursday, three days into a week.
		since := int(time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Unix()/(24*3600)) + 3
		back := ((since % p.n) + p.n) % p.n
		return time.Date(y, m, d-back+by*p.n, 0, 0, 0, 0, t.Location())
	case 'M':
		return time.Date(y, m-time.Month((int(m)-1)%p.n)+time.Month(by*p.n), 1, 0, 0, 0, 0, t.Location())
	}
	return time.Date(y-y%p.n+by*p.n, 1, 1, 0, 0, 0, 0, t.Location())
}

// reach is how far from its origin, in days, a calendar axis can see: beyond
// that a time.Duration overflows.
const reach = 100_000

func atDay(origin time.Time, day float64) time.Time {
	return origin.Add(time.Duration(day * 24 * float64(time.Hour)))
}

// CalendarTicks returns a [Ticker] for an axis of days since origin whose
// ticks fall on the clock and the calendar of origin's place: midnights,
// Mondays, the first of a month.
func CalendarTicks(origin time.Time) Ticker {
	return func(lo, hi float64, most int) ([]float64, float64) {
		if most < 1 || !(-reach <= lo && lo < hi && hi <= reach) || hi-lo < 2*minute {
			return DayTicks(lo, hi, most)
		}
		most = min(most, maxSide)
		for _, p := range paces {
			if (hi-lo)/p.days > float64(most)+2 {
				continue
			}
			if at, ok := p.ticks(origin, lo, hi, most); ok {
				return at, p.days
			}
		}
		return nil, 0
	}
}

func (p pace) ticks(origin time.Time, lo, hi float64, most int) (at []float64, ok bool) {
	const slack = 1e-9
	t := p.step(atDay(origin, lo), 0)
	for range most + 4 {
		x := t.Sub(origin).Hours() / 24
		if x > hi+slack {
			return at, len(at) <= most
		}
		if x >= lo-slack {
			at = append(at, x)
		}
		t = p.step(t, 1)
	}
	return nil, false
}

// CalendarLabel returns a formatter that goes with [CalendarTicks]: "15:04",
// "2 Jan", "Jan" or "2006" as the step asks. January and midnight say which.
func CalendarLabel(origin time.Time) func(v, step float64) string {
	return func(v, step float64) string {
		if !(math.Abs(v) <= reach) {
			return ""
		}
		t := atDay(origin, v).Round(time.Second)
		layout := "2 Jan"
		switch midnight := t.Hour() == 0 && t.Minute() == 0; {
		case step < 1 && !midnight:
			layout = "15:04"
		case step >= year, step >= month && t.Month() == time.January:
			layout = "2006"
		case step >= month:
			layout = "Jan"
		}
		return t.Format(layout)
	}
}
