package calc

import "fmt"

// Primed returns the pressure at t of a drink closed in with mass grams of an ingredient
// stirred in, once every gram of sugar that yeast can use has become gas: that of the
// ingredient and that which the drink still held. Lactose and the like stay.
//
// The most that chemistry allows is reckoned with, as bottles have to be judged by it;
// see [FermentableCO2]. Errors are those of [Liquid.Volume] and [Bottling.Pressure].
func (b Bottling) Primed(l Liquid, with Ingredient, mass Gram, t Celsius) (Sealed, error) {
	if err := inRange("mass of "+with.Name, float64(mass), 0, maxGrams, " g"); err != nil {
		return Sealed{}, err
	}
	gas, err := FermentableCO2(l.Plus(with.Amount(mass)))
	if err != nil {
		return Sealed{}, err
	}
	return b.Pressure(gas, t)
}

// ToCO2 ferments as much of l as makes c grams of carbon dioxide for each litre of it,
// by the yield of this yeast: how far gravity falls in a closed bottle until it has its
// bubbles. It wraps [ErrUnreachable] when there is not the sugar for it, and
// [ErrOutOfRange] or [ErrNotANumber] when c is not from 0 to 160 g/L.
func (f Fermentation) ToCO2(l Liquid, c GramPerLitre) (Fermented, error) {
	if err := inRangeCO2(c); err != nil {
		return Fermented{}, err
	}
	v, err := l.Volume()
	if err != nil {
		return Fermented{}, err
	}
	if !(f.Yield.CO2 > 0) {
		return Fermented{}, fmt.Errorf("a yeast that makes no carbon dioxide: %w", ErrUnreachable)
	}
	want := float64(c) * float64(v)
	hexose := want / f.Yield.CO2
	done, err := f.Run(l, Gram(hexose))
	if err != nil {
		return Fermented{}, err
	}
	if float64(done.CO2) < want*(1-1e-6) {
		return Fermented{}, fmt.Errorf("%.2f volumes of CO2 from %.4g g/L of sugar: %w",
			float64(CO2Volumes(c)), float64(l.Fermentable())/float64(v), ErrUnreachable)
	}
	return done, nil
}
