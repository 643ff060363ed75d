package cli

import (
	"fmt"
	"strconv"
	"time"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

func (a *app) benchCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "bench LABEL",
		Short: "print the card for a tasting of small glasses",
		Long: `Print what to pour into each glass of a sweetening trial, and lines to write marks
on. Without --with it is the bench of the vessel that was written down last; with
it, one of those flags. --pour writes it down too: the glasses count as drawn. --mark
writes down what was thought of the glasses of that bench, once for each glass in the
order in which they stand: a mark from 0 to 10, words, or both.`,
		Example: `  glassrow bench N5
  glassrow bench N5 --with honey --to "taste 40"
  glassrow bench N5 --with honey --against "white sugar" --glasses 6 --to 1.012 --syrup 500 --blind --pour
  glassrow bench N5 --mark 4 --mark "8 round" --mark "6 too sweet" --mark 3 --mark ""`,
		Args:              takes(1, 1, "a label"),
		RunE:              func(cmd *cobra.Command, args []string) error { return a.bench(cmd, args[0]) },
		ValidArgsFunction: a.completeLabel,
	}
	cmd.Flags().String("with", "", "`NAME` of the sweetener in the handbook")
	cmd.Flags().String("against", "", "`NAME` of another, in half of the glasses")
	cmd.Flags().String("glass", "50mL", "`VOLUME` of the drink in each")
	cmd.Flags().String("glasses", "5", "how `MANY`")
	cmd.Flags().String("from", "as it is", "`TASTE` of the first, as 1.004, 8g/l or \"taste 10\"")
	cmd.Flags().String("to", "medium", "`TASTE` of the last, as 1.020, 25g/l or \"taste 40\"")
	cmd.Flags().String("syrup", "", "dose by a syrup of so many `GRAMS` in a litre; auto: what suits")
	cmd.Flags().Bool("blind", false, "letters in a shuffled order")
	cmd.Flags().Bool("pour", false, "write it down as poured")
	cmd.Flags().StringArray("mark", nil, "what was thought of a glass, as `\"8 round\"`; once for each, in their places")
	atFlag(cmd)
	jsonFlag(cmd)
	_ = cmd.RegisterFlagCompletionFunc("with", a.completeSweetener)
	_ = cmd.RegisterFlagCompletionFunc("against", a.completeSweetener)
	return cmd
}

func (a *app) bench(cmd *cobra.Command, label string) error {
	at, err := a.find(label)
	if err != nil {
		return err
	}
	now := a.Now()
	when, err := model.ParseWhen(text(cmd, "at"), now)
	if err != nil {
		return err
	}
	if cmd.Flags().Changed("mark") {
		return a.markBench(cmd, at, when)
	}
	state, err := model.Replay(at.batch, when)
	if err != nil {
		return err
	}
	before := state
	var b model.Bench
	if text(cmd, "with") == "" {
		e, _, ok := at.batch.LastBench()
		if !ok {
			return fmt.Errorf("no bench of %s is written down; say with what, as in glassrow bench %s --with honey", at.vessel.Label, at.vessel.Label)
		}
		b, when = e.Body.(model.Bench), e.At
		if before, err = at.batch.Before(e.ID); err != nil {
			return err
		}
	} else if b, err = a.benchOfFlags(cmd, state); err != nil {
		return err
	}
	glasses, err := b.Glasses(before.Liquid, state.Liquid)
	if err != nil {
		return err
	}
	if on(cmd, "pour") {
		if text(cmd, "with") == "" {
			return fmt.Errorf("that bench is written down already; a new one needs --with, as in: %s", example(cmd))
		}
		if at.batch, err = at.store.Append(at.batch.ID, model.Entry{At: when, Recorded: now, Body: b}); err != nil {
			return err
		}
	}
	if on(cmd, "json") {
		return a.showJSON(newBenchJSON(at, b, glasses, on(cmd, "pour")))
	}
	say := a.words(at.settings)
	return a.show(joinLines(say.BenchCard(at.vessel.Label, at.batch.Name, b, glasses, when, min(a.width(), 72))))
}

// benchOfFlags is the bench that the flags describe.
func (a *app) benchOfFlags(cmd *cobra.Command, s model.State) (model.Bench, error) {
	var plan model.BenchPlan
	var err error
	if plan.With, err = model.NamedSweetener(a.Sweeteners, text(cmd, "with")); err != nil {
		return model.Bench{}, err
	}
	if name := text(cmd, "against"); name != "" {
		if plan.Against, err = model.NamedSweetener(a.Sweeteners, name); err != nil {
			return model.Bench{}, err
		}
	}
	if plan.Glass, err = model.ParseVolume(text(cmd, "glass")); err != nil {
		return model.Bench{}, err
	}
	if plan.Glasses, err = strconv.Atoi(text(cmd, "glasses")); err != nil || plan.Glasses < 2 || plan.Glasses > 12 {
		return model.Bench{}, fmt.Errorf("number of glasses %q is not understood; write 2 to 12: %w", text(cmd, "glasses"), model.ErrInvalid)
	}
	if err := plan.ParseEnds(text(cmd, "from"), text(cmd, "to"), s); err != nil {
		return model.Bench{}, err
	}
	switch syrup := text(cmd, "syrup"); syrup {
	case "":
	case "auto":
		err = plan.ParseSyrup("")
	default:
		err = plan.ParseSyrup(syrup)
	}
	if err != nil {
		return model.Bench{}, err
	}
	if on(cmd, "blind") {
		plan.Seed = max(1, uint64(a.Now().UnixNano()))
	}
	return plan.Pour(s.Liquid)
}

// markBench writes down what was thought of the glasses of the last bench.
func (a *app) markBench(cmd *cobra.Command, at spot, when time.Time) error {
	for _, f := range []string{"with", "pour"} {
		if cmd.Flags().Changed(f) {
			return fmt.Errorf("--mark is of the bench that is written down already, and --%s of a new one; pour it first", f)
		}
	}
	e, _, ok := at.batch.LastBench()
	if !ok {
		return fmt.Errorf("no bench of %s is written down; pour one with glassrow bench %s --with honey --pour", at.vessel.Label, at.vessel.Label)
	}
	typed, err := cmd.Flags().GetStringArray("mark")
	if err != nil {
		return err
	}
	b := e.Body.(model.Bench)
	if len(typed) != len(b.Poured) {
		return fmt.Errorf("%s for %s; give --mark once for each in its place, empty for none: %w",
			words.Count(len(typed), "mark", "marks"), words.Count(len(b.Poured), "glass", "glasses"), model.ErrInvalid)
	}
	t, err := model.TastingOf(e.ID, b, typed)
	if err != nil {
		return err
	}
	now := a.Now()
	stored, err := at.store.Append(at.batch.ID, model.Entry{At: when, Recorded: now, Body: t})
	if err != nil {
		return err
	}
	say := a.words(at.settings)
	return a.wrote(cmd, at, stored, at.writtenDown(say.Entry(t, at.label), say, when, now))
}

// benchJSON is a bench for scripts; its glasses are in their places on the table.
type benchJSON struct {
	Label   string            `json:"label"`
	Batch   uint64            `json:"batch"`
	Name    string            `json:"name"`
	Glass   number            `json:"glass_l"`
	Syrup   *number           `json:"syrup_g_l"` // null: weighed dry
	Glasses []placedGlassJSON `json:"glasses"`
	Poured  bool              `json:"poured"` // just written down
}

type placedGlassJSON struct {
	Place  string `json:"place"`
	With   string `json:"with"`
	Dose   number `json:"dose_g"`
	SyrupV number `json:"syrup_ml"`
	SG     number `json:"sg"`
	Taste  number `json:"sweetness_g_l"`
	Vessel number `json:"vessel_mass_g"`
}

func newBenchJSON(at spot, b model.Bench, glasses []model.GlassOf, poured bool) benchJSON {
	out := benchJSON{Label: at.vessel.Label, Batch: uint64(at.batch.ID), Name: at.batch.Name, Glass: number(b.Glass), Syrup: known(b.Syrup), Poured: poured}
	for place, k := range b.Order() {
		g := glasses[k]
		out.Glasses = append(out.Glasses, placedGlassJSON{b.PlaceName(place), g.Portion.Ingredient.Name, number(g.Portion.Mass),
			number(g.Syrup * 1000), number(g.After.SG), number(g.After.Sweetness), number(g.Vessel)})
	}
	return out
}
