package ui

// rect is a part of the screen, in cells.
type rect struct{ x, y, w, h int }

// The smallest terminal that the program can use, and the width from which the
// selected batch stands beside the shelf instead of under it.
const (
	minWidth, minHeight = 40, 12
	besideFrom          = 112
	shelfMost           = 100 // a shelf line has no use for more
	batchLeast          = 8   // lines of the batch under a shelf, if there are that many
	gutter              = 2   // between shelf and batch
)

// screenLayout is where everything goes.
type screenLayout struct {
	header, shelf, batch, footer rect
	beside                       bool
}

// layOut shares the screen out: one line of header, two of footer, and the shelf
// and the selected batch side by side, or on a narrow screen one above the
// other. vessels is how many lines the shelf would like.
//
//	+--------- header ---------+     +------ header ------+
//	| shelf        | batch     |     | shelf              |
//	|              |           |     |--------------------|
//	|              |           |     | batch              |
//	+--------- footer ---------+     +------ footer ------+
func layOut(w, h, vessels int) screenLayout {
	const headerLines, footerLines = 1, 2
	body := max(0, h-headerLines-footerLines)
	l := screenLayout{
		header: rect{0, 0, w, headerLines},
		footer: rect{0, h - footerLines, w, footerLines},
	}
	if w >= besideFrom {
		l.beside = true
		shelf := min(shelfMost, w*11/20)
		l.shelf = rect{0, headerLines, shelf, body}
		l.batch = rect{shelf + gutter, headerLines, w - shelf - gutter, body}
		return l
	}
	// The shelf gets its vessels and a heading, but leaves the batch its due.
	shelf := min(max(vessels, 5)+1, max(4, body-batchLeast))
	l.shelf = rect{0, headerLines, w, shelf}
	l.batch = rect{0, headerLines + shelf, w, body - shelf}
	return l
}

// tooSmall reports whether nothing useful can be shown.
func tooSmall(w, h int) bool { return w < minWidth || h < minHeight }
