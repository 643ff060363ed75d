// Package cells measures, cuts and breaks text by the cells that it takes on a
// terminal, for the dashboard, the commands and whatever is printed. Colours take
// none. It knows nothing of the program.
package cells

import (
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// Width returns the cells that s takes.
func Width(s string) int { return ansi.StringWidth(s) }

// Cut shortens s to at most w cells, with a tilde where it was cut.
func Cut(s string, w int) string {
	if w <= 0 {
		return ""
	}
	return ansi.Truncate(s, w, "~")
}

// Fit cuts s to w cells or fills it up with blanks.
func Fit(s string, w int) string {
	s = Cut(s, w)
	s += strings.Repeat(" ", max(0, w-Width(s)))
	return s + strings.Repeat(" ", max(0, w-Width(s))) // a letter such as U+0D4E takes the first blank into its own cell
}

// FitRight is Fit with the text at the right end.
func FitRight(s string, w int) string {
	s = Cut(s, w)
	return strings.Repeat(" ", max(0, w-Width(s))) + s
}

// Wrap breaks s into lines of at most w cells: at line breaks and blanks, and within a
// word only where the word alone is longer.
func Wrap(s string, w int) []string {
	if w <= 0 || s == "" {
		return nil
	}
	var out []string
	for text := range strings.SplitSeq(s, "\n") {
		line := ""
		for word := range strings.FieldsSeq(text) {
			if line != "" && Width(line)+1+Width(word) <= w {
				line += " " + word
				continue
			}
			if line != "" {
				out = append(out, line)
			}
			parts := strings.Split(ansi.Hardwrap(word, w, false), "\n")
			out = append(out, parts[:len(parts)-1]...)
			line = parts[len(parts)-1]
		}
		out = append(out, line)
	}
	return out
}
