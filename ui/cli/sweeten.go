package cli

import (
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

func (a *app) sweetenCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "sweeten LABEL",
		Short: "work out a sweetening, and write it down with --commit",
		Long: `Work out what a sweetener does to the batch in a vessel: gravity, sugar,
sweetness, strength and volume, before and after. Say how much of it (--amount),
the sugar per litre to reach (--sugar) or what to reach (--to): a gravity, a taste
of so many grams of table sugar in a litre, a band or what the law calls it. With
--and it is a mixture of two, --share of it the first.

Nothing is written down without --commit. --plan takes up a plan that was kept with
glassrow plan keep, or on the dashboard.`,
		Example: `  glassrow sweeten N1 --with honey --to 1.012
  glassrow sweeten N1 --with lactose --amount 300g
  glassrow sweeten N1 --with honey --sugar 25 --commit
  glassrow sweeten N1 --with honey --and erythritol --share 60% --to "taste 30"
  glassrow sweeten N1 --plan "for the wedding" --commit`,
		Args:              takes(1, 1, "a label"),
		RunE:              func(cmd *cobra.Command, args []string) error { return a.sweeten(cmd, args[0]) },
		ValidArgsFunction: a.completeLabel,
	}
	a.candidateFlags(cmd)
	cmd.Flags().String("plan", "", "`NAME` of a plan to take up")
	_ = cmd.RegisterFlagCompletionFunc("plan", func(cmd *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
		if len(args) == 0 { // whose plans?
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		return a.completePlan(cmd, args[:1], begun)
	})
	cmd.Flags().String("candidate", "1", "`NUMBER` of the candidate in the plan")
	cmd.Flags().Bool("commit", false, "write the addition down in the journal")
	atFlag(cmd)
	jsonFlag(cmd)
	return cmd
}

// sweetening is a trial on the batch in a vessel.
type sweetening struct {
	spot
	state    model.State
	trial    model.Trial
	cautions []string
}

func (a *app) sweeten(cmd *cobra.Command, label string) error {
	c, err := a.candidate(cmd)
	if err != nil {
		return err
	}
	at, err := a.find(label)
	if err != nil {
		return err
	}
	if cmd.Flags().Changed("plan") {
		if c, err = a.planned(cmd, at); err != nil {
			return err
		}
	}
	when, err := model.ParseWhen(text(cmd, "at"), a.Now())
	if err != nil {
		return err
	}
	s, err := a.trySweetening(at, c, when)
	if err != nil {
		return err
	}
	if on(cmd, "commit") {
		if err := a.commitSweetening(s, when); err != nil {
			return err
		}
	}
	say := a.words(at.settings)
	for _, c := range s.cautions {
		a.caution(say, c)
	}
	if on(cmd, "json") {
		return a.showJSON(newSweetenJSON(s, on(cmd, "commit")))
	}
	return a.show(sweetenText(s, say, on(cmd, "commit")))
}

func (a *app) trySweetening(at spot, c model.Candidate, when time.Time) (sweetening, error) {
	s := sweetening{spot: at}
	var err error
	if s.state, err = model.Replay(at.batch, when); err != nil {
		return s, err
	}
	if s.trial, err = c.Try(s.state, at.batch.Drink); err != nil {
		return s, err
	}
	s.cautions = a.cautions(s, a.words(at.settings))
	return s, nil
}

// commitSweetening writes the addition down, unless it would run over.
func (a *app) commitSweetening(s sweetening, when time.Time) error {
	say := a.words(s.settings)
	if s.trial.Mass == 0 {
		return fmt.Errorf("nothing to add: %s is where you want it already", s.vessel.Label)
	}
	if s.trial.Overflow(s.vessel) > 0 {
		return fmt.Errorf("%s; add less, or rack some of it first. Nothing was written down", tooMuch(s, say))
	}
	now := a.Now()
	var entries []model.Entry
	for _, body := range s.trial.Entries() {
		entries = append(entries, model.Entry{At: when, Recorded: now, Body: body})
	}
	_, err := s.store.Append(s.batch.ID, entries...)
	return err
}

func tooMuch(s sweetening, say words.Words) string {
	return fmt.Sprintf("with %s of %s it would be %s, and %s holds %s", say.Mass(s.trial.Mass), s.trial.Name(),
		say.FineVolume(s.trial.After.Volume), s.vessel.Label, say.FineVolume(s.vessel.Capacity))
}

// cautions are what a person should hear before stirring.
func (a *app) cautions(s sweetening, say words.Words) []string {
	var out []string
	t := s.trial
	verdict := calc.StabilityLive
	if have, err := s.batch.Safeguards(s.state); err == nil {
		if judged, err := have.Assess(s.state, &t, a.Handbook.Sorbate); err == nil {
			verdict = judged.Verdict
		}
	}
	switch {
	case s.state.Pitched.IsZero() || !t.Wakes():
	case verdict >= calc.StabilityLikely:
		out = append(out, say.Stability(verdict))
	default:
		out = append(out, fmt.Sprintf("living yeast may ferment this, to about %s and %.1f %% vol; stabilise first, and leave it under an airlock until the gravity stays",
			say.Gravity(t.Refermented.SG), float64(t.Refermented.Strength)))
	}
	if t.Overflow(s.vessel) > 0 {
		out = append(out, tooMuch(s, say))
	}
	for _, p := range t.Parts {
		if p.Sweetener.Caution != "" {
			out = append(out, p.Sweetener.Name()+": "+p.Sweetener.Caution)
		}
	}
	return out
}

func sweetenText(s sweetening, say words.Words, committed bool) string {
	t := s.trial
	verb := "would go into"
	if committed {
		verb = "written down for"
	}
	head := fmt.Sprintf("%s %s %s, %s", say.Text(say.Doses(t.Parts)), verb, say.Text(s.vessel.Label), say.Text(s.batch.Name))
	if t.Mass == 0 {
		head = fmt.Sprintf("Nothing to add to %s, %s: it is there already", say.Text(s.vessel.Label), say.Text(s.batch.Name))
	}
	table := trialColumns(t.Before, t.After, say)
	table = append(table, column{title: "", cells: []string{"", "", "", "", "", "of " + say.Volume(s.vessel.Capacity)}})
	out := append([]string{head}, lines(table, defaultWidth)...)
	if cost, known := t.Cost(s.settings.Prices); known {
		out = append(out, fmt.Sprintf("  cost %.2f", cost))
	}
	return joinLines(out)
}

type sweetenJSON struct {
	Label string        `json:"label"`
	Batch uint64        `json:"batch"`
	Name  string        `json:"name"`
	With  string        `json:"with"`
	Mass  number        `json:"mass_g"`
	Parts []portionJSON `json:"parts"` // of a mixture two
	figuresJSON
	Capacity  number      `json:"capacity_l"`
	Before    figuresJSON `json:"before"`
	PlusMinus number      `json:"abv_plus_minus_pct"`
	Cost      *number     `json:"cost"` // null: a price is not known
	Cautions  []string    `json:"cautions"`
	Committed bool        `json:"committed"`
}

func newSweetenJSON(s sweetening, committed bool) sweetenJSON {
	out := sweetenJSON{
		Label: s.vessel.Label, Batch: uint64(s.batch.ID), Name: s.batch.Name, With: s.trial.Name(), Mass: number(s.trial.Mass),
		figuresJSON: newFiguresJSON(s.trial.After), Capacity: number(s.vessel.Capacity), Before: newFiguresJSON(s.trial.Before),
		PlusMinus: number(s.state.PlusMinus), Cautions: append([]string{}, s.cautions...), Committed: committed,
	}
	if cost, known := s.trial.Cost(s.settings.Prices); known {
		c := number(cost)
		out.Cost = &c
	}
	for _, p := range s.trial.Parts {
		out.Parts = append(out.Parts, portionJSON{p.Sweetener.Name(), number(p.Mass)})
	}
	return out
}
