package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/cells"
	"cellar.local/glassrow/ui/words"
)

func (a *app) calcAcidCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "acid",
		Short: "acid to add, or a carbonate to take acid away",
		Long: `Work out how much of an acid raises the titratable acidity, or how much of a carbonate
lowers it. Acidity is in grams per litre as tartaric acid, whatever is added.

A carbonate works in two stages: at once by neutralising, and further as a salt falls
out over days or weeks. The answer is for the first, which a test on the next day
confirms; what is met in practice once the salt has fallen is told beside it.`,
		Example: `  glassrow calc acid --volume 19L --from 5.0 --to 6.5 --with tartaric
  glassrow calc acid --volume 19L --from 9 --to 7.5 --with "potassium bicarbonate"`,
		Args: takes(0, 0, "no more"),
		RunE: func(cmd *cobra.Command, _ []string) error { return a.calcAcid(cmd) },
	}
	cmd.Flags().String("volume", "", "`VOLUME` of the drink, as 19L or 5gal")
	cmd.Flags().String("from", "", "acidity today, in `GRAMS` per litre as tartaric acid")
	cmd.Flags().String("to", "", "acidity to reach, likewise")
	cmd.Flags().String("with", "", "`NAME` of the acid or the carbonate, as in the handbook")
	completeRows(a, cmd, "with", a.Handbook.acidity(), sourNames)
	return cmd
}

// sour is an acid or a carbonate: what moves acidity up or down.
type sour struct {
	calc.Listed
	acid      *calc.AcidKind
	carbonate *calc.Carbonate
}

func sourNames(s sour) []string { return listedNames(s.Listed) }

func listedNames(l calc.Listed) []string { return append([]string{l.ID, l.Name}, l.Aliases...) }

// acidity lists what can be added to move acidity, acids first.
func (h Handbook) acidity() []sour {
	var out []sour
	for _, k := range h.Acids {
		if k.Addable {
			out = append(out, sour{Listed: k.Listed, acid: &k})
		}
	}
	for _, c := range h.Carbonates {
		out = append(out, sour{Listed: c.Listed, carbonate: &c})
	}
	return out
}

// acidJSON is how much to add; of a carbonate also how much does it once the salt has
// fallen, which is where to begin.
type acidJSON struct {
	Mass        number  `json:"mass_g"`
	SettledLow  *number `json:"settled_low_g,omitempty"`
	SettledHigh *number `json:"settled_high_g,omitempty"`
}

// acidChange is what the flags of calc acid ask.
type acidChange struct {
	volume   calc.Litre
	from, to calc.Acidity
	with     sour
}

func (a *app) calcAcid(cmd *cobra.Command) error {
	change, err := a.acidChange(cmd)
	if err != nil {
		return err
	}
	answer, told, err := change.dose(a.words(model.Settings{}))
	if err != nil {
		return err
	}
	return a.answer(cmd, answer, told...)
}

func (a *app) acidChange(cmd *cobra.Command) (c acidChange, err error) {
	if err := need(cmd, "volume", "from", "to", "with"); err != nil {
		return c, err
	}
	if c.volume, err = model.ParseVolume(text(cmd, "volume")); err != nil {
		return c, err
	}
	if c.from, err = parseAcidity(text(cmd, "from"), "acidity today"); err != nil {
		return c, err
	}
	if c.to, err = parseAcidity(text(cmd, "to"), "acidity to reach"); err != nil {
		return c, err
	}
	if c.with, err = pick("acid", text(cmd, "with"), a.Handbook.acidity(), sourNames); err != nil {
		return c, err
	}
	if c.to < c.from && c.with.acid != nil {
		return c, fmt.Errorf("%s cannot lower acidity from %.4g to %.4g g/L; give a carbonate, as --with calcium_carbonate: %w",
			c.with.Name, float64(c.from), float64(c.to), model.ErrInvalid)
	}
	if c.to > c.from && c.with.carbonate != nil {
		return c, fmt.Errorf("%s cannot raise acidity from %.4g to %.4g g/L; give an acid, as --with tartaric: %w",
			c.with.Name, float64(c.from), float64(c.to), model.ErrInvalid)
	}
	return c, nil
}

// dose returns what to add, and the words for it.
func (c acidChange) dose(say words.Words) (acidJSON, []string, error) {
	if c.with.acid != nil {
		mass, err := c.with.acid.Raise(c.volume, c.from, c.to)
		return acidJSON{Mass: number(mass)}, append([]string{
			fmt.Sprintf("%s of %s", scales(mass, say), c.with.Name),
			"Add half, stir and measure: pH moves much in a honey must and little in fruit.",
		}, cells.Wrap(c.with.Notes, defaultWidth)...), err
	}
	d, err := c.with.carbonate.Lower(c.volume, c.from, c.to)
	told := []string{
		fmt.Sprintf("%s of %s does it at once", scales(d.Neutralising, say), c.with.Name),
		fmt.Sprintf("%s once the %s has fallen: begin with this", massSpan(d.SettledLow, d.SettledHigh, say), d.Salt),
		fmt.Sprintf("It foams: %s of carbon dioxide. Stir it into a part, and leave room.", say.Mass(d.CO2)),
	}
	if d.TooFar {
		told = append(told, fmt.Sprintf("More than %.0f g/L is further than carbonates are taken: blend or thin it instead.", float64(calc.UsualDrop)))
	}
	return acidJSON{number(d.Neutralising), figure(d.SettledLow), figure(d.SettledHigh)}, append(told, fmt.Sprintf("Stay under pH %.1f; carbonates take tartaric and hardly any malic acid.", float64(calc.DeacidifiedPH))), err
}

func massSpan(low, high calc.Gram, say words.Words) string {
	if scales(low, say) == scales(high, say) {
		return scales(low, say)
	}
	return scales(low, say) + " to " + scales(high, say)
}

func parseAcidity(typed, what string) (calc.Acidity, error) {
	x, err := parseNumber(typed, what, "g/l")
	return calc.Acidity(x), err
}
