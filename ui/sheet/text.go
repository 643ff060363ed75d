package sheet

import (
	"cellar.local/glassrow/ui/plot"
	"fmt"
)

// Size of the curve in Markdown, in letters: a page's width of a fixed-width font.
const textWidth, textHeight = 76, 16

// text draws the curve in letters, in the one set of signs that every fixed-width font
// keeps aligned.
func (c Curve) text() []string {
	if c.empty() {
		return nil
	}
	readings := plot.Series{Label: "gravity"}
	for _, p := range c.Points {
		readings.Points = append(readings.Points, plot.Point{X: p.Day, Y: p.SG})
	}
	chart := plot.Chart{
		X:      plot.Axis{Format: plot.DayLabel},
		Y:      plot.Axis{MinSpan: leastSpan, Format: func(v, _ float64) string { return fmt.Sprintf("%.3f", v) }},
		Series: []plot.Series{readings},
	}
	if len(c.Ahead) > 1 {
		var band plot.Band
		median := plot.Series{Shape: plot.Dashed}
		for _, a := range c.Ahead {
			band.Spans = append(band.Spans, plot.Span{X: a.Day, Low: a.Low, High: a.High})
			median.Points = append(median.Points, plot.Point{X: a.Day, Y: a.Median})
		}
		chart.Bands, chart.Series = []plot.Band{band}, append(chart.Series, median)
	}
	for _, m := range c.Marks {
		chart.Events = append(chart.Events, plot.Event{X: m.Day, Tag: m.Letter, Label: m.Word})
	}
	return chart.Draw(textWidth, textHeight, plot.Options{Runes: plot.ASCII})
}
