package cli

import (
	"fmt"
	"strconv"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/model"
)

func (a *app) benchCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "bench LABEL",
		Short: "print the card for a tasting of small glasses",
		Long: `Print what to pour into each glass of a sweetening trial, and lines to write marks
on. Without --with it is the bench of the vessel that was written down last; with
it, one of those flags. --pour writes it down too: the glasses count as drawn, and
the marks are typed on the dashboard.`,
		Example: `  glassrow bench N5
  glassrow bench N5 --with honey --to "taste 40"
  glassrow bench N5 --with honey --against "white sugar" --glasses 6 --to 1.012 --syrup 500 --blind --pour`,
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
	_ = cmd.RegisterFlagCompletionFunc("with", a.completeSweetener)
	_ = cmd.RegisterFlagCompletionFunc("against", a.completeSweetener)
	return cmd
}

func (a *app) bench(cmd *cobra.Command, label string) error {
	at, err := a.find(label)
	if err != nil {
		return err
	}
	state, err := model.Replay(at.batch, a.Now())
	if err != nil {
		return err
	}
	before, when := state, a.Now()
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
		if _, err := at.store.Append(at.batch.ID, model.Entry{At: when, Recorded: when, Body: b}); err != nil {
			return err
		}
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
