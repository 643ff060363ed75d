package calc

import (
	"fmt"
	"math"
)

// maxOriginalBrix is as far as a refractometer is followed through a fermentation:
// the end of [AlcoholFromGravities], 43 Brix, rounded down. The table that the model
// was checked with goes from 8 to 28.
const maxOriginalBrix = 42

// A refractometer and a hydrometer in the same must agree within a tenth, since what
// is not sugar refracts within a few percent of it; further apart, one is misread.
const (
	minRefractometerFactor = 0.9
	maxRefractometerFactor = 1.1
)

// What a strength or gravity from a refractometer is worth beside
// [RefractometerPlusMinus], which holds without calibration.
const (
	// calibratedPlusMinus: a division of 0.2 Brix is 0.0013 in a nearly dry drink,
	// and 0.2 Brix of extract in the model, once what is constant in it has been
	// taken out by the calibration, are 0.0008.
	calibratedPlusMinus SG = 0.0015

	// ballingSpread is the relative half-width of Balling's yield when the drink may
	// be of any kind: 3 % against measured beers, and by as much the yield of honey
	// and fruit musts is above it.
	ballingSpread = 0.03

	// leastPlusMinus: no strength by refractometer alone is claimed to be better.
	leastPlusMinus PercentVol = 0.3
)

// Refracted is what a refractometer says of a fermenting drink whose original
// extract is known, and how far to trust it.
type Refracted struct {
	SG              SG // 20/20, as a hydrometer would show
	ApparentExtract Brix
	RealExtract     Brix
	ABW             PercentMass
	ABV             PercentVol

	SGPlusMinus  SG
	ABVPlusMinus PercentVol
}

// RefractometerCalibration is how much more than the extract an instrument shows in
// one must: the instrument's own fault and the must's salts and acids together. The
// zero value is an instrument that was never compared.
type RefractometerCalibration struct {
	// Factor is the reading over the extract, near 1; 0 when not known.
	Factor float64
}

// Calibrated reports whether the instrument was compared with a hydrometer.
func (c RefractometerCalibration) Calibrated() bool { return c.Factor != 0 }

// Corrected returns a reading with the fault taken out: b over the factor. Without
// calibration it is b.
func (c RefractometerCalibration) Corrected(b Brix) Brix {
	if !c.Calibrated() {
		return b
	}
	return b / Brix(c.Factor)
}

// CalibrateRefractometer compares a refractometer with a hydrometer in one sample of
// a must of the given original extract, before or during fermentation: the factor
// is the reading over what [RefractometerReading] expects at that gravity.
//
// Best done in the unfermented must, where the expected reading is its Brix and no
// model comes in: 20.6 read where the hydrometer says 20.0 is a factor of 1.03. Done
// later it takes up what is constant in the model's error as well. The original
// extract must itself be true, from a hydrometer or from what went in; fitting both
// from refractometer readings would leave nothing to fit with, since 4 % in the factor
// then move the gravity by 0.0005 at most, down at half way and up near the end.
//
// original from 1 to 42 Brix, and the gravity from that of a drink with no extract
// left to that of the must. A factor below 0.9 or above 1.1 is an error:
// one of the two was misread. Errors wrap [ErrOutOfRange] or [ErrNotANumber].
func CalibrateRefractometer(original, reading Brix, hydrometer SG) (RefractometerCalibration, error) {
	if err := inRange("refractometer reading", float64(reading), 0, maxBrix, " Brix"); err != nil {
		return RefractometerCalibration{}, err
	}
	expected, err := RefractometerReading(original, hydrometer)
	if err != nil {
		return RefractometerCalibration{}, err
	}
	c := RefractometerCalibration{Factor: float64(reading / expected)}
	if err := c.validate(); err != nil {
		return RefractometerCalibration{}, err
	}
	return c, nil
}

func (c RefractometerCalibration) validate() error {
	if !c.Calibrated() {
		return nil
	}
	return inRange("refractometer factor", c.Factor, minRefractometerFactor, maxRefractometerFactor, "")
}

// RefractometerReading returns what a faultless refractometer shows, at 20 °C, in a
// must of the given original extract that has fermented to gravity sg. It is the
// inverse of [AlcoholFromRefractometer].
//
// original from 1 to 42 Brix, sg from that of a drink with no extract left to that of
// the must; up to a point above, it is the must misread by that. Otherwise the error wraps [ErrOutOfRange] or [ErrNotANumber]. Source:
// as there. 20 Brix fermented to 1.01942 show 10.59.
func RefractometerReading(original Brix, sg SG) (Brix, error) {
	if err := inRangeOriginal(original); err != nil {
		return 0, err
	}
	n, err := realExtractWhere(original, float64(sg), float64(HydrometerPlusMinus), "gravity", "", func(l Liquid) (float64, error) {
		g, err := l.SG()
		return float64(g), err
	})
	if err != nil {
		return 0, err
	}
	return fermentedTo(original, n).RefractometerBrix()
}

// AlcoholFromRefractometer returns what a refractometer reading taken during or after
// fermentation says, when the must's original extract is known. One reading has two
// unknowns, alcohol and extract; Balling's balance ties them together,
//
//	A = (p − n) / (2.0665 − 0.010665·p)   % mass
//
// with p the original and n the real extract, and n is sought at which such a drink
// shows the reading ([Liquid.RefractometerBrix]). Gravity is Tabarié's sum for that
// drink, as everywhere in the ledger, and the apparent extract its Brix; Balling's
// own rule for the apparent extract is up to 0.2 lower in a dry drink of 24 Brix.
//
// original is the true extract from 1 to 42 Brix, now the reading at 20 °C, corrected
// here by the calibration, between 0 and original. Below what is left when all
// extract has gone it cannot be a reading of this must. Errors wrap [ErrOutOfRange]
// or [ErrNotANumber].
//
// The model is derived, not an experiment: Balling 1865, ICUMSA SPS-4, OIML R 22, and
// refraction additive by mass. Against the law measured by Savel (Kvasny prumysl
// 17(3) (1971) 53) for 11.5 Brix it lies within 0.3 of apparent extract. So the gravity is
// given ±0.0025, with calibration ±0.0015, and the strength ±0.3 % vol at best and
// 0.5 in a strong drink. It knows nothing of sugar added on the way.
//
// 20 Brix that now show 10.59 are 1.0194 and 8.42 ± 0.41 % vol.
func AlcoholFromRefractometer(original, now Brix, c RefractometerCalibration) (Refracted, error) {
	if err := inRangeOriginal(original); err != nil {
		return Refracted{}, err
	}
	if err := inRange("refractometer reading", float64(now), 0, maxBrix, " Brix"); err != nil {
		return Refracted{}, err
	}
	if err := c.validate(); err != nil {
		return Refracted{}, err
	}
	const rounding = 1e-9
	n, err := realExtractWhere(original, float64(c.Corrected(now)), rounding, "refractometer reading", " Brix",
		func(l Liquid) (float64, error) {
			b, err := l.RefractometerBrix()
			return float64(b), err
		})
	if err != nil {
		return Refracted{}, err
	}
	return refracted(original, n, c.Calibrated())
}

// refracted tells the figures of a must of extract p fermented to real extract n.
func refracted(p, n Brix, calibrated bool) (Refracted, error) {
	f, err := fermentedTo(p, n).Figures()
	if err != nil {
		return Refracted{}, err
	}
	apparent, err := BrixOfSG(f.SG)
	if err != nil {
		return Refracted{}, fmt.Errorf("apparent extract: %w", err)
	}
	r := Refracted{
		SG:              f.SG,
		ApparentExtract: apparent,
		RealExtract:     n,
		ABW:             ballingAlcohol(p, n),
		ABV:             f.Strength,
		SGPlusMinus:     RefractometerPlusMinus,
	}
	if calibrated {
		r.SGPlusMinus = calibratedPlusMinus
	}
	r.ABVPlusMinus = refractedPlusMinus(r.ABV, r.SGPlusMinus)
	return r, nil
}

// refractedPlusMinus adds the spread of the yield and the uncertainty of the gravity
// in quadrature.
func refractedPlusMinus(abv PercentVol, sg SG) PercentVol {
	u := math.Hypot(ballingSpread*float64(abv), strengthPerSG*float64(sg))
	return max(leastPlusMinus, PercentVol(u))
}

// fermentedTo returns 100 g of what a must of extract p becomes, by Balling, once its
// real extract is n.
func fermentedTo(p, n Brix) Liquid {
	var l Liquid
	l.grams[Ethanol] = float64(ballingAlcohol(p, n))
	l.grams[OtherSolids] = float64(n)
	l.grams[Water] = 100 - l.grams[Ethanol] - l.grams[OtherSolids]
	return l
}

// realExtractWhere returns the real extract at which a must of extract p measures
// want; measure rises with what is left. Up to slack above the unfermented must is the
// must. The error names what was measured and the values it can have.
func realExtractWhere(p Brix, want, slack float64, what, unit string, measure func(Liquid) (float64, error)) (Brix, error) {
	var failed error
	at := func(gone float64) float64 {
		x, err := measure(fermentedTo(p, p-Brix(gone)))
		if err != nil {
			failed = err
		}
		return x
	}
	least, most := at(float64(p)), at(0)
	if failed != nil {
		return 0, failed
	}
	if err := inRange(what+" in a must of its original extract", want, least, most+slack, unit); err != nil {
		return 0, err
	}
	gone := fallingRoot(func(gone float64) float64 { return at(gone) - want }, 0, float64(p), 1e-13)
	return p - Brix(gone), failed
}

func inRangeOriginal(p Brix) error {
	return inRange("original extract", float64(p), 1, maxOriginalBrix, " Brix")
}
