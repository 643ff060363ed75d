package cli

import (
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/cells"
	"cellar.local/glassrow/ui/words"
)

// warmDays is how far back a sample's temperature says how warm the drink has been.
const warmDays = 60

func (a *app) primeCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "prime LABEL",
		Short: "sugar for bubbles in bottles, written down with --commit",
		Long: `Work out how much sugar brings the batch in a vessel to a level of carbon dioxide in
closed bottles, the pressure that comes of it with what it holds already, and whether
the bottles bear that. --temp is the warmest it has been since it fermented; without it
the temperatures of its samples say, or 20 C is taken.

Nothing is written down without --commit; glassrow bottle writes the bottling down.`,
		Example: `  glassrow prime N1 --co2 2.4
  glassrow prime N1 --co2 2.4 --with honey --temp 18C --container sparkling_bottle --commit`,
		Args:              takes(1, 1, "a label"),
		RunE:              func(cmd *cobra.Command, args []string) error { return a.prime(cmd, args[0]) },
		ValidArgsFunction: a.completeLabel,
	}
	f := cmd.Flags()
	f.String("co2", "", "`VOLUMES` of carbon dioxide to reach, as 2.4 or 4.7g/L")
	f.String("with", "sucrose", "`NAME` of the sugar, as in the handbook")
	f.String("temp", "", "warmest `TEMPERATURE` since it fermented, as 18C")
	f.String("store", "28C", "warmest `TEMPERATURE` where the bottles will stand")
	f.String("container", "beer_bottle_used", "`NAME` of what it is closed in, as in the handbook")
	f.Bool("commit", false, "write the priming down in the journal")
	atFlag(cmd)
	jsonFlag(cmd)
	_ = cmd.RegisterFlagCompletionFunc("with", a.completeSweetener)
	completeRows(a, cmd, "container", a.Handbook.Containers, containerNames)
	return cmd
}

// priming is a batch with the sugar for its bubbles, on trial.
type priming struct {
	spot
	plan model.FizzPlan
	fizz model.Fizz
	kept calc.Assessment
}

func (a *app) prime(cmd *cobra.Command, label string) error {
	if err := need(cmd, "co2"); err != nil {
		return err
	}
	at, err := a.find(label)
	if err != nil {
		return err
	}
	when, err := model.ParseWhen(text(cmd, "at"), a.Now())
	if err != nil {
		return err
	}
	p, err := a.tryPriming(cmd, at, when)
	if err != nil {
		return err
	}
	if on(cmd, "commit") {
		if p.fizz.Mass <= 0 {
			return fmt.Errorf("%s holds that much gas already; nothing was written down", at.vessel.Label)
		}
		if _, err := at.store.Append(at.batch.ID, model.Entry{At: when, Recorded: a.Now(), Body: p.fizz.Entry(p.plan)}); err != nil {
			return err
		}
	}
	say := a.words(at.settings)
	hazard := say.FizzHazard(p.plan, p.fizz, p.kept)
	if hazard != "" {
		a.caution(say, hazard)
	}
	if on(cmd, "json") {
		return a.showJSON(newPrimingJSON(p, hazard, on(cmd, "commit")))
	}
	return a.show(primingText(p, say, on(cmd, "commit")))
}

func (a *app) tryPriming(cmd *cobra.Command, at spot, when time.Time) (priming, error) {
	p := priming{spot: at, plan: model.FizzPlan{Route: model.ByPriming, Headspace: usualHeadspace}}
	state, err := model.Replay(at.batch, when)
	if err != nil {
		return p, err
	}
	if p.plan.Target, err = model.ParseCarbonation(text(cmd, "co2")); err != nil {
		return p, under("co2", err)
	}
	if p.plan.Warmest, err = warmestOf(cmd, at.batch, when); err != nil {
		return p, err
	}
	if p.plan.Store, err = temperature(cmd, "store"); err != nil {
		return p, err
	}
	if p.plan.With, err = model.NamedSweetener(a.Sweeteners, text(cmd, "with")); err != nil {
		return p, err
	}
	if p.plan.Container, err = pick("container", text(cmd, "container"), a.Handbook.Containers, containerNames); err != nil {
		return p, err
	}
	if p.fizz, err = p.plan.Work(state.Liquid, at.batch.Drink); err != nil {
		return p, err
	}
	have, err := at.batch.Safeguards(state)
	if err != nil {
		return p, err
	}
	p.kept, err = p.plan.Assess(have, state, state.Liquid, p.fizz, a.Handbook.Sorbate)
	return p, err
}

// warmestOf is the warmest that the batch has been: as the flag says, or its samples, or
// a room.
func warmestOf(cmd *cobra.Command, b model.Batch, now time.Time) (calc.Celsius, error) {
	if cmd.Flags().Changed("temp") {
		return temperature(cmd, "temp")
	}
	if t, ok := b.WarmestSince(warmDays, now); ok {
		return t, nil
	}
	return 20, nil
}

func primingText(p priming, say words.Words, committed bool) string {
	verb := "would go into"
	if committed {
		verb = "to prime, written down for"
	}
	head := fmt.Sprintf("%s of %s %s %s, %s", say.Mass(p.fizz.Mass), p.plan.With.Name(), verb, p.vessel.Label, p.batch.Name)
	if p.fizz.Mass <= 0 {
		head = fmt.Sprintf("Nothing to add to %s, %s: it holds that much gas already", p.vessel.Label, p.batch.Name)
	}
	out := []string{say.Text(head)}
	for _, l := range cells.Wrap(say.Text(fmt.Sprintf("%.2f volumes in it at %s, %.2f with the sugar; %s at %s if every gram becomes gas",
		float64(p.fizz.Residual), say.Temperature(p.plan.Warmest), float64(p.fizz.Expected), say.Pressure(p.fizz.Warm.Highest()), say.Temperature(p.plan.Store))), defaultWidth-2) {
		out = append(out, "  "+l)
	}
	return joinLines(out)
}

type primingJSON struct {
	Label     string `json:"label"`
	Batch     uint64 `json:"batch"`
	Name      string `json:"name"`
	With      string `json:"with"`
	Mass      number `json:"mass_g"`
	Residual  number `json:"residual_co2_vol"`
	Target    number `json:"co2_vol"`
	Temp      number `json:"temperature_c"`
	Held      number `json:"fermentable_g_l"`    // in it already
	Warm      number `json:"gauge_bar_with_air"` // where it stands warmest, if every gram becomes gas
	Hazard    string `json:"hazard"`             // empty: nothing is near it
	Committed bool   `json:"committed"`
}

func newPrimingJSON(p priming, hazard string, committed bool) primingJSON {
	return primingJSON{
		Label: p.vessel.Label, Batch: uint64(p.batch.ID), Name: p.batch.Name, With: p.plan.With.Name(), Mass: number(p.fizz.Mass),
		Residual: number(p.fizz.Residual), Target: number(p.plan.Target), Temp: number(p.plan.Warmest), Held: number(p.fizz.Held),
		Warm: number(p.fizz.Warm.Highest()), Hazard: hazard, Committed: committed,
	}
}
