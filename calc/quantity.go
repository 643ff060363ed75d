package calc

// Quantities. Each type is one unit; two quantities that happen to share a unit
// still have two types, so that a temperature cannot be passed for a volume.
// Conversions from other units happen at the edges of the program, through the
// constructors in this file.
type (
	// Celsius is a temperature in degrees Celsius.
	Celsius float64

	// Kelvin is an absolute temperature.
	Kelvin float64

	// Litre is a volume at 20 °C.
	Litre float64

	// Gram is a mass.
	Gram float64

	// KilogramPerCubicMetre is a density in vacuum.
	KilogramPerCubicMetre float64

	// GramPerLitre is grams of a dissolved thing in one litre of the drink at 20 °C.
	GramPerLitre float64

	// MilligramPerLitre is milligrams of a dissolved thing in one litre of the drink.
	MilligramPerLitre float64

	// Acidity is titratable acidity: the grams of tartaric acid in a litre that
	// would take as much alkali. Tables that reckon in another acid go through
	// [AcidKind.Express].
	Acidity float64

	// PH is acidity as a pH meter shows it.
	PH float64

	// PU is pasteurisation units: minutes at 60 °C that would do the same.
	PU float64

	// SG is specific gravity: density at 20 °C over the density of water at
	// 20 °C, both in vacuum (true 20/20). A glass hydrometer cannot tell it from
	// the apparent value in air, which differs by 0.0001 at 1.083.
	SG float64

	// Brix is percent sucrose by mass, and of a must, the sucrose solution of
	// the same density. Degrees Plato are the same quantity.
	Brix float64

	// PercentMass is percent by mass.
	PercentMass float64

	// PercentVol is percent ethanol by volume, reckoned at 20 °C.
	PercentVol float64
)

// Units people use, in SI. The pound, the US gallon and the US fluid ounce are
// exact by definition (NIST Handbook 44, appendix C).
const (
	GramsPerPound       = 453.59237
	GramsPerOunce       = GramsPerPound / 16
	LitresPerUSGallon   = 3.785411784
	LitresPerUSQuart    = LitresPerUSGallon / 4
	LitresPerUSFluidOz  = LitresPerUSGallon / 128
	LitresPerUSCup      = LitresPerUSGallon / 16
	LitresPerImpGallon  = 4.54609
	pointsPerUnitSG     = 1000
	milligramsPerGram   = 1000
	zeroCelsiusInKelvin = 273.15
)

// In returns the mass that makes c in v litres.
func (c MilligramPerLitre) In(v Litre) Gram { return Gram(float64(c) * float64(v) / milligramsPerGram) }

// Fahrenheit returns f degrees Fahrenheit as Celsius: (f - 32) · 5/9.
func Fahrenheit(f float64) Celsius { return Celsius((f - 32) * 5 / 9) }

// Fahrenheit returns t in degrees Fahrenheit: t · 9/5 + 32.
func (t Celsius) Fahrenheit() float64 { return float64(t)*9/5 + 32 }

// Kelvin returns t on the absolute scale: t + 273.15.
func (t Celsius) Kelvin() Kelvin { return Kelvin(t + zeroCelsiusInKelvin) }

// Points returns the gravity above water in thousandths: 1.034 has 34 points.
func (g SG) Points() float64 { return (float64(g) - 1) * pointsPerUnitSG }

// PointsSG returns the gravity of p thousandths above water: 34 points are 1.034.
func PointsSG(p float64) SG { return SG(1 + p/pointsPerUnitSG) }
