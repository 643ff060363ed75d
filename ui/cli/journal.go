package cli

import (
	"fmt"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
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
corrected to 20 C.`,
		Example:           "  glassrow journal N1\n  glassrow journal N1 --json",
		Args:              takes(1, 1, "a label"),
		RunE:              func(cmd *cobra.Command, args []string) error { return a.journal(args[0], on(cmd, "json")) },
		ValidArgsFunction: a.completeLabel,
	}
	jsonFlag(cmd)
	return cmd
}

// line is an entry of the journal with what the whole journal says about it.
type line struct {
	model.Entry
	counts bool    // not struck out
	sg     calc.SG // what the gravity of a reading comes to; 0: none
}

func (a *app) journal(label string, asJSON bool) error {
	at, err := a.find(label)
	if err != nil {
		return err
	}
	journal := journalLines(at.batch, a)
	if asJSON {
		return a.showJSON(newJournalJSON(at, journal, a.Now(), a.words(at.settings)))
	}
	return a.show(a.journalText(at, journal))
}

// journalLines returns the entries in the order in which they happened.
func journalLines(b model.Batch, a *app) []line {
	read := make(map[model.EntryID]calc.SG)
	// A journal that cannot be worked out is printed all the same, as far as the
	// figures go: printing it is how one finds out why.
	s, _ := model.Replay(b, a.Now())
	for _, p := range s.Curve {
		read[p.Entry] = p.SG
	}
	counts := make(map[model.EntryID]bool)
	for _, e := range b.Live() {
		counts[e.ID] = true
	}
	out := make([]line, len(b.Entries))
	for i, e := range b.Entries {
		out[i] = line{Entry: e, counts: counts[e.ID], sg: read[e.ID]}
	}
	slices.SortStableFunc(out, func(x, y line) int { return x.At.Compare(y.At) })
	return out
}

func (a *app) journalText(at spot, journal []line) string {
	say, now, width := a.words(at.settings), a.Now(), a.width()
	out := []string{fmt.Sprintf("%s %s, %s, %s", say.Text(at.vessel.Label), say.Text(at.batch.Name), at.batch.Drink,
		words.Count(len(journal), "entry", "entries"))}
	for _, l := range journal {
		head := fmt.Sprintf("%4d  %s  ", l.ID, moment(l.At, now))
		for i, text := range cells.Wrap(l.text(at, say), max(20, width-cells.Width(head))) {
			if i > 0 {
				head = fit("", cells.Width(head), false)
			}
			out = append(out, head+text)
		}
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

// text says the entry in one line.
func (l line) text(at spot, say words.Words) string {
	s := say.Entry(l.Body, at.label)
	if r, ok := l.Body.(model.Reading); ok && r.HasGravity() && l.sg != 0 {
		s += " " + say.Arrow() + " " + say.FineGravity(l.sg)
	}
	if !l.counts && l.Body.Kind() != model.KindVoid {
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

func newJournalJSON(at spot, journal []line, now time.Time, say words.Words) journalJSON {
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
