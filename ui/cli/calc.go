package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/model"
)

func (a *app) calcCommand() *cobra.Command {
	cmd := parent("calc", "work out one figure", `Work out one figure, without a cellar. Gravities are 20/20 C unless a command
says otherwise, and take SG, Brix or Plato: 1.048, 12Bx, 12P.`)
	cmd.AddCommand(a.calcGravityCommand(), a.calcCorrectCommand(), a.calcAlcoholCommand(), a.calcLiquidCommand(),
		a.calcRefractometerCommand(), a.calcMustCommand(), a.calcSweetenCommand(), a.calcBenchCommand(), a.calcTermCommand(),
		a.calcBlendCommand(), a.calcPrimeCommand(), a.calcPressureCommand(), a.calcSealedCommand(),
		a.calcSulfiteCommand(), a.calcSorbateCommand(), a.calcAcidCommand(), a.calcFeedCommand(), a.calcPasteuriseCommand())
	cmd.AddCommand(a.calcUptakeCommand(), a.calcForecastCommand())
	for _, c := range cmd.Commands() {
		jsonFlag(c)
	}
	return cmd
}

// answer prints the lines, or the object if it was asked for.
func (a *app) answer(cmd *cobra.Command, object any, lines ...string) error {
	if on(cmd, "json") {
		return a.showJSON(object)
	}
	say := a.words(model.Settings{})
	for i, l := range lines {
		lines[i] = say.Text(l)
	}
	return a.show(joinLines(lines))
}

// under names the flag in a complaint about its value.
func under(flag string, err error) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("--%s: %w", flag, err)
}
