package model

import (
	"testing"
	"time"
)

// Ensure that a lot number holds whatever becomes of the journal, in any time zone.
func TestBatch_Lot(t *testing.T) {
	j := brew(Mead, 10, 1.1, WineYeast)
	j.ID = 4
	const want = "L2026-0301-04"
	if got := j.Lot(); got != want {
		t.Errorf("Lot() = %q, want %q", got, want)
	}
	t.Run("stays when the must is struck out and dated anew", func(t *testing.T) {
		j.on(9, Void{Entry: 1}, Must{Vessel: 1, Volume: 10, Gravity: 1.09})
		if got := j.Lot(); got != want {
			t.Errorf("Lot() = %q, want %q", got, want)
		}
	})
	t.Run("is the same at the other end of the world", func(t *testing.T) {
		far := Batch{ID: 123, Entries: []Entry{{ID: 1, At: day0.In(time.FixedZone("far", 13*3600)), Body: Must{}}}}
		if got := far.Lot(); got != "L2026-0301-123" {
			t.Errorf("Lot() = %q", got)
		}
	})
	if got := (Batch{ID: 7}).Lot(); got != "L07" {
		t.Errorf("without entries Lot() = %q", got)
	}
}

// Ensure that a lot number leads back to its batch, and that nothing else is taken
// for one.
func TestBatchOfLot(t *testing.T) {
	for text, want := range map[string]BatchID{
		"L2026-0301-04": 4, " l2026-0301-123 ": 123,
		"": 0, "N1": 0, "L2026-0301-": 0, "L2026-0301-00": 0, "L2026-0301-x": 0, "Lavender-mead-04": 0, "2026-0301-04": 0, "L2026-0301-04-1": 0,
	} {
		if got, ok := BatchOfLot(text); got != want && ok || ok != (want != 0) {
			t.Errorf("BatchOfLot(%q) = %d, %v, want %d", text, got, ok, want)
		}
	}
}
