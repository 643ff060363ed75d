package ui

import (
	"fmt"
	"strings"
	"time"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// keepPane says whether a batch will keep its sugar or start again, and why, and
// offers what would stop it. It forbids nothing.
type keepPane struct {
	opts Options
	keys keepKeys

	row   model.Row
	batch model.Batch
	state model.State
	trial *model.Trial // stirred in on trial; nil: as it is

	have   model.Safeguards
	clear  *bool // what the person said, over what the journal tells
	judged calc.Assessment
	plan   model.StabilisePlan
	err    error

	line   textinput.Model // a pH, while it is typed
	typing bool
	told   string
	bad    bool
	ticket ticket
}

func newKeepPane(o Options) keepPane {
	in := textinput.New()
	in.Prompt = ""
	in.CharLimit = 12
	in.Cursor.SetMode(cursor.CursorStatic)
	return keepPane{opts: o, keys: newKeepKeys(), line: in}
}

// open looks at the batch in row, with what is on trial stirred in.
func (p *keepPane) open(row model.Row, b model.Batch, s model.State, t *model.Trial) {
	p.row, p.batch, p.state, p.trial = row, b, s, t
	p.clear, p.typing, p.told, p.ticket = nil, false, "", 0
	p.have, p.err = b.Safeguards(s)
	p.work()
}

// setBatch takes a fresh read.
func (p *keepPane) setBatch(b model.Batch, s model.State, err error) {
	if b.ID != p.batch.ID || err != nil || b.ID == 0 {
		return
	}
	typed := p.have.PH
	if !p.have.PHRead.IsZero() || p.ticket != 0 {
		typed = 0 // it is in the journal
	}
	p.batch, p.state = b, s
	if p.have, p.err = b.Safeguards(s); typed != 0 {
		p.have.PH, p.have.PHRead = typed, time.Time{}
	}
	p.work()
}

// work judges, and works out what is missing.
func (p *keepPane) work() {
	if p.err != nil {
		return
	}
	if p.clear != nil {
		p.have.Clear = *p.clear
	}
	if p.judged, p.err = p.have.Assess(p.state, p.trial, p.opts.Sorbate); p.err != nil {
		return
	}
	f := p.state.Figures
	if p.trial != nil {
		f = p.trial.After
	}
	p.plan, p.err = p.have.Plan(f.Volume, f.Strength, p.opts.Sorbate)
	p.plan = p.plan.Within(p.totals()...)
}

func (p *keepPane) tell(text string, bad bool) { p.told, p.bad = text, bad }

func (p *keepPane) failed(why string) {
	p.ticket = 0
	p.tell(why, true)
}

func (p *keepPane) written() {
	p.ticket = 0
	p.tell("written down; u undoes it", false)
}

// openKeep shows the pane for what the planner has on trial.
func (a *app) openKeep() {
	p := &a.sweeten
	var trial *model.Trial
	if c := p.current(); c != nil && c.err == nil && c.trial.Mass > 0 {
		t := c.trial
		trial = &t
	}
	a.keep.open(p.row, p.batch, p.state, trial)
	a.enter(onKeep)
}

// keepKey answers a key in the pane.
func (a app) keepKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	p := &a.keep
	switch {
	case p.ticket != 0:
		return a, nil
	case p.typing:
		return a.keepLineKey(k)
	case key.Matches(k, p.keys.Leave):
		a.leave()
	case key.Matches(k, p.keys.Help):
		a.help(p.keys)
	case key.Matches(k, p.keys.PH):
		p.typing, p.told = true, ""
		p.line.Reset()
		p.line.Focus()
	case key.Matches(k, p.keys.Clear):
		clear := !p.have.Clear
		p.clear = &clear
		p.told = ""
		p.work()
	case key.Matches(k, p.keys.Undo):
		return a.askUndo()
	case key.Matches(k, p.keys.Accept):
		return a.askStabilise()
	}
	return a, nil
}

// keepLineKey answers a key while the pH is typed.
func (a app) keepLineKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	p := &a.keep
	keys := newTargetKeys()
	switch {
	case key.Matches(k, keys.Cancel):
		p.typing, p.told = false, ""
	case key.Matches(k, keys.Accept):
		ph, err := model.ParsePH(p.line.Value())
		if err != nil {
			p.tell(words.PlainError(err), true)
			return a, nil
		}
		p.have.PH, p.have.PHRead, p.typing, p.err = ph, time.Time{}, false, nil
		p.work()
	default:
		p.line, _ = p.line.Update(k)
		p.told = ""
	}
	return a, nil
}

// askStabilise asks before the sulfite and the sorbate are written down.
func (a app) askStabilise() (tea.Model, tea.Cmd) {
	p := &a.keep
	switch {
	case p.err != nil:
		p.tell(words.PlainError(p.err), true)
		return a, nil
	case p.plan.TooMuch:
		p.tell("nothing to stir in: at this pH it would take more sulfite than the rules allow", true)
		return a, nil
	case !p.plan.Needed():
		p.tell("as much of both as helps is in it already", false)
		return a, nil
	}
	now := a.opts.Now()
	say := a.words()
	body := p.plan.Entry()
	var entries []model.Entry
	if p.have.PH != 0 && p.have.PHRead.IsZero() { // typed here, and worth keeping
		entries = append(entries, model.Entry{At: now, Recorded: now, Body: model.Reading{PH: float64(p.have.PH)}})
	}
	entries = append(entries, model.Entry{At: now, Recorded: now, Body: body},
		model.Entry{At: now, Recorded: now, Body: model.Note{Text: fmt.Sprintf("After the sulfite and sorbate: sweeten from %s on; read on %s and %s, and bottle when both are the same. Label: contains sulphites.",
			now.AddDate(0, 0, 1).Format("2 Jan"), now.AddDate(0, 0, 8).Format("2 Jan"), now.AddDate(0, 0, 15).Format("2 Jan"))}})
	what := stabilisingText(p.plan, say)
	cautions := []string{"With asthma some people react to sulfite, some of them badly: say so on the label, contains sulphites. Weigh it on a fine scale and do not breathe its dust."}
	if !p.have.Finished {
		cautions = append(cautions, "It is not known to have finished. Sulfite and sorbate do not stop yeast at work: wait until gravity stands still.")
	}
	id, label := p.batch.ID, p.row.Vessel.Label
	a.confirm.ask("Stir "+what+" into "+label+"?", cautions, func(a *app) tea.Cmd {
		a.keep.ticket = a.newTicket()
		return appendEntries(a.opts.Store, a.keep.ticket, id, now, label+": stabilised; u undoes it, one entry at a time", entries...)
	})
	a.enter(onConfirm)
	return a, nil
}

func stabilisingText(p model.StabilisePlan, say words.Words) string {
	var parts []string
	if p.Sulfite.Mass > 0 {
		parts = append(parts, say.FineMass(p.Sulfite.Mass)+" of potassium metabisulfite")
	}
	if p.Sorbate.Mass > 0 {
		parts = append(parts, say.FineMass(p.Sorbate.Mass)+" of potassium sorbate")
	}
	return strings.Join(parts, " and ")
}

// verdictText is a verdict in a sentence.
func verdictText(v calc.Stability) string {
	switch v {
	case calc.StabilitySafe:
		return "It should keep: this counts as stable."
	case calc.StabilityLikely:
		return "It will likely keep, one thing short of sure. Keep an eye on it."
	case calc.StabilityRisky:
		return "It may start again: what stands against the yeast is known not to be enough."
	}
	return "It will likely start again: nothing keeps the yeast from this sugar."
}

// reasonText is a reason in a sentence.
var reasonText = map[calc.StabilityReason]string{
	calc.BecauseNoSugar:           "there is too little sugar in it for yeast to matter",
	calc.BecauseFiltered:          "it is filtered so finely that no yeast passed",
	calc.BecauseHeated:            "it was heated well enough to kill yeast",
	calc.BecauseHeatedFloor:       "it was heated, by the least that is said to do",
	calc.BecauseHeatedShort:       "it was heated, but only as a beer is: too little where there is sugar",
	calc.BecauseFortified:         "it is stronger than any yeast bears",
	calc.BecauseAboveLimit:        "it is clearly stronger than this yeast usually bears",
	calc.BecauseNearLimit:         "it is near what this yeast bears, which is no cliff: some go further",
	calc.BecauseLimitUnknown:      "nobody wrote down which yeast is in it, nor what it bears",
	calc.BecauseSulfiteAndSorbate: "sulfite and sorbate are both in it, enough of each, and it is clear",
	calc.BecauseBeyondTable:       "it is too weak or too mild for sorbate to be sure: cold, heat or a filter has to help",
	calc.BecauseSulfiteLow:        "sorbate is in it, but a little less sulfite than a sweet drink wants",
	calc.BecauseSorbateShort:      "there is less sorbate in it than its strength and pH ask for",
	calc.BecauseCloudy:            "it is cloudy: too many yeast cells for sorbate to hold",
	calc.BecauseSorbateAlone:      "sorbate without sulfite does not hold, and bacteria can make it smell of geraniums",
	calc.BecauseSulfiteAlone:      "sulfite alone does not keep yeast from sugar",
	calc.BecauseStillFermenting:   "it is not known to have finished, and neither sulfite nor sorbate stops yeast at work",
	calc.BecauseCold:              "it is kept cold, which holds as long as the cold does",
}

// view draws the pane in w by h cells.
func (p keepPane) view(w, h int, say words.Words, st *Styles) []string {
	g := p.opts.Glyphs
	lines := []string{rule("Will it start again? "+g.text(p.row.Vessel.Label+"  "+p.batch.Name), w, g, st)}
	with := "as it is"
	if p.trial != nil {
		with = "with " + dosesText(p.trial.Parts, say) + " stirred in"
	}
	lines = append(lines, "  "+st.Muted.Render(cut(g.text(with), w-2)), "")
	paragraph := func(text string, style func(...string) string) {
		lines = append(lines, indented(wrap(g.text(text), w-4), style)...)
	}
	if p.told != "" {
		style := st.Good.Render
		if p.bad {
			style = st.Bad.Render
		}
		paragraph(p.told, style)
	}
	if p.typing {
		in := p.line
		in.Width = max(6, w-10)
		lines = append(lines, "  "+st.Muted.Render("pH    ")+in.View(), "")
	}
	if p.err != nil {
		paragraph(words.PlainError(p.err), st.Bad.Render)
		return padLines(lines, w, h)
	}
	lines = append(lines, p.verdict(w, say, st)...)
	lines = append(lines, p.offer(w, say, st)...)
	return padLines(lines, w, h)
}

// verdict is how it stands and why.
func (p keepPane) verdict(w int, say words.Words, st *Styles) []string {
	g := p.opts.Glyphs
	style := map[calc.Stability]func(...string) string{
		calc.StabilitySafe: st.Good.Render, calc.StabilityLikely: st.Plain.Render, calc.StabilityRisky: st.Warn.Render, calc.StabilityLive: st.Bad.Render,
	}[p.judged.Verdict]
	lines := indented(wrap(strings.ToUpper(p.judged.Verdict.String())+". "+verdictText(p.judged.Verdict), w-4), style)
	sugar, abv := p.have.Left, p.state.Strength
	if p.trial != nil {
		sugar, abv = sugar+max(0, p.trial.After.Fermentable-p.trial.Before.Fermentable), p.trial.After.Strength
	}
	facts := []string{fmt.Sprintf("%s of sugar that its yeast could take", say.PerLitre(sugar))}
	if p.have.Tolerance > 0 {
		facts[0] += fmt.Sprintf("; %s, and this yeast bears about %s", say.Strength(abv, 0), say.Strength(p.have.Tolerance, 0))
	}
	if p.have.Finished {
		facts = append(facts, "gravity has stood still for days")
	} else {
		facts = append(facts, "gravity is not known to have stood still for three days")
	}
	for _, f := range p.judged.Findings {
		if text := reasonText[f.Reason]; text != "" {
			facts = append(facts, text)
		}
	}
	facts = append(facts, map[bool]string{true: "taken to be clear (c: it is cloudy)", false: "taken to be cloudy (c: it is clear)"}[p.have.Clear])
	for _, text := range facts {
		for i, l := range wrap(g.text(text), w-6) {
			mark := "  - "
			if i > 0 {
				mark = "    "
			}
			lines = append(lines, mark+l)
		}
	}
	return append(lines, "")
}

// offer is what would make it stable, in order, with the limits.
func (p keepPane) offer(w int, say words.Words, st *Styles) []string {
	g, plan := p.opts.Glyphs, p.plan
	if p.judged.Verdict == calc.StabilitySafe && !plan.Needed() {
		return indented(wrap(g.text("Nothing more is needed. "+p.limits()), w-4), st.Muted.Render)
	}
	ph := fmt.Sprintf("pH %.2f", float64(plan.PH))
	switch {
	case plan.Guessed:
		ph = fmt.Sprintf("pH taken to be %.1f: read it, p types it", float64(plan.PH))
	case !p.have.PHRead.IsZero():
		ph += " of " + p.have.PHRead.Format("2 Jan")
	}
	lines := []string{"  " + st.Heading.Render("To make it stable") + st.Muted.Render("  "+cut(ph, max(0, w-22)))}
	steps := []string{"Wait until it is done and clear, then rack it off the yeast."}
	if plan.Sulfite.Mass > 0 {
		if p.have.FreeSO2 > 0 {
			steps = append(steps, fmt.Sprintf("Some of the sulfite has bound: %s of potassium metabisulfite more%s, if a test shows less than %.0f mg/L free SO2.", say.FineMass(plan.Sulfite.Mass), bySolution(plan.Sulfite.Mass, say), float64(plan.Free)))
		} else {
			steps = append(steps, fmt.Sprintf("Sulfite: %s of potassium metabisulfite%s, for %.0f mg/L free SO2. Part of it binds: measure if you can.", say.FineMass(plan.Sulfite.Mass), bySolution(plan.Sulfite.Mass, say), float64(plan.Free)))
		}
	}
	if plan.Sorbate.Mass > 0 {
		steps = append(steps, fmt.Sprintf("With it, never without: %s of potassium sorbate%s, %.0f mg/L.", say.FineMass(plan.Sorbate.Mass), bySolution(plan.Sorbate.Mass, say), float64(plan.Sorbate.Sorbate)))
	}
	switch {
	case plan.TooMuch:
		steps = append(steps, fmt.Sprintf("This pH asks for %.0f mg/L of free SO2, more than the rules allow, so sulfite and sorbate are no way here. Keep it cold, heat it in the bottle, or filter it.", float64(plan.Free)))
	case !plan.Needed():
		steps = append(steps, "Sulfite and sorbate are in it already, as much as helps.")
	}
	for _, c := range plan.Sorbate.Conditions {
		if c == calc.SorbateWithBarrier && !plan.TooMuch {
			steps = append(steps, "At this strength and pH that is not enough alone: keep it cold, heat it in the bottle, or filter it.")
		}
	}
	steps = append(steps, "Sweeten a day later. Bottle when two readings a week apart are the same.")
	for i, text := range steps {
		for k, l := range wrap(g.text(text), w-6) {
			mark := fmt.Sprintf("  %d ", i+1)
			if k > 0 {
				mark = "    "
			}
			lines = append(lines, st.Key.Render(mark)+l)
		}
	}
	return append(lines, indented(wrap(g.text(p.limits()), w-4), st.Muted.Render)...)
}

// bySolution says how much of a tenth solution holds what no kitchen scale can weigh.
func bySolution(m calc.Gram, say words.Words) string {
	if m >= 2 {
		return ""
	}
	const gramsPerLitre = 100
	return fmt.Sprintf(" (%s of 10 g in 100 mL)", say.Millilitres(calc.Litre(float64(m)/gramsPerLitre)))
}

// limits are what the law says of so much, and what belongs on the label.
func (p keepPane) limits() string {
	var limits []string
	for _, l := range p.rules() {
		limit := fmt.Sprintf("%s %.0f", l.Place, float64(l.Total))
		if p.plan.Total > l.Total {
			limit += ", which this is over"
		}
		limits = append(limits, limit)
	}
	text := ""
	switch {
	case p.plan.TooMuch:
		text = fmt.Sprintf("Limits for SO2 in all, in mg/L: %s. ", strings.Join(limits, ", "))
	case len(limits) > 0:
		text = fmt.Sprintf("About %.0f mg/L SO2 added in all; limits %s. ", float64(p.plan.Total), strings.Join(limits, ", "))
	}
	return text + "Label: contains sulphites. Some people, mostly with asthma, react to them."
}

// rules are those that hold for the drink as it would be.
func (p keepPane) rules() []calc.SulfiteLimit {
	sugar := p.state.Figures.Sugar
	if p.trial != nil {
		sugar = p.trial.After.Sugar
	}
	var out []calc.SulfiteLimit
	for _, l := range p.opts.SulfiteLimits {
		if l.For(sugar) && p.suits(l) {
			out = append(out, l)
		}
	}
	return out
}

// totals are the most that each rule allows.
func (p keepPane) totals() []calc.MilligramPerLitre {
	var out []calc.MilligramPerLitre
	for _, l := range p.rules() {
		out = append(out, l.Total)
	}
	return out
}

// suits reports whether a rule is for this kind of drink.
func (p keepPane) suits(l calc.SulfiteLimit) bool {
	switch p.batch.Drink {
	case model.Beer:
		return l.ID == "eu_beer"
	case model.Mead, model.Cider, model.Perry:
		return l.ID == "eu_cider_mead" || l.ID == "us_wine"
	}
	return strings.HasPrefix(l.ID, "eu_white") || l.ID == "us_wine"
}
