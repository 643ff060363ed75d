package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

func (a *app) calcAlcoholCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "alcohol",
		Short: "strength and attenuation from two gravities",
		Long: `Work out strength, real extract and attenuation from the gravity before and after
fermentation, by Balling. It knows nothing of what was added on the way: for that
keep a journal, and glassrow follows the sugar itself.`,
		Example: "  glassrow calc alcohol --og 1.050 --fg 1.010",
		Args:    takes(0, 0, "no more"),
		RunE:    func(cmd *cobra.Command, _ []string) error { return a.calcAlcohol(cmd) },
	}
	cmd.Flags().String("og", "", "`GRAVITY` of the must or wort")
	cmd.Flags().String("fg", "", "`GRAVITY` now")
	return cmd
}

type alcoholJSON struct {
	ABV         number `json:"abv_pct"`
	ABW         number `json:"abw_pct"`
	RealExtract number `json:"real_extract_pct"`
	Apparent    number `json:"apparent_attenuation_pct"`
	Real        number `json:"real_attenuation_pct"`
}

func (a *app) calcAlcohol(cmd *cobra.Command) error {
	if err := need(cmd, "og", "fg"); err != nil {
		return err
	}
	og, err := model.ParseGravity(text(cmd, "og"))
	if err != nil {
		return under("og", err)
	}
	fg, err := model.ParseGravity(text(cmd, "fg"))
	if err != nil {
		return under("fg", err)
	}
	r, err := calc.AlcoholFromGravities(og, fg)
	if err != nil {
		return err
	}
	return a.answer(cmd,
		alcoholJSON{number(r.ABV), number(r.ABW), number(r.RealExtract), number(r.ApparentAttenuationPct), number(r.RealAttenuationPct)},
		fmt.Sprintf("%.2f %% vol, %.2f %% by mass", float64(r.ABV), float64(r.ABW)),
		fmt.Sprintf("%.2f %% real extract", float64(r.RealExtract)),
		fmt.Sprintf("%.1f %% apparent attenuation, %.1f %% real", r.ApparentAttenuationPct, r.RealAttenuationPct))
}
