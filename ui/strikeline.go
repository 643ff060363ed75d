package ui

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// strikeLine asks, under the journal, before an entry is struck out or brought back:
// it says what follows from that and takes a reason.
type strikeLine struct {
	opts     Options
	keys     strikeKeys
	input    textinput.Model
	open     bool
	question string
	also     []string // what is turned in other journals
	follows  []string
	cautions []string

	id      model.EntryID // of what is turned
	back    bool          // it is brought back
	said    string        // to tell once it is done
	ticket  ticket
	saving  bool
	trouble string
}

func newStrikeLine(o Options) strikeLine {
	in := textinput.New()
	in.Prompt = ""
	in.CharLimit = 300
	in.Cursor.SetMode(cursor.CursorStatic)
	return strikeLine{opts: o, keys: newStrikeKeys(), input: in}
}

// openStrike asks about the entry under the cursor, once the journals with other sides
// of it are read.
func (a app) openStrike(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	p := &a.journal
	a.status = status{}
	t, ok := p.selected()
	if !ok {
		return a, nil
	}
	if ids := p.batch.Partners(t.ID); !readAll(p.partners, ids) {
		a.typedAhead = append(a.typedAhead, k)
		return a, loadPartners(a.opts.Store, ids)
	}
	now, say := a.opts.Now(), a.words()
	writings, back, err := p.batch.TurnTogether(t.ID, "", now, p.partners...)
	if err != nil {
		a.status = status{words.PlainError(err), saidPlain}
		return a, nil
	}
	whole := len(model.Others(p.batch.Deed(t.Entry))) == 0
	if v, void := t.Body.(model.Void); void {
		t = p.told(v.Entry)
	}
	what := say.Entry(t.Body, a.shelf.label)
	s := &p.strike
	s.open, s.saving, s.trouble, s.id, s.back = true, false, "", t.ID, back
	s.input.Reset()
	s.input.Focus()
	when := dayText(dateOf(t.At, now), now) + t.At.In(now.Location()).Format(" 15:04")
	s.keys.Accept.SetHelp("enter", "strike out")
	s.question, s.said = fmt.Sprintf("Strike this out of %s? %s: %s", p.batch.Name, when, what), "struck out: "+what
	if back {
		s.keys.Accept.SetHelp("enter", "bring back")
		s.question, s.said = fmt.Sprintf("Bring this back into %s? %s: %s", p.batch.Name, when, what), "brought back: "+what
	}
	s.also, s.follows, s.cautions = nil, nil, nil
	if !back && !whole && len(writings) == 1 {
		s.cautions = []string{"What was written together with it in another batch stays."}
	}
	if names := p.batch.CopiedIn(t.ID); len(names) > 0 {
		s.cautions = append(s.cautions, words.CopiedIn(names, back))
	}
	for _, w := range writings {
		b := p.batch
		if i := slices.IndexFunc(p.partners, func(b model.Batch) bool { return b.ID == w.Batch }); i >= 0 {
			b = p.partners[i]
		}
		follows := a.whatFollows(b, w.Entries)
		if len(writings) > 1 {
			if b.ID != p.batch.ID || len(w.Entries) > 1 {
				s.also = append(s.also, turnedIn(b, w, say, a.shelf.label))
			}
			follows[0] = b.Name + ": " + follows[0]
		}
		s.follows = append(s.follows, follows...)
	}
	p.partners = nil // what is written is reckoned anew
	return a, nil
}

// readAll reports whether just those batches are read.
func readAll(read []model.Batch, ids []model.BatchID) bool {
	return slices.EqualFunc(read, ids, func(b model.Batch, id model.BatchID) bool { return b.ID == id })
}

// partnersMsg carries the batches with other sides of the entry under the cursor.
type partnersMsg struct{ batches []model.Batch }

func loadPartners(s Store, ids []model.BatchID) tea.Cmd {
	return func() tea.Msg {
		batches, err := readEach(s, ids)
		if err != nil {
			return loadFailedMsg{err}
		}
		return partnersMsg{batches}
	}
}

func readEach(s Store, ids []model.BatchID) ([]model.Batch, error) {
	var all []model.Batch
	for _, id := range ids {
		b, err := s.Batch(id)
		if err != nil {
			return nil, err
		}
		all = append(all, b)
	}
	return all, nil
}

// turnedIn says what is turned in a journal that a deed reaches into.
func turnedIn(b model.Batch, w model.Writing, say words.Words, labels words.Labels) string {
	turned := b.Turned(w)
	if n := len(turned); n > 1 {
		return fmt.Sprintf("In the journal of %s: its whole beginning, %d entries", b.Name, n)
	}
	return fmt.Sprintf("In the journal of %s: %s", b.Name, say.Entry(turned[0].Body, labels))
}

// told returns the line of the diary with that number.
func (p journalPane) told(id model.EntryID) model.Told {
	for _, t := range p.diary {
		if t.ID == id {
			return t
		}
	}
	return model.Told{}
}

// whatFollows says which figures of a batch more entries would change.
func (a app) whatFollows(b model.Batch, more []model.Entry) []string {
	now := a.opts.Now()
	if b.With(more...).Undone() {
		return []string{"it is no batch any more"}
	}
	before, worked := model.Replay(b, now)
	after, err := model.Replay(b.With(more...), now)
	switch {
	case err != nil && worked == nil:
		return []string{"It would be refused: " + words.PlainError(err)}
	case err != nil:
		return []string{"The journal still could not be worked out: " + words.PlainError(err)}
	case worked != nil:
		return []string{"The journal could be worked out again."}
	}
	if figures := a.words().Follows(before, after); len(figures) > 0 {
		return figures
	}
	return []string{"no figure changes"}
}

// strikeKey answers a key while the question stands.
func (a app) strikeKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	s := &a.journal.strike
	switch {
	case s.saving:
	case key.Matches(k, s.keys.Cancel):
		s.open = false
		a.status = status{"left as it was", saidPlain}
	case key.Matches(k, s.keys.Accept):
		return a.acceptStrike()
	default:
		s.input, _ = s.input.Update(k)
		s.trouble = ""
	}
	return a, nil
}

// errTurnedMeanwhile is when another session was faster.
var errTurnedMeanwhile = errors.New("somebody else did that meanwhile; esc, and look again")

// acceptStrike writes the voids.
func (a app) acceptStrike() (tea.Model, tea.Cmd) {
	s, b := &a.journal.strike, a.journal.batch
	reason := strings.TrimSpace(s.input.Value())
	if err := (model.Void{Entry: s.id, Reason: reason}).Validate(); err != nil {
		s.trouble = words.PlainError(err)
		return a, nil
	}
	s.saving, s.ticket = true, a.newTicket()
	return a, turnTogether(a.opts.Store, s.ticket, b.ID, s.id, reason, s.back, a.opts.Now(), s.said)
}

// turnTogether strikes an entry out or brings it back, with its other sides, in the
// journals as they are by now.
func turnTogether(s Store, t ticket, id model.BatchID, entry model.EntryID, reason string, back bool, now time.Time, said string) tea.Cmd {
	return func() tea.Msg {
		b, err := s.Batch(id)
		if err != nil {
			return writeFailedMsg{t, err}
		}
		partners, err := readEach(s, b.Partners(entry))
		if err != nil {
			return writeFailedMsg{t, err}
		}
		writings, turnsBack, err := b.TurnTogether(entry, reason, now, partners...)
		if err == nil && turnsBack != back {
			err = errTurnedMeanwhile
		}
		if err != nil {
			return writeFailedMsg{t, err}
		}
		if len(writings) == 1 {
			return appendEntries(s, t, id, now, said, writings[0].Entries...)()
		}
		batches, err := s.Write(writings...)
		return writtenTogether(t, batches, err, now, said)
	}
}

// written closes the line.
func (s *strikeLine) written() { s.open, s.saving, s.ticket = false, false, 0 }

// failed keeps the reason and says why nothing was written.
func (s *strikeLine) failed(why string) { s.saving, s.ticket, s.trouble = false, 0, why }

// view draws the question, what follows, and the line for the reason.
func (s strikeLine) view(w int, st *Styles) []string {
	g := s.opts.Glyphs
	lines := indented(wrap(g.text(s.question), w-4), st.Strong.Render)
	lines = lines[:min(len(lines), explainMost)]
	for _, text := range s.also {
		lines = append(lines, indented(wrap(g.text(text), w-4), st.Plain.Render)...)
	}
	follows := make([]string, len(s.follows))
	for i, text := range s.follows {
		follows[i] = g.text(text)
	}
	lines = append(lines, flow(follows, w, "   ")...)
	for _, c := range s.cautions {
		lines = append(lines, indented(wrap(g.text(c), w-4), st.Warn.Render)...)
	}
	switch {
	case s.saving:
		lines = append(lines, "  "+st.Muted.Render("saving"))
	case s.trouble != "":
		lines = append(lines, indented(wrap(g.text(s.trouble), w-4), st.Bad.Render)...)
	}
	prompt := "  " + st.Muted.Render("why, if you like ")
	return append(lines, prompt+typedIn(s.input, w-width(prompt)-1))
}
