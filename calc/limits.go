package calc

import "fmt"

// YeastTolerance is how much alcohol a kind of yeast stands: where the weaker and
// the stronger of the kind stop.
type YeastTolerance struct {
	Name      string
	Low, High PercentVol
}

// What a tolerance can be. No yeast was seen to make more than the fitted ends of
// strong washes, 19.6 % vol.
const (
	minTolerance = 1
	maxTolerance = 25
)

// Left is what a yeast leaves when it has done all that it can.
type Left struct {
	Fermented
	Figures Figures

	// AtTolerance is set when alcohol stopped the yeast with sugar left that it
	// could use: finished as far as this yeast goes, and not stuck.
	AtTolerance bool
}

// LeftBy returns what a yeast of the given tolerance leaves of l: all its sugar
// fermented, or as much as brings the strength to the tolerance, within 0.01 % vol.
// A drink that is past the tolerance already is left as it is.
//
// tolerance from 1 to 25 % vol; otherwise the error wraps [ErrOutOfRange] or
// [ErrNotANumber].
func (f Fermentation) LeftBy(l Liquid, tolerance PercentVol) (Left, error) {
	if err := inRange("tolerance", float64(tolerance), minTolerance, maxTolerance, " % vol"); err != nil {
		return Left{}, err
	}
	hexose := f.UpTo(l, tolerance)
	stopped := hexose < f.UpTo(l, 0)
	if !stopped {
		hexose = maxGrams // all of it, to the last rounding
	}
	at, err := f.Run(l, hexose)
	if err != nil {
		return Left{}, err
	}
	figures, err := at.Liquid.Figures()
	if err != nil {
		return Left{}, err
	}
	return Left{Fermented: at, Figures: figures, AtTolerance: stopped}, nil
}

// LeftByKind is what the weaker and the stronger of a kind of yeast leave.
type LeftByKind struct {
	Yeast        YeastTolerance
	Weak, Strong Left
}

// LeftByEach returns what each kind of yeast would leave of l, in the order given.
// The error names the kind whose tolerance cannot be.
func (f Fermentation) LeftByEach(l Liquid, kinds []YeastTolerance) ([]LeftByKind, error) {
	out := make([]LeftByKind, len(kinds))
	for i, k := range kinds {
		weak, err := f.LeftBy(l, k.Low)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", k.Name, err)
		}
		strong, err := f.LeftBy(l, k.High)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", k.Name, err)
		}
		out[i] = LeftByKind{Yeast: k, Weak: weak, Strong: strong}
	}
	return out, nil
}
