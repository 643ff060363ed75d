package plot_test

import (
	"fmt"
	"strconv"
	"strings"

	"cellar.local/glassrow/ui/plot"
)

func ExampleChart() {
	c := plot.Chart{
		Title: "Windfall perry",
		Y:     plot.Axis{Format: func(v, _ float64) string { return strconv.FormatFloat(v, 'f', 3, 64) }},
		Series: []plot.Series{{Points: []plot.Point{
			{X: 0, Y: 1.052}, {X: 2, Y: 1.046}, {X: 5, Y: 1.028}, {X: 8, Y: 1.014}, {X: 12, Y: 1.006}, {X: 15, Y: 1.004},
		}}},
		Events: []plot.Event{{X: 12, Tag: 'r'}},
		Refs:   []plot.Ref{{Y: 1, Label: "dry"}},
	}
	for _, line := range c.Draw(48, 14, plot.Options{}) {
		fmt.Println(strings.TrimRight(line, " "))
	}
	// Output:
	// Windfall perry
	//                                        r
	// 1.060 ┤                                ┊
	//       │•⣀⡀                             ┊
	//       │  ⠈⠑⠒•⣀                         ┊
	// 1.040 ┤       ⠑⠢⡀                      ┊
	//       │         ⠈⠑⠤⡀                   ┊
	//       │            ⠈•⠤⣀                ┊
	// 1.020 ┤                ⠉⠒⠤⣀            ┊
	//       │                    ⠉•⠒⠤⠤⣀⣀     ┊
	//       │                           ⠉⠉⠑⠒⠢•⠤⠤⠤⢄⣀⣀⣀•
	// 1.000 ┤╌ ╌ ╌ ╌ ╌ ╌ ╌ ╌ ╌ ╌ ╌ ╌ ╌ ╌ ╌ ╌ ┊ ╌ ╌ dry
	//       └┬──────────────────┬─────────────────┬───
	//        0                  7d               14d
}

func ExampleSparkline() {
	falling := []float64{1.100, 1.098, 1.091, 1.080, 1.066, 1.050, 1.037, 1.026, 1.019, 1.014, 1.012, 1.011}
	for _, set := range []plot.Runes{plot.Braille, plot.Blocks, plot.Console, plot.ASCII} {
		fmt.Println(plot.Sparkline(falling, 12, plot.SparkOptions{Runes: set, Min: 0.99, Max: 1.1}))
	}
	// Output:
	// ⠉⠉⠉⠉⠒⠒⠤⠤⠤⣀⣀⣀
	// ███▇▆▅▄▃▃▂▂▂
	// °°°°──...___
	// ^^^^'--...._
}
