package cli

import (
	"strings"
	"unicode"
)

// column is a column of a table: its cells line up, to the right if it holds
// numbers.
type column struct {
	title string
	right bool
	cells []string

	// least is the width to which the column may be cut when the lines are too
	// long; 0: never.
	least int

	// spare columns are left out when cutting is not enough, the highest first.
	// 0: never.
	spare int
}

func (c column) width() int {
	w := cells(c.title)
	for _, s := range c.cells {
		w = max(w, cells(s))
	}
	return w
}

// lines lays the columns out in lines of at most width cells, headings first.
func lines(columns []column, width int) []string {
	gap := "  "
	if width < 60 {
		gap = " "
	}
	widths, columns := squeeze(columns, width, len(gap))
	if len(columns) == 0 {
		return nil
	}
	out := make([]string, 1+len(columns[0].cells))
	for i := range out {
		parts := make([]string, len(columns))
		for k, c := range columns {
			s := c.title
			if i > 0 {
				s = c.cells[i-1]
			}
			parts[k] = fit(s, widths[k], c.right)
		}
		out[i] = cut(strings.TrimRight(strings.Join(parts, gap), " "), width)
	}
	return out
}

// squeeze cuts columns that may be cut, then leaves out those that can be spared,
// until a line fits.
func squeeze(columns []column, width, gap int) ([]int, []column) {
	for {
		widths := make([]int, len(columns))
		total := gap * (len(columns) - 1)
		for i, c := range columns {
			widths[i] = c.width()
			total += widths[i]
		}
		for i, c := range columns {
			if c.least > 0 && total > width {
				less := min(total-width, max(0, widths[i]-c.least))
				widths[i] -= less
				total -= less
			}
		}
		spare := mostSpare(columns)
		if total <= width || spare < 0 {
			return widths, columns
		}
		columns = append(columns[:spare:spare], columns[spare+1:]...)
	}
}

func mostSpare(columns []column) int {
	found, most := -1, 0
	for i, c := range columns {
		if c.spare > most {
			found, most = i, c.spare
		}
	}
	return found
}

// cells returns how many cells of a terminal s takes. It knows marks that take
// none and the common scripts that take two; the dashboard counts more finely.
func cells(s string) int {
	n := 0
	for _, r := range s {
		n += cellsOf(r)
	}
	return n
}

func cellsOf(r rune) int {
	switch {
	case unicode.In(r, unicode.Mn, unicode.Me):
		return 0
	case r >= 0x1100 && r <= 0x115f, r >= 0x2e80 && r <= 0xa4cf, r >= 0xac00 && r <= 0xd7a3, r >= 0xf900 && r <= 0xfaff,
		r >= 0xfe30 && r <= 0xfe6f, r >= 0xff00 && r <= 0xff60, r >= 0x1f300 && r <= 0x1faff, r >= 0x20000 && r <= 0x3fffd:
		return 2
	}
	return 1
}

// fit cuts or fills s to w cells.
func fit(s string, w int, right bool) string {
	s = cut(s, w)
	space := strings.Repeat(" ", max(0, w-cells(s)))
	if right {
		return space + s
	}
	return s + space
}

// cut shortens s to at most w cells, with a tilde where it was cut.
func cut(s string, w int) string {
	if cells(s) <= w {
		return s
	}
	n, end := 1, 0 // one for the tilde
	for i, r := range s {
		if n += cellsOf(r); n > w {
			break
		}
		end = i + len(string(r))
	}
	return s[:end] + "~"
}

// wrap breaks s at blanks into lines of at most w cells; a longer word stands
// alone and is cut.
func wrap(s string, w int) []string {
	var out []string
	line := ""
	for _, word := range strings.Fields(s) {
		switch {
		case line == "":
			line = word
		case cells(line)+1+cells(word) <= w:
			line += " " + word
		default:
			out = append(out, cut(line, w))
			line = word
		}
	}
	if line != "" {
		out = append(out, cut(line, w))
	}
	return out
}
