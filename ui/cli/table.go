package cli

import (
	"strings"

	"cellar.local/glassrow/ui/cells"
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
	w := cells.Width(c.title)
	for _, s := range c.cells {
		w = max(w, cells.Width(s))
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
		out[i] = cells.Cut(strings.TrimRight(strings.Join(parts, gap), " "), width)
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

// fit cuts or fills s to w cells.
func fit(s string, w int, right bool) string {
	if right {
		return cells.FitRight(s, w)
	}
	return cells.Fit(s, w)
}
