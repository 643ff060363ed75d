package model

import (
	"fmt"
	"strings"
	"time"
)

// ParseLater understands a moment to come as people say it, reckoned from now and in
// now's time zone:
//
//	3d   2w   6h   30m             so much later ("in 3d" too)
//	today   tomorrow   friday      at noon; today an hour from now when noon is past
//	20dec   20dec2026   2026-12-20 at noon; without a year the next such day
//	18:30   friday-18:30           at that time of day
//	2026-12-20T18:30   and RFC 3339 with a zone
//
// A moment that has passed is an error, and so is one more than fifty years away.
func ParseLater(text string, now time.Time) (time.Time, error) {
	s := strings.TrimPrefix(strings.ToLower(strings.TrimSpace(text)), "in ")
	t, ok := parseLater(s, now)
	switch {
	case !ok:
		return time.Time{}, fmt.Errorf("time %q is not understood; write 3d, friday, 20dec or 2026-12-20T18:30: %w", text, ErrInvalid)
	case !t.After(now):
		return time.Time{}, fmt.Errorf("time %q has passed: %w", text, ErrInvalid)
	case t.After(now.AddDate(50, 0, 0)):
		return time.Time{}, fmt.Errorf("time %q is too far away: %w", text, ErrInvalid)
	}
	return t, nil
}

func parseLater(s string, now time.Time) (time.Time, bool) {
	if t, ok := exactTime(strings.ToUpper(s), now); ok {
		return t, true
	}
	if d, ok := parseAgo(s); ok {
		return now.Add(d), true
	}
	day, clock := s, ""
	if i := strings.LastIndexAny(s, "- "); i > 0 && strings.Contains(s[i:], ":") {
		day, clock = s[:i], s[i+1:]
	} else if strings.Contains(s, ":") {
		day, clock = "", s
	}
	if clock == "" {
		return comingDay(day, now, 12, 0)
	}
	c, err := time.Parse("15:04", clock)
	if err != nil {
		return time.Time{}, false
	}
	if day != "" {
		return comingDay(day, now, c.Hour(), c.Minute())
	}
	t := onDayOf(now, now, c.Hour(), c.Minute())
	if !t.After(now) {
		t = onDayOf(now.AddDate(0, 0, 1), now, c.Hour(), c.Minute())
	}
	return t, true
}

// comingDay returns a time of a day to come.
func comingDay(day string, now time.Time, hour, minute int) (time.Time, bool) {
	switch day {
	case "today":
		if t := onDayOf(now, now, hour, minute); t.After(now) {
			return t, true
		}
		return now.Add(time.Hour), true
	case "tomorrow":
		return onDayOf(now.AddDate(0, 0, 1), now, hour, minute), true
	}
	if len(day) >= 3 {
		for ahead := 1; ahead <= 7; ahead++ {
			d := now.AddDate(0, 0, ahead)
			if strings.HasPrefix(strings.ToLower(d.Weekday().String()), day) {
				return onDayOf(d, now, hour, minute), true
			}
		}
	}
	for _, layout := range []string{"2006-01-02", "2Jan2006", "2 Jan 2006"} {
		if t, err := time.ParseInLocation(layout, day, now.Location()); err == nil {
			return onDayOf(t, now, hour, minute), true
		}
	}
	for _, layout := range []string{"2Jan", "2 Jan"} {
		if t, err := time.Parse(layout, day); err == nil {
			return nextSuchDay(t, now, hour, minute)
		}
	}
	return time.Time{}, false
}

// nextSuchDay returns the next day of the year like t; 29 February may be eight years
// away.
func nextSuchDay(t, now time.Time, hour, minute int) (time.Time, bool) {
	for year := now.Year(); year <= now.Year()+8; year++ {
		d := time.Date(year, t.Month(), t.Day(), hour, minute, 0, 0, now.Location())
		if d.Day() == t.Day() && d.After(now) {
			return d, true
		}
	}
	return time.Time{}, false
}

// onDayOf returns a time of day on the day of d, in now's time zone.
func onDayOf(d, now time.Time, hour, minute int) time.Time {
	return time.Date(d.Year(), d.Month(), d.Day(), hour, minute, 0, 0, now.Location())
}

// ParseReminder understands what to be reminded of with its time at the end: buy corks
// 20dec, rack it friday-18:30.
func ParseReminder(text string, now time.Time) (Reminder, error) {
	words := strings.Fields(text)
	var err error
	for _, n := range []int{3, 2, 1} { // the time may be of several words: in 3d, 20 dec 2026
		if len(words) <= n {
			continue
		}
		var r Reminder
		if r.Due, err = ParseLater(strings.Join(words[len(words)-n:], " "), now); err == nil {
			r.What = strings.Join(words[:len(words)-n], " ")
			return r, r.Validate()
		}
	}
	if err != nil {
		return Reminder{}, err
	}
	return Reminder{}, fmt.Errorf("%q is not understood; write what, and when, as in buy corks 20dec: %w", text, ErrInvalid)
}

// PutOff understands until when something due is to be put off.
func (d Due) PutOff(until string, now time.Time) (Tick, error) {
	t, err := ParseLater(until, now)
	if err == nil && !t.After(d.At) {
		err = fmt.Errorf("it is due %s already; put it off to a later time: %w", d.At.In(now.Location()).Format("2 Jan 15:04"), ErrInvalid)
	}
	return Tick{Due: d.Key, Until: t}, err
}
