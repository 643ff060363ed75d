package ui

import (
	"slices"
	"strings"

	"cellar.local/glassrow/ui/cells"
)

// The short names of package cells, which every pane uses.

func width(s string) int              { return cells.Width(s) }
func fit(s string, w int) string      { return cells.Fit(s, w) }
func fitRight(s string, w int) string { return cells.FitRight(s, w) }
func cut(s string, w int) string      { return cells.Cut(s, w) }
func wrap(s string, w int) []string   { return cells.Wrap(s, w) }

// sides puts left and right at the two ends of a line of w cells; right gives
// way when there is no room for both.
func sides(left, right string, w int) string {
	room := w - width(left)
	if room <= width(right) {
		return fit(left, w)
	}
	return left + strings.Repeat(" ", room-width(right)) + right
}

// padLines cuts or fills lines to exactly h lines of exactly w cells.
func padLines(lines []string, w, h int) []string {
	out := make([]string, h)
	for i := range out {
		if i < len(lines) {
			out[i] = fit(lines[i], w)
		} else {
			out[i] = strings.Repeat(" ", max(0, w))
		}
	}
	return out
}

// beside joins two blocks of lines, a gap apart.
func beside(left, right []string, gap string) []string {
	out := make([]string, max(len(left), len(right)))
	for i := range out {
		if i < len(left) {
			out[i] = left[i]
		}
		out[i] += gap
		if i < len(right) {
			out[i] += right[i]
		}
	}
	return out
}

// closeUp leaves out the blank lines when there is no room for all, so that what is
// said last, often what to beware of, stays on the screen.
func closeUp(lines []string, h int) []string {
	if len(lines) <= h {
		return lines
	}
	return slices.DeleteFunc(slices.Clone(lines), func(l string) bool { return strings.TrimSpace(l) == "" })
}
