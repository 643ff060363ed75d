package ui

import (
	"fmt"
	"maps"
	"slices"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// handbookPane is the tables of sweeteners and fruit: a list of one of them, searched
// and sorted, and one row in full.
type handbookPane struct {
	opts  Options
	keys  handbookKeys
	table model.Table
	lists map[model.Table]tableList // copied before it is changed

	search    textinput.Model
	searching bool
	looking   bool // at one row in full
	scroll    int  // lines of it that are above the screen

	worth   map[string]calc.SG // of 100 g in a litre, by id
	trouble string             // why the tables are not as the files have them
	ticket  ticket
}

// tableList is how a table is listed.
type tableList struct {
	rows   []model.Stuff // found and sorted
	words  string        // searched for
	order  model.Order
	cursor int
}

func newHandbookPane(o Options) handbookPane {
	in := textinput.New()
	in.Prompt = ""
	in.CharLimit = 60
	in.Cursor.SetMode(cursor.CursorStatic)
	p := handbookPane{opts: o, keys: newHandbookKeys().writing(o.Handbook != nil), table: model.SweetenerTable, search: in, lists: map[model.Table]tableList{}}
	for _, t := range model.Tables() {
		p.lists[t] = tableList{order: model.AsListed}
	}
	return p
}

func (p handbookPane) larder() model.Larder {
	return model.Larder{Sweeteners: p.opts.Sweeteners, Fruits: p.opts.Fruits}
}

func (p handbookPane) list() tableList { return p.lists[p.table] }

// change alters how the shown table is listed, and lists it anew with the cursor on
// the same row if it is still there.
func (p *handbookPane) change(how func(*tableList)) {
	was, some := p.chosen()
	l := p.list()
	how(&l)
	l.rows = model.Sorted(model.Search(p.larder().Rows(p.table), l.words), l.order)
	if i := slices.IndexFunc(l.rows, func(s model.Stuff) bool { return s.ID() == was.ID() }); some && i >= 0 {
		l.cursor = i
	}
	l.cursor = max(0, min(l.cursor, len(l.rows)-1))
	p.put(l)
}

// put replaces the list of the shown table, leaving copies of the pane as they were.
func (p *handbookPane) put(l tableList) {
	p.lists = maps.Clone(p.lists)
	p.lists[p.table] = l
}

// renew lists both tables anew, after they changed.
func (p *handbookPane) renew() {
	shown := p.table
	p.worth = map[string]calc.SG{}
	for _, t := range model.Tables() {
		p.table = t
		p.change(func(*tableList) {})
		for _, s := range p.larder().Rows(t) {
			if sg, err := s.Gravity(100, 1); err == nil && !s.Intense() {
				p.worth[s.ID()] = sg
			}
		}
	}
	p.table = shown
}

// chosen returns the row under the cursor.
func (p handbookPane) chosen() (model.Stuff, bool) {
	l := p.list()
	if l.cursor >= len(l.rows) {
		return model.Stuff{}, false
	}
	return l.rows[l.cursor], true
}

// goTo puts the cursor on the row of that name; a search that hides it is given up.
func (p *handbookPane) goTo(name string) {
	here := func() int {
		return slices.IndexFunc(p.list().rows, func(s model.Stuff) bool { return s.Name() == name })
	}
	if here() < 0 {
		p.change(func(l *tableList) { l.words = "" })
	}
	if i := here(); i >= 0 {
		p.move(i - p.list().cursor)
	}
}

func (p *handbookPane) move(by int) {
	l := p.list()
	l.cursor = max(0, min(l.cursor+by, len(l.rows)-1))
	p.put(l)
	p.scroll = 0
}

// footKeys are the keys of what the pane is doing.
func (p handbookPane) footKeys() keyMap {
	switch {
	case p.searching:
		return newSearchKeys()
	case p.looking:
		return newHandbookRowKeys().writing(p.opts.Handbook != nil)
	}
	return p.keys
}

// openHandbook shows the tables, and reads them again: somebody may have edited the
// files with a text editor.
func (a app) openHandbook() (tea.Model, tea.Cmd) {
	a.handbook.looking, a.handbook.searching = false, false
	a.handbook.renew()
	a.status = status{}
	a.enter(onHandbook)
	return a, loadLarder(a.opts.Handbook)
}

// handbookKey answers a key in the handbook.
func (a app) handbookKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	switch {
	case a.handbook.searching:
		a.handbook.searchKey(k)
		return a, nil
	case a.handbook.looking:
		return a.handbookRowKey(k)
	}
	p := &a.handbook
	l := p.list()
	if to, walks := p.keys.walk(k, l.cursor, len(l.rows)); walks {
		p.move(to - l.cursor)
		return a, nil
	}
	switch {
	case key.Matches(k, p.keys.Leave):
		if l.words != "" && k.Type == tea.KeyEsc {
			p.change(func(l *tableList) { l.words = "" })
			return a, nil
		}
		a.leave()
	case key.Matches(k, p.keys.Help):
		a.help(p.keys)
	case key.Matches(k, p.keys.Table):
		all := model.Tables()
		p.table = all[(slices.Index(all, p.table)+1)%len(all)]
	case key.Matches(k, p.keys.Search):
		p.searching = true
		p.search.SetValue(l.words)
		p.search.CursorEnd()
		p.search.Focus()
	case key.Matches(k, p.keys.Order):
		p.change(func(l *tableList) {
			all := model.OrdersOf(p.table)
			l.order = all[(slices.Index(all, l.order)+1)%len(all)]
		})
	case key.Matches(k, p.keys.Look):
		_, p.looking = p.chosen()
		p.scroll = 0
	case key.Matches(k, p.keys.New):
		a.rowForm.open(p.table, "A row of your own: "+string(p.table), model.StartRow(p.table))
		a.enter(onRowForm)
	case key.Matches(k, p.keys.Edit):
		return a.askForRow()
	case key.Matches(k, p.keys.Drop):
		a.askDrop()
	}
	return a, nil
}

// searchKey answers a key while the search is typed; the list follows every letter.
func (p *handbookPane) searchKey(k tea.KeyMsg) {
	keys := newSearchKeys()
	switch {
	case key.Matches(k, keys.Cancel):
		p.searching = false
		p.change(func(l *tableList) { l.words = "" })
	case key.Matches(k, keys.Accept):
		p.searching = false
	case key.Matches(k, keys.Up):
		p.move(-1)
	case key.Matches(k, keys.Down):
		p.move(+1)
	default:
		p.search, _ = p.search.Update(k)
		p.change(func(l *tableList) { l.words = p.search.Value() })
	}
}

// handbookRowKey answers a key while one row is looked at.
func (a app) handbookRowKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	p, keys := &a.handbook, a.handbook.footKeys().(handbookRowKeys)
	switch {
	case key.Matches(k, keys.Leave):
		p.looking = false
	case key.Matches(k, keys.Help):
		a.help(keys)
	case key.Matches(k, keys.Up):
		p.scroll = max(0, p.scroll-1)
	case key.Matches(k, keys.Down):
		p.scroll++ // the view stops it at the end
	case key.Matches(k, keys.Prev):
		p.move(-1)
	case key.Matches(k, keys.Next):
		p.move(+1)
	case key.Matches(k, keys.Edit):
		return a.askForRow()
	case key.Matches(k, keys.Drop):
		a.askDrop()
	}
	if n := len(p.detail(a.w, a.words(), a.opts.Styles)); p.scroll >= n {
		p.scroll = n - 1
	}
	return a, nil
}

// askForRow reads the row under the cursor to edit it.
func (a app) askForRow() (tea.Model, tea.Cmd) {
	s, ok := a.handbook.chosen()
	if !ok {
		return a, nil
	}
	return a, loadRowText(a.opts.Handbook, s)
}

// editRow opens the form on a row that was just read, unless the person has gone
// elsewhere in the meantime.
func (a *app) editRow(msg rowTextMsg) {
	if a.focus != onHandbook {
		return
	}
	if msg.err != nil {
		a.status = status{msg.err.Error(), saidBad}
		return
	}
	title, row := "Your own row", msg.row
	if !msg.stuff.Origin().Own() {
		title, row = "In place of the handbook's "+msg.stuff.Name(), row.Revised()
	}
	a.rowForm.open(msg.table, title, row)
	a.enter(onRowForm)
}

// askDrop asks before an own row is taken away.
func (a *app) askDrop() {
	s, ok := a.handbook.chosen()
	if !ok {
		return
	}
	question := fmt.Sprintf("Take your own row %s away? Batches keep what was stirred in.", s.Name())
	switch s.Origin() {
	case model.Printed:
		a.status = status{s.Name() + " is printed in the handbook and stays; e puts your own figures in its place", saidPlain}
		return
	case model.OwnInPlace:
		question = fmt.Sprintf("Take your own figures of %s away? Those of the handbook come back.", s.Name())
	}
	a.confirm.ask(question, nil, func(a *app) tea.Cmd {
		a.handbook.ticket = a.newTicket()
		return dropRow(a.opts.Handbook, a.handbook.ticket, s)
	})
	a.enter(onConfirm)
}

// larderLoaded hands the tables to every pane, and closes the form that wrote to
// them.
func (a app) larderLoaded(msg larderMsg) (tea.Model, tea.Cmd) {
	a.setLarder(msg.larder)
	a.handbook.trouble = ""
	if msg.ticket == 0 {
		return a, nil
	}
	a.saving--
	a.status = status{msg.said, saidGood}
	if a.rowForm.ticket == msg.ticket && a.focus == onRowForm {
		a.handbook.table = a.rowForm.table
		a.handbook.goTo(a.rowForm.name())
		a.leave()
	}
	if a.quitting && a.saving == 0 {
		return a, tea.Quit
	}
	return a, nil
}

// larderFailed leaves the tables as they were and says why.
func (a app) larderFailed(msg larderFailedMsg) (tea.Model, tea.Cmd) {
	if msg.ticket == 0 {
		a.handbook.trouble = msg.err.Error()
		return a, nil
	}
	a.saving--
	a.quitting = false
	text := "not written: " + msg.err.Error()
	if a.rowForm.ticket == msg.ticket && a.focus == onRowForm {
		a.rowForm.failed(text)
	}
	a.status = status{text, saidBad}
	return a, nil
}

// setLarder hands the tables to every pane; what a pane has taken from them by id it
// takes again.
func (a *app) setLarder(l model.Larder) {
	for _, o := range []*Options{&a.opts, &a.shelf.opts, &a.batch.opts, &a.entry.opts, &a.sweeten.opts, &a.bench.opts, &a.fizz.opts,
		&a.keep.opts, &a.plans.opts, &a.must.opts, &a.recipes.opts, &a.form.opts, &a.journal.opts, &a.bottles.opts, &a.due.opts, &a.welcome.opts, &a.handbook.opts, &a.rowForm.opts} {
		o.Sweeteners, o.Fruits = l.Sweeteners, l.Fruits
	}
	for i := range a.sweeten.tried {
		c := &a.sweeten.tried[i].Candidate
		*c = c.Known(l.Sweeteners)
	}
	if a.sweeten.batch.ID != 0 {
		a.sweeten.workAll()
	}
	a.must.setLarder(l)
	a.handbook.renew()
}
