package model

import (
	"fmt"
	"strconv"
	"strings"
	"time"
)

// ParseWhen understands a moment in the past as people say it, reckoned from
// now and in now's time zone:
//
//	now   2d   6h   30m   3w       so long ago ("2d ago" too)
//	today   yesterday              at this time of day
//	20nov   20nov2025   2026-11-20 at noon, or now if that is still to come today
//	18:30   yesterday-18:30        at that time of day
//	2026-11-20T18:30   and RFC 3339 with a zone
//
// A moment later than now is an error: the journal is what happened.
func ParseWhen(text string, now time.Time) (time.Time, error) {
	t, ok := parseWhen(strings.ToLower(strings.TrimSpace(text)), now)
	if !ok {
		return time.Time{}, fmt.Errorf("time %q is not understood; write 2d, yesterday, 18:30, 20nov or 2026-11-20T18:30: %w", text, ErrInvalid)
	}
	if t.After(now.Add(time.Minute)) {
		return time.Time{}, fmt.Errorf("time %q is in the future: %w", text, ErrInvalid)
	}
	if t.Year() < 1970 {
		return time.Time{}, fmt.Errorf("time %q is too long ago: %w", text, ErrInvalid)
	}
	return t, nil
}

func parseWhen(s string, now time.Time) (time.Time, bool) {
	if s == "now" {
		return now, true
	}
	if t, ok := exactTime(strings.ToUpper(s), now); ok {
		return t, true
	}
	if ago, ok := parseAgo(strings.TrimSuffix(s, " ago")); ok {
		return now.Add(-ago), true
	}
	day, clock := s, ""
	if i := strings.LastIndexAny(s, "- "); i > 0 && strings.Contains(s[i:], ":") {
		day, clock = s[:i], s[i+1:]
	} else if strings.Contains(s, ":") {
		day, clock = "today", s
	}
	date, ok := parseDay(day, now)
	if !ok {
		return time.Time{}, false
	}
	if clock == "" {
		return date, true
	}
	c, err := time.Parse("15:04", clock)
	if err != nil {
		return time.Time{}, false
	}
	return time.Date(date.Year(), date.Month(), date.Day(), c.Hour(), c.Minute(), 0, 0, now.Location()), true
}

func exactTime(s string, now time.Time) (time.Time, bool) {
	if t, err := time.Parse(time.RFC3339, s); err == nil {
		return t, true
	}
	for _, layout := range []string{"2006-01-02T15:04:05", "2006-01-02T15:04", "2006-01-02 15:04"} {
		if t, err := time.ParseInLocation(layout, s, now.Location()); err == nil {
			return t, true
		}
	}
	return time.Time{}, false
}

var agoUnits = map[byte]time.Duration{
	'm': time.Minute, 'h': time.Hour, 'd': 24 * time.Hour, 'w': 7 * 24 * time.Hour,
}

// longestAgo keeps a span within what a time.Duration holds, 292 years.
const longestAgo = 200 * 365 * 24 * time.Hour

func parseAgo(s string) (time.Duration, bool) {
	if len(s) < 2 {
		return 0, false
	}
	unit, ok := agoUnits[s[len(s)-1]]
	n, err := strconv.ParseFloat(s[:len(s)-1], 64)
	if !ok || err != nil || !(n >= 0 && n*float64(unit) <= float64(longestAgo)) {
		return 0, false
	}
	return time.Duration(n * float64(unit)), true
}

// parseDay returns this time of day for today and yesterday, and noon for a date.
func parseDay(s string, now time.Time) (time.Time, bool) {
	switch s {
	case "today":
		return now, true
	case "yesterday":
		return now.AddDate(0, 0, -1), true
	}
	for _, layout := range []string{"2006-01-02", "2Jan2006", "2 Jan 2006"} {
		if t, err := time.ParseInLocation(layout, s, now.Location()); err == nil {
			return noonOrNow(t.Year(), t, now), true
		}
	}
	for _, layout := range []string{"2Jan", "2 Jan"} {
		if t, err := time.ParseInLocation(layout, s, now.Location()); err == nil {
			return lastSuchDay(t, now)
		}
	}
	return time.Time{}, false
}

// lastSuchDay returns the latest day of the year like t that is not yet to come.
// 29 February may be eight years back.
func lastSuchDay(t, now time.Time) (time.Time, bool) {
	for year := now.Year(); year >= now.Year()-8; year-- {
		d := noonOrNow(year, t, now)
		if d.Day() == t.Day() && !d.After(now) {
			return d, true
		}
	}
	return time.Time{}, false
}

// noonOrNow returns noon of t's day in the year, or now if that day is today and
// noon is yet to come.
func noonOrNow(year int, t, now time.Time) time.Time {
	d := time.Date(year, t.Month(), t.Day(), 12, 0, 0, 0, now.Location())
	if d.After(now) && d.Format(time.DateOnly) == now.Format(time.DateOnly) {
		return now
	}
	return d
}

// ParseDatedReading is [ParseReading] for a line that may say when: a word that
// begins with an exclamation mark, 1.034 !2d or 1.034 !yesterday-18:30.
// Without one the time is now.
func ParseDatedReading(text string, now time.Time, s Settings) (Reading, time.Time, error) {
	at := now
	body, note, hasNote := strings.Cut(text, ";")
	var kept []string
	for _, word := range strings.Fields(body) {
		when, dated := strings.CutPrefix(word, "!")
		if !dated {
			kept = append(kept, word)
			continue
		}
		t, err := ParseWhen(when, now)
		if err != nil {
			return Reading{}, now, err
		}
		at = t
	}
	body = strings.Join(kept, " ")
	if hasNote {
		body += ";" + note
	}
	r, err := ParseReading(body, s.Hydrometer())
	return r, at, err
}
