package plot

import (
	"strings"
	"unicode/utf8"

	"github.com/clipperhouse/uax29/v2/graphemes"
	"github.com/mattn/go-runewidth"
)

// measure counts cells the way the terminals of every locale draw them, not
// the way a Chinese or Japanese locale would have go-runewidth believe.
var measure = &runewidth.Condition{StrictEmojiNeutral: true}

// plainASCII reports whether s is printable ASCII, where bytes are cells.
func plainASCII(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return true
}

// clean returns s without what would break the grid: control characters are
// dropped, white space becomes a space, and letters that cannot stand alone
// become a question mark for each cell they would take. So, in ASCII, do all
// foreign letters.
func clean(s string, set Runes) string {
	if plainASCII(s) {
		return s
	}
	var b strings.Builder
	for it := graphemes.FromString(s); it.Next(); {
		cluster := it.Value()
		r, _ := utf8.DecodeRuneInString(cluster)
		switch w := measure.StringWidth(cluster); {
		case r == '\t' || r == '\n' || r == '\r' || r == '\u00a0' || r == '\u2028':
			b.WriteByte(' ')
		case w < 1 || r == 0x7f || isDots(r):
		case w > 2 || !utf8.ValidString(cluster):
			b.WriteByte('?')
		case set >= ASCII && r <= '~':
			b.WriteRune(r) // the letter without its accent
		case set >= ASCII, r > '~' && !stands(cluster, w):
			b.WriteString("??"[:w])
		default:
			b.WriteString(cluster)
		}
	}
	return b.String()
}

// stands reports whether a letter keeps its w cells whatever is drawn beside
// it. A mark without its letter or half a flag does not.
func stands(cluster string, w int) bool {
	return measure.StringWidth("x"+cluster+" "+cluster+cluster+"x") == 3*w+3
}

// width returns the cells that a clean string takes.
func width(s string) int {
	if plainASCII(s) {
		return len(s)
	}
	return measure.StringWidth(s)
}

// fit returns a clean string cut to at most w cells, the last of them the cut
// sign when something is missing.
func fit(s string, w int, set Runes) string {
	if width(s) <= w {
		return s
	}
	if w < 1 {
		return ""
	}
	var b strings.Builder
	left := w - 1
	for it := graphemes.FromString(s); it.Next(); {
		if left -= measure.StringWidth(it.Value()); left < 0 {
			break
		}
		b.WriteString(it.Value())
	}
	b.WriteRune(set.set().cut)
	return b.String()
}
