package sheet

import (
	"fmt"
	"math"
	"strings"
	"time"

	"cellar.local/glassrow/ui/words"
)

// Curve is gravity over time, in days since the must. It is plain figures; the two ways
// of writing a sheet draw it each in its own way.
type Curve struct {
	Points []Dot
	Ahead  []Span // the forecast, as a range and its median
	Marks  []Tag
}

// Dot is one gravity. One that was worked out after an addition is not a reading.
type Dot struct {
	Day, SG float64
	Worked  bool
}

// Span is what is expected of a day.
type Span struct{ Day, Low, Median, High float64 }

// Tag is an event on the axis of time.
type Tag struct {
	Day    float64
	Letter rune
	Word   string
}

func (c Curve) empty() bool { return len(c.Points) < 2 }

func newCurve(s Source) Curve {
	start := s.State.Started
	days := func(t time.Time) float64 { return daysSince(start, t) }
	var c Curve
	for _, p := range s.State.Curve {
		c.Points = append(c.Points, Dot{days(p.At), float64(p.SG), p.Computed})
	}
	if c.empty() {
		return Curve{}
	}
	for _, m := range s.State.Marks {
		if letter, word := words.Event(m.Kind); letter != 0 {
			c.Marks = append(c.Marks, Tag{days(m.At), letter, word})
		}
	}
	if !s.Outlook.Known {
		return c
	}
	last := c.Points[len(c.Points)-1].Day
	until := math.Min(days(s.Outlook.Finish.High)+1, last+math.Max(last, 7)) // the past keeps half of the chart
	for _, a := range s.Outlook.Curve {
		if x := days(a.At); x <= until {
			c.Ahead = append(c.Ahead, Span{x, float64(a.Low), float64(a.Median), float64(a.High)})
		}
	}
	return c
}

// key lists the letters that are on the curve with their words, once each.
func (c Curve) key() string {
	var parts []string
	seen := make(map[rune]bool)
	for _, m := range c.Marks {
		if !seen[m.Letter] {
			seen[m.Letter] = true
			parts = append(parts, string(m.Letter)+" "+m.Word)
		}
	}
	if len(c.Ahead) > 1 {
		parts = append(parts, "grey: where it will be four times in five")
	}
	return strings.Join(parts, ", ")
}

// The drawing in its own units; it is as wide as the paper lets it.
const (
	svgWidth, svgHeight            = 720, 270
	svgLeft, svgRight              = 58, 12
	svgTop, svgBottom              = 26, 42
	tagWidth                       = 11.0 // below which two letters would touch
	svgPlotWidth, svgPlotHeight    = svgWidth - svgLeft - svgRight, svgHeight - svgTop - svgBottom
	leastSpan                      = 0.010 // of gravity, so that two readings a point apart look flat
	daysWidest, gravityTicksAtMost = 9, 6
)

// frame places days and gravities on the drawing.
type frame struct{ days, low, high, step float64 }

func (c Curve) frame() frame {
	f := frame{low: math.Inf(1), high: math.Inf(-1)}
	see := func(day, sg float64) {
		f.days, f.low, f.high = math.Max(f.days, day), math.Min(f.low, sg), math.Max(f.high, sg)
	}
	for _, p := range c.Points {
		see(p.Day, p.SG)
	}
	for _, a := range c.Ahead {
		see(a.Day, a.Low)
		see(a.Day, a.High)
	}
	for _, m := range c.Marks {
		f.days = math.Max(f.days, m.Day)
	}
	if short := leastSpan - (f.high - f.low); short > 0 {
		f.low, f.high = f.low-short/2, f.high+short/2
	}
	f.days = math.Max(f.days, 1)
	f.step = gravityStep(f.high - f.low)
	f.low, f.high = math.Floor(f.low/f.step)*f.step, math.Ceil(f.high/f.step)*f.step
	return f
}

func (f frame) x(day float64) float64 { return svgLeft + svgPlotWidth*day/f.days }
func (f frame) y(sg float64) float64 {
	return svgTop + svgPlotHeight*(f.high-sg)/(f.high-f.low)
}

// gravityStep is a round distance between the figures of the axis.
func gravityStep(span float64) float64 {
	for _, step := range []float64{0.002, 0.005, 0.010, 0.020, 0.050, 0.100} {
		if span/step <= gravityTicksAtMost {
			return step
		}
	}
	return 0.200
}

// dayStep is a round distance between the days of the axis.
func dayStep(days float64) float64 {
	for _, step := range []float64{1, 2, 7, 14, 28, 56, 91, 182, 364, 728} {
		if days/step <= daysWidest {
			return step
		}
	}
	return math.Ceil(days/daysWidest/364) * 364
}

// svg draws the curve. Nothing in it comes from people: figures, and words of ours.
func (c Curve) svg() string {
	if c.empty() {
		return ""
	}
	var b strings.Builder
	f := c.frame()
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" role="img" aria-label="gravity over time">`+"\n", svgWidth, svgHeight)
	c.drawAhead(&b, f)
	drawAxes(&b, f)
	c.drawMarks(&b, f)
	c.drawReadings(&b, f)
	b.WriteString("</svg>")
	return b.String()
}

func drawAxes(b *strings.Builder, f frame) {
	bottom := float64(svgTop + svgPlotHeight)
	for i := 0; ; i++ {
		sg := f.low + float64(i)*f.step
		if sg > f.high+f.step/10 {
			break
		}
		fmt.Fprintf(b, `<line class="grid" x1="%d" y1="%.1f" x2="%d" y2="%.1f"/><text class="right" x="%d" y="%.1f">%.3f</text>`+"\n",
			svgLeft, f.y(sg), svgWidth-svgRight, f.y(sg), svgLeft-6, f.y(sg)+4, sg)
	}
	every := dayStep(f.days)
	for day := 0.0; day <= f.days; day += every {
		fmt.Fprintf(b, `<line class="axis" x1="%.1f" y1="%.1f" x2="%.1f" y2="%.1f"/><text class="mid" x="%.1f" y="%.1f">%.0f</text>`+"\n",
			f.x(day), bottom, f.x(day), bottom+4, f.x(day), bottom+17, day)
	}
	fmt.Fprintf(b, `<path class="axis" d="M%d %d V%.1f H%d"/>`+"\n", svgLeft, svgTop, bottom, svgWidth-svgRight)
	fmt.Fprintf(b, `<text class="mid" x="%d" y="%d">days since the must</text><text class="mid name" transform="translate(12 %d) rotate(-90)">gravity</text>`+"\n",
		svgLeft+svgPlotWidth/2, svgHeight-6, svgTop+svgPlotHeight/2)
}

// drawMarks draws events as lines from top to bottom with their letters above; where
// letters would touch they stand on one line.
func (c Curve) drawMarks(b *strings.Builder, f frame) {
	until := math.Inf(-1)
	for _, m := range c.Marks {
		x := f.x(m.Day)
		fmt.Fprintf(b, `<line class="mark" x1="%.1f" y1="%d" x2="%.1f" y2="%d"/>`, x, svgTop, x, svgTop+svgPlotHeight)
		at := math.Max(x, until+tagWidth)
		fmt.Fprintf(b, `<text class="mid" x="%.1f" y="%d">%c</text>`+"\n", at, svgTop-6, m.Letter)
		until = at
	}
}

func (c Curve) drawReadings(b *strings.Builder, f frame) {
	var line strings.Builder
	for _, p := range c.Points {
		fmt.Fprintf(&line, " %.1f,%.1f", f.x(p.Day), f.y(p.SG))
	}
	fmt.Fprintf(b, `<polyline class="curve" points="%s"/>`+"\n", strings.TrimSpace(line.String()))
	for _, p := range c.Points {
		class := "dot"
		if p.Worked {
			class = "worked"
		}
		fmt.Fprintf(b, `<circle class="%s" cx="%.1f" cy="%.1f" r="2.4"/>`, class, f.x(p.Day), f.y(p.SG))
	}
	b.WriteString("\n")
}

func (c Curve) drawAhead(b *strings.Builder, f frame) {
	if len(c.Ahead) < 2 {
		return
	}
	var band, median strings.Builder
	for _, a := range c.Ahead {
		fmt.Fprintf(&band, " %.1f,%.1f", f.x(a.Day), f.y(a.High))
		fmt.Fprintf(&median, " %.1f,%.1f", f.x(a.Day), f.y(a.Median))
	}
	for i := len(c.Ahead) - 1; i >= 0; i-- {
		fmt.Fprintf(&band, " %.1f,%.1f", f.x(c.Ahead[i].Day), f.y(c.Ahead[i].Low))
	}
	fmt.Fprintf(b, `<polygon class="band" points="%s"/><polyline class="ahead" points="%s"/>`+"\n",
		strings.TrimSpace(band.String()), strings.TrimSpace(median.String()))
}

// caption explains the curve under it.
func (c Curve) caption() string {
	text := "Gravity over days since the must."
	if k := c.key(); k != "" {
		text += " Marks: " + k + "."
	}
	return text
}
