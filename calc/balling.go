package calc

import "fmt"

// ballingExtractPerEthanol is Balling's yield: of each 2.0665 g of extract the yeast
// makes 1 g of ethanol, 0.9565 g of carbon dioxide and 0.11 g of yeast (Balling 1865).
const ballingExtractPerEthanol = 2.0665

// strengthPerMass turns percent by mass into percent by volume: the density of
// ethanol over that of water at 20 °C, both of OIML R 22. The 0.794 found in older
// books is the same ratio at 60 °F and makes the strength 0.4 % of itself lower.
const strengthPerMass = ethanolDensityPure20 / 998.20123

// SugarPerPercentVol is what the law reckons for 1 % vol: 16.83 g of sugar per
// litre (OIV Oeno 21/2004; French order of 14 September 2011, annex IV). It is
// 91.7 % of what chemistry would allow for hexose.
const SugarPerPercentVol GramPerLitre = 16.83

// maxOriginalSG is as far as [AlcoholFromGravities] goes: 43 Brix, where the
// strongest musts end. Balling's own table ends at 30.
const maxOriginalSG = 1.2

// Attenuation is what two gravities say about a drink, without anything known of
// what went into it.
type Attenuation struct {
	ABV         PercentVol
	ABW         PercentMass
	RealExtract Brix // dissolved matter left, the alcohol's lightness undone

	// ApparentAttenuationPct is how much of the original extract seems gone by
	// the hydrometer, RealAttenuationPct how much is gone. Apparent passes 100
	// below 1.000; a real one past 100 means that the two gravities cannot be of
	// one drink that had nothing added. Both are 0 for an original of 1.000.
	ApparentAttenuationPct float64
	RealAttenuationPct     float64
}

// RealExtract returns the extract that is left in a fermented drink, from the
// original extract p and the apparent extract m, by Balling:
//
//	n = (q·p + m) / (1 + q),  q = 0.22 + 0.001·p
//
// all in percent by mass. p from 0 to 85, m from −6 to p; otherwise the error wraps
// [ErrOutOfRange] or [ErrNotANumber].
//
// The form n = 0.1808·p + 0.8192·m in common use holds q at 0.2207; at 20 and 2
// Brix it gives 0.23 less. Balling's table ends at p = 30 and beyond that this is
// its extension. Source: Balling 1865; 30 of his alcohol factors for 6 to 30 come
// out within 0.0001. From 12.397 and 2.568 it is 4.422.
func RealExtract(original, apparent Brix) (Brix, error) {
	if err := inRange("original extract", float64(original), 0, maxBrix, " Brix"); err != nil {
		return 0, err
	}
	if err := inRange("apparent extract", float64(apparent), minBrix, float64(original), " Brix"); err != nil {
		return 0, err
	}
	return realExtract(original, apparent), nil
}

// AlcoholFromGravities returns what Balling's relations make of an original gravity
// og and the gravity fg now: with p and m their extracts ([BrixOfSG]) and n that of
// [RealExtract],
//
//	A = (p − n) / (2.0665 − 0.010665·p)   % mass
//	ABV = A · fg / 0.79066
//
// og from 1.000 to 1.200, fg from 0.9773 to og; otherwise the error wraps
// [ErrOutOfRange] or [ErrNotANumber].
//
// The yield is that of beer; against measured beers it is within 3 % of itself,
// against the duty notice's factors within 0.25 % vol up to 13 % vol. It knows
// nothing of sugar added on the way, of dilution or blending: for those there is
// [Liquid].
//
// Source: Balling 1865; densities ICUMSA SPS-4 and OIML R 22. 1.050 and 1.010 give
// 4.123 % mass, 5.27 % vol and real extract 4.422.
func AlcoholFromGravities(og, fg SG) (Attenuation, error) {
	if err := inRange("original gravity", float64(og), 1, maxOriginalSG, ""); err != nil {
		return Attenuation{}, err
	}
	p, err := BrixOfSG(og)
	if err != nil {
		return Attenuation{}, fmt.Errorf("original gravity: %w", err)
	}
	m, err := BrixOfSG(fg)
	if err != nil {
		return Attenuation{}, fmt.Errorf("gravity now: %w", err)
	}
	if fg > og {
		return Attenuation{}, fmt.Errorf("gravity now, %.4f, is above the original, %.4f: %w",
			float64(fg), float64(og), ErrOutOfRange)
	}
	n := realExtract(p, m)
	abw := ballingAlcohol(p, n)
	return Attenuation{
		ABV:                    PercentVol(float64(abw) * float64(fg) / strengthPerMass),
		ABW:                    abw,
		RealExtract:            n,
		ApparentAttenuationPct: attenuationPct(p, m),
		RealAttenuationPct:     attenuationPct(p, n),
	}, nil
}

// PotentialABV returns the strength the law expects of c grams of sugar per litre:
// c / 16.83, see [SugarPerPercentVol]. What yeast really makes lies within 6 % of
// that, so it is for quoting potential alcohol as such.
//
// c from 0 to 1229 g/L (85 Brix); otherwise the error wraps [ErrOutOfRange] or
// [ErrNotANumber]. Source: OIV Oeno 21/2004. 191.9 g/L, a grape must of 20 Brix,
// are 11.40 % vol.
func PotentialABV(sugar GramPerLitre) (PercentVol, error) {
	if err := inRange("sugar", float64(sugar), 0, maxBrix/100*sucroseDensity20(maxBrix/100), " g/L"); err != nil {
		return 0, err
	}
	return PercentVol(sugar / SugarPerPercentVol), nil
}

func realExtract(p, m Brix) Brix {
	q := 0.22 + 0.001*p
	return (q*p + m) / (1 + q)
}

// ballingAlcohol returns the alcohol made while extract p became n, both in percent.
// 100 g of drink with A g of ethanol were 100 + 1.0665·A g of must, since gas and
// yeast have left it; that is where the term in p comes from.
func ballingAlcohol(p, n Brix) PercentMass {
	return PercentMass((p - n) / (ballingExtractPerEthanol - (ballingExtractPerEthanol-1)/100*p))
}

// attenuationPct returns the part of p that is gone when left remains.
func attenuationPct(p, left Brix) float64 {
	if p <= 0 {
		return 0
	}
	return float64(100 * (p - left) / p)
}
