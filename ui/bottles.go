package ui

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// bottled is a batch with bottles, and all that the pane tells of it.
type bottled struct {
	batch  model.Batch
	state  model.State
	stock  model.Stock
	hazard model.Hazard
}

// newBottled works a batch out as it is now.
func newBottled(b model.Batch, now time.Time, table calc.SorbateTable) bottled {
	out := bottled{batch: b, stock: b.Stock(now)}
	var err error
	if out.state, err = model.Replay(b, now); err != nil {
		return out // it still has its bottles
	}
	if out.hazard, err = b.BottleHazard(out.stock, out.state, table); err != nil {
		out.hazard.Sugar = out.state.Figures.Fermentable // not known to keep
	}
	return out
}

// filled is when the bottle that would be taken next was filled.
func (b bottled) filled() time.Time {
	oldest, _ := b.stock.Oldest()
	return oldest.At
}

// row stands for the batch where a vessel is asked for.
func (b bottled) row() model.Row {
	return model.Row{Batch: model.Summary{Batch: b.batch.ID, Name: b.batch.Name, Drink: b.batch.Drink}}
}

// bottleOrder is how the list is sorted.
type bottleOrder uint8

const (
	byAge  bottleOrder = iota // what has lain longest first
	byName                    // to find one
)

// bottlesPane is the bottles of the cellar, batch by batch, and what was said of them.
type bottlesPane struct {
	opts     Options
	keys     bottlesKeys
	all      []bottled
	loaded   bool
	revision uint64 // of the cellar that all was read from
	shown    []bottled
	order    bottleOrder
	empties  bool          // batches of which no bottle is left too
	stays    model.BatchID // shown though its last bottle has just been taken, so that it can be undone
	cursor   int
	scroll   int // of the tastings
}

func newBottlesPane(o Options) bottlesPane { return bottlesPane{opts: o, keys: newBottlesKeys()} }

// bottlesLoadedMsg carries the batches that were bottled, as just read.
type bottlesLoadedMsg struct {
	revision uint64
	bottled  []bottled
}

// loadBottles reads every batch of the shelf that was bottled.
func loadBottles(s Store, shelf model.Shelf, now time.Time, table calc.SorbateTable) tea.Cmd {
	return func() tea.Msg {
		var all []bottled
		for _, sum := range shelf.Batches {
			if sum.Bottles == 0 && sum.Vessel != 0 {
				continue
			}
			b, err := s.Batch(sum.Batch)
			if err != nil {
				return loadFailedMsg{err}
			}
			if one := newBottled(b, now, table); one.stock.Filled > 0 {
				all = append(all, one)
			}
		}
		return bottlesLoadedMsg{shelf.Revision, all}
	}
}

// openBottles shows the bottles, once they are read.
func (a app) openBottles() (tea.Model, tea.Cmd) {
	p := &a.bottles
	p.loaded, p.revision, p.stays, p.scroll = false, 0, 0, 0
	a.status = status{}
	a.enter(onBottles)
	return a, a.reloadBottles()
}

// reloadBottles reads the bottles again if they are on the screen or under it.
func (a app) reloadBottles() tea.Cmd {
	if a.focus != onBottles && !slices.Contains(a.below, onBottles) {
		return nil
	}
	return loadBottles(a.opts.Store, a.shelf.shelf, a.opts.Now(), a.opts.Sorbate)
}

// setBottles takes a fresh read, unless a fresher one came first.
func (p *bottlesPane) setBottles(msg bottlesLoadedMsg) {
	if p.loaded && msg.revision < p.revision {
		return
	}
	p.all, p.loaded, p.revision = msg.bottled, true, msg.revision
	p.arrange()
}

// setBatch takes a fresh read of one batch.
func (p *bottlesPane) setBatch(b model.Batch) {
	i := slices.IndexFunc(p.all, func(x bottled) bool { return x.batch.ID == b.ID })
	if i < 0 || len(b.Entries) < len(p.all[i].batch.Entries) {
		return
	}
	p.all = slices.Clone(p.all)
	p.all[i] = newBottled(b, p.opts.Now(), p.opts.Sorbate)
	p.arrange()
}

// arrange sorts what is to be shown; the cursor stays on its batch.
func (p *bottlesPane) arrange() {
	at := model.BatchID(0)
	if b, ok := p.selected(); ok {
		at = b.batch.ID
	}
	p.shown = nil
	for _, b := range p.all {
		if b.stock.Left > 0 || p.empties || b.batch.ID == p.stays {
			p.shown = append(p.shown, b)
		}
	}
	slices.SortStableFunc(p.shown, func(x, y bottled) int {
		name := strings.Compare(strings.ToLower(x.batch.Name), strings.ToLower(y.batch.Name))
		if p.order == byName {
			return cmp.Or(name, x.filled().Compare(y.filled()))
		}
		return cmp.Or(x.filled().Compare(y.filled()), name)
	})
	p.cursor = max(0, min(p.cursor, len(p.shown)-1))
	if i := slices.IndexFunc(p.shown, func(b bottled) bool { return b.batch.ID == at }); i >= 0 {
		p.cursor = i
	}
}

// selected returns the batch under the cursor.
func (p bottlesPane) selected() (bottled, bool) {
	if p.cursor < 0 || p.cursor >= len(p.shown) {
		return bottled{}, false
	}
	return p.shown[p.cursor], true
}

// move answers the keys that walk the list, and reports whether it did.
func (p *bottlesPane) move(k tea.KeyMsg) bool {
	to, walks := p.keys.walk(k, p.cursor, len(p.shown))
	if walks {
		p.cursor, p.scroll = to, 0
	}
	return walks
}

// bottlesKey answers a key among the bottles.
func (a app) bottlesKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	p := &a.bottles
	switch {
	case key.Matches(k, p.keys.Leave):
		a.leave()
		a.status = status{}
		return a, nil
	case key.Matches(k, p.keys.Help):
		a.help(p.keys)
		return a, nil
	case !p.loaded:
		a.typedAhead = append(a.typedAhead, k)
		return a, nil
	case key.Matches(k, p.keys.Order):
		p.order = byName - p.order
		p.arrange()
		a.status = status{map[bottleOrder]string{byAge: "the oldest first", byName: "by name"}[p.order], saidPlain}
		return a, nil
	case key.Matches(k, p.keys.Empties):
		p.empties = !p.empties
		p.arrange()
		a.status = status{map[bool]string{true: "those with no bottle left too", false: "only those with bottles left"}[p.empties], saidPlain}
		return a, nil
	case p.move(k):
		a.status = status{}
		return a, nil
	case key.Matches(k, p.keys.Later):
		p.scroll = max(0, p.scroll-1)
		return a, nil
	case key.Matches(k, p.keys.Earlier):
		if b, ok := p.selected(); ok {
			p.scroll = min(p.scroll+1, max(0, len(b.stock.Openings)-1))
		}
		return a, nil
	}
	return a.bottleAction(k)
}

// bottleAction answers the keys that need a batch to work on.
func (a app) bottleAction(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	p := &a.bottles
	if !key.Matches(k, p.keys.Take, p.keys.Give, p.keys.Undo, p.keys.Journal, p.keys.Print) {
		return a, nil
	}
	b, ok := p.selected()
	if !ok {
		a.status = status{"no bottles yet; " + a.shelf.keys.Bottle.Help().Key + " on the shelf fills them", saidPlain}
		return a, nil
	}
	a.status = status{}
	switch {
	case key.Matches(k, p.keys.Take):
		a.openTake(b, takesToTaste, "")
	case key.Matches(k, p.keys.Give):
		a.openTake(b, takesAway, "")
	case key.Matches(k, p.keys.Undo):
		p.stays = b.batch.ID
		return a.askUndoOf(b.batch)
	case key.Matches(k, p.keys.Journal):
		a.journal.open(b.row(), b.batch, b.state, 0)
		a.enter(onJournal)
	case key.Matches(k, p.keys.Print):
		return a, a.printSheet(b.batch, false)
	}
	return a, nil
}
