package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/model"
)

func (a *app) undoCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "undo LABEL",
		Short: "strike out the last entry that counts",
		Long: `Strike out the entry written last for the batch in a vessel, with all that was
written together with it, in other batches too. The journal keeps it, marked as
undone. Undo again for the one before. The must itself stays.`,
		Example:           "  glassrow undo N1",
		Args:              takes(1, 1, "a label"),
		RunE:              func(cmd *cobra.Command, args []string) error { return a.undo(args[0], on(cmd, "json")) },
		ValidArgsFunction: a.completeLabel,
	}
	jsonFlag(cmd)
	return cmd
}

func (a *app) undo(label string, asJSON bool) error {
	at, err := a.find(label)
	if err != nil {
		return err
	}
	e, ok := at.batch.LastUndoable()
	if !ok {
		return fmt.Errorf("nothing to undo in %s: only the must of %s is left", at.vessel.Label, at.batch.Name)
	}
	now, together := a.Now(), at.batch.Deed(e)
	stored, err := at.store.Undo(at.batch.ID, now, "")
	if err != nil {
		return err
	}
	say := a.words(at.settings)
	if asJSON {
		var out struckJSON
		out.add(at.batch.ID, together, func(b model.Body) string { return say.Entry(b, at.label) })
		for _, b := range stored {
			a.become(&out, at, b)
		}
		return a.showJSON(out)
	}
	out := ""
	for _, e := range together {
		out += fmt.Sprintf("Undone in %s, %s: entry %d of %s, %s\n", say.Text(at.vessel.Label), say.Text(at.batch.Name),
			e.ID, moment(e.At, now), say.Entry(e.Body, at.label))
	}
	return a.show(out)
}
