package cli

import (
	"cmp"
	"fmt"
	"slices"

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
	long, err := journals(at, together)
	if err != nil {
		return err
	}
	stored, err := at.store.Undo(at.batch.ID, now, "")
	if err != nil {
		return err
	}
	say := a.words(at.settings)
	if asJSON {
		var out struckJSON
		for _, b := range stored {
			out.add(b.ID, struckSince(b, long[b.ID]), func(b model.Body) string { return say.Entry(b, at.label) })
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

// journals reads how long the journals are that an undo of entries of a batch changes.
func journals(at spot, entries []model.Entry) (map[model.BatchID]int, error) {
	long := map[model.BatchID]int{at.batch.ID: len(at.batch.Entries)}
	for _, id := range model.Others(entries) {
		b, err := at.store.Batch(id)
		if err != nil {
			return nil, err
		}
		long[id] = len(b.Entries)
	}
	return long, nil
}

// struckSince returns, by number, the entries that a journal strikes out by what was added to it when
// it was so long.
func struckSince(b model.Batch, long int) []model.Entry {
	var out []model.Entry
	for _, e := range b.Entries[min(long, len(b.Entries)):] {
		if v, void := e.Body.(model.Void); void {
			out = append(out, entryOf(b, v.Entry))
		}
	}
	slices.SortFunc(out, func(x, y model.Entry) int { return cmp.Compare(x.ID, y.ID) })
	return out
}
