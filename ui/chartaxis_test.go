package ui

import (
	"testing"
	"time"

	"cellar.local/glassrow/model"
)

// Minutes after the must, an axis as long as its life counted hundredths of a minute.
func TestTimeAxis_WholeDayAtLeast(t *testing.T) {
	start := time.Date(2026, 11, 2, 9, 0, 0, 0, time.UTC)
	p := batchPane{state: model.State{Started: start, Curve: []model.Point{{At: start}}}}
	if a := p.timeAxis(start.Add(5 * time.Minute)); a.Min != 0 || a.Max != 1 {
		t.Errorf("five minutes after the must the axis runs from %v to %v, want 0 to 1 day", a.Min, a.Max)
	}
	if a := p.timeAxis(start.Add(50 * time.Hour)); a.Min != a.Max {
		t.Errorf("on day 2 the axis is held to %v..%v, want what the chart needs", a.Min, a.Max)
	}
}
