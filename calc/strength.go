package calc

import "math"

// Reading uncertainties, as half-widths of the likely range.
const (
	// HydrometerPlusMinus is one point: what a careful reader of a glass
	// hydrometer with 0.002 divisions achieves (error budget in the diagnosis
	// notes: 0.0011 to 0.0015).
	HydrometerPlusMinus SG = 0.001

	// RefractometerPlusMinus is for a refractometer reading corrected for
	// alcohol: two to three points.
	RefractometerPlusMinus SG = 0.0025

	// DevicePlusMinus is for a device that floats in the drink and tells gravity by how
	// it lies: gas, yeast and hops cling to it, and nobody spins it. A choice: four
	// points, as far as such a device is from the hydrometer before it was compared.
	DevicePlusMinus SG = 0.004

	// LevelledPlusMinus is for such a device once it was compared with the hydrometer
	// in the same drink: what it strays by after that, and the hydrometer's own. A
	// choice too.
	LevelledPlusMinus SG = 0.002
)

// strengthPerSG is the strength that a unit of gravity drop stands for, in % vol:
// the duty-notice factors run from 125 to 135; this is their middle.
const strengthPerSG = 130

// yieldSpread is the relative half-width of the ethanol yield within one kind of
// drink: on washes of measured strength 13 to 18 % vol the ledger lands within
// 0.1 to 0.3 % vol, that is 1.5 %.
const yieldSpread = 0.015

// StrengthPlusMinus returns the half-width of the likely range of a strength
// reckoned from gravity readings: each reading's own uncertainty at 0.13 % vol a
// point, and the spread of the yield, added in quadrature. With two hydrometer
// readings and 12 % vol it is 0.26.
func StrengthPlusMinus(abv PercentVol, readings ...SG) PercentVol {
	u := yieldSpread * float64(abv)
	sum := u * u
	for _, r := range readings {
		s := strengthPerSG * float64(r)
		sum += s * s
	}
	return PercentVol(math.Sqrt(sum))
}

// What a litre's gravity does, computed for drinks of usual strength (kinetics notes,
// section 5, and notes on apparent gravity). They are good to a few parts in a hundred,
// for a first answer; the ledger has the exact one.
const (
	FallPerSugar SG = 4.62e-4 // by a gram of hexose that ferments
	FallPerGas   SG = 0.00099 // by a gram of carbon dioxide that leaves
	RisePerSugar SG = 3.86e-4 // by a gram of sugar that is stirred in
)

// solidsSpread is how far the share of a must's extract that is not sugar may be
// from what was assumed: 2 % of the extract, about the spread between honeys and
// between juices.
const solidsSpread = 0.02

// SugarPlusMinus returns the half-width of the likely range of the fermentable
// sugar inferred from gravity readings, for a must of the given extract: each
// reading's own uncertainty, and what is not known of the must's make-up. With
// two hydrometer readings and a must of 240 g/L it is 5.7 g/L.
func SugarPlusMinus(extract GramPerLitre, readings ...SG) GramPerLitre {
	u := solidsSpread * float64(extract)
	sum := u * u
	for _, r := range readings {
		s := float64(r / FallPerSugar)
		sum += s * s
	}
	return GramPerLitre(math.Sqrt(sum))
}
