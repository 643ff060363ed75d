package plot_test

import (
	"encoding/binary"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/mattn/go-runewidth"
	"pgregory.net/rapid"

	"cellar.local/glassrow/ui/plot"
)

// cells counts the way the program does everywhere.
var cells = runewidth.Condition{StrictEmojiNeutral: true}

// check holds what is true of every drawing: its size, and its runes.
func check(t interface {
	Helper()
	Fatalf(string, ...any)
}, lines []string, w, h int, set plot.Runes, ownWords bool) {
	t.Helper()
	if len(lines) != max(h, 0) {
		t.Fatalf("drew %d lines, want %d", len(lines), h)
	}
	for _, line := range lines {
		if got := cells.StringWidth(line); got != max(w, 0) {
			t.Fatalf("%q is %d cells, want %d", line, got, w)
		}
		for _, r := range line {
			if !set.Has(r) && (ownWords || set == plot.ASCII) {
				t.Fatalf("%q holds %q, which is not of set %v", line, r, set)
			}
		}
	}
}

var (
	anySet    = rapid.SampledFrom(sets)
	anyWidth  = rapid.OneOf(rapid.IntRange(-2, 130), rapid.SampledFrom([]int{12, 24, 40, 45, 80, 120}))
	anyHeight = rapid.OneOf(rapid.IntRange(-2, 40), rapid.SampledFrom([]int{4, 6, 8, 12, 20, 30}))
	// number is every kind of number, the troublesome ones often.
	number = rapid.OneOf(
		rapid.Float64Range(0.99, 1.12),
		rapid.Float64Range(-50, 400),
		rapid.Float64(),
		rapid.SampledFrom([]float64{0, 1, -1, nan, inf, -inf, 1e300, -1e300, math.MaxFloat64,
			math.SmallestNonzeroFloat64, 1 + 1e-15, math.Copysign(0, -1)}),
	)
	numbers  = rapid.SliceOfN(number, 0, 40)
	anyLabel = rapid.OneOf(rapid.StringMatching(`[a-z %/.]{0,20}`), rapid.String())
	point    = rapid.Custom(func(t *rapid.T) plot.Point {
		return plot.Point{X: number.Draw(t, "x"), Y: number.Draw(t, "y")}
	})
)

func anyAxis(t *rapid.T, name string) plot.Axis {
	a := plot.Axis{}
	if rapid.Bool().Draw(t, name+" given") {
		a.Min, a.Max, a.MinSpan = number.Draw(t, "min"), number.Draw(t, "max"), number.Draw(t, "span")
	}
	switch rapid.IntRange(0, 5).Draw(t, name+" ticks") {
	case 0:
		a.Ticks = plot.CalendarTicks(time.Date(2024, 2, 28, 23, 5, 0, 0, time.UTC))
		a.Format = plot.CalendarLabel(time.Date(2024, 2, 28, 23, 5, 0, 0, time.UTC))
	case 1:
		wild := numbers.Draw(t, "wild ticks")
		a.Ticks = func(_, _ float64, _ int) ([]float64, float64) { return wild, nan }
	}
	return a
}

func anyChart(t *rapid.T, label *rapid.Generator[string]) *plot.Chart {
	c := &plot.Chart{
		Title: label.Draw(t, "title"), Legend: rapid.Bool().Draw(t, "legend"), Grid: true,
		X: anyAxis(t, "x"), Y: anyAxis(t, "y"),
	}
	for range rapid.IntRange(0, 3).Draw(t, "series") {
		c.Series = append(c.Series, plot.Series{
			Label: label.Draw(t, "label"), Shape: plot.Shape(rapid.IntRange(0, 4).Draw(t, "shape")),
			Points: rapid.SliceOfN(point, 0, 20).Draw(t, "points"),
		})
	}
	band := plot.Band{Label: label.Draw(t, "label")}
	for _, p := range rapid.SliceOfN(point, 0, 10).Draw(t, "band") {
		band.Spans = append(band.Spans, plot.Span{X: p.X, Low: p.Y, High: number.Draw(t, "high")})
	}
	c.Bands = append(c.Bands, band)
	for _, p := range rapid.SliceOfN(point, 0, 4).Draw(t, "furniture") {
		c.Refs = append(c.Refs, plot.Ref{Y: p.Y, Label: label.Draw(t, "ref")})
		tag := []rune(label.Draw(t, "tag") + "a")[0]
		c.Events = append(c.Events, plot.Event{X: p.X, Tag: tag, Label: label.Draw(t, "event")})
	}
	if rapid.Bool().Draw(t, "has now") {
		c.Now = new(number.Draw(t, "now"))
	}
	if rapid.Bool().Draw(t, "stack") {
		c.StackX = numbers.Draw(t, "stack x")
		if rapid.Bool().Draw(t, "sorted") {
			slices.Sort(c.StackX)
		}
		for range rapid.IntRange(0, 3).Draw(t, "layers") {
			c.Layers = append(c.Layers, plot.Layer{Label: label.Draw(t, "layer"), Height: numbers.Draw(t, "height")})
		}
	}
	return c
}

// Ensure that a chart of any data is of the asked size and keeps to its runes,
// and that painting changes nothing but the style.
func TestChart_Draw_Property(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		plainWords := rapid.Bool().Draw(t, "plain words")
		label := anyLabel
		if plainWords {
			label = rapid.StringMatching(`[ -~]{0,12}`)
		}
		c, set := anyChart(t, label), anySet.Draw(t, "set")
		w, h := anyWidth.Draw(t, "w"), anyHeight.Draw(t, "h")
		lines := c.Draw(w, h, plot.Options{Runes: set})
		check(t, lines, w, h, set, plainWords)

		last := plot.RoleNone
		painted := c.Draw(w, h, plot.Options{Runes: set, Paint: func(r plot.Role, text string) string {
			if r == plot.RoleNone || text == "" || plainWords && strings.Trim(text, " ") != text {
				t.Fatalf("painted %q as %v", text, r)
			}
			last = r
			return text
		}})
		if !slices.Equal(lines, painted) {
			t.Fatalf("painted %q, plain %q, last role %v", painted, lines, last)
		}
	})
}

func TestSparkline_Property(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		set, w := anySet.Draw(t, "set"), anyWidth.Draw(t, "w")
		opts := plot.SparkOptions{Runes: set, Min: number.Draw(t, "min"), Max: number.Draw(t, "max")}
		check(t, []string{plot.Sparkline(numbers.Draw(t, "values"), w, opts)}, w, 1, set, true)
	})
}

func TestBar_Property(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		set, w := anySet.Draw(t, "set"), anyWidth.Draw(t, "w")
		var parts []plot.Part
		some := 0
		for _, a := range numbers.Draw(t, "amounts") {
			parts = append(parts, plot.Part{Label: anyLabel.Draw(t, "label"), Amount: a})
			if a > 0 && a <= 1e300 {
				some++
			}
		}
		opts := plot.Options{Runes: set}
		check(t, []string{plot.Bar(parts, number.Draw(t, "whole"), w, opts)}, w, 1, set, true)
		key := plot.BarLegend(parts, w, opts)
		check(t, key, w, len(key), set, false)

		sum := 0
		shares := plot.BarCells(parts, 0, w)
		for i, n := range shares {
			sum += n
			switch a := parts[i].Amount; {
			case n < 0 || n > 0 && !(a > 0):
				t.Fatalf("part %v takes %d cells", a, n)
			case n == 0 && a > 0 && a <= 1e300 && some <= w:
				t.Fatalf("part %v is not seen: %v", a, shares)
			}
			for j, m := range shares {
				if parts[i].Amount > parts[j].Amount && parts[i].Amount <= 1e300 && n < m {
					t.Fatalf("%v takes %d cells, %v takes %d", parts[i].Amount, n, parts[j].Amount, m)
				}
			}
		}
		if some > 0 && sum != max(w, 0) {
			t.Fatalf("cells %v sum to %d, want %d", shares, sum, w)
		}
	})
}

// Ensure that every ticker keeps its promise: rising, inside, not too many.
func TestTickers_Property(t *testing.T) {
	tickers := map[string]plot.Ticker{
		"nice": plot.NiceTicks, "day": plot.DayTicks,
		"calendar": plot.CalendarTicks(time.Date(2025, 10, 20, 21, 40, 0, 0, time.UTC)),
	}
	rapid.Check(t, func(t *rapid.T) {
		lo, hi, most := number.Draw(t, "lo"), number.Draw(t, "hi"), rapid.IntRange(-1, 30).Draw(t, "most")
		for name, ticks := range tickers {
			at, step := ticks(lo, hi, most)
			slack := 1e-6 * math.Abs(step)
			if len(at) > max(most, 0) || !slices.IsSorted(at) {
				t.Fatalf("%s: %d ticks at %v, want at most %d, rising", name, len(at), at, most)
			}
			if n := len(at); n > 0 && !(at[0] >= lo-slack && at[n-1] <= hi+slack && step > 0) {
				t.Fatalf("%s: ticks %v a step %v apart, want within %v and %v", name, at, step, lo, hi)
			}
		}
	})
}

func FuzzDraw(f *testing.F) {
	f.Add([]byte("no numbers to speak of, but sixteen bytes each"), "gravity", 40, 12, uint8(0))
	f.Fuzz(func(t *testing.T, data []byte, label string, w, h int, set uint8) {
		if w > 300 || h > 100 {
			t.Skip()
		}
		var v []float64
		for ; len(data) >= 8; data = data[8:] {
			v = append(v, math.Float64frombits(binary.LittleEndian.Uint64(data)))
		}
		runes := plot.Runes(set % 5)
		check(t, []string{plot.Sparkline(v, w, plot.SparkOptions{Runes: runes})}, w, 1, runes, true)
		c := plot.Chart{Title: label, Legend: true, Grid: true, StackX: v, Layers: []plot.Layer{{label, v}}}
		s, b := plot.Series{Label: label}, plot.Band{Label: label}
		for i := 0; i+2 < len(v); i += 3 {
			s.Points = append(s.Points, plot.Point{X: v[i], Y: v[i+1]})
			b.Spans = append(b.Spans, plot.Span{X: v[i], Low: v[i+1], High: v[i+2]})
			c.Refs = append(c.Refs, plot.Ref{Y: v[i], Label: label})
			c.Events = append(c.Events, plot.Event{X: v[i+1], Tag: 'a', Label: label})
			c.Now = &v[i+2]
		}
		c.Series, c.Bands = []plot.Series{s, {Shape: plot.Dashed, Points: s.Points}}, []plot.Band{b}
		check(t, c.Draw(w, h, plot.Options{Runes: runes}), w, h, runes, false)
		c.Layers = nil
		check(t, c.Draw(w, h, plot.Options{Runes: runes}), w, h, runes, false)
	})
}
