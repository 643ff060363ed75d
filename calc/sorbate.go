package calc

import (
	"fmt"
	"math"
)

// sorbicPKa is the pKa of sorbic acid (reagent page of the University of California,
// Davis). Only the undissociated acid works on yeast.
const sorbicPKa = 4.76

// SorbicInSorbate is the grams of sorbic acid in a gram of potassium sorbate, 0.7464:
// the ratio of their molar masses.
const SorbicInSorbate = molarMassSorbicAcid / molarMassPotassiumSorbate

const (
	molarMassSorbicAcid       = 112.13
	molarMassPotassiumSorbate = 150.22
)

// Limits of sorbic acid in wine, and where it is tasted first.
const (
	// SorbicLimit is what the OIV (code II.3.4.5) and the EU allow, and near the
	// general dose of the University of California, Davis: 200 mg/L, which is 268 of
	// potassium sorbate.
	SorbicLimit MilligramPerLitre = 200

	// SorbicLimitUS is what the US allow (27 CFR 24.246, from memory). No dose here
	// goes that far, for the stricter limit is also the one that tastes less.
	SorbicLimitUS MilligramPerLitre = 300

	// SorbicTasted is the sorbic acid that sharp tongues notice; others do at 400
	// (University of Minnesota).
	SorbicTasted MilligramPerLitre = 135
)

// SorbateCondition is something without which a dose of sorbate is no use.
type SorbateCondition string

const (
	// SorbateWithSulfite: molecular SO2 of [MolecularSO2White] must be there, or
	// lactic bacteria turn the sorbic acid into the smell of geranium leaves, noticed
	// near 100 ng/L, which nothing takes out again. It goes with every dose, as does
	// a clear drink that has stopped working: sorbate keeps yeast from multiplying,
	// and neither kills it nor ends a fermentation.
	SorbateWithSulfite SorbateCondition = "sulfite"

	// SorbateWithBarrier: weaker or less acid than the table goes, so that even the
	// most the law allows wants cold, heat, sterile filtration or a keg beside it.
	SorbateWithBarrier SorbateCondition = "another barrier"

	// SorbateAtLimit: the table asks for a little more than [SorbicLimit], and the
	// dose is the limit.
	SorbateAtLimit SorbateCondition = "legal limit"
)

// SorbateRow is a row of the handbook: the potassium sorbate that keeps a drink of
// this strength and pH.
type SorbateRow struct {
	ABV    PercentVol
	PH     PH
	Dose   MilligramPerLitre // potassium sorbate
	Source string
}

// SorbateTable is the rows as a grid. The zero table has no rows, and asks for the
// legal limit everywhere.
type SorbateTable struct {
	abv, ph []float64   // rising
	dose    [][]float64 // by abv, then by ph
}

// NewSorbateTable returns the table of the given rows, in any order. Each strength
// must have a row for each pH; more alcohol must need less, and a higher pH more. An
// error wraps [ErrOutOfRange] or [ErrNotANumber] and names the row to look at.
func NewSorbateTable(rows []SorbateRow) (SorbateTable, error) {
	var t SorbateTable
	doses := make(map[[2]float64]float64)
	for _, r := range rows {
		if err := r.check(); err != nil {
			return SorbateTable{}, err
		}
		at := [2]float64{float64(r.ABV), float64(r.PH)}
		if _, taken := doses[at]; taken {
			return SorbateTable{}, fmt.Errorf("sorbate at %g %% vol and pH %g is there twice: %w", at[0], at[1], ErrOutOfRange)
		}
		doses[at] = float64(r.Dose)
		t.abv, t.ph = insertRising(t.abv, at[0]), insertRising(t.ph, at[1])
	}
	if len(t.abv) < 2 || len(t.ph) < 2 {
		return SorbateTable{}, fmt.Errorf("sorbate table of %d strengths and %d pH, want two of each: %w", len(t.abv), len(t.ph), ErrOutOfRange)
	}
	for i, abv := range t.abv {
		t.dose = append(t.dose, make([]float64, len(t.ph)))
		for j, ph := range t.ph {
			dose, there := doses[[2]float64{abv, ph}]
			switch {
			case !there:
				return SorbateTable{}, fmt.Errorf("sorbate at %g %% vol and pH %g is missing: %w", abv, ph, ErrOutOfRange)
			case i > 0 && dose > t.dose[i-1][j]:
				return SorbateTable{}, fmt.Errorf("sorbate at %g %% vol and pH %g is more than with less alcohol: %w", abv, ph, ErrOutOfRange)
			case j > 0 && dose < t.dose[i][j-1]:
				return SorbateTable{}, fmt.Errorf("sorbate at %g %% vol and pH %g is less than at a lower pH: %w", abv, ph, ErrOutOfRange)
			}
			t.dose[i][j] = dose
		}
	}
	return t, nil
}

// SorbateDose is what to add, and what has to go with it.
type SorbateDose struct {
	Sorbate    MilligramPerLitre // potassium sorbate
	SorbicAcid MilligramPerLitre // what that is as sorbic acid, as limits reckon
	Active     MilligramPerLitre // of it undissociated at this pH
	Mass       Gram              // potassium sorbate for the whole vessel
	Conditions []SorbateCondition
}

// Dose returns the potassium sorbate for v litres of a clear drink of this strength
// and pH: the table, linear between its points, and never more than [SorbicLimit].
//
// Stronger or more acid than the table, the nearest edge holds, which is more than
// needed. Weaker or less acid, the dose is the limit and [SorbateWithBarrier] is
// among the conditions, as the notes advise where the table was not read.
//
// abv from 0 to 30 % vol, ph from 2.5 to 5, v from 0 to a million litres; otherwise
// the error wraps [ErrOutOfRange] or [ErrNotANumber].
//
// Source of the table in the handbook: Underhill, for 10 to 14 % vol and pH 3.1 to
// 3.5. 19 L of 12 % vol and pH 3.4 take 135 mg/L, that is 2.57 g.
func (t SorbateTable) Dose(abv PercentVol, ph PH, v Litre) (SorbateDose, error) {
	if err := inRangeSorbate(abv, ph); err != nil {
		return SorbateDose{}, err
	}
	if err := inRangeDosed(v); err != nil {
		return SorbateDose{}, err
	}
	conditions := []SorbateCondition{SorbateWithSulfite}
	dose, beyond := t.wanted(abv, ph)
	if beyond {
		conditions = append(conditions, SorbateWithBarrier)
	}
	if dose > sorbateLimit {
		conditions = append(conditions, SorbateAtLimit)
	}
	dose = min(dose, sorbateLimit)
	acid := dose * SorbicInSorbate
	return SorbateDose{
		Sorbate: dose, SorbicAcid: acid, Active: acid * undissociatedSorbic(ph), Mass: dose.In(v), Conditions: conditions,
	}, nil
}

// sorbateLimit is SorbicLimit as potassium sorbate.
const sorbateLimit = SorbicLimit / SorbicInSorbate

// UndissociatedSorbic returns the share of the sorbic acid that is undissociated, and
// so the share that works:
//
//	1 / (1 + 10^(pH − 4.76))
//
// ph from 2.5 to 5; otherwise the error wraps [ErrOutOfRange] or [ErrNotANumber].
// Source: the dissociation of sorbic acid. At pH 3.5 it is 0.95, at pH 4 0.85.
func UndissociatedSorbic(ph PH) (float64, error) {
	if err := inRangeSorbate(0, ph); err != nil {
		return 0, err
	}
	return float64(undissociatedSorbic(ph)), nil
}

func undissociatedSorbic(ph PH) MilligramPerLitre {
	return MilligramPerLitre(1 / (1 + math.Pow(10, float64(ph)-sorbicPKa)))
}

// wanted returns the potassium sorbate that the table asks for. Beyond it, where a
// drink is weaker or less acid than its points or the pH is not known, that is the
// limit; stronger or more acid is not beyond.
func (t SorbateTable) wanted(abv PercentVol, ph PH) (dose MilligramPerLitre, beyond bool) {
	if len(t.dose) == 0 || ph == 0 || float64(abv) < t.abv[0] || float64(ph) > t.ph[len(t.ph)-1] {
		return sorbateLimit, true
	}
	at := func(i, j int) float64 { return t.dose[i][j] }
	return MilligramPerLitre(bilinear(t.abv, t.ph, at, float64(abv), float64(ph))), false
}

func (r SorbateRow) check() error {
	if err := inRangeSorbate(r.ABV, r.PH); err != nil {
		return fmt.Errorf("sorbate row: %w", err)
	}
	what := fmt.Sprintf("sorbate at %g %% vol and pH %g", float64(r.ABV), float64(r.PH))
	return inRange(what, float64(r.Dose), 1, 1000, " mg/L")
}

func inRangeSorbate(abv PercentVol, ph PH) error {
	if err := inRange("strength", float64(abv), 0, maxTabarieABV, " % vol"); err != nil {
		return err
	}
	return inRange("pH", float64(ph), 2.5, 5, "")
}
