package cli

import (
	"fmt"
	"strconv"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

func (a *app) bottleCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "bottle LABEL",
		Short: "write down a bottling",
		Long: `Write down that a batch was filled into bottles. What they do not hold is taken for
lees, and the vessel is empty; with --rest what is left stays in it.

Living yeast and any sugar it can use make pressure in a closed bottle, up to a
burst. It answers with a caution where the journal says that this can happen.`,
		Example: `  glassrow bottle N1 --count 24 --size 750mL --closure cork
  glassrow bottle N1 --count 6 --size 330mL --rest`,
		Args:              takes(1, 1, "a label"),
		RunE:              func(cmd *cobra.Command, args []string) error { return a.bottle(cmd, args[0]) },
		ValidArgsFunction: a.completeLabel,
	}
	f := cmd.Flags()
	f.String("count", "", "`NUMBER` of bottles")
	f.String("size", "", "`VOLUME` of one, as 750mL")
	f.String("closure", "", "`WORDS` for it: cork, crown cap, swing top")
	completeWords(cmd, "closure", []string{"cork", "crown cap", "swing top"})
	f.Bool("rest", false, "the rest stays in the vessel")
	atFlag(cmd)
	jsonFlag(cmd)
	return cmd
}

func (a *app) bottle(cmd *cobra.Command, label string) error {
	if err := need(cmd, "count", "size"); err != nil {
		return err
	}
	at, err := a.find(label)
	if err != nil {
		return err
	}
	before, err := a.stateNow(at.batch)
	if err != nil {
		return err
	}
	return a.bottled(cmd, label, at, before)
}

// bottled writes the bottling down, and says what it may lead to.
func (a *app) bottled(cmd *cobra.Command, label string, at spot, before model.State) error {
	err := a.happens(cmd, []string{label}, func(cmd *cobra.Command, _ spot, _ []string) (model.Body, error) {
		return bottleOf(cmd)
	})
	if err != nil {
		return err
	}
	say := a.words(at.settings)
	risk, err := at.batch.SugarAtRisk(before, a.Handbook.Sorbate)
	if err != nil {
		risk = before.Figures.Fermentable // not known to keep
	}
	if risk > 0 {
		a.caution(say, burstCaution(risk, before.Strength, at, say))
	}
	return nil
}

// burstCaution says what the sugar in closed bottles can do.
func burstCaution(risk calc.GramPerLitre, abv calc.PercentVol, at spot, say words.Words) string {
	makes := "a burst"
	if bar, err := model.PressureIn(risk, abv); err == nil {
		makes = say.Pressure(bar)
	}
	return fmt.Sprintf("it holds %s of sugar and nothing that keeps its yeast from it; in closed bottles that makes up to %s: they burst, and the glass flies. "+
		"Open them, or glassrow undo %s and stabilise it first", say.PerLitre(risk), makes, at.vessel.Label)
}

func bottleOf(cmd *cobra.Command) (model.Body, error) {
	n, err := strconv.Atoi(text(cmd, "count"))
	if err != nil {
		return nil, fmt.Errorf("number of bottles %q is not understood; write 24: %w", text(cmd, "count"), model.ErrInvalid)
	}
	size, err := model.ParseVolume(text(cmd, "size"))
	return model.Bottle{Count: n, Size: size, Closure: text(cmd, "closure"), Rest: on(cmd, "rest")}, err
}
