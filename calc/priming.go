package calc

import "fmt"

// maxTargetVolumes is above anything that is meant to be drunk.
const maxTargetVolumes = 10

// Priming is a dose of sugar that yeast turns into gas in the closed bottle.
type Priming struct {
	Mass     Gram
	Residual GramPerLitre // carbon dioxide in the drink before
	CO2      GramPerLitre // in the drink afterwards, as to be expected
	Most     GramPerLitre // if every gram of sugar becomes gas, for judging bottles
}

// PrimingSugar returns how much of an ingredient brings v litres of finished drink to
// the target, over and above what [ResidualCO2] says it still holds:
//
//	mass = v · (target − residual) / (0.463 · hexose of one gram)
//
// The small room that the sugar itself takes up is left out, and so is sugar that
// the drink had not finished; [Bottling] is for that.
//
// v from 0.001 to 1e6 L, target from 0 to 10 volumes, warmest from −1 to 40 °C; otherwise
// the error wraps [ErrOutOfRange] or [ErrNotANumber]. It wraps [ErrUnreachable] when
// the drink holds more than the target already, or nothing in the ingredient
// ferments.
//
// Source: yield from Balling 1865. 19 L, 2.4 volumes, 18 °C take 115 g of sucrose.
func PrimingSugar(v Litre, target VolumesCO2, warmest Celsius, with Ingredient) (Priming, error) {
	if err := inRange("target", float64(target), 0, maxTargetVolumes, " volumes of CO2"); err != nil {
		return Priming{}, err
	}
	none, err := PrimedWith(0, v, warmest, with)
	if err != nil {
		return Priming{}, err
	}
	missing := target.GramPerLitre() - none.Residual
	if missing < 0 {
		return Priming{}, fmt.Errorf("%.2f volumes of CO2, less than the %.2f the drink holds: %w",
			float64(target), float64(CO2Volumes(none.Residual)), ErrUnreachable)
	}
	perGram, _ := with.CO2PerGram()
	if !(perGram > 0) {
		return Priming{}, fmt.Errorf("%s does not ferment: %w", with.Name, ErrUnreachable)
	}
	return PrimedWith(Gram(float64(missing)*float64(v)/perGram), v, warmest, with)
}

// PrimedWith returns what mass grams of an ingredient do to v litres of finished
// drink: the inverse of [PrimingSugar].
//
// mass from 0 to 1e9 g as long as no more than 160 g/L of gas come of it, v from 0.001 to
// 1e6 L, warmest from −1 to 40 °C; otherwise the error wraps [ErrOutOfRange] or
// [ErrNotANumber].
func PrimedWith(mass Gram, v Litre, warmest Celsius, with Ingredient) (Priming, error) {
	if err := inRange("mass of "+with.Name, float64(mass), 0, maxGrams, " g"); err != nil {
		return Priming{}, err
	}
	if err := inRange("volume", float64(v), 1e-3, 1e6, " L"); err != nil {
		return Priming{}, err
	}
	residual, err := ResidualCO2(warmest)
	if err != nil {
		return Priming{}, err
	}
	expected, most := with.CO2PerGram()
	perLitre := GramPerLitre(float64(mass) / float64(v))
	all := residual + perLitre*GramPerLitre(most)
	if err := inRangeCO2(all); err != nil {
		return Priming{}, err
	}
	return Priming{
		Mass:     mass,
		Residual: residual,
		CO2:      residual + perLitre*GramPerLitre(expected),
		Most:     all,
	}, nil
}
