package ui

import (
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// width returns the cells that s takes on the screen.
func width(s string) int { return ansi.StringWidth(s) }

// fit cuts or pads s to exactly w cells, with an ellipsis where it cuts.
func fit(s string, w int) string {
	if w <= 0 {
		return ""
	}
	n := width(s)
	switch {
	case n > w:
		s = ansi.Truncate(s, w, "~")
		n = width(s)
	}
	return s + strings.Repeat(" ", max(0, w-n))
}

// fitRight is fit with the text at the right end.
func fitRight(s string, w int) string {
	n := width(s)
	if n >= w {
		return fit(s, w)
	}
	return strings.Repeat(" ", w-n) + s
}

// cut shortens s to at most w cells.
func cut(s string, w int) string {
	if w <= 0 {
		return ""
	}
	return ansi.Truncate(s, w, "~")
}

// wrap breaks text into lines of at most w cells, at blanks where it can.
func wrap(s string, w int) []string {
	if w <= 0 || s == "" {
		return nil
	}
	return strings.Split(ansi.Wrap(s, w, ""), "\n")
}

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
