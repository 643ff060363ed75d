package plot_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"cellar.local/glassrow/ui/plot"
)

var left = []plot.Part{
	{Label: "fructose 32 g/L", Amount: 32},
	{Label: "glucose 11 g/L", Amount: 11},
	{Label: "sucrose 0.2 g/L", Amount: 0.2},
	{Label: "dextrins 6 g/L", Amount: 6},
}

func TestBar(t *testing.T) {
	for _, c := range []struct {
		name  string
		parts []plot.Part
		whole float64
		width int
		set   plot.Runes
		want  string
	}{
		{"fills the width, a trace included", left, 0, 20, plot.Braille, "█████████████▓▓▓▓▒░░"},
		{"on a console", left, 0, 20, plot.Console, "█████████████▒▒▒▒░##"},
		{"in ASCII", left, 0, 20, plot.ASCII, "#############====%::"},
		{"leaves the rest of a whole", left, 100, 20, plot.Blocks, "██████▓▓▒░··········"},
		{"keeps to scale when too narrow for all", left, 0, 3, plot.ASCII, "##="},
		{"shows an empty whole", nil, 100, 5, plot.ASCII, "....."},
		{"is blank of nothing", nil, 0, 5, plot.ASCII, "     "},
		{"passes over what is no amount", []plot.Part{{Amount: nan}, {Amount: -1}, {Amount: 2}, {Amount: inf}}, 0, 4, plot.ASCII, "%%%%"},
		{"is nothing at no width", left, 0, -1, plot.ASCII, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := plot.Bar(c.parts, c.whole, c.width, plot.Options{Runes: c.set}); got != c.want {
				t.Errorf("drew %q, want %q", got, c.want)
			}
		})
	}
}

func TestBar_Paint(t *testing.T) {
	got := plot.Bar(left, 100, 16, plot.Options{Runes: plot.ASCII, Paint: tagged})
	want := "<series 0:#####><series 1:=><series 2:%><series 3::><axis:........>"
	if got != want {
		t.Errorf("drew %q, want %q", got, want)
	}
}

func TestBarCells(t *testing.T) {
	for _, c := range []struct {
		amounts []float64
		whole   float64
		width   int
		want    []int
	}{
		{[]float64{1, 1, 1}, 0, 10, []int{4, 3, 3}},
		{[]float64{50, 30, 20}, 0, 10, []int{5, 3, 2}},
		{[]float64{997, 1, 1, 1}, 0, 10, []int{7, 1, 1, 1}},
		{[]float64{0, 5, 0}, 0, 10, []int{0, 10, 0}},
		{[]float64{5, 0.01}, 10, 10, []int{4, 1}},
		{[]float64{0.001}, 100, 10, []int{1}},
		{[]float64{3, 2, 1}, 0, 2, []int{1, 1, 0}},
	} {
		parts := make([]plot.Part, len(c.amounts))
		for i, a := range c.amounts {
			parts[i].Amount = a
		}
		if got := plot.BarCells(parts, c.whole, c.width); !slices.Equal(got, c.want) {
			t.Errorf("BarCells(%v, %v, %d) = %v, want %v", c.amounts, c.whole, c.width, got, c.want)
		}
	}
}

func TestBarLegend(t *testing.T) {
	got := "\n" + strings.Join(plot.BarLegend(left, 38, plot.Options{Runes: plot.ASCII}), "|\n") + "|"
	want := `
# fructose 32 g/L  = glucose 11 g/L   |
% sucrose 0.2 g/L  : dextrins 6 g/L   |`
	if got != want {
		t.Errorf("drew%s\nwant%s", got, want)
	}
	if got := plot.BarLegend(left, 10, plot.Options{})[0]; got != "█ fructos…" {
		t.Errorf("a label too long drawn as %q", got)
	}
	if got := plot.BarLegend(nil, 10, plot.Options{}); got != nil {
		t.Errorf("no parts explained as %q", got)
	}
}

// Ensure that fills stay distinct, and letters, far beyond the shades.
func TestRunes_Fill(t *testing.T) {
	for _, set := range sets {
		seen := map[rune]bool{}
		for i := range 28 {
			r := set.Fill(i)
			if seen[r] || !set.Has(r) {
				t.Errorf("%v: Fill(%d) = %q is not new or not of the set", set, i, r)
			}
			seen[r] = true
		}
	}
}

func ExampleBar() {
	parts := []plot.Part{{"fructose 32 g/L", 32}, {"glucose 11 g/L", 11}, {"dextrins 6 g/L", 6}}
	fmt.Println(plot.Bar(parts, 0, 44, plot.Options{}))
	for _, line := range plot.BarLegend(parts, 44, plot.Options{}) {
		fmt.Println(strings.TrimRight(line, " "))
	}
	// Output:
	// █████████████████████████████▓▓▓▓▓▓▓▓▓▓▒▒▒▒▒
	// █ fructose 32 g/L  ▓ glucose 11 g/L
	// ▒ dextrins 6 g/L
}
