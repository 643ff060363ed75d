package ui

import (
	"fmt"
	"strings"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// verdictText is a verdict in a sentence.
func verdictText(v calc.Stability) string {
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

// reasonText is a reason in a sentence.
var reasonText = map[calc.StabilityReason]string{
	calc.BecauseNoSugar:           "there is too little sugar in it for yeast to matter",
	calc.BecauseFiltered:          "it is filtered so finely that no yeast passed",
	calc.BecauseHeated:            "it was heated well enough to kill yeast",
	calc.BecauseHeatedFloor:       "it was heated, by the least that is said to do",
	calc.BecauseHeatedShort:       "it was heated, but only as a beer is: too little where there is sugar",
	calc.BecauseFortified:         "it is stronger than any yeast bears",
	calc.BecauseAboveLimit:        "it is clearly stronger than this yeast usually bears",
	calc.BecauseNearLimit:         "it is near what this yeast bears, which is no cliff: some go further",
	calc.BecauseLimitUnknown:      "nobody wrote down which yeast is in it, nor what it bears",
	calc.BecauseSulfiteAndSorbate: "sulfite and sorbate are both in it, enough of each, and it is clear",
	calc.BecauseBeyondTable:       "it is too weak or too mild for sorbate to be sure: cold, heat or a filter has to help",
	calc.BecauseSulfiteLow:        "sorbate is in it, but a little less sulfite than a sweet drink wants",
	calc.BecauseSorbateShort:      "there is less sorbate in it than its strength and pH ask for",
	calc.BecauseCloudy:            "it is cloudy: too many yeast cells for sorbate to hold",
	calc.BecauseSorbateAlone:      "sorbate without sulfite does not hold, and bacteria can make it smell of geraniums",
	calc.BecauseSulfiteAlone:      "sulfite alone does not keep yeast from sugar",
	calc.BecauseStillFermenting:   "it is not known to have finished, and neither sulfite nor sorbate stops yeast at work",
	calc.BecauseCold:              "it is kept cold, which holds as long as the cold does",
}

// view draws the pane in w by h cells.
func (p keepPane) view(w, h int, say words.Words, st *Styles) []string {
	g := p.opts.Glyphs
	lines := []string{rule("Will it start again? "+g.text(p.row.Vessel.Label+"  "+p.batch.Name), w, g, st)}
	with := "as it is"
	if p.trial != nil {
		with = "with " + DosesText(p.trial.Parts, say) + " stirred in"
	}
	lines = append(lines, "  "+st.Muted.Render(cut(g.text(with), w-2)), "")
	paragraph := func(text string, style func(...string) string) {
		lines = append(lines, indented(wrap(g.text(text), w-4), style)...)
	}
	if p.told != "" {
		style := st.Good.Render
		if p.bad {
			style = st.Bad.Render
		}
		paragraph(p.told, style)
	}
	if p.typing {
		in := p.line
		in.Width = max(6, w-10)
		lines = append(lines, "  "+st.Muted.Render("pH    ")+in.View(), "")
	}
	if p.err != nil {
		paragraph(words.PlainError(p.err), st.Bad.Render)
		return padLines(lines, w, h)
	}
	lines = append(lines, p.verdict(w, say, st)...)
	lines = append(lines, p.offer(w, say, st)...)
	return padLines(lines, w, h)
}

// verdict is how it stands and why.
func (p keepPane) verdict(w int, say words.Words, st *Styles) []string {
	g := p.opts.Glyphs
	style := map[calc.Stability]func(...string) string{
		calc.StabilitySafe: st.Good.Render, calc.StabilityLikely: st.Plain.Render, calc.StabilityRisky: st.Warn.Render, calc.StabilityLive: st.Bad.Render,
	}[p.judged.Verdict]
	lines := indented(wrap(strings.ToUpper(p.judged.Verdict.String())+". "+verdictText(p.judged.Verdict), w-4), style)
	sugar, abv := p.have.Left, p.state.Strength
	if p.trial != nil {
		sugar, abv = sugar+max(0, p.trial.After.Fermentable-p.trial.Before.Fermentable), p.trial.After.Strength
	}
	facts := []string{fmt.Sprintf("%s of sugar that its yeast could take", say.PerLitre(sugar))}
	if p.have.Tolerance > 0 {
		facts[0] += fmt.Sprintf("; %s, and this yeast bears about %s", say.Strength(abv, 0), say.Strength(p.have.Tolerance, 0))
	}
	if p.have.Finished {
		facts = append(facts, "gravity has stood still for days")
	} else {
		facts = append(facts, "gravity is not known to have stood still for three days")
	}
	for _, f := range p.judged.Findings {
		if text := reasonText[f.Reason]; text != "" {
			facts = append(facts, text)
		}
	}
	facts = append(facts, map[bool]string{true: "taken to be clear (c: it is cloudy)", false: "taken to be cloudy (c: it is clear)"}[p.have.Clear])
	for _, text := range facts {
		for i, l := range wrap(g.text(text), w-6) {
			mark := "  - "
			if i > 0 {
				mark = "    "
			}
			lines = append(lines, mark+l)
		}
	}
	return append(lines, "")
}

// offer is what would make it stable, in order, with the limits.
func (p keepPane) offer(w int, say words.Words, st *Styles) []string {
	g, plan := p.opts.Glyphs, p.plan
	if p.judged.Verdict == calc.StabilitySafe && !plan.Needed() {
		return indented(wrap(g.text("Nothing more is needed. "+p.limits()), w-4), st.Muted.Render)
	}
	ph := fmt.Sprintf("pH %.2f", float64(plan.PH))
	switch {
	case plan.Guessed:
		ph = fmt.Sprintf("pH taken to be %.1f: read it, p types it", float64(plan.PH))
	case !p.have.PHRead.IsZero():
		ph += " of " + p.have.PHRead.Format("2 Jan")
	}
	lines := []string{"  " + st.Heading.Render("To make it stable") + st.Muted.Render("  "+cut(ph, max(0, w-22)))}
	steps := []string{"Wait until it is done and clear, then rack it off the yeast."}
	if plan.Sulfite.Mass > 0 {
		if p.have.FreeSO2 > 0 {
			steps = append(steps, fmt.Sprintf("Some of the sulfite has bound: %s of potassium metabisulfite more%s, if a test shows less than %.0f mg/L free SO2.", say.FineMass(plan.Sulfite.Mass), bySolution(plan.Sulfite.Mass, say), float64(plan.Free)))
		} else {
			steps = append(steps, fmt.Sprintf("Sulfite: %s of potassium metabisulfite%s, for %.0f mg/L free SO2. Part of it binds: measure if you can.", say.FineMass(plan.Sulfite.Mass), bySolution(plan.Sulfite.Mass, say), float64(plan.Free)))
		}
	}
	if plan.Sorbate.Mass > 0 {
		steps = append(steps, fmt.Sprintf("With it, never without: %s of potassium sorbate%s, %.0f mg/L.", say.FineMass(plan.Sorbate.Mass), bySolution(plan.Sorbate.Mass, say), float64(plan.Sorbate.Sorbate)))
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
	steps = append(steps, "Sweeten a day later. Bottle when two readings a week apart are the same.")
	for i, text := range steps {
		for k, l := range wrap(g.text(text), w-6) {
			mark := fmt.Sprintf("  %d ", i+1)
			if k > 0 {
				mark = "    "
			}
			lines = append(lines, st.Key.Render(mark)+l)
		}
	}
	return append(lines, indented(wrap(g.text(p.limits()), w-4), st.Muted.Render)...)
}

// bySolution says how much of a tenth solution holds what no kitchen scale can weigh.
func bySolution(m calc.Gram, say words.Words) string {
	if m >= 2 {
		return ""
	}
	const gramsPerLitre = 100
	return fmt.Sprintf(" (%s of 10 g in 100 mL)", say.Millilitres(calc.Litre(float64(m)/gramsPerLitre)))
}

// limits are what the law says of so much, and what belongs on the label.
func (p keepPane) limits() string {
	var limits []string
	for _, l := range p.rules() {
		limit := fmt.Sprintf("%s %.0f", l.Place, float64(l.Total))
		if p.plan.Total > l.Total {
			limit += ", which this is over"
		}
		limits = append(limits, limit)
	}
	text := ""
	switch {
	case p.plan.TooMuch:
		text = fmt.Sprintf("Limits for SO2 in all, in mg/L: %s. ", strings.Join(limits, ", "))
	case len(limits) > 0:
		text = fmt.Sprintf("About %.0f mg/L SO2 added in all; limits %s. ", float64(p.plan.Total), strings.Join(limits, ", "))
	}
	return text + "Label: contains sulphites. Some people, mostly with asthma, react to them."
}

// rules are those that hold for the drink as it would be.
func (p keepPane) rules() []calc.SulfiteLimit {
	sugar := p.state.Figures.Sugar
	if p.trial != nil {
		sugar = p.trial.After.Sugar
	}
	var out []calc.SulfiteLimit
	for _, l := range p.opts.SulfiteLimits {
		if l.For(sugar) && p.suits(l) {
			out = append(out, l)
		}
	}
	return out
}

// totals are the most that each rule allows.
func (p keepPane) totals() []calc.MilligramPerLitre {
	var out []calc.MilligramPerLitre
	for _, l := range p.rules() {
		out = append(out, l.Total)
	}
	return out
}

// suits reports whether a rule is for this kind of drink.
func (p keepPane) suits(l calc.SulfiteLimit) bool {
	switch p.batch.Drink {
	case model.Beer:
		return l.ID == "eu_beer"
	case model.Mead, model.Cider, model.Perry:
		return l.ID == "eu_cider_mead" || l.ID == "us_wine"
	}
	return strings.HasPrefix(l.ID, "eu_white") || l.ID == "us_wine"
}
