package ui

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// fizzPane puts bubbles into a batch, on paper: sweeten first, then prime. It works on
// what the planner has on trial, if anything, so that both are judged together.
type fizzPane struct {
	opts   Options
	keys   fizzKeys
	fields []field
	at     int

	row   model.Row
	batch model.Batch
	state model.State

	sweet  *model.Trial // stirred in first, not written down yet; nil: nothing
	plan   model.FizzPlan
	fizz   model.Fizz
	err    error // why there is nothing to show
	told   string
	bad    bool
	ticket ticket
}

// The fields of the pane, by place.
const (
	fizzRoute = iota
	fizzInto
	fizzBubbles
	fizzWith
	fizzWarmest
	fizzStore
)

// usualHeadspace is the room for gas in a bottle filled as usual, over the drink's
// volume (notes on carbonation, section 5).
const usualHeadspace = 0.04

// warmDays is how far back a sample's temperature says how warm the drink has been.
const warmDays = 60

func newFizzPane(o Options) fizzPane { return fizzPane{opts: o, keys: newFizzKeys()} }

// open shows the batch in row, with what is on trial stirred in first.
func (p *fizzPane) open(row model.Row, b model.Batch, s model.State, sweet *model.Trial) {
	again := p.batch.ID == b.ID && len(p.fields) > 0
	p.row, p.batch, p.state, p.sweet = row, b, s, sweet
	p.told, p.ticket = "", 0
	if !again {
		p.fields = p.blank()
		p.at = focusOn(p.fields, 0)
	}
	p.work()
}

func (p fizzPane) blank() []field {
	boxes := make([]string, len(p.opts.Containers))
	for i, c := range p.opts.Containers {
		boxes[i] = c.Name
	}
	sugars := p.sugars()
	names := make([]string, len(sugars))
	for i, s := range sugars {
		names[i] = s.Name()
	}
	warmest := "20C"
	if t, ok := p.batch.WarmestSince(warmDays, p.opts.Now()); ok {
		warmest = fmt.Sprintf("%.0fC", float64(t))
	}
	fields := []field{
		fizzRoute:   choiceField("by", model.FizzRoutes()),
		fizzInto:    choiceField("into", boxes),
		fizzBubbles: textField("bubbles", "2.4 volumes of gas, or 4.7g/l", "2.4"),
		fizzWith:    choiceField("with", names),
		fizzWarmest: textField("warmest", "it has been since it fermented", warmest),
		fizzStore:   textField("stands", "at most so warm; of a keg, how cold it is kept", warmRoom),
	}
	for i, n := range names {
		if n == "white sugar" {
			fields[fizzWith].choice = i
		}
	}
	return fields
}

// sugars are the sweeteners that yeast turns into gas.
func (p fizzPane) sugars() []model.Sweetener {
	var out []model.Sweetener
	for _, s := range p.opts.Sweeteners {
		if s.Fermentable() {
			out = append(out, s)
		}
	}
	return out
}

// setBatch takes a fresh read.
func (p *fizzPane) setBatch(b model.Batch, s model.State, err error) {
	if b.ID != p.batch.ID || err != nil || len(p.fields) == 0 {
		return
	}
	p.batch, p.state = b, s
	p.work()
}

// liquid is what is to be closed in: the batch with what is stirred in first.
func (p fizzPane) liquid() calc.Liquid {
	if p.sweet != nil {
		return p.sweet.Liquid
	}
	return p.state.Liquid
}

// work works the plan out from the fields.
func (p *fizzPane) work() {
	if len(p.opts.Containers) == 0 || len(p.sugars()) == 0 {
		p.err = fmt.Errorf("no bottles in the handbook: %w", model.ErrInvalid)
		return
	}
	if p.plan, p.err = p.typed(); p.err == nil {
		p.fizz, p.err = p.plan.Work(p.liquid(), p.batch.Drink)
	}
}

func (p fizzPane) typed() (model.FizzPlan, error) {
	f := p.fields
	plan := model.FizzPlan{
		Route:     model.FizzRoutes()[f[fizzRoute].choice],
		Container: p.opts.Containers[f[fizzInto].choice],
		With:      p.sugars()[f[fizzWith].choice],
		Headspace: usualHeadspace,
	}
	var err error
	if plan.Target, err = model.ParseCarbonation(f[fizzBubbles].value()); err != nil {
		return plan, err
	}
	if plan.Warmest, err = model.ParseTemperature(f[fizzWarmest].value()); err != nil {
		return plan, err
	}
	plan.Store, err = model.ParseTemperature(f[fizzStore].value())
	return plan, err
}

func (p *fizzPane) tell(text string, bad bool) { p.told, p.bad = text, bad }

// openFizz shows the pane for the batch in row.
func (a *app) openFizz(row model.Row, b model.Batch, s model.State) {
	var sweet *model.Trial
	if c := a.sweeten.current(); a.focus == onSweeten && c != nil && c.err == nil && c.trial.Mass > 0 {
		t := c.trial
		sweet = &t
	}
	a.fizz.open(row, b, s, sweet)
	a.enter(onFizz)
}

// fizzKey answers a key in the pane.
func (a app) fizzKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	p := &a.fizz
	if len(p.fields) == 0 || p.ticket != 0 {
		return a, nil
	}
	f := &p.fields[p.at]
	switch {
	case key.Matches(k, p.keys.Leave):
		a.leave()
		return a, nil
	case key.Matches(k, p.keys.Next):
		p.at = focusOn(p.fields, p.at+1)
	case key.Matches(k, p.keys.Prev):
		p.at = focusOn(p.fields, p.at-1)
	case key.Matches(k, p.keys.Accept):
		return a.askPrime()
	case f.choices == nil:
		f.input, _ = f.input.Update(k)
	case key.Matches(k, p.keys.Right), k.Type == tea.KeySpace:
		f.choice = (f.choice + 1) % len(f.choices)
	case key.Matches(k, p.keys.Left):
		f.choice = (f.choice - 1 + len(f.choices)) % len(f.choices)
	case k.Type == tea.KeyRunes:
		f.chooseByLetter(k.String())
	}
	if p.at == fizzRoute {
		p.suit()
	}
	p.told = ""
	p.work()
	return a, nil
}

// What a drink stands at: bottles in a warm room, a keg in the cold.
const (
	warmRoom = "28C"
	coldRoom = "4C"
)

// suit brings container and temperature into line with the route, where they are still
// those of another.
func (p *fizzPane) suit() {
	keg := model.FizzRoutes()[p.fields[fizzRoute].choice] == model.ByKeg
	store := &p.fields[fizzStore].input
	switch {
	case keg && store.Value() == warmRoom:
		store.SetValue(coldRoom)
	case !keg && store.Value() == coldRoom:
		store.SetValue(warmRoom)
	}
	isKeg := func(c calc.Container) bool { return strings.HasPrefix(c.Name, "keg") }
	if into := &p.fields[fizzInto]; isKeg(p.opts.Containers[into.choice]) != keg {
		into.choice = max(0, slices.IndexFunc(p.opts.Containers, func(c calc.Container) bool { return isKeg(c) == keg }))
	}
}

// askPrime asks before the priming is written down, with what speaks against it.
func (a app) askPrime() (tea.Model, tea.Cmd) {
	p := &a.fizz
	switch {
	case p.err != nil:
		p.tell(words.PlainError(p.err), true)
		return a, nil
	case p.plan.Route != model.ByPriming:
		p.tell("nothing is stirred in on this way; r in the planner stabilises, f on the shelf fills bottles", false)
		return a, nil
	case p.fizz.Mass <= 0:
		p.tell("it holds that much gas already", false)
		return a, nil
	}
	now := a.opts.Now()
	var entries []model.Entry
	var doses []model.Dose
	if p.sweet != nil {
		doses = append(doses, p.sweet.Parts...)
		for _, body := range p.sweet.Entries() {
			entries = append(entries, model.Entry{At: now, Recorded: now, Body: body})
		}
	}
	entries = append(entries, model.Entry{At: now, Recorded: now, Body: p.fizz.Entry(p.plan)})
	say := a.words()
	what := say.Mass(p.fizz.Mass) + " of " + p.plan.With.Name() + " to prime"
	if len(doses) > 0 {
		what = dosesText(doses, say) + ", then " + what
	}
	said := what + " written down for " + p.row.Vessel.Label + "; u on the shelf undoes it"
	var cautions []string
	if text := p.hazard(say); text != "" {
		cautions = append(cautions, text)
	}
	id := p.batch.ID
	a.confirm.ask("Stir "+what+", into "+p.row.Vessel.Label+"?", cautions, func(a *app) tea.Cmd {
		a.fizz.ticket = a.newTicket()
		return appendEntries(a.opts.Store, a.fizz.ticket, id, now, said, entries...)
	})
	a.enter(onConfirm)
	return a, nil
}

// written goes on from what the batch is now: what was on trial is in it.
func (p *fizzPane) written() {
	p.ticket, p.sweet = 0, nil
	p.tell("written down; bottle it soon, and keep one in plastic to feel how hard it grows", false)
	p.work()
}

func (p *fizzPane) failed(why string) {
	p.ticket = 0
	p.tell(why, true)
}

// hazard says in plain words what can burst; empty when nothing is near it.
func (p fizzPane) hazard(say words.Words) string {
	if p.err != nil {
		return ""
	}
	f, still := p.fizz, p.plan.Container.Still
	box, _, _ := strings.Cut(p.plan.Container.Name, ",")
	most := say.Pressure(f.Warm.Highest())
	switch {
	case p.plan.Route == model.ByKeg && f.Judgement.Verdict == calc.Danger:
		return fmt.Sprintf("DANGER: warm, a %s would be at %s. Keep it cold, or take fewer bubbles, and see that its valve works.", box, most)
	case p.plan.Route == model.ByKeg && still:
		return fmt.Sprintf("DANGER: gas under pressure belongs in a keg with a working valve. A %s bursts.", box)
	case p.plan.Route == model.ByKeg:
		return ""
	case still && f.Judgement.Verdict == calc.Danger:
		return fmt.Sprintf("DANGER: DO NOT CLOSE THIS IN. Living yeast and sugar in a closed %s make up to %s. It was made for no pressure at all: it bursts, and the glass flies. Take bottles made for pressure, or stabilise it and leave it still.", box, most)
	case p.plan.Route == model.ByHeat && f.InBath.Verdict == calc.Danger:
		return fmt.Sprintf("DANGER: in the bath the bottles would be at %s, more than a %s may hold. Hot bottles burst in the hand. Take fewer bubbles or stronger bottles, or go by priming.", say.Pressure(f.Bath.Highest()), box)
	case p.plan.Route == model.ByHeat && f.Judgement.Verdict == calc.Danger:
		return fmt.Sprintf("DANGER if forgotten: unheated, all of the sugar would make %s, and a %s bursts. Open the test bottle every day, heat every bottle the day it is ready, lids on the pot, goggles and gloves on.", most, box)
	case f.Judgement.Verdict == calc.Danger:
		return fmt.Sprintf("DANGER: with %s of sugar in it already it can reach %.1f volumes and %s, more than a %s may hold. It can burst. Let it ferment out, or sweeten with what yeast leaves.",
			say.PerLitre(f.Held), float64(f.Warm.Volumes()), most, box)
	case f.Judgement.Verdict == calc.Caution:
		return fmt.Sprintf("Near what a %s may hold: keep it cool, in a closed crate, and open one now and then.", box)
	}
	return ""
}

// view draws the pane in w by h cells.
func (p fizzPane) view(w, h int, say words.Words, st *Styles) []string {
	g := p.opts.Glyphs
	lines := []string{rule("Fizz "+g.text(p.row.Vessel.Label+"  "+p.batch.Name), w, g, st)}
	first := "as it is, nothing stirred in first"
	if p.sweet != nil {
		first = "first " + dosesText(p.sweet.Parts, say) + ", as on trial"
	}
	lines = append(lines, "  "+st.Muted.Render(cut(g.text(first), w-2)))
	for i, f := range p.fields {
		if !p.asks(i) {
			continue
		}
		pointer := "  "
		if i == p.at {
			pointer = st.Key.Render(g.Pointer) + " "
		}
		line := pointer + st.Muted.Render(fit(f.name, 8)) + " " + f.view(i == p.at, min(w-12, 34), g, st)
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
	return padLines(append(lines, p.advice(w, say, st)...), w, h)
}

// asks reports whether the route has a use for a field.
func (p fizzPane) asks(i int) bool {
	return i != fizzWith || model.FizzRoutes()[p.fields[fizzRoute].choice] == model.ByPriming || i == p.at
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
	lines = append(lines, row("sugar held", say.PerLitre(f.Held), "that yeast could use too", "for yeast"))
	return append(lines,
		row("if all ferments", volumes(f.Warm.Volumes()), say.Pressure(f.Cellar.Highest())+" "+at(p.plan.Warmest), say.Pressure(f.Cellar.Highest())),
		row("at its warmest", say.Pressure(f.Warm.Highest()), at(p.plan.Store)+", air in the neck", at(p.plan.Store)),
		row("the bottle", f.Judgement.Verdict.String(), fmt.Sprintf("%.0f %% of what it may hold", 100*f.Judgement.Share), fmt.Sprintf("%.0f %% of limit", 100*f.Judgement.Share)))
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
	}
	if note := p.plan.Container.Note; note != "" {
		text += " " + note
	}
	return append([]string{""}, indented(wrap(p.opts.Glyphs.text(text), w-4), st.Muted.Render)...)
}
