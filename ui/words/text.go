package words

import (
	"strings"
	"unicode"
)

// Text makes words from a file, a keyboard or an error safe to print. A line break
// or tab becomes a blank and whatever else is not a letter to be seen, such as a
// control character, a question mark. Where only ASCII can be shown, our own signs
// are spelt out and other people's letters become question marks too.
func (w Words) Text(s string) string {
	if w.Signs == ASCII {
		s = spellOut.Replace(s)
	}
	return strings.Map(w.safe, s)
}

func (w Words) safe(r rune) rune {
	switch {
	case r == '\n' || r == '\t':
		return ' '
	case !unicode.IsPrint(r), w.Signs == ASCII && r > unicode.MaxASCII, r == unicode.ReplacementChar:
		return '?'
	}
	return r
}

// spellOut stands for the signs of our own sentences and the punctuation that
// keyboards put in of themselves.
var spellOut = strings.NewReplacer("±", "+-", "→", "->", "×", "x", "³", "3", "·", "-", "–", "-",
	" °C", " C", " °F", " F", "°Brix", "Brix", "°Plato", "Plato", "°", " deg",
	"‘", "'", "’", "'", "“", `"`, "”", `"`, "…", "...")
