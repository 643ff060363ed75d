package ui

import (
	"fmt"
	"strings"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// view draws the handbook in w by h cells. Where there is room the row under the
// cursor stands beside the list.
func (p handbookPane) view(w, h int, say words.Words, st *Styles) []string {
	switch {
	case p.looking:
		return p.lookView(w, h, say, st)
	case w >= besideFrom:
		left := w * 9 / 20
		list := p.listView(left, h, st)
		row := append([]string{""}, p.detail(w-left-gutter, say, st)...)
		return beside(list, padLines(row, w-left-gutter, h), strings.Repeat(" ", gutter))
	}
	return p.listView(w, h, st)
}

// lookView is one row in full, and where it stands in the list.
func (p handbookPane) lookView(w, h int, say words.Words, st *Styles) []string {
	l := p.list()
	lines := []string{rule(fmt.Sprintf("Handbook: %s, %d of %d", p.table, l.cursor+1, len(l.rows)), w, p.opts.Glyphs, st)}
	detail := p.detail(w, say, st)
	from := min(p.scroll, max(0, len(detail)-(h-1)))
	if more := len(detail) - from - (h - 1); more > 0 {
		detail = append(detail[:from+h-2:from+h-2], "  "+st.Muted.Render(fmt.Sprintf("%d more lines below", more+1)))
	}
	return padLines(append(lines, detail[from:]...), w, h)
}

// listView is the list, under what it is searched and sorted by.
func (p handbookPane) listView(w, h int, st *Styles) []string {
	g, l := p.opts.Glyphs, p.list()
	lines := []string{rule(fmt.Sprintf("Handbook: %s, %s", p.table, words.Count(len(l.rows), "row", "rows")), w, g, st), p.searchLine(w, st)}
	for _, t := range wrap(g.text(p.trouble), w-4) {
		lines = append(lines, "  "+st.Bad.Render(t))
	}
	if len(l.rows) == 0 {
		return padLines(append(lines, "", "  "+st.Muted.Render("nothing is called that; esc shows all rows, n adds your own")), w, h)
	}
	cols := handbookColumnsFor(w, p.table)
	lines = append(lines, st.Muted.Render(cols.line("  ", "", handbookCells{"name", "sugar", "yeast", "sweet", "points", "pH", "kind"})))
	room := max(1, h-len(lines))
	from := firstShown(l.cursor, len(l.rows), room)
	for i := from; i < min(len(l.rows), from+room); i++ {
		lines = append(lines, p.rowLine(l.rows[i], i == l.cursor, cols, st))
	}
	return padLines(lines, w, h)
}

// searchLine is the search as it is typed, and the order.
func (p handbookPane) searchLine(w int, st *Styles) string {
	l := p.list()
	left := "  " + st.Muted.Render("/ searches names and kinds")
	switch {
	case p.searching:
		left = "  " + st.Key.Render("/") + typedIn(p.search, w-27)
	case l.words != "":
		left = "  " + st.Key.Render("/") + p.opts.Glyphs.text(l.words)
	}
	return sides(left, st.Muted.Render(orderText(l.order))+" ", w)
}

func orderText(o model.Order) string {
	switch o {
	case model.AsListed:
		return "as listed"
	case model.ByFermentable:
		return "by yeast's share"
	case model.ByPH:
		return "by pH"
	}
	return "by " + string(o)
}

// handbookCells are the cells of a line of the list.
type handbookCells struct{ name, sugar, yeast, sweet, points, ph, kind string }

// handbookColumns are the widths of those columns; 0 leaves one out.
type handbookColumns struct{ name, own, sugar, yeast, sweet, points, ph, kind int }

func handbookColumnsFor(w int, t model.Table) handbookColumns {
	c := handbookColumns{own: 3, sugar: 5, yeast: 5}
	if w >= 58 {
		c.sweet, c.points = 5, 6
	}
	if w >= 76 {
		c.kind = 12
	}
	if w >= 58 && t == model.FruitTable {
		c.ph = 7
	}
	used := 2
	for _, n := range []int{c.own, c.sugar, c.yeast, c.sweet, c.points, c.ph, c.kind} {
		if n > 0 {
			used += n + 1
		}
	}
	c.name = max(8, min(34, w-used))
	return c
}

func (c handbookColumns) line(pointer, own string, cell handbookCells) string {
	var b strings.Builder
	b.WriteString(pointer + fit(cell.name, c.name) + " " + fit(own, c.own))
	for _, col := range []struct {
		text string
		w    int
	}{{cell.sugar, c.sugar}, {cell.yeast, c.yeast}, {cell.sweet, c.sweet}, {cell.points, c.points}, {cell.ph, c.ph}} {
		if col.w > 0 {
			b.WriteString(" " + fitRight(col.text, col.w))
		}
	}
	if c.kind > 0 {
		b.WriteString(" " + fit(cell.kind, c.kind))
	}
	return b.String()
}

func (p handbookPane) rowLine(s model.Stuff, chosen bool, cols handbookColumns, st *Styles) string {
	g := p.opts.Glyphs
	pointer, own, name := "  ", "", g.text(s.Name())
	if chosen {
		pointer, name = st.Key.Render(g.Pointer)+" ", st.Chosen.Render(cut(name, cols.name))
	}
	if s.Origin().Own() {
		own = st.Good.Render("own")
	}
	points := "-"
	if sg, ok := p.worth[s.ID()]; ok {
		points = fmt.Sprintf("%.1f", sg.Points())
	}
	ph := "-"
	if s.IsFruit() && s.Fruit.Fruit.PH.Known() {
		ph = spanText(s.Fruit.Fruit.PH, "%.1f", "-")
	}
	gram := s.Gram()
	return cols.line(pointer, own, handbookCells{
		name: name, sugar: fmt.Sprintf("%.1f", 100*float64(gram.Sugar())), yeast: fmt.Sprintf("%.0f%%", 100*gram.FermentableShare()),
		sweet: sweetText(gram), points: points, ph: ph, kind: g.text(s.Kind()[0]),
	})
}

// sweetText is the sweetness of a gram against one of table sugar.
func sweetText(gram calc.Liquid) string {
	s := float64(gram.Sweetness())
	if s >= 10 {
		return fmt.Sprintf("%.0f", s)
	}
	return fmt.Sprintf("%.2f", s)
}

func spanText(s calc.Span, format, between string) string {
	low := fmt.Sprintf(format, s.Low)
	if s.Low == s.High {
		return low
	}
	return low + between + fmt.Sprintf(format, s.High)
}

// worthText is what the thing is worth to the hydrometer.
func worthText(s model.Stuff, say words.Words) string {
	if s.Intense() {
		return "milligrams of it sweeten, and no hydrometer notices"
	}
	metric, err := s.Gravity(100, 1)
	us, usErr := s.Gravity(calc.GramsPerPound, calc.LitresPerUSGallon)
	if err != nil || usErr != nil {
		return "too dry to be a drink with water alone"
	}
	return fmt.Sprintf("100 g made up to a litre read %s, a pound made up to a US gallon %s", say.FineGravity(metric), say.FineGravity(us))
}

// detail is the row under the cursor in full, in lines of w cells.
func (p handbookPane) detail(w int, say words.Words, st *Styles) []string {
	s, ok := p.chosen()
	if !ok {
		return nil
	}
	g, gram := p.opts.Glyphs, s.Gram()
	lines := []string{"  " + st.Title.Render(cut(g.text(s.Name()), w-4))}
	add := func(label, text string, style func(...string) string) {
		const indent = 13
		for i, l := range wrap(g.text(text), max(8, w-indent-2)) {
			if i > 0 {
				label = ""
			}
			lines = append(lines, "  "+st.Muted.Render(fit(label, indent-2))+style(l))
		}
	}
	add("whose", originText(s), st.Plain.Render)
	add("also", strings.Join(s.Aliases(), ", "), st.Plain.Render)
	add("kind", strings.Join(kindWords(s), ", "), st.Plain.Render)
	add("in 100 g", strings.Join(partsText(s), ", "), st.Plain.Render)
	if !s.Intense() {
		lines = append(lines, sugarBarOf(barKinds(), gram.Scaled(100), 1, w, g, st)...)
	}
	add("yeast", fmt.Sprintf("can use %s, %.0f %% of what dissolves", say.PerHundred(gram.Fermentable()), 100*gram.FermentableShare()), st.Plain.Render)
	add("tastes", "like "+sweetText(gram)+" times its weight of table sugar", st.Plain.Render)
	add("gravity", worthText(s, say), st.Strong.Render)
	if s.IsFruit() {
		for _, f := range fruitFacts(s.Fruit) {
			add(f.label, f.text, st.Plain.Render)
		}
	} else if k := s.Sweetener.KgPerLitre; k > 0 {
		add("weighs", fmt.Sprintf("%.2f kg a litre", k), st.Plain.Render)
	}
	if cup := s.Sweetener.CupGrams; cup > 0 {
		add("a US cup", fmt.Sprintf("%.0f g", cup), st.Plain.Render)
	}
	add("caution", s.Caution(), st.Warn.Render)
	add("notes", s.Notes(), st.Plain.Render)
	add("source", s.Source(), st.Muted.Render)
	return lines
}

func originText(s model.Stuff) string {
	switch s.Origin() {
	case model.OwnRow:
		return "your own row"
	case model.OwnInPlace:
		return "your own figures, in place of the handbook's"
	}
	return "printed in the handbook"
}

func kindWords(s model.Stuff) []string {
	var out []string
	for _, k := range s.Kind() {
		if k != "" {
			out = append(out, k)
		}
	}
	return out
}

// barKinds are the sugars and what sweetens beside them, in the order of uptake.
func barKinds() []calc.Component {
	var out []calc.Component
	for _, c := range calc.Components() {
		if isSugarOfBar(c) {
			out = append(out, c)
		}
	}
	return out
}

func partsText(s model.Stuff) []string {
	var out []string
	for _, c := range calc.Components() {
		if m := s.Gram().Of(c); m > 0 {
			out = append(out, fmt.Sprintf("%.3g g %s", 100*float64(m), c))
		}
	}
	if s.IsFruit() && s.Fruit.Fruit.Pulp > 0 {
		out = append(out, fmt.Sprintf("%.3g g pulp that never dissolves", 100*s.Fruit.Fruit.Pulp))
	}
	return out
}

type fact struct{ label, text string }

// fruitFacts are what is told of fruit alone.
func fruitFacts(f model.Fruit) []fact {
	var out []fact
	add := func(label, format string, args ...any) { out = append(out, fact{label, fmt.Sprintf(format, args...)}) }
	if f.Fruit.Starchy() {
		add("starch", "%.0f g in 100 g: no food for yeast without malt, koji or enzymes", 100*f.Fruit.Starch)
	}
	if f.Fruit.Refuse > 0 {
		add("waste", "%.0f %% of it as bought is stones, cores or peel; the gravity counts that, the parts do not", 100*f.Fruit.Refuse)
	}
	if f.Fruit.HalfTime > 0 {
		add("late sugar", "half of it leaves the whole fruit in %.0f hours, sooner when mashed", f.Fruit.HalfTime.Hours())
	}
	if f.Fruit.PH.Known() {
		add("pH", "%s", spanText(f.Fruit.PH, "%.2f", " to "))
	}
	if f.Fruit.Acid.Known() {
		kind := ""
		if f.MainAcid != "" {
			kind = ", chiefly " + f.MainAcid
		}
		add("acid", "%s g/kg%s", spanText(f.Fruit.Acid, "%.3g", " to "), kind)
	}
	return out
}
