package sheet

import (
	"math"
	"strings"
	"testing"
)

// Ensure that whatever the span, the axes carry a few round figures and every point lies
// on the drawing.
func TestCurve_Frame(t *testing.T) {
	for name, c := range map[string]Curve{
		"flat":       {Points: []Dot{{Day: 0, SG: 1.001}, {Day: 1, SG: 1.001}}},
		"a wine":     {Points: []Dot{{Day: 0, SG: 1.084}, {Day: 173, SG: 0.990}}},
		"a big mead": {Points: []Dot{{Day: 0, SG: 1.180}, {Day: 900, SG: 1.020}}},
		"forecast":   {Points: []Dot{{Day: 0, SG: 1.1}, {Day: 5, SG: 1.06}}, Ahead: []Span{{5, 1.05, 1.06, 1.06}, {9, 0.985, 1.0, 1.01}}},
	} {
		t.Run(name, func(t *testing.T) {
			f, svg := c.frame(), c.svg()
			if n := math.Round((f.high - f.low) / f.step); n < 2 || n > gravityTicksAtMost+2 {
				t.Errorf("%v steps of %v", n, f.step)
			}
			for _, p := range c.Points {
				if x, y := f.x(p.Day), f.y(p.SG); x < svgLeft || x > svgWidth-svgRight+0.01 || y < svgTop-0.01 || y > svgTop+svgPlotHeight+0.01 {
					t.Errorf("%+v lies at %.1f, %.1f", p, x, y)
				}
			}
			if strings.Contains(svg, "NaN") || strings.Contains(svg, "class=\"band\"") != (len(c.Ahead) > 0) {
				t.Errorf("it is drawn as %s", svg)
			}
		})
	}
	if got := (Curve{Points: []Dot{{}}}).svg(); got != "" {
		t.Errorf("one point is drawn as %s", got)
	}
}

// Ensure that text stands in Markdown as it was typed.
func TestEscape(t *testing.T) {
	for in, want := range map[string]string{
		"plain 12.5 words": "plain 12.5 words", "# no heading": `\# no heading`, "- no list": `\- no list`, "1. no list": `1\. no list`,
		"a | b": `a \| b`, "<b>": `\<b\>`, "`x`": "\\`x\\`", "a\nb\tc": "a b c", "\x1b": "?", `back\`: `back\\`, "&lt;": `\&lt;`,
		"http://x.y": `http\://x.y`, "2.5 kg": "2.5 kg", "***": `\*\*\*`, "": "",
	} {
		if got := escape(in); got != want {
			t.Errorf("escape(%q) = %q, want %q", in, got, want)
		}
	}
}
