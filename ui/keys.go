package ui

import "github.com/charmbracelet/bubbles/key"

// Every key of the program. One binding feeds both the match and the help, and a
// test walks them all: none twice within a focus, none without a word.

func bind(keys, shown, what string, more ...string) key.Binding {
	return key.NewBinding(key.WithKeys(append([]string{keys}, more...)...), key.WithHelp(shown, what))
}

// keyMap is the bindings of one focus: a few for the footer, all for the help. On
// a narrow screen the footer keeps the last two and, of the others, the first.
type keyMap interface {
	ShortHelp() []key.Binding
	FullHelp() [][]key.Binding
}

type shelfKeys struct {
	Up, Down, Top, Bottom            key.Binding
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
		Up:        bind("up", "↑ k", "vessel above", "k"),
		Down:      bind("down", "↓ j", "vessel below", "j"),
		Top:       bind("home", "home g", "first vessel", "g"),
		Bottom:    bind("end", "end G", "last vessel", "G"),
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

func (k shelfKeys) FullHelp() [][]key.Binding {
	return [][]key.Binding{
		{k.Up, k.Down, k.Top, k.Bottom, k.Marks, k.Open},
		{k.Read, k.Round, k.Due, k.Sweeten, k.Bench, k.Fizz, k.Note, k.Undo, k.Journal},
		{k.Yeast, k.Add, k.Rack, k.Bottle, k.Bottles, k.Else},
		{k.NewVessel, k.Vessel, k.NewBatch, k.Must, k.Handbook, k.Units, k.Reload, k.Help, k.Quit},
	}
}

// lineKeys are the keys while a line is being typed.
type lineKeys struct {
	Accept, Skip, Back, Cancel key.Binding
}

func newLineKeys() lineKeys {
	return lineKeys{
		Accept: bind("enter", "enter", "write down"),
		Skip:   bind("tab", "tab", "skip"),
		Back:   bind("shift+tab", "shift-tab", "the one before"),
		Cancel: bind("esc", "esc", "leave", "ctrl+c"),
	}
}

// inRound switches the keys that only a round has.
func (k lineKeys) inRound(on bool) lineKeys {
	k.Skip.SetEnabled(on)
	k.Back.SetEnabled(on)
	return k
}

func (k lineKeys) ShortHelp() []key.Binding {
	return []key.Binding{k.Skip, k.Back, k.Accept, k.Cancel}
}
func (k lineKeys) FullHelp() [][]key.Binding { return [][]key.Binding{k.ShortHelp()} }

// stepKeys are the arrows that move an amount. The letters are for keyboards without.
type stepKeys struct {
	More, Less, MuchMore, MuchLess key.Binding
}

func newStepKeys() stepKeys {
	return stepKeys{
		Less:     bind("left", "← →", "amount", "h"),
		More:     bind("right", "→", "a little more", "l"),
		MuchLess: bind("pgdown", "pgdn pgup", "a lot", "shift+left", "H"),
		MuchMore: bind("pgup", "pgup", "much more", "shift+right", "L"),
	}
}

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
		Same:     bind("=", "=", "same sweetness, other sweetener"),
		Drop:     bind("x", "x", "take this one away"),
		Mix:      bind("m", "m", "mix a second in"),
		MoreOfIt: bind("]", "]", "more of the first in a mixture"),
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

// targetKeys are the keys while a target is typed in the planner.
type targetKeys struct {
	Accept, Cancel key.Binding
}

func newTargetKeys() targetKeys {
	return targetKeys{
		Accept: bind("enter", "enter", "try it"),
		Cancel: bind("esc", "esc", "back", "ctrl+c"),
	}
}

// starting names what enter does where the line is the last thing asked for a batch.
func (k targetKeys) starting() targetKeys {
	k.Accept.SetHelp("enter", "start it")
	return k
}

func (k targetKeys) ShortHelp() []key.Binding  { return []key.Binding{k.Accept, k.Cancel} }
func (k targetKeys) FullHelp() [][]key.Binding { return [][]key.Binding{k.ShortHelp()} }

type formKeys struct {
	Next, Prev, Left, Right, Accept, Cancel key.Binding
}

func newFormKeys() formKeys {
	return formKeys{
		Next:   bind("tab", "tab", "next", "down"),
		Prev:   bind("shift+tab", "↑", "back", "up"),
		Left:   bind("left", "← →", "choose"),
		Right:  bind("right", "→", "choose"),
		Accept: bind("enter", "enter", "write down"),
		Cancel: bind("esc", "esc", "leave", "ctrl+c"),
	}
}

func (k formKeys) ShortHelp() []key.Binding {
	return []key.Binding{k.Next, k.Left, k.Prev, k.Accept, k.Cancel}
}
func (k formKeys) FullHelp() [][]key.Binding { return [][]key.Binding{k.ShortHelp()} }

type journalKeys struct {
	Up, Down, PageUp, PageDown, Top, Bottom key.Binding
	Only, OnlyBack, Order                   key.Binding
	Void, Undo, Print, Help, Leave          key.Binding
}

func newJournalKeys() journalKeys {
	return journalKeys{
		Up:       bind("up", "↑ k", "entry above", "k"),
		Down:     bind("down", "↓ j", "entry below", "j"),
		PageUp:   bind("pgup", "pgup", "a page up"),
		PageDown: bind("pgdown", "pgdn", "a page down"),
		Top:      bind("home", "home g", "first line", "g"),
		Bottom:   bind("end", "end G", "last line", "G"),
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
		{k.Up, k.Down, k.PageUp, k.PageDown, k.Top, k.Bottom},
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

type confirmKeys struct {
	Yes, No key.Binding
}

func newConfirmKeys() confirmKeys {
	return confirmKeys{
		Yes: bind("y", "y", "yes", "enter"),
		No:  bind("n", "n", "no", "esc", "q", "ctrl+c"),
	}
}

func (k confirmKeys) ShortHelp() []key.Binding  { return []key.Binding{k.Yes, k.No} }
func (k confirmKeys) FullHelp() [][]key.Binding { return [][]key.Binding{k.ShortHelp()} }

type helpKeys struct {
	Up, Down, Leave key.Binding
}

func newHelpKeys() helpKeys {
	return helpKeys{
		Up:    bind("up", "↑", "back up", "k", "pgup"),
		Down:  bind("down", "↓", "the rest", "j", "pgdown"),
		Leave: bind("?", "any key", "back", "esc", "q", "enter", "ctrl+c"),
	}
}

// scrolling switches the keys that only a help longer than the screen has.
func (k helpKeys) scrolling(on bool) helpKeys {
	k.Up.SetEnabled(on)
	k.Down.SetEnabled(on)
	return k
}

func (k helpKeys) ShortHelp() []key.Binding  { return []key.Binding{k.Down, k.Up, k.Leave} }
func (k helpKeys) FullHelp() [][]key.Binding { return [][]key.Binding{k.ShortHelp()} }

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
	Up, Down, Take, Drop, Help, Leave key.Binding
}

func newPlansKeys() plansKeys {
	return plansKeys{
		Up:    bind("up", "↑ k", "plan above", "k"),
		Down:  bind("down", "↓ j", "plan below", "j"),
		Take:  bind("enter", "enter", "take it up"),
		Drop:  bind("x", "x", "discard"),
		Help:  bind("?", "?", "keys"),
		Leave: bind("esc", "esc", "leave", "q", "ctrl+c"),
	}
}

func (k plansKeys) ShortHelp() []key.Binding {
	return []key.Binding{k.Take, k.Drop, k.Up, k.Down, k.Help, k.Leave}
}
func (k plansKeys) FullHelp() [][]key.Binding { return [][]key.Binding{k.ShortHelp()} }

// mustKeys are the keys of the builder of a must.
type mustKeys struct {
	stepKeys
	Next, Prev, Wish, Zero    key.Binding
	Add, Drop, Crush, Prepare key.Binding
	Feed, Scale, Price        key.Binding
	Yeast, Drink              key.Binding
	Keep, Recipes             key.Binding
	Start, Help, Leave        key.Binding
}

func newMustKeys() mustKeys {
	return mustKeys{
		stepKeys: newStepKeys(),
		Prev:     bind("up", "↑ ↓", "ingredient", "k"),
		Next:     bind("down", "↓", "next ingredient", "j"),
		Wish:     bind("t", "t", "target"),
		Zero:     bind("0", "0", "none of it"),
		Add:      bind("n", "n", "put in"),
		Drop:     bind("x", "x", "take out"),
		Crush:    bind("c", "c", "crushed or whole"),
		Prepare:  bind("s", "s", "stones out or as bought"),
		Feed:     bind("f", "f", "hold back and feed"),
		Scale:    bind("v", "v", "scale to a volume"),
		Price:    bind("p", "p", "price a kilogram"),
		Yeast:    bind("y", "y", "yeast"),
		Drink:    bind("d", "d", "kind of drink"),
		Keep:     bind("w", "w", "keep as a recipe"),
		Recipes:  bind("o", "o", "open a recipe"),
		Start:    bind("enter", "enter", "start"),
		Help:     bind("?", "?", "keys"),
		Leave:    bind("esc", "esc", "leave", "q", "ctrl+c"),
	}
}

func (k mustKeys) ShortHelp() []key.Binding {
	return []key.Binding{k.Add, k.Less, k.Wish, k.Start, k.Yeast, k.Keep, k.Recipes, k.Prev, k.Scale, k.Feed, k.Drop, k.Help, k.Leave}
}

func (k mustKeys) FullHelp() [][]key.Binding {
	return [][]key.Binding{
		{k.Less, k.More, k.MuchLess, k.MuchMore, k.Zero, k.Wish},
		{k.Prev, k.Next, k.Add, k.Drop, k.Crush, k.Prepare},
		{k.Feed, k.Scale, k.Price, k.Yeast, k.Drink},
		{k.Keep, k.Recipes, k.Start, k.Help, k.Leave},
	}
}

// pickKeys are the keys while something is looked for in the larder; letters are typed.
type pickKeys struct {
	Up, Down, Take, Cancel key.Binding
}

func newPickKeys() pickKeys {
	return pickKeys{
		Up:     bind("up", "↑ ↓", "choose"),
		Down:   bind("down", "↓", "the next"),
		Take:   bind("enter", "enter", "put in"),
		Cancel: bind("esc", "esc", "back", "ctrl+c"),
	}
}

func (k pickKeys) ShortHelp() []key.Binding { return []key.Binding{k.Up, k.Take, k.Cancel} }
func (k pickKeys) FullHelp() [][]key.Binding {
	return [][]key.Binding{{k.Up, k.Down, k.Take, k.Cancel}}
}

// recipesKeys are the keys among the recipes that are kept.
type recipesKeys struct {
	Up, Down, Take, Drop, Help, Leave key.Binding
}

func newRecipesKeys() recipesKeys {
	return recipesKeys{
		Up:    bind("up", "↑ k", "recipe above", "k"),
		Down:  bind("down", "↓ j", "recipe below", "j"),
		Take:  bind("enter", "enter", "take it up"),
		Drop:  bind("x", "x", "discard"),
		Help:  bind("?", "?", "keys"),
		Leave: bind("esc", "esc", "leave", "q", "ctrl+c"),
	}
}

func (k recipesKeys) ShortHelp() []key.Binding {
	return []key.Binding{k.Take, k.Drop, k.Up, k.Down, k.Help, k.Leave}
}
func (k recipesKeys) FullHelp() [][]key.Binding { return [][]key.Binding{k.ShortHelp()} }

// handbookKeys are the keys in the list of the handbook.
type handbookKeys struct {
	Up, Down, PageUp, PageDown, Top, Bottom key.Binding
	Look, Table, Search, Order              key.Binding
	New, Edit, Drop, Help, Leave            key.Binding
}

func newHandbookKeys() handbookKeys {
	return handbookKeys{
		Up:       bind("up", "↑ k", "row above", "k"),
		Down:     bind("down", "↓ j", "row below", "j"),
		PageUp:   bind("pgup", "pgup", "a screen up"),
		PageDown: bind("pgdown", "pgdn", "a screen down"),
		Top:      bind("home", "home g", "first row", "g"),
		Bottom:   bind("end", "end G", "last row", "G"),
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
	Up, Down, Top, Bottom, Earlier, Later key.Binding
	Take, Give, Undo, Journal, Print      key.Binding
	Order, Empties, Help, Leave           key.Binding
}

func newBottlesKeys() bottlesKeys {
	return bottlesKeys{
		Up:      bind("up", "↑ k", "batch above", "k"),
		Down:    bind("down", "↓ j", "batch below", "j"),
		Top:     bind("home", "home", "first batch"),
		Bottom:  bind("end", "end", "last batch"),
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

// dueKeys are the keys among what is due.
type dueKeys struct {
	Up, Down, Do, Tick, Read, Later, New, Undo, Help, Leave key.Binding
}

func newDueKeys() dueKeys {
	return dueKeys{
		Up:    bind("up", "↑ k", "the one above", "k"),
		Down:  bind("down", "↓ j", "the one below", "j"),
		Do:    bind("enter", "enter", "do it"),
		Tick:  bind("x", "x", "tick off"),
		Read:  bind("r", "r", "read that vessel"),
		Later: bind("p", "p", "put off", "z"),
		New:   bind("n", "n", "remind me"),
		Undo:  bind("u", "u", "undo"),
		Help:  bind("?", "?", "keys"),
		Leave: bind("esc", "esc", "leave", "q", "d", "ctrl+c"),
	}
}

func (k dueKeys) ShortHelp() []key.Binding {
	return []key.Binding{k.Do, k.Tick, k.Later, k.New, k.Undo, k.Help, k.Leave}
}

func (k dueKeys) FullHelp() [][]key.Binding {
	return [][]key.Binding{{k.Up, k.Down, k.Do, k.Tick, k.Read}, {k.Later, k.New, k.Undo, k.Help, k.Leave}}
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
		Split:  bind("s", "s", "split into an empty vessel"),
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
