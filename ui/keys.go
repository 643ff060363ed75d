package ui

import "github.com/charmbracelet/bubbles/key"

// Every key of the program is here and in the keys_ files. One binding feeds both the
// match and the help, and a test walks them all: none twice within a focus, none
// without a word.

func bind(keys, shown, what string, more ...string) key.Binding {
	return key.NewBinding(key.WithKeys(append([]string{keys}, more...)...), key.WithHelp(shown, what))
}

// keyMap is the bindings of one focus: a few for the footer, all for the help. On
// a narrow screen the footer keeps the last two and, of the others, the first.
type keyMap interface {
	ShortHelp() []key.Binding
	FullHelp() [][]key.Binding
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
