package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

func (a *app) calcLiquidCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "liquid",
		Short: "gravity from strength and extract, or extract from gravity",
		Long: `Work out the gravity of a drink from its strength and its extract, or the extract
from the gravity. Extract is all that is dissolved besides the alcohol, in grams
of sucrose per litre; not all of it is sugar.`,
		Example: "  glassrow calc liquid --abv 11.5 --extract 22\n  glassrow calc liquid --abv 11.5 --sg 0.9932",
		Args:    takes(0, 0, "no more"),
		RunE:    func(cmd *cobra.Command, _ []string) error { return a.calcLiquid(cmd) },
	}
	cmd.Flags().String("abv", "", "strength in `PERCENT` by volume")
	cmd.Flags().String("extract", "", "extract in `GRAMS` per litre")
	cmd.Flags().String("sg", "", "`GRAVITY`")
	return cmd
}

type liquidJSON struct {
	SG      number `json:"sg"`
	Density number `json:"density_kg_m3"`
	Extract number `json:"extract_g_l"`
}

func (a *app) calcLiquid(cmd *cobra.Command) error {
	if err := need(cmd, "abv"); err != nil {
		return err
	}
	abv, err := parseStrength(text(cmd, "abv"))
	if err != nil {
		return err
	}
	flag, err := oneOf(cmd, "extract", "sg")
	if err != nil {
		return err
	}
	sg, extract, err := drink(abv, flag, text(cmd, flag))
	if err != nil {
		return err
	}
	return a.answer(cmd, liquidJSON{number(sg), number(sg.Density()), number(extract)},
		fmt.Sprintf("%.4f SG, %.2f kg/m³ at 20 °C", float64(sg), float64(sg.Density())),
		fmt.Sprintf("%.1f g/L of extract", float64(extract)))
}

// drink returns gravity and extract, one of which was given.
func drink(abv calc.PercentVol, given, typed string) (calc.SG, calc.GramPerLitre, error) {
	if given == "extract" {
		x, err := parseNumber(typed, "extract", "g/l")
		if err != nil {
			return 0, 0, err
		}
		sg, err := calc.DrinkSG(abv, calc.GramPerLitre(x))
		return sg, calc.GramPerLitre(x), err
	}
	sg, err := model.ParseGravity(typed)
	if err != nil {
		return 0, 0, under(given, err)
	}
	extract, err := calc.DrinkExtract(abv, sg)
	return sg, extract, err
}

// parseStrength understands 12.5 and 12.5%.
func parseStrength(typed string) (calc.PercentVol, error) {
	x, err := parseNumber(typed, "strength", "%")
	return calc.PercentVol(x), err
}
