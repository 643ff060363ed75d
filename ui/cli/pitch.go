package cli

import (
	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

func (a *app) pitchCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "pitch LABEL",
		Short: "write down that the yeast went in",
		Long: `Write down that yeast went into the batch in a vessel: the first, where the must
was started without, or another one later. What a batch stands is what its hardiest
yeast does. The packet often says; otherwise the usual figure of the group is taken.`,
		Example: `  glassrow pitch N1 --yeast wine
  glassrow pitch N1 --yeast high --name "the blue packet" --tolerance 18 --at yesterday`,
		Args:              takes(1, 1, "a label"),
		RunE:              func(cmd *cobra.Command, args []string) error { return a.pitch(cmd, args[0]) },
		ValidArgsFunction: a.completeLabel,
	}
	yeastFlag(cmd)
	cmd.Flags().String("name", "", "your own `WORDS` for it")
	cmd.Flags().String("tolerance", "", "alcohol it stands in `PERCENT` by volume, as 16")
	atFlag(cmd)
	jsonFlag(cmd)
	return cmd
}

func (a *app) pitch(cmd *cobra.Command, label string) error {
	p, err := pitchOf(cmd)
	if err != nil {
		return err
	}
	at, err := a.find(label)
	if err != nil {
		return err
	}
	now := a.Now()
	when, err := model.ParseWhen(text(cmd, "at"), now)
	if err != nil {
		return err
	}
	stored, err := at.store.Append(at.batch.ID, model.Entry{At: when, Recorded: now, Body: p})
	if err != nil {
		return err
	}
	say := a.words(at.settings)
	stands := p.Tolerance
	if stands == 0 {
		stands = p.Yeast.Tolerance()
	}
	return a.wrote(cmd, at, stored, at.writtenDown(say.Entry(p, at.label), say, when, now),
		"  it stands about "+say.Strength(stands, 0))
}

// pitchOf is the yeast that the flags describe.
func pitchOf(cmd *cobra.Command) (model.Pitch, error) {
	if err := need(cmd, "yeast"); err != nil {
		return model.Pitch{}, err
	}
	p := model.Pitch{Yeast: word[model.YeastGroup](text(cmd, "yeast")), Name: text(cmd, "name")}
	if cmd.Flags().Changed("tolerance") {
		x, err := parseNumber(text(cmd, "tolerance"), "tolerance", "%")
		if err != nil {
			return p, err
		}
		p.Tolerance = calc.PercentVol(x)
	}
	return p, p.Validate()
}

// yeastFlag defines --yeast.
func yeastFlag(cmd *cobra.Command) {
	cmd.Flags().String("yeast", "", "`GROUP` of the yeast: wine, high, ale, lager or wild")
	completeWords(cmd, "yeast", chosenYeasts())
}

// chosenYeasts are the groups that a person can name.
func chosenYeasts() []model.YeastGroup {
	return []model.YeastGroup{model.WineYeast, model.HighYeast, model.AleYeast, model.LagerYeast, model.WildYeast}
}
