package ui

import (
	"errors"
	"fmt"
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

// openStrike asks about the entry under the cursor.
func (a *app) openStrike() {
	p := &a.journal
	a.status = status{}
	t, ok := p.selected()
	if !ok {
		return
	}
	voids, back, err := p.batch.Turn(t.ID, "")
	if err != nil {
		a.status = status{words.PlainError(err), saidPlain}
		return
	}
	if v, void := t.Body.(model.Void); void {
		t = p.told(v.Entry)
	}
	now, say := a.opts.Now(), a.words()
	what := say.Entry(t.Body, a.shelf.label)
	s := &p.strike
	s.open, s.saving, s.trouble, s.id, s.back = true, false, "", t.ID, back
	s.input.Reset()
	s.input.Focus()
	when := dayText(dateOf(t.At, now), now) + t.At.In(now.Location()).Format(" 15:04")
	s.keys.Accept.SetHelp("enter", "strike out")
	s.question, s.said = fmt.Sprintf("Strike this out of %s? %s: %s", p.batch.Name, when, what), "struck out: "+what
	s.cautions = nil
	if back {
		s.keys.Accept.SetHelp("enter", "bring back")
		s.question, s.said = fmt.Sprintf("Bring this back into %s? %s: %s", p.batch.Name, when, what), "brought back: "+what
	} else if len(model.Others(p.batch.Deed(t.Entry))) > 0 {
		s.cautions = []string{"What was written together with it in another batch stays."}
	}
	s.follows = a.whatFollows(voidEntries(voids, now))
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

func voidEntries(voids []model.Void, now time.Time) []model.Entry {
	entries := make([]model.Entry, len(voids))
	for i, v := range voids {
		entries[i] = model.Entry{At: now, Recorded: now, Body: v}
	}
	return entries
}

// whatFollows says which figures more entries would change.
func (a app) whatFollows(more []model.Entry) []string {
	b, now := a.journal.batch, a.opts.Now()
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

// acceptStrike writes the voids, against the journal as it is by now.
func (a app) acceptStrike() (tea.Model, tea.Cmd) {
	s, b, now := &a.journal.strike, a.journal.batch, a.opts.Now()
	voids, back, err := b.Turn(s.id, strings.TrimSpace(s.input.Value()))
	if err == nil && back != s.back {
		err = errTurnedMeanwhile
	}
	for _, v := range voids {
		if err == nil {
			err = v.Validate()
		}
	}
	if err != nil {
		s.trouble = words.PlainError(err)
		return a, nil
	}
	s.saving, s.ticket = true, a.newTicket()
	return a, appendEntries(a.opts.Store, s.ticket, b.ID, now, s.said, voidEntries(voids, now)...)
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
	lines = append(lines, flow(s.follows, w, "   ")...)
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
	in := s.input
	in.Width = max(8, w-width(prompt)-2)
	return append(lines, prompt+in.View())
}
