package ui

import (
	"strings"
	"time"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// field is one line of a form: typed text, or a choice of words.
type field struct {
	name    string
	hint    string
	input   textinput.Model
	choices []string
	choice  int
}

func textField(name, hint, value string) field {
	in := textinput.New()
	in.Prompt = ""
	in.CharLimit = 300
	in.Cursor.SetMode(cursor.CursorStatic)
	in.SetValue(value)
	return field{name: name, hint: hint, input: in}
}

func choiceField[T ~string](name string, words []T) field {
	f := field{name: name, choices: make([]string, len(words))}
	for i, w := range words {
		f.choices[i] = string(w)
	}
	return f
}

func (f field) value() string {
	if f.choices != nil {
		return f.choices[f.choice]
	}
	return strings.TrimSpace(f.input.Value())
}

// formPane asks for the few things that a new vessel or a new batch needs.
type formPane struct {
	opts    Options
	keys    formKeys
	title   string
	fields  []field
	at      int
	row     model.Row // the vessel, for a batch
	ticket  ticket
	saving  bool
	trouble string
}

func newFormPane(o Options) formPane { return formPane{opts: o, keys: newFormKeys()} }

// The fields of the two forms, by place.
const (
	vesselLabel = iota
	vesselKind
	vesselCapacity
	vesselPlace
)

const (
	batchName = iota
	batchDrink
	batchVolume
	batchGravity
	batchIngredients
	batchYeast
	batchWhen
)

// openVessel asks for a new vessel.
func (p *formPane) openVessel() {
	p.row = model.Row{}
	p.open("A new vessel", []field{
		vesselLabel:    textField("label", "what is written on it, such as N1", ""),
		vesselKind:     choiceField("kind", model.VesselKinds()),
		vesselCapacity: textField("holds", "23L or 6gal", ""),
		vesselPlace:    textField("place", "may stay empty", ""),
	})
}

// openBatch asks for a new batch in the vessel of row.
func (p *formPane) openBatch(row model.Row) {
	p.row = row
	p.open("A new batch in "+row.Vessel.Label, []field{
		batchName:        textField("name", "such as Heather mead", ""),
		batchDrink:       choiceField("drink", model.Drinks()),
		batchVolume:      textField("volume", "19L or 5gal", ""),
		batchGravity:     textField("gravity", "1.098, or empty to compute it from what went in", ""),
		batchIngredients: textField("made of", "honey 5.5kg, sugar 300g; may stay empty", ""),
		batchYeast:       choiceField("yeast", append([]model.YeastGroup{notYet}, model.YeastGroups()...)),
		batchWhen:        textField("when", "now, 2d, yesterday, 20nov", "now"),
	})
}

// notYet stands for a must with no yeast in it yet.
const notYet model.YeastGroup = "not pitched yet"

func (p *formPane) open(title string, fields []field) {
	p.title, p.fields, p.saving, p.trouble = title, fields, false, ""
	p.focusField(0)
}

func (p *formPane) focusField(i int) {
	n := len(p.fields)
	p.at = (i + n) % n
	for j := range p.fields {
		p.fields[j].input.Blur()
	}
	if p.fields[p.at].choices == nil {
		p.fields[p.at].input.Focus()
	}
}

// failed keeps everything typed and says why nothing was written.
func (p *formPane) failed(why string) { p.saving, p.trouble = false, why }

// vesselLabel returns the label of the vessel the form is about.
func (p formPane) vesselLabel() string {
	if p.row.Vessel.ID != 0 {
		return p.row.Vessel.Label
	}
	return p.fields[vesselLabel].value()
}

// vessel returns the vessel as typed.
func (p formPane) vessel(now time.Time) (model.Vessel, error) {
	capacity, err := model.ParseVolume(p.fields[vesselCapacity].value())
	if err != nil {
		return model.Vessel{}, err
	}
	v := model.Vessel{
		Label:    p.fields[vesselLabel].value(),
		Kind:     model.VesselKind(p.fields[vesselKind].value()),
		Capacity: capacity,
		Place:    p.fields[vesselPlace].value(),
		Added:    now,
	}
	return v, v.Validate()
}

// batch returns the batch as typed, with its first entries.
func (p formPane) batch(now time.Time) (model.Batch, error) {
	f := p.fields
	var b model.Batch
	at, err := model.ParseWhen(f[batchWhen].value(), now)
	if err != nil {
		return b, err
	}
	must := model.Must{Vessel: p.row.Vessel.ID}
	if must.Volume, err = model.ParseVolume(f[batchVolume].value()); err != nil {
		return b, err
	}
	if must.Gravity, err = optionalGravity(f[batchGravity].value()); err != nil {
		return b, err
	}
	if must.Ingredients, err = model.ParsePortions(p.opts.Sweeteners, f[batchIngredients].value()); err != nil {
		return b, err
	}
	b = model.Batch{Name: f[batchName].value(), Drink: model.Drink(f[batchDrink].value())}
	b.Entries = []model.Entry{{At: at, Recorded: now, Body: must}}
	if yeast := model.YeastGroup(f[batchYeast].value()); yeast != notYet {
		b.Entries = append(b.Entries, model.Entry{At: at, Recorded: now, Body: model.Pitch{Yeast: yeast}})
	}
	return b, model.CheckStart(b, p.row.Vessel)
}

func optionalGravity(text string) (calc.SG, error) {
	if text == "" {
		return 0, nil
	}
	return model.ParseGravity(text)
}

// openBatchForm asks for a batch in the selected vessel, if it is free.
func (a app) openBatchForm() (tea.Model, tea.Cmd) {
	row, ok := a.shelf.selected()
	switch {
	case !ok:
		a.status = status{a.shelf.whyNoBatch(), saidPlain}
	case !row.Empty():
		a.status = status{row.Vessel.Label + " holds " + row.Batch.Name + "; choose an empty vessel", saidPlain}
	default:
		a.form.openBatch(row)
		a.enter(onForm)
	}
	return a, nil
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
	default:
		f.input, _ = f.input.Update(k)
		p.trouble = ""
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
	now := a.opts.Now()
	if p.row.Vessel.ID == 0 {
		v, err := p.vessel(now)
		if err != nil {
			return a.refuseForm(err)
		}
		p.saving, p.ticket = true, a.newTicket()
		return a, addVessel(a.opts.Store, p.ticket, v)
	}
	b, err := p.batch(now)
	if err != nil {
		return a.refuseForm(err)
	}
	p.saving, p.ticket = true, a.newTicket()
	return a, startBatch(a.opts.Store, p.ticket, b, now)
}

// refuseForm moves on where the person is plainly not done, and otherwise says
// what is wrong.
func (a app) refuseForm(err error) (tea.Model, tea.Cmd) {
	p := &a.form
	if last := len(p.fields) - 1; p.at < last && p.unfilledAfter(p.at) {
		p.focusField(p.at + 1)
		return a, nil
	}
	p.trouble = plainError(err)
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
		pointer := "  "
		if i == p.at {
			pointer = st.Key.Render(g.Pointer) + " "
		}
		lines = append(lines, pointer+st.Muted.Render(fit(f.name, 9))+" "+f.view(i == p.at, w-13, g, st))
		if i == p.at && f.hint != "" {
			lines = append(lines, repeat(" ", 12)+st.Muted.Render(cut(f.hint, w-12)))
		}
	}
	lines = append(lines, "")
	if p.saving {
		lines = append(lines, "  "+st.Muted.Render("saving"))
	}
	if p.trouble != "" {
		lines = append(lines, indented(wrap(p.opts.Glyphs.text(p.trouble), w-4), st.Bad.Render)...)
	}
	return padLines(lines, w, h)
}

func (f field) view(focused bool, w int, g Glyphs, st *Styles) string {
	if f.choices == nil {
		in := f.input
		in.Width = max(4, w-1)
		return in.View()
	}
	word := st.Strong.Render(f.choices[f.choice])
	if focused {
		return st.Key.Render(g.Left+" ") + word + st.Key.Render(" "+g.Right)
	}
	return "  " + word
}
