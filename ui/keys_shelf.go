package ui

import "github.com/charmbracelet/bubbles/key"

type shelfKeys struct {
	walkKeys
	Read, Round, Sweeten, Note, Undo key.Binding
	Journal, NewVessel, NewBatch     key.Binding
	Vessel                           key.Binding
	Yeast, Add, Rack, Bottle, Else   key.Binding
	Bench, Fizz, Must, Handbook, Due key.Binding
	Bottles                          key.Binding
	Marks, MarkBack, MarkAhead       key.Binding // the help names the two as one
	Open                             key.Binding // what r does, or l at a mark of the chart
	Units, Reload, Help, Quit        key.Binding
}

func newShelfKeys() shelfKeys {
	return shelfKeys{
		walkKeys:  newWalkKeys("vessel"),
		Read:      bind("r", "r", "read"),
		Open:      bind("enter", "enter", "read; at a mark, its entry"),
		Round:     bind("w", "w", "round"),
		Sweeten:   bind("s", "s", "sweeten"),
		Note:      bind("n", "n", "note"),
		Undo:      bind("u", "u", "undo"),
		Journal:   bind("l", "l", "journal"),
		Bench:     bind("t", "t", "taste on the bench"),
		Fizz:      bind("z", "z", "fizz: bubbles"),
		Bottles:   bind("c", "c", "cellar of bottles"),
		Due:       bind("d", "d", "due"),
		Yeast:     bind("y", "y", "yeast in"),
		Add:       bind("a", "a", "stir something in"),
		Rack:      bind("m", "m", "rack to another vessel"),
		Bottle:    bind("f", "f", "fill bottles"),
		Else:      bind("e", "e", "more"),
		NewVessel: bind("v", "v", "add a vessel"),
		Vessel:    bind("V", "V", "change a vessel: tare"),
		NewBatch:  bind("b", "b", "start a batch"),
		Must:      bind("i", "i", "build a must"),
		Handbook:  bind("h", "h", "handbook"),
		Marks:     bind(",", ", .", "walk the marks of the chart", "."),
		MarkBack:  bind(",", ",", "mark before on the chart"),
		MarkAhead: bind(".", ".", "mark after on the chart"),
		Units:     bind("U", "U", "litres or gallons"),
		Reload:    bind("ctrl+l", "^L", "draw anew"),
		Help:      bind("?", "?", "keys"),
		Quit:      bind("q", "q", "quit", "ctrl+c"),
	}
}

func (k shelfKeys) ShortHelp() []key.Binding {
	return []key.Binding{k.Read, k.Round, k.Sweeten, k.Due, k.Journal, k.Undo, k.Else, k.NewBatch, k.NewVessel, k.Help, k.Quit}
}

// noVesselKeys are the keys of a shelf without a vessel: what can be done there is named
// first, for a narrow screen.
type noVesselKeys struct{ shelfKeys }

func (k noVesselKeys) ShortHelp() []key.Binding {
	return []key.Binding{k.NewVessel, k.Must, k.Bottles, k.Handbook, k.Help, k.Quit}
}

func (k shelfKeys) FullHelp() [][]key.Binding {
	return [][]key.Binding{
		{k.Up, k.Down, k.PageUp, k.PageDown, k.Top, k.Bottom, k.Marks, k.Open},
		{k.Read, k.Round, k.Due, k.Sweeten, k.Bench, k.Fizz, k.Note, k.Undo, k.Journal},
		{k.Yeast, k.Add, k.Rack, k.Bottle, k.Bottles, k.Else},
		{k.NewVessel, k.Vessel, k.NewBatch, k.Must, k.Handbook, k.Units, k.Reload, k.Help, k.Quit},
	}
}

// dueKeys are the keys among what is due.
type dueKeys struct {
	walkKeys
	Do, Tick, Read, Later, New, Undo, Help, Leave key.Binding
}

func newDueKeys() dueKeys {
	return dueKeys{
		walkKeys: newWalkKeys("line"),
		Do:       bind("enter", "enter", "do it"),
		Tick:     bind("x", "x", "tick off"),
		Read:     bind("r", "r", "read that vessel"),
		Later:    bind("p", "p", "put off", "z"),
		New:      bind("n", "n", "remind me"),
		Undo:     bind("u", "u", "undo"),
		Help:     bind("?", "?", "keys"),
		Leave:    bind("esc", "esc", "leave", "q", "d", "ctrl+c"),
	}
}

func (k dueKeys) ShortHelp() []key.Binding {
	return []key.Binding{k.Do, k.Tick, k.Later, k.New, k.Undo, k.Help, k.Leave}
}

func (k dueKeys) FullHelp() [][]key.Binding {
	return [][]key.Binding{k.all(), {k.Do, k.Tick, k.Read, k.Later, k.New, k.Undo, k.Help, k.Leave}}
}

// menuKeys are the keys of the menu of everything else: a letter a line.
type menuKeys struct {
	Feed, Plan, Stir, Press, Water, Blend key.Binding
	Split, Draw, Fine, Move, Taste        key.Binding
	Up, Down, Accept, Help, Leave         key.Binding
}

func newMenuKeys() menuKeys {
	return menuKeys{
		Feed:   bind("n", "n", "feed a nutrient"),
		Plan:   bind("l", "l", "plan the feeding"),
		Stir:   bind("c", "c", "punch the cap down, stir"),
		Press:  bind("p", "p", "take the fruit out, press"),
		Water:  bind("w", "w", "top up with water"),
		Blend:  bind("b", "b", "top up or blend from a vessel"),
		Split:  bind("s", "s", "split a part off"),
		Draw:   bind("d", "d", "draw some off"),
		Fine:   bind("f", "f", "fine, to clear it"),
		Move:   bind("m", "m", "move the vessel"),
		Taste:  bind("t", "t", "taste"),
		Up:     bind("up", "↑ k", "line above", "k"),
		Down:   bind("down", "↓ j", "line below", "j"),
		Accept: bind("enter", "enter", "choose"),
		Help:   bind("?", "?", "keys"),
		Leave:  bind("esc", "esc", "leave", "q", "e", "ctrl+c"),
	}
}

func (k menuKeys) ShortHelp() []key.Binding {
	return []key.Binding{k.Accept, k.Up, k.Down, k.Help, k.Leave}
}

func (k menuKeys) FullHelp() [][]key.Binding {
	return [][]key.Binding{
		{k.Feed, k.Plan, k.Stir, k.Press, k.Water, k.Blend},
		{k.Split, k.Draw, k.Fine, k.Move, k.Taste},
		{k.Up, k.Down, k.Accept, k.Help, k.Leave},
	}
}
