package ui

import (
	"fmt"
	"strings"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// The table of the planner: a column of names, one of what is, one a candidate.
const (
	nameColumn     = 14
	nowColumn      = 13
	candidateMost  = 38 // wider tells no more
	candidateLeast = 18
)

// tableRow is a line of the table. What a low screen leaves out first is marked.
type tableRow struct {
	what, now string
	cells     []tableCell
	extra     bool
}

// tableCell is a figure, and beside it a note where there is room; keep says that
// the note goes under the figure where there is not, or short for it.
type tableCell struct {
	text, note, short string
	keep, bad         bool
}

// shown returns which candidates there is room for beside each other: four on a wide
// screen, two at eighty columns, one at a time on a narrow one.
func (p sweetenPane) shown(w int) (from, to int) {
	n := 1
	switch {
	case w >= 150:
		n = 4
	case w >= 76:
		n = 2
	}
	from = p.at / n * n
	return from, min(from+n, len(p.tried))
}

// view draws the trials in w by h cells.
func (p sweetenPane) view(w, h int, say words.Words, st *Styles) []string {
	lines := []string{rule("Sweeten "+p.opts.Glyphs.text(p.row.Vessel.Label+"  "+p.batch.Name), w, p.opts.Glyphs, st)}
	if p.current() == nil {
		return padLines(append(lines, "", "  no sweetener in the handbook"), w, h)
	}
	from, to := p.shown(w)
	if to-from < len(p.tried) {
		lines = append(lines, p.comparison(w, say, st))
	} else {
		lines = append(lines, "")
	}
	notes := p.notes(w, say, st)
	rows := p.rows(p.tried[from:to], say)
	if p.typing != typingNothing {
		lines = append(lines, p.lineView(w, st)...)
	}
	table := p.table(rows, from, w, st)
	if len(lines)+len(table)+len(notes) > h {
		rows = withoutExtras(rows)
		table = p.table(rows, from, w, st)
	}
	lines = append(append(append(lines, table...), ""), notes...)
	bar := sugarBar(p.current().trial.Liquid, p.current().trial.After.Volume, w, p.opts.Glyphs, st)
	if p.current().err == nil && h-len(lines) > len(bar)+1 {
		lines = append(append(lines, ""), bar...)
	}
	return padLines(lines, w, h)
}

func withoutExtras(rows []tableRow) []tableRow {
	var out []tableRow
	for _, r := range rows {
		if !r.extra {
			out = append(out, r)
		}
	}
	return out
}

// comparison is every candidate in a few words, for a screen that shows only some.
func (p sweetenPane) comparison(w int, say words.Words, st *Styles) string {
	var parts []string
	for i, t := range p.tried {
		name := strings.Fields(t.Name() + " ")[0]
		figure := "out of reach"
		if t.err == nil {
			figure = say.Mass(t.trial.Mass) + " " + say.Gravity(t.trial.After.SG)
			if len(p.tried) > 2 && w < 76 {
				name, figure = cut(name, 4), say.Gravity(t.trial.After.SG)
			}
		}
		text := fmt.Sprintf("%d %s %s", i+1, p.opts.Glyphs.text(name), figure)
		if i == p.at {
			parts = append(parts, st.Key.Render(text))
		} else {
			parts = append(parts, st.Muted.Render(text))
		}
	}
	return "  " + cut(strings.Join(parts, "  "), w-2)
}

// lineView is what is being typed.
func (p sweetenPane) lineView(w int, st *Styles) []string {
	name, hint := "target", "300g, 1.012, 25g/l, taste 30, off-dry, eu medium dry, brut"
	switch p.typing {
	case typingPrice:
		name, hint = "price", "what a kilogram of "+p.priced().Name()+" costs; empty: not known"
	case typingPlanName:
		name, hint = "name", "under which to keep these candidates"
	}
	return append([]string{"  " + st.Muted.Render(fit(name, 8)) + typedIn(p.line, w-11)}, indented(wrap(p.opts.Glyphs.text(hint), w-4), st.Muted.Render)...)
}

// rows are what is told of each candidate.
func (p sweetenPane) rows(shown []tried, say words.Words) []tableRow {
	b := p.state.Figures
	row := func(what, now string, cell func(tried) tableCell) tableRow {
		r := tableRow{what: what, now: now}
		for _, t := range shown {
			switch {
			case t.err != nil:
				r.cells = append(r.cells, tableCell{text: "-"})
			default:
				r.cells = append(r.cells, cell(t))
			}
		}
		return r
	}
	rows := []tableRow{p.amounts(shown, say), p.aims(shown, say)}
	rows = append(rows, row("gravity", say.FineGravity(b.SG), func(t tried) tableCell {
		return tableCell{text: say.FineGravity(t.trial.After.SG), note: say.Points(t.trial.After.SG.Points() - b.SG.Points())}
	}), row("sugar", say.PerLitre(b.Sugar), func(t tried) tableCell {
		return tableCell{text: say.PerLitre(t.trial.After.Sugar), note: calc.BandOf(t.trial.After.Sugar).String(), keep: true}
	}))
	for _, c := range calc.Components() {
		if r, ok := p.kindRow(c, shown, row, say); ok {
			rows = append(rows, r)
		}
	}
	rows = append(rows, row("tastes like", say.PerLitre(b.Sweetness), func(t tried) tableCell {
		return tableCell{text: say.PerLitre(t.trial.After.Sweetness), note: "of table sugar"}
	}), row("strength", say.Strength(b.Strength, 0), func(t tried) tableCell {
		return tableCell{text: say.Strength(t.trial.After.Strength, 0), note: say.PlusMinus(p.state.PlusMinus)}
	}), row("volume", say.FineVolume(b.Volume), func(t tried) tableCell { return p.room(t, say) }))
	if len(p.tried) > 1 {
		rows = append(rows, row("yeast could", "", func(t tried) tableCell {
			return tableCell{text: say.PerLitre(t.trial.CouldFerment()),
				note: "to " + say.Gravity(t.trial.Refermented.SG) + ", " + say.ShortStrength(t.trial.Refermented.Strength)}
		}))
	}
	return append(rows, p.costAndFlavour(shown, row)...)
}

// costAndFlavour are the rows that are not of the liquid.
func (p sweetenPane) costAndFlavour(shown []tried, row func(string, string, func(tried) tableCell) tableRow) []tableRow {
	var rows []tableRow
	for _, t := range p.tried {
		if _, known := t.trial.Cost(p.settings.Prices); known {
			rows = append(rows, row("cost", "", func(t tried) tableCell {
				if cost, known := t.trial.Cost(p.settings.Prices); known {
					return tableCell{text: fmt.Sprintf("%.2f", cost)}
				}
				return tableCell{}
			}))
			break
		}
	}
	flavour := tableRow{what: "flavour"}
	for _, t := range shown {
		flavour.cells = append(flavour.cells, tableCell{note: p.opts.Glyphs.text(t.Flavour())})
	}
	return append(rows, flavour)
}

// amounts is how much goes in, by scale and by the kitchen's measure.
func (p sweetenPane) amounts(shown []tried, say words.Words) tableRow {
	r := tableRow{what: "amount"}
	for _, t := range shown {
		switch {
		case t.err != nil:
			r.cells = append(r.cells, tableCell{text: "out of reach", bad: true})
		case t.Mixed():
			note := ""
			for i, d := range t.trial.Parts {
				note += []string{"", " + "}[min(i, 1)] + say.Mass(d.Mass)
			}
			r.cells = append(r.cells, tableCell{text: say.Mass(t.trial.Mass), note: note, keep: true})
		default:
			r.cells = append(r.cells, tableCell{text: say.Mass(t.trial.Mass), note: kitchenMeasure(t.trial.Mass, t.First.CupGrams), keep: true})
		}
	}
	return r
}

// aims is what each candidate keeps when the batch changes.
func (p sweetenPane) aims(shown []tried, say words.Words) tableRow {
	r := tableRow{what: "keeps", extra: true}
	for _, t := range shown {
		text := "the amount"
		if t.Aim.Target != nil {
			text, r.extra = aimText(t.Aim, say), false
		}
		r.cells = append(r.cells, tableCell{note: p.opts.Glyphs.text(text)})
	}
	return r
}

// aimText says a target: 1.012, tastes like 41.6 g/L.
func aimText(a model.Aim, say words.Words) string {
	if number, ok := strings.CutPrefix(a.Text, "taste "); ok {
		var x float64
		if _, err := fmt.Sscan(number, &x); err == nil {
			return "the taste of " + say.PerLitre(calc.GramPerLitre(x))
		}
	}
	return "the target " + a.Text
}

// kindRow is one kind of sugar in all candidates, when any has some.
func (p sweetenPane) kindRow(c calc.Component, shown []tried, row func(string, string, func(tried) tableCell) tableRow, say words.Words) (tableRow, bool) {
	if !isSugarOfBar(c) {
		return tableRow{}, false
	}
	some := false
	name := " " + c.String()
	if width(name) > nameColumn-3 {
		name = c.String()
	}
	r := row(name, "", func(t tried) tableCell {
		x := perLitre(t.trial.Liquid, c, t.trial.After.Volume)
		some = some || x >= 0.05
		return tableCell{text: say.PerLitre(x)}
	})
	r.extra = true
	r.now = say.PerLitre(perLitre(p.state.Liquid, c, p.state.Figures.Volume))
	return r, some
}

func perLitre(l calc.Liquid, c calc.Component, v calc.Litre) calc.GramPerLitre {
	if v <= 0 {
		return 0
	}
	return calc.GramPerLitre(l.Of(c)) / calc.GramPerLitre(v)
}

// room is the volume against what the vessel holds.
func (p sweetenPane) room(t tried, say words.Words) tableCell {
	c := tableCell{text: say.FineVolume(t.trial.After.Volume), keep: true}
	holds := p.row.Vessel.Capacity
	if t.trial.Overflow(p.row.Vessel) > 0 {
		c.note, c.bad = "runs over: holds "+say.Volume(holds), true
		return c
	}
	c.short = say.Volume(holds-t.trial.After.Volume) + " free"
	c.note = "of " + say.Volume(holds) + ", " + c.short
	return c
}

// table sets the rows; the heading names the candidates.
func (p sweetenPane) table(rows []tableRow, from, w int, st *Styles) []string {
	g := p.opts.Glyphs
	n := 1
	if len(rows) > 0 {
		n = max(1, len(rows[0].cells))
	}
	col := max(candidateLeast, min(candidateMost, (w-nameColumn-nowColumn)/n))
	head := st.Muted.Render(fit("", nameColumn) + fit("now", nowColumn))
	var lines []string
	if only := fmt.Sprintf("%d %s", from+1, g.text(p.tried[from].Name())); n == 1 && width(only)+4 > col {
		lines = append(lines, fit("", nameColumn)+st.Key.Render(g.Left+" ")+st.Strong.Render(cut(only, w-nameColumn-4))+st.Key.Render(" "+g.Right))
		n = 0 // a mixture on a narrow screen is named on a line of its own
	}
	for i := range n {
		name := fmt.Sprintf("%d %s", from+i+1, g.text(p.tried[from+i].Name()))
		if from+i == p.at {
			head += st.Key.Render(g.Left+" ") + st.Strong.Render(fit(name+" "+g.Right, col-2))
		} else {
			head += "  " + st.Muted.Render(fit(name, col-2))
		}
	}
	lines = append(lines, head)
	for _, r := range rows {
		if len(r.cells) == 1 && r.now == "" && r.cells[0].text == "" && width(r.cells[0].note) >= col {
			lines = append(lines, "  "+st.Muted.Render(fit(r.what, nameColumn-2)+cut(r.cells[0].note, w-nameColumn-1)))
			continue // nothing stands under now, so the words may
		}
		line := "  " + st.Muted.Render(fit(r.what, nameColumn-2)) + fit(r.now, nowColumn)
		under, below := fit("", nameColumn+nowColumn), false
		for _, c := range r.cells {
			text, rest := c.draw(col, st)
			line += text
			under += fit(rest, col)
			below = below || strings.TrimSpace(rest) != ""
		}
		lines = append(lines, line)
		if below {
			lines = append(lines, under)
		}
	}
	return lines
}

// draw returns the cell in exactly col cells, and what has to go under it.
func (c tableCell) draw(col int, st *Styles) (text, under string) {
	style := st.Muted
	if c.bad {
		style = st.Bad
	}
	if c.text == "" {
		return style.Render(fit(cut(c.note, col-1), col)), ""
	}
	text = st.Strong.Render(c.text)
	if c.bad && c.note == "" {
		text = st.Bad.Render(c.text)
	}
	const figure = 9
	gap := max(1, figure-width(c.text)) + 1
	switch {
	case c.note == "":
	case width(c.text)+gap+width(c.note) < col:
		text += repeat(" ", gap) + style.Render(c.note)
	case width(c.text)+1+width(c.note) < col:
		text += " " + style.Render(c.note)
	case c.keep && c.short != "" && width(c.note) >= col:
		under = style.Render(cut(c.short, col-1))
	case c.keep:
		under = style.Render(cut(c.note, col-1))
	}
	return fit(text, col), under
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

// notes are what the yeast could do with the current candidate, its cautions, and
// what the last key had to say.
func (p sweetenPane) notes(w int, say words.Words, st *Styles) []string {
	var lines []string
	c := p.current()
	if p.told != "" {
		style := st.Good.Render
		if p.bad {
			style = st.Bad.Render
		}
		lines = append(lines, indented(wrap(p.opts.Glyphs.text(strings.TrimSpace(p.told)), w-4), style)...)
	}
	if c.err != nil {
		return append(lines, indented(wrap(p.opts.Glyphs.text(words.PlainError(c.err)), w-4), st.Bad.Render)...)
	}
	if t := c.trial; t.Wakes() {
		text := fmt.Sprintf("If the yeast wakes it can use %s of the sugar and would end near %s, %s.",
			say.PerLitre(t.CouldFerment()), say.Gravity(t.Refermented.SG), say.Strength(t.Refermented.Strength, 0))
		lines = append(lines, indented(wrap(text, w-4), st.Warn.Render)...)
	} else if t.Mass > 0 {
		lines = append(lines, "  "+st.Muted.Render(cut("Nothing in it that the yeast could use.", w-2)))
	}
	if !p.asking {
		for _, text := range c.Cautions() {
			lines = append(lines, indented(wrap(p.opts.Glyphs.text(text), w-4), st.Muted.Render)...)
		}
	}
	return append(lines, "  "+st.Muted.Render(cut(p.steps().text(say), w-2)))
}
