package calc

import (
	"cmp"
	"slices"
)

// The figures of the rule that are not of the sulfite, the sorbate or the heat.
const (
	// harmlessSugar makes 0.3 volumes of CO2, at which the notes on carbonation stop
	// a still bottle (common practice).
	harmlessSugar GramPerLitre = 1.2

	// fortifiedABV is clearly above the limit of yeast in general (from memory).
	fortifiedABV PercentVol = 18

	// clearlyAbove is how far beyond its usual limit temperature and feeding can take
	// a yeast (from memory: 1 to 2 % vol).
	clearlyAbove PercentVol = 2

	// nearTolerance is the share of its limit from which a yeast counts as spent, as
	// in the rule of the notes on diagnosis (a choice).
	nearTolerance = 0.9

	// asGoodAs is the share of a dose that passes for it: kitchen scales and
	// free-SO2 tests are no better (a choice).
	asGoodAs = 0.95
)

// Stabilised says whether a drink is stable enough to sweeten with fermentable sugar,
// and why. The table is that of the handbook.
//
// Safe is any one of these, as the stabilising notes have it:
//
//   - finished, and no sugar to speak of: up to 1.2 g/L;
//   - sterile filtration below 0.45 µm [from memory];
//   - 83 PU in the package, the low end of what yeast spores stood without hops;
//   - 18 % vol or more, and 2 % vol above the limit of the yeast [from memory];
//   - finished and clear, 0.8 mg/L molecular SO2 and sorbate by the table.
//
// Likely, Risky and Live are graded by choice:
//
//   - Likely: 50 to 83 PU; 2 % vol above the yeast's limit but not fortified; sorbate
//     with 0.5 mg/L molecular; cold, which the notes allow, but only while it lasts;
//   - Risky: 15 to 50 PU; within a tenth of the yeast's limit; cold and not finished;
//     both in a cloudy drink, or with too little sorbate, or beyond the table;
//     sorbate alone, which does not kill;
//   - Live: none of these, sulfite alone, or both in a drink that still works.
//
// Beyond the table (below 10 % vol or above pH 3.5) both together count as safe when
// the cold or 50 PU come on top. The verdict is the best of the findings. It is about
// yeast: bacteria, and wild yeast that eats what other yeast leaves, are not asked.
//
// Sugar from 0 to 1229 g/L, strengths from 0 to 30 % vol, pH 0 or from 2.5 to 5,
// molecular SO2 and sorbate from 0 to 2000 mg/L, heat from 0 up; otherwise the error
// wraps [ErrOutOfRange] or [ErrNotANumber]. Some people react to sulfite: whatever
// is added belongs on the label.
func Stabilised(p Protection, table SorbateTable) (Assessment, error) {
	if err := p.check(); err != nil {
		return Assessment{}, err
	}
	var all []Finding
	for _, find := range []func(Protection, SorbateTable) (Finding, bool){
		noSugar, filtered, heated, alcohol, sulfiteAndSorbate, cold,
	} {
		if f, found := find(p, table); found {
			all = append(all, f)
		}
	}
	slices.SortStableFunc(all, func(a, b Finding) int { return cmp.Compare(b.Worth, a.Worth) })
	verdict := StabilityLive
	if len(all) > 0 {
		verdict = all[0].Worth
	}
	return Assessment{Verdict: verdict, Findings: all}, nil
}

func (p Protection) check() error {
	for _, q := range []struct {
		what string
		x    float64
		most float64
		unit string
	}{
		{"fermentable sugar", float64(p.Fermentable), maxBrix / 100 * sucroseDensity20(maxBrix/100), " g/L"},
		{"strength", float64(p.ABV), maxTabarieABV, " % vol"},
		{"tolerance", float64(p.Tolerance), maxTabarieABV, " % vol"},
		{"molecular SO2", float64(p.Molecular), float64(maxSO2), " mg/L"},
		{"sorbate", float64(p.Sorbate), float64(maxSO2), " mg/L"},
		{"pasteurisation", float64(p.Heat), maxHeat, " PU"},
	} {
		if err := inRange(q.what, q.x, 0, q.most, q.unit); err != nil {
			return err
		}
	}
	if p.PH == 0 {
		return nil
	}
	return inRangeSorbate(p.ABV, p.PH)
}

// maxHeat is a week at 75 °C.
const maxHeat = 1.5e6

// noSugar does not believe in a drink without sugar that still works.
func noSugar(p Protection, _ SorbateTable) (Finding, bool) {
	return Finding{BecauseNoSugar, StabilitySafe}, p.Finished && p.Fermentable <= harmlessSugar
}

func filtered(p Protection, _ SorbateTable) (Finding, bool) {
	return Finding{BecauseFiltered, StabilitySafe}, p.SterileFiltered
}

func heated(p Protection, _ SorbateTable) (Finding, bool) {
	switch {
	case p.Heat >= HeatCarefulLow:
		return Finding{BecauseHeated, StabilitySafe}, true
	case p.Heat >= HeatFloor:
		return Finding{BecauseHeatedFloor, StabilityLikely}, true
	}
	return Finding{BecauseHeatedShort, StabilityRisky}, p.Heat >= heatOfBeer
}

// alcohol has nothing to say of a drink that still works: its yeast bears more than
// was thought.
func alcohol(p Protection, _ SorbateTable) (Finding, bool) {
	far := p.ABV >= p.Tolerance+clearlyAbove
	switch {
	case !p.Finished:
		return Finding{}, false
	case far && p.ABV >= fortifiedABV:
		return Finding{BecauseFortified, StabilitySafe}, true
	case p.Tolerance == 0:
		return Finding{BecauseLimitUnknown, StabilityLive}, true
	case far:
		return Finding{BecauseAboveLimit, StabilityLikely}, true
	}
	return Finding{BecauseNearLimit, StabilityRisky}, p.ABV >= nearTolerance*p.Tolerance
}

func sulfiteAndSorbate(p Protection, table SorbateTable) (Finding, bool) {
	sulfite, sorbate := p.Molecular >= asGoodAs*MolecularSO2Red, p.Sorbate > 0
	wanted, beyond := table.wanted(p.ABV, p.PH)
	switch {
	case !sulfite && !sorbate:
		return Finding{}, false
	case !p.Finished:
		return Finding{BecauseStillFermenting, StabilityLive}, true
	case !sorbate:
		return Finding{BecauseSulfiteAlone, StabilityLive}, true
	case !sulfite:
		return Finding{BecauseSorbateAlone, StabilityRisky}, true
	case p.Sorbate < asGoodAs*wanted:
		return Finding{BecauseSorbateShort, StabilityRisky}, true
	case !p.Clear:
		return Finding{BecauseCloudy, StabilityRisky}, true
	case beyond && !p.KeptCold && p.Heat < HeatFloor:
		return Finding{BecauseBeyondTable, StabilityRisky}, true
	case p.Molecular < asGoodAs*MolecularSO2White:
		return Finding{BecauseSulfiteLow, StabilityLikely}, true
	}
	return Finding{BecauseSulfiteAndSorbate, StabilitySafe}, true
}

func cold(p Protection, _ SorbateTable) (Finding, bool) {
	if !p.Finished {
		return Finding{BecauseCold, StabilityRisky}, p.KeptCold
	}
	return Finding{BecauseCold, StabilityLikely}, p.KeptCold
}
