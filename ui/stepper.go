package ui

import (
	"fmt"
	"math"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/ui/words"
)

// by returns how much a key adds by these steps, and whether it is one of the arrows.
func (k stepKeys) by(msg tea.KeyMsg, s steps) (calc.Gram, bool) {
	switch {
	case key.Matches(msg, k.More):
		return s.fine, true
	case key.Matches(msg, k.Less):
		return -s.fine, true
	case key.Matches(msg, k.MuchMore):
		return s.coarse, true
	case key.Matches(msg, k.MuchLess):
		return -s.coarse, true
	}
	return 0, false
}

// steps are how much one key press adds to an amount.
type steps struct{ fine, coarse calc.Gram }

// stepsOf returns the steps that suit a volume: so many grams a litre and ten times
// that, rounded to a figure that a kitchen scale can show.
func stepsOf(perLitre, litres float64) steps {
	step := calc.Gram(roundToScale(perLitre * max(0.1, litres)))
	return steps{step, 10 * step}
}

// from returns an amount moved, never below nothing. Less than a thousandth of a fine
// step is what reckoning leaves of nothing.
func (s steps) from(mass, by calc.Gram) calc.Gram {
	if mass = max(0, mass+by); mass < s.fine/1000 {
		return 0
	}
	return mass
}

// text says the steps.
func (s steps) text(say words.Words) string {
	write := say.Mass
	if s.fine < 1 {
		write = say.FineMass
	}
	return fmt.Sprintf("one step %s, a large one %s", write(s.fine), write(s.coarse))
}

// roundToScale returns the nearest of 1, 2, 5 times a power of ten below x.
func roundToScale(x float64) float64 {
	base := math.Pow(10, math.Floor(math.Log10(x)))
	switch f := x / base; {
	case f >= 5:
		return 5 * base
	case f >= 2:
		return 2 * base
	}
	return base
}
