package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/cells"
	"cellar.local/glassrow/ui/words"
)

// usualHeadspace is the room for gas in a bottle filled as usual.
const usualHeadspace = 0.04

func (a *app) calcPrimeCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "prime",
		Short: "sugar that makes the bubbles in a bottle",
		Long: `Work out how much sugar brings a finished drink to a level of carbon dioxide in the
closed bottle, and the pressure that comes of it. --temp is the warmest the drink
has been since it fermented: warmth drives gas out, and cold does not bring it back.

It holds for a drink that has finished. Sugar that the yeast had still to eat makes
gas on top of this: see glassrow calc sealed.`,
		Example: `  glassrow calc prime --volume 19L --co2 2.4 --temp 18C --with sucrose
  glassrow calc prime --volume 5gal --co2 3 --temp 68F --with honey --store 90F`,
		Args: takes(0, 0, "no more"),
		RunE: func(cmd *cobra.Command, _ []string) error { return a.calcPrime(cmd) },
	}
	cmd.Flags().String("volume", "", "`VOLUME` of the drink, as 19L or 5gal")
	cmd.Flags().String("co2", "", "`VOLUMES` of carbon dioxide to reach, as 2.4 or 4.7g/L")
	cmd.Flags().String("temp", "", "warmest `TEMPERATURE` since it fermented, as 18C")
	cmd.Flags().String("with", "", "`NAME` of the sugar, as in the handbook")
	cmd.Flags().String("store", "30C", "warmest `TEMPERATURE` where the bottles will stand")
	_ = cmd.RegisterFlagCompletionFunc("with", a.completeSweetener)
	a.bottleFlags(cmd)
	return cmd
}

// bottleFlags are the flags that say what the drink is closed in.
func (a *app) bottleFlags(cmd *cobra.Command) {
	cmd.Flags().String("container", "beer_bottle_used", "`NAME` of what it is closed in, as in the handbook")
	cmd.Flags().String("abv", "0", "strength in `PERCENT` by volume; from 5 up it raises the pressure")
	completeRows(a, cmd, "container", a.Handbook.Containers, containerNames)
}

type primeJSON struct {
	Mass     number `json:"mass_g"`
	Residual number `json:"residual_co2_vol"`
	Pressure number `json:"pressure_bar"`
	Warm     number `json:"warm_pressure_bar"`
}

func (a *app) calcPrime(cmd *cobra.Command) error {
	if err := need(cmd, "volume", "co2", "temp", "with"); err != nil {
		return err
	}
	volume, err := model.ParseVolume(text(cmd, "volume"))
	if err != nil {
		return err
	}
	target, err := model.ParseCarbonation(text(cmd, "co2"))
	if err != nil {
		return under("co2", err)
	}
	warmest, err := temperature(cmd, "temp")
	if err != nil {
		return err
	}
	store, err := temperature(cmd, "store")
	if err != nil {
		return err
	}
	sugar, err := model.NamedSweetener(a.Sweeteners, text(cmd, "with"))
	if err != nil {
		return err
	}
	p, err := calc.PrimingSugar(volume, target, warmest, sugar.Ingredient)
	if err != nil {
		return err
	}
	pressure, err := calc.EquilibriumPressure(p.CO2, warmest)
	if err != nil {
		return err
	}
	warm, err := calc.EquilibriumPressure(p.CO2, store)
	if err != nil {
		return under("store", err)
	}
	box, err := pick("container", text(cmd, "container"), a.Handbook.Containers, containerNames)
	if err != nil {
		return err
	}
	verdict, err := primedVerdict(cmd, p, warmest, store, box)
	if err != nil {
		return err
	}
	say := a.words(model.Settings{})
	if on(cmd, "json") && verdict.Verdict == calc.Danger {
		a.caution(say, fmt.Sprintf("%s: %s, it can burst", box.Name, verdict.Verdict))
	}
	return a.answer(cmd, primeJSON{number(p.Mass), number(calc.CO2Volumes(p.Residual)), number(pressure), number(warm)},
		append([]string{
			fmt.Sprintf("%s of %s, stirred in evenly", say.Mass(p.Mass), sugar.Name()),
			fmt.Sprintf("%.2f volumes of CO2, of which %.2f are in the drink already", float64(target), float64(calc.CO2Volumes(p.Residual))),
			fmt.Sprintf("%s at %s, %s at %s", gauge(pressure, say), say.Temperature(warmest), gauge(warm, say), say.Temperature(store)),
		}, verdictLines(box, verdict, "Only for a drink that has finished: sugar still in it makes gas on top of this.")...)...)
}

// primedVerdict judges the bottles by all the gas that the sugar could make, where
// they will stand warmest.
func primedVerdict(cmd *cobra.Command, p calc.Priming, filled, store calc.Celsius, box calc.Container) (calc.Judgement, error) {
	abv, err := parseStrength(text(cmd, "abv"))
	if err != nil {
		return calc.Judgement{}, err
	}
	b := calc.Bottling{Residual: p.Residual, At: filled, Headspace: usualHeadspace, Strength: abv}
	s, err := b.Pressure(p.Most-p.Residual, store)
	return box.Judge(s), err
}

// verdictLines tell what a container may hold, and what to do when that is passed.
func verdictLines(box calc.Container, j calc.Judgement, otherwise string) []string {
	share := fmt.Sprintf("%s: %s, %.0f %% of its limit", box.Name, j.Verdict, 100*j.Share)
	switch {
	case j.Verdict == calc.Danger && box.Still:
		otherwise = "Not made for pressure: it can burst. Let the drink ferment out or stabilise it before you close it."
	case j.Verdict == calc.Danger:
		otherwise = "It can burst. Use less sugar or a stronger container; never close a drink with this much in it."
	case j.Verdict == calc.Caution:
		otherwise = "Near the limit: keep it cool, in a closed crate, and open one now and then. " + otherwise
	}
	return append([]string{share}, cells.Wrap(otherwise, defaultWidth)...)
}

func (a *app) calcPressureCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "pressure",
		Short: "gas in a keg, and the pressure that holds it there",
		Long: `Work out how much carbon dioxide a drink takes up under a pressure, or what
pressure keeps so much in it. Pressures are gauge pressures, as a regulator shows.`,
		Example: `  glassrow calc pressure --temp 6C --gauge 1.2bar
  glassrow calc pressure --temp 40F --gauge 12psi
  glassrow calc pressure --temp 6C --co2 2.4`,
		Args: takes(0, 0, "no more"),
		RunE: func(cmd *cobra.Command, _ []string) error { return a.calcPressure(cmd) },
	}
	cmd.Flags().String("temp", "", "`TEMPERATURE` of the drink, as 6C or 43F")
	cmd.Flags().String("gauge", "", "`PRESSURE` on the gauge, as 1.2bar or 17psi")
	cmd.Flags().String("co2", "", "`VOLUMES` of carbon dioxide in the drink, as 2.4 or 4.7g/L")
	return cmd
}

type pressureJSON struct {
	Mass    number `json:"co2_g_l"`
	Volumes number `json:"co2_vol"`
	Gauge   number `json:"gauge_bar"`
}

func (a *app) calcPressure(cmd *cobra.Command) error {
	if err := need(cmd, "temp"); err != nil {
		return err
	}
	at, err := temperature(cmd, "temp")
	if err != nil {
		return err
	}
	flag, err := oneOf(cmd, "gauge", "co2")
	if err != nil {
		return err
	}
	co2, p, err := carbonated(flag, text(cmd, flag), at)
	if err != nil {
		return under(flag, err)
	}
	say := a.words(model.Settings{})
	told := []string{
		fmt.Sprintf("%.2f g/L, %.2f volumes of CO2", float64(co2), float64(calc.CO2Volumes(co2))),
		fmt.Sprintf("%s at %s, once it has settled, which takes days", gauge(p, say), say.Temperature(at)),
	}
	if p < 0 {
		told[1] = fmt.Sprintf("no pressure at %s: under an airlock it would hold more", say.Temperature(at))
	}
	return a.answer(cmd, pressureJSON{number(co2), number(calc.CO2Volumes(co2)), number(p)}, append(told,
		"For beer and cider. With 10 % vol and more the same gas makes up to a sixth more",
		"pressure. Stay below what is stamped on the keg, and keep its relief valve working.")...)
}

// carbonated returns the gas in a drink and the pressure over it, one of which was
// given.
func carbonated(given, typed string, at calc.Celsius) (calc.GramPerLitre, calc.BarGauge, error) {
	if given == "gauge" {
		p, err := model.ParsePressure(typed)
		if err != nil {
			return 0, 0, err
		}
		c, err := calc.EquilibriumCO2(p, at)
		return c, p, err
	}
	v, err := model.ParseCarbonation(typed)
	if err != nil {
		return 0, 0, err
	}
	p, err := calc.EquilibriumPressure(v.GramPerLitre(), at)
	return v.GramPerLitre(), p, err
}

func (a *app) calcSealedCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "sealed",
		Short: "pressure if the sugar in a closed bottle ferments",
		Long: `Work out the pressure in a closed bottle once all of the sugar that yeast can eat
has fermented in it, and whether the bottle may hold that. --temp is that of the
drink when it was closed, --store the warmest place where it will stand.

Without --with all of it counts as table sugar; the sugars of fruit and honey make up
to a twentieth less gas.

The second pressure is that with air closed in, which keeps its own; the truth of an
ordinary bottle lies between the two.`,
		Example: `  glassrow calc sealed --sugar 18 --temp 20C
  glassrow calc sealed --sugar 8 --with honey --temp 20C --store 30C --container sparkling_bottle`,
		Args: takes(0, 0, "no more"),
		RunE: func(cmd *cobra.Command, _ []string) error { return a.calcSealed(cmd) },
	}
	cmd.Flags().String("sugar", "", "fermentable sugar in `GRAMS` per litre")
	cmd.Flags().String("with", "", "`NAME` of what the sugar is of, as in the handbook (default: sucrose)")
	_ = cmd.RegisterFlagCompletionFunc("with", a.completeSweetener)
	cmd.Flags().String("temp", "", "`TEMPERATURE` when it was closed, as 20C")
	cmd.Flags().String("store", "", "warmest `TEMPERATURE` where it will stand (default: that of --temp)")
	cmd.Flags().String("headspace", "0.04", "room for gas over the volume of the drink")
	a.bottleFlags(cmd)
	return cmd
}

type sealedJSON struct {
	Volumes number `json:"co2_vol"`
	Gauge   number `json:"gauge_bar"`
	WithAir number `json:"gauge_bar_with_air"`
	Verdict string `json:"verdict"`
}

func (a *app) calcSealed(cmd *cobra.Command) error {
	if err := need(cmd, "sugar", "temp"); err != nil {
		return err
	}
	sugar, err := parseNumber(text(cmd, "sugar"), "sugar", "g/l")
	if err != nil {
		return err
	}
	b, err := bottling(cmd)
	if err != nil {
		return err
	}
	store := b.At
	if cmd.Flags().Changed("store") {
		if store, err = temperature(cmd, "store"); err != nil {
			return err
		}
	}
	box, err := pick("container", text(cmd, "container"), a.Handbook.Containers, containerNames)
	if err != nil {
		return err
	}
	s, err := b.SealedPressure(calc.GramPerLitre(sugar), store)
	if cmd.Flags().Changed("with") && err == nil {
		var kind model.Sweetener
		if kind, err = model.NamedSweetener(a.Sweeteners, text(cmd, "with")); err != nil {
			return err
		}
		s, err = b.SealedSugar(calc.GramPerLitre(sugar), kind.Ingredient, store)
	}
	if err != nil {
		return err
	}
	verdict := box.Judge(s)
	say := a.words(model.Settings{})
	return a.answer(cmd, sealedJSON{number(s.Volumes()), number(s.Gauge), number(s.GaugeWithAir), verdict.Verdict.String()},
		append([]string{
			fmt.Sprintf("%.2f volumes of CO2, if every gram ferments", float64(s.Volumes())),
			fmt.Sprintf("%s at %s, with air closed in %s", gauge(s.Gauge, say), say.Temperature(store), gauge(s.GaugeWithAir, say)),
		}, verdictLines(box, verdict, "A gravity that falls by 0.001 in the bottle is about 2 g/L of sugar: watch one.")...)...)
}

// bottling is the drink that the flags describe, at the moment it is closed.
func bottling(cmd *cobra.Command) (calc.Bottling, error) {
	at, err := temperature(cmd, "temp")
	if err != nil {
		return calc.Bottling{}, err
	}
	headspace, err := parseNumber(text(cmd, "headspace"), "headspace", "")
	if err != nil {
		return calc.Bottling{}, err
	}
	abv, err := parseStrength(text(cmd, "abv"))
	if err != nil {
		return calc.Bottling{}, err
	}
	return calc.BottledAt(at, headspace, abv)
}

// gauge writes a pressure for either kind of gauge: 1.70 bar (25 psi).
func gauge(p calc.BarGauge, say words.Words) string {
	if p < 0 {
		return "no pressure"
	}
	return fmt.Sprintf("%s (%.0f psi)", say.Pressure(p), p.PSI())
}

// temperature returns what a flag says.
func temperature(cmd *cobra.Command, flag string) (calc.Celsius, error) {
	t, err := model.ParseTemperature(text(cmd, flag))
	return t, under(flag, err)
}
