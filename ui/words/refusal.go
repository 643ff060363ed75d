package words

import (
	"strings"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// PlainError returns what an error says without the kind that its wrapping put at
// the end: the sentence before it says it all. It is not yet safe to print; see
// [Words.Text].
func PlainError(err error) string {
	text := err.Error()
	for _, kind := range []error{model.ErrInvalid, calc.ErrUnreachable, calc.ErrOutOfRange, calc.ErrNotANumber} {
		text = strings.TrimSuffix(text, ": "+kind.Error())
	}
	return text
}
