package calc

import "fmt"

// DrinkSG returns the gravity 20/20 of a drink of strength abv in which a litre
// holds c grams of extract, by Tabarié's rule
//
//	SG = alcohol(abv) + extract(c) − 1
//
// alcohol being the relative density of an ethanol-water mixture of that strength
// (OIML R 22) and extract that of a sucrose solution (ICUMSA SPS-4).
//
// abv from 0 to 30 % vol, c from 0 to 1229 g/L (85 Brix), and both together no
// more than the drink weighs; otherwise the error wraps [ErrOutOfRange] or
// [ErrNotANumber]. Accuracy as for [Liquid.Volume]. 12.5 % vol with 25 g/L are
// 0.9932.
func DrinkSG(abv PercentVol, c GramPerLitre) (SG, error) {
	alcohol, err := alcoholPart(abv)
	if err != nil {
		return 0, err
	}
	if err := inRange("extract", float64(c), 0, maxBrix/100*sucroseDensity20(maxBrix/100), " g/L"); err != nil {
		return 0, err
	}
	sg := alcohol + SG(sucroseRelative20(float64(c))) - 1
	if err := roomForWater(abv, c, sg); err != nil {
		return 0, err
	}
	return sg, nil
}

// DrinkExtract returns the grams of extract in a litre of a drink of strength abv
// and gravity sg, the inverse of [DrinkSG]: what is dissolved besides the alcohol,
// in sucrose. It is sugar only as far as nothing else is dissolved: at 12 % vol,
// 1.000 means 41 g/L of extract, of which roughly half is sugar.
//
// abv from 0 to 30 % vol, sg from that of the alcohol alone, where the extract is
// 0, up to 85 Brix; otherwise the error wraps [ErrOutOfRange] or [ErrNotANumber].
// 12.5 % vol at 0.9932 hold 25.0 g/L.
func DrinkExtract(abv PercentVol, sg SG) (GramPerLitre, error) {
	alcohol, err := alcoholPart(abv)
	if err != nil {
		return 0, err
	}
	if err := inRange("gravity", float64(sg), float64(alcohol)-1e-9, float64(alcohol)+mostExtractSG-1, ""); err != nil {
		return 0, fmt.Errorf("with %.1f %% vol: %w", float64(abv), err)
	}
	c, err := ExtractOfSG(max(1, sg-alcohol+1))
	if err != nil {
		return 0, err
	}
	if err := roomForWater(abv, c, sg); err != nil {
		return 0, err
	}
	return c, nil
}

// mostExtractSG is the gravity of 85 Brix, a little below.
const mostExtractSG = 1.4485

// alcoholPart is the first term of Tabarié's sum.
func alcoholPart(abv PercentVol) (SG, error) {
	if err := inRange("strength", float64(abv), 0, maxTabarieABV, " % vol"); err != nil {
		return 0, err
	}
	return SG(ethanolRelative20(float64(abv) / 100 * ethanolDensityPure20)), nil
}

// roomForWater refuses more ethanol and extract than the drink weighs.
func roomForWater(abv PercentVol, c GramPerLitre, sg SG) error {
	if float64(abv)/100*ethanolDensityPure20+float64(c) > float64(sg.Density()) {
		return fmt.Errorf("%.1f %% vol and %.0f g/L of extract leave no room for water: %w",
			float64(abv), float64(c), ErrOutOfRange)
	}
	return nil
}

// Density returns the density at 20 °C, in vacuum, of a liquid of gravity g:
// g times that of water, 998.2031 kg/m³. No range: NaN gives NaN.
func (g SG) Density() KilogramPerCubicMetre { return KilogramPerCubicMetre(g * waterDensity20) }
