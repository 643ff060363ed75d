package ui

import "github.com/charmbracelet/bubbles/key"

type sweetenKeys struct {
	stepKeys
	Next, Prev, Target, Zero       key.Binding
	NextOne, PrevOne               key.Binding
	Another, Same, Drop            key.Binding
	Mix, MoreOfIt, LessOfIt, Price key.Binding
	Bench, Fizz, Keep              key.Binding
	KeepPlan, Plans                key.Binding
	Commit, Undo, Help, Leave      key.Binding
}

func newSweetenKeys() sweetenKeys {
	return sweetenKeys{
		stepKeys: newStepKeys(),
		Prev:     bind("up", "↑ ↓", "sweetener", "k"),
		Next:     bind("down", "↓", "next sweetener", "j"),
		Target:   bind("t", "t", "target"),
		Zero:     bind("0", "0", "back to nothing"),
		NextOne:  bind("tab", "tab", "next candidate"),
		PrevOne:  bind("shift+tab", "shift-tab", "candidate before"),
		Another:  bind("n", "n", "another beside it"),
		Same:     bind("=", "=", "as sweet with another"),
		Drop:     bind("x", "x", "take this one away"),
		Mix:      bind("m", "m", "mix a second in"),
		MoreOfIt: bind("]", "]", "more of the first"),
		LessOfIt: bind("[", "[", "less of the first"),
		Price:    bind("p", "p", "price a kilogram"),
		Bench:    bind("b", "b", "bench of small glasses"),
		KeepPlan: bind("w", "w", "keep as a plan"),
		Plans:    bind("o", "o", "open a plan"),
		Keep:     bind("r", "r", "will it restart?"),
		Fizz:     bind("f", "f", "fizz: bubbles"),
		Commit:   bind("enter", "enter", "commit"),
		Undo:     bind("u", "u", "undo"),
		Help:     bind("?", "?", "keys"),
		Leave:    bind("esc", "esc", "leave", "q", "ctrl+c"),
	}
}

func (k sweetenKeys) ShortHelp() []key.Binding {
	return []key.Binding{k.Less, k.Commit, k.Target, k.Prev, k.Another, k.NextOne, k.Keep, k.Bench, k.Fizz, k.Undo, k.Same, k.Mix, k.MuchLess, k.KeepPlan, k.Plans, k.Help, k.Leave}
}

func (k sweetenKeys) FullHelp() [][]key.Binding {
	return [][]key.Binding{
		{k.Less, k.More, k.MuchLess, k.MuchMore, k.Zero, k.Target},
		{k.Prev, k.Next, k.Mix, k.MoreOfIt, k.LessOfIt, k.Price},
		{k.Another, k.Same, k.Drop, k.NextOne, k.PrevOne},
		{k.Keep, k.Bench, k.Fizz, k.KeepPlan, k.Plans, k.Commit, k.Undo, k.Help, k.Leave},
	}
}

// benchKeys are the keys while a bench is planned or marked; letters are typed.
type benchKeys struct {
	Next, Prev, Left, Right  key.Binding
	Accept, Card, New, Leave key.Binding
}

func newBenchKeys() benchKeys {
	return benchKeys{
		Next:   bind("tab", "tab", "next", "down"),
		Prev:   bind("shift+tab", "↑", "back", "up"),
		Left:   bind("left", "← →", "choose"),
		Right:  bind("right", "→", "choose"),
		Accept: bind("enter", "enter", "pour"),
		Card:   bind("ctrl+p", "^P", "card for paper"),
		New:    bind("ctrl+n", "^N", "another bench"),
		Leave:  bind("esc", "esc", "leave", "ctrl+c"),
	}
}

// at returns the keys that a stage has.
func (k benchKeys) at(s benchStage) benchKeys {
	k.New.SetEnabled(s == benchPoured)
	k.Left.SetEnabled(s == benchPlanned)
	k.Right.SetEnabled(s == benchPlanned)
	if s == benchPoured {
		k.Accept.SetHelp("enter", "write down")
	}
	return k
}

func (k benchKeys) ShortHelp() []key.Binding {
	return []key.Binding{k.Next, k.Left, k.Card, k.New, k.Accept, k.Leave}
}
func (k benchKeys) FullHelp() [][]key.Binding {
	return [][]key.Binding{{k.Next, k.Prev, k.Left, k.Right}, {k.Card, k.New, k.Accept, k.Leave}}
}

// benchToldKeys are the keys when the marks are in.
type benchToldKeys struct {
	Plan, New, Card, Undo, Help, Leave key.Binding
}

func newBenchToldKeys() benchToldKeys {
	return benchToldKeys{
		Plan:  bind("enter", "enter", "winner to the planner"),
		New:   bind("n", "n", "another bench", "ctrl+n"),
		Card:  bind("c", "c", "card for paper", "ctrl+p"),
		Undo:  bind("u", "u", "undo"),
		Help:  bind("?", "?", "keys"),
		Leave: bind("esc", "esc", "leave", "q", "ctrl+c"),
	}
}

func (k benchToldKeys) ShortHelp() []key.Binding {
	return []key.Binding{k.Plan, k.New, k.Card, k.Undo, k.Help, k.Leave}
}
func (k benchToldKeys) FullHelp() [][]key.Binding { return [][]key.Binding{k.ShortHelp()} }

// fizzKeys are the keys of the pane of bubbles; letters are typed.
type fizzKeys struct {
	Next, Prev, Left, Right, Accept, Leave key.Binding
}

func newFizzKeys() fizzKeys {
	return fizzKeys{
		Next:   bind("tab", "tab", "next", "down"),
		Prev:   bind("shift+tab", "↑", "back", "up"),
		Left:   bind("left", "← →", "choose"),
		Right:  bind("right", "→", "choose"),
		Accept: bind("enter", "enter", "prime"),
		Leave:  bind("esc", "esc", "leave", "ctrl+c"),
	}
}

func (k fizzKeys) ShortHelp() []key.Binding {
	return []key.Binding{k.Next, k.Left, k.Prev, k.Accept, k.Leave}
}
func (k fizzKeys) FullHelp() [][]key.Binding {
	return [][]key.Binding{{k.Next, k.Prev, k.Left, k.Right}, {k.Accept, k.Leave}}
}

// keepKeys are the keys of the check for a restart.
type keepKeys struct {
	Accept, PH, Clear, Undo, Help, Leave key.Binding
}

func newKeepKeys() keepKeys {
	return keepKeys{
		Accept: bind("enter", "enter", "stabilise"),
		PH:     bind("p", "p", "pH"),
		Clear:  bind("c", "c", "clear or cloudy"),
		Undo:   bind("u", "u", "undo"),
		Help:   bind("?", "?", "keys"),
		Leave:  bind("esc", "esc", "leave", "q", "ctrl+c"),
	}
}

func (k keepKeys) ShortHelp() []key.Binding {
	return []key.Binding{k.Accept, k.PH, k.Clear, k.Undo, k.Help, k.Leave}
}
func (k keepKeys) FullHelp() [][]key.Binding { return [][]key.Binding{k.ShortHelp()} }

// plansKeys are the keys among the plans that are kept.
type plansKeys struct {
	walkKeys
	Take, Drop, Help, Leave key.Binding
}

func newPlansKeys() plansKeys {
	return plansKeys{
		walkKeys: newWalkKeys("plan"),
		Take:     bind("enter", "enter", "take it up"),
		Drop:     bind("x", "x", "discard"),
		Help:     bind("?", "?", "keys"),
		Leave:    bind("esc", "esc", "leave", "q", "ctrl+c"),
	}
}

func (k plansKeys) ShortHelp() []key.Binding {
	return []key.Binding{k.Take, k.Drop, k.Up, k.Down, k.Help, k.Leave}
}
func (k plansKeys) FullHelp() [][]key.Binding {
	return [][]key.Binding{k.all(), {k.Take, k.Drop, k.Help, k.Leave}}
}
