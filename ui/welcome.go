package ui

import (
	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/model"
)

// welcomePane is the first screen of all: there is no cellar yet, and it offers
// to make one, saying where.
type welcomePane struct {
	opts    Options
	name    textinput.Model
	making  bool
	trouble string
}

func newWelcomePane(o Options) welcomePane {
	in := textinput.New()
	in.Prompt = ""
	in.CharLimit = 40
	in.Placeholder = "Cellar"
	in.Cursor.SetMode(cursor.CursorStatic)
	in.Focus()
	return welcomePane{opts: o, name: in}
}

// createFailedMsg says that the cellar could not be made.
type createFailedMsg struct{ err error }

// welcomeKey answers a key on the first screen.
func (a app) welcomeKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	p := &a.welcome
	switch k.Type {
	case tea.KeyEsc, tea.KeyCtrlC:
		return a.quit()
	case tea.KeyEnter:
		if p.making {
			return a, nil
		}
		p.making, p.trouble = true, ""
		a.saving++
		name := p.name.Value()
		if name == "" {
			name = p.name.Placeholder
		}
		create := p.opts.Create
		return a, func() tea.Msg {
			s, err := create(model.Settings{CellarName: name})
			if err != nil {
				return createFailedMsg{err}
			}
			return storeReadyMsg{s}
		}
	}
	p.name, _ = p.name.Update(k)
	return a, nil
}

// view draws the first screen in w by h cells.
func (p welcomePane) view(w, h int, st *Styles) []string {
	lines := []string{"", "  " + st.Title.Render("glassrow"), ""}
	add := func(text string, style func(...string) string) {
		lines = append(lines, indented(wrap(p.opts.Glyphs.text(text), w-4), style)...)
	}
	add("There is no cellar yet. Enter makes one, in this file:", st.Plain.Render)
	add(p.opts.Path, st.Strong.Render)
	lines = append(lines, "", "  "+st.Muted.Render("called ")+typedIn(p.name, w-10), "")
	if p.making {
		add("making it", st.Muted.Render)
	}
	if p.trouble != "" {
		add(p.trouble, st.Bad.Render)
		lines = append(lines, "")
	}
	add("Only you are given the right to read it. To look around first, leave and run: glassrow demo", st.Muted.Render)
	return padLines(lines, w, h)
}

// footer names the keys of the first screen.
func (welcomePane) footer(st *Styles) string {
	return keyHint("enter", "make the cellar", st) + "  " + keyHint("esc", "leave", st)
}
