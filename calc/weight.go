package calc

import (
	"fmt"
	"math"
)

// Weighing is what a scale says of a vessel under an air-lock: how much lighter it
// is than at the start, samples and losses taken into account.
type Weighing struct {
	Lost  Gram // since the start, as gas
	Scale Gram // half-width of one weighing: what the scale is good for

	// Held is the carbon dioxide that the working drink keeps to itself: it was made,
	// but not lost. About 1.7 g/L at 20 °C; 0 leaves it out.
	Held GramPerLitre
}

// Weighed is what a weighing says about a drink.
type Weighed struct {
	Fermented
	Figures Figures

	SGPlusMinus       SG         // from the scale alone
	StrengthPlusMinus PercentVol // from the scale, and the spread of the yield

	// Unexplained is gas that the sugar in the ledger could not give: water gone
	// through the air-lock, a loss that was not written down, or more sugar than
	// was thought.
	Unexplained Gram
}

// maxHeld is more carbon dioxide in g/L than a drink holds without pressure: 3.3 at
// freezing point.
const maxHeld = 5

// ToLoss returns how far along the uptake order l must be to have lost so much mass
// as carbon dioxide: the hexose is the gas over its yield. A gram lost from a litre
// is a point of gravity, so in a carboy a kitchen scale sees more than a hydrometer
// does. The yield of gas is the ledger's, known to 1.5 %.
//
// Lost and Scale from 0 to 1e9 g, Held from 0 to 5 g/L; otherwise the error wraps
// [ErrOutOfRange] or [ErrNotANumber].
func (f Fermentation) ToLoss(l Liquid, w Weighing) (Weighed, error) {
	for _, q := range []struct {
		what    string
		x, most float64
		unit    string
	}{
		{"mass lost", float64(w.Lost), maxGrams, " g"},
		{"scale's uncertainty", float64(w.Scale), maxGrams, " g"},
		{"carbon dioxide held", float64(w.Held), maxHeld, " g/L"},
		{"yield of carbon dioxide", f.Yield.CO2, 1, " g/g"},
	} {
		if err := inRange(q.what, q.x, 0, q.most, q.unit); err != nil {
			return Weighed{}, err
		}
	}
	if f.Yield.CO2 == 0 {
		return Weighed{}, fmt.Errorf("no gas from this fermentation to weigh: %w", ErrOutOfRange)
	}
	v, err := l.Volume()
	if err != nil {
		return Weighed{}, err
	}
	held := Gram(0)
	if w.Lost > 0 {
		held = Gram(float64(w.Held) * float64(v))
	}
	made := w.Lost + held
	at, figures, err := f.afterGas(l, made)
	if err != nil {
		return Weighed{}, err
	}
	u := Gram(math.Sqrt2) * w.Scale // the start was weighed too
	_, more, err := f.afterGas(l, made+u)
	if err != nil {
		return Weighed{}, err
	}
	_, less, err := f.afterGas(l, max(0, made-u))
	if err != nil {
		return Weighed{}, err
	}
	scale := float64(max(more.Strength-figures.Strength, figures.Strength-less.Strength))
	return Weighed{
		Fermented:         at,
		Figures:           figures,
		SGPlusMinus:       max(less.SG-figures.SG, figures.SG-more.SG),
		StrengthPlusMinus: PercentVol(math.Hypot(scale, float64(StrengthPlusMinus(figures.Strength)))),
		Unexplained:       max(0, made-at.CO2),
	}, nil
}

// afterGas returns l after it has made so much carbon dioxide, or all it can.
func (f Fermentation) afterGas(l Liquid, gas Gram) (Fermented, Figures, error) {
	hexose := min(gas/Gram(f.Yield.CO2), l.Hexose())
	at, err := f.Run(l, hexose)
	if err != nil {
		return Fermented{}, Figures{}, err
	}
	figures, err := at.Liquid.Figures()
	return at, figures, err
}
