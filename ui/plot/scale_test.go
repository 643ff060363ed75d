package plot

import (
	"math"
	"testing"
	"time"
)

func TestNumberLabel(t *testing.T) {
	for _, c := range []struct {
		v, step float64
		want    string
	}{
		{1.05, 0.005, "1.050"}, {1.1, 0.1, "1.1"}, {20, 5, "20"}, {-1e-18, 0.1, "0.0"},
		{1e9, 1e8, "1e+09"}, {math.NaN(), 1, ""}, {1, 0, ""},
	} {
		if got := NumberLabel(c.v, c.step); got != c.want {
			t.Errorf("NumberLabel(%v, %v) = %q, want %q", c.v, c.step, got, c.want)
		}
	}
}

func TestDayTicks(t *testing.T) {
	for _, c := range []struct {
		lo, hi float64
		most   int
		want   string // labels
	}{
		{0, 0.03, 6, "0 10m 20m 30m 40m"},
		{0, 1, 5, "0 6h 12h 18h 24h"},
		{0, 3, 4, "0 1d 2d 3d"},
		{0, 3, 7, "0 12h 24h 36h 48h 60h 72h"},
		{-1, 24, 6, "0 7d 14d 21d"},
		{0, 100, 5, "0 30d 60d 90d"},
		{0, 2000, 8, "0 1y 2y 3y 4y 5y"},
		{0, 9000, 8, "0 5y 10y 15y 20y"},
		{5, 5, 8, ""},
		{0, 10, 0, ""},
	} {
		at, step := DayTicks(c.lo, c.hi, c.most)
		got := ""
		for i, v := range at {
			if i > 0 {
				got += " "
			}
			got += DayLabel(v, step)
		}
		if got != c.want {
			t.Errorf("DayTicks(%v, %v, %d) reads %q, want %q", c.lo, c.hi, c.most, got, c.want)
		}
	}
}

// Ensure that calendar ticks keep to the wall clock when summer time begins.
func TestCalendarTicks(t *testing.T) {
	place := time.FixedZone("", 3600)
	if zone, err := time.LoadLocation("Europe/Berlin"); err == nil {
		place = zone
	}
	origin := time.Date(2026, time.March, 27, 18, 20, 0, 0, place) // a Friday
	for _, c := range []struct {
		hi   float64
		most int
		want string
	}{
		{0.3, 8, "19:00 20:00 21:00 22:00 23:00 28 Mar 01:00"},
		{1, 5, "28 Mar 06:00 12:00 18:00"},
		{4, 5, "28 Mar 29 Mar 30 Mar 31 Mar"},
		{25, 5, "30 Mar 6 Apr 13 Apr 20 Apr"},
		{150, 8, "Apr May Jun Jul Aug"},
		{400, 8, "May Jul Sep Nov 2027 Mar May"},
		{500, 5, "Jul 2027 Jul"},
		{900, 3, "2027 2028"},
	} {
		at, step := CalendarTicks(origin)(0, c.hi, c.most)
		got := ""
		for i, v := range at {
			if i > 0 {
				got += " "
			}
			got += CalendarLabel(origin)(v, step)
		}
		if got != c.want {
			t.Errorf("CalendarTicks(0, %v, %d) reads %q, want %q", c.hi, c.most, got, c.want)
		}
	}
}

// Ensure that a chosen range holds the data, wastes little, and puts every
// tick on the middle of a row.
func TestEvenRows(t *testing.T) {
	for rows := 4; rows <= 40; rows++ {
		for _, data := range []interval{{0.998, 1.104}, {1.010, 1.012}, {-3, 40}, {0, 1}, {1e6, 3e6}, {0.1, 0.7}} {
			edges, step := evenRows(data, rows, false)
			row := edges.size() / float64(rows)
			if step == 0 || edges.lo > data.lo || edges.hi < data.hi {
				t.Fatalf("evenRows(%v, %d) = %v, %v: does not hold the data", data, rows, edges, step)
			}
			if used := data.size() / edges.size(); rows > 6 && used < 0.6 {
				t.Errorf("evenRows(%v, %d) uses only %.2f of the plot", data, rows, used)
			}
			first := math.Ceil(edges.lo/step) * step
			if at := (first - edges.lo) / row; math.Abs(at-math.Floor(at)-0.5) > 1e-6 {
				t.Errorf("evenRows(%v, %d): the first tick lies at row %v", data, rows, at)
			}
			if gap := step / row; math.Abs(gap-math.Round(gap)) > 1e-6 {
				t.Errorf("evenRows(%v, %d): ticks are %v rows apart", data, rows, gap)
			}
		}
	}
}

func TestClip(t *testing.T) {
	for _, c := range []struct{ in, want [4]float64 }{
		{[4]float64{0, 0, 1, 1}, [4]float64{0, 0, 1, 1}},
		{[4]float64{-1, 0.5, 3, 0.5}, [4]float64{0, 0.5, 1, 0.5}},
		{[4]float64{0.5, 2, 0.5, -2}, [4]float64{0.5, 1, 0.5, 0}},
		{[4]float64{-1, -1, 2, 2}, [4]float64{0, 0, 1, 1}},
	} {
		got := c.in
		if !clip(&got[0], &got[1], &got[2], &got[3]) || got != c.want {
			t.Errorf("clip(%v) = %v, want %v", c.in, got, c.want)
		}
	}
	x0, y0, x1, y1 := 2.0, 0.0, 3.0, 1.0
	if clip(&x0, &y0, &x1, &y1) {
		t.Errorf("clip leaves %v %v %v %v of a line out of sight", x0, y0, x1, y1)
	}
}

func TestParseRunes(t *testing.T) {
	for r := Braille; r <= ASCII; r++ {
		if got, ok := ParseRunes(r.String()); !ok || got != r {
			t.Errorf("ParseRunes(%q) = %v, %v", r.String(), got, ok)
		}
	}
	if got, ok := ParseRunes("runes"); ok || got != ASCII {
		t.Errorf("ParseRunes of no set = %v, %v", got, ok)
	}
	if Runes(200).Mark(-1) != ASCII.Mark(0) {
		t.Error("an unknown set is not ASCII")
	}
}
