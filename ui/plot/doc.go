// Package plot draws small charts as lines of text: a sparkline, a chart with
// real axes, a stacked bar, and the key that explains them.
//
//	             a               r    now
//	1.100 ┤•     ┊               ┊     │
//	      │⠈⠑⠢⢄• ┊               ┊     │
//	      │    ⠈⠑⠤⣀              ┊     │
//	      │      ┊ •⠤⡀           ┊     │
//	1.050 ┤      ┊   ⠈⠢⢄         ┊     │
//	      │      ┊      •⠢⢄      ┊     │
//	      │      ┊         ⠉⠒•⠤⣀⣀⣀     │
//	      │      ┊               ┊⠉•⠑⠉⠑⠑⠕⠒⢕⠒⢕⠒⢕⠒⢕⠤⢕⠤⢕⠤
//	1.000 ┤      ┊               ┊     │        ⠁⠁⠁⠁⠁⠁
//	      └┬─────────────┬─────────────┬─────────────┬
//	       0             7d           14d          21d
//
// Every function is pure: numbers, a size in cells, a set of runes and a hook
// for styles go in, lines of exactly that width come out. The package refuses
// to know what is being drawn, what time it is, what a colour is, and whether
// the terminal is light or dark. Values that are not numbers are gaps, and no
// input is an error: what cannot be drawn is left blank.
//
// Time is a float64 of days from an origin of the caller's choosing.
package plot
