package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/model"
)

func (a *app) addCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "add LABEL WHAT",
		Short: "write down what was stirred in, or what fruit went in",
		Long: `Write down something of the handbook that went into the batch in a vessel. Sugar,
honey and juice are there at once; whole fruit gives its juice over days, crushed
fruit most of it at once, until glassrow press writes down that it is out.`,
		Example: `  glassrow add N4 "damson 2kg" --crushed
  glassrow add N1 "honey 600g" --for feed --at yesterday`,
		Args:              takes(2, 2, "a label and what went in"),
		RunE:              func(cmd *cobra.Command, args []string) error { return a.add(cmd, args[0], args[1]) },
		ValidArgsFunction: a.completeThen(a.completeStuff),
	}
	cmd.Flags().Bool("crushed", false, "the fruit was mashed, sliced small, or frozen and thawed")
	cmd.Flags().String("for", "", "what it is `FOR`: feed, sweeten, prime")
	completeWords(cmd, "for", []string{"feed", "sweeten", "prime"})
	atFlag(cmd)
	jsonFlag(cmd)
	return cmd
}

func (a *app) add(cmd *cobra.Command, label, what string) error {
	body, caution, err := a.stuff(cmd, what)
	if err != nil {
		return err
	}
	err = a.happens(cmd, []string{label}, func(*cobra.Command, spot, []string) (model.Body, error) { return body, nil })
	if err == nil && caution != "" {
		a.caution(a.words(model.Settings{}), caution)
	}
	return err
}

// stuff is what the words and flags say went in: an addition, or fruit.
func (a *app) stuff(cmd *cobra.Command, what string) (model.Body, string, error) {
	fruit, sweet, caution, err := a.larder().ParseFruit(what)
	switch {
	case err != nil:
		return nil, "", err
	case fruit.Mass == 0 && on(cmd, "crushed"):
		return nil, "", fmt.Errorf("%s is no fruit, so it is not crushed: %w", sweet.Ingredient.Name, model.ErrInvalid)
	case fruit.Mass == 0:
		return model.Addition{Portion: sweet, Purpose: text(cmd, "for")}, caution, nil
	case cmd.Flags().Changed("for"):
		return nil, "", fmt.Errorf("the journal keeps no purpose with fruit; leave --for out: %w", model.ErrInvalid)
	}
	fruit.Crushed = fruit.Crushed || on(cmd, "crushed")
	return model.Fruited{Portion: fruit}, caution, nil
}

func (a *app) pressCommand() *cobra.Command {
	cmd := a.lifeCommand("press LABEL", "write down that the fruit came out",
		`Write down that the fruit was taken out of the batch in a vessel, pressed or not.
What juice is still inside is lost with it; --left says how much drink there is
after, which may be more than had run free, or less.`,
		`  glassrow press N4
  glassrow press N4 --left 17L --at yesterday`, takes(1, 1, "a label"), press)
	cmd.Flags().String("left", "", "`VOLUME` of the drink after it, as 17L")
	return cmd
}

func press(cmd *cobra.Command, _ spot, _ []string) (model.Body, error) {
	if !cmd.Flags().Changed("left") {
		return model.Press{}, nil
	}
	v, err := model.ParseVolume(text(cmd, "left"))
	return model.Press{Volume: v}, err
}
