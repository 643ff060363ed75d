package calc

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Errors that a caller can tell apart with errors.Is.
var (
	// ErrOutOfRange is wrapped when an argument lies outside the range for
	// which the formula is published or physically possible.
	ErrOutOfRange = errors.New("out of range")

	// ErrNotANumber is wrapped when an argument is NaN or infinite.
	ErrNotANumber = errors.New("not a number")

	// ErrUnreachable is wrapped when no amount of what was offered can give
	// what was asked: a target below today's gravity, for one.
	ErrUnreachable = errors.New("cannot be reached")
)

// inRange returns nil when lo <= x <= hi, and otherwise an error that names the
// quantity, the value and the range. NaN and the infinities always fail.
func inRange(what string, x, lo, hi float64, unit string) error {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return fmt.Errorf("%s: %w", what, ErrNotANumber)
	}
	if x < lo || x > hi {
		return fmt.Errorf("%s %s%s is outside %s to %s%s: %w", what, plain(x), unit, plain(lo), plain(hi), unit, ErrOutOfRange)
	}
	return nil
}

// plain writes a figure for people: a million litres as 1000000, not as 1e+06.
func plain(x float64) string {
	if 1e6 <= math.Abs(x) && math.Abs(x) < 1e12 {
		return strconv.FormatFloat(x, 'f', 0, 64)
	}
	return fmt.Sprintf("%.6g", x)
}

// oneOf lists the words that can be chosen: halves, thirds, quarters.
func oneOf[T ~string](words []T) string {
	all := make([]string, len(words))
	for i, w := range words {
		all[i] = string(w)
	}
	return strings.Join(all, ", ")
}
