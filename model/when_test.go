package model

import (
	"errors"
	"testing"
	"time"
)

// friday is when the tests of this file are read: before noon, so that noon of
// today is yet to come, and in a zone that is not UTC.
var (
	zone   = time.FixedZone("two east", 2*60*60)
	friday = time.Date(2026, 11, 20, 9, 30, 0, 0, zone)
)

func on(year int, month time.Month, day, hour, minute int) time.Time {
	return time.Date(year, month, day, hour, minute, 0, 0, zone)
}

// Ensure that a moment is understood the way a person at the shelf says it.
func TestParseWhen(t *testing.T) {
	for text, want := range map[string]time.Time{
		"now":                    friday,
		" NOW ":                  friday,
		"30m":                    on(2026, 11, 20, 9, 0),
		"6h":                     on(2026, 11, 20, 3, 30),
		"2d":                     on(2026, 11, 18, 9, 30),
		"1.5d":                   on(2026, 11, 18, 21, 30),
		"3w":                     on(2026, 10, 30, 9, 30),
		"2d ago":                 on(2026, 11, 18, 9, 30),
		"today":                  friday,
		"yesterday":              on(2026, 11, 19, 9, 30),
		"19nov":                  on(2026, 11, 19, 12, 0),
		"19 Nov":                 on(2026, 11, 19, 12, 0),
		"20nov":                  friday, // noon is to come, so now
		"21nov":                  on(2025, 11, 21, 12, 0),
		"29feb":                  on(2024, 2, 29, 12, 0),
		"20nov2025":              on(2025, 11, 20, 12, 0),
		"20nov2026":              friday,
		"2026-11-20":             friday,
		"2026-11-19":             on(2026, 11, 19, 12, 0),
		"8:05":                   on(2026, 11, 20, 8, 5),
		"yesterday-18:30":        on(2026, 11, 19, 18, 30),
		"yesterday 18:30":        on(2026, 11, 19, 18, 30),
		"19nov-18:30":            on(2026, 11, 19, 18, 30),
		"20nov-08:30":            on(2026, 11, 20, 8, 30),
		"2026-11-19-18:30":       on(2026, 11, 19, 18, 30),
		"2026-11-19T18:30":       on(2026, 11, 19, 18, 30),
		"2026-11-19 18:30":       on(2026, 11, 19, 18, 30),
		"2026-11-19T16:30:00Z":   on(2026, 11, 19, 18, 30),
		"2026-11-19t18:30:05":    on(2026, 11, 19, 18, 30).Add(5 * time.Second),
		"2026-11-20T09:30:30":    friday.Add(30 * time.Second), // a clock may be a little ahead
		"1970-01-01T00:00+02:00": {},
	} {
		t.Run(text, func(t *testing.T) {
			got, err := ParseWhen(text, friday)
			if want.IsZero() {
				if err == nil {
					t.Fatalf("ParseWhen(%q) = %v, want an error", text, got)
				}
				return
			}
			if err != nil || !got.Equal(want) {
				t.Errorf("ParseWhen(%q) = %v, %v, want %v", text, got, err, want)
			}
		})
	}

	for name, text := range map[string]string{
		"nothing":             "",
		"a word":              "soon",
		"a number alone":      "2",
		"no day of the year":  "30feb",
		"no hour":             "25:00",
		"a moment to come":    "2026-11-21",
		"a time later today":  "18:30",
		"before the computer": "1969-07-20",
		"a negative span":     "-2d",
		"a span without end":  "infd",
		"no number":           "nand",
		"more than centuries": "19000w",
	} {
		t.Run("refuses "+name, func(t *testing.T) {
			if got, err := ParseWhen(text, friday); !errors.Is(err, ErrInvalid) {
				t.Errorf("ParseWhen(%q) = %v, %v, want ErrInvalid", text, got, err)
			}
		})
	}
}

// Ensure that 29 February is found from any year, across a century without one.
func TestParseWhen_LeapDay(t *testing.T) {
	for year, want := range map[int]int{2027: 2024, 2028: 2028, 2103: 2096, 2104: 2104} {
		got, err := ParseWhen("29feb", on(year, 12, 1, 9, 0))
		if err != nil || !got.Equal(on(want, 2, 29, 12, 0)) {
			t.Errorf("29feb in %d is %v, %v, want in %d", year, got, err, want)
		}
	}
}

// Ensure that a line may carry its own date, wherever it stands.
func TestParseDatedReading(t *testing.T) {
	for text, want := range map[string]struct {
		at   time.Time
		text string
	}{
		"1.034":                       {friday, "1.034"},
		"1.034 !2d":                   {on(2026, 11, 18, 9, 30), "1.034"},
		"!yesterday-18:30 1.034@21c":  {on(2026, 11, 19, 18, 30), "1.034 @21c"},
		"1.034 !19nov ; !clear! now":  {on(2026, 11, 19, 12, 0), "1.034 ; !clear! now"},
		"1.034 ; what! no date at 2d": {friday, "1.034 ; what! no date at 2d"},
	} {
		r, at, err := ParseDatedReading(text, friday, Settings{})
		if err != nil || !at.Equal(want.at) || r.String() != want.text {
			t.Errorf("ParseDatedReading(%q) = %q at %v, %v, want %q at %v", text, r, at, err, want.text, want.at)
		}
	}
	t.Run("refuses a date it does not know", func(t *testing.T) {
		if _, _, err := ParseDatedReading("1.034 !soon", friday, Settings{}); !errors.Is(err, ErrInvalid) {
			t.Errorf("error %v, want ErrInvalid", err)
		}
	})
	t.Run("takes the hydrometer from the settings", func(t *testing.T) {
		r, _, err := ParseDatedReading("1.034", friday, Settings{Calibration: 15.5})
		if err != nil || r.Calibration != 15.5 {
			t.Errorf("calibration %v, %v, want 15.5", r.Calibration, err)
		}
	})
}

// Ensure that whatever is typed, the answer is a moment of the past or an error.
func FuzzParseWhen(f *testing.F) {
	for _, s := range []string{"now", "2d", "1.5w ago", "yesterday-18:30", "20nov", "29feb", "2026-11-20", "2026-11-20T18:30:00+01:00", "1e300d", "-"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got, err := ParseWhen(text, friday)
		switch {
		case err != nil && !errors.Is(err, ErrInvalid):
			t.Errorf("ParseWhen(%q): %v does not wrap ErrInvalid", text, err)
		case err == nil && (got.After(friday.Add(time.Minute)) || got.Year() < 1970):
			t.Errorf("ParseWhen(%q) = %v, outside 1970 to now", text, got)
		}
	})
}
