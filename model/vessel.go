package model

import (
	"errors"
	"fmt"
	"strings"
	"time"
	"unicode"

	"cellar.local/glassrow/calc"
)

// VesselID names a vessel for good; labels may change. Zero is no vessel.
type VesselID uint64

// Vessel is a physical container.
type Vessel struct {
	ID       VesselID
	Label    string // what is written on it: N1, K1
	Kind     VesselKind
	Capacity calc.Litre
	Place    string
	Tare     calc.Gram // empty mass; 0: not known
	Added    time.Time
}

// VesselKind is what a vessel is made to do.
type VesselKind string

// The kinds of vessel.
const (
	Carboy    VesselKind = "carboy"
	Demijohn  VesselKind = "demijohn"
	Bucket    VesselKind = "bucket"
	Barrel    VesselKind = "barrel"
	Keg       VesselKind = "keg"
	Tank      VesselKind = "tank"
	BottleSet VesselKind = "bottles"
)

// VesselKinds returns every kind, the commonest first.
func VesselKinds() []VesselKind {
	return []VesselKind{Carboy, Demijohn, Bucket, Barrel, Keg, Tank, BottleSet}
}

// Limits on what a person may call things: long enough for any label, short
// enough for a line of the shelf.
const (
	maxLabel = 12
	maxName  = 60
	maxText  = 2000
)

// ErrInvalid is wrapped by every complaint about what a person typed.
var ErrInvalid = errors.New("not accepted")

// Validate reports what is wrong with the vessel, or nil.
func (v Vessel) Validate() error {
	if err := plainText("label", v.Label, maxLabel, true); err != nil {
		return err
	}
	if strings.ContainsFunc(v.Label, unicode.IsSpace) {
		return fmt.Errorf("label %q holds a space: %w", v.Label, ErrInvalid)
	}
	if err := plainText("place", v.Place, maxName, false); err != nil {
		return err
	}
	if !isOneOf(v.Kind, VesselKinds()) {
		return fmt.Errorf("vessel kind %q is not one of %s: %w", v.Kind, joined(VesselKinds()), ErrInvalid)
	}
	if !(v.Capacity >= 0.05 && v.Capacity <= 100000) {
		return fmt.Errorf("capacity %.4g L is outside 0.05 to 100000 L: %w", float64(v.Capacity), ErrInvalid)
	}
	if !(v.Tare >= 0 && v.Tare <= 1e7) {
		return fmt.Errorf("tare %.4g g is outside 0 to 10 t: %w", float64(v.Tare), ErrInvalid)
	}
	return nil
}

// plainText checks text that will be shown on a terminal: printable, and not
// longer than most runes.
func plainText(what, s string, most int, required bool) error {
	if required && strings.TrimSpace(s) == "" {
		return fmt.Errorf("%s is empty: %w", what, ErrInvalid)
	}
	if n := len([]rune(s)); n > most {
		return fmt.Errorf("%s is %d letters long, at most %d: %w", what, n, most, ErrInvalid)
	}
	for _, r := range s {
		if !unicode.IsPrint(r) {
			return fmt.Errorf("%s holds the unprintable character %U: %w", what, r, ErrInvalid)
		}
	}
	return nil
}

func isOneOf[T comparable](x T, all []T) bool {
	for _, y := range all {
		if x == y {
			return true
		}
	}
	return false
}

// joined lists words for an error message: carboy, demijohn, bucket.
func joined[T ~string](words []T) string {
	s := make([]string, len(words))
	for i, w := range words {
		s[i] = string(w)
	}
	return strings.Join(s, ", ")
}
