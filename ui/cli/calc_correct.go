package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

func (a *app) calcCorrectCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "correct GRAVITY",
		Short: "a hydrometer reading of a warm or cold sample",
		Long: `Correct a hydrometer reading of a must or wort for the temperature of the
sample. The answer is what the same hydrometer would read at its own temperature,
the one printed on the glass.`,
		Example: "  glassrow calc correct 1.050 --temp 30C\n  glassrow calc correct 1.050 --temp 80F --calibration 60F",
		Args:    takes(1, 1, "a reading"),
		RunE:    func(cmd *cobra.Command, args []string) error { return a.calcCorrect(cmd, args[0]) },
	}
	cmd.Flags().String("temp", "", "`TEMPERATURE` of the sample, as 30C or 86F")
	cmd.Flags().String("calibration", "20C", "`TEMPERATURE` the hydrometer is made for")
	return cmd
}

func (a *app) calcCorrect(cmd *cobra.Command, typed string) error {
	if err := need(cmd, "temp"); err != nil {
		return err
	}
	reading, err := model.ParseGravity(typed)
	if err != nil {
		return err
	}
	sample, err := model.ParseTemperature(text(cmd, "temp"))
	if err != nil {
		return under("temp", err)
	}
	calibration, err := model.ParseTemperature(text(cmd, "calibration"))
	if err != nil {
		return under("calibration", err)
	}
	sg, err := calc.CorrectReading(reading, sample, calibration)
	if err != nil {
		return err
	}
	return a.answer(cmd, struct {
		SG number `json:"sg"`
	}{number(sg)}, fmt.Sprintf("%.4f SG", float64(sg)))
}
