package ui

import (
	"fmt"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/model"
)

// confirmBox asks a question over whatever is on screen; yes runs a command.
type confirmBox struct {
	keys     confirmKeys
	question string
	cautions []string
	yes      func(*app) tea.Cmd
}

func newConfirmBox(Options) confirmBox { return confirmBox{keys: newConfirmKeys()} }

func (c *confirmBox) ask(question string, cautions []string, yes func(*app) tea.Cmd) {
	c.question, c.cautions, c.yes = question, cautions, yes
}

// confirmKey answers the question.
func (a app) confirmKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	switch {
	case key.Matches(k, a.confirm.keys.Yes):
		a.leave()
		yes := a.confirm.yes
		a.confirm.yes = nil
		cmd := yes(&a)
		return a, cmd
	case key.Matches(k, a.confirm.keys.No):
		a.leave()
		a.status = status{"left as it was", saidPlain}
	}
	return a, nil
}

// view draws the question and its cautions in lines of w cells.
func (c confirmBox) view(w int, g Glyphs, st *Styles) []string {
	var lines []string
	for _, text := range c.cautions {
		lines = append(lines, indented(wrap(g.text(text), w-4), st.Warn.Render)...)
	}
	return append(lines, indented(wrap(g.text(c.question), w-4), st.Strong.Render)...)
}

// askUndo asks before the last entry of the selected batch is struck out.
func (a app) askUndo() (tea.Model, tea.Cmd) { return a.askUndoOf(a.batch.batch) }

// askUndoOf asks before the last entry of a batch is struck out.
func (a app) askUndoOf(b model.Batch) (tea.Model, tea.Cmd) {
	last, ok := b.LastUndoable()
	if !ok {
		a.say("nothing to undo: only the must is written down", saidPlain)
		return a, nil
	}
	now, say := a.opts.Now(), a.words()
	together := b.Deed(last)
	what := say.Entry(last.Body, nil)
	if n := len(together); n > 1 {
		what = fmt.Sprintf("%d entries written together", n)
	}
	question := fmt.Sprintf("Strike out of %s: %s, %s?", a.opts.Glyphs.text(b.Name), what, last.At.In(now.Location()).Format("Mon 2 Jan 15:04"))
	a.confirm.ask(question, a.undoDetails(together), func(a *app) tea.Cmd {
		return undoLast(a.opts.Store, a.newTicket(), b.ID, now, "struck out: "+what)
	})
	a.enter(onConfirm)
	return a, nil
}

// undoShown is how many entries of a deed the question lists.
const undoShown = 6

// undoDetails lists what was written together, and the batches it reaches into.
func (a app) undoDetails(together []model.Entry) []string {
	var lines []string
	if len(together) > 1 {
		for _, e := range together[:min(len(together), undoShown)] {
			lines = append(lines, a.words().Entry(e.Body, nil))
		}
		if more := len(together) - undoShown; more > 0 {
			lines = append(lines, fmt.Sprintf("and %d more", more))
		}
	}
	for _, id := range model.Others(together) {
		for _, sum := range a.shelf.shelf.Batches {
			if sum.Batch == id {
				lines = append(lines, "and what was written with it in "+a.opts.Glyphs.text(sum.Name))
			}
		}
	}
	return lines
}

// say puts a message where the focus will see it.
func (a *app) say(text string, kind statusKind) {
	a.status = status{text, kind}
	if a.focus == onSweeten {
		a.sweeten.told, a.sweeten.bad = text, kind == saidBad
	}
	if a.focus == onKeep {
		a.keep.told, a.keep.bad = text, kind == saidBad
	}
	if a.focus == onBench {
		a.bench.told, a.bench.bad = text, kind == saidBad
	}
}
