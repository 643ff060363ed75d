package calc

import "fmt"

// Bottling is a drink at the moment it is closed in, whatever the vessel.
type Bottling struct {
	// Residual is the carbon dioxide in it then; see [ResidualCO2].
	Residual GramPerLitre

	// At is the temperature then, which is also that of the air closed in.
	At Celsius

	// Headspace is the room for gas over the volume of the drink: 0.03 to 0.05 in a
	// bottle filled as usual, 0 for one without any.
	Headspace float64

	// Strength matters from 5 % vol up: alcohol drives gas out; see [WineCO2Share].
	Strength PercentVol
}

// BottledAt returns a bottling at t of a drink that has not been warmer since it
// fermented.
func BottledAt(t Celsius, headspace float64, abv PercentVol) (Bottling, error) {
	residual, err := ResidualCO2(t)
	if err != nil {
		return Bottling{}, err
	}
	b := Bottling{Residual: residual, At: t, Headspace: headspace, Strength: abv}
	if err := b.validate(); err != nil {
		return Bottling{}, err
	}
	return b, nil
}

// Sealed is what a closed vessel holds once nothing ferments any more.
type Sealed struct {
	New GramPerLitre // carbon dioxide made since it was closed
	CO2 GramPerLitre // all of it, gas and dissolved, per litre of drink

	// Gauge is the pressure when the headspace held nothing but carbon dioxide,
	// GaugeWithAir when it was air, which keeps its own bar. The truth of an ordinary
	// bottle lies between, for yeast takes the oxygen up and some nitrogen dissolves.
	Gauge        BarGauge
	GaugeWithAir BarGauge
}

// Volumes returns all the carbon dioxide as volumes.
func (s Sealed) Volumes() VolumesCO2 { return CO2Volumes(s.CO2) }

// NewVolumes returns the carbon dioxide made since it was closed as volumes.
func (s Sealed) NewVolumes() VolumesCO2 { return CO2Volumes(s.New) }

// Highest returns the higher of the two pressures, which is the one to judge by.
func (s Sealed) Highest() BarGauge { return max(s.Gauge, s.GaugeWithAir) }

// Pressure returns the pressure at temperature t once a further c grams of carbon
// dioxide per litre have come into being in the closed vessel,
//
//	residual + c = p · (S(T) + h · M/(R·T))
//
// with p the absolute pressure of the gas, S the solubility, h the headspace and
// M/(R·T) the density of the gas at 1 bar. Gauge is p − 1.01325; with air it is p +
// 1.01325·(T/T0 − 1), T0 the temperature when it was closed, in kelvin.
//
// The drink's own expansion is left out: 0.3 % from 20 to 30 °C, so 0.1 bar of the
// air in a headspace of 0.04, but half of that headspace at 65 °C.
//
// c and what it gives from 0 to 160 g/L, t from −1 to 70 °C, headspace from 0 to 10,
// strength from 0 to 30 % vol; otherwise the error wraps [ErrOutOfRange] or
// [ErrNotANumber]. Source: Henry's law with [CO2Solubility], ideal gas. 10.29 g/L
// made in a drink closed at 20 °C, h = 0.04, are 6.0 bar at 20 °C and 8.3 at 30, with
// air 7.0 and 9.3.
func (b Bottling) Pressure(c GramPerLitre, t Celsius) (Sealed, error) {
	if err := b.validate(); err != nil {
		return Sealed{}, err
	}
	if err := inRange("new carbon dioxide", float64(c), 0, float64(maxCO2), " g/L"); err != nil {
		return Sealed{}, err
	}
	s, err := CO2Solubility(t)
	if err != nil {
		return Sealed{}, fmt.Errorf("stored at: %w", err)
	}
	all := b.Residual + c
	if err := inRangeCO2(all); err != nil {
		return Sealed{}, err
	}
	p := Bar(float64(all) / (float64(s)*co2Share(b.Strength) + b.Headspace*co2GasDensity(t)))
	air := StandardAtmosphere * Bar(t.Kelvin()/b.At.Kelvin())
	return Sealed{New: c, CO2: all, Gauge: p.Gauge(), GaugeWithAir: (p + air).Gauge()}, nil
}

// maxSealedSugar bounds the sugar that may be asked about, in g/L: a syrup.
const maxSealedSugar = 300

// SealedPressure returns the pressure at temperature t once sugar grams per litre,
// reckoned as sucrose, have fermented in the closed vessel, all of it and with the
// most gas that chemistry allows. Of a must's own sugar, mostly glucose and fructose,
// that is 5 % too much; [Bottling.SealedSugar] knows the kinds.
//
// sugar from 0 to 300 g/L, the rest as for Pressure. 1 g/L is 0.26 volumes and 0.30
// bar at 20 °C.
func (b Bottling) SealedPressure(sugar GramPerLitre, t Celsius) (Sealed, error) {
	if err := inRange("fermentable sugar", float64(sugar), 0, maxSealedSugar, " g/L"); err != nil {
		return Sealed{}, err
	}
	return b.Pressure(sugar*hexosePerDisaccharide*co2PerHexose, t)
}

// SealedSugar is [Bottling.SealedPressure] for sugar of known kinds: sugar grams per
// litre of what yeast can use, made up as in like, however much of that there is. It
// wraps [ErrUnreachable] when nothing in like ferments.
//
// Source: by chemistry, as in [FermentableCO2]. 10 g/L of fructose make 4.89 g/L of gas,
// of sucrose 5.14.
func (b Bottling) SealedSugar(sugar GramPerLitre, like Ingredient, t Celsius) (Sealed, error) {
	fermentable := like.PerGram.Fermentable()
	if !(fermentable > 0) {
		return Sealed{}, fmt.Errorf("%s does not ferment: %w", like.Name, ErrUnreachable)
	}
	if err := inRange("fermentable sugar", float64(sugar), 0, maxSealedSugar, " g/L"); err != nil {
		return Sealed{}, err
	}
	_, most := like.CO2PerGram()
	return b.Pressure(sugar*GramPerLitre(most/float64(fermentable)), t)
}

// maxFall bounds the fall of gravity that may be asked about.
const maxFall SG = 0.14

// gasPerSG is the carbon dioxide, in g/L, that a unit of gravity fallen stands for. In
// the ledger a dry drink makes 1081 with the yield of musts, 1006 with that of wort,
// and 1095 if every gram of sugar went by chemistry; the notes round to 1.1 g/L a
// point, which is on the careful side of all three.
const gasPerSG = 1100

// DropPressure returns the pressure at temperature t when gravity has fallen by fall
// since the vessel was closed, at 1.1 g/L of carbon dioxide a point. A hydrometer is
// good for a point, so a fall of one says only that there may be half a volume more.
//
// fall from 0 to 0.140, the rest as for Pressure. Source: computed with [Fermentation].
// 0.001 is 0.56 volumes and 0.6 bar at 20 °C.
func (b Bottling) DropPressure(fall SG, t Celsius) (Sealed, error) {
	if err := inRange("fall of gravity", float64(fall), 0, float64(maxFall), ""); err != nil {
		return Sealed{}, err
	}
	return b.Pressure(GramPerLitre(fall*gasPerSG), t)
}

func (b Bottling) validate() error {
	if err := inRangeCO2(b.Residual); err != nil {
		return err
	}
	if err := inRange("temperature when closed", float64(b.At), minCO2Celsius, maxFermentCelsius, " °C"); err != nil {
		return err
	}
	if err := inRange("headspace", b.Headspace, 0, 10, " of the drink's volume"); err != nil {
		return err
	}
	return inRange("strength", float64(b.Strength), 0, maxTabarieABV, " % vol")
}
