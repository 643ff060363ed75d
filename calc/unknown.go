package calc

import "math"

// usualDryExtract is the extract of a drink without sugar, in g/L: acids, glycerol,
// minerals. 18 g/L is a gravity of 1.007 in water; the dry ends of wines, meads and
// sugar washes in the diagnosis notes ask for 0.006 to 0.008 (computed there). A beer
// has two or three times as much, in dextrins.
const usualDryExtract = 18

// DrinkOf returns v litres of a drink of which only gravity and strength are known.
// Up to 18 g/L of its extract are taken for what is dissolved in any drink; the rest
// is taken for sugar, half glucose and half fructose. That makes its sugar good to
// some 5 g/L and no better; where more is known, [LiquidOf] takes it.
//
// Ranges and errors are those of [LiquidOf]. 1.000 and 13 % vol have 44 g/L of
// extract and so 26 of sugar.
func DrinkOf(v Litre, sg SG, abv PercentVol) (Liquid, error) {
	half := Liquid{}
	half.grams[Glucose], half.grams[Fructose] = 0.5, 0.5
	l, err := LiquidOf(v, sg, abv, half)
	if err != nil {
		return Liquid{}, err
	}
	dry := math.Min(float64(l.Extract()), usualDryExtract*float64(v))
	l.grams[OtherSolids] = dry
	l.grams[Glucose] -= dry / 2
	l.grams[Fructose] -= dry / 2
	return l, nil
}
