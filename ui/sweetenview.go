package ui

import (
	"fmt"
	"strings"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/ui/words"
)

// comparison is one line of now and after; keep says that the note matters on a
// narrow screen too.
type comparison struct {
	what, now, after, note string
	keep                   bool
}

// view draws the trial in w by h cells.
func (p sweetenPane) view(w, h int, say words.Words, st *Styles) []string {
	lines := []string{rule("Sweeten "+p.opts.Glyphs.text(p.row.Vessel.Label+"  "+p.batch.Name), w, p.opts.Glyphs, st), ""}
	lines = append(lines, p.controls(w, say, st)...)
	lines = append(lines, "")
	if p.err != nil {
		lines = append(lines, indented(wrap(p.opts.Glyphs.text(words.PlainError(p.err)), w-4), st.Bad.Render)...)
		return padLines(lines, w, h)
	}
	lines = append(lines, p.table(w, say, st)...)
	lines = append(lines, "")
	lines = append(lines, p.warnings(w, say, st)...)
	if bar := sugarBar(p.trial.Liquid, p.trial.After.Volume, w, p.opts.Glyphs, st); h-len(lines) > len(bar)+1 {
		lines = append(lines, "")
		lines = append(lines, bar...)
	}
	return padLines(lines, w, h)
}

// controls are what the keys move: sweetener and amount, or the typed target.
func (p sweetenPane) controls(w int, say words.Words, st *Styles) []string {
	sw, ok := p.sweetener()
	if !ok {
		return []string{"  no sweetener in the handbook"}
	}
	g := p.opts.Glyphs
	with := "  " + st.Muted.Render("with    ") + st.Key.Render(g.Left+" ") + st.Strong.Render(p.opts.Glyphs.text(sw.Name())) + st.Key.Render(" "+g.Right)
	if sw.Flavour != "" {
		with += st.Muted.Render("  " + p.opts.Glyphs.text(sw.Flavour))
	}
	if p.typing {
		in := p.target
		in.Width = max(8, w-14)
		return []string{cut(with, w), "  " + st.Muted.Render("target  ") + in.View(),
			"  " + st.Muted.Render(cut("300g, 1.012, 25g/l, or dry, off-dry, medium, sweet", w-2))}
	}
	amount := "  " + st.Muted.Render("amount  ") + st.Key.Render(g.Left+" ") + st.Strong.Render(say.Mass(p.mass)) + st.Key.Render(" "+g.Right)
	if m := kitchenMeasure(p.mass, sw.CupGrams); m != "" {
		amount += st.Muted.Render("  about " + m)
	}
	fine, coarse := p.steps()
	return []string{cut(with, w), cut(amount, w),
		"  " + st.Muted.Render(cut(fmt.Sprintf("        one step %s, a large one %s", say.Mass(fine), say.Mass(coarse)), w-2))}
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

// table sets the batch as it is beside what it would be. On a narrow screen a note
// that matters goes under its line and the others are left out.
func (p sweetenPane) table(w int, say words.Words, st *Styles) []string {
	b, a := p.trial.Before, p.trial.After
	over := p.trial.Overflow(p.row.Vessel) > 0
	room := comparison{what: "volume", now: say.Volume(b.Volume), after: say.Volume(a.Volume), note: "of " + say.Volume(p.row.Vessel.Capacity), keep: true}
	if over {
		room.note = "runs over: holds " + say.Volume(p.row.Vessel.Capacity)
	}
	rows := []comparison{
		{what: "gravity", now: say.FineGravity(b.SG), after: say.FineGravity(a.SG), note: say.Points(a.SG.Points() - b.SG.Points())},
		{what: "sugar", now: say.PerLitre(b.Sugar), after: say.PerLitre(a.Sugar), note: calc.BandOf(a.Sugar).String(), keep: true},
		{what: "tastes like", now: say.PerLitre(b.Sweetness), after: say.PerLitre(a.Sweetness), note: "of table sugar"},
		{what: "strength", now: say.Strength(b.Strength, 0), after: say.Strength(a.Strength, 0), note: say.PlusMinus(p.state.PlusMinus)},
		room,
	}
	const first, col = 14, 13
	lines := []string{st.Muted.Render(fit("", first) + fit("now", col) + "after")}
	for i, r := range rows {
		style := st.Muted
		if over && i == len(rows)-1 {
			style = st.Bad
		}
		line := "  " + st.Muted.Render(fit(r.what, first-2)) + fit(r.now, col)
		switch fits := first+2*col+width(r.note) <= w; {
		case fits:
			lines = append(lines, line+st.Strong.Render(fit(r.after, col))+style.Render(r.note))
		case r.keep:
			lines = append(lines, line+st.Strong.Render(r.after), fit("", first)+style.Render(cut(r.note, w-first)))
		default:
			lines = append(lines, line+st.Strong.Render(r.after))
		}
	}
	return lines
}

// warnings are what the yeast could do with it, and what the last key had to say.
func (p sweetenPane) warnings(w int, say words.Words, st *Styles) []string {
	var lines []string
	t := p.trial
	if t.Wakes() {
		text := fmt.Sprintf("If the yeast wakes it can use %s of the sugar and would end near %s, %s.",
			say.PerLitre(t.After.Fermentable-t.Refermented.Fermentable), say.Gravity(t.Refermented.SG), say.Strength(t.Refermented.Strength, 0))
		lines = append(lines, indented(wrap(text, w-4), st.Warn.Render)...)
	} else if p.mass > 0 {
		lines = append(lines, "  "+st.Muted.Render(cut("Nothing in it that the yeast could use.", w-2)))
	}
	if sw, _ := p.sweetener(); sw.Caution != "" {
		lines = append(lines, indented(wrap(p.opts.Glyphs.text(sw.Caution), w-4), st.Muted.Render)...)
	}
	if p.told != "" {
		style := st.Good.Render
		if p.bad {
			style = st.Bad.Render
		}
		lines = append(lines, indented(wrap(p.opts.Glyphs.text(strings.TrimSpace(p.told)), w-4), style)...)
	}
	return lines
}
