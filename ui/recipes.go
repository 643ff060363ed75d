package ui

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// recipesPane lists the person's own recipes, to take one up in the builder.
type recipesPane struct {
	opts    Options
	keys    recipesKeys
	row     model.Row
	recipes []model.Recipe
	loaded  bool
	cursor  int
}

func newRecipesPane(o Options) recipesPane { return recipesPane{opts: o, keys: newRecipesKeys()} }

// open shows the recipes once they are read.
func (p *recipesPane) open(row model.Row) { p.row, p.recipes, p.loaded, p.cursor = row, nil, false, 0 }

func (p *recipesPane) setRecipes(msg recipesLoadedMsg) {
	p.recipes, p.loaded = msg.recipes, true
	p.cursor = max(0, min(p.cursor, len(p.recipes)-1))
}

// recipesKey answers a key among the recipes.
func (a app) recipesKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	p := &a.recipes
	if to, walks := p.keys.walk(k, p.cursor, len(p.recipes)); walks {
		p.cursor = to
		return a, nil
	}
	switch {
	case key.Matches(k, p.keys.Leave):
		a.leave()
	case key.Matches(k, p.keys.Help):
		a.help(p.keys)
	case len(p.recipes) == 0:
	case key.Matches(k, p.keys.Take):
		r := p.recipes[p.cursor]
		a.leave()
		a.must.take(r)
	case key.Matches(k, p.keys.Drop):
		name := p.recipes[p.cursor].Name
		a.confirm.ask("Discard the recipe "+name+" without trace?", nil, func(a *app) tea.Cmd {
			return dropRecipe(a.opts.Store, a.newTicket(), name)
		})
		a.enter(onConfirm)
	}
	return a, nil
}

// view lists the recipes in w by h cells, two lines each.
func (p recipesPane) view(w, h int, say words.Words, st *Styles) []string {
	g := p.opts.Glyphs
	lines := []string{rule("Recipes", w, g, st), ""}
	switch {
	case !p.loaded:
		return padLines(lines, w, h)
	case len(p.recipes) == 0:
		return padLines(append(lines, indented(wrap("No recipe is kept. In the builder w keeps what is there, under a name.", w-4), st.Muted.Render)...), w, h)
	}
	shown := max(1, (h-2)/2)
	first := max(0, min(p.cursor-shown/2, len(p.recipes)-shown))
	for i := first; i < min(first+shown, len(p.recipes)); i++ {
		r := p.recipes[i]
		pointer, name := "  ", st.Plain.Render(cut(g.text(r.Name), w-4))
		if i == p.cursor {
			pointer, name = st.Key.Render(g.Pointer)+" ", st.Chosen.Render(cut(g.text(r.Name), w-4))
		}
		lines = append(lines, pointer+name, "    "+st.Muted.Render(cut(g.text(RecipeText(r, say)), w-4)))
	}
	return padLines(lines, w, h)
}

// RecipeText says a recipe in a line: mead, 10.0 L at 1.095, of honey and apple.
func RecipeText(r model.Recipe, say words.Words) string {
	names := make([]string, len(r.Items))
	for i, it := range r.Items {
		names[i] = it.Stuff.Name()
	}
	of := ", of " + strings.Join(names, ", ")
	f, err := r.Figures()
	if err != nil {
		return string(r.Drink) + of
	}
	return fmt.Sprintf("%s, %s at %s%s", r.Drink, say.Volume(f.Whole.Volume), say.Gravity(f.Whole.SGAllOut), of)
}

// recipesLoadedMsg carries the recipes as just read.
type recipesLoadedMsg struct{ recipes []model.Recipe }

// loadRecipes reads the person's recipes.
func loadRecipes(s Store) tea.Cmd {
	return func() tea.Msg {
		recipes, err := s.Recipes()
		if err != nil {
			return loadFailedMsg{err}
		}
		return recipesLoadedMsg{recipes}
	}
}

// keepRecipe writes a recipe.
func keepRecipe(s Store, t ticket, r model.Recipe) tea.Cmd {
	return func() tea.Msg {
		if err := s.KeepRecipe(r); err != nil {
			return writeFailedMsg{t, err}
		}
		return writtenMsg{ticket: t, said: r.Name + " is kept; o in the builder opens it"}
	}
}

// dropRecipe discards a recipe.
func dropRecipe(s Store, t ticket, name string) tea.Cmd {
	return func() tea.Msg {
		if err := s.DropRecipe(name); err != nil {
			return writeFailedMsg{t, err}
		}
		return writtenMsg{ticket: t, said: name + " is discarded"}
	}
}
