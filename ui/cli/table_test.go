package cli

import (
	"strings"
	"testing"
	"unicode"

	"cellar.local/glassrow/ui/cells"
	"cellar.local/glassrow/ui/words"
)

// Ensure that no line of a table is longer than asked, whatever is in the cells,
// and that the columns that cannot be spared are there.
func FuzzLines(f *testing.F) {
	f.Add("N1", "Heather mead", "1.034", 80)
	f.Add("N1", "桜の花 mead", "1.034", 45)
	f.Add("", "e\u0301\u0301", "", 20)
	f.Fuzz(func(t *testing.T, label, name, sg string, width int) {
		if width < 20 || width > 500 || len(label) > 1000 {
			t.Skip()
		}
		say := words.Words{}
		columns := []column{
			{title: "vessel", cells: []string{say.Text(label)}},
			{title: "batch", least: 8, spare: 1, cells: []string{say.Text(name)}},
			{title: "SG", right: true, cells: []string{say.Text(sg)}},
		}
		for _, l := range lines(columns, width) {
			if cells.Width(l) > width || strings.ContainsFunc(l, unicode.IsControl) {
				t.Errorf("line %q is %d cells, want at most %d printable ones", l, cells.Width(l), width)
			}
		}
		for _, l := range cells.Wrap(say.Text(name), width) {
			if cells.Width(l) > width {
				t.Errorf("wrapped line %q is %d cells, want at most %d", l, cells.Width(l), width)
			}
		}
	})
}
