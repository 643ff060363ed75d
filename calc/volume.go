package calc

import (
	"fmt"
	"math"
)

// Figures is everything a glass of the liquid would show, computed at once.
type Figures struct {
	Mass        Gram
	Volume      Litre
	SG          SG
	Strength    PercentVol
	Extract     GramPerLitre // everything dissolved
	Sugar       GramPerLitre // all sugars, lactose included
	Fermentable GramPerLitre // the sugars that yeast can use
	Sweetness   GramPerLitre // as sucrose
}

// maxExtractShare is the largest share of extract by mass for which the sucrose
// polynomial was checked (0.85); drier than that it is not a liquid.
const maxExtractShare = 0.85

// leastMass is below what anything weighs; with less, division loses its digits.
const leastMass = 1e-12

// Volume returns the volume of the liquid at 20 °C, by Tabarié's rule: per litre
// of drink, SG = SG of the alcohol part + SG of the extract part - 1. The
// alcohol part is an ethanol-water mixture (OIML R 22) and the extract part a
// sucrose solution (ICUMSA SPS-4), each with the grams that a litre holds.
//
// Accuracy: inside the measurement error below 5 % sucrose and 18 % ethanol by
// mass; beyond both, a drink is a little lighter than this says (Hackbarth,
// J. Am. Soc. Brew. Chem. 67 (2009) 146 and 69 (2011) 39), so strong sweet
// drinks deserve a care. The sugar scale itself is exact for sucrose and within
// 0.2 Brix up to 30 % for glucose, fructose and maltose.
//
// The empty liquid has no volume and no error. More than 85 % extract by mass
// is not a liquid and gives an error.
func (l Liquid) Volume() (Litre, error) {
	mass, ethanol := float64(l.Mass()), l.grams[Ethanol]
	extract := mass - l.grams[Water] - ethanol
	if mass < leastMass {
		return 0, nil
	}
	if math.IsNaN(mass) || math.IsInf(mass, 0) {
		return 0, fmt.Errorf("mass of the liquid: %w", ErrNotANumber)
	}
	if extract > maxExtractShare*mass {
		return 0, fmt.Errorf("%.0f %% dissolved solids by mass is no liquid, want at most %.0f: %w",
			100*extract/mass, 100*maxExtractShare, ErrOutOfRange)
	}
	return Litre(volumeOf(mass, ethanol, extract)), nil
}

// volumeOf solves mass = V · SG(ethanol/V, extract/V) · density of water for V.
// The slope of the right side in V is close to the density of water whatever is
// dissolved, so a secant from that slope settles in four or five steps.
func volumeOf(mass, ethanol, extract float64) float64 {
	v := (mass-extract)/waterDensity20 + extract*specificVolumeOfSucrose
	slope := waterDensity20
	miss := missingMass(v, mass, ethanol, extract)
	for range 30 {
		next := v + miss/slope
		nextMiss := missingMass(next, mass, ethanol, extract)
		if math.Abs(next-v) <= 1e-14*v || nextMiss == miss {
			return next
		}
		if s := (miss - nextMiss) / (next - v); s > waterDensity20/4 && s < waterDensity20*4 {
			slope = s
		}
		v, miss = next, nextMiss
	}
	return v
}

// specificVolumeOfSucrose is the first guess for the room a dissolved gram takes
// up, in litres: 0.00062. The solver corrects it.
const specificVolumeOfSucrose = 0.00062

func missingMass(v, mass, ethanol, extract float64) float64 {
	sg := ethanolRelative20(ethanol/v) + sucroseRelative20(extract/v) - 1
	return mass - v*sg*waterDensity20
}

// SG returns the specific gravity of the liquid; see [Liquid.Volume]. The empty
// liquid gives an error, for it has none.
func (l Liquid) SG() (SG, error) {
	v, err := l.Volume()
	if err != nil {
		return 0, err
	}
	if v == 0 {
		return 0, fmt.Errorf("gravity of an empty vessel: %w", ErrOutOfRange)
	}
	return SG(float64(l.Mass()) / (float64(v) * waterDensity20)), nil
}

// Strength returns the alcohol by volume: 100 times the grams of ethanol per
// litre over 789.239, the density of ethanol at 20 °C (OIML R 22).
func (l Liquid) Strength() (PercentVol, error) {
	v, err := l.Volume()
	if err != nil || v == 0 {
		return 0, err
	}
	return PercentVol(100 * l.grams[Ethanol] / float64(v) / ethanolDensityPure20), nil
}

// Figures returns all figures of the liquid, or the error of [Liquid.Volume].
// The empty liquid gives the zero Figures.
func (l Liquid) Figures() (Figures, error) {
	v, err := l.Volume()
	if err != nil || v == 0 {
		return Figures{}, err
	}
	mass := l.Mass()
	perLitre := func(g Gram) GramPerLitre { return GramPerLitre(float64(g) / float64(v)) }
	return Figures{
		Mass:        mass,
		Volume:      v,
		SG:          SG(float64(mass) / (float64(v) * waterDensity20)),
		Strength:    PercentVol(100 * l.grams[Ethanol] / float64(v) / ethanolDensityPure20),
		Extract:     perLitre(l.Extract()),
		Sugar:       perLitre(l.Sugar()),
		Fermentable: perLitre(l.Fermentable()),
		Sweetness:   perLitre(l.Sweetness()),
	}, nil
}

// PerLitre returns the grams of c in a litre of the liquid, or the error of
// [Liquid.Volume].
func (l Liquid) PerLitre(c Component) (GramPerLitre, error) {
	v, err := l.Volume()
	if err != nil || v == 0 {
		return 0, err
	}
	return GramPerLitre(l.Of(c)) / GramPerLitre(v), nil
}
