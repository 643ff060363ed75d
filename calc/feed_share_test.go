package calc

import (
	"errors"
	"math"
	"testing"
	"time"
)

// Ensure that nutrient is shared out as the published schedules say: in quarters at 24,
// 48 and 72 hours and at a third of the drop or after a week (common practice), in
// halves with the second at a third of the drop (a winemaker's page).
func TestFeedSplit_ShareOut(t *testing.T) {
	doses, err := FeedQuarters.ShareOut(12, 24)
	if err != nil || len(doses) != 4 {
		t.Fatalf("%v, %v; want four doses", doses, err)
	}
	for i, after := range []time.Duration{24, 48, 72, 7 * 24} {
		if doses[i].Mass != 3 || doses[i].After != after*time.Hour {
			t.Errorf("dose %d is %v, want 3 g after %d h", i+1, doses[i], after)
		}
	}
	doses, err = FeedHalves.ShareOut(12, 24)
	if err != nil || len(doses) != 2 {
		t.Fatalf("%v, %v; want two doses", doses, err)
	}
	// 24 Brix is 1.1011 (ICUMSA); a third of the way to 1.000 is 1.0674.
	if math.Abs(float64(doses[1].SG)-1.0674) > 0.0001 || doses[0].Mass+doses[1].Mass != 12 {
		t.Errorf("halves are %v, want the second at 1.0674 and 12 g in all", doses)
	}
	for name, err := range map[string]error{
		"thin":  second(FeedHalves.ShareOut(12, 4)),
		"less":  second(FeedHalves.ShareOut(-1, 24)),
		"odd":   second(FeedSplit("fifths").ShareOut(1, 24)),
		"thick": second(FeedHalves.ShareOut(12, 41)),
	} {
		if !errors.Is(err, ErrOutOfRange) {
			t.Errorf("%s: %v, want out of range", name, err)
		}
	}
}

// Ensure that the ends of the ranges are where they are said to be.
func TestFeedSplit_ShareOut_Ranges(t *testing.T) {
	for _, s := range FeedSplits() {
		checkRange(t, 5, 40, 0.001, func(x float64) error { return second(s.ShareOut(12, Brix(x))) })
		checkRange(t, 0, 1e9, 1, func(x float64) error { return second(s.ShareOut(Gram(x), 24)) })
	}
}

// Ensure that a source brings its nitrogen, and none to an empty vessel: nutrient notes,
// section 2, have 212 mg/L from 1 g/L of diammonium phosphate.
func TestNitrogenSource_Brings(t *testing.T) {
	wantNear(t, "Brings", "19 g to 19 L", float64(dap.Brings(19, 19)), 212, 0.51)
	wantNear(t, "Brings", "nowhere", float64(dap.Brings(19, 0)), 0, 0)
}
