package calc

import "fmt"

// Mixture returns a mixture of two ingredients by mass, share of it the first: 0 is
// all of the second, 1 all of the first. It bears both names.
//
// share from 0 to 1; otherwise the error wraps [ErrOutOfRange] or [ErrNotANumber].
// Half honey, half sugar by mass: a gram of it holds half a gram of each.
func Mixture(first, second Ingredient, share float64) (Ingredient, error) {
	if err := inRange("share of "+first.Name, share, 0, 1, ""); err != nil {
		return Ingredient{}, err
	}
	return Ingredient{
		Name:    fmt.Sprintf("%s and %s", first.Name, second.Name),
		PerGram: first.PerGram.Scaled(share).Plus(second.PerGram.Scaled(1 - share)),
	}, nil
}
