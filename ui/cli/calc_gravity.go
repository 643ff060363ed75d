package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

func (a *app) calcGravityCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "gravity GRAVITY",
		Short: "a gravity on the other scales",
		Long: `Turn a gravity into the other scales and into sugar per litre, taking what is
dissolved for sucrose. Potential strength is the law's, 16.83 g/L for 1 % vol.
Below 1.000 Brix and sugar are apparent ones and negative.`,
		Example: "  glassrow calc gravity 1.048\n  glassrow calc gravity 12Bx --json",
		Args:    takes(1, 1, "a gravity"),
		RunE:    func(cmd *cobra.Command, args []string) error { return a.calcGravity(cmd, args[0]) },
	}
}

type gravityJSON struct {
	SG        number `json:"sg"`
	Brix      number `json:"brix_pct"`
	Plato     number `json:"plato_pct"`
	Sugar     number `json:"sugar_g_l"`
	Density   number `json:"density_kg_m3"`
	Potential number `json:"potential_abv_pct"`
}

func (a *app) calcGravity(cmd *cobra.Command, typed string) error {
	sg, err := model.ParseGravity(typed)
	if err != nil {
		return err
	}
	brix, err := calc.BrixOfSG(sg)
	if err != nil {
		return err
	}
	sugar, err := calc.ExtractOfSG(sg)
	if err != nil {
		return err
	}
	potential, err := calc.PotentialABV(max(0, sugar))
	if err != nil {
		return err
	}
	return a.answer(cmd,
		gravityJSON{number(sg), number(brix), number(brix), number(sugar), number(sg.Density()), number(potential)},
		fmt.Sprintf("%.4f SG", float64(sg)),
		fmt.Sprintf("%.2f °Brix, °Plato", float64(brix)),
		fmt.Sprintf("%.1f g/L of sugar", float64(sugar)),
		fmt.Sprintf("%.2f kg/m³ at 20 °C", float64(sg.Density())),
		fmt.Sprintf("%.1f %% vol potential", float64(potential)))
}
