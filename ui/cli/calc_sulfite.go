package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/cells"
	"cellar.local/glassrow/ui/words"
)

func (a *app) calcSulfiteCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "sulfite",
		Short: "sulfite by pH, and how much to add",
		Long: `Work out the free SO2 that holds so much molecular SO2, the part that works, and
how much potassium metabisulfite brings the drink there. Beside --molecular, --free is
what is free in it today; alone it is the free SO2 to reach in a drink that has none,
and what is molecular of that is told. Aim at 0.8 mg/L molecular for white and sweet
drinks, at 0.5 for reds.`,
		Example: `  glassrow calc sulfite --ph 3.4 --volume 19L --molecular 0.8 --free 10
  glassrow calc sulfite --ph 3.4 --volume 19L --free 35 --abv 12`,
		Args: takes(0, 0, "no more"),
		RunE: func(cmd *cobra.Command, _ []string) error { return a.calcSulfite(cmd) },
	}
	cmd.Flags().String("ph", "", "`PH` of the drink")
	cmd.Flags().String("volume", "", "`VOLUME` of the drink, as 19L or 5gal")
	cmd.Flags().String("molecular", "", "molecular SO2 to reach, in `MILLIGRAMS` per litre")
	cmd.Flags().String("free", "0", "free SO2 in it today, or without --molecular to reach, in `MILLIGRAMS` per litre")
	cmd.Flags().String("abv", "", "strength in `PERCENT` by volume, for a second opinion by the OIV's table")
	return cmd
}

type sulfiteJSON struct {
	Molecular number `json:"molecular_mg_l"`
	Target    number `json:"free_target_mg_l"`
	Add       number `json:"add_mg_l"`
	Mass      number `json:"metabisulfite_g"`
}

// sulfiting is what the flags of calc sulfite ask.
type sulfiting struct {
	volume    calc.Litre
	ph        calc.PH
	molecular calc.MilligramPerLitre // to reach
	free      calc.MilligramPerLitre // today
	target    calc.MilligramPerLitre // free SO2 for molecular
}

func (a *app) calcSulfite(cmd *cobra.Command) error {
	s, err := sulfitingOf(cmd)
	if err != nil {
		return err
	}
	dose, err := calc.PotassiumMetabisulfite().Dose(s.target, s.free, s.volume)
	if err != nil {
		return err
	}
	say := a.words(model.Settings{})
	told := []string{fmt.Sprintf("%.2f mg/L of molecular SO2 at pH %.2f are %.0f mg/L of free SO2", float64(s.molecular), float64(s.ph), float64(s.target))}
	switch {
	case dose.Add > 0:
		told = append(told, fmt.Sprintf("add %.0f mg/L: %s of fresh potassium metabisulfite", float64(dose.Add), scales(dose.Mass, say)))
	default:
		told = append(told, "there is enough: add nothing")
	}
	opinion, err := oivOpinion(cmd, s)
	if err != nil {
		return err
	}
	told = append(told, opinion...)
	if dose.Add > 0 {
		told = append(told, "A third to a half of a first addition binds, and what is free goes on falling:", "measure again.")
	}
	return a.answer(cmd, sulfiteJSON{number(s.molecular), number(s.target), number(dose.Add), number(dose.Mass)},
		append(told, sulfiteCaution()...)...)
}

// sulfiteCaution is for everybody who is about to add some.
func sulfiteCaution() []string {
	return cells.Wrap(fmt.Sprintf("Sulfite can harm people with asthma. From %.0f mg/L in all, yeast's own included, a label has to name it, "+
		"and rules limit it: check yours. Alone it does not keep live yeast from sugar.", float64(calc.SulfiteStatement)), defaultWidth)
}

func sulfitingOf(cmd *cobra.Command) (s sulfiting, err error) {
	if err := need(cmd, "ph", "volume"); err != nil {
		return s, err
	}
	if s.volume, err = model.ParseVolume(text(cmd, "volume")); err != nil {
		return s, err
	}
	if s.ph, err = parsePH(text(cmd, "ph")); err != nil {
		return s, err
	}
	if s.free, err = parseMilligrams(text(cmd, "free"), "free SO2"); err != nil {
		return s, err
	}
	if cmd.Flags().Changed("molecular") {
		if s.molecular, err = parseMilligrams(text(cmd, "molecular"), "molecular SO2"); err != nil {
			return s, err
		}
		s.target, err = calc.FreeSO2For(s.molecular, s.ph)
		return s, err
	}
	if !cmd.Flags().Changed("free") {
		return s, fmt.Errorf("%s needs --molecular or --free, as in: %s", called(cmd), example(cmd))
	}
	s.target, s.free = s.free, 0
	s.molecular, err = calc.MolecularSO2(s.target, s.ph)
	return s, err
}

// oivOpinion tells what the table of the OIV says of a drink of this strength, in
// which more is molecular than the plain formula has it.
func oivOpinion(cmd *cobra.Command, s sulfiting) ([]string, error) {
	if !cmd.Flags().Changed("abv") {
		return nil, nil
	}
	abv, err := parseStrength(text(cmd, "abv"))
	if err != nil {
		return nil, err
	}
	const cellar calc.Celsius = 20
	by := fmt.Sprintf("by the OIV's table, at %.4g %% vol and 20 °C, ", float64(abv))
	if !cmd.Flags().Changed("molecular") {
		molecular, err := calc.MolecularSO2AtStrength(s.target, s.ph, abv, cellar)
		return []string{by + fmt.Sprintf("%.2f mg/L are molecular", float64(molecular))}, err
	}
	free, err := calc.FreeSO2AtStrength(s.molecular, s.ph, abv, cellar)
	return []string{by + fmt.Sprintf("%.0f mg/L of free SO2 would do", float64(free))}, err
}

// scales writes a mass to the digits that kitchen and pocket scales have.
func scales(m calc.Gram, say words.Words) string {
	switch {
	case m < 10:
		return fmt.Sprintf("%.2f g", float64(m))
	case m < 100:
		return fmt.Sprintf("%.1f g", float64(m))
	}
	return say.Mass(m)
}

func (a *app) calcSorbateCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "sorbate",
		Short: "sorbate by strength and pH, never without sulfite",
		Long: `Work out the potassium sorbate that keeps yeast from multiplying in a drink that
has finished and is clear. It neither kills yeast nor ends a fermentation.`,
		Example: `  glassrow calc sorbate --volume 19L --abv 12 --ph 3.4`,
		Args:    takes(0, 0, "no more"),
		RunE:    func(cmd *cobra.Command, _ []string) error { return a.calcSorbate(cmd) },
	}
	cmd.Flags().String("volume", "", "`VOLUME` of the drink, as 19L or 5gal")
	cmd.Flags().String("abv", "", "its strength in `PERCENT` by volume")
	cmd.Flags().String("ph", "", "its `PH`")
	return cmd
}

type sorbateJSON struct {
	Mass    number `json:"sorbate_g"`
	Sorbate number `json:"sorbate_mg_l"`
	Acid    number `json:"sorbic_acid_mg_l"`
}

func (a *app) calcSorbate(cmd *cobra.Command) error {
	if err := need(cmd, "volume", "abv", "ph"); err != nil {
		return err
	}
	volume, err := model.ParseVolume(text(cmd, "volume"))
	if err != nil {
		return err
	}
	abv, err := parseStrength(text(cmd, "abv"))
	if err != nil {
		return err
	}
	ph, err := parsePH(text(cmd, "ph"))
	if err != nil {
		return err
	}
	dose, err := a.Handbook.Sorbate.Dose(abv, ph, volume)
	if err != nil {
		return err
	}
	return a.answer(cmd, sorbateJSON{number(dose.Mass), number(dose.Sorbate), number(dose.SorbicAcid)},
		sorbateLines(dose, a.words(model.Settings{}))...)
}

func sorbateLines(d calc.SorbateDose, say words.Words) []string {
	out := []string{
		fmt.Sprintf("%s of potassium sorbate", scales(d.Mass, say)),
		fmt.Sprintf("%.0f mg/L, which is %.0f mg/L of sorbic acid; the EU allow %.0f, the US %.0f",
			float64(d.Sorbate), float64(d.SorbicAcid), float64(calc.SorbicLimit), float64(calc.SorbicLimitUS)),
	}
	for _, c := range d.Conditions {
		out = append(out, cells.Wrap(sorbateCondition(c), defaultWidth)...)
	}
	return out
}

func sorbateCondition(c calc.SorbateCondition) string {
	switch c {
	case calc.SorbateWithSulfite:
		return fmt.Sprintf("Only with sulfite, %.1f mg/L molecular, or bacteria can make it smell of geranium; and only "+
			"in a clear drink that has finished. Sulfite can harm people with asthma; both belong on the label.", float64(calc.MolecularSO2White))
	case calc.SorbateWithBarrier:
		return "Weaker or less acid than the table goes: keep it cold, heat it or filter it as well."
	case calc.SorbateAtLimit:
		return "The table asks for a little more; this is the most that is allowed."
	}
	return string(c)
}

// parsePH understands 3.4.
func parsePH(typed string) (calc.PH, error) {
	x, err := parseNumber(typed, "pH", "")
	return calc.PH(x), err
}

func parseMilligrams(typed, what string) (calc.MilligramPerLitre, error) {
	x, err := parseNumber(typed, what, "mg/l")
	return calc.MilligramPerLitre(x), err
}
