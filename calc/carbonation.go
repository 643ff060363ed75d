package calc

import (
	"fmt"
	"math"
)

// VolumesCO2 is carbon dioxide as litres of gas, at 0 °C and one atmosphere, in a
// litre of drink.
type VolumesCO2 float64

// GramPerLitreBar is how much of a gas a litre takes up for each bar of that gas.
type GramPerLitreBar float64

const (
	molarMassCO2     = 44.0095       // g/mol
	molarGasConstant = 0.08314462618 // L·bar/(mol·K), exact since 2019

	// gramsPerVolume is a volume of CO2 as an ideal gas: 1.9635 g/L. The real gas is
	// a little denser, 1.977, and books round to 1.96; the tables in use, and those
	// of the reference notes, are made with the ideal gas.
	gramsPerVolume = molarMassCO2 * BarPerAtmosphere / (molarGasConstant * zeroCelsiusInKelvin)
)

// Where the solubility of a drink is known. The formula was checked from −1 to 25 °C.
// Above, it stays below that of water, by 8 % at 30 °C and 26 % at 65, more than
// alcohol and sugar explain; so the pressure it gives for a warm room or a
// pasteurising bath errs to the careful side.
const (
	minCO2Celsius = -1
	maxCO2Celsius = 70
)

// maxFermentCelsius is the highest temperature a drink can be said to have fermented
// at.
const maxFermentCelsius = 40

// Bounds of what may be asked: 160 g/L is what 300 g/L of sugar would give, some 120
// bar. Above 10 bar the figures only say how far from safe a thing is.
const (
	maxCO2      GramPerLitre = 160
	maxCO2Gauge BarGauge     = 30
)

// GramPerLitre returns the volumes as mass: 1 volume is 1.9635 g/L.
func (v VolumesCO2) GramPerLitre() GramPerLitre { return GramPerLitre(v * gramsPerVolume) }

// CO2Volumes returns c grams of carbon dioxide per litre as volumes: 3.92 g/L, the
// law's limit for a still wine in the US, are 2.00.
func CO2Volumes(c GramPerLitre) VolumesCO2 { return VolumesCO2(c / gramsPerVolume) }

// CO2Solubility returns how much carbon dioxide a litre of beer or cider takes up for
// each bar of it,
//
//	S(T) = 10·exp(−10.73797 + 2617.25/T)   g/(L·bar),  T in kelvin
//
// t from −1 to 70 °C; otherwise the error wraps [ErrOutOfRange] or [ErrNotANumber].
// Above 25 °C it is an extrapolation on the careful side.
//
// Source: as printed in brewing literature, for one in Speers and MacIntosh 2013. It
// reproduces a chart in g/L within its rounding, 0.05; the fit to the ASBC's chart in
// psi and °F is 0.2 to 2.2 % lower, of a "standard beer" that nobody defined. At 20 °C,
// 1.637.
func CO2Solubility(t Celsius) (GramPerLitreBar, error) {
	if err := inRange("temperature", float64(t), minCO2Celsius, maxCO2Celsius, " °C"); err != nil {
		return 0, err
	}
	return GramPerLitreBar(co2Solubility(t)), nil
}

// CO2SolubilityInWater returns how much carbon dioxide a litre of water takes up for
// each bar of it, from Henry's constant of the mole fraction, in MPa,
//
//	ln H = −6.8346 + 1.2817e4/T − 3.7668e6/T² + 2.997e8/T³
//
// t from 0 to 100 °C; otherwise the error wraps [ErrOutOfRange] or [ErrNotANumber].
// It is for less than 10 bar.
//
// Source: Carroll, Slupsky, Mather, J. Phys. Chem. Ref. Data 20 (1991) 1201. At 20
// °C, 1.726.
func CO2SolubilityInWater(t Celsius) (GramPerLitreBar, error) {
	if err := inRange("temperature", float64(t), 0, 100, " °C"); err != nil {
		return 0, err
	}
	k := float64(t.Kelvin())
	henry := 10 * math.Exp(-6.8346+(1.2817e4+(-3.7668e6+2.997e8/k)/k)/k) // bar
	const molarMassWater = 18.0153
	x := 1 / henry
	return GramPerLitreBar(x / (1 - x) * sps4WaterDensity(float64(t)) / molarMassWater * molarMassCO2), nil
}

// WineCO2Share is how much less carbon dioxide a drink of wine's strength takes up
// than [CO2Solubility] says. Wine of 12 % vol takes 93, 91 and 87 % at 0, 10 and 20 °C
// (Agabaliantz, 2.98, 2.07 and 1.44 g/L per atmosphere, from memory). The mean, 0.90,
// would tell 3 % too little pressure at room temperature, so the last of the three
// stands: it is a careful figure, and 7 % too high for the cellar.
const WineCO2Share = 0.87

// co2Share returns the share for strength abv: that of beer up to 5 % vol, which is
// the ASBC's standard beer, that of wine from 10, and linear between, so that no
// pressure jumps.
func co2Share(abv PercentVol) float64 {
	const beer, wine = 5, 10
	part := min(max(float64(abv-beer)/(wine-beer), 0), 1)
	return 1 - part*(1-WineCO2Share)
}

// ResidualCO2 returns the carbon dioxide left in a drink that fermented under an
// airlock, S(T) · 1.01325 bar. What counts is the warmest it has been since
// fermentation stopped: warmth drives gas out and cold does not bring it back.
//
// Months of ageing, stirring or degassing leave less, down to nothing; height takes
// off in proportion to the pressure of the air. warmest from −1 to 40 °C; otherwise
// the error wraps [ErrOutOfRange] or [ErrNotANumber]. Source: as [CO2Solubility]. At
// 20 °C, 1.66 g/L or 0.84 volumes.
func ResidualCO2(warmest Celsius) (GramPerLitre, error) {
	if err := inRange("warmest temperature since fermentation", float64(warmest), minCO2Celsius, maxFermentCelsius, " °C"); err != nil {
		return 0, err
	}
	return GramPerLitre(co2Solubility(warmest) * BarPerAtmosphere), nil
}

// EquilibriumCO2 returns the carbon dioxide that a drink takes up in the long run
// under gas at gauge pressure g and temperature t, as in a keg: S(T) times the
// absolute pressure.
//
// g from −1.01325 to 30 bar, t from −1 to 70 °C; otherwise the error wraps
// [ErrOutOfRange] or [ErrNotANumber]. Source: as [CO2Solubility], checked up to 1.5
// bar. 1.2 bar at 6 °C are 5.67 g/L or 2.89 volumes.
func EquilibriumCO2(g BarGauge, t Celsius) (GramPerLitre, error) {
	if err := inRange("gauge pressure", float64(g), -BarPerAtmosphere, float64(maxCO2Gauge), " bar"); err != nil {
		return 0, err
	}
	s, err := CO2Solubility(t)
	if err != nil {
		return 0, err
	}
	return GramPerLitre(float64(s) * float64(g.Absolute())), nil
}

// EquilibriumPressure returns the gauge pressure of a drink that holds c grams of
// dissolved carbon dioxide per litre, at temperature t: the inverse of
// [EquilibriumCO2]. Below zero the drink holds less than it could under an airlock.
//
// c from 0 to 160 g/L, t from −1 to 70 °C; otherwise the error wraps [ErrOutOfRange]
// or [ErrNotANumber]. Source: as [CO2Solubility]. 2.4 volumes at 6 °C are 0.83 bar.
func EquilibriumPressure(c GramPerLitre, t Celsius) (BarGauge, error) {
	if err := inRangeCO2(c); err != nil {
		return 0, err
	}
	s, err := CO2Solubility(t)
	if err != nil {
		return 0, err
	}
	return Bar(float64(c) / float64(s)).Gauge(), nil
}

func inRangeCO2(c GramPerLitre) error {
	return inRange("carbon dioxide", float64(c), 0, float64(maxCO2), " g/L")
}

// co2Solubility is [CO2Solubility] without the check.
func co2Solubility(t Celsius) float64 {
	return 10 * math.Exp(-10.73797+2617.25/float64(t.Kelvin()))
}

// co2GasDensity returns the grams of carbon dioxide in a litre of gas for each bar of
// it: 1.806 at 20 °C.
func co2GasDensity(t Celsius) float64 {
	return molarMassCO2 / (molarGasConstant * float64(t.Kelvin()))
}

// The most carbon dioxide that sugar can give, by chemistry: a hexose splits into two
// molecules each of ethanol and CO2, so 0.4886 g of gas a gram; a gram of sucrose,
// which takes up water first, 0.5143. The 0.5146 sometimes quoted for glucose belongs
// to sucrose.
const co2PerHexose = 2 * molarMassCO2 / molarMassHexose

// primingCO2PerHexose is what to reckon with when dosing: yeast and glycerol take
// about 5 %. Balling's balance gives 0.9565/2.0665 = 0.463 g of gas for a gram of
// extract; read as hexose it agrees with the habits of priming, read as the maltose
// that his extract mostly was it would be 0.440.
const primingCO2PerHexose = 0.463

// CO2PerGram returns the grams of carbon dioxide that a gram of the ingredient gives:
// what to reckon with for a dose, and the most that chemistry allows, which is what a
// bottle has to be judged by. Sucrose gives 0.487 and 0.514.
func (i Ingredient) CO2PerGram() (expected, most float64) {
	h := float64(i.PerGram.Hexose())
	return h * primingCO2PerHexose, h * co2PerHexose
}

// FermentableCO2 returns the most carbon dioxide that the sugar in the liquid can
// still give, in grams per litre of it, or the error of [Liquid.Volume]. The empty
// liquid gives none.
func FermentableCO2(l Liquid) (GramPerLitre, error) {
	v, err := l.Volume()
	if err != nil {
		return 0, fmt.Errorf("carbon dioxide from sugar: %w", err)
	}
	if v == 0 {
		return 0, nil
	}
	return GramPerLitre(float64(l.Hexose()) / float64(v) * co2PerHexose), nil
}
