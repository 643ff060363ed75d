package ui

import (
	"fmt"
	"strings"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// view draws the pane in w by h cells.
func (p fizzPane) view(w, h int, say words.Words, st *Styles) []string {
	g := p.opts.Glyphs
	lines := []string{rule("Fizz "+g.text(p.row.Vessel.Label+"  "+p.batch.Name), w, g, st)}
	first := "as it is, nothing stirred in first"
	if p.sweet != nil {
		first = "first " + say.Doses(p.sweet.Parts) + ", as on trial"
	}
	lines = append(lines, "  "+st.Muted.Render(cut(g.text(first), w-2)))
	for i, f := range p.fields {
		if !p.asks(i) {
			continue
		}
		line := f.line(i == p.at, 8, min(w-1, 45), g, st)
		if i == p.at && f.hint != "" && width(line)+width(f.hint)+2 < w {
			line = fit(line, 20) + st.Muted.Render(f.hint)
		}
		lines = append(lines, cut(line, w))
	}
	lines = append(lines, "")
	if p.told != "" {
		style := st.Good.Render
		if p.bad {
			style = st.Bad.Render
		}
		lines = append(lines, indented(wrap(g.text(p.told), w-4), style)...)
	}
	if p.err != nil {
		return padLines(append(lines, indented(wrap(g.text(words.PlainError(p.err)), w-4), st.Warn.Render)...), w, h)
	}
	if text := p.hazard(say); text != "" {
		style := st.Warn.Render
		if strings.HasPrefix(text, "DANGER") {
			style = st.Bad.Render
		}
		lines = append(lines, indented(wrap(g.text(text), w-4), style)...)
	}
	lines = append(lines, p.figures(w, say, st)...)
	return padLines(closeUp(append(lines, p.advice(w, say, st)...), h), w, h)
}

// asks reports whether the route has a use for a field.
func (p fizzPane) asks(i int) bool {
	route := model.FizzRoutes()[p.fields[fizzRoute].choice]
	switch {
	case i == p.at:
		return true
	case i == fizzWith:
		return route == model.ByPriming
	case i == fizzBubbles:
		return route != model.WithoutFizz
	}
	return true
}

// figures are the numbers of the plan.
func (p fizzPane) figures(w int, say words.Words, st *Styles) []string {
	f := p.fizz
	row := func(what, figure string, notes ...string) string {
		note := ""
		for _, n := range notes { // the longest that there is room for
			if note = p.opts.Glyphs.text(n); 29+width(note) <= w {
				break
			}
		}
		return cut("  "+st.Muted.Render(fit(what, 16))+st.Strong.Render(fit(figure, 11))+st.Muted.Render(note), w)
	}
	volumes := func(v calc.VolumesCO2) string { return fmt.Sprintf("%.2f vol", float64(v)) }
	at := func(t calc.Celsius) string { return "at " + say.Temperature(t) }
	lines := []string{row("gas in it now", volumes(f.Residual), "fermented "+at(p.plan.Warmest), at(p.plan.Warmest))}
	switch p.plan.Route {
	case model.ByPriming:
		perLitre := float64(f.Mass) / float64(p.volume())
		lines = append(lines, row("priming", say.Mass(f.Mass), fmt.Sprintf("%.1f g/L, %.1f g in 750 mL", perLitre, perLitre*0.75), fmt.Sprintf("%.1f g/L", perLitre)))
	case model.ByHeat:
		lines = append(lines, row("heat it when", say.Gravity(f.StopAt), "in a test bottle, shaken flat", "in a test bottle"),
			row("the bath", fmt.Sprintf("%.0f min", f.Least.Minutes()), fmt.Sprintf("%s in its centre; %.0f to be sure", at(model.BathCelsius), f.Safe.Minutes()), at(model.BathCelsius)),
			row("then holds", say.Pressure(f.Ready.Highest()), at(p.plan.Warmest)), row("and in the bath", say.Pressure(f.Bath.Highest()), f.InBath.Verdict.String()+" for it"))
	case model.ByKeg:
		return append(lines, row("set the gauge", say.Pressure(f.Gauge), at(p.plan.Store)+", and leave it a week", at(p.plan.Store)),
			row("if it warms", say.Pressure(f.Warm.Gauge), at(max(p.plan.Store, p.plan.Warmest))),
			row("the keg", f.Judgement.Verdict.String(), fmt.Sprintf("%.0f %% of its limit", 100*f.Judgement.Share), fmt.Sprintf("%.0f %%", 100*f.Judgement.Share)))
	}
	judged, all := p.judged(), "if all ferments"
	if _, held := p.kept.Held(); held {
		all = "if that failed"
	}
	lines = append(lines, row("sugar held", say.PerLitre(f.Held), "that yeast could use too", "for yeast"))
	return append(lines,
		row(all, volumes(f.Warm.Volumes()), say.Pressure(f.Cellar.Highest())+" "+at(p.plan.Warmest), say.Pressure(f.Cellar.Highest())),
		row("at its warmest", say.Pressure(f.Warm.Highest()), at(p.plan.Store)+", air in the neck", at(p.plan.Store)),
		row("the bottle", judged.Verdict.String(), fmt.Sprintf("%.0f %% of what it may hold", 100*judged.Share), fmt.Sprintf("%.0f %% of limit", 100*judged.Share)))
}

func (p fizzPane) volume() calc.Litre {
	v, err := p.liquid().Volume()
	if err != nil || v <= 0 {
		return 1
	}
	return v
}

// advice is what belongs to the route.
func (p fizzPane) advice(w int, say words.Words, st *Styles) []string {
	var text string
	switch p.plan.Route {
	case model.ByPriming:
		text = "Only for a drink that is done: the same gravity twice, a week apart. Sulfite and sorbate would stop the yeast that makes the bubbles."
	case model.ByHeat:
		text = "Fill one plastic bottle with the others: hard as wood means ready. Warm the bath slowly, never above " + say.Temperature(model.BathCelsius) + ", and let it cool with the lid on. Never heat a scratched or unknown bottle."
	case model.ByKeg:
		text = "Chill it, stabilise it with sulfite and sorbate together, then press the gas in. Warm, living yeast would go on: keep it cold and drink it soon."
	case model.WithoutFizz:
		text = "Close it when it is done and stable: the same gravity twice, a week apart, and nothing left that yeast could take, or something that holds it."
	}
	if note := p.plan.Container.Note; note != "" {
		text += " " + note
	}
	return append([]string{""}, indented(wrap(p.opts.Glyphs.text(text), w-4), st.Muted.Render)...)
}
