package cli

import (
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/cells"
	"cellar.local/glassrow/ui/words"
)

func (a *app) stabiliseCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "stabilise LABEL",
		Short: "would it start again, and what stops it; written down with --commit",
		Long: `Judge whether the batch in a vessel keeps its sugar or starts again, and why, and
work out the sulfite and the sorbate that keep it. Nothing is written down without
--commit; then its steps are reminders too, and a --ph that was typed is a reading.

Say what was done instead with --sulfite, --sorbate, --filtered, --heat or --cold.
Sulfite and sorbate do not stop yeast at work: gravity has to stand still first.
With asthma some people react to sulfite: local rules say what belongs on the label.`,
		Example: `  glassrow stabilise N1
  glassrow stabilise N1 --ph 3.4 --commit
  glassrow stabilise N1 --sulfite 1.2g --sorbate 3.8g --at yesterday --commit`,
		Args:              takes(1, 1, "a label"),
		RunE:              func(cmd *cobra.Command, args []string) error { return a.stabilise(cmd, args[0]) },
		ValidArgsFunction: a.completeLabel,
	}
	f := cmd.Flags()
	f.String("ph", "", "`PH` of the drink, where it is not in the journal")
	f.Bool("clear", false, "it is bright, whether it was racked or not")
	f.Bool("cloudy", false, "it is cloudy, though it was racked")
	f.String("sulfite", "", "`MASS` of potassium metabisulfite that went in")
	f.String("sorbate", "", "`MASS` of potassium sorbate that went in")
	f.Bool("filtered", false, "it went through pores that hold yeast back")
	f.String("heat", "", "pasteurisation `UNITS` it was given, as glassrow calc pasteurise says")
	f.Bool("cold", false, "it is kept cold")
	f.Bool("commit", false, "write it down in the journal")
	atFlag(cmd)
	jsonFlag(cmd)
	return cmd
}

// stabilising is a batch looked at for what keeps it, and what is to be done.
type stabilising struct {
	spot
	state  model.State
	have   model.Safeguards
	judged calc.Assessment
	plan   model.StabilisePlan
	rules  []calc.SulfiteLimit
	done   model.Stabilise // to write down
	own    bool            // of the flags, not of the plan
}

func (a *app) stabilise(cmd *cobra.Command, label string) error {
	at, err := a.find(label)
	if err != nil {
		return err
	}
	when, err := model.ParseWhen(text(cmd, "at"), a.Now())
	if err != nil {
		return err
	}
	s, err := a.safeguards(cmd, at, when)
	if err != nil {
		return err
	}
	if s.done, s.own, err = doneOf(cmd); err != nil {
		return err
	}
	if !s.own {
		s.done = s.plan.Entry()
	}
	if on(cmd, "commit") {
		if err := a.commitStabilising(s, when); err != nil {
			return err
		}
	}
	say := a.words(at.settings)
	for _, c := range s.cautions() {
		a.caution(say, c)
	}
	if on(cmd, "json") {
		return a.showJSON(newStabiliseJSON(s, on(cmd, "commit")))
	}
	return a.show(stabiliseText(s, say, on(cmd, "commit")))
}

// safeguards reads the journal for what keeps the batch, and what the flags know better.
func (a *app) safeguards(cmd *cobra.Command, at spot, when time.Time) (stabilising, error) {
	s := stabilising{spot: at}
	var err error
	if s.state, err = model.Replay(at.batch, when); err != nil {
		return s, err
	}
	if s.have, err = at.batch.Safeguards(s.state); err != nil {
		return s, err
	}
	if on(cmd, "clear") && on(cmd, "cloudy") {
		return s, fmt.Errorf("--clear and --cloudy say two things; give one of them")
	}
	s.have.Clear = (s.have.Clear || on(cmd, "clear")) && !on(cmd, "cloudy")
	if cmd.Flags().Changed("ph") {
		if s.have.PH, err = model.ParsePH(text(cmd, "ph")); err != nil {
			return s, under("ph", err)
		}
		s.have.PHRead = time.Time{}
	}
	if s.judged, err = s.have.Assess(s.state, nil, a.Handbook.Sorbate); err != nil {
		return s, err
	}
	if s.plan, err = s.have.Plan(s.state.Figures.Volume, s.state.Strength, a.Handbook.Sorbate); err != nil {
		return s, err
	}
	s.rules = at.batch.Drink.SulfiteLimits(a.Handbook.Limits, s.state.Figures.Sugar)
	var most []calc.MilligramPerLitre
	for _, l := range s.rules {
		most = append(most, l.Total)
	}
	s.plan = s.plan.Within(most...)
	return s, nil
}

// doneOf is what the flags say was done; own is false where they say nothing.
func doneOf(cmd *cobra.Command) (done model.Stabilise, own bool, err error) {
	for _, c := range []struct {
		flag string
		into *calc.Gram
	}{{"sulfite", &done.Sulfite}, {"sorbate", &done.Sorbate}} {
		if !cmd.Flags().Changed(c.flag) {
			continue
		}
		if *c.into, err = model.ParseMass(text(cmd, c.flag)); err != nil {
			return done, true, under(c.flag, err)
		}
	}
	if cmd.Flags().Changed("heat") {
		if done.PU, err = parseNumber(text(cmd, "heat"), "heat", "pu"); err != nil {
			return done, true, err
		}
	}
	done.Filtered, done.Chilled = on(cmd, "filtered"), on(cmd, "cold")
	for _, f := range []string{"sulfite", "sorbate", "heat", "filtered", "cold"} {
		own = own || cmd.Flags().Changed(f)
	}
	if !own {
		return done, false, nil
	}
	return done, true, done.Validate()
}

// commitStabilising writes down what is done, the pH that was typed and, of a plan, what
// comes after it.
func (a *app) commitStabilising(s stabilising, when time.Time) error {
	if s.done == (model.Stabilise{}) {
		if s.plan.TooMuch {
			return fmt.Errorf("nothing to stir in: at this pH it would take more sulfite than the rules allow. Nothing was written down")
		}
		return fmt.Errorf("nothing to add: as much of both as helps is in %s already", s.vessel.Label)
	}
	now := a.Now()
	var entries []model.Entry
	write := func(b model.Body) { entries = append(entries, model.Entry{At: when, Recorded: now, Body: b}) }
	if s.have.PH != 0 && s.have.PHRead.IsZero() { // typed here, and worth keeping
		write(model.Reading{PH: float64(s.have.PH)})
	}
	write(s.done)
	if !s.own {
		for _, r := range s.plan.Steps(when) {
			write(r)
		}
	}
	_, err := s.store.Append(s.batch.ID, entries...)
	return err
}

// cautions are what a person should hear before stirring.
func (s stabilising) cautions() []string {
	var out []string
	if s.done.Sulfite > 0 {
		out = append(out, "with asthma some people react to sulfite, some of them badly: say so on the label, contains sulphites. Weigh it on a fine scale and do not breathe its dust")
	}
	if !s.have.Finished && (s.done.Sulfite > 0 || s.done.Sorbate > 0) {
		out = append(out, "it is not known to have finished; sulfite and sorbate do not stop yeast at work: wait until gravity stands still")
	}
	if s.done.Sorbate > 0 && s.done.Sulfite == 0 && s.have.FreeSO2 == 0 {
		out = append(out, (words.Words{}).StabilityReason(calc.BecauseSorbateAlone))
	}
	return out
}

func stabiliseText(s stabilising, say words.Words, committed bool) string {
	out := []string{say.Text(s.vessel.Label) + ", " + say.Text(s.batch.Name) + ": " + s.judged.Verdict.String()}
	under := func(text string) {
		for _, l := range cells.Wrap(say.Text(text), defaultWidth-2) {
			out = append(out, "  "+l)
		}
	}
	under(say.Stability(s.judged.Verdict))
	under(say.PerLitre(s.have.Left) + " of sugar of kinds that its yeast takes")
	for _, f := range s.judged.Findings {
		if reason := say.StabilityReason(f.Reason); reason != "" {
			under(reason)
		}
	}
	switch {
	case committed:
		out = append(out, "Written down: "+say.Text(say.Entry(s.done, s.label)))
	case s.own:
		out = append(out, "Would be written down with --commit: "+say.Text(say.Entry(s.done, s.label)))
	default:
		ph := fmt.Sprintf("pH %.2f", float64(s.plan.PH))
		if s.plan.Guessed {
			ph = fmt.Sprintf("pH taken to be %.1f: read it, and give it with --ph", float64(s.plan.PH))
		}
		out = append(out, "To make it stable, "+ph)
		for i, step := range say.StabiliseSteps(s.plan, s.have) {
			under(fmt.Sprintf("%d %s", i+1, step))
		}
		under(strings.TrimSpace(say.SulfiteLimits(s.plan, s.rules)))
	}
	return joinLines(out)
}

type stabiliseJSON struct {
	Label       string   `json:"label"`
	Batch       uint64   `json:"batch"`
	Name        string   `json:"name"`
	Verdict     string   `json:"verdict"`
	Because     []string `json:"because"`
	Fermentable number   `json:"sugar_at_risk_g_l"`
	Finished    bool     `json:"finished"`
	Clear       bool     `json:"clear"`
	PH          number   `json:"ph"`
	PHGuessed   bool     `json:"ph_guessed"`
	Free        number   `json:"free_target_mg_l"`
	TooMuch     bool     `json:"over_limits"`
	Sulfite     number   `json:"metabisulfite_g"` // this and the rest: planned, or what the flags said
	Sorbate     number   `json:"sorbate_g"`
	Filtered    bool     `json:"filtered"`
	PU          number   `json:"pu"`
	Chilled     bool     `json:"chilled"`
	Cautions    []string `json:"cautions"`
	Committed   bool     `json:"committed"`
}

func newStabiliseJSON(s stabilising, committed bool) stabiliseJSON {
	out := stabiliseJSON{
		Label: s.vessel.Label, Batch: uint64(s.batch.ID), Name: s.batch.Name, Verdict: s.judged.Verdict.String(), Because: []string{},
		Fermentable: number(s.have.Left), Finished: s.have.Finished, Clear: s.have.Clear,
		PH: number(s.plan.PH), PHGuessed: s.plan.Guessed, Free: number(s.plan.Free), TooMuch: s.plan.TooMuch,
		Sulfite: number(s.done.Sulfite), Sorbate: number(s.done.Sorbate), Filtered: s.done.Filtered, PU: number(s.done.PU), Chilled: s.done.Chilled,
		Cautions: append([]string{}, s.cautions()...), Committed: committed,
	}
	for _, f := range s.judged.Findings {
		out.Because = append(out.Because, string(f.Reason))
	}
	return out
}
