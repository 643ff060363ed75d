package cli

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/cells"
	"cellar.local/glassrow/ui/words"
)

func (a *app) dueCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "due",
		Short: "what to do and when, the earliest first",
		Long: `Print what is to be done in the whole cellar, what is late first, and why. KEY is what
the other commands call it.

--ics writes it as a calendar (RFC 5545), which any calendar program opens. Import it
again and what has moved is moved there, and what was done or is no longer due in the
last 90 days is called off. The journal cannot tell what another cellar file asked for,
such as one that a copy of yours has replaced: that you take out yourself.`,
		Example: "  glassrow due\n  glassrow due done N1 rack\n  glassrow due later N1 read 3d\n  glassrow due --ics > cellar.ics",
		Args:    noSuchCommand,
		RunE:    func(cmd *cobra.Command, _ []string) error { return a.due(on(cmd, "json"), on(cmd, "ics")) },

		SuggestionsMinimumDistance: 2,
	}
	jsonFlag(cmd)
	cmd.Flags().Bool("ics", false, "write a calendar")
	done := &cobra.Command{
		Use:   "done LABEL|BATCH KEY",
		Short: "write down that something due was done",
		Long: `Write down that something due was done. A dose of a feed plan becomes a feeding and a
cap punched down a stirring; anything else is ticked off.`,
		Example:           "  glassrow due done N1 rack\n  glassrow due done N1 feed:12:1",
		Args:              takes(2, 2, "a label and a key"),
		RunE:              func(cmd *cobra.Command, args []string) error { return a.dueDone(cmd, args[0], args[1]) },
		ValidArgsFunction: a.completeDue,
	}
	later := &cobra.Command{
		Use:               "later LABEL|BATCH KEY TIME",
		Short:             "put something due off",
		Long:              "Put something due off, until 3d, friday, 20dec or 2026-12-20T18:30.",
		Example:           "  glassrow due later N1 read 3d",
		Args:              takes(3, 3, "a label, a key and a time"),
		RunE:              func(cmd *cobra.Command, args []string) error { return a.dueLater(cmd, args[0], args[1], args[2]) },
		ValidArgsFunction: a.completeDue,
	}
	atFlag(done)
	jsonFlag(done)
	jsonFlag(later)
	cmd.AddCommand(done, later)
	return cmd
}

func (a *app) remindCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:               "remind LABEL|BATCH TEXT...",
		Short:             "be reminded of something",
		Long:              "Be reminded of something at a time: it is then among what is due.",
		Example:           "  glassrow remind N1 buy corks --at 20dec",
		Args:              takes(2, -1, "a label and what to be reminded of"),
		RunE:              func(cmd *cobra.Command, args []string) error { return a.remind(cmd, args) },
		ValidArgsFunction: a.completeBatch,
	}
	cmd.Flags().String("at", "", "`TIME`, as 3d, friday, 20dec or 2026-12-20T18:30")
	jsonFlag(cmd)
	return cmd
}

func (a *app) due(asJSON, asCalendar bool) error {
	if asJSON && asCalendar {
		return errors.New("--json and --ics say two things; give one of them")
	}
	store, shelf, err := a.open()
	if err != nil {
		return err
	}
	switch {
	case asCalendar:
		return a.showCalendar(store, shelf)
	case asJSON:
		return a.showJSON(newDuesJSON(shelf, a.Now()))
	}
	return a.show(a.duesText(shelf))
}

// duesText is what is due, each with its reason under it.
func (a *app) duesText(shelf model.Shelf) string {
	now, say, width := a.Now(), a.words(shelf.Settings), a.width()
	all := shelf.Dues()
	if len(all) == 0 {
		return "Nothing is due.\n"
	}
	when := column{title: "  when"}
	vessel, what, key := column{title: "vessel"}, column{title: "what", least: 8, spare: 2}, column{title: "key"}
	for _, d := range all {
		when.cells = append(when.cells, lateMark(d.Due, now)+" "+words.Due(d.Due.At, now))
		vessel.cells = append(vessel.cells, say.Text(dueLabel(d)))
		what.cells = append(what.cells, say.Text(d.Due.What))
		key.cells = append(key.cells, d.Due.Key)
	}
	table := lines([]column{when, vessel, what, key}, width)
	out := table[:1:1]
	for i, d := range all {
		out = append(out, table[i+1])
		for _, l := range cells.Wrap(say.Text(d.Row.Batch.Name+": because "+d.Due.Because), width-4) {
			out = append(out, "    "+l)
		}
	}
	return joinLines(out)
}

func lateMark(d model.Due, now time.Time) string {
	if d.Late(now) {
		return "*"
	}
	return " "
}

// dueLabel is how the commands call the batch of something due.
func dueLabel(d model.DueRow) string {
	if d.Row.Vessel.ID != 0 {
		return d.Row.Vessel.Label
	}
	return fmt.Sprintf("#%d", d.Row.Batch.Batch)
}

type duesJSON struct {
	Due []dueRowJSON `json:"due"`
}

type dueRowJSON struct {
	dueJSON
	Vessel  *string `json:"vessel"` // null: in bottles
	Batch   uint64  `json:"batch"`
	Name    string  `json:"name"`
	Overdue bool    `json:"overdue"`
}

func newDuesJSON(shelf model.Shelf, now time.Time) duesJSON {
	out := duesJSON{Due: []dueRowJSON{}}
	for _, d := range shelf.Dues() {
		row := dueRowJSON{dueJSON: *newDueJSON(d.Due), Batch: uint64(d.Row.Batch.Batch), Name: d.Row.Batch.Name, Overdue: d.Due.Late(now)}
		if d.Row.Vessel.ID != 0 {
			row.Vessel = &d.Row.Vessel.Label
		}
		out.Due = append(out.Due, row)
	}
	return out
}

// findDue looks for something due of a batch by its key.
func (a *app) findDue(name, key string) (spot, model.Due, error) {
	at, err := a.find(name)
	if err != nil {
		return at, model.Due{}, err
	}
	var keys []string
	for _, d := range at.dues() {
		if strings.EqualFold(d.Key, strings.TrimSpace(key)) {
			return at, d, nil
		}
		keys = append(keys, d.Key)
	}
	if len(keys) == 0 {
		return at, model.Due{}, fmt.Errorf("nothing is due for %s", at.vessel.Label)
	}
	return at, model.Due{}, fmt.Errorf("nothing of the key %q is due for %s; there is %s", key, at.vessel.Label, strings.Join(keys, ", "))
}

// dues is what is due of the batch.
func (s spot) dues() []model.Due {
	return model.Row{Vessel: s.vessel, Batch: model.Summarise(s.batch)}.Dues()
}

func (a *app) dueDone(cmd *cobra.Command, name, key string) error {
	at, d, err := a.findDue(name, key)
	if err != nil {
		return err
	}
	when, err := model.ParseWhen(text(cmd, "at"), a.Now())
	if err != nil {
		return err
	}
	return a.writeDue(cmd, at, when, at.batch.Fulfil(d.Key, when, a.Handbook.Nitrogen))
}

func (a *app) dueLater(cmd *cobra.Command, name, key, until string) error {
	at, d, err := a.findDue(name, key)
	if err != nil {
		return err
	}
	tick, err := d.PutOff(until, a.Now())
	if err != nil {
		return err
	}
	return a.writeDue(cmd, at, a.Now(), tick)
}

func (a *app) remind(cmd *cobra.Command, args []string) error {
	if err := need(cmd, "at"); err != nil {
		return err
	}
	at, err := a.find(args[0])
	if err != nil {
		return err
	}
	due, err := model.ParseLater(text(cmd, "at"), a.Now())
	if err != nil {
		return err
	}
	return a.writeDue(cmd, at, a.Now(), model.Reminder{What: strings.Join(args[1:], " "), Due: due})
}

// writeDue writes an entry that happened at a time, and says so.
func (a *app) writeDue(cmd *cobra.Command, at spot, when time.Time, body model.Body) error {
	now := a.Now()
	stored, err := at.store.Append(at.batch.ID, model.Entry{At: when, Recorded: now, Body: body})
	if err != nil {
		return err
	}
	say := a.words(at.settings)
	told := []string{at.writtenDown(say.Entry(body, at.label), say, when, now)}
	if dose := at.batch.DoseOf(body); dose != "" {
		told = append(told, "  "+dose)
	}
	return a.wrote(cmd, at, stored, told...)
}

// completeDue offers labels, and then the keys of what is due.
func (a *app) completeDue(cmd *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
	if len(args) != 1 {
		return a.completeBatch(cmd, args, begun)
	}
	at, err := a.find(args[0])
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	say := a.words(at.settings)
	var out []string
	for _, d := range at.dues() {
		if hasPrefixFold(d.Key, begun) {
			out = append(out, d.Key+"\t"+say.Text(d.What))
		}
	}
	return out, cobra.ShellCompDirectiveNoFileComp
}
