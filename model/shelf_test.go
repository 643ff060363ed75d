package model

import (
	"cmp"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// Ensure that the shelf has first what cannot wait, then what is late, then the rest by
// label, and empty vessels last.
func TestShelf_Rows(t *testing.T) {
	readOn := func(day float64) []Due { return []Due{{Key: DueRead, What: "read", At: onDay(day)}} }
	late := Summary{Standing: Working, Dues: readOn(4)}
	fine := Summary{Standing: Working, Dues: readOn(12)}
	stuck := Summary{Standing: Stuck, Trouble: true, Dues: readOn(11)}
	shelf := Shelf{}
	in := func(label string, s *Summary) {
		id := VesselID(len(shelf.Vessels) + 1)
		shelf.Vessels = append(shelf.Vessels, Vessel{ID: id, Label: label})
		if s != nil {
			b := *s
			b.Batch, b.Vessel = BatchID(id), id
			shelf.Batches = append(shelf.Batches, b)
		}
	}
	in("N10", &fine)
	in("N2", &fine)
	in("A1", nil)
	in("n3", &late)
	in("S1", &stuck)
	in("K1", &late)
	shelf.Batches = append(shelf.Batches, Summary{Batch: 99, Trouble: true}) // in no vessel

	labels := func() string {
		var out []string
		for _, r := range shelf.Rows(onDay(10)) {
			out = append(out, r.Vessel.Label)
		}
		return strings.Join(out, " ")
	}
	if got, want := labels(), "S1 K1 n3 N2 N10 A1"; got != want {
		t.Errorf("the shelf is %s, want %s", got, want)
	}
	if rows := shelf.Rows(onDay(10)); rows[5].Standing() != Empty || !rows[5].Empty() || rows[0].Standing() != Stuck {
		t.Errorf("standings %s and %s", rows[5].Standing(), rows[0].Standing())
	}

	t.Run("shows both batches that claim one vessel", func(t *testing.T) {
		other := fine
		other.Batch, other.Vessel, other.Name = 50, 2, "the other"
		shelf := Shelf{Vessels: shelf.Vessels, Batches: append(slices.Clone(shelf.Batches), other)}
		count := 0
		for _, r := range shelf.Rows(onDay(10)) {
			if r.Vessel.Label == "N2" && !r.Empty() {
				count++
			}
		}
		if count != 2 {
			t.Errorf("N2 has %d rows, want 2", count)
		}
		if b, ok := shelf.BatchIn(2); !ok || b.Batch != 2 {
			t.Errorf("in N2 is %+v, %v; want the first", b, ok)
		}
	})
	t.Run("of nothing is nothing", func(t *testing.T) {
		if rows := (Shelf{}).Rows(time.Time{}); len(rows) != 0 {
			t.Errorf("rows %+v", rows)
		}
		if _, ok := shelf.BatchIn(0); ok {
			t.Error("a batch is in no vessel")
		}
		if _, ok := shelf.BatchIn(3); ok {
			t.Error("a batch is in an empty vessel")
		}
	})
	t.Run("finds a vessel by its label", func(t *testing.T) {
		for _, text := range []string{"N10", "n10", " n10 "} {
			if v, ok := shelf.VesselNamed(text); !ok || v.ID != 1 {
				t.Errorf("VesselNamed(%q) = %+v, %v", text, v, ok)
			}
		}
		if v, ok := shelf.VesselNamed("N1"); ok {
			t.Errorf("VesselNamed(N1) = %+v", v)
		}
	})
}

// Ensure that labels come as a person would set them out.
func TestCompareLabels(t *testing.T) {
	order := []string{"2", "9", "10", "A", "B1", "b2", "B10", "K", "K1", "N2", "N02", "N10", "N10000000000000000000000", "S-1"}
	shuffled := slices.Clone(order)
	slices.Reverse(shuffled)
	slices.SortFunc(shuffled, CompareLabels)
	// N2 and N02 have the same number; which comes first only has to be certain.
	if got := strings.Join(shuffled, " "); got != strings.Join(order, " ") && got != strings.Replace(strings.Join(order, " "), "N2 N02", "N02 N2", 1) {
		t.Errorf("labels in order: %s", got)
	}
	rapid.Check(t, func(t *rapid.T) {
		label := rapid.StringMatching(`[A-Ca-c0-2]{0,4}`)
		a, b, c := label.Draw(t, "a"), label.Draw(t, "b"), label.Draw(t, "c")
		if CompareLabels(a, b) != -CompareLabels(b, a) {
			t.Fatalf("%q and %q: %d one way, %d the other", a, b, CompareLabels(a, b), CompareLabels(b, a))
		}
		if CompareLabels(a, b) <= 0 && CompareLabels(b, c) <= 0 && CompareLabels(a, c) > 0 {
			t.Fatalf("%q, %q, %q have no order", a, b, c)
		}
		if cmp.Compare(a, b) != 0 && CompareLabels(a, b) == 0 {
			t.Fatalf("%q and %q are not told apart", a, b)
		}
	})
}

func TestSettings_Hydrometer(t *testing.T) {
	if got := (Settings{}).Hydrometer(); got != DefaultCalibration {
		t.Errorf("unset: %v °C", got)
	}
	if got := (Settings{Calibration: 15.56}).Hydrometer(); got != 15.56 {
		t.Errorf("set to 15.56: %v °C", got)
	}
}
