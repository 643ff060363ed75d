package ui

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// What leads from a must on paper to a batch in a vessel.

// askStart asks before a batch is started from what was built.
func (a app) askStart() (tea.Model, tea.Cmd) {
	p := &a.must
	switch {
	case p.err != nil:
		p.tell(words.PlainError(p.err), true)
	case len(p.recipe.Items) == 0:
		p.tell("nothing in it yet; "+p.keys.Add.Help().Key+" puts something in", true)
	case p.row.Vessel.ID == 0:
		p.tell("no vessel to put it in; "+a.shelf.keys.NewVessel.Help().Key+" on the shelf adds one, and what is built here stays", true)
	case !p.row.Empty():
		p.tell(p.row.Vessel.Label+" holds "+p.row.Batch.Name+"; choose an empty vessel on the shelf. What is built here stays", true)
	case p.recipe.Name == "":
		p.startLine(mustTypesStart, "")
	default:
		return a.askStartNamed(p.recipe.Name)
	}
	return a, nil
}

// askStartNamed is askStart once there is a name.
func (a app) askStartNamed(name string) (tea.Model, tea.Cmd) {
	p := &a.must
	now := a.opts.Now()
	b, err := p.recipe.Batch(name, p.row.Vessel.ID, now, now)
	if err == nil {
		err = model.CheckStart(b, p.row.Vessel)
	}
	if err != nil {
		p.tell(words.PlainError(err), true)
		return a, nil
	}
	var cautions []string
	if p.figures.Fit(p.row.Vessel) == model.Tight {
		cautions = append(cautions, tightText)
	}
	p.typing, p.told, p.recipe.Name = mustTypesNothing, "", name // kept, whatever comes of it
	yeast := "without yeast yet"
	if p.recipe.Yeast != "" {
		yeast = "with " + yeastText(p.recipe.Yeast)
	}
	label := p.row.Vessel.Label
	question := fmt.Sprintf("Start %s in %s, %s at %s, %s?", name, label, a.words().Volume(p.figures.First.Volume), a.words().Gravity(p.figures.First.SG), yeast)
	a.confirm.ask(question, cautions, func(a *app) tea.Cmd {
		a.must.ticket = a.newTicket()
		return startBatch(a.opts.Store, a.must.ticket, b, now)
	})
	a.enter(onConfirm)
	return a, nil
}

// mustStarted goes back to the shelf, to the batch that has begun. The recipe is let
// go of: it is in the journal now.
func (a *app) mustStarted() {
	a.shelf.goTo = a.must.row.Vessel.Label
	a.must.ticket = 0
	a.must.recipe = model.Recipe{}
	a.focus, a.below = onShelf, nil
}

// yeastText says a group of yeast: wine yeast.
func yeastText(g model.YeastGroup) string {
	if g == model.NoYeast {
		return "yeast of a kind not said"
	}
	return string(g) + " yeast"
}
