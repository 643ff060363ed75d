package calc

import (
	"math"
	"testing"
)

// Ensure that the bands change where EU 2019/33, Annex III part B, says: dry to 4 g/L
// inclusive, medium dry to 12, medium below 45, sweet from 45.
func TestBandOf(t *testing.T) {
	for sugar, want := range map[GramPerLitre]SweetnessBand{
		-1: Dry, 0: Dry, 4: Dry, 4.01: OffDry, 12: OffDry, 12.01: Medium, 44.99: Medium, 45: Sweet, 1e6: Sweet,
		GramPerLitre(math.Inf(1)): Sweet, GramPerLitre(math.Inf(-1)): Dry,
	} {
		if got := BandOf(sugar); got != want {
			t.Errorf("BandOf(%v) = %v, want %v", sugar, got, want)
		}
	}
	BandOf(GramPerLitre(math.NaN())) // must not panic
}

// Ensure that the sugar to aim at for a band is in the band.
func TestSweetnessBand_Sugar(t *testing.T) {
	words := make(map[string]bool)
	for _, b := range SweetnessBands() {
		if got := BandOf(b.Sugar()); got != b {
			t.Errorf("aiming at %v gives %v g/L, which is %v", b, b.Sugar(), got)
		}
		words[b.String()] = true
	}
	if len(words) != 4 {
		t.Errorf("words for the bands: %v, want 4", words)
	}
	for _, b := range []SweetnessBand{Sweet + 1, math.MaxUint8} {
		if b.String() != "unknown band" || b.Sugar() != 0 {
			t.Errorf("band %d is %q with %v g/L", uint8(b), b, b.Sugar())
		}
	}
}
