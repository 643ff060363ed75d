package plot_test

import (
	"slices"
	"testing"

	"cellar.local/glassrow/ui/plot"
)

var falling = []float64{1.100, 1.098, 1.091, 1.080, 1.066, 1.050, 1.037, 1.026, 1.019, 1.014, 1.012, 1.011}

func TestSparkline(t *testing.T) {
	gap := slices.Clone(falling)
	gap[6], gap[7] = nan, nan
	flat := []float64{1.010, 1.010, 1.010}
	given := func(set plot.Runes) plot.SparkOptions { return plot.SparkOptions{Runes: set, Min: 1, Max: 1.1} }
	for _, c := range []struct {
		name   string
		values []float64
		width  int
		opts   plot.SparkOptions
		want   string
	}{
		{"falls in dots", falling, 12, plot.SparkOptions{}, "⠉⠉⠉⠑⠒⠤⠤⣀⣀⣀⣀⣀"},
		{"falls in blocks", falling, 12, plot.SparkOptions{Runes: plot.Blocks}, "███▇▅▄▃▂▁▁▁▁"},
		{"falls on a console", falling, 12, plot.SparkOptions{Runes: plot.Console}, "°°°°─.._____"},
		{"falls in ASCII", falling, 12, plot.SparkOptions{Runes: plot.ASCII}, "^^^''-._____"},
		{"averages when narrow", falling, 4, plot.SparkOptions{Runes: plot.Blocks}, "█▅▂▁"},
		{"joins when wide", falling, 20, plot.SparkOptions{Runes: plot.Blocks}, "████▇▇▆▅▅▄▃▂▂▂▁▁▁▁▁▁"},
		{"leaves gaps blank", gap, 12, plot.SparkOptions{Runes: plot.Blocks}, "███▇▅▄  ▁▁▁▁"},
		{"leaves gaps blank in dots", gap, 12, plot.SparkOptions{}, "⠉⠉⠉⠑⠒⠤  ⣀⣀⣀⣀"},
		{"climbs whole cells", []float64{0, 0, 3, 3}, 2, plot.SparkOptions{}, "⣀⠏"},
		{"sits low where the range says so", flat, 5, given(plot.Blocks), "▁▁▁▁▁"},
		{"sits low in dots", flat, 5, given(plot.Braille), "⣀⣀⣀⣀⣀"},
		{"sits low in ASCII", flat, 5, given(plot.ASCII), "_____"},
		{"runs through the middle of no range", flat, 5, plot.SparkOptions{}, "⠒⠒⠒⠒⠒"},
		{"keeps to the edges of a range", []float64{0.9, 1.2}, 2, given(plot.Blocks), "▁█"},
		{"shows one value as a dot", []float64{1.010}, 5, given(plot.Braille), "  ⢀  "},
		{"is blank without values", nil, 3, plot.SparkOptions{}, "   "},
		{"is blank of nothing but gaps", []float64{nan, inf}, 3, plot.SparkOptions{Runes: plot.Blocks}, "   "},
		{"is nothing at no width", falling, 0, plot.SparkOptions{}, ""},
		{"is nothing at less", falling, -3, plot.SparkOptions{}, ""},
		{"ignores a senseless range", falling, 12, plot.SparkOptions{Runes: plot.Blocks, Min: nan, Max: inf}, "███▇▅▄▃▂▁▁▁▁"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := plot.Sparkline(c.values, c.width, c.opts); got != c.want {
				t.Errorf("drew %q, want %q", got, c.want)
			}
		})
	}
}

func TestSample(t *testing.T) {
	points := []plot.Point{{X: 0, Y: 0}, {X: 2, Y: 4}, {X: 3, Y: nan}, {X: 4, Y: 1}}
	got := plot.Sample(points, -1, 4, 6)
	for i, want := range []float64{nan, 0, 2, 4, nan, 1} {
		if got[i] != want && !(got[i] != got[i] && want != want) {
			t.Errorf("Sample at %d = %v, want %v", i-1, got[i], want)
		}
	}
}
