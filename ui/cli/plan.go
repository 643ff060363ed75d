package cli

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// candidateFlags define a way to sweeten: one sweetener or two, and how much.
func (a *app) candidateFlags(cmd *cobra.Command) {
	a.aimFlags(cmd)
	cmd.Flags().String("and", "", "`NAME` of a second sweetener, mixed in")
	cmd.Flags().String("share", "50%", "`PERCENT` of the first in a mixture, by mass")
	_ = cmd.RegisterFlagCompletionFunc("and", a.completeSweetener)
}

// candidate is the way to sweeten that the flags describe; none where --plan names one.
func (a *app) candidate(cmd *cobra.Command) (model.Candidate, error) {
	if f := cmd.Flags().Lookup("plan"); f != nil && f.Changed {
		for _, other := range []string{"with", "and", "amount", "to", "sugar"} {
			if cmd.Flags().Changed(other) {
				return model.Candidate{}, fmt.Errorf("--plan and --%s say two things; the plan has its own", other)
			}
		}
		return model.Candidate{}, nil
	}
	sw, aim, err := a.aim(cmd)
	if err != nil {
		return model.Candidate{}, err
	}
	c := model.Candidate{First: sw, Aim: aim}
	if !cmd.Flags().Changed("and") {
		return c, nil
	}
	if c.Second, err = model.NamedSweetener(a.Sweeteners, text(cmd, "and")); err != nil {
		return c, err
	}
	if c.Second.ID == c.First.ID {
		return c, fmt.Errorf("--with and --and are both %s; a mixture is of two: %w", c.First.Name(), model.ErrInvalid)
	}
	share, err := parseNumber(text(cmd, "share"), "share", "%")
	if err == nil && !(share > 0 && share < 100) {
		err = fmt.Errorf("share %q is outside 0 to 100 %%: %w", text(cmd, "share"), model.ErrInvalid)
	}
	c.Share = share / 100
	return c, err
}

func (a *app) planCommand() *cobra.Command {
	cmd := parent("plan", "ways to sweeten, kept under a name",
		"Keep ways to sweeten a batch under a name, up to four in a plan, to compare them and take\none up later. A plan is no part of the journal: nothing was done.")
	cmd.Example = "  glassrow plan list N1"
	cmd.AddCommand(a.planListCommand(), a.planKeepCommand(), a.planDropCommand())
	return cmd
}

func (a *app) planListCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "list LABEL", Short: "the plans of a batch, and what each would make of it now", Example: "  glassrow plan list N1",
		Args: takes(1, 1, "a label"), ValidArgsFunction: a.completeLabel,
		RunE: func(cmd *cobra.Command, args []string) error {
			at, plans, err := a.plans(args[0])
			if err != nil {
				return err
			}
			return a.showPlans(cmd, at, plans)
		},
	}
	jsonFlag(cmd)
	return cmd
}

func (a *app) planKeepCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "keep LABEL NAME", Short: "keep a way to sweeten in a plan",
		Long: `Keep a way to sweeten the batch in a vessel in the plan of that name, beside those
that are in it already. A target is met again when the batch changes.`,
		Example: `  glassrow plan keep N1 "for the wedding" --with honey --to off-dry
  glassrow plan keep N1 "for the wedding" --with honey --and erythritol --share 60% --to "taste 30"`,
		Args: takes(2, 2, "a label and a name"), ValidArgsFunction: a.completePlan,
		RunE: func(cmd *cobra.Command, args []string) error {
			c, err := a.candidate(cmd)
			if err != nil {
				return err
			}
			at, plans, err := a.plans(args[0])
			if err != nil {
				return err
			}
			plan := model.Plan{Name: strings.TrimSpace(args[1])}
			if i := indexOfPlan(plans, plan.Name); i >= 0 {
				plan = plans[i]
			}
			plan.Candidates = append(slices.Clone(plan.Candidates), c)
			if len(plan.Candidates) > model.MostCandidates {
				return fmt.Errorf("plan %q has %d candidates already, and more cannot be compared; glassrow plan drop discards it, or take another name", plan.Name, model.MostCandidates)
			}
			if err := plan.Validate(); err != nil {
				return err
			}
			if err := at.store.KeepPlan(at.batch.ID, plan); err != nil {
				return err
			}
			return a.showPlans(cmd, at, []model.Plan{plan})
		},
	}
	a.candidateFlags(cmd)
	jsonFlag(cmd)
	return cmd
}

func (a *app) planDropCommand() *cobra.Command {
	return &cobra.Command{
		Use: "drop LABEL NAME", Short: "discard a plan without trace", Example: `  glassrow plan drop N1 "for the wedding"`,
		Args: takes(2, 2, "a label and a name"), ValidArgsFunction: a.completePlan,
		RunE: func(_ *cobra.Command, args []string) error {
			at, plans, err := a.plans(args[0])
			if err != nil {
				return err
			}
			plan, err := planNamed(at, plans, args[1])
			if err != nil {
				return err
			}
			if err := at.store.DropPlan(at.batch.ID, plan.Name); err != nil {
				return err
			}
			return a.show(a.words(at.settings).Text(plan.Name) + " is discarded.\n")
		},
	}
}

// plans reads the plans of a batch, with what the handbook tells of their sweeteners.
func (a *app) plans(label string) (spot, []model.Plan, error) {
	at, err := a.find(label)
	if err != nil {
		return at, nil, err
	}
	all, err := at.store.Plans(at.batch.ID)
	for i, plan := range all {
		all[i] = plan.Known(a.Sweeteners)
	}
	return at, all, err
}

func indexOfPlan(all []model.Plan, name string) int {
	return slices.IndexFunc(all, func(p model.Plan) bool { return strings.EqualFold(p.Name, strings.TrimSpace(name)) })
}

func planNamed(at spot, all []model.Plan, name string) (model.Plan, error) {
	if i := indexOfPlan(all, name); i >= 0 {
		return all[i], nil
	}
	if len(all) == 0 {
		return model.Plan{}, fmt.Errorf("no plan %q, for none is kept for %s yet; glassrow plan keep makes one", name, at.vessel.Label)
	}
	names := make([]string, len(all))
	for i, p := range all {
		names[i] = p.Name
	}
	return model.Plan{}, fmt.Errorf("no plan %q for %s; there are %s", name, at.vessel.Label, strings.Join(names, ", "))
}

// planned is the candidate of the plan that the flags name.
func (a *app) planned(cmd *cobra.Command, at spot) (model.Candidate, error) {
	_, all, err := a.plans(fmt.Sprintf("#%d", at.batch.ID))
	if err != nil {
		return model.Candidate{}, err
	}
	plan, err := planNamed(at, all, text(cmd, "plan"))
	if err != nil {
		return model.Candidate{}, err
	}
	n, err := strconv.Atoi(text(cmd, "candidate"))
	if err != nil || n < 1 || n > len(plan.Candidates) {
		return model.Candidate{}, fmt.Errorf("no candidate %q in plan %q; it has 1 to %d", text(cmd, "candidate"), plan.Name, len(plan.Candidates))
	}
	return plan.Candidates[n-1], nil
}

type planJSON struct {
	Name       string          `json:"name"`
	Candidates []candidateJSON `json:"candidates"`
}

type candidateJSON struct {
	With    string        `json:"with"`
	Target  string        `json:"target"` // empty: a mass
	Mass    *number       `json:"mass_g"` // this and the figures: null where it cannot be
	Parts   []portionJSON `json:"parts"`
	Figures *figuresJSON  `json:"after"`
	Problem string        `json:"problem,omitempty"`
}

// showPlans tells what each candidate would make of the batch now.
func (a *app) showPlans(cmd *cobra.Command, at spot, plans []model.Plan) error {
	state, err := a.stateNow(at.batch)
	if err != nil {
		return err
	}
	say := a.words(at.settings)
	list := struct {
		Label string     `json:"label"`
		Batch uint64     `json:"batch"`
		Plans []planJSON `json:"plans"`
	}{at.vessel.Label, uint64(at.batch.ID), []planJSON{}}
	var out []string
	for _, plan := range plans {
		told := planJSON{Name: plan.Name}
		out = append(out, say.Text(plan.Name))
		for i, c := range plan.Candidates {
			one := candidateJSON{With: c.Name(), Target: c.Aim.Text}
			trial, err := c.Try(state, at.batch.Drink)
			line := c.Name() + ": "
			if err != nil {
				one.Problem = words.PlainError(err)
				line += one.Problem
			} else {
				one.Mass = figure(trial.Mass)
				f := newFiguresJSON(trial.After)
				one.Figures = &f
				for _, p := range trial.Parts {
					one.Parts = append(one.Parts, portionJSON{p.Sweetener.Name(), number(p.Mass)})
				}
				line = fmt.Sprintf("%s to %s, %s, %s", say.Doses(trial.Parts), say.FineGravity(trial.After.SG),
					say.PerLitre(trial.After.Sugar), say.Strength(trial.After.Strength, 0))
			}
			told.Candidates = append(told.Candidates, one)
			out = append(out, say.Text(fmt.Sprintf("  %d %s", i+1, line)))
		}
		list.Plans = append(list.Plans, told)
	}
	if on(cmd, "json") {
		return a.showJSON(list)
	}
	if len(plans) == 0 {
		return a.show(fmt.Sprintf("No plan is kept for %s; glassrow plan keep makes one.\n", say.Text(at.vessel.Label)))
	}
	return a.show(joinLines(out))
}

// completePlan offers labels, and then the names of the plans.
func (a *app) completePlan(cmd *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
	if len(args) != 1 {
		return a.completeLabel(cmd, args, begun)
	}
	at, all, err := a.plans(args[0])
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	var out []string
	for _, p := range all {
		if hasPrefixFold(p.Name, begun) {
			out = append(out, a.words(at.settings).Text(p.Name))
		}
	}
	return out, cobra.ShellCompDirectiveNoFileComp
}
