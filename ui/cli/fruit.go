package cli

import (
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
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
		ValidArgsFunction: a.completeLabel,
	}
	cmd.Flags().Bool("crushed", false, "the fruit was mashed, sliced small, or frozen and thawed")
	cmd.Flags().String("for", "", "what it is `FOR`: feed, sweeten, prime")
	atFlag(cmd)
	return cmd
}

func (a *app) add(cmd *cobra.Command, label, what string) error {
	body, caution, err := a.stuff(cmd, what)
	if err != nil {
		return err
	}
	if err := body.Validate(); err != nil {
		return err
	}
	at, after, when, err := a.append(cmd, label, body)
	if err != nil {
		return err
	}
	say := a.words(at.settings)
	if caution != "" {
		a.caution(say, caution)
	}
	return a.showAfter(at, after, say, body, when)
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
	cmd := &cobra.Command{
		Use:   "press LABEL",
		Short: "write down that the fruit came out",
		Long: `Write down that the fruit was taken out of the batch in a vessel, pressed or not.
What juice is still inside is lost with it; --left says how much drink there is
after, which may be more than had run free, or less.`,
		Example: `  glassrow press N4
  glassrow press N4 --left 17L --at yesterday`,
		Args:              takes(1, 1, "a label"),
		RunE:              func(cmd *cobra.Command, args []string) error { return a.press(cmd, args[0]) },
		ValidArgsFunction: a.completeLabel,
	}
	cmd.Flags().String("left", "", "`VOLUME` of the drink after it, as 17L")
	atFlag(cmd)
	return cmd
}

func (a *app) press(cmd *cobra.Command, label string) error {
	var p model.Press
	if cmd.Flags().Changed("left") {
		v, err := model.ParseVolume(text(cmd, "left"))
		if err != nil {
			return err
		}
		p.Volume = v
	}
	if err := p.Validate(); err != nil {
		return err
	}
	at, after, when, err := a.append(cmd, label, p)
	if err != nil {
		return err
	}
	return a.showAfter(at, after, a.words(at.settings), p, when)
}

// append writes an entry for the batch in a vessel, at the time of the flag, and returns
// what the batch is then.
func (a *app) append(cmd *cobra.Command, label string, body model.Body) (spot, model.State, time.Time, error) {
	at, err := a.find(label)
	if err != nil {
		return at, model.State{}, time.Time{}, err
	}
	now := a.Now()
	when, err := model.ParseWhen(text(cmd, "at"), now)
	if err != nil {
		return at, model.State{}, when, err
	}
	b, err := at.store.Append(at.batch.ID, model.Entry{At: when, Recorded: now, Body: body})
	if err != nil {
		return at, model.State{}, when, err
	}
	s, err := model.Replay(b, now.Add(time.Minute)) // ParseWhen lets a time be a minute ahead
	return at, s, when, err
}

// showAfter repeats what was written down, and says what is in the vessel after it.
func (a *app) showAfter(at spot, s model.State, say words.Words, body model.Body, when time.Time) error {
	told := fmt.Sprintf("  %s at %s, %s", say.Volume(s.Figures.Volume), say.FineGravity(s.Figures.SG), say.Strength(s.Strength, s.PlusMinus))
	if late := say.LateSugar(s.LateSugar, s.FruitRoom); late != "" {
		told += "; " + late
	}
	lines := []string{at.writtenDown(say.Entry(body, at.label), say, when, a.Now()), say.Text(told)}
	if over := s.InVessel() - at.vessel.Capacity; at.vessel.ID != 0 && s.Vessel != 0 && over > at.vessel.Capacity/1000 {
		a.caution(say, fmt.Sprintf("that is %s of drink and fruit, and %s holds %s: it runs over; glassrow undo %s takes it back",
			say.FineVolume(s.InVessel()), at.vessel.Label, say.FineVolume(at.vessel.Capacity), at.vessel.Label))
	}
	return a.show(joinLines(lines))
}
