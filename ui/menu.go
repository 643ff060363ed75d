package ui

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/model"
)

// menuPane lists what else can happen to a batch, for what has no key of its own on the
// shelf. Its letters are remembered sooner or later; until then there are the arrows.
type menuPane struct {
	glyphs Glyphs
	keys   menuKeys
	row    model.Row
	cursor int
}

// menuItem is a line of the menu and the form it opens.
type menuItem struct {
	key  key.Binding
	open func(a app, row model.Row) (tea.Model, tea.Cmd)
}

func newMenuPane(o Options) menuPane { return menuPane{glyphs: o.Glyphs, keys: newMenuKeys()} }

// items are the lines, in the order of a batch's life.
func (p menuPane) items() []menuItem {
	k := p.keys
	return []menuItem{
		{k.Feed, app.openFeed},
		{k.Plan, app.openFeedPlan},
		{k.Stir, app.openStir},
		{k.Press, app.openPress},
		{k.Water, app.openWater},
		{k.Blend, app.openBlend},
		{k.Split, app.openSplit},
		{k.Draw, app.openDraw},
		{k.Fine, app.openFine},
		{k.Move, app.openMove},
		{k.Taste, app.openTaste},
	}
}

// open shows the menu for the batch in row; the cursor stays where it was used last.
func (p *menuPane) open(row model.Row) { p.row = row }

// menuKey answers a key in the menu.
func (a app) menuKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	p := &a.menu
	items := p.items()
	switch {
	case key.Matches(k, p.keys.Leave):
		a.leave()
		return a, nil
	case key.Matches(k, p.keys.Help):
		a.help(p.keys)
		return a, nil
	case key.Matches(k, p.keys.Up):
		p.cursor = (p.cursor + len(items) - 1) % len(items)
		return a, nil
	case key.Matches(k, p.keys.Down):
		p.cursor = (p.cursor + 1) % len(items)
		return a, nil
	case key.Matches(k, p.keys.Accept):
		a.leave()
		return items[p.cursor].open(a, p.row)
	}
	for i, item := range items {
		if key.Matches(k, item.key) {
			p.cursor = i
			a.leave()
			return item.open(a, p.row)
		}
	}
	return a, nil
}

// view lists the menu in w by h cells.
func (p menuPane) view(w, h int, st *Styles) []string {
	g := p.glyphs
	lines := []string{rule(g.text(p.row.Vessel.Label+"  "+p.row.Batch.Name), w, g, st), ""}
	items := p.items()
	first := max(0, min(p.cursor-(h-len(lines))+2, len(items)-(h-len(lines))))
	for i, item := range items[first:] {
		pointer, what := "  ", item.key.Help().Desc
		if first+i == p.cursor {
			pointer, what = st.Key.Render(g.Pointer)+" ", st.Chosen.Render(what)
		}
		lines = append(lines, pointer+st.Key.Render(fit(item.key.Help().Key, 3))+what)
	}
	return padLines(lines, w, h)
}
