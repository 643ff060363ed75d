package words

import (
	"fmt"
	"strings"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// Stability is a verdict in a sentence.
func (w Words) Stability(v calc.Stability) string {
	switch v {
	case calc.StabilitySafe:
		return "It should keep: this counts as stable."
	case calc.StabilityLikely:
		return "It will likely keep, one thing short of sure. Keep an eye on it."
	case calc.StabilityRisky:
		return "It may start again: what stands against the yeast is known not to be enough."
	}
	return "It will likely start again: nothing keeps the yeast from this sugar."
}

// StabilityReason is a reason as part of a sentence; empty for one that is not known.
func (w Words) StabilityReason(r calc.StabilityReason) string {
	switch r {
	case calc.BecauseNoSugar:
		return "there is too little sugar in it for yeast to matter"
	case calc.BecauseFiltered:
		return "it is filtered so finely that no yeast passed"
	case calc.BecauseHeated:
		return "it was heated well enough to kill yeast"
	case calc.BecauseHeatedFloor:
		return "it was heated, by the least that is said to do"
	case calc.BecauseHeatedShort:
		return "it was heated, but only as a beer is: too little where there is sugar"
	case calc.BecauseFortified:
		return "it is stronger than any yeast bears"
	case calc.BecauseAboveLimit:
		return "it is clearly stronger than this yeast usually bears"
	case calc.BecauseNearLimit:
		return "it is near what this yeast bears, which is no cliff: some go further"
	case calc.BecauseLimitUnknown:
		return "nobody wrote down which yeast is in it, nor what it bears"
	case calc.BecauseSulfiteAndSorbate:
		return "sulfite and sorbate are both in it, enough of each, and it is clear"
	case calc.BecauseBeyondTable:
		return "it is too weak or too mild for sorbate to be sure: cold, heat or a filter has to help"
	case calc.BecauseSulfiteLow:
		return "sulfite and sorbate are both in it, but a little less sulfite than a sweet drink wants"
	case calc.BecauseSorbateShort:
		return "there is less sorbate in it than its strength and pH ask for"
	case calc.BecauseCloudy:
		return "it is cloudy: too many yeast cells for sorbate to hold"
	case calc.BecauseSorbateAlone:
		return "sorbate without sulfite does not hold, and bacteria can make it smell of geraniums"
	case calc.BecauseSulfiteAlone:
		return "sulfite alone does not keep yeast from sugar"
	case calc.BecauseStillFermenting:
		return "it is not known to have finished, and neither sulfite nor sorbate stops yeast at work"
	case calc.BecauseCold:
		return "it is kept cold, which holds as long as the cold does"
	}
	return ""
}

// Stabilising says what a plan stirs in: 1.20 g of potassium metabisulfite and so on.
func (w Words) Stabilising(p model.StabilisePlan) string {
	var parts []string
	if p.Sulfite.Mass > 0 {
		parts = append(parts, w.FineMass(p.Sulfite.Mass)+" of potassium metabisulfite")
	}
	if p.Sorbate.Mass > 0 {
		parts = append(parts, w.FineMass(p.Sorbate.Mass)+" of potassium sorbate")
	}
	return strings.Join(parts, " and ")
}

// StabiliseSteps are the steps of a plan in their order, for a drink that has what
// have says in it.
func (w Words) StabiliseSteps(plan model.StabilisePlan, have model.Safeguards) []string {
	steps := []string{"Wait until it is done and clear, then rack it off the yeast."}
	if m := plan.Sulfite.Mass; m > 0 {
		how := fmt.Sprintf("%s of potassium metabisulfite", w.FineMass(m))
		if have.FreeSO2 > 0 {
			steps = append(steps, fmt.Sprintf("Some of the sulfite has bound: %s more%s, if a test shows less than %.0f mg/L free SO2.", how, w.bySolution(m), float64(plan.Free)))
		} else {
			steps = append(steps, fmt.Sprintf("Sulfite: %s%s, for %.0f mg/L free SO2. Part of it binds: measure if you can.", how, w.bySolution(m), float64(plan.Free)))
		}
	}
	if m := plan.Sorbate.Mass; m > 0 {
		steps = append(steps, fmt.Sprintf("With it, never without: %s of potassium sorbate%s, %.0f mg/L.", w.FineMass(m), w.bySolution(m), float64(plan.Sorbate.Sorbate)))
	}
	switch {
	case plan.TooMuch:
		steps = append(steps, fmt.Sprintf("This pH asks for %.0f mg/L of free SO2, more than the rules allow, so sulfite and sorbate are no way here. Keep it cold, heat it in the bottle, or filter it.", float64(plan.Free)))
	case !plan.Needed():
		steps = append(steps, "Sulfite and sorbate are in it already, as much as helps.")
	}
	for _, c := range plan.Sorbate.Conditions {
		if c == calc.SorbateWithBarrier && !plan.TooMuch {
			steps = append(steps, "At this strength and pH that is not enough alone: keep it cold, heat it in the bottle, or filter it.")
		}
	}
	return append(steps, "Sweeten a day later. Bottle when two readings a week apart are the same.")
}

// bySolution says how much of a tenth solution holds what no kitchen scale can weigh.
func (w Words) bySolution(m calc.Gram) string {
	if m >= 2 {
		return ""
	}
	const gramsPerLitre = 100
	return fmt.Sprintf(" (%s of 10 g in 100 mL)", w.Millilitres(calc.Litre(float64(m)/gramsPerLitre)))
}

// SulfiteLimits is what the rules say of the SO2 of a plan, and what belongs on the
// label.
func (w Words) SulfiteLimits(plan model.StabilisePlan, rules []calc.SulfiteLimit) string {
	var limits []string
	for _, l := range rules {
		limit := fmt.Sprintf("%s %.0f", l.Place, float64(l.Total))
		if plan.Total > l.Total {
			limit += ", which this is over"
		}
		limits = append(limits, limit)
	}
	text := ""
	switch {
	case plan.TooMuch:
		text = fmt.Sprintf("Limits for SO2 in all, in mg/L: %s. ", strings.Join(limits, ", "))
	case len(limits) > 0:
		text = fmt.Sprintf("About %.0f mg/L SO2 added in all; limits %s. ", float64(plan.Total), strings.Join(limits, ", "))
	}
	return text + "Label: contains sulphites. With asthma some people react to them."
}
