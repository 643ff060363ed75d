package ui

import (
	"fmt"
	"strings"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// mustBesideFrom is the width from which the figures stand beside the ingredients
// instead of under them; an ingredient's line has no use for more than mustListMost.
const (
	mustBesideFrom = 76
	mustListMost   = 60
	mustListLeast  = 37
)

// view draws the builder in w by h cells.
func (p mustPane) view(w, h int, say words.Words, st *Styles) []string {
	lines := []string{rule(p.opts.Glyphs.text(p.title()), w, p.opts.Glyphs, st)}
	if p.typing != mustTypesNothing {
		lines = append(lines, p.lineView(w, say, st)...)
	}
	if p.told != "" {
		style := st.Good.Render
		if p.bad {
			style = st.Bad.Render
		}
		lines = append(lines, indented(wrap(p.opts.Glyphs.text(p.told), w-4), style)...)
	}
	room := h - len(lines)
	if p.typing == mustTypesStuff {
		return padLines(append(lines, p.foundView(w, room, st)...), w, h)
	}
	if w >= mustBesideFrom {
		left := min(mustListMost, max(mustListLeast, w*2/5))
		list := p.list(left, room, say, st)
		list = append(list, p.warnings(left, room-len(list), say, st)...)
		return padLines(append(lines, beside(padLines(list, left, room), p.figuresView(w-left-gutter, room, false, say, st), repeat(" ", gutter))...), w, h)
	}
	list := p.list(w, room/2, say, st)
	warnings := p.warnings(w, h, say, st)
	figures := p.figuresView(w, h, true, say, st)
	left := h - len(lines) - len(list) - len(warnings)
	if len(figures) > left && len(p.recipe.Items) > 0 { // the steps can be found out
		list, left = list[:len(list)-1], left+1
	}
	if len(figures) > left { // cautions before what tells least
		figures = p.figuresView(w, max(7, left), true, say, st)
	}
	lines = append(lines, list...)
	return padLines(append(append(lines, figures...), warnings...), w, h)
}

// title says what is built, and for which vessel.
func (p mustPane) title() string {
	title := "Must"
	if p.recipe.Name != "" {
		title += " " + p.recipe.Name
	}
	title += ", " + string(p.recipe.Drink)
	if p.row.Vessel.ID == 0 {
		return title
	}
	title += " for " + p.row.Vessel.Label
	if !p.row.Empty() {
		title += " (taken)"
	}
	return title
}

// lineView is what is being typed, with what it may be.
func (p mustPane) lineView(w int, say words.Words, st *Styles) []string {
	name, hint := "", ""
	switch p.typing {
	case mustTypesStuff:
		name, hint = "put in", "letters of what to look for"
	case mustTypesWish:
		name, hint = p.rowName(p.at), wishHint
		if it, ok := p.item(); ok && it.Stuff.IsAcid() {
			hint = acidHint
		}
	case mustTypesNutrient:
		name, hint = "nutrient", "12g; or missing, for as much as is missing; and halves, thirds or quarters"
	case mustTypesHolding:
		name, hint = "hold back", "40% in 3 at 1.010: a share, in how many doses, and when the last goes in; 0 for none"
	case mustTypesScale:
		name, hint = "scale to", "a volume, 19L or 5gal"
		if v := p.row.Vessel; v.Capacity > 0 {
			hint += fmt.Sprintf("; empty: what %s has room for, %s", v.Label, say.Volume(model.RoomFor(v)))
		}
	case mustTypesPrice:
		name, hint = "price", "what a kilogram costs; empty: not known"
	case mustTypesName:
		name, hint = "name", "under which to keep the recipe"
	case mustTypesStart:
		name, hint = "name", "of the batch"
	}
	g := p.opts.Glyphs
	name = cut(g.text(name), 12)
	return append([]string{"  " + st.Muted.Render(name) + " " + typedIn(p.line, w-width(name)-4)}, indented(wrap(g.text(hint), w-4), st.Muted.Render)...)
}

// foundView lists what the larder has by the letters typed.
func (p mustPane) foundView(w, h int, st *Styles) []string {
	g := p.opts.Glyphs
	if len(p.found) == 0 {
		return []string{"  " + st.Muted.Render("nothing in the handbook is called that")}
	}
	var lines []string
	first := max(0, min(p.foundAt-h/2, len(p.found)-h))
	for i := first; i < min(first+max(0, h), len(p.found)); i++ {
		s := p.found[i]
		about := s.Sweetener.Form
		switch {
		case s.IsFruit():
			about = s.Fruit.Group + ", " + s.Fruit.Form
		case s.IsNutrient():
			about = "feeds the yeast"
		}
		pointer, name := "  ", st.Plain.Render(fit(g.text(s.Name()), 26))
		if i == p.foundAt {
			pointer, name = st.Key.Render(g.Pointer)+" ", st.Chosen.Render(fit(g.text(s.Name()), 26))
		}
		lines = append(lines, pointer+name+" "+st.Muted.Render(cut(g.text(about), w-30)))
	}
	return lines
}

// What can be typed of an ingredient, and of an acid or a carbonate.
const (
	wishHint = "1.5kg; or as much as makes 1.095 or 12%; or 19L, all topped up with water to that"
	acidHint = "12g; or as much as makes a pH, 3.4 or 3.3-3.5; or an acidity, 6.5g/L as tartaric. By the guess: measure it after"
)

// rowName says the i-th ingredient and what is done to it.
func (p mustPane) rowName(i int) string {
	switch n := len(p.recipe.Items); {
	case i > n:
		return p.recipe.Nutrient.Name
	case i == n:
		return "water"
	}
	it := p.recipe.Items[i]
	name := it.Stuff.Name()
	if it.Stuff.IsFruit() && it.Stuff.Fruit.Fruit.HalfTime > 0 {
		name += map[bool]string{true: ", crushed", false: ", whole"}[it.Crushed]
	}
	return name
}

// rowNote says what an ingredient is solved for, or that it was prepared.
func (p mustPane) rowNote(i int, say words.Words) string {
	if i > len(p.recipe.Items) {
		return nutrientNote(p.recipe.Nutrient)
	}
	aim, prepared := p.recipe.WaterAim, false
	if i < len(p.recipe.Items) {
		aim, prepared = p.recipe.Items[i].Aim, p.recipe.Items[i].Prepared
	}
	switch {
	case aim.PHHigh != 0:
		return aim.Text() // has no room for more
	case aim.Set():
		return "to " + aim.Text()
	case i == len(p.recipe.Items) && p.recipe.Fill > 0:
		return "to " + say.Volume(p.recipe.Fill)
	case prepared:
		return "prepared"
	}
	return ""
}

// list is the ingredients, water last, in at most h lines of w cells.
func (p mustPane) list(w, h int, say words.Words, st *Styles) []string {
	g := p.opts.Glyphs
	const massCells, noteCells = 9, 9
	name := w - 2 - massCells - noteCells - 2
	var lines []string
	n := p.rows()
	h = max(2, h-2)
	first := max(0, min(p.at-h/2, n-h))
	for i := first; i < min(first+h, n); i++ {
		note := p.rowNote(i, say)
		amount := p.rowAmount(i, say)
		if p.err != nil && (strings.HasPrefix(note, "to ") || strings.HasPrefix(note, "pH")) {
			amount = "?" // what it would be is what cannot be worked out
		}
		label := fit(g.text(p.rowName(i)), name)
		pointer := "  "
		if i == p.at {
			pointer, label = st.Key.Render(g.Pointer)+" ", st.Chosen.Render(label)
		}
		lines = append(lines, pointer+label+" "+st.Strong.Render(fitRight(amount, massCells))+" "+st.Muted.Render(fit(note, noteCells)))
	}
	if len(p.recipe.Items) == 0 {
		return append(lines, indented(wrap(p.keys.Add.Help().Key+" puts in honey, sugar, fruit or juice; acid; a nutrient.", w-4), st.Muted.Render)...)
	}
	return append(lines, "  "+st.Muted.Render(cut(p.steps().text(say), w-2)))
}

// rowAmount says how much there is of the i-th; of what a small scale weighs to a tenth
// of a gram.
func (p mustPane) rowAmount(i int, say words.Words) string {
	switch n := len(p.recipe.Items); {
	case i > n:
		return say.FineMass(p.recipe.Nutrient.Mass)
	case i == n:
		return say.Mass(p.recipe.Water)
	}
	if it := p.recipe.Items[i]; it.Stuff.IsAcid() && it.Mass > 0 {
		return say.FineMass(it.Mass)
	}
	return say.Mass(p.recipe.Items[i].Mass)
}

// nutrientNote says how a nutrient is shared out, or that its amount follows what is
// missing.
func nutrientNote(n model.RecipeNutrient) string {
	if n.Missing {
		return "missing"
	}
	return string(n.Split)
}

// tightText is said of a vessel that is filled too far for what a must does in it.
const tightText = "Little room: a young must foams and lifts its fruit. Common practice leaves a sixth of the vessel free; use a larger one, or have a blow-off tube."

// warnings are what to think of before it is made, each once.
func (p mustPane) warnings(w, h int, say words.Words, st *Styles) []string {
	g := p.opts.Glyphs
	var lines []string
	add := func(text string, style func(...string) string) {
		lines = append(lines, indented(wrap(g.text(text), w-4), style)...)
	}
	if p.err != nil {
		return nil // told in place of the figures
	}
	f := p.figures
	it, _ := p.item()
	advice := p.recipe.AcidAdvice(f)
	if it.Stuff.IsAcid() { // what is being moved comes first, and in full
		for _, text := range advice {
			add(text, st.Warn.Render)
		}
	}
	if p.recipe.TooMuchNutrient(f) {
		add(say.TooMuchNutrient(p.recipe, f), st.Warn.Render)
	}
	switch f.Fit(p.row.Vessel) {
	case model.TooMuch:
		add(fmt.Sprintf("Does not fit: %s holds %s.", p.row.Vessel.Label, say.Volume(p.row.Vessel.Capacity)), st.Bad.Render)
	case model.Tight:
		add(tightText, st.Warn.Render)
	}
	for _, c := range p.recipe.Cautions() {
		add(c, st.Warn.Render)
	}
	if f.Sour() || f.Flat() {
		about := fmt.Sprintf("pH %.1f to %.1f by the fruit: measure it. Below", f.PH.Low, f.PH.High)
		if f.Soured != nil {
			about = "At a pH below" // the rest stands in the figures and the advice
		}
		add(about+" about 3.2 yeast slows, above 3.8 a drink spoils easily (common practice).", st.Warn.Render)
	}
	if n := len(advice); n > 0 && !it.Stuff.IsAcid() {
		add(advice[n-1], st.Warn.Render)
	}
	if err := f.FeedsErr(); err != nil {
		add(words.PlainError(err), st.Warn.Render)
	}
	if f.Whole.Starch >= 10 {
		add(say.Mass(f.Whole.Starch)+" of starch, which is no sugar to yeast as it is.", st.Warn.Render)
	}
	return lines[:max(0, min(len(lines), h))]
}
