package words

import (
	"testing"
	"time"
)

// Ensure that ages and due times are told in the largest unit that says enough.
func TestAgeAndDue(t *testing.T) {
	now := time.Date(2026, 11, 20, 18, 30, 0, 0, time.UTC)
	ago := func(d time.Duration) string { return Age(now.Add(-d), now) }
	in := func(d time.Duration) string { return Due(now.Add(d), now) }
	for _, c := range []struct{ got, want string }{
		{Age(time.Time{}, now), "-"},
		{ago(-time.Hour), "0m"},
		{ago(0), "0m"},
		{ago(time.Hour - 1), "59m"},
		{ago(time.Hour), "1h"},
		{ago(day - 1), "23h"},
		{ago(day), "1d"},
		{ago(60*day - 1), "59d"},
		{ago(60 * day), "8w"},
		{ago(63 * day), "9w"},
		{ago(730*day - 1), "104w"},
		{ago(730 * day), "2y"},
		{in(-2 * day), "2d late"},
		{in(-time.Hour), "1h late"},
		{in(1 - time.Hour), "now"},
		{in(0), "now"},
		{in(time.Hour - 1), "now"},
		{in(time.Hour), "in 1h"},
		{in(3 * day), "in 3d"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}
