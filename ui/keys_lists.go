package ui

import "github.com/charmbracelet/bubbles/key"

type journalKeys struct {
	walkKeys
	Only, OnlyBack, Order          key.Binding
	Void, Undo, Print, Help, Leave key.Binding
}

func newJournalKeys() journalKeys {
	return journalKeys{
		walkKeys: newWalkKeys("entry"),
		Only:     bind("f", "f", "only one kind"),
		OnlyBack: bind("F", "F", "the kind before"),
		Order:    bind("o", "o", "turn the order round"),
		Void:     bind("x", "x", "strike out or bring back"),
		Undo:     bind("u", "u", "undo the last one"),
		Print:    bind("p", "p", "print a sheet"),
		Help:     bind("?", "?", "keys"),
		Leave:    bind("esc", "esc", "leave", "q", "l", "ctrl+c"),
	}
}

func (k journalKeys) ShortHelp() []key.Binding {
	return []key.Binding{k.Only, k.Void, k.Order, k.Undo, k.Print, k.Help, k.Leave}
}

func (k journalKeys) FullHelp() [][]key.Binding {
	return [][]key.Binding{
		k.all(),
		{k.Only, k.OnlyBack, k.Order, k.Void, k.Undo, k.Print, k.Help, k.Leave},
	}
}

// strikeKeys are the keys while the reason for striking an entry out is typed.
type strikeKeys struct {
	Accept, Cancel key.Binding
}

func newStrikeKeys() strikeKeys {
	return strikeKeys{
		Accept: bind("enter", "enter", "strike out"),
		Cancel: bind("esc", "esc", "leave it", "ctrl+c"),
	}
}

func (k strikeKeys) ShortHelp() []key.Binding  { return []key.Binding{k.Accept, k.Cancel} }
func (k strikeKeys) FullHelp() [][]key.Binding { return [][]key.Binding{k.ShortHelp()} }

// handbookKeys are the keys in the list of the handbook.
type handbookKeys struct {
	walkKeys
	Look, Table, Search, Order   key.Binding
	New, Edit, Drop, Help, Leave key.Binding
}

func newHandbookKeys() handbookKeys {
	return handbookKeys{
		walkKeys: newWalkKeys("row"),
		Look:     bind("enter", "enter", "look"),
		Table:    bind("tab", "tab", "table", "shift+tab"),
		Search:   bind("/", "/", "search"),
		Order:    bind("o", "o", "order"),
		New:      bind("n", "n", "add"),
		Edit:     bind("e", "e", "edit"),
		Drop:     bind("x", "x", "take away"),
		Help:     bind("?", "?", "keys"),
		Leave:    bind("esc", "esc", "leave", "q", "h", "ctrl+c"),
	}
}

// writing switches the keys for own rows.
func (k handbookKeys) writing(on bool) handbookKeys {
	k.New.SetEnabled(on)
	k.Edit.SetEnabled(on)
	k.Drop.SetEnabled(on)
	return k
}

func (k handbookKeys) ShortHelp() []key.Binding {
	return []key.Binding{k.Search, k.Table, k.Look, k.New, k.Edit, k.Order, k.Drop, k.Help, k.Leave}
}

func (k handbookKeys) FullHelp() [][]key.Binding {
	return [][]key.Binding{
		{k.Up, k.Down, k.PageUp, k.PageDown, k.Top, k.Bottom},
		{k.Look, k.Table, k.Search, k.Order},
		{k.New, k.Edit, k.Drop, k.Help, k.Leave},
	}
}

// handbookRowKeys are the keys while one row is looked at.
type handbookRowKeys struct {
	Up, Down, Next, Prev, Edit, Drop, Help, Leave key.Binding
}

func newHandbookRowKeys() handbookRowKeys {
	return handbookRowKeys{
		Up:    bind("up", "↑ k", "lines above", "k"),
		Down:  bind("down", "↓ j", "lines below", "j"),
		Prev:  bind("left", "← →", "other rows", "["),
		Next:  bind("right", "→", "next row", "]"),
		Edit:  bind("e", "e", "edit"),
		Drop:  bind("x", "x", "take away"),
		Help:  bind("?", "?", "keys"),
		Leave: bind("esc", "esc", "back", "q", "h", "enter", "ctrl+c"),
	}
}

// writing switches the keys for own rows.
func (k handbookRowKeys) writing(on bool) handbookRowKeys {
	k.Edit.SetEnabled(on)
	k.Drop.SetEnabled(on)
	return k
}

func (k handbookRowKeys) ShortHelp() []key.Binding {
	return []key.Binding{k.Prev, k.Edit, k.Drop, k.Help, k.Leave}
}

func (k handbookRowKeys) FullHelp() [][]key.Binding {
	return [][]key.Binding{{k.Up, k.Down, k.Prev, k.Next}, {k.Edit, k.Drop, k.Help, k.Leave}}
}

// searchKeys are the keys while a search is typed.
type searchKeys struct {
	Up, Down, Accept, Cancel key.Binding
}

func newSearchKeys() searchKeys {
	return searchKeys{
		Up:     bind("up", "↑ ↓", "walk"),
		Down:   bind("down", "↓", "row below"),
		Accept: bind("enter", "enter", "keep what is found"),
		Cancel: bind("esc", "esc", "all rows", "ctrl+c"),
	}
}

func (k searchKeys) ShortHelp() []key.Binding { return []key.Binding{k.Up, k.Accept, k.Cancel} }
func (k searchKeys) FullHelp() [][]key.Binding {
	return [][]key.Binding{{k.Up, k.Down, k.Accept, k.Cancel}}
}

// bottlesKeys are the keys among the bottles.
type bottlesKeys struct {
	walkKeys
	Earlier, Later                   key.Binding
	Take, Give, Undo, Journal, Print key.Binding
	Order, Empties, Help, Leave      key.Binding
}

func newBottlesKeys() bottlesKeys {
	return bottlesKeys{
		walkKeys: walkKeys{ // pages are of the tastings, g gives away
			Up:     bind("up", "↑ k", "batch above", "k"),
			Down:   bind("down", "↓ j", "batch below", "j"),
			Top:    bind("home", "home", "first batch"),
			Bottom: bind("end", "end", "last batch"),
		},
		Earlier: bind("pgdown", "pgdn", "earlier tastings"),
		Later:   bind("pgup", "pgup", "later tastings"),
		Take:    bind("t", "t", "taste one", "enter"),
		Give:    bind("g", "g", "take some away"),
		Undo:    bind("u", "u", "undo"),
		Journal: bind("l", "l", "journal"),
		Print:   bind("p", "p", "print its sheet"),
		Order:   bind("o", "o", "order: age or name"),
		Empties: bind("e", "e", "empty ones too"),
		Help:    bind("?", "?", "keys"),
		Leave:   bind("esc", "esc", "leave", "q", "c", "ctrl+c"),
	}
}

func (k bottlesKeys) ShortHelp() []key.Binding {
	return []key.Binding{k.Take, k.Give, k.Undo, k.Journal, k.Print, k.Order, k.Empties, k.Help, k.Leave}
}

func (k bottlesKeys) FullHelp() [][]key.Binding {
	return [][]key.Binding{
		{k.Up, k.Down, k.Top, k.Bottom, k.Earlier, k.Later},
		{k.Take, k.Give, k.Undo, k.Journal, k.Print},
		{k.Order, k.Empties, k.Help, k.Leave},
	}
}
