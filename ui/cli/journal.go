package cli

import (
	"fmt"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/cells"
	"cellar.local/glassrow/ui/words"
)

func (a *app) journalCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "journal LABEL",
		Short: "print the journal of a batch",
		Long: `Print every entry of the batch in a vessel, in the order in which it happened,
those that were struck out too. Gravities are shown as read and, after an arrow,
corrected to 20 C. --only leaves out what is not of one kind:

  readings    what the instruments said
  additions   what went in: must, yeast, fruit, sugar, feed, another drink
  vessel      racked, pressed, split, drawn off, moved, fined, stirred, bottled
  notes       notes, tastes, and readings with a note
  due         reminders, plans, and what was done of them
  struck      what does not count any more, and why`,
		Example:           "  glassrow journal N1\n  glassrow journal N1 --only readings\n  glassrow journal N1 --json",
		Args:              takes(1, 1, "a label"),
		RunE:              func(cmd *cobra.Command, args []string) error { return a.journal(cmd, args[0]) },
		ValidArgsFunction: a.completeBatch,
	}
	cmd.Flags().String("only", string(model.AllOfIt), "only the entries of a `KIND`, as above")
	completeWords(cmd, "only", model.Strands())
	jsonFlag(cmd)
	return cmd
}

func (a *app) journal(cmd *cobra.Command, label string) error {
	only, err := model.ParseStrand(text(cmd, "only"))
	if err != nil {
		return under("only", err)
	}
	at, err := a.find(label)
	if err != nil {
		return err
	}
	journal := slices.DeleteFunc(a.diary(at.batch), func(l model.Told) bool { return !only.Holds(l) })
	if on(cmd, "json") {
		return a.showJSON(newJournalJSON(at, journal, a.Now(), a.words(at.settings)))
	}
	return a.show(a.journalText(at, journal, only))
}

// diary returns the entries in the order in which they happened.
func (a *app) diary(b model.Batch) []model.Told {
	// A journal that cannot be worked out is printed all the same, as far as the
	// figures go: printing it is how one finds out why.
	s, _ := model.Replay(b, a.Now())
	return b.Diary(s)
}

func (a *app) journalText(at spot, journal []model.Told, only model.Strand) string {
	say, now, width := a.words(at.settings), a.Now(), a.width()
	out := []string{fmt.Sprintf("%s %s, %s, %s", say.Text(at.vessel.Label), say.Text(at.batch.Name), at.batch.Drink,
		words.Count(len(at.batch.Entries), "entry", "entries"))}
	if only != model.AllOfIt {
		out[0] += fmt.Sprintf(", of which %s: %d", words.Strand(only), len(journal))
	}
	for _, l := range journal {
		head := fmt.Sprintf("%4d  %s  ", l.ID, moment(l.At, now))
		for i, text := range cells.Wrap(lineText(l, at, say, now.Location()), max(20, width-cells.Width(head))) {
			if i > 0 {
				head = fit("", cells.Width(head), false)
			}
			out = append(out, head+text)
		}
	}
	if len(journal) == 0 {
		out = append(out, "      "+words.NothingOf(only))
	}
	return joinLines(append(out, strengthText(at, a.Now(), say, width)...))
}

// strengthText tells the strength, and how far the first and the last gravity alone are
// off, when they are.
func strengthText(at spot, now time.Time, say words.Words, width int) []string {
	s, err := model.Replay(at.batch, now)
	if err != nil || s.NaiveMisleads() == "" {
		return nil
	}
	return cells.Wrap(say.Text(say.Strength(s.Strength, s.PlusMinus)+"; "+s.NaiveMisleads()), width)
}

// lineText says the entry in one line.
func lineText(l model.Told, at spot, say words.Words, in *time.Location) string {
	s := say.Entry(l.Body, at.label)
	if r, ok := l.Body.(model.Reading); ok && r.HasGravity() && l.SG != 0 {
		s += " " + say.Arrow() + " " + say.FineGravity(l.SG)
	}
	s += say.Text(say.Heft(l.Weighing, l.Level, at.shelf.Tare, in))
	if !l.Counts && l.Body.Kind() != model.KindVoid {
		s = "(struck out) " + s
	}
	return s
}

type journalJSON struct {
	Label   string      `json:"label"`
	Batch   uint64      `json:"batch"`
	Name    string      `json:"name"`
	Kind    string      `json:"kind"`
	Entries []entryJSON `json:"entries"`

	ABV      *number `json:"abv_pct"`       // by the whole journal
	NaiveABV *number `json:"naive_abv_pct"` // by the first and the last gravity alone
}

func newJournalJSON(at spot, journal []model.Told, now time.Time, say words.Words) journalJSON {
	out := journalJSON{Label: at.vessel.Label, Batch: uint64(at.batch.ID), Name: at.batch.Name,
		Kind: string(at.batch.Drink), Entries: []entryJSON{}}
	if s, err := model.Replay(at.batch, now); err == nil {
		out.ABV, out.NaiveABV = figure(s.Strength), figure(s.Naive)
	}
	for _, l := range journal {
		out.Entries = append(out.Entries, newEntryJSON(l, at, say))
	}
	return out
}
