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
was struck out is brought back. It answers with the figures that change. The must
itself stays.`,
		Example:           "  glassrow void N1 7 --reason \"read through foam\"\n  glassrow void N1 7",
		Args:              takes(2, 2, "a label and the number of an entry"),
		RunE:              func(cmd *cobra.Command, args []string) error { return a.void(args[0], args[1], text(cmd, "reason")) },
		ValidArgsFunction: a.completeLabel,
	}
	cmd.Flags().String("reason", "", "`WORDS` that say why")
	return cmd
}

func (a *app) void(label, number, reason string) error {
	id, err := strconv.ParseUint(number, 10, 64)
	if err != nil {
		return fmt.Errorf("%q is no number of an entry; glassrow journal %s shows them", number, label)
	}
	at, err := a.find(label)
	if err != nil {
		return err
	}
	voids, back, err := at.batch.Turn(model.EntryID(id), strings.TrimSpace(reason))
	if err != nil {
		return err
	}
	now := a.Now()
	entries := make([]model.Entry, len(voids))
	for i, v := range voids {
		entries[i] = model.Entry{At: now, Recorded: now, Body: v}
	}
	if !back && len(model.Others(at.batch.Deed(entryOf(at.batch, model.EntryID(id))))) > 0 {
		a.caution(a.words(at.settings), "what was written together with it in another batch stays")
	}
	before, worked := model.Replay(at.batch, now)
	b, err := at.store.Append(at.batch.ID, entries...)
	if err != nil {
		return err
	}
	after, err := model.Replay(b, now)
	say := a.words(at.settings)
	return a.show(joinLines(append([]string{a.turned(at, model.EntryID(id), back, say)}, followsText(before, after, worked, err, say)...)))
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

// turned says which entry was struck out or brought back.
func (a *app) turned(at spot, id model.EntryID, back bool, say words.Words) string {
	did := "Struck out in"
	if back {
		did = "Brought back in"
	}
	e := entryOf(at.batch, id)
	if v, void := e.Body.(model.Void); void {
		return a.turned(at, v.Entry, back, say)
	}
	return fmt.Sprintf("%s %s, %s: entry %d of %s, %s", did, say.Text(at.vessel.Label), say.Text(at.batch.Name),
		e.ID, moment(e.At, a.Now()), say.Entry(e.Body, at.label))
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
