package ui

import (
	"fmt"
	"strings"
	"time"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// entryLine is where a reading or a note is typed. It says what it understood
// before anything is written, asks once about what is odd, and keeps the text
// until the entry is on disk.
type entryLine struct {
	opts     Options
	keys     lineKeys
	input    textinput.Model
	settings model.Settings

	label   string // of the vessel
	tare    calc.Gram
	batch   model.Batch
	before  model.Awaited // how it stands, so that no key has to work that out
	note    bool          // a note, not a reading
	ticket  ticket
	saving  bool
	asked   string // the surprising text that was already asked about
	trouble string // why the last try was refused
	begun   string // what was typed for the person, such as so2=

	round []model.Row // the walk, when there is one
	step  int
}

func newEntryLine(o Options) entryLine {
	in := textinput.New()
	in.Prompt = ""
	in.CharLimit = 400
	in.Cursor.SetMode(cursor.CursorStatic) // a blinking cursor would talk all night over SSH
	return entryLine{opts: o, keys: newLineKeys().inRound(false), input: in}
}

// openReading asks for a reading of the batch in row.
func (e *entryLine) openReading(row model.Row, b model.Batch) { e.start(row, b, false) }

// openNote asks for a note.
func (e *entryLine) openNote(row model.Row, b model.Batch) { e.start(row, b, true) }

func (e *entryLine) start(row model.Row, b model.Batch, note bool) {
	e.round, e.step = nil, 0
	e.keys = e.keys.inRound(false)
	e.aim(row, b, note)
}

// aim points the empty line at a batch.
func (e *entryLine) aim(row model.Row, b model.Batch, note bool) {
	e.label, e.tare, e.batch, e.note = row.Vessel.Label, row.Vessel.Tare, b, note
	e.before = b.Awaiting(e.opts.Now())
	e.saving, e.asked, e.trouble, e.begun = false, "", "", ""
	e.input.Reset()
	e.input.Focus()
}

// begin types the beginning of what is wanted.
func (e *entryLine) begin(text string) {
	e.begun = text
	e.input.SetValue(text)
	e.input.CursorEnd()
}

// setBatch takes a fresh read of the batch being written about.
func (e *entryLine) setBatch(b model.Batch) {
	if b.ID == e.batch.ID {
		e.batch, e.before = b, b.Awaiting(e.opts.Now())
	}
}

// failed keeps the line open and says why nothing was written.
func (e *entryLine) failed(why string) { e.saving, e.trouble = false, why }

// update gives a key to the text.
func (e entryLine) update(k tea.KeyMsg) entryLine {
	if e.saving {
		return e
	}
	before := e.input.Value()
	e.input, _ = e.input.Update(k)
	if e.input.Value() != before {
		e.trouble = ""
	}
	return e
}

// entry returns what the text says as a journal entry, and what to tell the
// person once it is written. An odd reading comes back as a question the first
// time.
func (e *entryLine) entry(now time.Time, say words.Words) (entry model.Entry, said string, err error) {
	text := e.input.Value()
	if e.note {
		n := model.Note{Text: strings.TrimSpace(text)}
		return model.Entry{At: now, Recorded: now, Body: n}, e.label + ": noted", n.Validate()
	}
	r, at, err := model.ParseDatedReading(text, now, e.settings)
	if err != nil {
		return model.Entry{}, "", err
	}
	got, err := model.Understand(e.batch, r, at)
	if err != nil {
		return model.Entry{}, "", err
	}
	if got.Surprise != "" && e.asked != text {
		e.asked = text
		return model.Entry{}, "", surpriseError(got.Surprise)
	}
	return model.Entry{At: at, Recorded: now, Body: r}, e.label + ": " + r.String() + " written down; u undoes it", nil
}

// surpriseError is a question, not a refusal: enter again accepts.
type surpriseError string

func (s surpriseError) Error() string { return string(s) }

// entryKey answers a key on the line.
func (a app) entryKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	e := &a.entry
	e.settings = a.shelf.shelf.Settings
	switch {
	case key.Matches(k, e.keys.Cancel):
		if e.saving {
			return a, nil
		}
		a.leave()
		a.status = status{}
		return a, nil
	case key.Matches(k, e.keys.Skip):
		return a.stepRound(+1)
	case key.Matches(k, e.keys.Back):
		return a.stepRound(-1)
	case key.Matches(k, e.keys.Accept):
		return a.acceptEntry()
	}
	a.entry = e.update(k)
	return a, nil
}

// acceptEntry writes what the line says, if it can.
func (a app) acceptEntry() (tea.Model, tea.Cmd) {
	e := &a.entry
	if e.saving {
		return a, nil
	}
	if strings.TrimSpace(e.input.Value()) == "" && e.round != nil {
		return a.stepRound(+1)
	}
	now := a.opts.Now()
	entry, said, err := e.entry(now, a.words())
	if err != nil {
		e.trouble = words.PlainError(err)
		if s, odd := err.(surpriseError); odd {
			e.trouble = "Odd: " + string(s) + ". Enter again writes it down all the same."
		}
		return a, nil
	}
	e.saving = true
	e.ticket = a.newTicket()
	return a, appendEntries(a.opts.Store, e.ticket, e.batch.ID, now, said, entry)
}

// entryWritten closes the line, or in a round goes on to the next vessel.
func (a *app) entryWritten() tea.Cmd {
	if a.entry.round == nil {
		a.leave()
		return nil
	}
	return a.nextInRound(+1)
}

// openRound walks the shelf in the order of the labels, one reading a vessel.
func (a app) openRound() (tea.Model, tea.Cmd) {
	walk := roundOf(a.shelf.rows)
	if len(walk) == 0 {
		a.status = status{"nothing to walk: no vessel has a batch in it", saidPlain}
		return a, nil
	}
	a.entry.round, a.entry.step = walk, -1
	a.entry.keys = a.entry.keys.inRound(true)
	a.enter(onEntry)
	a.status = status{}
	cmd := a.nextInRound(+1)
	return a, cmd
}

// roundOf returns the vessels with something in them, by label.
func roundOf(rows []model.Row) []model.Row {
	var walk []model.Row
	for _, r := range rows {
		if !r.Empty() {
			walk = append(walk, r)
		}
	}
	sortByLabel(walk)
	return walk
}

// stepRound goes on or back in a round; what is typed for this vessel is dropped
// only when there is nothing of it.
func (a app) stepRound(by int) (tea.Model, tea.Cmd) {
	if a.entry.round == nil || a.entry.saving {
		return a, nil
	}
	if strings.TrimSpace(a.entry.input.Value()) != "" && a.entry.trouble == "" {
		a.entry.trouble = "Not written yet: enter writes it down, tab again leaves it out."
		return a, nil
	}
	cmd := a.nextInRound(by)
	return a, cmd
}

// nextInRound points the line at the next vessel of the walk, or ends it.
func (a *app) nextInRound(by int) tea.Cmd {
	e := &a.entry
	step := e.step + by
	if step < 0 {
		step = 0
	}
	if step >= len(e.round) {
		a.leave()
		a.status = status{"the round is done", saidGood}
		return nil
	}
	row := e.round[step]
	e.step = step
	e.aim(row, model.Batch{ID: row.Batch.Batch}, false)
	a.shelf.selectLabel(row.Vessel.Label)
	if a.batch.shows(row.Batch.Batch) {
		e.batch = a.batch.batch
	}
	return loadBatch(a.opts.Store, row.Batch.Batch, a.opts.Now())
}

// view draws the line, and under it what was understood.
func (e entryLine) view(w int, now time.Time, say words.Words, st *Styles) []string {
	what := "reading of "
	if e.note {
		what = "note on "
	}
	prompt := st.Muted.Render(what) + st.Title.Render(e.opts.Glyphs.text(e.label)) + " "
	if e.round != nil {
		prompt = st.Muted.Render(fmt.Sprintf("%d of %d  ", e.step+1, len(e.round))) + prompt
	}
	return append([]string{prompt + typedIn(e.input, w-width(prompt)-1)}, e.understood(w, now, say, st)...)
}

// understood says what the text would mean, what is wrong with it, or what can
// be typed.
func (e entryLine) understood(w int, now time.Time, say words.Words, st *Styles) []string {
	said := func(text string, style func(...string) string) []string {
		lines := wrap(e.opts.Glyphs.text(text), w-1)
		for i, l := range lines {
			lines[i] = style(l)
		}
		return lines[:min(len(lines), explainMost)]
	}
	text := e.input.Value()
	switch {
	case e.saving:
		return said("saving", st.Muted.Render)
	case e.trouble != "":
		return said(e.trouble, st.Bad.Render)
	case strings.TrimSpace(text) == "" && e.note:
		return said("anything worth remembering", st.Muted.Render)
	case strings.TrimSpace(text) == "":
		return said(readingHint, st.Muted.Render)
	case e.note:
		return []string{""}
	case text == e.begun:
		return said(readingHint, st.Muted.Render)
	}
	r, at, err := model.ParseDatedReading(text, now, e.settings)
	if err != nil {
		return said(words.PlainError(err), st.Warn.Render)
	}
	if len(e.batch.Entries) == 0 {
		return []string{""} // in a round the journal may still be on its way
	}
	got, err := e.before.Understand(r, at)
	if err != nil {
		return said(words.PlainError(err), st.Warn.Render)
	}
	if got.Surprise != "" {
		return said("Odd: "+got.Surprise+". "+e.meaning(got, at, now, say), st.Warn.Render)
	}
	return said(e.meaning(got, at, now, say), st.Good.Render)
}

// readingHint is what can be typed.
const readingHint = "1.034  34  8.5bx  @21c  ph3.4  ta6.2  so2=25  24.6kg  18.5l  !2d ago  ; note"

// explainMost is how many lines an explanation may take from the screen above.
const explainMost = 4

// meaning is the sentence a reading stands for.
func (e entryLine) meaning(got model.Understood, at, now time.Time, say words.Words) string {
	var parts []string
	r := got.Reading
	if r.HasGravity() {
		sg := say.Gravity(r.Gravity)
		if r.HasTemperature {
			sg += " at " + say.Temperature(r.Temperature)
		}
		if r.HasTemperature || r.Scale != model.ScaleSG {
			sg += " " + say.Arrow() + " " + say.FineGravity(got.SG)
		}
		parts = append(parts, sg, say.Strength(got.Strength, got.PlusMinus), changeText(got, say))
	} else if r.HasTemperature {
		parts = append(parts, say.Temperature(r.Temperature))
	}
	if r.PH != 0 {
		parts = append(parts, fmt.Sprintf("pH %.2f", r.PH))
	}
	if r.Acid != 0 {
		parts = append(parts, fmt.Sprintf("acid %.2g g/L, as tartaric", float64(r.Acid)))
	}
	if r.HasFreeSO2 {
		parts = append(parts, fmt.Sprintf("free SO2 %.3g mg/L", float64(r.FreeSO2)))
	}
	parts = append(parts, e.heft(got, now, say)...)
	if now.Sub(at) > time.Hour {
		parts = append(parts, at.Format("Mon 2 Jan 15:04"))
	}
	return strings.Join(parts, "; ")
}

// heft says what the mass of the vessel and the level come to.
func (e entryLine) heft(got model.Understood, now time.Time, say words.Words) []string {
	var parts []string
	if k := got.Weighing; k.Entry != 0 {
		parts = say.Weighed(k, k.With(e.tare), now.Location())
		if e.tare == 0 && !k.Fruit {
			parts = append(parts, words.NoTare(e.label))
		}
	}
	if got.Level.Entry == 0 {
		return parts
	}
	text := say.Volume(got.Level.Seen) + " by its marks"
	if off := say.Levelled(got.Level); off != "" {
		text += ", " + off
	}
	return append(parts, text)
}

func changeText(got model.Understood, say words.Words) string {
	return say.WholePoints(got.Change) + " in " + words.Span(time.Duration(got.Days*24*float64(time.Hour)))
}
