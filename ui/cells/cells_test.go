package cells

import (
	"slices"
	"strings"
	"testing"
)

func TestCut(t *testing.T) {
	for _, c := range []struct {
		s    string
		w    int
		want string
	}{
		{"heather mead", 20, "heather mead"}, {"heather mead", 8, "heather~"}, {"桜の花", 5, "桜の~"}, {"x", 0, ""}, {"\x1b[1mheather\x1b[0m", 4, "\x1b[1mhea~\x1b[0m"},
	} {
		if got := Cut(c.s, c.w); got != c.want || Width(got) > max(c.w, 0) {
			t.Errorf("Cut(%q, %d) = %q, want %q", c.s, c.w, got, c.want)
		}
	}
}

func TestWrap(t *testing.T) {
	if got, want := Wrap("keep it cold and drink it", 9), []string{"keep it", "cold and", "drink it"}; !slices.Equal(got, want) {
		t.Errorf("Wrap = %q, want %q", got, want)
	}
	if got := Wrap("", 9); got != nil {
		t.Errorf("Wrap of nothing = %q", got)
	}
}

// Ensure that whatever the text, Fit takes exactly the cells asked for and no line of
// Wrap more.
func FuzzCells(f *testing.F) {
	f.Add("Heather mead", 8)
	f.Add("桜の花 mead", 5)
	f.Add("e\u0301\u0301 a-b", 3)
	f.Add("\u0d4e", 49)
	f.Add("\u0600", 49)
	f.Fuzz(func(t *testing.T, s string, w int) {
		if w < 2 || w > 500 || len(s) > 1000 || strings.ContainsFunc(s, func(r rune) bool { return r < ' ' || r >= 0x7f && r < 0xa0 || r == '\u2028' || r == '\ufffd' }) {
			t.Skip()
		}
		for _, got := range []string{Fit(s, w), FitRight(s, w)} {
			if Width(got) != w {
				t.Errorf("%q in %d cells takes %d: %q", s, w, Width(got), got)
			}
		}
		for _, l := range Wrap(s, w) {
			if Width(l) > w {
				t.Errorf("line %q of %q takes %d cells, want at most %d", l, s, Width(l), w)
			}
		}
	})
}
