package ui

import "github.com/charmbracelet/bubbles/key"

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
	walkKeys
	Take, Drop, Help, Leave key.Binding
}

func newRecipesKeys() recipesKeys {
	return recipesKeys{
		walkKeys: newWalkKeys("recipe"),
		Take:     bind("enter", "enter", "take it up"),
		Drop:     bind("x", "x", "discard"),
		Help:     bind("?", "?", "keys"),
		Leave:    bind("esc", "esc", "leave", "q", "ctrl+c"),
	}
}

func (k recipesKeys) ShortHelp() []key.Binding {
	return []key.Binding{k.Take, k.Drop, k.Up, k.Down, k.Help, k.Leave}
}
func (k recipesKeys) FullHelp() [][]key.Binding {
	return [][]key.Binding{k.all(), {k.Take, k.Drop, k.Help, k.Leave}}
}
