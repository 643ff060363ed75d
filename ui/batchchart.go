package ui

import (
	"fmt"
	"math"
	"time"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/ui/plot"
	"cellar.local/glassrow/ui/words"
)

// chart draws gravity over time with real axes, and what is foreseen of it.
func (p batchPane) chart(w, h int, now time.Time, st *Styles) []string {
	start := p.state.Started
	days := func(t time.Time) float64 { return t.Sub(start).Hours() / 24 }
	c := plot.Chart{
		X:      p.timeAxis(now),
		Y:      plot.Axis{MinSpan: 0.010, Format: func(v, _ float64) string { return fmt.Sprintf("%.3f", v) }},
		Series: p.curves(days),
		Legend: h >= 12,
	}
	p.foreseen(&c, days)
	for _, m := range p.state.Marks {
		if letter, word := words.Event(m.Kind); letter != 0 {
			c.Events = append(c.Events, plot.Event{X: days(m.At), Tag: letter, Label: word})
		}
	}
	if today := days(now); today <= 1.2*math.Max(3, days(p.lastPoint())) {
		c.Now = &today
	}
	if m, ok := p.mark(); ok {
		at := days(m.At)
		c.Chosen = &at
	}
	return c.Draw(w, h, plot.Options{Runes: p.opts.Glyphs.Runes, Paint: st.paint})
}

// timeAxis shows a whole day at least: minutes after the must, a span of its own would
// be told in hundredths of a minute.
func (p batchPane) timeAxis(now time.Time) plot.Axis {
	axis := plot.Axis{Format: plot.DayLabel}
	if start := p.state.Started; max(now.Sub(start), p.lastPoint().Sub(start)) < 24*time.Hour {
		axis.Min, axis.Max = 0, 1
	}
	return axis
}

// curves is the gravity; where a device tells it, a line, and marks where a person read.
func (p batchPane) curves(days func(time.Time) float64) []plot.Series {
	gravity := plot.Series{Label: "gravity"}
	hand := plot.Series{Label: "by hand", Shape: plot.Marks}
	for _, c := range p.state.Curve {
		at := plot.Point{X: days(c.At), Y: float64(c.SG)}
		gravity.Points = append(gravity.Points, at)
		if c.Device {
			gravity.Shape = plot.Line
		} else {
			hand.Points = append(hand.Points, at)
		}
	}
	if gravity.Shape != plot.Line {
		return []plot.Series{gravity}
	}
	return []plot.Series{gravity, hand}
}

// foreseen adds the band of the forecast and its median, as far as the likely finish
// but never so far that the past is squeezed into less than half of the chart.
func (p batchPane) foreseen(c *plot.Chart, days func(time.Time) float64) {
	if !p.outlook.Known {
		return
	}
	last := days(p.lastPoint())
	until := math.Min(days(p.outlook.Finish.High)+1, last+math.Max(last, 7))
	band := plot.Band{Label: "4 in 5"}
	median := plot.Series{Label: "forecast", Shape: plot.Dashed}
	for _, a := range p.outlook.Curve {
		x := days(a.At)
		if x > until {
			break
		}
		band.Spans = append(band.Spans, plot.Span{X: x, Low: float64(a.Low), High: float64(a.High)})
		median.Points = append(median.Points, plot.Point{X: x, Y: float64(a.Median)})
	}
	if len(median.Points) > 1 {
		c.Bands = append(c.Bands, band)
		c.Series = append(c.Series, median)
	}
}

func (p batchPane) lastPoint() time.Time {
	if n := len(p.state.Curve); n > 0 {
		return p.state.Curve[n-1].At
	}
	return p.state.Started
}

// sugars draws what is dissolved as a stacked bar, in the order the yeast takes
// it, with its legend.
func (p batchPane) sugars(w int, st *Styles) []string {
	return sugarBarOf(p.sugarKinds(), p.state.Liquid, p.state.Figures.Volume, w, p.opts.Glyphs, st)
}

// sugarKinds lists the sugars that the batch has held at any time, so that each keeps
// its fill from the must to the end.
func (p batchPane) sugarKinds() []calc.Component {
	var kinds []calc.Component
	for _, c := range calc.Components() {
		if !isSugarOfBar(c) {
			continue
		}
		most := p.state.Liquid.Of(c)
		for _, at := range p.state.Curve {
			most = max(most, at.Liquid.Of(c))
		}
		if most >= calc.Gram(0.05*float64(p.state.Figures.Volume)) && most > 0 {
			kinds = append(kinds, c)
		}
	}
	return kinds
}

// sugarsOverTime draws how the sugars went, the first eaten at the bottom.
func (p batchPane) sugarsOverTime(w, h int, now time.Time, st *Styles) []string {
	kinds := p.sugarKinds()
	if h < 5 || len(kinds) == 0 || len(p.state.Curve) < 3 {
		return nil
	}
	c := plot.Chart{
		X: p.timeAxis(now),
		Y: plot.Axis{MinSpan: 20, Format: func(v, _ float64) string { return fmt.Sprintf("%.0f", v) }},
	}
	for _, k := range kinds {
		c.Layers = append(c.Layers, plot.Layer{Label: k.String()})
	}
	last := -1.0
	for _, at := range p.state.Curve {
		v, err := at.Liquid.Volume()
		if err != nil || v == 0 {
			continue
		}
		last = math.Max(at.At.Sub(p.state.Started).Hours()/24, last+1e-3)
		c.StackX = append(c.StackX, last)
		for i, k := range kinds {
			c.Layers[i].Height = append(c.Layers[i].Height, float64(at.Liquid.Of(k))/float64(v))
		}
	}
	lines := []string{"", st.Heading.Render(fit("  Sugars over time, g/L", w))}
	return append(lines, c.Draw(w, h, plot.Options{Runes: p.opts.Glyphs.Runes, Paint: st.paintBar})...)
}

// sugarBar is a bar of the sugars of a liquid with their grams per litre.
func sugarBar(l calc.Liquid, v calc.Litre, w int, g Glyphs, st *Styles) []string {
	var kinds []calc.Component
	for _, c := range calc.Components() {
		if isSugarOfBar(c) && float64(l.Of(c)) >= 0.05*float64(v) {
			kinds = append(kinds, c)
		}
	}
	return sugarBarOf(kinds, l, v, w, g, st)
}

// sugarBarOf is a bar of some sugars; one of which there is no more than a trace is
// left out of it and of its key.
func sugarBarOf(kinds []calc.Component, l calc.Liquid, v calc.Litre, w int, g Glyphs, st *Styles) []string {
	if v == 0 {
		return nil
	}
	some := false
	parts := make([]plot.Part, len(kinds))
	for i, c := range kinds {
		if perLitre := float64(l.Of(c)) / float64(v); perLitre >= 0.05 {
			parts[i], some = plot.Part{Label: fmt.Sprintf("%s %.0f", c, perLitre), Amount: perLitre}, true
		}
	}
	if !some {
		return []string{"  " + st.Muted.Render("no sugar left")}
	}
	o := plot.Options{Runes: g.Runes, Paint: st.paintBar}
	lines := []string{"  " + plot.Bar(parts, 0, max(1, w-4), o)}
	for _, l := range plot.BarLegend(parts, max(1, w-4), o) {
		lines = append(lines, "  "+l)
	}
	return lines
}

// isSugarOfBar tells the components that belong in a bar of sugars: all that
// yeast eats, and the sugars and polyols that stay and sweeten.
func isSugarOfBar(c calc.Component) bool {
	return c.Sugar() || c == calc.Dextrin || c == calc.Erythritol || c == calc.Xylitol || c == calc.Sorbitol || c == calc.Allulose
}
