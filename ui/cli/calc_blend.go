package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

func (a *app) calcBlendCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "blend",
		Short: "drinks poured together",
		Long: `Work out what drinks come to when they are poured together. Mass adds up exactly;
the volume is a little less or more than the sum. Where only gravity and strength are
known the sugar is good to some 5 g/L and no better.`,
		Example: `  glassrow calc blend --part "10L 1.000 13%" --part "5L 1.040 9%"`,
		Args:    takes(0, 0, "no more"),
		RunE:    func(cmd *cobra.Command, _ []string) error { return a.calcBlend(cmd) },
	}
	cmd.Flags().StringArray("part", nil, "volume, gravity and strength, as `\"10L 1.000 13%\"`; repeat it for each")
	return cmd
}

type blendJSON struct {
	SG     number `json:"sg"`
	ABV    number `json:"abv_pct"`
	Volume number `json:"volume_l"`
	Sugar  number `json:"residual_sugar_g_l"`
}

func (a *app) calcBlend(cmd *cobra.Command) error {
	if err := need(cmd, "part"); err != nil {
		return err
	}
	typed, err := cmd.Flags().GetStringArray("part")
	if err != nil {
		return err
	}
	parts := make([]calc.BlendPart, len(typed))
	for i, t := range typed {
		if parts[i], err = blendPart(t); err != nil {
			return under("part", err)
		}
	}
	b, err := calc.Blend(parts...)
	if err != nil {
		return err
	}
	f := b.Figures
	if f.Volume == 0 {
		return fmt.Errorf("--part: a blend of nothing; write volumes such as 10L: %w", model.ErrInvalid)
	}
	say := a.words(model.Settings{})
	return a.answer(cmd, blendJSON{number(f.SG), number(f.Strength), number(f.Volume), number(f.Sugar)},
		fmt.Sprintf("%s SG", say.FineGravity(f.SG)),
		say.Strength(f.Strength, 0),
		say.FineVolume(f.Volume),
		fmt.Sprintf("%.0f ±5 g/L of sugar", float64(f.Sugar)),
		"The yeast of one part may find the sugar of another: blend a glass first, and",
		"let it stand under an airlock before you bottle.")
}

func blendPart(typed string) (calc.BlendPart, error) {
	v, sg, abv, err := model.ParseDrink(typed)
	if err != nil {
		return calc.BlendPart{}, err
	}
	l, err := calc.DrinkOf(v, sg, abv)
	return calc.BlendPart{Liquid: l}, err
}
