package plot_test

import (
	"flag"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"cellar.local/glassrow/ui/plot"
)

var update = flag.Bool("update", false, "rewrite testdata/*.golden from what is drawn now")

var sets = []plot.Runes{plot.Braille, plot.Blocks, plot.Console, plot.ASCII}

var nan, inf = math.NaN(), math.Inf(1)

func gravityLabel(v, _ float64) string { return strconv.FormatFloat(v, 'f', 3, 64) }

// ferment returns a chart of a made-up mead: an S-shaped fall, a forecast that
// widens, an addition, a racking, a target and a present.
func ferment() *plot.Chart {
	curve := func(x float64) float64 { return 1.012 + 0.088/(1+math.Exp((x-5)/2.1)) }
	var read, expected []plot.Point
	var band []plot.Span
	for _, x := range []float64{0, 1, 2, 3.2, 4, 5, 6.1, 7.5, 9, 11, 13} {
		read = append(read, plot.Point{X: x, Y: curve(x)})
	}
	for x := 13.0; x <= 24; x += 0.5 {
		spread := 0.001 + 0.0006*(x-13)
		expected = append(expected, plot.Point{X: x, Y: curve(x)})
		band = append(band, plot.Span{X: x, Low: curve(x) - spread, High: curve(x) + spread})
	}
	return &plot.Chart{
		Title: "Heather mead", Legend: true, Grid: true,
		Y: plot.Axis{Format: gravityLabel, MinSpan: 0.01},
		Series: []plot.Series{
			{Label: "gravity", Points: read},
			{Label: "expected", Shape: plot.Dashed, Points: expected},
		},
		Bands:  []plot.Band{{Label: "80 % band", Spans: band}},
		Events: []plot.Event{{X: 3, Tag: 'a', Label: "addition"}, {X: 11.5, Tag: 'r', Label: "racking"}},
		Refs:   []plot.Ref{{Y: 1.010, Label: "target"}},
		Now:    new(15.0),
	}
}

// sugars returns a stack of what is left by kind, glucose going first.
func sugars() *plot.Chart {
	c := &plot.Chart{Title: "Sugars, g/L", Legend: true, Layers: []plot.Layer{
		{Label: "dextrins"}, {Label: "fructose"}, {Label: "glucose"},
	}}
	for x := 0.0; x <= 14; x += 0.5 {
		c.StackX = append(c.StackX, x)
		c.Layers[0].Height = append(c.Layers[0].Height, 12)
		c.Layers[1].Height = append(c.Layers[1].Height, 110/(1+math.Exp((x-7)/1.7)))
		c.Layers[2].Height = append(c.Layers[2].Height, 100/(1+math.Exp((x-4)/1.2)))
	}
	return c
}

// golden compares drawn lines with testdata/name.golden. Bars at the ends show
// the width.
func golden(t *testing.T, name string, lines []string) {
	t.Helper()
	got := "|" + strings.Join(lines, "|\n|") + "|\n"
	file := filepath.Join("testdata", name+".golden")
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s: drew\n%swant\n%s", name, got, want)
	}
}

// tagged paints by naming: it shows where runs begin and end.
func tagged(r plot.Role, text string) string { return "<" + r.String() + ":" + text + ">" }
