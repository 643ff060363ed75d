package cli

import (
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// The commands for what happens to a batch in its vessel. Each writes one entry and
// tells what is in the vessel after it.

// lifeCommand is a command that writes one entry about a batch.
func (a *app) lifeCommand(use, short, long, example string, args cobra.PositionalArgs, body bodyOf) *cobra.Command {
	cmd := &cobra.Command{
		Use: use, Short: short, Long: long, Example: example, Args: args,
		RunE:              func(cmd *cobra.Command, args []string) error { return a.happens(cmd, args, body) },
		ValidArgsFunction: a.completeLabel,
	}
	atFlag(cmd)
	jsonFlag(cmd)
	return cmd
}

// bodyOf makes the entry out of the flags and of the words after the label.
type bodyOf func(cmd *cobra.Command, at spot, words []string) (model.Body, error)

func (a *app) happens(cmd *cobra.Command, args []string, body bodyOf) error {
	at, err := a.find(args[0])
	if err != nil {
		return err
	}
	now := a.Now()
	when, err := model.ParseWhen(text(cmd, "at"), now)
	if err != nil {
		return err
	}
	b, err := body(cmd, at, args[1:])
	if err != nil {
		return err
	}
	if err := b.Validate(); err != nil {
		return err
	}
	stored, err := at.store.Append(at.batch.ID, model.Entry{At: when, Recorded: now, Body: b})
	if err != nil {
		return err
	}
	after, err := a.stateNow(stored)
	if err != nil {
		return err
	}
	at.batch = stored
	say := a.words(at.settings)
	a.overfull(at, after, say)
	if on(cmd, "json") {
		return a.showJSON(a.newLifeJSON(at, after))
	}
	lines := []string{at.writtenDown(say.Entry(b, at.label), say, when, now)}
	if dose := stored.DoseOf(b); dose != "" {
		lines = append(lines, "  "+dose)
	}
	return a.show(joinLines(append(lines, "  "+a.inVessel(at, after))))
}

// stateNow replays a journal of which the last entry may be a minute ahead, as
// ParseWhen allows.
func (a *app) stateNow(b model.Batch) (model.State, error) {
	return model.Replay(b, a.Now().Add(time.Minute))
}

// inVessel says in one line what a batch has become.
func (a *app) inVessel(at spot, s model.State) string {
	say := a.words(at.settings)
	if s.Vessel != 0 {
		told := fmt.Sprintf("%s in %s at %s, %s", say.Volume(s.Figures.Volume), at.label(s.Vessel),
			say.FineGravity(s.SG()), say.Strength(s.Strength, s.PlusMinus))
		if late := say.LateSugar(s.LateSugar, s.FruitRoom); late != "" {
			told += "; " + late
		}
		return say.Text(told)
	}
	if s.Bottles > 0 {
		return fmt.Sprintf("%d of %d bottles left", s.Bottles-s.Taken, s.Bottles)
	}
	return "nothing left of it in a vessel"
}

// overfull cautions where a vessel holds less than the journal says is in it.
func (a *app) overfull(at spot, s model.State, say words.Words) {
	for _, v := range at.shelf.Vessels {
		if v.ID != s.Vessel || s.InVessel() <= v.Capacity*1.001 {
			continue
		}
		a.caution(say, fmt.Sprintf("that is %s of drink and fruit, and %s holds %s: it runs over; glassrow undo %s takes it back",
			say.FineVolume(s.InVessel()), v.Label, say.FineVolume(v.Capacity), v.Label))
	}
}

// lifeJSON is a batch after something happened to it.
type lifeJSON struct {
	Label   string `json:"label"`
	Batch   uint64 `json:"batch"`
	Name    string `json:"name"`
	Entry   uint64 `json:"entry"` // written last
	Text    string `json:"text"`
	Vessel  string `json:"vessel"` // empty: in none any more
	Volume  number `json:"volume_l"`
	SG      number `json:"sg"`
	ABV     number `json:"abv_pct"`
	Sugar   number `json:"residual_sugar_g_l"`
	Place   string `json:"place,omitempty"`
	Bottles int    `json:"bottles"`
	Left    int    `json:"bottles_left"`
}

func (a *app) newLifeJSON(at spot, s model.State) lifeJSON {
	out := lifeJSON{
		Label: at.vessel.Label, Batch: uint64(at.batch.ID), Name: at.batch.Name, Vessel: at.label(s.Vessel), Place: s.Place,
		SG: number(s.SG()), ABV: number(s.Strength), Sugar: number(s.Figures.Sugar),
		Bottles: s.Bottles, Left: s.Bottles - s.Taken,
	}
	if s.Vessel != 0 {
		out.Volume = number(s.Figures.Volume)
	}
	if n := len(at.batch.Entries); n > 0 {
		last := at.batch.Entries[n-1]
		out.Entry, out.Text = uint64(last.ID), a.words(at.settings).Entry(last.Body, at.label)
	}
	return out
}

func (a *app) rackCommand() *cobra.Command {
	cmd := a.lifeCommand("rack LABEL", "move a batch off its lees into an empty vessel",
		`Rack a batch off its lees into an empty vessel. --volume is what arrived there;
without it nothing was left behind. Fruit stays behind.`,
		`  glassrow rack N1 --to N6 --volume 18L
  glassrow rack N1 --to N6 --at yesterday`, takes(1, 1, "a label"), a.rack)
	a.toFlag(cmd)
	cmd.Flags().String("volume", "", "`VOLUME` that arrived, as 18L")
	return cmd
}

// toFlag defines --to, an empty vessel.
func (a *app) toFlag(cmd *cobra.Command) {
	cmd.Flags().String("to", "", "`LABEL` of an empty vessel")
	a.completeLabelFlag(cmd, "to", true)
}

func (a *app) rack(cmd *cobra.Command, at spot, _ []string) (model.Body, error) {
	if err := need(cmd, "to"); err != nil {
		return nil, err
	}
	v, err := emptyVessel(at.shelf, text(cmd, "to"))
	if err != nil {
		return nil, err
	}
	r := model.Rack{To: v.ID}
	if cmd.Flags().Changed("volume") {
		if r.Volume, err = model.ParseVolume(text(cmd, "volume")); err != nil {
			return nil, err
		}
	}
	s, err := a.stateNow(at.batch)
	if err != nil {
		return nil, err
	}
	return r, r.FitsInto(v, s)
}

// emptyVessel returns the vessel with a label that must hold nothing.
func emptyVessel(shelf model.Shelf, label string) (model.Vessel, error) {
	v, err := vesselNamed(shelf, label)
	if err != nil {
		return v, err
	}
	if in, full := shelf.BatchIn(v.ID); full {
		return v, fmt.Errorf("%s holds %s; take an empty vessel", v.Label, in.Name)
	}
	return v, nil
}

func (a *app) drawCommand() *cobra.Command {
	cmd := a.lifeCommand("draw LABEL", "write down that some of it was taken out",
		`Write down that some of a batch was taken out of its vessel for good: drunk, spilt
or poured away. What goes into another vessel is split, blended or racked.`,
		`  glassrow draw N1 --volume 500mL --why "a jug for Sunday"`, takes(1, 1, "a label"),
		func(cmd *cobra.Command, _ spot, _ []string) (model.Body, error) {
			if err := need(cmd, "volume"); err != nil {
				return nil, err
			}
			v, err := model.ParseVolume(text(cmd, "volume"))
			return model.Draw{Volume: v, Why: text(cmd, "why")}, err
		})
	cmd.Flags().String("volume", "", "`VOLUME` taken out, as 500mL")
	cmd.Flags().String("why", "", "your own `WORDS` for it")
	return cmd
}

func (a *app) fineCommand() *cobra.Command {
	return a.lifeCommand("fine LABEL WHAT", "write down a fining that clears the drink",
		`Write down that a fining was stirred in to clear the drink. It settles out, so it
takes no part in what the drink is made of. Some are made of milk, egg or fish,
which whoever drinks with you may need to know.`,
		`  glassrow fine N1 "bentonite 10g"
  glassrow fine N1 "egg white" --at 2d`, takes(2, -1, "a label and a fining"),
		func(_ *cobra.Command, _ spot, what []string) (model.Body, error) {
			name, mass, err := model.ParseDose(strings.Join(what, " "))
			return model.Fine{Agent: name, Mass: mass}, err
		})
}

func (a *app) feedCommand() *cobra.Command {
	cmd := a.lifeCommand("feed LABEL WHAT", "write down a nutrient given to the yeast",
		`Write down that the yeast was given a nutrient. So little of it takes no part in the
gravity; sugar does, and goes in with glassrow sweeten. glassrow calc feed says how
much of it the yeast wants. Stir or swirl the gas out before powder goes in, or the
vessel boils over. Where a plan has an open dose of it, that is ticked off.

With --plan nothing is given yet: so much in all is shared out in halves, thirds or
quarters, and glassrow due tells when each dose is due.`,
		"  glassrow feed N1 \"DAP 5g\"\n  glassrow feed N1 \"DAP 12g\" --plan thirds", takes(2, -1, "a label and a nutrient"), a.feed)
	cmd.Flags().String("plan", "", "share it out: halves, thirds or quarters")
	completeWords(cmd, "plan", calc.FeedSplits())
	cmd.ValidArgsFunction = a.completeThen(a.completeNutrient)
	return cmd
}

// feed is the nutrient as typed; see [model.Batch.Feeding].
func (a *app) feed(cmd *cobra.Command, at spot, what []string) (model.Body, error) {
	name, mass, err := model.ParseDose(strings.Join(what, " "))
	if err != nil {
		return nil, err
	}
	split, err := cmd.Flags().GetString("plan")
	if err != nil {
		return nil, err
	}
	if split != "" {
		s, err := a.stateNow(at.batch)
		if err != nil {
			return nil, err
		}
		return model.PlanFeeding(name, mass, calc.FeedSplit(split), s.Original)
	}
	when, err := model.ParseWhen(text(cmd, "at"), a.Now())
	if err != nil {
		return nil, err
	}
	f, err := at.batch.Feeding(name, mass, when, a.Handbook.Nitrogen, "")
	if err != nil {
		return nil, err
	}
	for _, c := range f.Cautions() {
		a.caution(a.words(at.settings), c)
	}
	return f.Feed, nil
}

func (a *app) stirCommand() *cobra.Command {
	return a.lifeCommand("stir LABEL", "write down that the cap was punched down",
		"Write down that the cap of fruit was punched down, or the lees roused.",
		"  glassrow stir N4", takes(1, 1, "a label"),
		func(*cobra.Command, spot, []string) (model.Body, error) { return model.Stir{}, nil })
}

func (a *app) moveCommand() *cobra.Command {
	return a.lifeCommand("move LABEL PLACE", "carry a vessel elsewhere",
		"Write down that a vessel was carried elsewhere with what is in it.",
		`  glassrow move N1 "south shelf"`, takes(2, -1, "a label and a place"),
		func(_ *cobra.Command, _ spot, place []string) (model.Body, error) {
			return model.Move{Place: strings.Join(place, " ")}, nil
		})
}
