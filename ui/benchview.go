package ui

import (
	"fmt"
	"strings"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// view draws the bench in w by h cells.
func (p benchPane) view(w, h int, say words.Words, st *Styles) []string {
	g := p.opts.Glyphs
	title := rule("Bench "+g.text(p.row.Vessel.Label+"  "+p.batch.Name), w, g, st)
	if p.asCard {
		return padLines(p.card(w, say), w, h)
	}
	lines := []string{title, ""}
	switch p.stage {
	case benchPlanned:
		lines = append(lines, p.fieldLines(w, 10, st)...)
		lines = append(lines, "")
		if p.err == nil {
			lines = append(lines, p.ladder(w, say, st)...)
		} else if p.told == "" {
			lines = append(lines, indented(wrap(g.text(words.PlainError(p.err)), w-4), st.Warn.Render)...)
		}
	case benchPoured:
		lines = append(lines, p.fieldLines(w, 3, st)...)
		lines = append(lines, "")
		if !p.poured.Body.(model.Bench).Blind() {
			lines = append(lines, p.ladder(w, say, st)...)
		} else {
			lines = append(lines, indented(wrap("Which is which is told when the marks are written down. The card has it for who pours.", w-4), st.Muted.Render)...)
		}
	case benchTold:
		lines = append(lines, p.results(w, say, st)...)
	}
	if p.told != "" {
		style := st.Good.Render
		if p.bad {
			style = st.Bad.Render
		}
		told := indented(wrap(g.text(p.told), w-4), style)
		lines = append(lines[:min(len(lines), max(2, h-len(told)-1))], append([]string{""}, told...)...)
	}
	return padLines(lines, w, h)
}

// fieldLines are what is asked, the hint under the one with the cursor.
func (p benchPane) fieldLines(w, names int, st *Styles) []string {
	g := p.opts.Glyphs
	var lines []string
	for i, f := range p.fields {
		if p.stage == benchPlanned && i == benchSyrup && p.fields[benchBy].value() != bySyrup && i != p.at {
			continue
		}
		lines = append(lines, f.line(i == p.at, names, w, g, st))
		if i == p.at && (p.stage == benchPlanned || f.value() == "") {
			lines = append(lines, f.hints(names, w, st)...)
		}
	}
	return lines
}

// ladder is what goes into each glass, and what the vessel takes for the same.
func (p benchPane) ladder(w int, say words.Words, st *Styles) []string {
	b, ok := p.poured.Body.(model.Bench)
	if !ok {
		b, _ = p.bench(1)
	}
	several := len(b.Sweeteners()) > 1
	gravity := 9
	if several && w < 60 {
		gravity = 0 // the names are worth more
	}
	head := "  " + fit("", 3) + fit("dose", 10) + fit("gravity", gravity) + "tastes    " + p.row.Vessel.Label + " takes"
	lines := []string{st.Muted.Render(cut(head, w))}
	for k, g := range p.glasses {
		name := ""
		if several {
			name = p.opts.Glyphs.text(g.Portion.Ingredient.Name)
		}
		line := "  " + st.Key.Render(fit(fmt.Sprint(k+1), 3)) + fit(say.Dose(g), 10) + fit(say.FineGravity(g.After.SG), gravity) +
			fit(fmt.Sprintf("%.1f g/L", float64(g.After.Sweetness)), 10) + fit(say.Mass(g.Vessel), 9) + st.Muted.Render(name)
		lines = append(lines, cut(line, w))
	}
	drawn := fmt.Sprintf("%s is drawn from %s and counts as gone.", say.SmallVolume(b.Drawn()), p.row.Vessel.Label)
	lines = append(append(lines, ""), indented(wrap(p.opts.Glyphs.text(drawn), w-4), st.Muted.Render)...)
	for _, text := range say.Syrup(b) {
		lines = append(lines, indented(wrap(p.opts.Glyphs.text(text), w-4), st.Muted.Render)...)
	}
	return lines
}

// results reveal the order and say what was liked.
func (p benchPane) results(w int, say words.Words, st *Styles) []string {
	b := p.poured.Body.(model.Bench)
	t := p.tasted.Body.(model.Tasting)
	place := make(map[int]string)
	for at, k := range b.Order() {
		place[k] = b.PlaceName(at)
	}
	lines := []string{st.Muted.Render(cut("  "+fit("", 3)+fit("dose", 10)+fit("gravity", 9)+fit("mark", 6)+"what was said", w))}
	for k, g := range p.glasses {
		if k >= len(t.Glasses) {
			break
		}
		mark := "-"
		if t.Glasses[k].Marked {
			mark = fmt.Sprintf("%g", t.Glasses[k].Mark)
		}
		row := "  " + st.Key.Render(fit(place[k], 3)) + fit(say.Dose(g), 10) + fit(say.FineGravity(g.After.SG), 9) + st.Strong.Render(fit(mark, 6))
		name := ""
		if len(b.Sweeteners()) > 1 {
			name = g.Portion.Ingredient.Name
		}
		beside, under := besideOrUnder(p.opts.Glyphs.text(name), p.opts.Glyphs.text(t.Glasses[k].Words), w-width(row))
		lines = append(lines, cut(row+beside, w))
		for _, l := range wrap(under, w-8) {
			lines = append(lines, "     "+l)
		}
	}
	lines = append(lines, "")
	for i, l := range t.Likings(b, p.glasses) {
		style := st.Plain.Render
		if i == 0 {
			style = st.Strong.Render
		}
		lines = append(lines, indented(wrap(p.opts.Glyphs.text(p.liking(l, say)), w-4), style)...)
	}
	return append(append(lines, ""), indented(wrap(p.opts.Glyphs.text("enter takes the winner to the planner, for the whole of "+p.row.Vessel.Label), w-4), st.Muted.Render)...)
}

// besideOrUnder puts a name and what was said in room cells, or what was said under them
// where both do not go in.
func besideOrUnder(name, said string, room int) (beside, under string) {
	both := said
	if name != "" {
		both = strings.TrimSuffix(name+": "+said, ": ")
	}
	if width(both) <= room {
		return both, ""
	}
	return name, said
}

// liking says what the marks for a sweetener come to.
func (p benchPane) liking(l model.Liking, say words.Words) string {
	best := calc.GramPerLitre(l.Preference.Best)
	text := fmt.Sprintf("%s: %.1f of 10 on average. ", l.Ingredient.Name, l.Mean)
	switch {
	case l.Preference.Fitted:
		text += fmt.Sprintf("Liked best where it tastes like %s, give or take %s", say.PerLitre(best), say.PerLitre(calc.GramPerLitre(l.Preference.PlusMinus)))
	case l.Preference.Edge && l.Marks > 1:
		text += fmt.Sprintf("The best glass, %s, stood at the end of the row: a better one may lie beyond", say.PerLitre(best))
	default:
		text += fmt.Sprintf("The best glass tastes like %s; four marks make a curve", say.PerLitre(best))
	}
	if mass, err := l.Ingredient.AmountFor(p.state.Liquid, calc.TargetSweetness(best)); err == nil {
		text += fmt.Sprintf(". %s takes %s for that", p.row.Vessel.Label, say.Mass(mass))
	}
	return text + "."
}

// card is the bench as plain text, to copy to paper.
func (p benchPane) card(w int, say words.Words) []string {
	b, ok := p.poured.Body.(model.Bench)
	at := p.poured.At
	if !ok {
		b, _ = p.bench(1)
		at = p.opts.Now()
	}
	return say.BenchCard(p.row.Vessel.Label, p.batch.Name, b, p.glasses, at.In(p.opts.Now().Location()), w-1)
}

// footKeys are the keys of the stage.
func (p benchPane) footKeys() keyMap {
	if p.stage == benchTold {
		return newBenchToldKeys()
	}
	return p.keys.at(p.stage)
}
