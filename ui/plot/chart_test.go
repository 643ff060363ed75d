package plot_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"cellar.local/glassrow/ui/plot"
)

// Ensure that the same chart is drawn in every set of runes, and that it gives
// up its furniture in the documented order as room gets short.
func TestChart_Draw(t *testing.T) {
	for _, set := range sets {
		golden(t, "chart-"+set.String(), ferment().Draw(72, 20, plot.Options{Runes: set}))
		golden(t, "stack-"+set.String(), sugars().Draw(48, 14, plot.Options{Runes: set}))
	}
	for _, size := range [][2]int{{12, 4}, {16, 6}, {24, 8}, {40, 12}} {
		name := fmt.Sprintf("chart-%dx%d", size[0], size[1])
		golden(t, name, ferment().Draw(size[0], size[1], plot.Options{}))
	}
}

func TestChart_Draw_Calendar(t *testing.T) {
	c, origin := ferment(), time.Date(2026, time.January, 22, 18, 20, 0, 0, time.UTC)
	c.X = plot.Axis{Ticks: plot.CalendarTicks(origin), Format: plot.CalendarLabel(origin)}
	golden(t, "chart-calendar", c.Draw(72, 16, plot.Options{}))
}

// none is an axis without figures.
func none(_, _ float64, _ int) ([]float64, float64) { return nil, 0 }

func TestChart_Draw_Curves(t *testing.T) {
	line := func(shape plot.Shape, xy ...float64) plot.Series {
		s := plot.Series{Shape: shape}
		for i := 0; i+1 < len(xy); i += 2 {
			s.Points = append(s.Points, plot.Point{X: xy[i], Y: xy[i+1]})
		}
		return s
	}
	for _, c := range []struct {
		name string
		set  plot.Runes
		s    plot.Series
		want string
	}{
		{"joins points by dots", plot.Braille, line(plot.Line, 0, 4, 10, 0), `
│⠑⠢⡀        
│  ⠈⠑⠤⡀     
│     ⠈⠒⢄⡀  
│        ⠈⠢⢄`},
		{"breaks the line where it only expects", plot.Braille, line(plot.Dashed, 0, 2.1, 10, 2.1), `
│           
│⣀ ⣀ ⣀ ⣀ ⣀ ⣀
│           
│           `},
		{"leaves a gap at what is no number", plot.Braille, line(plot.Line, 0, 1, 4, 1, 5, nan, 6, 3, 10, 3), `
│           
│      ⠈⠉⠉⠉⠉
│           
│⠉⠉⠉⠉⠁      `},
		{"shows a point between gaps", plot.Braille, line(plot.Line, 0, nan, 5, 1.9, 10, inf), `
│           
│           
│     ⠈     
│           `},
		{"cuts what is out of range", plot.Braille, line(plot.Line, 0, 0, 5, 8, 10, 0), `
│  ⡜     ⢣  
│ ⢰⠁     ⠈⡆ 
│⢀⠇       ⠸⡀
│⡜         ⢣`},
		{"climbs and falls by walls", plot.Console, line(plot.Line, 0, 0, 2, 0, 3, 4, 7, 4, 9, 1, 10, 1), `
│   ┌────┐  
│   │    └┐ 
│   │     │ 
│───┘     └─`},
		{"runs by thirds of a row", plot.ASCII, line(plot.Line, 0, 4, 10, 0), `
|'-_        
|   '-      
|     '-_   
|        '-_`},
		{"marks points", plot.Blocks, line(plot.Marks, 0, 0, 5, 2, 10, 4), `
│          •
│           
│     •     
│•          `},
		{"marks points over a line", plot.Braille, line(plot.LineMarks, 0, 0.5, 10, 0.5), `
│           
│           
│           
│•⠤⠤⠤⠤⠤⠤⠤⠤⠤•`},
	} {
		t.Run(c.name, func(t *testing.T) {
			chart := plot.Chart{
				Y:      plot.Axis{Min: 0, Max: 4, Ticks: none},
				X:      plot.Axis{Min: 0, Max: 10, Ticks: none},
				Series: []plot.Series{c.s},
			}
			lines := chart.Draw(12, 5, plot.Options{Runes: c.set})
			if got := "\n" + strings.Join(lines[:4], "\n"); got != c.want {
				t.Errorf("drew%s\nwant%s", got, c.want)
			}
		})
	}
}

// Ensure that Paint sees each run once, whole, and blanks only inside a run.
func TestChart_Draw_Paint(t *testing.T) {
	c := plot.Chart{
		X: plot.Axis{Min: 0, Max: 6}, Y: plot.Axis{Min: 0, Max: 3},
		Series: []plot.Series{{Shape: plot.Marks, Points: []plot.Point{{X: 0, Y: 2.5}, {X: 3, Y: 2.5}, {X: 6, Y: .5}}}},
		Events: []plot.Event{{X: 5, Tag: 'r'}},
	}
	got := strings.Join(c.Draw(9, 6, plot.Options{Runes: plot.ASCII, Paint: tagged}), "\n")
	want := strings.Join([]string{
		"<axis:|><series 0:*   *> <event::> ",
		"<axis:+>      <event::> ",
		"<axis:|>      <event::> ",
		"<axis:+>      <event::><series 0:*>",
		"<axis:++------->",
		" <label:0>       ",
	}, "\n")
	if got != want {
		t.Errorf("drew\n%s\nwant\n%s", got, want)
	}
}

func TestChart_Draw_Nothing(t *testing.T) {
	for name, c := range map[string]plot.Chart{
		"no series":     {},
		"no points":     {Series: []plot.Series{{Label: "gravity"}}},
		"only gaps":     {Series: []plot.Series{{Points: []plot.Point{{X: nan, Y: 1}, {X: 1, Y: inf}}}}},
		"layers of NaN": {StackX: []float64{nan}, Layers: []plot.Layer{{Height: []float64{nan}}}},
	} {
		for _, line := range c.Draw(20, 5, plot.Options{}) {
			if line != strings.Repeat(" ", 20) {
				t.Errorf("%s: drew %q, want blanks", name, line)
			}
		}
	}
}

func TestChart_Draw_ForeignLabels(t *testing.T) {
	c := ferment()
	c.Title, c.Legend = "梅酒 e\u0301\x1b[31m\n", false
	if got, want := c.Draw(30, 8, plot.Options{})[0], "梅酒 e\u0301[31m "+strings.Repeat(" ", 19); got != want {
		t.Errorf("title drawn as %q, want %q", got, want)
	}
	c.Title = "梅酒 wine, 20 °C"
	if got, want := strings.TrimRight(c.Draw(30, 8, plot.Options{Runes: plot.ASCII})[0], " "), "???? wine, 20 ?C"; got != want {
		t.Errorf("title drawn as %q, want %q", got, want)
	}
	if got, want := c.Draw(12, 8, plot.Options{})[0], "梅酒 wine, …"; got != want {
		t.Errorf("title cut to %q, want %q", got, want)
	}
}

// Ensure that what is pointed at is seen without colour, in every set of runes, with a
// pointer where there is room for tags.
func TestChart_Chosen(t *testing.T) {
	at := 5.0
	for set, want := range map[plot.Runes][2]string{plot.Braille: {"┃", "▼"}, plot.Blocks: {"┃", "▼"}, plot.Console: {"║", "▼"}, plot.ASCII: {"!", "V"}} {
		c := plot.Chart{Series: []plot.Series{{Points: []plot.Point{{X: 0, Y: 1}, {X: 10, Y: 2}}}}}
		plain := strings.Join(c.Draw(40, 12, plot.Options{Runes: set}), "\n")
		c.Chosen = &at
		lines := c.Draw(40, 12, plot.Options{Runes: set})
		if drawn := strings.Join(lines, "\n"); strings.Contains(plain, want[0]) || strings.Count(drawn, want[0]) < 5 {
			t.Errorf("%v: no line of %q in\n%s", set, want[0], drawn)
		}
		if !strings.Contains(lines[0], want[1]) {
			t.Errorf("%v: no %q above\n%s", set, want[1], strings.Join(lines, "\n"))
		}
	}
}
