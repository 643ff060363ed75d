package sheet

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// writer turns a batch into sections.
type writer struct{ Source }

// date writes a day: 14 Mar 2026.
func (w writer) date(t time.Time) string { return t.In(w.Now.Location()).Format("2 Jan 2006") }

// clock writes the time of day: 18:30.
func (w writer) clock(t time.Time) string { return t.In(w.Now.Location()).Format("15:04") }

// day counts the days since that of the must, 0, by the calendar.
func (w writer) day(t time.Time) string {
	date := func(t time.Time) time.Time {
		y, m, d := t.In(w.Now.Location()).Date()
		return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
	}
	return fmt.Sprint(int(daysSince(date(w.Batch.Started()), date(t))))
}

func daysSince(start, t time.Time) float64 { return t.Sub(start).Hours() / 24 }

// facts are what one looks for first.
func (w writer) facts() []Row {
	s, say := w.State, w.Words
	out := []Row{{"Lot", w.Batch.Lot()}, {"Kind", string(w.Batch.Drink)}}
	if began := w.Batch.Started(); !began.IsZero() {
		out = append(out, Row{"Begun", w.date(began)})
	}
	switch label := w.label(s.Vessel); {
	case label != "":
		out = append(out, Row{"Vessel", fmt.Sprintf("%s, %s", label, say.Volume(s.Figures.Volume))})
	case s.Bottles > 0:
		out = append(out, Row{"Vessel", "none, all of it is bottled"})
	}
	if w.Err != nil {
		return append(out, Row{"Trouble", say.Text(words.PlainError(w.Err))})
	}
	return append(out,
		Row{"Strength", say.Text(say.Strength(s.Strength, s.PlusMinus)) + ", an estimate"},
		Row{"Gravity", say.Gravity(s.Original) + " at first, " + say.Gravity(s.SG()) + " now"},
		Row{"Standing", string(s.Standing)})
}

func (w writer) label(id model.VesselID) string {
	if w.Labels == nil {
		return ""
	}
	return w.Words.Text(w.Labels(id))
}

// foot says what the sheet is, and that it is no label.
func (w writer) foot() []string {
	return []string{
		"Strength is an estimate from the readings and what was written down, with the range in which it likely lies. It was not measured. Where local rules ask for the strength on a label, have it measured by an accredited method.",
		fmt.Sprintf("Written by glassrow on %s at %s from %s.", w.date(w.Now), w.clock(w.Now), words.Count(len(w.Batch.Entries), "entry", "entries")),
	}
}

// ingredients lists what went in, in the order in which it did.
func (w writer) ingredients() Section {
	t := Table{Head: []string{"Date", "Day", "What", "Amount"}, Right: []bool{false, true, false, true}, Words: 2}
	add := func(e model.Entry, what, amount string) {
		t.Rows = append(t.Rows, []string{w.date(e.At), w.day(e.At), w.Words.Text(what), amount})
	}
	for _, e := range w.Batch.Live() {
		if e.At.After(w.Now) {
			break
		}
		switch body := e.Body.(type) {
		case model.Must:
			bare := body
			bare.Ingredients, bare.Fruit = nil, nil
			add(e, w.Words.Entry(bare, w.Labels), w.Words.Volume(body.Volume))
			for _, p := range body.Ingredients {
				add(e, p.Ingredient.Name, w.Words.Mass(p.Mass))
			}
			for _, f := range body.Fruit {
				add(e, w.fruit(f), w.Words.Mass(f.Mass))
			}
		case model.Fruited:
			add(e, w.fruit(body.Portion), w.Words.Mass(body.Portion.Mass))
		case model.Addition:
			what := body.Portion.Ingredient.Name
			if body.Purpose != "" {
				what += ", to " + body.Purpose
			}
			add(e, what, w.Words.Mass(body.Portion.Mass))
		default:
			if goesIn(body) {
				add(e, w.Words.Entry(body, w.Labels), "")
			}
		}
	}
	return Section{Title: "What went in", Table: t}
}

func (w writer) fruit(f calc.FruitPortion) string {
	if f.Crushed {
		return "crushed " + f.Fruit.Name
	}
	return f.Fruit.Name
}

// goesIn reports whether an entry of the kind is part of the recipe. Those that are
// not are things done, said or measured. A split is one: what stands above it went into
// the whole.
func goesIn(b model.Body) bool {
	return slices.Contains([]model.Kind{model.KindPitch, model.KindStabilise, model.KindFruit, model.KindPress, model.KindFine,
		model.KindFeed, model.KindPour, model.KindPart}, b.Kind())
}

// gravity is the curve.
func (w writer) gravity() Section {
	c := newCurve(w.Source)
	if c.empty() {
		return Section{}
	}
	out := Section{Title: "Gravity", Curve: c}
	if o := w.Outlook; o.Known {
		say := w.Words
		out.Text = []string{fmt.Sprintf("Expected to end at %s (four times in five between %s and %s), about %s (%s to %s).",
			say.Gravity(o.Final.Median), say.Gravity(o.Final.Low), say.Gravity(o.Final.High),
			w.date(o.Finish.Median), w.date(o.Finish.Low), w.date(o.Finish.High))}
	}
	return out
}

// figures is what the liquid works out to.
func (w writer) figures() Section {
	if w.Err != nil {
		return Section{}
	}
	s, f, say := w.State, w.State.Figures, w.Words
	t := Table{Head: []string{"Figure", "Value"}, Right: []bool{false, true}}
	add := func(name, value string) { t.Rows = append(t.Rows, []string{name, say.Text(value)}) }
	add("Original gravity", say.FineGravity(s.Original))
	add("Gravity", say.FineGravity(s.SG()))
	add("Strength (estimate)", say.Strength(s.Strength, s.PlusMinus))
	add("Sugar that yeast could eat", say.PerLitre(f.Fermentable)+", "+say.PlusMinus(calc.PercentVol(s.SugarPM)))
	add("All sugar", say.PerLitre(f.Sugar))
	add("Sweetness, as table sugar", say.PerLitre(f.Sweetness)+", "+calc.BandOf(f.Sweetness).String())
	if s.Vessel != 0 {
		add("Volume", say.Volume(f.Volume))
	}
	if k, ok := s.LastWeighing(); ok && w.Tares != nil {
		by := k.With(w.Tares(k.Vessel))
		if by.Volume != 0 && k.Current {
			add("Volume by weight, "+w.date(k.At), say.VolumePlusMinus(by.Volume, by.PlusMinus))
		}
		if by.SG != 0 {
			add("Gravity by weight (estimate), "+w.date(k.At), say.GravityPlusMinus(by.SG, by.SGPlusMinus))
			add("Strength by weight (estimate), "+w.date(k.At), say.Strength(by.Strength, by.StrengthPlusMinus))
		}
	}
	if r, ok := w.lastPH(); ok {
		add("pH, "+w.date(r.At), fmt.Sprintf("%.2f", r.Body.(model.Reading).PH))
	}
	out := Section{Title: "Figures", Table: t}
	if text := s.NaiveMisleads(); text != "" {
		out.Text = []string{say.Text(text) + "."}
	}
	return out
}

// lastPH is the newest live reading with a pH.
func (w writer) lastPH() (last model.Entry, ok bool) {
	for _, e := range w.Batch.Live() {
		if r, is := e.Body.(model.Reading); is && r.PH != 0 && !e.At.After(w.Now) {
			last, ok = e, true
		}
	}
	return last, ok
}

// standing says what the batch does, and why that is said.
func (w writer) standing() Section {
	if w.Err != nil {
		return Section{}
	}
	v := w.State.Verdict
	out := Section{Title: "Standing", Text: []string{w.Words.Text("It is " + string(v.Standing) + ".")}}
	for _, text := range v.Evidence {
		out.Items = append(out.Items, w.Words.Text(text))
	}
	for _, text := range v.RuledOut {
		out.Items = append(out.Items, w.Words.Text("ruled out: "+text))
	}
	for _, c := range v.Causes {
		out.Items = append(out.Items, w.Words.Text("perhaps "+c.What+": "+c.Check))
	}
	if !v.Decides.IsZero() {
		out.Items = append(out.Items, w.Words.Text("a reading on "+w.date(v.Decides)+" decides: "+v.Question))
	}
	return out
}

// bottling lists what was drawn off into bottles, and how many of them are left.
func (w writer) bottling() Section {
	stock := w.Batch.Stock(w.Now)
	t := Table{Head: []string{"Date", "Bottles", "Size", "In all", "Closed with", "Strength then (estimate)", "Left"},
		Right: []bool{false, true, true, true, false, true, true}, Words: 4}
	for _, b := range stock.Bottlings {
		strength := ""
		if b.SG != 0 {
			strength = w.Words.Strength(b.Strength, b.PlusMinus)
		}
		t.Rows = append(t.Rows, []string{w.date(b.At), fmt.Sprint(b.Count), w.Words.SmallVolume(b.Size), w.Words.Volume(b.Size * calc.Litre(b.Count)),
			w.Words.Text(b.Closure), w.Words.Text(strength), fmt.Sprint(b.Left)})
	}
	out := Section{Title: "Bottling", Table: t}
	if len(stock.Openings) > 0 {
		out.Text = []string{fmt.Sprintf("%d of %s left, if the oldest were taken first.", stock.Left, words.Count(stock.Filled, "bottle", "bottles"))}
	}
	return out
}

// tastings lists what was said of it with the glass in hand.
func (w writer) tastings() Section {
	t := Table{Head: []string{"Date", "Day", "Mark", "Tasting"}, Right: []bool{false, true, true, false}, Words: 3}
	for _, e := range w.Batch.Live() {
		if !isTasting(e.Body) || e.At.After(w.Now) {
			continue
		}
		mark, text := "", w.Words.Entry(e.Body, w.Labels)
		if tasted, ok := e.Body.(model.Tasted); ok {
			text = w.Words.Opening(tasted)
			if tasted.Marked {
				mark = words.Mark(tasted.Mark)
			}
		}
		t.Rows = append(t.Rows, []string{w.date(e.At), w.day(e.At), mark, text})
	}
	out := Section{Title: "Tastings", Table: t}
	if best, ok := w.Batch.Stock(w.Now).Best(); ok {
		text := w.Words.Text(w.Words.Best(best, w.Now.Location()))
		out.Text = []string{strings.ToUpper(text[:1]) + text[1:] + "."}
	}
	return out
}

func isTasting(b model.Body) bool {
	return slices.Contains([]model.Kind{model.KindTasting, model.KindTaste}, b.Kind())
}

// cautions are what whoever is handed a glass should know.
func (w writer) cautions() Section {
	out := Section{Title: "Cautions and allergens", Text: []string{
		"By what the journal says went in. Rules on what a label has to declare differ: check your local ones."}}
	for _, c := range w.Batch.Cautions(w.Larder) {
		head := "Caution: "
		if c.Allergen {
			head = "Allergen: "
		}
		out.Items = append(out.Items, w.Words.Text(head+strings.TrimSuffix(c.What, ".")+" ("+c.Why+")."))
	}
	if w.State.Strength > noticeableStrength {
		out.Items = append(out.Items, "Caution: holds alcohol; not for children, nor in pregnancy.")
	}
	if text := w.pressure(); text != "" {
		out.Items = append(out.Items, text)
	}
	return out
}

// noticeableStrength is from where drinks count as alcoholic in most places (from memory).
const noticeableStrength calc.PercentVol = 0.5

// pressure warns of sugar that yeast may yet find.
func (w writer) pressure() string {
	if w.Err != nil {
		return ""
	}
	left, err := w.atRisk()
	if err != nil || left <= 0 {
		return ""
	}
	return fmt.Sprintf("Caution: holds %s that yeast could still eat, and nothing written down keeps it from doing so. In a closed bottle that makes pressure and can burst it: keep bottles cool, in a closed crate, and open one now and then.",
		w.Words.PerLitre(left))
}

// atRisk is the sugar that yeast could find in the vessel or, once all of it is
// bottled, in the bottles.
func (w writer) atRisk() (calc.GramPerLitre, error) {
	if w.State.Vessel != 0 {
		return w.Batch.SugarAtRisk(w.State, w.Sorbate)
	}
	h, err := w.Batch.BottleHazard(w.Batch.Stock(w.Now), w.State, w.Sorbate)
	return h.Sugar, err
}

// diary is the journal, every entry, those struck out too.
func (w writer) diary() Section {
	t := Table{Head: []string{"Date", "Time", "Day", "No.", "Entry"}, Right: []bool{false, false, true, true, false}, Words: 4}
	live := make(map[model.EntryID]bool)
	for _, e := range w.Batch.Live() {
		live[e.ID] = true
	}
	read := make(map[model.EntryID]calc.SG)
	for _, p := range w.State.Curve {
		read[p.Entry] = p.SG
	}
	entries := slices.Clone(w.Batch.Entries)
	slices.SortStableFunc(entries, func(x, y model.Entry) int { return x.At.Compare(y.At) })
	last := ""
	for _, e := range entries {
		date := w.date(e.At)
		if date == last {
			date = ""
		} else {
			last = date
		}
		t.Rows = append(t.Rows, []string{date, w.clock(e.At), w.day(e.At), fmt.Sprint(e.ID), w.entry(e, live[e.ID], read[e.ID])})
	}
	return Section{Title: "Journal", Table: t}
}

// entry says one line of the diary.
func (w writer) entry(e model.Entry, counts bool, sg calc.SG) string {
	text := w.Words.Entry(e.Body, w.Labels)
	if r, ok := e.Body.(model.Reading); ok && r.HasGravity() && sg != 0 {
		text += " " + w.Words.Arrow() + " " + w.Words.FineGravity(sg)
	}
	k, _ := w.State.WeighingOf(e.ID)
	l, _ := w.State.LevelOf(e.ID)
	text += w.Words.Text(w.Words.Heft(k, l, w.Tares, w.Now.Location()))
	if !counts && e.Body.Kind() != model.KindVoid {
		text = "(struck out) " + text
	}
	return text
}
