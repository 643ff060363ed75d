package cli

import (
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// The commands for what passes from one batch to another.

func (a *app) blendCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "blend LABEL",
		Short: "pour some of another batch into this one",
		Long: `Pour some of another batch into the one in a vessel. Both journals are written, in
one go, and one undo takes both back. --try only shows what would come of it.`,
		Example: `  glassrow blend N1 --from S2 --volume 5L --try
  glassrow blend N1 --from S2 --volume 5L`,
		Args:              takes(1, 1, "a label"),
		RunE:              func(cmd *cobra.Command, args []string) error { return a.blend(cmd, args[0]) },
		ValidArgsFunction: a.completeLabel,
	}
	a.fromFlags(cmd)
	tryFlag(cmd)
	return cmd
}

// fromFlags define where drink is poured from, and how much.
func (a *app) fromFlags(cmd *cobra.Command) {
	cmd.Flags().String("from", "", "`LABEL` or name of the batch it comes from")
	cmd.Flags().String("volume", "", "`VOLUME` poured over, as 5L")
	a.completeLabelFlag(cmd, "from", false)
}

// tryFlag defines --try beside --at and --json.
func tryFlag(cmd *cobra.Command) {
	cmd.Flags().Bool("try", false, "show what would come of it, and write nothing down")
	atFlag(cmd)
	jsonFlag(cmd)
}

func (a *app) blend(cmd *cobra.Command, name string) error {
	if err := need(cmd, "from", "volume"); err != nil {
		return err
	}
	volume, err := model.ParseVolume(text(cmd, "volume"))
	if err != nil {
		return err
	}
	into, err := a.find(name)
	if err != nil {
		return err
	}
	from, err := a.find(text(cmd, "from"))
	if err != nil {
		return err
	}
	when, err := model.ParseWhen(text(cmd, "at"), a.Now())
	if err != nil {
		return err
	}
	writings, err := model.PourOver(from.batch, into.batch, volume, when, a.Now())
	if err != nil {
		return err
	}
	return a.together(cmd, when, writings, into, from)
}

func (a *app) splitCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "split LABEL",
		Short: "take some of a batch into an empty vessel as a batch of its own",
		Long: `Take some of the batch in a vessel into an empty one, where it goes on as a batch of
its own: to sweeten one and leave the other dry, say. Its journal begins with that of
the whole. One undo takes it back.`,
		Example: `  glassrow split N1 --to N6 --volume 9L --name "Heather mead, sweet"
  glassrow split N1 --to N6 --volume 9L --try`,
		Args:              takes(1, 1, "a label"),
		RunE:              func(cmd *cobra.Command, args []string) error { return a.split(cmd, args[0]) },
		ValidArgsFunction: a.completeLabel,
	}
	a.toFlag(cmd)
	cmd.Flags().String("volume", "", "`VOLUME` that goes over, as 9L")
	cmd.Flags().String("name", "", "`NAME` of the part; the name and the vessel, if left out")
	tryFlag(cmd)
	return cmd
}

func (a *app) split(cmd *cobra.Command, name string) error {
	if err := need(cmd, "to", "volume"); err != nil {
		return err
	}
	volume, err := model.ParseVolume(text(cmd, "volume"))
	if err != nil {
		return err
	}
	whole, err := a.find(name)
	if err != nil {
		return err
	}
	v, err := emptyVessel(whole.shelf, text(cmd, "to"))
	if err != nil {
		return err
	}
	when, err := model.ParseWhen(text(cmd, "at"), a.Now())
	if err != nil {
		return err
	}
	called := text(cmd, "name")
	if called == "" {
		called = whole.batch.Name + ", " + v.Label
	}
	writings, err := model.Split(whole.batch, called, v, volume, when, a.Now())
	if err != nil {
		return err
	}
	part := whole
	part.vessel, part.batch = v, model.Batch{Name: called, Drink: whole.batch.Drink}
	return a.together(cmd, when, writings, part, whole)
}

func (a *app) topUpCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "topup LABEL",
		Short: "fill a vessel up with water or with another batch",
		Long: `Fill a vessel up, so that less air stands over the drink: with water, which thins
it, or with some of another batch.`,
		Example: `  glassrow topup N1 --water 500mL
  glassrow topup N1 --from S2 --volume 800mL`,
		Args:              takes(1, 1, "a label"),
		RunE:              func(cmd *cobra.Command, args []string) error { return a.topUp(cmd, args[0]) },
		ValidArgsFunction: a.completeLabel,
	}
	cmd.Flags().String("water", "", "`AMOUNT` of water, as 500mL or 500g")
	a.fromFlags(cmd)
	tryFlag(cmd)
	return cmd
}

func (a *app) topUp(cmd *cobra.Command, name string) error {
	with, err := oneOf(cmd, "water", "from")
	if err != nil {
		return err
	}
	if with == "from" {
		return a.blend(cmd, name)
	}
	if cmd.Flags().Changed("volume") {
		return fmt.Errorf("--volume goes with --from; write how much water after --water, as in: %s", example(cmd))
	}
	water, err := model.ParseWater(text(cmd, "water"))
	if err != nil {
		return err
	}
	at, err := a.find(name)
	if err != nil {
		return err
	}
	when, err := model.ParseWhen(text(cmd, "at"), a.Now())
	if err != nil {
		return err
	}
	topped := model.TopUp(water)
	if err := topped.Validate(); err != nil {
		return err
	}
	e := model.Entry{At: when, Recorded: a.Now(), Body: topped}
	return a.together(cmd, when, []model.Writing{{Batch: at.batch.ID, Entries: []model.Entry{e}}}, at)
}

// together shows what writings make of the batches, in their order, and writes them
// unless that was only to be tried.
func (a *app) together(cmd *cobra.Command, when time.Time, writings []model.Writing, at ...spot) error {
	if on(cmd, "try") {
		return a.tryTogether(cmd, when, writings, at)
	}
	stored, err := at[0].store.Write(writings...)
	if err != nil {
		return err
	}
	states := make([]model.State, len(stored))
	for i, b := range stored {
		if states[i], err = a.stateNow(b); err != nil {
			return err
		}
		at[i].batch = b
	}
	if on(cmd, "json") {
		return a.showJSON(a.newTogetherJSON(at, states, true))
	}
	say, now := a.words(at[0].settings), a.Now()
	var out []string
	for i, one := range at {
		last := one.batch.Entries[len(one.batch.Entries)-1]
		out = append(out, one.writtenDown(say.Entry(last.Body, one.label), say, when, now), "  "+a.inVessel(one, states[i]))
	}
	return a.show(joinLines(out))
}

// tryTogether compares the batches before and after.
func (a *app) tryTogether(cmd *cobra.Command, when time.Time, writings []model.Writing, at []spot) error {
	there := make([]model.Batch, len(at))
	for i, one := range at {
		there[i] = one.batch
	}
	after, err := model.Becomes(writings, when, there...)
	if err != nil {
		return err
	}
	say := a.words(at[0].settings)
	var out []string
	for i, one := range at {
		if over := after[i].InVessel() - one.vessel.Capacity; after[i].Vessel != 0 && one.vessel.ID != 0 && over > one.vessel.Capacity/1000 {
			a.caution(say, fmt.Sprintf("that would be %s, and %s holds %s", say.FineVolume(after[i].InVessel()), one.vessel.Label, say.FineVolume(one.vessel.Capacity)))
		}
		if !on(cmd, "json") {
			text, err := a.trialText(writings[i], one, after[i], when, say)
			if err != nil {
				return err
			}
			out = append(out, text...)
		}
	}
	if on(cmd, "json") {
		return a.showJSON(a.newTogetherJSON(at, after, false))
	}
	return a.show(joinLines(out))
}

// trialText is a batch before and after a writing. A part that is split off has no
// before.
func (a *app) trialText(w model.Writing, at spot, after model.State, when time.Time, say words.Words) ([]string, error) {
	head := fmt.Sprintf("%s %s would be", say.Text(at.vessel.Label), say.Text(at.batch.Name))
	if after.Vessel == 0 {
		return []string{fmt.Sprintf("%s %s would be used up", say.Text(at.vessel.Label), say.Text(at.batch.Name))}, nil
	}
	table := trialColumns(calc.Figures{}, after.Figures, say)
	if w.Batch == 0 {
		table = []column{table[0], table[2]}
	} else {
		before, err := model.Replay(at.batch, when)
		if err != nil {
			return nil, err
		}
		table = trialColumns(before.Figures, after.Figures, say)
	}
	if at.vessel.Capacity > 0 {
		table = append(table, column{title: "", cells: []string{"", "", "", "", "", "of " + say.Volume(at.vessel.Capacity)}})
	}
	return append([]string{head}, lines(table, defaultWidth)...), nil
}

// togetherJSON is what several batches have become, or would.
type togetherJSON struct {
	Committed bool       `json:"committed"`
	Batches   []lifeJSON `json:"batches"`
}

func (a *app) newTogetherJSON(at []spot, states []model.State, committed bool) togetherJSON {
	out := togetherJSON{Committed: committed}
	for i, one := range at {
		b := a.newLifeJSON(one, states[i])
		if !committed {
			b.Entry, b.Text = 0, ""
		}
		out.Batches = append(out.Batches, b)
	}
	return out
}
