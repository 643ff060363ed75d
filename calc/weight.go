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

	// Carried is what went with each gram of gas and is none: see [VapourIn].
	Carried float64

	Start SG      // half-width of the gravity at the start
	Room  float64 // of the volume, as a share of it
}

// Weighed is what a weighing says about a drink.
type Weighed struct {
	Fermented
	Figures Figures

	SGPlusMinus       SG         // from the scale alone
	GravityPlusMinus  SG         // from all of it: the start, the scale, the volume, the spread of the yield
	StrengthPlusMinus PercentVol // likewise

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
// Lost and Scale from 0 to 1e9 g, Held from 0 to 5 g/L, Carried, Start and Room from 0
// to 1; otherwise the error wraps [ErrOutOfRange] or [ErrNotANumber].
func (f Fermentation) ToLoss(l Liquid, w Weighing) (Weighed, error) {
	for _, q := range []struct {
		what    string
		x, most float64
		unit    string
	}{
		{"mass lost", float64(w.Lost), maxGrams, " g"},
		{"scale's uncertainty", float64(w.Scale), maxGrams, " g"},
		{"carbon dioxide held", float64(w.Held), maxHeld, " g/L"},
		{"share of vapour", w.Carried, 1, " g/g"},
		{"uncertainty of the first gravity", float64(w.Start), 1, ""},
		{"uncertainty of the volume", w.Room, 1, ""},
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
	made := w.Lost/Gram(1+w.Carried) + held
	at, figures, err := f.afterGas(l, made)
	if err != nil {
		return Weighed{}, err
	}
	u := Gram(math.Sqrt2) * w.Scale / Gram(1+w.Carried) // the start was weighed too
	_, more, err := f.afterGas(l, made+u)
	if err != nil {
		return Weighed{}, err
	}
	_, less, err := f.afterGas(l, max(0, made-u))
	if err != nil {
		return Weighed{}, err
	}
	out := Weighed{Fermented: at, Figures: figures, Unexplained: max(0, made-at.CO2),
		SGPlusMinus: max(less.SG-figures.SG, figures.SG-more.SG)}
	scale := float64(max(more.Strength-figures.Strength, figures.Strength-less.Strength))
	return out, out.spread(l, w, scale)
}

// spread works out how well the gravity and the strength are known. A volume that is a
// hundredth too small makes the fall, and the alcohol, a hundredth too large.
func (w *Weighed) spread(start Liquid, by Weighing, scale float64) error {
	before, err := start.Figures()
	if err != nil {
		return err
	}
	fall := float64(before.SG - w.Figures.SG)
	made := float64(w.Figures.Strength - before.Strength)
	w.GravityPlusMinus = SG(math.Hypot(math.Hypot(float64(w.SGPlusMinus), float64(by.Start)), math.Hypot(yieldSpread, by.Room)*fall))
	w.StrengthPlusMinus = PercentVol(math.Hypot(math.Hypot(scale, by.Room*made), float64(StrengthPlusMinus(w.Figures.Strength))))
	return nil
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
