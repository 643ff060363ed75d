package model

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"cellar.local/glassrow/calc"
)

// Shelf is the whole cellar at a glance: every vessel and a summary of every
// batch, as one read of the store found them.
type Shelf struct {
	Revision uint64 // grows with every write to the cellar
	Settings Settings
	Vessels  []Vessel
	Batches  []Summary
}

// Settings are the person's own ways, kept in the cellar.
type Settings struct {
	CellarName  string
	US          bool         // gallons, pounds and Fahrenheit on the screen
	Calibration calc.Celsius // of the hydrometer; see Hydrometer
	Prices      Prices       // of sweeteners, where the person has typed one
}

// Validate reports what is wrong with the settings, or nil.
func (s Settings) Validate() error {
	if err := plainText("name of the cellar", s.CellarName, maxName, false); err != nil {
		return err
	}
	if c := s.Calibration; !(c >= 0 && c <= 50) {
		return fmt.Errorf("a hydrometer made for %.4g °C is outside 0 to 50 °C; most say 20 °C, 15.6 °C or 60 °F on the paper inside: %w", float64(c), ErrInvalid)
	}
	for id, price := range s.Prices {
		if !(price >= 0 && price <= 1e9) {
			return fmt.Errorf("price %.4g a kilogram of %s cannot be: %w", price, id, ErrInvalid)
		}
	}
	return nil
}

// Hydrometer returns the reference temperature of the person's hydrometer.
func (s Settings) Hydrometer() calc.Celsius {
	if s.Calibration == 0 {
		return DefaultCalibration
	}
	return s.Calibration
}

// Row is one line of the shelf: a vessel and the batch in it.
type Row struct {
	Vessel Vessel
	Batch  Summary // Batch.Batch is zero for an empty vessel
}

// Urgency orders the shelf.
type Urgency uint8

// From what cannot wait to what is only there.
const (
	Trouble Urgency = iota // something is wrong
	Overdue                // something should have been done by now
	OnTrack
	Idle // an empty vessel
)

// Empty reports whether nothing is in the vessel.
func (r Row) Empty() bool { return r.Batch.Batch == 0 }

// Standing returns the standing of the batch, or Empty.
func (r Row) Standing() Standing {
	if r.Empty() {
		return Empty
	}
	return r.Batch.Standing
}

// Urgency tells how soon somebody should look at the vessel.
func (r Row) Urgency(now time.Time) Urgency {
	switch due := r.Next(); {
	case r.Empty():
		return Idle
	case r.Batch.Trouble:
		return Trouble
	case due.Late(now):
		return Overdue
	}
	return OnTrack
}

// Rows returns a row for every vessel, what needs attention first, then by
// label. A batch without a vessel is not on the shelf. Should two journals claim
// one vessel it has two rows, so that neither batch is lost from sight.
func (s Shelf) Rows(now time.Time) []Row {
	in := make(map[VesselID][]Summary, len(s.Batches))
	for _, b := range s.Batches {
		in[b.Vessel] = append(in[b.Vessel], b)
	}
	rows := make([]Row, 0, len(s.Vessels))
	for _, v := range s.Vessels {
		if len(in[v.ID]) == 0 || v.ID == 0 {
			rows = append(rows, Row{Vessel: v})
			continue
		}
		for _, b := range in[v.ID] {
			rows = append(rows, Row{Vessel: v, Batch: b})
		}
	}
	return sorted(rows, func(r Row) Urgency { return r.Urgency(now) }, func(a, b *Row) int {
		return CompareLabels(a.Vessel.Label, b.Vessel.Label)
	})
}

// sorted sorts by a key that is worked out once for each, then by less. What is sorted
// is large, and moved once.
func sorted[T any, K cmp.Ordered](all []T, key func(T) K, less func(a, b *T) int) []T {
	type place struct {
		key K
		at  *T
	}
	places := make([]place, len(all))
	for i := range all {
		places[i] = place{key(all[i]), &all[i]}
	}
	slices.SortStableFunc(places, func(a, b place) int {
		if by := cmp.Compare(a.key, b.key); by != 0 {
			return by
		}
		return less(a.at, b.at)
	})
	out := make([]T, len(all))
	for i, p := range places {
		out[i] = *p.at
	}
	return out
}

// VesselNamed returns the vessel with the label, upper or lower case.
func (s Shelf) VesselNamed(label string) (Vessel, bool) {
	for _, v := range s.Vessels {
		if strings.EqualFold(v.Label, strings.TrimSpace(label)) {
			return v, true
		}
	}
	return Vessel{}, false
}

// BatchIn returns the summary of the batch in the vessel, the first should there
// be more.
func (s Shelf) BatchIn(v VesselID) (Summary, bool) {
	for _, b := range s.Batches {
		if b.Vessel == v && v != 0 {
			return b, true
		}
	}
	return Summary{}, false
}

// CompareLabels orders labels as a person would: N2 before N10.
func CompareLabels(a, b string) int {
	ta, na := splitNumber(a)
	tb, nb := splitNumber(b)
	return cmp.Or(strings.Compare(strings.ToUpper(ta), strings.ToUpper(tb)), cmp.Compare(len(na), len(nb)),
		strings.Compare(na, nb), strings.Compare(a, b))
}

// splitNumber cuts the digits off the end of a label.
func splitNumber(s string) (text, digits string) {
	end := len(s)
	for end > 0 && s[end-1] >= '0' && s[end-1] <= '9' {
		end--
	}
	return s[:end], strings.TrimLeft(s[end:], "0")
}
