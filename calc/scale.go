package calc

import "math"

// weightsDensity is that of the weights that scales are set with, in g/L: the 8.0 g/mL
// by which conventional mass is defined (OIML D 28).
const weightsDensity = 8000

// VolumeWeighed returns how much a drink of gravity sg takes up that a scale says
// weighs net, and the half-width of that.
//
//	V = net · (1 - 1.2/8000) / (sg · 998.2 - 1.2)
//
// in grams and litres at 20 °C: the scale was set with steel weights, and both they and
// the drink are a little lifted by the air. net from 0 to 1e9 g, sg from 0.9 to 1.45;
// otherwise the error wraps [ErrOutOfRange] or [ErrNotANumber].
//
// ISO 8655-6 tables the factor for pure water of 20 °C as 1.0029 mL/g.
func VolumeWeighed(net, netPlusMinus Gram, sg, sgPlusMinus SG) (v, plusMinus Litre, err error) {
	for _, q := range []struct {
		what           string
		x, least, most float64
		unit           string
	}{
		{"mass of the drink", float64(net), 0, maxGrams, " g"},
		{"uncertainty of the mass", float64(netPlusMinus), 0, maxGrams, " g"},
		{"specific gravity", float64(sg), 0.9, 1.45, ""},
		{"uncertainty of the gravity", float64(sgPlusMinus), 0, 0.5, ""},
	} {
		if err := inRange(q.what, q.x, q.least, q.most, q.unit); err != nil {
			return 0, 0, err
		}
	}
	v = Litre(float64(net) * (1 - airDensity/weightsDensity) / (float64(sg)*waterDensity20 - airDensity))
	scale := float64(netPlusMinus) / (float64(sg) * waterDensity20)
	return v, Litre(math.Hypot(scale, float64(v)*float64(sgPlusMinus/sg))), nil
}

// Vapour is what carbon dioxide carries off with it, in grams for each gram of gas.
type Vapour struct{ Water, Ethanol float64 }

// Share is all of it.
func (v Vapour) Share() float64 { return v.Water + v.Ethanol }

// Constants of the vapour over a drink.
//
//   - Magnus formula with the constants of Alduchov & Eskridge, J. Appl. Meteorol. 35
//     (1996) 601: kPa over water, within 0.4 % from -40 to 50 °C;
//   - Henry's constant of ethanol in water, 1.9 mol/(m³·Pa) at 25 °C, and how it falls
//     with warmth, 6400 K (Sander, Atmos. Chem. Phys. 15 (2015) 4399, from memory; the
//     values listed there differ by a tenth);
//   - molar masses in g/mol.
//
// The strength of the vapour is that over water: what a drink has dissolved changes it
// by less than the spread of the listed constants.
const (
	magnusA, magnusB, magnusC = 0.61094, 17.625, 243.04
	henryEthanol, henryFalls  = 1.9, 6400
	henryAt                   = 25 // °C
	molarMassOfWater          = 18.0153
	molarMassEthanol          = 46.069
)

// VapourIn returns what gas that leaves a drink of a strength at t carries off, if it
// is full of vapour when it goes: a limit, for an air-lock is often colder than the
// drink and gives some back. t from 0 to 40 °C, strength from 0 to 25 % vol; otherwise
// the error wraps [ErrOutOfRange] or [ErrNotANumber].
//
// At 20 °C and 10 % vol: 0.0097 g of water and 0.0067 g of ethanol for each gram, so a
// hundredth of what a scale sees go is not gas. It is of the size of the gas that the
// drink keeps; a litre loses less than a gram of water in all its life, which no
// gravity notices.
func VapourIn(t Celsius, abv PercentVol) (Vapour, error) {
	if err := inRange("temperature", float64(t), 0, 40, " °C"); err != nil {
		return Vapour{}, err
	}
	if err := inRange("strength", float64(abv), 0, 25, " % vol"); err != nil {
		return Vapour{}, err
	}
	water := magnusA * math.Exp(magnusB*float64(t)/(magnusC+float64(t)))
	moles := float64(abv) / 100 * ethanolDensityPure20 * 1000 / molarMassEthanol // in a cubic metre
	henry := henryEthanol * math.Exp(henryFalls*(1/float64(t.Kelvin())-1/float64(Celsius(henryAt).Kelvin())))
	ethanol := moles / henry / 1000 // kPa
	gas := 100*BarPerAtmosphere - water - ethanol
	return Vapour{Water: water / gas * molarMassOfWater / molarMassCO2, Ethanol: ethanol / gas * molarMassEthanol / molarMassCO2}, nil
}
