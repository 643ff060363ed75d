package plot

// Point is one place on a curve. A point with a coordinate that is not a
// number is a gap.
type Point struct{ X, Y float64 }

// Span is a range of Y at one X.
type Span struct{ X, Low, High float64 }

// Shape says how a series is drawn.
type Shape uint8

const (
	// LineMarks joins the points and marks each, for readings. Where points
	// crowd, the marks would hide the line and are left out.
	LineMarks Shape = iota
	// Line joins the points, for curves that were computed.
	Line
	// Dashed joins the points with a broken line, for what is expected.
	Dashed
	// Marks leaves the points apart.
	Marks
)

// Series is one curve. Its points are joined in the order given.
type Series struct {
	Label  string // for the key
	Shape  Shape
	Points []Point
}

// Band is a shaded range, such as a forecast's. Its spans must be in order
// of X.
type Band struct {
	Label string // for the key
	Spans []Span
}

// Layer is one part of a stack: the heights it adds at each of the chart's
// StackX.
type Layer struct {
	Label  string // for the key
	Height []float64
}

// Event is a vertical line with a one-letter tag above it.
type Event struct {
	X     float64
	Tag   rune
	Label string // for the key, where each tag is explained once
}

// Ref is a horizontal line with a label.
type Ref struct {
	Y     float64
	Label string
}

// Axis says what one axis covers and how it is labelled.
type Axis struct {
	// Min and Max are the range to show. When Min is not below Max the range
	// is chosen so that everything passed in is seen, and for y so that ticks
	// fall on evenly spaced rows.
	Min, Max float64

	// MinSpan keeps a chosen range from closing in on noise: two readings one
	// point apart should look flat, not like a cliff.
	MinSpan float64

	// Ticks places the figures; nil is NiceTicks for y and DayTicks for x.
	Ticks Ticker

	// Format labels a tick, told the distance between ticks so that it can
	// choose its decimals; nil is NumberLabel for y and DayLabel for x.
	Format func(v, step float64) string
}

// Chart is everything that one chart shows. All of it is optional.
type Chart struct {
	Title  string
	Legend bool // explain series, bands, layers and events, if there is room

	X, Y Axis
	Grid bool // a dot where the ticks of both axes cross, if the plot is not small

	Series []Series
	Bands  []Band
	Events []Event
	Refs   []Ref
	Now    *float64 // a vertical line for the present; nil for none
	Chosen *float64 // a heavy vertical line, with a pointer above, for what is pointed at

	// StackX and Layers draw filled layers one upon the other, the first at
	// the bottom, under everything else. StackX must rise.
	StackX []float64
	Layers []Layer
}

// Draw returns height lines of exactly width cells. As room gets short it
// gives up the key first, then title, tags, axis line and figures, and the
// plot last. A chart with nothing to show is blank but for its heading.
func (c *Chart) Draw(width, height int, opts Options) []string {
	cv := newCanvas(width, height, opts.Runes)
	if cv.w == 0 || cv.h == 0 {
		return cv.lines(nil)
	}
	p := plotter{canvas: cv, chart: c}
	p.layout()
	if !p.bare {
		p.drawStack()
		p.drawBands()
		p.drawGrid()
		p.drawRefs()
		p.drawVerticals()
		p.drawSeries()
		p.drawRefLabels()
		p.drawAxes()
	}
	p.drawHeading()
	return cv.lines(opts.Paint)
}

// ranges returns what the axes must cover before any rounding.
func (c *Chart) ranges() (x, y interval) {
	x, y = nothing, nothing
	for _, s := range c.Series {
		for _, p := range s.Points {
			if usable(p.X) && usable(p.Y) {
				x.add(p.X)
				y.add(p.Y)
			}
		}
	}
	for _, b := range c.Bands {
		for _, s := range b.Spans {
			if s.usable() {
				x.add(s.X)
				y.add(s.Low)
				y.add(s.High)
			}
		}
	}
	if len(c.Layers) > 0 {
		y.add(0)
		for i, at := range c.StackX {
			x.add(at)
			y.add(c.stackHeight(i))
		}
	}
	for _, r := range c.Refs {
		y.add(r.Y)
	}
	for _, e := range c.Events {
		x.add(e.X)
	}
	if c.Now != nil {
		x.add(*c.Now)
	}
	if c.Chosen != nil {
		x.add(*c.Chosen)
	}
	return x, y
}

func (s Span) usable() bool { return usable(s.X) && usable(s.Low) && usable(s.High) }

// given returns the range the caller asked for.
func (a *Axis) given() (interval, bool) {
	asked := interval{a.Min, a.Max}
	return asked, usable(a.Min) && usable(a.Max) && !asked.thin()
}

// least returns MinSpan if it makes sense.
func (a *Axis) least() float64 {
	if usable(a.MinSpan) && a.MinSpan > 0 {
		return a.MinSpan
	}
	return 0
}

// valueAt reads the line through the first two points at x; NaN beside them.
func valueAt(points []Point, x float64) float64 {
	if len(points) == 0 || !usable(x) {
		return nan
	}
	a, b := points[0], points[len(points)-1]
	switch {
	case !(a.X <= x && x <= b.X):
		return nan
	case x == b.X || !(a.X < b.X):
		return orNaN(b.Y)
	case x == a.X:
		return orNaN(a.Y)
	}
	return orNaN(between(a.Y, b.Y, (x-a.X)/(b.X-a.X)))
}
