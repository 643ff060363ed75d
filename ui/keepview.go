package ui

import (
	"fmt"
	"strings"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/ui/words"
)

// view draws the pane in w by h cells.
func (p keepPane) view(w, h int, say words.Words, st *Styles) []string {
	g := p.opts.Glyphs
	lines := []string{rule("Will it start again? "+g.text(p.row.Vessel.Label+"  "+p.batch.Name), w, g, st)}
	with := "as it is"
	if p.trial != nil {
		with = "with " + say.Doses(p.trial.Parts) + " stirred in"
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
		lines = append(lines, "  "+st.Muted.Render("pH    ")+typedIn(p.line, w-9), "")
	}
	if p.err != nil {
		paragraph(words.PlainError(p.err), st.Bad.Render)
		return padLines(lines, w, h)
	}
	lines = append(lines, p.verdict(w, say, st)...)
	lines = append(lines, p.offer(w, say, st)...)
	return padLines(closeUp(lines, h), w, h)
}

// verdict is how it stands and why.
func (p keepPane) verdict(w int, say words.Words, st *Styles) []string {
	g := p.opts.Glyphs
	style := map[calc.Stability]func(...string) string{
		calc.StabilitySafe: st.Good.Render, calc.StabilityLikely: st.Plain.Render, calc.StabilityRisky: st.Warn.Render, calc.StabilityLive: st.Bad.Render,
	}[p.judged.Verdict]
	lines := indented(wrap(strings.ToUpper(p.judged.Verdict.String())+". "+say.Stability(p.judged.Verdict), w-4), style)
	sugar, abv := p.have.Left, p.state.Strength
	if p.trial != nil {
		sugar, abv = sugar+max(0, p.trial.After.Fermentable-p.trial.Before.Fermentable), p.trial.After.Strength
	}
	facts := []string{fmt.Sprintf("%s of sugar of kinds that its yeast takes", say.PerLitre(sugar))}
	if p.have.Tolerance > 0 {
		facts[0] += fmt.Sprintf("; %s, and this yeast bears about %s", say.Strength(abv, 0), say.Strength(p.have.Tolerance, 0))
	}
	if p.have.Finished {
		facts = append(facts, "gravity has stood still for days")
	} else {
		facts = append(facts, "gravity is not known to have stood still for three days")
	}
	for _, f := range p.judged.Findings {
		if text := say.StabilityReason(f.Reason); text != "" {
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
		return indented(wrap(g.text("Nothing more is needed. "+say.SulfiteLimits(plan, p.rules())), w-4), st.Muted.Render)
	}
	ph := fmt.Sprintf("pH %.2f", float64(plan.PH))
	switch {
	case plan.Guessed:
		ph = fmt.Sprintf("pH taken to be %.1f: read it, p types it", float64(plan.PH))
	case !p.have.PHRead.IsZero():
		ph += " of " + p.have.PHRead.Format("2 Jan")
	}
	lines := []string{"  " + st.Heading.Render("To make it stable") + st.Muted.Render("  "+cut(ph, max(0, w-22)))}
	for i, text := range say.StabiliseSteps(plan, p.have) {
		for k, l := range wrap(g.text(text), w-6) {
			mark := fmt.Sprintf("  %d ", i+1)
			if k > 0 {
				mark = "    "
			}
			lines = append(lines, st.Key.Render(mark)+l)
		}
	}
	return append(lines, indented(wrap(g.text(say.SulfiteLimits(plan, p.rules())), w-4), st.Muted.Render)...)
}
