package cli

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

func (a *app) voidCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "void LABEL ENTRY",
		Short: "strike out an entry of the journal, or bring it back",
		Long: `Strike out an entry of the batch in a vessel by its number, as glassrow journal
shows it. The journal keeps it, marked as struck out, with the reason. An entry that
was struck out is brought back. What passed between two batches is struck out in both
journals, or drink would be made or lost. It answers with the figures that change. The
must itself stays.`,
		Example:           "  glassrow void N1 7 --reason \"read through foam\"\n  glassrow void N1 7",
		Args:              takes(2, 2, "a label and the number of an entry"),
		RunE:              func(cmd *cobra.Command, args []string) error { return a.void(cmd, args[0], args[1]) },
		ValidArgsFunction: a.completeThen(a.completeEntry),
	}
	cmd.Flags().String("reason", "", "`WORDS` that say why")
	jsonFlag(cmd)
	return cmd
}

func (a *app) void(cmd *cobra.Command, label, number string) error {
	id, err := strconv.ParseUint(number, 10, 64)
	if err != nil {
		return fmt.Errorf("%q is no number of an entry; glassrow journal %s shows them", number, label)
	}
	at, err := a.find(label)
	if err != nil {
		return err
	}
	partners, err := a.partners(at, model.EntryID(id))
	if err != nil {
		return err
	}
	now := a.Now()
	writings, back, err := at.batch.TurnTogether(model.EntryID(id), strings.TrimSpace(text(cmd, "reason")), now, partners...)
	if err != nil {
		return err
	}
	names := at.batch.CopiedIn(model.EntryID(id)) // then what was written together with it is the split
	if !back && len(names) == 0 && len(writings) == 1 && len(model.Others(at.batch.Deed(entryOf(at.batch, model.EntryID(id))))) > 0 {
		a.caution(a.words(at.settings), "what was written together with it in another batch stays")
	}
	if len(names) > 0 {
		a.caution(a.words(at.settings), words.CopiedIn(names, back))
	}
	var stored []model.Batch
	if len(writings) == 1 {
		stored = make([]model.Batch, 1)
		stored[0], err = at.store.Append(at.batch.ID, writings[0].Entries...)
	} else {
		stored, err = at.store.Write(writings...)
	}
	if err != nil {
		return err
	}
	say := a.words(at.settings)
	var out []string
	told := struckJSON{Back: back}
	for i, w := range writings {
		one := at
		for _, p := range partners {
			if p.ID == w.Batch {
				one.batch, one.vessel = p, vesselOf(at.shelf, model.Summarise(stored[i]))
			}
		}
		told.add(one.batch.ID, one.batch.Turned(w), func(b model.Body) string { return say.Entry(b, one.label) })
		a.become(&told, one, stored[i])
		out = append(out, a.turned(one, one.batch.Turned(w), back, say)...)
		out = append(out, a.following(one.batch, stored[i], say)...)
	}
	if on(cmd, "json") {
		return a.showJSON(told)
	}
	return a.show(joinLines(out))
}

// entryOf returns the entry of that number.
func entryOf(b model.Batch, id model.EntryID) model.Entry {
	for _, e := range b.Entries {
		if e.ID == id {
			return e
		}
	}
	return model.Entry{}
}

// partners reads the batches with other sides of an entry.
func (a *app) partners(at spot, id model.EntryID) ([]model.Batch, error) {
	var all []model.Batch
	for _, other := range at.batch.Partners(id) {
		b, err := at.store.Batch(other)
		if err != nil {
			return nil, err
		}
		all = append(all, b)
	}
	return all, nil
}

// turned says which entries were struck out or brought back.
func (a *app) turned(at spot, entries []model.Entry, back bool, say words.Words) []string {
	did := "Struck out in"
	if back {
		did = "Brought back in"
	}
	var where []string
	for _, name := range []string{at.vessel.Label, at.batch.Name} {
		if name != "" {
			where = append(where, say.Text(name))
		}
	}
	var out []string
	for _, e := range entries {
		out = append(out, fmt.Sprintf("%s %s: entry %d of %s, %s", did, strings.Join(where, ", "),
			e.ID, moment(e.At, a.Now()), say.Entry(e.Body, at.label)))
	}
	return out
}

// following lists the figures of a batch that follow from what was struck out or brought
// back.
func (a *app) following(was, is model.Batch, say words.Words) []string {
	if is.Undone() {
		return []string{"  it is no batch any more"}
	}
	before, worked := model.Replay(was, a.Now())
	after, err := model.Replay(is, a.Now())
	return followsText(before, after, worked, err, say)
}

// followsText lists the figures that another journal gives. worked and err are what
// was wrong with the journal before and after.
func followsText(before, after model.State, worked, err error, say words.Words) []string {
	switch {
	case err != nil:
		return []string{"  " + say.Text(words.PlainError(err))}
	case worked != nil:
		return []string{"  the journal can be worked out again"}
	}
	lines := say.Follows(before, after)
	if len(lines) == 0 {
		return []string{"  no figure changes"}
	}
	for i := range lines {
		lines[i] = "  " + lines[i]
	}
	return lines
}
