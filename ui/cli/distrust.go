package cli

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/model"
)

// distrust writes down that a device is not to be believed for a time.
func (a *app) distrust(cmd *cobra.Command, label string) error {
	if !cmd.Flags().Changed("from") {
		return errors.New("--drop needs --from, as in: glassrow record --drop N1 --from 3d --to 2d")
	}
	at, err := a.find(label)
	if err != nil {
		return err
	}
	now := a.Now()
	d := model.Distrust{Reason: strings.TrimSpace(text(cmd, "reason"))}
	if d.From, err = model.ParseWhen(text(cmd, "from"), now); err != nil {
		return err
	}
	if d.To, err = model.ParseWhen(text(cmd, "to"), now); err != nil {
		return err
	}
	if err := d.Validate(); err != nil {
		return err
	}
	n := 0
	for _, s := range at.batch.Series {
		if d.Touches(s) {
			n += s.Readings
		}
	}
	if n == 0 {
		return fmt.Errorf("no device said anything in %s from %s to %s", at.vessel.Label, moment(d.From, now), moment(d.To, now))
	}
	before, worked := model.Replay(at.batch, now)
	b, err := at.store.Append(at.batch.ID, model.Entry{At: now, Recorded: now, Body: d})
	if err != nil {
		return err
	}
	say := a.words(at.settings)
	if on(cmd, "json") {
		return a.showJSON(distrustJSON{at.vessel.Label, uint64(b.ID), b.Name, lastID(b), stamp(d.From), stamp(d.To), d.Reason, n})
	}
	after, err := model.Replay(b, now)
	head := fmt.Sprintf("%s %s: %d readings of the device, %s to %s, count no more; entry %d", say.Text(at.vessel.Label), say.Text(b.Name),
		n, moment(d.From, now), moment(d.To, now), lastID(b))
	return a.show(joinLines(append([]string{head}, followsText(before, after, worked, err, say)...)))
}

type distrustJSON struct {
	Label    string `json:"label"`
	Batch    uint64 `json:"batch"`
	Name     string `json:"name"`
	Entry    uint64 `json:"entry"`
	From     stamp  `json:"from"`
	To       stamp  `json:"to"`
	Reason   string `json:"reason"`
	Readings int    `json:"readings"`
}
