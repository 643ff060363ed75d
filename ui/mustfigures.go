package ui

import (
	"fmt"
	"slices"
	"strings"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// brevity is what the figures leave out where there is no room for all.
type brevity uint8

const (
	allFigures brevity = iota
	oneYeast           // only the yeast that is meant
	noBar              // nor the bar of the sugars
)

// figuresView is what the recipe comes to, what matters most first, in at most h lines
// of w cells. Where that is too little the yeasts that are not meant go, and then the bar,
// before acid, nitrogen and cost do.
func (p mustPane) figuresView(w, h int, narrow bool, say words.Words, st *Styles) []string {
	if p.err != nil {
		return indented(wrap(p.opts.Glyphs.text(words.PlainError(p.err)), w-4), st.Bad.Render)
	}
	if p.figures.Whole.Volume == 0 || len(p.recipe.Items) == 0 {
		return nil
	}
	lines := p.figureLines(w, narrow, allFigures, say, st)
	for brief := oneYeast; brief <= noBar && len(lines) > h; brief++ {
		lines = p.figureLines(w, narrow, brief, say, st)
	}
	return lines[:max(0, min(len(lines), h))]
}

func (p mustPane) figureLines(w int, narrow bool, brief brevity, say words.Words, st *Styles) []string {
	f := p.figures
	var lines []string
	add := func(what, figure, note string) {
		line, figure := "  "+st.Muted.Render(fit(what, figureName-2)), p.opts.Glyphs.text(figure)
		if note == "" {
			line += st.Strong.Render(figure)
		} else {
			line += st.Strong.Render(fit(figure, max(figureCells, width(figure)))) + " " + st.Muted.Render(p.opts.Glyphs.text(note))
		}
		lines = append(lines, cut(line, w))
	}
	p.gravity(add, say)
	add("volume", say.FineVolume(f.Whole.Volume), p.roomText(say))
	it, _ := p.item()
	onAcid, onNutrient := it.Stuff.IsAcid(), p.onNutrient()
	if onAcid { // what is being moved comes before what there may be no room for
		p.acids(w, add)
	}
	if onNutrient {
		p.nitrogen(add, say)
	}
	add("potential", say.Strength(f.Whole.Potential, 0), "by "+say.PerLitre(calc.SugarPerPercentVol)+" a %")
	sugar := ""
	if f.Whole.LateSugar >= 1 {
		sugar = say.Mass(f.Whole.LateSugar) + " of it late"
	}
	add("sugar", say.PerLitre(f.Whole.Sugar), sugar)
	if brief < noBar {
		lines = append(lines, sugarBar(f.All, f.Whole.Drink, w, p.opts.Glyphs, st)...)
	}
	lines = append(lines, p.yeasts(w, narrow, brief >= oneYeast, say, st)...)
	p.feeding(add, say)
	if !onAcid {
		p.acids(w, add)
	}
	if !onNutrient {
		p.nitrogen(add, say)
	}
	p.cost(add)
	return lines
}

// The columns of names and of figures.
const figureName, figureCells = 12, 9

// gravity is what the hydrometer will say, on the first day and with all in.
func (p mustPane) gravity(add func(what, figure, note string), say words.Words) {
	f := p.figures
	first := "nothing yet floats a hydrometer"
	if f.First.SG != 0 {
		first = say.FineGravity(f.First.SG)
	}
	if f.First.SG != 0 && say.FineGravity(f.First.SG) == say.FineGravity(f.Whole.SGAllOut) {
		add("gravity", first, "")
		return
	}
	add("gravity", say.FineGravity(f.Whole.SGAllOut), "all in, juice out")
	add("first day", first, "")
}

// roomText is the volume against the vessel.
func (p mustPane) roomText(say words.Words) string {
	holds := p.row.Vessel.Capacity
	switch {
	case holds == 0:
		return ""
	case p.figures.Whole.Volume > holds:
		return "of " + say.Volume(holds) + ": too much"
	}
	return fmt.Sprintf("%.0f %% of %s", 100*float64(p.figures.Whole.Volume/holds), say.Volume(holds))
}

// yeasts is what each group of yeast would leave, the weakest first, or only the one that
// is meant: a line each, or on a narrow screen one after the other.
func (p mustPane) yeasts(w int, narrow, one bool, say words.Words, st *Styles) []string {
	title := st.Muted.Render("yeast stands     SG   makes  leaves")
	_, meant := p.figures.Chosen(p.recipe.Yeast)
	one = one && meant // as long as none is, each may be
	var each []string
	if narrow {
		each = append(each, st.Muted.Render("yeast leaves"))
	}
	for _, y := range p.figures.Left {
		if one && y.Yeast != p.recipe.Yeast {
			continue
		}
		stands := fmt.Sprintf("%.4g%%", float64(y.Tolerance))
		text := fmt.Sprintf("%-7s %5s  %s  %s  %s", cut(string(y.Yeast), 7), stands, say.FineGravity(y.Figures.SG), fitRight(say.ShortStrength(y.Figures.Strength), 5), leftText(y, say))
		if narrow {
			text = string(y.Yeast) + " " + say.Gravity(y.Figures.SG) + " " + leftText(y, say)
		}
		if y.Yeast == p.recipe.Yeast && narrow { // first: there may be no room for all
			each = slices.Insert(each, 1, st.Key.Render(p.opts.Glyphs.Pointer)+st.Strong.Render(text))
			continue
		}
		if y.Yeast == p.recipe.Yeast {
			text = st.Key.Render(p.opts.Glyphs.Pointer) + st.Strong.Render(text)
		} else if !narrow {
			text = " " + text
		}
		each = append(each, text)
	}
	if narrow {
		return flow(each, w, "  ")
	}
	for i := range each {
		each[i] = cut(" "+each[i], w)
	}
	return append([]string{"  " + title}, each...)
}

// leftText says how sweet a yeast leaves it.
func leftText(y model.YeastLeft, say words.Words) string {
	if y.Figures.Sugar < 1 {
		return "dry"
	}
	return say.PerLitre(y.Figures.Sugar)
}

// feeding is what is held back and when it goes in.
func (p mustPane) feeding(add func(what, figure, note string), say words.Words) {
	if len(p.figures.Feeds) == 0 {
		return
	}
	marks := make([]string, len(p.figures.Feeds))
	for i, d := range p.figures.Feeds {
		marks[i] = say.Gravity(d.Mark)
	}
	add("feed", say.Doses(p.figures.Feeds[0].Parts), "")
	add("  at", strings.Join(marks, ", "), "")
}

// nitrogen is what the yeast wants against what is there.
func (p mustPane) nitrogen(add func(what, figure, note string), say words.Words) {
	f := p.figures
	want, ok := f.NitrogenWanted(calc.MediumNeed)
	if !ok {
		return
	}
	least, _ := f.NitrogenWanted(calc.LeastNeed)
	high, _ := f.NitrogenWanted(calc.HighNeed)
	add("nitrogen", fmt.Sprintf("%.0f mg/L", float64(want)), fmt.Sprintf("wanted (%.0f to %.0f)", float64(min(least, want)), float64(high)))
	there := "next to none"
	if n := f.Nitrogen; n.High >= 1 {
		there = fmt.Sprintf("%.0f to %.0f mg/L", n.Low, n.High)
	}
	unknown := ""
	if names := f.Nitrogen.Unknown; len(names) > 0 {
		unknown = "not known of " + strings.Join(names, ", ")
		if f.Nitrogen.High < 1 {
			there, unknown = "not known", "of "+strings.Join(names, ", ")
		}
	}
	add("  there", there, unknown)
	if n := p.recipe.Nutrient; n.Set() {
		add("  fed", fmt.Sprintf("%.0f mg/L", float64(p.recipe.NutrientBrings(f))), "in "+string(n.Split))
		add("  at", say.Meals(f.Meals), "")
	}
}

// acids is what the fruit may bring, as a guess.
func (p mustPane) acids(w int, add func(what, figure, note string)) {
	f := p.figures
	if s := f.Soured; s != nil {
		add("pH", fmt.Sprintf("%.1f to %.1f", s.PH.Low, s.PH.High), fmt.Sprintf("guess, about %.1f", float64(s.AboutPH)))
		figure, note := fmt.Sprintf("%.1f to %.1f g/L", s.Acidity.Low, s.Acidity.High), fmt.Sprintf("about %.1f", float64(s.AboutAcidity))
		if as := note + ", as tartaric"; figureName+width(figure)+1+width(as) <= w {
			note = as // the line that asks for one says so too
		}
		add("acidity", figure, note)
		return
	}
	if f.PH.Known() {
		note := "guess by the fruit"
		if f.PH.Share < 0.99 {
			note = fmt.Sprintf("guess by %.0f %% of it", 100*f.PH.Share)
		}
		add("pH", fmt.Sprintf("%.1f to %.1f", f.PH.Low, f.PH.High), note)
	} else {
		add("pH", "not known", "measure it")
	}
	if f.Acid.Known() {
		add("acid", fmt.Sprintf("%.1f to %.1f g/L", f.Acid.Low, f.Acid.High), "from fruit")
	}
}

// cost is what it costs, as far as prices are known.
func (p mustPane) cost(add func(what, figure, note string)) {
	cost, unknown := p.recipe.Cost(p.settings.Prices)
	switch {
	case cost == 0:
	case len(unknown) == 0:
		add("cost", fmt.Sprintf("%.2f", cost), "")
	default:
		add("cost", fmt.Sprintf("%.2f", cost), "and "+strings.Join(unknown, ", "))
	}
}
