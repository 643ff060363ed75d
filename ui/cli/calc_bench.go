package cli

import (
	"fmt"
	"math"
	"strconv"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/cells"
	"cellar.local/glassrow/ui/words"
)

func (a *app) calcBenchCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "bench",
		Short: "a row of glasses, each a step sweeter, to taste",
		Long: `Work out the doses for a tasting: glasses of one dry drink, the first as it is, the
last at --upto, and from glass to glass the same step more. Each line also tells what
the whole vessel takes for the same gravity, stirred in as it is.

Grams in a glass are hard to weigh. With --syrup, a syrup of so many grams of the
sweetener to the litre, doses come in millilitres too, and its water is counted.`,
		Example: `  glassrow calc bench --volume 19L --sg 0.998 --abv 12.5 --with honey --glass 50mL --upto 1.020 --glasses 5
  glassrow calc bench --volume 19L --sg 0.998 --abv 12.5 --with honey --glass 50mL --upto 1.020 --glasses 5 --syrup 500`,
		Args: takes(0, 0, "no more"),
		RunE: func(cmd *cobra.Command, _ []string) error { return a.calcBench(cmd) },
	}
	cmd.Flags().String("volume", "", "`VOLUME` of the drink, as 19L or 5gal")
	cmd.Flags().String("sg", "", "its `GRAVITY` now")
	cmd.Flags().String("abv", "", "its strength in `PERCENT` by volume")
	cmd.Flags().String("with", "", "`NAME` of the sweetener, as in the handbook")
	cmd.Flags().String("glass", "", "`VOLUME` of drink in a glass, as 50mL")
	cmd.Flags().String("upto", "", "`GRAVITY` of the sweetest glass")
	cmd.Flags().String("glasses", "5", "how many, the first left as it is")
	cmd.Flags().String("syrup", "", "`GRAMS` of the sweetener in a litre of the syrup you dose with")
	_ = cmd.RegisterFlagCompletionFunc("with", a.completeSweetener)
	return cmd
}

type glassJSON struct {
	Dose   number  `json:"dose_g"`
	Syrup  *number `json:"syrup_ml"` // null: no syrup
	SG     number  `json:"sg"`
	Vessel number  `json:"vessel_mass_g"`
}

func (a *app) calcBench(cmd *cobra.Command) error {
	dry, err := dryLiquid(cmd)
	if err != nil {
		return err
	}
	bench, err := benchOf(cmd)
	if err != nil {
		return err
	}
	sw, err := model.NamedSweetener(a.Sweeteners, text(cmd, "with"))
	if err != nil {
		return err
	}
	ladder, err := sw.Ingredient.Ladder(dry, bench)
	if err != nil {
		return err
	}
	object := struct {
		Glasses []glassJSON `json:"glasses"`
	}{}
	for _, g := range ladder {
		j := glassJSON{Dose: number(g.Dose), SG: number(g.After.SG), Vessel: number(g.Vessel)}
		if bench.Syrup > 0 {
			j.Syrup = figure(millilitres(g.Syrup))
		}
		object.Glasses = append(object.Glasses, j)
	}
	say := a.words(model.Settings{})
	told := append([]string{fmt.Sprintf("%s in glasses of %s", sw.Name(), say.Volume(bench.Glass))},
		lines(benchColumns(ladder, bench.Syrup > 0, say), defaultWidth)...)
	if sw.Fermentable() {
		told = append(told, "Yeast would eat this in the vessel: sweeten only a drink that is stable.")
	}
	if sw.Caution != "" {
		told = append(told, cells.Wrap(sw.Name()+": "+sw.Caution, defaultWidth)...)
	}
	return a.answer(cmd, object, told...)
}

func benchOf(cmd *cobra.Command) (calc.Ladder, error) {
	var b calc.Ladder
	if err := need(cmd, "with", "glass", "upto"); err != nil {
		return b, err
	}
	var err error
	if b.Glass, err = model.ParseVolume(text(cmd, "glass")); err != nil {
		return b, under("glass", err)
	}
	upto, err := model.ParseGravity(text(cmd, "upto"))
	if err != nil {
		return b, under("upto", err)
	}
	b.To = calc.TargetSG(upto)
	if b.Glasses, err = parseCount(text(cmd, "glasses"), "glasses"); err != nil {
		return b, err
	}
	if !cmd.Flags().Changed("syrup") {
		return b, nil
	}
	syrup, err := parseNumber(text(cmd, "syrup"), "syrup", "g/l")
	if err == nil && syrup <= 0 {
		err = fmt.Errorf("--syrup: %q is nothing; leave it out to dose by mass: %w", text(cmd, "syrup"), model.ErrInvalid)
	}
	b.Syrup = calc.GramPerLitre(syrup)
	return b, err
}

// parseCount understands a whole number of things.
func parseCount(typed, what string) (int, error) {
	x, err := parseNumber(typed, what, "")
	if err != nil || x != math.Trunc(x) || math.Abs(x) > 1e6 {
		return 0, fmt.Errorf("%s %q is not understood; write a whole number such as 5: %w", what, typed, model.ErrInvalid)
	}
	return int(x), nil
}

func benchColumns(ladder []calc.Rung, syrup bool, say words.Words) []column {
	glass, sg := column{title: "glass", right: true}, column{title: "gravity", right: true}
	dose, ml := column{title: "dose", right: true}, column{title: "as syrup", right: true}
	vessel := column{title: "for the vessel", right: true}
	for i, g := range ladder {
		glass.cells = append(glass.cells, strconv.Itoa(i+1))
		sg.cells = append(sg.cells, say.FineGravity(g.After.SG))
		dose.cells = append(dose.cells, fmt.Sprintf("%.2f g", float64(g.Dose)))
		ml.cells = append(ml.cells, fmt.Sprintf("%.2f mL", millilitres(g.Syrup)))
		vessel.cells = append(vessel.cells, say.Mass(g.Vessel))
	}
	if !syrup {
		return []column{glass, sg, dose, vessel}
	}
	return []column{glass, sg, dose, ml, vessel}
}

func millilitres(v calc.Litre) float64 { return 1000 * float64(v) }
