package ui

import (
	"fmt"
	"strings"

	"cellar.local/glassrow/calc"
)

// comparison is one line of now and after.
type comparison struct{ what, now, after, note string }

// view draws the trial in w by h cells.
func (p sweetenPane) view(w, h int, u units, st *Styles) []string {
	lines := []string{rule("Sweeten "+clean(p.row.Vessel.Label+"  "+p.batch.Name), w, p.opts.Glyphs, st), ""}
	lines = append(lines, p.controls(w, u, st)...)
	lines = append(lines, "")
	if p.err != nil {
		lines = append(lines, indented(wrap(clean(plainError(p.err)), w-4), st.Bad.Render)...)
		return padLines(lines, w, h)
	}
	lines = append(lines, p.table(w, u, st)...)
	lines = append(lines, "")
	lines = append(lines, p.warnings(w, u, st)...)
	if bar := sugarBar(p.trial.Liquid, p.trial.After.Volume, w, p.opts.Glyphs, st); h-len(lines) > len(bar)+1 {
		lines = append(lines, "")
		lines = append(lines, bar...)
	}
	return padLines(lines, w, h)
}

// controls are what the keys move: sweetener and amount, or the typed target.
func (p sweetenPane) controls(w int, u units, st *Styles) []string {
	sw, ok := p.sweetener()
	if !ok {
		return []string{"  no sweetener in the handbook"}
	}
	g := p.opts.Glyphs
	with := "  " + st.Muted.Render("with    ") + st.Key.Render(g.Left+" ") + st.Strong.Render(clean(sw.Name())) + st.Key.Render(" "+g.Right)
	if sw.Flavour != "" {
		with += st.Muted.Render("  " + clean(sw.Flavour))
	}
	if p.typing {
		in := p.target
		in.Width = max(8, w-14)
		return []string{cut(with, w), "  " + st.Muted.Render("target  ") + in.View(),
			"  " + st.Muted.Render(cut("300g, 1.012, 25g/l, or dry, off-dry, medium, sweet", w-2))}
	}
	amount := "  " + st.Muted.Render("amount  ") + st.Key.Render(g.Left+" ") + st.Strong.Render(u.mass(p.mass)) + st.Key.Render(" "+g.Right)
	if m := kitchenMeasure(p.mass, sw.CupGrams); m != "" {
		amount += st.Muted.Render("  about " + m)
	}
	fine, coarse := p.steps()
	return []string{cut(with, w), cut(amount, w),
		"  " + st.Muted.Render(cut(fmt.Sprintf("        one step %s, a large one %s", u.mass(fine), u.mass(coarse)), w-2))}
}

// kitchenMeasure says a mass in US cups, tablespoons or teaspoons, where the cup
// is known; 16 tablespoons or 48 teaspoons make one.
func kitchenMeasure(m calc.Gram, cupGrams float64) string {
	if cupGrams <= 0 || m <= 0 {
		return ""
	}
	cups := float64(m) / cupGrams
	switch {
	case cups >= 1:
		return fmt.Sprintf("%.1f US cups", cups)
	case cups*16 >= 1:
		return fmt.Sprintf("%.1f tablespoons", cups*16)
	}
	return fmt.Sprintf("%.1f teaspoons", cups*48)
}

// table sets the batch as it is beside what it would be.
func (p sweetenPane) table(w int, u units, st *Styles) []string {
	b, a := p.trial.Before, p.trial.After
	rows := []comparison{
		{"gravity", u.fineGravity(b.SG), u.fineGravity(a.SG), fmt.Sprintf("%+.1f points", a.SG.Points()-b.SG.Points())},
		{"sugar", u.perLitre(b.Sugar), u.perLitre(a.Sugar), calc.BandOf(a.Sugar).String()},
		{"tastes like", u.perLitre(b.Sweetness), u.perLitre(a.Sweetness), "of table sugar"},
		{"strength", u.strength(b.Strength, p.state.PlusMinus), u.strength(a.Strength, p.state.PlusMinus), ""},
		{"volume", u.volume(b.Volume), u.volume(a.Volume), "of " + u.volume(p.row.Vessel.Capacity)},
	}
	if p.trial.Overflow(p.row.Vessel) > 0 {
		rows[4].note = "runs over: holds " + u.volume(p.row.Vessel.Capacity)
	}
	const first = 14
	col := 12
	for _, r := range rows {
		col = max(col, width(r.now)+2, width(r.after)+2)
	}
	lines := []string{st.Muted.Render(fit("", first) + fit("now", col) + "after")}
	for i, r := range rows {
		note := st.Muted.Render(r.note)
		if i == 4 && p.trial.Overflow(p.row.Vessel) > 0 {
			note = st.Bad.Render(r.note)
		}
		line := "  " + st.Muted.Render(fit(r.what, first-2)) + fit(r.now, col) + st.Strong.Render(fit(r.after, col))
		if width(line)+width(r.note) <= w {
			line += note
		} else if r.note != "" && (i == 1 || i == 4) {
			lines = append(lines, line)
			line = fit("", first) + note
		}
		lines = append(lines, line)
	}
	return lines
}

// warnings are what the yeast could do with it, and what the last key had to say.
func (p sweetenPane) warnings(w int, u units, st *Styles) []string {
	var lines []string
	t := p.trial
	if t.Wakes() {
		text := fmt.Sprintf("If the yeast wakes it can use %s of it: %s, %s.",
			u.perLitre(t.After.Fermentable-t.Refermented.Fermentable), u.gravity(t.Refermented.SG), u.strength(t.Refermented.Strength, 0))
		lines = append(lines, indented(wrap(text, w-4), st.Warn.Render)...)
	} else if p.mass > 0 {
		lines = append(lines, "  "+st.Muted.Render(cut("Nothing in it that the yeast could use.", w-2)))
	}
	if sw, _ := p.sweetener(); sw.Caution != "" {
		lines = append(lines, indented(wrap(clean(sw.Caution), w-4), st.Muted.Render)...)
	}
	if p.told != "" {
		style := st.Good.Render
		if p.bad {
			style = st.Bad.Render
		}
		lines = append(lines, indented(wrap(clean(strings.TrimSpace(p.told)), w-4), style)...)
	}
	return lines
}
