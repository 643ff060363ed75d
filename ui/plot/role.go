package plot

import "strconv"

// Role says what a run of text in a drawing is, so that the caller can choose
// its style.
type Role int32

const (
	// RoleNone is never painted.
	RoleNone Role = iota
	// RoleTitle is the heading of a chart.
	RoleTitle
	// RoleAxis is an axis line with its ticks, and the empty end of a bar.
	RoleAxis
	// RoleLabel is a figure beside an axis, or the words of a key.
	RoleLabel
	// RoleGrid is the dots where the ticks of both axes cross.
	RoleGrid
	// RoleBand is the shaded range between a low and a high.
	RoleBand
	// RoleRef is a horizontal reference line and its label.
	RoleRef
	// RoleEvent is the vertical line of an event and its tag.
	RoleEvent
	// RoleNow is the vertical line of the present.
	RoleNow
	// RoleChosen is the vertical line of what is pointed at, and its pointer.
	RoleChosen

	roleSeries
)

// SeriesRole returns the role of the i-th series of a chart, or of the i-th
// part of a bar or a stack. In a chart that has both, the layers of the stack
// come first.
func SeriesRole(i int) Role {
	const most = 1 << 20
	return roleSeries + Role(min(max(i, 0), most))
}

// Series returns i for the role of the i-th series, part or layer.
func (r Role) Series() (i int, ok bool) {
	if r < roleSeries {
		return 0, false
	}
	return int(r - roleSeries), true
}

// String returns the role's name, for tests and debugging.
func (r Role) String() string {
	if i, ok := r.Series(); ok {
		return "series " + strconv.Itoa(i)
	}
	names := [...]string{"none", "title", "axis", "label", "grid", "band", "ref", "event", "now", "chosen"}
	if r < 0 {
		return "none"
	}
	return names[r]
}

// Options are what every drawing needs to know about where it will be shown.
// The zero value draws in braille without styles.
type Options struct {
	Runes Runes

	// Paint wraps text in the style of a role; nil leaves it plain. It is called
	// once for each run of one role in a line, so that a terminal receives few
	// style changes, and it must not change how many cells the text takes.
	// Blanks inside a run are painted with it and blanks between runs are not,
	// so prefer foreground colours to backgrounds.
	Paint func(role Role, text string) string
}
