package cli

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

func (a *app) recordCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "record LABEL READING... | --stdin | --drop LABEL",
		Short: "write down a reading",
		Long: `Write down what the instruments say about the batch in a vessel:

  1.034  1034  34     gravity, in full, without the point, in points
  8.5bx  8.5p         the hydrometer's Brix or Plato scale
  @21c  @70f          temperature of the sample
  ph3.4               acidity
  "; a note"          to the end of the line; quoted, for the shell's sake

It answers with what that means. A surprising reading is recorded all the same
and the surprise told; glassrow undo takes it back.

With --stdin it takes what a floating device says, in lines of time,label,reading:

  2026-11-20T18:30:00Z,N1,1.034@21c

The time is as after --at, the batch as for other commands; a reading is a gravity
and the temperature of the drink, its scale made for 20 °C. A heading is skipped. A
pipe may stay open: what came is written every second. Lines that are not understood
are told with their numbers and the others written; a moment that has a reading keeps
it, so the same file can come again. Such readings are a series beside the journal:
their middle over six hours counts, and what you read by hand goes before it and sets
its level.

With --drop the device in a vessel is not believed from a time to another, to six
hours; the series keeps what it said, and glassrow undo or void believes it again.`,
		Example: `  glassrow record N1 1.034 @21c ph3.4
  glassrow record N1 998 --at yesterday-18:30
  glassrow record N1 8.5bx "; smells of cloves"
  glassrow record --stdin < device.csv
  glassrow record --drop N1 --from 3d --to 2d --reason "out for cleaning"`,
		Args: func(cmd *cobra.Command, args []string) error {
			switch {
			case on(cmd, "stdin") && on(cmd, "drop"):
				return errors.New("--stdin and --drop say two things; give one of them")
			case on(cmd, "stdin"):
				return takes(0, 0, "")(cmd, args)
			case on(cmd, "drop"):
				return takes(1, 1, "a label")(cmd, args)
			}
			return takes(2, -1, "a label and a reading")(cmd, args)
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := onlyWith(cmd); err != nil {
				return err
			}
			switch {
			case on(cmd, "stdin"):
				return a.recordStream(cmd)
			case on(cmd, "drop"):
				return a.distrust(cmd, args[0])
			}
			return a.record(cmd, args[0], strings.Join(args[1:], " "))
		},
		ValidArgsFunction: a.completeLabel,
	}
	atFlag(cmd)
	jsonFlag(cmd)
	cmd.Flags().Bool("stdin", false, "take lines of time,label,reading from a device")
	cmd.Flags().Bool("drop", false, "do not believe the device in the vessel for a time")
	cmd.Flags().String("from", "", "with --drop: `TIME` from which it is not believed")
	cmd.Flags().String("to", "now", "with --drop: `TIME` until which")
	cmd.Flags().String("reason", "", "with --drop: `WORDS` that say why")
	return cmd
}

// onlyWith complains about a flag that another one leaves without a meaning.
func onlyWith(cmd *cobra.Command) error {
	for _, f := range []string{"from", "to", "reason"} {
		if cmd.Flags().Changed(f) && !on(cmd, "drop") {
			return fmt.Errorf("--%s goes with --drop; see %s --help", f, cmd.CommandPath())
		}
	}
	if cmd.Flags().Changed("at") && (on(cmd, "stdin") || on(cmd, "drop")) {
		return errors.New("--at goes with a reading; see glassrow record --help")
	}
	return nil
}

func (a *app) record(cmd *cobra.Command, label, typed string) error {
	at, err := a.find(label)
	if err != nil {
		return err
	}
	r, when, err := a.datedReading(cmd, typed, at.settings)
	if err != nil {
		return err
	}
	u, err := model.Understand(at.batch, r, when)
	if err != nil {
		return err
	}
	b, err := at.store.Append(at.batch.ID, model.Entry{At: when, Recorded: a.Now(), Body: r})
	if err != nil {
		return err
	}
	say := a.words(at.settings)
	if u.Surprise != "" {
		a.caution(say, fmt.Sprintf("recorded, but look again: %s; glassrow undo %s takes it back", u.Surprise, at.vessel.Label))
	}
	if on(cmd, "json") {
		return a.showJSON(newRecordJSON(at, b, u, when))
	}
	return a.show(understoodText(at, u, say, when, a.Now()))
}

// datedReading understands the line and the flag; the time can be said in either.
func (a *app) datedReading(cmd *cobra.Command, typed string, s model.Settings) (model.Reading, time.Time, error) {
	now := a.Now()
	r, when, err := model.ParseDatedReading(typed, now, s)
	if err != nil || !cmd.Flags().Changed("at") {
		return r, when, err
	}
	if !when.Equal(now) {
		return r, when, fmt.Errorf("the time is given twice, in %q and by --at", typed)
	}
	when, err = model.ParseWhen(text(cmd, "at"), now)
	return r, when, err
}

func understoodText(at spot, u model.Understood, say words.Words, when, now time.Time) string {
	lines := []string{at.writtenDown(say.Text(u.Reading.String()), say, when, now)}
	if u.SG != 0 {
		lines = append(lines, say.Text("  "+say.FineGravity(u.SG)+" at 20 °C, "+say.Strength(u.Strength, u.PlusMinus)))
	}
	if u.SG != 0 && !u.Since.IsZero() {
		lines = append(lines, fmt.Sprintf("  %s in %.1f days", say.Points(u.Change), u.Days))
	}
	if u.Weighing.Entry != 0 {
		by := u.Weighing.With(at.vessel.Tare)
		for _, text := range append(say.Weighed(u.Weighing, by, now.Location()), say.WhyShort(by)) {
			if text != "" {
				lines = append(lines, say.Text("  "+text))
			}
		}
		if at.vessel.Tare == 0 {
			lines = append(lines, say.Text("  "+words.NoTare(at.vessel.Label)))
		}
	}
	if text := say.Levelled(u.Level); text != "" {
		lines = append(lines, say.Text("  "+text))
	}
	return joinLines(lines)
}

// writtenDown repeats what was written down, where and for when.
func (s spot) writtenDown(what string, say words.Words, when, now time.Time) string {
	return fmt.Sprintf("%s %s, %s: %s", say.Text(s.vessel.Label), say.Text(s.batch.Name), moment(when, now), what)
}

// moment writes a time in the zone of now.
func moment(t, now time.Time) string { return t.In(now.Location()).Format("2006-01-02 15:04") }

type recordJSON struct {
	Label       string  `json:"label"`
	Batch       uint64  `json:"batch"`
	Name        string  `json:"name"`
	Entry       uint64  `json:"entry"`
	At          stamp   `json:"at"`
	Reading     string  `json:"reading"`
	SG          *number `json:"sg"`
	ABV         *number `json:"abv_pct"`
	PlusMinus   *number `json:"abv_plus_minus_pct"`
	Change      *number `json:"change_points"`
	Since       stamp   `json:"since"`
	Days        *number `json:"days"`
	Temperature *number `json:"temperature_c"`
	PH          *number `json:"ph"`
	Note        string  `json:"note"`
	Surprise    string  `json:"surprise"`

	Weighed *weighedJSON `json:"weighed,omitempty"`
	Level   *levelJSON   `json:"level,omitempty"`
}

func newRecordJSON(at spot, stored model.Batch, u model.Understood, when time.Time) recordJSON {
	r := u.Reading
	out := recordJSON{
		Label: at.vessel.Label, Batch: uint64(at.batch.ID), Name: at.batch.Name, Entry: lastID(stored), At: stamp(when),
		Reading: r.String(), PH: known(r.PH), Note: r.Note, SG: known(u.SG), Since: stamp(u.Since), Surprise: u.Surprise,
	}
	if u.SG != 0 {
		out.ABV, out.PlusMinus = figure(u.Strength), figure(u.PlusMinus)
	}
	if !u.Since.IsZero() {
		out.Change, out.Days = figure(u.Change), figure(u.Days)
	}
	out.Weighed, out.Level = newWeighedJSON(u.Weighing, at.vessel.Tare), newLevelJSON(u.Level)
	if r.HasTemperature {
		out.Temperature = figure(r.Temperature)
	}
	return out
}

// lastID returns the number of the entry written last.
func lastID(b model.Batch) uint64 {
	if len(b.Entries) == 0 {
		return 0
	}
	return uint64(b.Entries[len(b.Entries)-1].ID)
}
