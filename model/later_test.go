package model

import (
	"errors"
	"testing"
	"time"
)

// Ensure that times to come are understood as people say them.
func TestParseLater(t *testing.T) {
	zone := time.FixedZone("CET", 3600)
	now := time.Date(2026, 11, 27, 19, 30, 0, 0, zone) // a Friday
	at := func(year int, month time.Month, day, hour, minute int) time.Time {
		return time.Date(year, month, day, hour, minute, 0, 0, zone)
	}
	for text, want := range map[string]time.Time{
		"3d": now.Add(72 * time.Hour), "in 3d": now.Add(72 * time.Hour), "2w": now.Add(14 * 24 * time.Hour), "90m": now.Add(90 * time.Minute),
		"today": now.Add(time.Hour), "tomorrow": at(2026, 11, 28, 12, 0), "Friday": at(2026, 12, 4, 12, 0), "sat": at(2026, 11, 28, 12, 0),
		"20dec": at(2026, 12, 20, 12, 0), "20 Dec": at(2026, 12, 20, 12, 0), "3jan": at(2027, 1, 3, 12, 0), "27nov": at(2027, 11, 27, 12, 0),
		"29feb": at(2028, 2, 29, 12, 0), "20dec2027": at(2027, 12, 20, 12, 0), "2026-12-20": at(2026, 12, 20, 12, 0),
		"20:00": at(2026, 11, 27, 20, 0), "18:00": at(2026, 11, 28, 18, 0), "sat-18:30": at(2026, 11, 28, 18, 30), "20dec 18:30": at(2026, 12, 20, 18, 30),
		"2026-12-20T18:30": at(2026, 12, 20, 18, 30), "2026-12-20T18:30:00Z": time.Date(2026, 12, 20, 18, 30, 0, 0, time.UTC),
	} {
		if got, err := ParseLater(text, now); err != nil || !got.Equal(want) {
			t.Errorf("ParseLater(%q) = %v, %v; want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "soon", "-3d", "0d", "2026-11-01", "2d2d", "fr", "30feb", "2200-01-01", "150w2", "25:00", "sat-99:00"} {
		if got, err := ParseLater(text, now); !errors.Is(err, ErrInvalid) {
			t.Errorf("ParseLater(%q) = %v, %v; want a refusal", text, got, err)
		}
	}
}

// Ensure that a reminder is what stands before its time.
func TestParseReminder(t *testing.T) {
	now := time.Date(2026, 11, 27, 19, 30, 0, 0, time.UTC)
	for text, want := range map[string]Reminder{
		"buy corks 20dec":     {What: "buy corks", Due: time.Date(2026, 12, 20, 12, 0, 0, 0, time.UTC)},
		" rack  in 3d ":       {What: "rack", Due: now.Add(72 * time.Hour)},
		"buy 3 kg sugar 1dec": {What: "buy 3 kg sugar", Due: time.Date(2026, 12, 1, 12, 0, 0, 0, time.UTC)},
		"label sat 18:30":     {What: "label", Due: time.Date(2026, 11, 28, 18, 30, 0, 0, time.UTC)},
	} {
		if got, err := ParseReminder(text, now); err != nil || got != want {
			t.Errorf("ParseReminder(%q) = %v, %v; want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "20dec", "buy corks", "buy corks someday", "x yesterday"} {
		if got, err := ParseReminder(text, now); !errors.Is(err, ErrInvalid) {
			t.Errorf("ParseReminder(%q) = %v, %v; want a refusal", text, got, err)
		}
	}
}

// Ensure that no text makes the parser fall over, and what it takes lies ahead.
func FuzzParseLater(f *testing.F) {
	for _, s := range []string{"3d", "friday-18:30", "20dec", "2026-12-20T18:30", "in 2w", "29feb"} {
		f.Add(s)
	}
	now := time.Date(2026, 11, 27, 19, 30, 0, 0, time.UTC)
	f.Fuzz(func(t *testing.T, s string) {
		if got, err := ParseLater(s, now); err == nil && !got.After(now) {
			t.Errorf("ParseLater(%q) = %v, which has passed", s, got)
		}
	})
}
