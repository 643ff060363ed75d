package ui

import (
	"testing"
	"time"
)

// Ensure that with little room the most important findings are shown, the first always,
// and never more lines than there are.
func TestFitting(t *testing.T) {
	all := []finding{{"done", "first", 0}, {"done", "second", 3}, {"decides", "third", 2}, {"is not", "fourth", 5}}
	lines := [][]string{{"a", "b"}, {"c"}, {"d", "e"}, {"f"}}
	for room, want := range map[int][]bool{
		1: {true, false, false, false},
		2: {true, false, false, false},
		3: {true, true, false, false},
		4: {true, false, true, false},
		5: {true, true, true, false},
		6: {true, true, true, true},
	} {
		for i, shown := range fitting(all, lines, room) {
			if shown != want[i] {
				t.Errorf("in %d lines finding %d is shown: %v, want %v", room, i, shown, want[i])
			}
		}
	}
}

// Ensure that a day is named as a person would.
func TestOnDate(t *testing.T) {
	now := time.Date(2026, 12, 30, 23, 0, 0, 0, time.FixedZone("", 3600))
	for want, at := range map[string]time.Time{
		"today":         time.Date(2026, 12, 30, 0, 30, 0, 0, time.UTC),
		"tomorrow":      time.Date(2026, 12, 30, 23, 30, 0, 0, time.UTC),
		"on 2 Jan 2027": time.Date(2027, 1, 2, 9, 0, 0, 0, time.UTC),
		"on Mon 28 Dec": time.Date(2026, 12, 28, 9, 0, 0, 0, time.UTC),
	} {
		if got := onDate(at, now); got != want {
			t.Errorf("onDate(%v) = %q, want %q", at, got, want)
		}
	}
}
