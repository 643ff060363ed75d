package calc

import (
	"errors"
	"math"
	"testing"
)

// Ensure that two thirds of what the salt holds counts as free, as the stabilising notes say
// of a first addition (common practice), and that nonsense is refused.
func TestSulfite_FreeAfter(t *testing.T) {
	k := PotassiumMetabisulfite()
	if got, err := k.FreeAfter(1, 10); err != nil || math.Abs(float64(got)-38.42) > 0.05 {
		t.Errorf("1 g in 10 L leaves %v mg/L, %v; want 38.4", got, err)
	}
	for _, bad := range []struct {
		mass Gram
		v    Litre
	}{{-1, 10}, {1, 0}, {1000, 1}, {Gram(math.NaN()), 1}} {
		if _, err := k.FreeAfter(bad.mass, bad.v); !errors.Is(err, ErrOutOfRange) && !errors.Is(err, ErrNotANumber) {
			t.Errorf("%v g in %v L: %v", bad.mass, bad.v, err)
		}
	}
}

// Ensure that a concentration and its mass are inverse to each other.
func TestConcentrationOf(t *testing.T) {
	if got := ConcentrationOf(MilligramPerLitre(135).In(19), 19); math.Abs(float64(got)-135) > 1e-9 {
		t.Errorf("135 mg/L in 19 L and back is %v", got)
	}
	if got := ConcentrationOf(1, 0); got != 0 {
		t.Errorf("a gram in nothing is %v", got)
	}
}

// Ensure that what is there already is taken off a dose, and never more than all.
func TestSorbateDose_Less(t *testing.T) {
	d := SorbateDose{Sorbate: 200, SorbicAcid: 150, Active: 140, Mass: 2}
	if got := d.Less(50, 10); got.Sorbate != 150 || math.Abs(float64(got.SorbicAcid)-112.5) > 1e-9 || math.Abs(float64(got.Active)-105) > 1e-9 || got.Mass != 1.5 {
		t.Errorf("200 less 50 is %+v", got)
	}
	if got := d.Less(500, 10); got.Sorbate != 0 || got.Mass != 0 || got.SorbicAcid != 0 {
		t.Errorf("200 less 500 is %+v", got)
	}
	if got := (SorbateDose{}).Less(5, 10); got.Mass != 0 {
		t.Errorf("nothing less 5 is %+v", got)
	}
}
