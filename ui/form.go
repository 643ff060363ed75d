package ui

import (
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

// field is one line of a form: typed text, or a choice of words.
type field struct {
	name    string
	hint    string
	input   textinput.Model
	choices []string
	choice  int

	// What may be typed there, of all that begins so; nil: nothing is offered. picked
	// counts those that were taken in turn, for what was typed before: typed.
	offers func(begun string) []string
	typed  string
	picked int

	usual bool // the text is what is usual, and makes way for what is typed

	check func(string) error // what is wrong with it by itself, told when the cursor has left it
}

func textField(name, hint, value string) field {
	in := textinput.New()
	in.Prompt = ""
	in.CharLimit = 300
	in.Cursor.SetMode(cursor.CursorStatic)
	in.SetValue(value)
	return field{name: name, hint: hint, input: in}
}

// usually returns a field that holds what is usual: the first letter typed takes its
// place, while any other key goes on from it.
func usually(name, hint, value string) field {
	f := textField(name, hint, value)
	f.usual = true
	return f
}

func choiceField[T ~string](name string, words []T) field {
	f := field{name: name, choices: make([]string, len(words))}
	for i, w := range words {
		f.choices[i] = string(w)
	}
	return f
}

// offering returns the field with names to complete what is typed.
func (f field) offering(offers func(string) []string) field {
	f.offers = offers
	return f
}

// checked returns the field with what can be wrong with it by itself.
func (f field) checked(check func(string) error) field {
	f.check = check
	return f
}

// parses is a check by what will understand the text.
func parses[T any](parse func(string) (T, error)) func(string) error {
	return func(text string) error {
		_, err := parse(text)
		return err
	}
}

// wrong returns what is wrong with what is typed; nothing is not wrong.
func (f field) wrong() error {
	if f.check == nil || f.value() == "" {
		return nil
	}
	return f.check(f.value())
}

// offered returns what would complete the text now, or would have when it was picked.
func (f field) offered() []string {
	switch {
	case f.offers == nil:
		return nil
	case f.picked > 0:
		return f.offers(f.typed)
	}
	return f.offers(f.value())
}

// pick completes the text with the next name offered, or the one before, where the
// cursor is at its end; it reports whether there was one.
func (f *field) pick(by int) bool {
	all := f.offered()
	if len(all) == 0 || f.input.Position() < len([]rune(f.input.Value())) || f.picked == 0 && by < 0 {
		return false
	}
	if f.picked == 0 {
		f.typed = f.value()
	}
	f.picked += by
	text := f.typed // from the first one goes back to what was typed
	if f.picked > 0 {
		f.picked = (f.picked-1)%len(all) + 1
		text = all[f.picked-1] + " "
	}
	f.input.SetValue(text)
	f.input.CursorEnd()
	return true
}

func (f field) value() string {
	if f.choices != nil {
		return f.choices[f.choice]
	}
	return strings.TrimSpace(f.input.Value())
}

// formPane asks for the few things that something new needs. What it makes of them
// is up to the form that was opened; see forms.go.
type formPane struct {
	opts    Options
	keys    formKeys
	title   string
	fields  []field
	at      int
	row     model.Row // the vessel it is about; without one for a new vessel
	make    formMaker
	ticket  ticket
	saving  bool
	trouble string
	note    string // a caution that belongs to the form

	// What will come of it, for forms that change what is in the glass: coming tells it,
	// told is what it said of what is typed now. Where that depends on another batch than
	// the one on the screen, wants says on which; others are those read so far.
	coming func(p formPane, now time.Time) []string
	told   []string
	doubts func(p formPane, now time.Time) []string // what speaks against it
	warned []string
	wants  func(p formPane) model.BatchID
	others map[model.BatchID]model.Batch
}

// formMaker turns what was typed into the write to make. It is asked with a fresh
// ticket number, which it hands to the command.
type formMaker func(p formPane, s Store, t ticket, now time.Time) (tea.Cmd, error)

func newFormPane(o Options) formPane { return formPane{opts: o, keys: newFormKeys()} }

// open shows a form about the vessel in row.
func (p *formPane) open(title string, row model.Row, fields []field, make formMaker) {
	p.title, p.row, p.fields, p.make = title, row, fields, make
	p.saving, p.trouble, p.note = false, "", ""
	p.coming, p.told, p.wants, p.others = nil, nil, nil, nil
	p.doubts, p.warned = nil, nil
	p.focusField(0)
}

// retell tells anew what will come of what is typed.
func (p *formPane) retell(now time.Time) {
	p.told, p.warned = nil, nil
	if p.coming != nil {
		p.told = p.coming(*p, now)
	}
	if p.doubts != nil {
		p.warned = p.doubts(*p, now)
	}
}

// unread returns the batch that the form needs to read, if any.
func (p formPane) unread() (model.BatchID, bool) {
	if p.wants == nil {
		return 0, false
	}
	id := p.wants(p)
	_, read := p.others[id]
	return id, id != 0 && !read
}

func (p *formPane) focusField(i int) { p.at = focusOn(p.fields, i) }

// focusOn gives the i-th field the cursor, counting round, and returns which that is.
func focusOn(fields []field, i int) int {
	n := len(fields)
	at := (i + n) % n
	for j := range fields {
		fields[j].input.Blur()
	}
	if fields[at].choices == nil {
		fields[at].input.Focus()
	}
	return at
}

// failed keeps everything typed and says why nothing was written.
func (p *formPane) failed(why string) { p.saving, p.trouble = false, why }

// vesselless reports whether the form is about a batch that needs no vessel.
func (p formPane) vesselless() bool { return p.row.Vessel.ID == 0 && p.row.Batch.Batch != 0 }

// vesselLabel returns the label of the vessel the form is about.
func (p formPane) vesselLabel() string {
	if p.row.Vessel.ID != 0 {
		return p.row.Vessel.Label
	}
	return p.fields[vesselLabel].value()
}

// formKey answers a key in a form.
func (a app) formKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	p := &a.form
	if p.saving {
		return a, nil
	}
	f := &p.fields[p.at]
	switch {
	case key.Matches(k, p.keys.Cancel):
		a.leave()
		return a, nil
	case key.Matches(k, p.keys.Next):
		p.focusField(p.at + 1)
	case key.Matches(k, p.keys.Prev):
		p.focusField(p.at - 1)
	case key.Matches(k, p.keys.Accept):
		return a.acceptForm()
	case f.choices != nil:
		switch {
		case key.Matches(k, p.keys.Right), k.Type == tea.KeySpace:
			f.choice = (f.choice + 1) % len(f.choices)
		case key.Matches(k, p.keys.Left):
			f.choice = (f.choice - 1 + len(f.choices)) % len(f.choices)
		case k.Type == tea.KeyRunes:
			f.chooseByLetter(k.String())
		}
	case key.Matches(k, p.keys.Right) && f.pick(+1), key.Matches(k, p.keys.Left) && f.pick(-1):
		p.trouble = ""
	default:
		if f.usual && (k.Type == tea.KeyRunes || k.Type == tea.KeySpace) {
			f.input.SetValue("")
		}
		f.usual = false
		f.input, _ = f.input.Update(k)
		f.picked, p.trouble = 0, ""
	}
	p.retell(a.opts.Now())
	if id, unread := p.unread(); unread {
		return a, loadOther(a.opts.Store, id)
	}
	return a, nil
}

// chooseByLetter goes to the next word that begins with what was typed.
func (f *field) chooseByLetter(s string) {
	for i := 1; i <= len(f.choices); i++ {
		next := (f.choice + i) % len(f.choices)
		if strings.HasPrefix(f.choices[next], strings.ToLower(s)) {
			f.choice = next
			return
		}
	}
}

// acceptForm goes on to the next empty field, or writes what was typed.
func (a app) acceptForm() (tea.Model, tea.Cmd) {
	p := &a.form
	cmd, err := p.make(*p, a.opts.Store, a.lastTicket+1, a.opts.Now())
	if err != nil {
		return a.refuseForm(err)
	}
	p.saving, p.ticket = true, a.newTicket()
	return a, cmd
}

// refuseForm moves on where the person is plainly not done, and otherwise says
// what is wrong.
func (a app) refuseForm(err error) (tea.Model, tea.Cmd) {
	p := &a.form
	if last := len(p.fields) - 1; p.at < last && p.unfilledAfter(p.at) {
		p.focusField(p.at + 1)
		return a, nil
	}
	p.trouble = words.PlainError(err)
	if i := slices.IndexFunc(p.fields, func(f field) bool { return f.wrong() != nil }); i >= 0 {
		p.focusField(i) // where it is put right
		p.trouble = words.PlainError(p.fields[i].wrong())
	}
	return a, nil
}

// unfilledAfter reports whether a text field after the i-th is still empty.
func (p formPane) unfilledAfter(i int) bool {
	for _, f := range p.fields[i+1:] {
		if f.choices == nil && f.value() == "" {
			return true
		}
	}
	return false
}

// view draws the form in w by h cells.
func (p formPane) view(w, h int, st *Styles) []string {
	g := p.opts.Glyphs
	lines := []string{rule(p.opts.Glyphs.text(p.title), w, g, st), ""}
	for i, f := range p.fields {
		lines = append(lines, f.line(i == p.at, formNames, w, g, st))
		if i == p.at {
			lines = append(lines, f.hints(formNames, w, st)...)
		}
		if err := f.wrong(); i != p.at && err != nil {
			lines = append(lines, indented(wrap(g.text(words.PlainError(err)), w-4), st.Warn.Render)...)
		}
		if all := f.offered(); i == p.at && len(all) > 0 {
			lines = append(lines, repeat(" ", 12)+st.Key.Render(g.Right)+" "+st.Muted.Render(cut(g.text(strings.Join(all, ", ")), w-14)))
		}
	}
	lines = append(lines, "")
	for _, text := range p.told {
		lines = append(lines, indented(wrap(g.text(text), w-4), st.Strong.Render)...)
	}
	for _, text := range p.warned {
		lines = append(lines, indented(wrap(g.text(text), w-4), st.Warn.Render)...)
	}
	if p.note != "" {
		lines = append(lines, indented(wrap(p.note, w-4), st.Warn.Render)...)
	}
	if p.saving {
		lines = append(lines, "  "+st.Muted.Render("saving"))
	}
	if p.trouble != "" {
		lines = append(lines, indented(wrap(p.opts.Glyphs.text(p.trouble), w-4), st.Bad.Render)...)
	}
	return padLines(lines, w, h)
}

// formNames is room for the name of a field.
const formNames = 9

// line draws the field in w cells: a mark if it has the focus, its name in so many
// cells, and from one column on what is typed or chosen, so that nothing jumps when the
// focus comes.
func (f field) line(focused bool, names, w int, g Glyphs, st *Styles) string {
	pointer, name := "  ", fit(f.name, names)+" "
	if focused {
		pointer = st.Key.Render(g.Pointer) + " "
	}
	switch {
	case f.choices == nil && focused:
		return pointer + st.Muted.Render(name) + typedIn(f.input, w-names-3)
	case f.choices == nil:
		return pointer + st.Muted.Render(name) + cut(g.text(f.input.Value()), w-names-3)
	}
	word := st.Strong.Render(cut(g.text(f.choices[f.choice]), w-names-5))
	if !focused {
		return pointer + st.Muted.Render(name) + word
	}
	return pointer + st.Muted.Render(fit(f.name, names-1)) + st.Key.Render(g.Left+" ") + word + st.Key.Render(" "+g.Right)
}

// hints says under the field what it wants.
func (f field) hints(names, w int, st *Styles) []string {
	if f.hint == "" {
		return nil
	}
	lines := wrap(f.hint, w-names-3)
	for i, l := range lines {
		lines[i] = repeat(" ", names+3) + st.Muted.Render(l)
	}
	return lines
}
