package words

import (
	"testing"
	"unicode"
	"unicode/utf8"
)

// Ensure that no text can move the cursor, ring the bell or retitle the window.
func TestWords_Text(t *testing.T) {
	for name, c := range map[string]struct{ in, rich, plain string }{
		"plain words":        {"heather honey", "heather honey", "heather honey"},
		"an escape sequence": {"\x1b]0;owned\x07", "?]0;owned?", "?]0;owned?"},
		"an 8-bit control":   {"a\u009b2Jb", "a?2Jb", "a?2Jb"},
		"line breaks, tabs":  {"a\nb\tc\rd", "a b c?d", "a b c?d"},
		"a change of order":  {"a\u202eb", "a?b", "a?b"},
		"broken UTF-8":       {"a\xffb", "a?b", "a?b"},
		"letters abroad":     {"čučo 桜", "čučo 桜", "?u?o ?"},
		"our own signs":      {"141 ± 6 g/L at 12 °C → 54 °F", "141 ± 6 g/L at 12 °C → 54 °F", "141 +- 6 g/L at 12 C -> 54 F"},
		"other scales":       {"11.92 °Brix, °Plato, 1047 kg/m³", "11.92 °Brix, °Plato, 1047 kg/m³", "11.92 Brix, Plato, 1047 kg/m3"},
		"a bare degree":      {"turned 90°", "turned 90°", "turned 90 deg"},
		"a keyboard's own":   {"the neighbour’s “best”…", "the neighbour’s “best”…", `the neighbour's "best"...`},
	} {
		t.Run(name, func(t *testing.T) {
			for w, want := range map[Words]string{metric: c.rich, console: c.rich, serial: c.plain} {
				if got := w.Text(c.in); got != want {
					t.Errorf("%+v: Text(%q) = %q, want %q", w, c.in, got, want)
				}
			}
		})
	}
}

// Ensure that whatever comes in, what goes out is one line to be seen and nothing
// that a terminal obeys; in ASCII where that was asked for; and that text made
// safe stays as it is.
func FuzzWords_Text(f *testing.F) {
	for _, s := range []string{"heather", "\x1b[2J", "a\u009bb", "\u202e", "\u2028", "\U000e0041", "\xff\xfe", "čučo ±0.3 °C", "\ufffd", "a\r\nb", "\x7f"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, w := range []Words{metric, console, serial} {
			got := w.Text(s)
			for _, r := range got {
				if !unicode.IsPrint(r) || w.Signs == ASCII && r > unicode.MaxASCII {
					t.Errorf("%+v: Text(%q) = %q, which holds %U", w, s, got, r)
				}
			}
			if w.Signs != ASCII && utf8.RuneCountInString(got) != utf8.RuneCountInString(s) {
				t.Errorf("%+v: Text(%q) = %q: a character was lost without a trace", w, s, got)
			}
			if again := w.Text(got); again != got {
				t.Errorf("%+v: Text(%q) = %q, but twice it is %q", w, s, got, again)
			}
		}
	})
}
