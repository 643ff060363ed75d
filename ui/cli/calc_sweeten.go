package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

func (a *app) calcSweetenCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "sweeten",
		Short: "sweeten a dry drink to a gravity, a sugar content or by an amount",
		Long: `Work out what a sweetener does to a drink that is dry: what is dissolved in it
is taken for acids, glycerol and the like and none of it for sugar, so that
--sugar and the sugar in the answer count what is added. For a batch whose
journal is kept, glassrow sweeten knows better.`,
		Example: `  glassrow calc sweeten --volume 4.5L --sg 0.998 --abv 12.5 --with honey --to 1.012
  glassrow calc sweeten --volume 5gal --sg 0.996 --abv 11 --with "white sugar" --sugar 25`,
		Args: takes(0, 0, "no more"),
		RunE: func(cmd *cobra.Command, _ []string) error { return a.calcSweeten(cmd) },
	}
	cmd.Flags().String("volume", "", "`VOLUME` of the drink, as 4.5L or 5gal")
	cmd.Flags().String("sg", "", "its `GRAVITY` now")
	cmd.Flags().String("abv", "", "its strength in `PERCENT` by volume")
	a.aimFlags(cmd)
	return cmd
}

func (a *app) calcSweeten(cmd *cobra.Command) error {
	dry, err := dryLiquid(cmd)
	if err != nil {
		return err
	}
	sw, aim, err := a.aim(cmd)
	if err != nil {
		return err
	}
	mass, err := aim.AmountFor(dry, sw.Ingredient)
	if err != nil {
		return err
	}
	before, err := dry.Figures()
	if err != nil {
		return err
	}
	after, err := dry.Plus(sw.Ingredient.Amount(mass)).Figures()
	if err != nil {
		return err
	}
	say := a.words(model.Settings{})
	return a.answer(cmd, struct {
		Mass number `json:"mass_g"`
		figuresJSON
	}{number(mass), newFiguresJSON(after)},
		append([]string{fmt.Sprintf("%s of %s", say.Mass(mass), sw.Name())},
			lines(trialColumns(before, after, say), defaultWidth)...)...)
}

// dryLiquid is the drink that the flags describe, without sugar.
func dryLiquid(cmd *cobra.Command) (calc.Liquid, error) {
	if err := need(cmd, "volume", "sg", "abv"); err != nil {
		return calc.Liquid{}, err
	}
	volume, err := model.ParseVolume(text(cmd, "volume"))
	if err != nil {
		return calc.Liquid{}, err
	}
	if volume == 0 {
		return calc.Liquid{}, fmt.Errorf("a volume of nothing cannot be sweetened; write 4.5L or 5gal: %w", model.ErrInvalid)
	}
	sg, err := model.ParseGravity(text(cmd, "sg"))
	if err != nil {
		return calc.Liquid{}, under("sg", err)
	}
	abv, err := parseStrength(text(cmd, "abv"))
	if err != nil {
		return calc.Liquid{}, err
	}
	solids, err := calc.NewLiquid(map[calc.Component]calc.Gram{calc.OtherSolids: 1})
	if err != nil {
		return calc.Liquid{}, err
	}
	return calc.LiquidOf(volume, sg, abv, solids)
}
