package words

import (
	"fmt"
	"time"

	"cellar.local/glassrow/model"
)

const day = 24 * time.Hour

// Age says how long ago t was: 40m, 5h, 3d, 9w, 2y; a dash for never.
func Age(t, now time.Time) string {
	if t.IsZero() {
		return "-"
	}
	return Span(now.Sub(t))
}

// Span writes a length of time in the largest unit that says enough.
func Span(d time.Duration) string {
	switch {
	case d < time.Hour:
		return fmt.Sprintf("%dm", max(0, d/time.Minute))
	case d < day:
		return fmt.Sprintf("%dh", d/time.Hour)
	case d < 60*day:
		return fmt.Sprintf("%dd", d/day)
	case d < 2*365*day:
		return fmt.Sprintf("%dw", d/(7*day))
	}
	return fmt.Sprintf("%dy", d/(365*day))
}

// Due says when something is due: now, in 5h, in 3d, 2d late.
func Due(t, now time.Time) string {
	switch d := t.Sub(now); {
	case d <= -model.DueNow:
		return Span(-d) + " late"
	case d < model.DueNow:
		return "now"
	default:
		return "in " + Span(d)
	}
}
