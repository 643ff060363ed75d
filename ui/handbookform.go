package ui

import (
	"fmt"
	"maps"
	"slices"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// rowFormPane asks for a row of a person's own: its fields are those of the table,
// and with every key it says what the row would be.
type rowFormPane struct {
	opts    Options
	keys    formKeys
	title   string
	table   model.Table
	row     model.RowText // as it was opened
	asked   []model.RowField
	fields  []field
	at      int
	ticket  ticket
	saving  bool
	trouble string
}

func newRowFormPane(o Options) rowFormPane { return rowFormPane{opts: o, keys: newFormKeys()} }

// open shows the form of a row.
func (p *rowFormPane) open(table model.Table, title string, row model.RowText) {
	p.table, p.title, p.row, p.asked = table, title, row, model.RowFields(table)
	p.saving, p.trouble, p.ticket = false, "", 0
	p.fields = make([]field, len(p.asked))
	for i, f := range p.asked {
		value := f.Of(row)
		if f.Choices == nil {
			p.fields[i] = textField(f.Name, f.Hint, value)
			continue
		}
		choices := f.Choices
		if value != "" && !slices.Contains(choices, value) {
			choices = append([]string{value}, choices...)
		}
		p.fields[i] = choiceField(f.Name, choices)
		p.fields[i].choice = max(0, slices.Index(choices, value))
	}
	p.at = focusOn(p.fields, 0)
}

// name is the name as typed.
func (p rowFormPane) name() string { return p.fields[0].value() }

// typed returns the row as typed, and which field is wrong if one is.
func (p rowFormPane) typed() (model.RowText, int, error) {
	row := maps.Clone(p.row)
	for i, f := range p.asked {
		if err := f.Put(row, p.fields[i].value()); err != nil {
			return nil, i, err
		}
	}
	return row, 0, nil
}

// failed keeps everything typed and says why nothing was written.
func (p *rowFormPane) failed(why string) { p.saving, p.trouble = false, why }

// rowFormKey answers a key in the form of a row.
func (a app) rowFormKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	p := &a.rowForm
	if p.saving {
		return a, nil
	}
	f := &p.fields[p.at]
	switch {
	case key.Matches(k, p.keys.Cancel):
		a.leave()
	case key.Matches(k, p.keys.Next):
		p.at = focusOn(p.fields, p.at+1)
	case key.Matches(k, p.keys.Prev):
		p.at = focusOn(p.fields, p.at-1)
	case key.Matches(k, p.keys.Accept):
		return a.acceptRow()
	case f.choices != nil:
		f.choose(k, p.keys)
	default:
		f.input, _ = f.input.Update(k)
		p.trouble = ""
	}
	return a, nil
}

// choose answers a key on a field of choices.
func (f *field) choose(k tea.KeyMsg, keys formKeys) {
	switch {
	case key.Matches(k, keys.Right), k.Type == tea.KeySpace:
		f.choice = (f.choice + 1) % len(f.choices)
	case key.Matches(k, keys.Left):
		f.choice = (f.choice - 1 + len(f.choices)) % len(f.choices)
	case k.Type == tea.KeyRunes:
		f.chooseByLetter(k.String())
	}
}

// acceptRow writes the row, or goes on where the person is plainly not done.
func (a app) acceptRow() (tea.Model, tea.Cmd) {
	p := &a.rowForm
	row, at, err := p.typed()
	if err != nil {
		p.at = focusOn(p.fields, at)
		p.trouble = words.PlainError(err)
		return a, nil
	}
	if _, err := a.opts.Handbook.Try(p.table, row); err != nil {
		if p.unfilledAfter() {
			p.at = focusOn(p.fields, p.at+1)
			return a, nil
		}
		p.trouble = words.PlainError(err)
		return a, nil
	}
	p.saving, p.ticket = true, a.newTicket()
	return a, keepRow(a.opts.Handbook, p.ticket, p.table, row)
}

// unfilledAfter reports whether a text field after the one in focus is still empty.
func (p rowFormPane) unfilledAfter() bool {
	return slices.ContainsFunc(p.fields[p.at+1:], func(f field) bool { return f.choices == nil && f.value() == "" })
}

// view draws the form in w by h cells: the fields around the one in focus, and under
// them what the row would be.
func (p rowFormPane) view(w, h int, say words.Words, st *Styles) []string {
	g := p.opts.Glyphs
	var lines []string
	focused := 0
	for i, f := range p.fields {
		if i == p.at {
			focused = len(lines)
		}
		lines = append(lines, f.line(i == p.at, formNames, w, g, st))
		if i == p.at {
			lines = append(lines, f.hints(formNames, w, st)...)
		}
	}
	below := p.below(w, say, st)
	room := max(2, h-1-len(below))
	from := firstShown(focused, len(lines), room)
	lines = lines[from:min(len(lines), from+room)]
	out := append([]string{rule(g.text(p.title), w, g, st)}, padLines(lines, w, room)...)
	return padLines(append(out, below...), w, h)
}

// below says what the row would be, or what is still wrong.
func (p rowFormPane) below(w int, say words.Words, st *Styles) []string {
	lines := []string{""}
	add := func(text string, style func(...string) string) {
		lines = append(lines, indented(wrap(say.Text(text), w-4), style)...)
	}
	switch {
	case p.saving:
		add("saving", st.Muted.Render)
		return lines
	case p.trouble != "":
		add(p.trouble, st.Bad.Render)
		return lines
	}
	row, _, err := p.typed()
	if err != nil {
		add("not yet: "+words.PlainError(err), st.Muted.Render)
		return lines
	}
	s, err := p.opts.Handbook.Try(p.table, worded(row))
	if err != nil { // the figures
		add("not yet: "+words.PlainError(err), st.Muted.Render)
		return lines
	}
	add(fmt.Sprintf("yeast can use %s of 100 g; %s", say.PerHundred(s.Gram().Fermentable()), worthText(s, say)), st.Plain.Render)
	if _, err := p.opts.Handbook.Try(p.table, row); err != nil {
		add("not yet: "+words.PlainError(err), st.Muted.Render)
	}
	return lines
}

// worded returns the row with a word wherever one is wanted, to see what its figures
// come to.
func worded(row model.RowText) model.RowText {
	out := maps.Clone(row)
	for _, c := range []string{"name", "form", "source", "checked"} {
		if out[c] == "" {
			out[c] = "?"
		}
	}
	return out
}
