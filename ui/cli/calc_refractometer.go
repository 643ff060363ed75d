package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

func (a *app) calcRefractometerCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "refractometer",
		Short: "a refractometer reading, warm or with alcohol in the glass",
		Long: `Correct a refractometer reading for the temperature of the sample, and work out
gravity and strength from it once yeast has been at work. Alcohol bends light too,
so that takes what the must had at first, --original.

An instrument that compensates for temperature must not be corrected again: leave
--temp out.`,
		Example: `  glassrow calc refractometer --original 24Bx --now 10Bx
  glassrow calc refractometer --now 15Bx --temp 15C`,
		Args: takes(0, 0, "no more"),
		RunE: func(cmd *cobra.Command, _ []string) error { return a.calcRefractometer(cmd) },
	}
	cmd.Flags().String("original", "", "`BRIX` of the must before yeast, as 24Bx, or its gravity, as 1.101")
	cmd.Flags().String("now", "", "`BRIX` that the instrument shows, as 10Bx")
	cmd.Flags().String("temp", "20C", "`TEMPERATURE` of the sample; leave it out if the instrument compensates")
	return cmd
}

type refractometerJSON struct {
	SG       number `json:"sg"`
	ABV      number `json:"abv_pct"`
	Apparent number `json:"apparent_extract_pct"`
}

func (a *app) calcRefractometer(cmd *cobra.Command) error {
	now, err := refractometerNow(cmd)
	if err != nil {
		return err
	}
	if !cmd.Flags().Changed("original") {
		return a.answer(cmd, struct {
			Brix number `json:"brix_pct"`
		}{number(now)},
			fmt.Sprintf("%.2f °Brix at 20 °C", float64(now)),
			"Of a must. Once yeast has been at work give --original: alcohol bends light too.")
	}
	original, err := model.ParseBrix(text(cmd, "original"))
	if err != nil {
		return under("original", err)
	}
	r, err := calc.AlcoholFromRefractometer(original, now, calc.RefractometerCalibration{})
	if err != nil {
		return err
	}
	say := a.words(model.Settings{})
	return a.answer(cmd, refractometerJSON{number(r.SG), number(r.ABV), number(r.ApparentExtract)},
		fmt.Sprintf("%.4f ±%.4f SG", float64(r.SG), float64(r.SGPlusMinus)),
		fmt.Sprintf("%.2f %% apparent extract", float64(r.ApparentExtract)),
		say.Strength(r.ABV, r.ABVPlusMinus),
		"Sugar added on the way is not in this; a hydrometer is surer.")
}

// refractometerNow returns the reading at 20 °C.
func refractometerNow(cmd *cobra.Command) (calc.Brix, error) {
	if err := need(cmd, "now"); err != nil {
		return 0, err
	}
	now, err := model.ParseBrix(text(cmd, "now"))
	if err != nil {
		return 0, under("now", err)
	}
	sample, err := model.ParseTemperature(text(cmd, "temp"))
	if err != nil {
		return 0, under("temp", err)
	}
	if sample == 20 {
		return now, nil
	}
	return calc.CorrectRefractometer(now, sample)
}
