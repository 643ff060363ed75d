package calc

// Calibration temperatures of hydrometers: what is printed on the glass.
const (
	// CalibratedAt20C is for most instruments made today, and every Brix and
	// Plato scale.
	CalibratedAt20C Celsius = 20

	// CalibratedAt60F is for the older British and American scales: 15.56 °C.
	CalibratedAt60F Celsius = (60.0 - 32) * 5 / 9
)

// glassExpansion is the cubic expansion of hydrometer glass per kelvin: the
// convention of ISO 1768:1975, also in OIML R 22 for soda-lime glass. With
// borosilicate glass (10e-6) a correction would differ by 0.00015 for 10 K.
const glassExpansion = 25e-6

// What a hydrometer reading may be. From 40 °C up a hot sample gives off gas and
// steam, and the correction is no better than the thermometer; up to 60 °C it is
// still what the published tables say.
const (
	minReading            = 0.97
	minReadingWithAlcohol = 0.95
	maxReading            = 1.2
	maxSampleCelsius      = 60
	maxAlcoholCelsius     = 40 // where OIML R 22 ends
	maxTabarieABV         = 30
)

// CorrectReading returns what a hydrometer would read at its calibration
// temperature T0, when it reads S in a must or wort at the sample's temperature T.
//
// A hydrometer displaces its own mass, and its glass has grown with the warmth, so
// the liquid's density is
//
//	ρ(T) = S·ρw(T0) / (1 + 25e-6·(T − T0))
//
// The sucrose solution that has this density at T is sought, and the result is its
// gravity on the same scale, T0/T0. [SGAt20] makes 20/20 of it.
//
// reading from 0.97 to 1.2, sample and calibration from 0 to 60 °C; otherwise the
// error wraps [ErrOutOfRange] or [ErrNotANumber]. Within 0.0001 of published tables
// from 10 to 30 °C. Above 40 °C rather cool the sample. For a drink with alcohol,
// which expands more than water and less than a strong must, see
// [CorrectReadingWithAlcohol].
//
// Source: ISO 1768:1975 for the glass, ICUMSA SPS-4 for the liquid. 1.040 at 30 °C
// on a 20 °C scale corrects to 1.0427.
func CorrectReading(reading SG, sample, calibration Celsius) (SG, error) {
	m, err := readMust(reading, sample, calibration)
	if err != nil {
		return 0, err
	}
	return m.gravity(calibration), nil
}

// CorrectReadingWithAlcohol is [CorrectReading] for a drink of known strength. At
// the sample's temperature T the reading gives the density as there, and by
// Tabarié
//
//	ρ(T)/ρw(T) = alcohol(T) + extract(T) − 1
//
// alcohol being the relative density of an ethanol-water mixture of that strength
// (OIML R 22) and extract that of a sucrose solution (ICUMSA SPS-4). The extract is
// solved for, and the same sum at T0 is the result, T0/T0.
//
// reading from 0.95 to 1.2, abv from 0 to 30 % vol, sample and calibration from 0
// to 40 °C; otherwise the error wraps [ErrOutOfRange] or [ErrNotANumber]. Strength
// counts little: 1 % vol changes a correction for 5 K by 0.00005.
//
// Source: ISO 1768:1975, OIML R 22, ICUMSA SPS-4. 0.98129 at 30 °C with 12 % vol
// on a 20 °C scale corrects to 0.98413.
func CorrectReadingWithAlcohol(reading SG, abv PercentVol, sample, calibration Celsius) (SG, error) {
	m, err := readDrink(reading, abv, sample, calibration)
	if err != nil {
		return 0, err
	}
	return m.gravity(calibration), nil
}

// ReadingAt20 returns the gravity 20/20 of a drink of strength abv, 0 for a must, on
// which a hydrometer calibrated at any temperature reads S at the sample's
// temperature. It is [CorrectReadingWithAlcohol] and [SGAt20] in one, and better
// than one after the other, since the change of scale then knows of the alcohol.
//
// reading from 0.95 to 1.2, abv from 0 to 30 % vol, sample and calibration from 0
// to 40 °C; otherwise the error wraps [ErrOutOfRange] or [ErrNotANumber].
//
// Source: as there. 0.98437 read at 60 °F on a 60 °F scale with 12 % vol is 0.98413.
func ReadingAt20(reading SG, abv PercentVol, sample, calibration Celsius) (SG, error) {
	m, err := readDrink(reading, abv, sample, calibration)
	if err != nil {
		return 0, err
	}
	return m.gravity(CalibratedAt20C), nil
}

// SGAt20 turns the gravity of a must on the scale of an instrument calibrated at T0,
// that is T0/T0, into 20/20, which the ledger keeps: it seeks the sucrose solution
// that has the reading at T0.
//
// reading from 0.97 to 1.2, calibration from 0 to 60 °C; otherwise the error wraps
// [ErrOutOfRange] or [ErrNotANumber]. Source: ICUMSA SPS-4. 1.08331 on a 60 °F
// scale is 1.08293.
func SGAt20(reading SG, calibration Celsius) (SG, error) {
	m, err := readMust(reading, calibration, calibration)
	if err != nil {
		return 0, err
	}
	return m.gravity(CalibratedAt20C), nil
}

// CorrectBrixReading is [CorrectReading] for a Brix or Plato hydrometer: the mark
// B stands for the density ρ(B, T0) of [SucroseDensity].
//
// reading from −6 to 60 Brix, sample and calibration from 0 to 60 °C; otherwise the
// error wraps [ErrOutOfRange] or [ErrNotANumber]. Source: ISO 1768:1975, ICUMSA
// SPS-4; within 0.03 Brix of NBS Circular C440 from 10 to 30 °C. 10 Brix at 30 °C on
// a 20 °C scale correct to 10.66.
func CorrectBrixReading(reading Brix, sample, calibration Celsius) (Brix, error) {
	if err := inRange("hydrometer reading", float64(reading), minBrix, 60, " Brix"); err != nil {
		return 0, err
	}
	if err := inRangeTemperatures(sample, calibration, maxSampleCelsius); err != nil {
		return 0, err
	}
	scale := sucroseDensity(float64(reading)/100, float64(calibration))
	k := sucroseTerms(float64(sample))
	return Brix(100 * sucroseFraction(densityAt(scale, sample, calibration), &k)), nil
}

// mixture is what a hydrometer floats in: an ethanol-water mixture and a sucrose
// solution, each by its mass fraction, added up by Tabarié.
type mixture struct {
	ethanol, sucrose float64
}

// gravity returns the gravity t/t of the mixture. Each part is taken relative to the
// water of its own formula, so that plain water is 1 at any temperature.
func (m mixture) gravity(t Celsius) SG {
	x := float64(t)
	alcohol := ethanolDensity(m.ethanol, x) / ethanolDensity(0, x)
	return SG(alcohol + sucroseDensity(m.sucrose, x)/sps4WaterDensity(x) - 1)
}

// readMust returns the sucrose solution on which the hydrometer reads so. It keeps
// to sucrose, whose formula reaches further than that of ethanol.
func readMust(reading SG, sample, calibration Celsius) (mixture, error) {
	if err := inRange("hydrometer reading", float64(reading), minReading, maxReading, ""); err != nil {
		return mixture{}, err
	}
	if err := inRangeTemperatures(sample, calibration, maxSampleCelsius); err != nil {
		return mixture{}, err
	}
	return mixtureReading(reading, 0, sample, calibration), nil
}

// readDrink returns the mixture of the given strength on which it reads so.
func readDrink(reading SG, abv PercentVol, sample, calibration Celsius) (mixture, error) {
	if err := inRange("hydrometer reading", float64(reading), minReadingWithAlcohol, maxReading, ""); err != nil {
		return mixture{}, err
	}
	if err := inRange("strength", float64(abv), 0, maxTabarieABV, " % vol"); err != nil {
		return mixture{}, err
	}
	if err := inRangeTemperatures(sample, calibration, maxAlcoholCelsius); err != nil {
		return mixture{}, err
	}
	return mixtureReading(reading, ethanolFractionOfABV(float64(abv)), sample, calibration), nil
}

// mixtureReading solves Tabarié's sum for the sucrose part.
func mixtureReading(reading SG, ethanol float64, sample, calibration Celsius) mixture {
	t := float64(sample)
	water := sps4WaterDensity(t)
	whole := densityAt(float64(reading)*sps4WaterDensity(float64(calibration)), sample, calibration)
	alcohol := water * ethanolDensity(ethanol, t) / ethanolDensity(0, t)
	k := sucroseTerms(t)
	return mixture{ethanol: ethanol, sucrose: sucroseFraction(whole-alcohol+water, &k)}
}

// densityAt returns the density of the liquid at the sample's temperature in which a
// hydrometer floats at its mark for the density scale.
func densityAt(scale float64, sample, calibration Celsius) float64 {
	return scale / (1 + glassExpansion*float64(sample-calibration))
}

func inRangeTemperatures(sample, calibration Celsius, most float64) error {
	if err := inRange("sample temperature", float64(sample), 0, most, " °C"); err != nil {
		return err
	}
	return inRange("calibration temperature", float64(calibration), 0, most, " °C")
}
