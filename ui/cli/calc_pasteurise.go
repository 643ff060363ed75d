package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/cells"
)

func (a *app) calcPasteuriseCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "pasteurise",
		Short: "what heat has done to the yeast in a bottle",
		Long: `Add up pasteurisation units (PU), minutes at 60 C that would do the same, over the
steps that the centre of a bottle went through. Steps below 50 C count nothing.`,
		Example: `  glassrow calc pasteurise --step "65C 10min"
  glassrow calc pasteurise --step "60C 5min" --step "65C 8min" --step "60C 5min"`,
		Args: takes(0, 0, "no more"),
		RunE: func(cmd *cobra.Command, _ []string) error { return a.calcPasteurise(cmd) },
	}
	cmd.Flags().StringArray("step", nil, "temperature at the centre and time, as `\"65C 10min\"`; repeat it for each")
	return cmd
}

func (a *app) calcPasteurise(cmd *cobra.Command) error {
	if err := need(cmd, "step"); err != nil {
		return err
	}
	typed, err := cmd.Flags().GetStringArray("step")
	if err != nil {
		return err
	}
	steps := make([]calc.HeatStep, len(typed))
	for i, t := range typed {
		if steps[i].At, steps[i].For, err = model.ParseHeatStep(t); err != nil {
			return under("step", err)
		}
	}
	pu, err := calc.Pasteurisation(steps)
	if err != nil {
		return err
	}
	return a.answer(cmd, struct {
		PU number `json:"pu"`
	}{number(pu)}, append([]string{fmt.Sprintf("%.1f PU: %s", float64(pu), heated(pu)),
		fmt.Sprintf("Cider and sweetened drinks are given %.0f and more; %.0f to %.0f is the careful figure.",
			float64(calc.HeatFloor), float64(calc.HeatCarefulLow), float64(calc.HeatCarefulHigh)),
	}, cells.Wrap("Reckon with the centre of the bottle, not the bath. Heat multiplies pressure: never heat a bottle "+
		"with more gas than you know, or a scratched one; cover your eyes and hands.", defaultWidth)...)...)
}

// heated says what so many units are good for.
func heated(pu calc.PU) string {
	switch {
	case pu >= calc.HeatCarefulHigh:
		return "enough by any figure"
	case pu >= calc.HeatCarefulLow:
		return "enough, and careful"
	case pu >= calc.HeatFloor:
		return "enough by common practice"
	}
	return "not enough for a sweet drink"
}
