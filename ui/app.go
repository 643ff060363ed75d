package ui

import (
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// focus says who is given the keys.
type focus uint8

const (
	onShelf focus = iota
	onEntry
	onSweeten
	onBench
	onFizz
	onKeep
	onPlans
	onMust
	onRecipes
	onDue
	onForm
	onMenu
	onJournal
	onHandbook
	onRowForm
	onBottles
	onConfirm
	onHelp
	onWelcome
)

// app is the root: it holds the panes, hands keys to the one that has the focus
// and facts to all, and counts the saves in flight.
type app struct {
	opts  Options
	w, h  int
	focus focus
	below []focus // where to go back to

	shelf    shelfPane
	batch    batchPane
	entry    entryLine
	sweeten  sweetenPane
	bench    benchPane
	fizz     fizzPane
	keep     keepPane
	plans    plansPane
	due      duePane
	must     mustPane
	recipes  recipesPane
	form     formPane
	menu     menuPane
	journal  journalPane
	confirm  confirmBox
	handbook handbookPane
	rowForm  rowFormPane
	welcome  welcomePane
	helping  keyMap
	helpFrom int // first line of the help on the screen
	bottles  bottlesPane

	status     status
	typedAhead []tea.KeyMsg // keys that wait for the shelf or the selected batch to be read
	moves      int          // of the cursor, to know the last
	lastTicket ticket
	saving     int
	quitting   bool
}

// status is the line above the keys: what happened, or what went wrong.
type status struct {
	text string
	kind statusKind
}

type statusKind uint8

const (
	saidPlain statusKind = iota
	saidGood
	saidBad
)

// New returns the dashboard as a Bubble Tea model.
func New(o Options) tea.Model {
	a := app{opts: o, w: 80, h: 24}
	a.shelf = newShelfPane(o)
	a.batch = newBatchPane(o)
	a.entry = newEntryLine(o)
	a.sweeten = newSweetenPane(o)
	a.bench = newBenchPane(o)
	a.fizz = newFizzPane(o)
	a.keep = newKeepPane(o)
	a.plans = newPlansPane(o)
	a.must = newMustPane(o)
	a.recipes = newRecipesPane(o)
	a.due = newDuePane(o)
	a.form = newFormPane(o)
	a.menu = newMenuPane(o)
	a.journal = newJournalPane(o)
	a.handbook = newHandbookPane(o)
	a.rowForm = newRowFormPane(o)
	a.bottles = newBottlesPane(o)
	a.confirm = newConfirmBox(o)
	a.welcome = newWelcomePane(o)
	if o.Store == nil {
		a.focus = onWelcome
	}
	return a
}

// Init implements tea.Model.
func (a app) Init() tea.Cmd {
	if a.opts.Store == nil {
		return nil
	}
	return tea.Batch(loadShelf(a.opts.Store), tick(a.opts.LookEvery))
}

// Update implements tea.Model.
func (a app) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		a.w, a.h = msg.Width, msg.Height
		a.helpFrom = 0
		return a, nil
	case tea.KeyMsg:
		return a.handleKeys(msg)
	case tickMsg:
		return a, tea.Batch(checkRevision(a.opts.Store), tick(a.opts.LookEvery))
	case revisionMsg:
		if msg.revision != a.shelf.shelf.Revision {
			return a, a.reload()
		}
		return a, nil
	}
	return a.handleFact(msg)
}

// handleKeys takes letters that arrived together one by one: on a slow line
// several keys come in one packet, and the screen library makes one message of
// them. Pasted text stays whole.
func (a app) handleKeys(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	if k.Type != tea.KeyRunes || k.Paste || len(k.Runes) < 2 {
		return a.handleKey(k)
	}
	var m tea.Model = a
	cmds := make([]tea.Cmd, 0, len(k.Runes))
	for _, r := range k.Runes {
		one := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}, Alt: k.Alt}
		if r == ' ' {
			one.Type = tea.KeySpace
		}
		var cmd tea.Cmd
		m, cmd = m.(app).handleKey(one)
		cmds = append(cmds, cmd)
	}
	return m, tea.Batch(cmds...)
}

// handleKey gives a key to the pane in focus, and to no other.
func (a app) handleKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	if a.quitting {
		return a, nil
	}
	if len(a.typedAhead) > 0 || a.focus == onShelf && !a.shelf.loaded {
		a.typedAhead = append(a.typedAhead, k)
		return a, nil
	}
	switch a.focus {
	case onEntry:
		return a.entryKey(k)
	case onSweeten:
		return a.sweetenKey(k)
	case onBench:
		return a.benchKey(k)
	case onFizz:
		return a.fizzKey(k)
	case onKeep:
		return a.keepKey(k)
	case onPlans:
		return a.plansKey(k)
	case onMust:
		return a.mustKey(k)
	case onRecipes:
		return a.recipesKey(k)
	case onDue:
		return a.dueKey(k)
	case onForm:
		return a.formKey(k)
	case onMenu:
		return a.menuKey(k)
	case onJournal:
		return a.journalKey(k)
	case onHandbook:
		return a.handbookKey(k)
	case onRowForm:
		return a.rowFormKey(k)
	case onBottles:
		return a.bottlesKey(k)
	case onConfirm:
		return a.confirmKey(k)
	case onHelp:
		return a.helpKey(k)
	case onWelcome:
		return a.welcomeKey(k)
	}
	return a.shelfKey(k)
}

// handleFact gives news to every pane.
func (a app) handleFact(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case shelfLoadedMsg:
		a.shelf.setShelf(msg.shelf)
		a.due.setShelf(msg.shelf, a.isOpen(onDue))
		a.sweeten.settings = msg.shelf.Settings
		a.must.settings = msg.shelf.Settings
		cmd := tea.Batch(a.loadSelected(), a.reloadBottles())
		if a.shelf.selectedBatch() == 0 {
			m, next := a.resume()
			return m, tea.Batch(cmd, next)
		}
		return a, cmd
	case batchLoadedMsg:
		a.setBatch(msg.batch, msg.state, msg.err)
		m, cmd := a.resume()
		return m, tea.Batch(foresee(msg.batch, a.opts.Now()), cmd)
	case outlookMsg:
		a.batch.setOutlook(msg)
	case settledMsg:
		if int(msg) == a.moves {
			return a, a.loadSelected()
		}
	case sheetWrittenMsg:
		return a.sheetWritten(msg)
	case otherLoadedMsg:
		a.form.takeOther(msg.batch, a.opts.Now())
	case dueBatchMsg:
		a.due.read = msg.batch
		return a.resume()
	case partnersMsg:
		a.journal.partners = msg.batches
		return a.resume()
	case bottlesLoadedMsg:
		a.bottles.setBottles(msg)
		return a.resume()
	case plansLoadedMsg:
		a.plans.setPlans(msg)
	case recipesLoadedMsg:
		a.recipes.setRecipes(msg)
	case larderMsg:
		return a.larderLoaded(msg)
	case larderFailedMsg:
		return a.larderFailed(msg)
	case rowTextMsg:
		a.editRow(msg)
	case loadFailedMsg:
		a.typedAhead = nil
		a.status = status{msg.err.Error(), saidBad}
	case writtenMsg:
		return a.written(msg)
	case writeFailedMsg:
		return a.writeFailed(msg)
	case createFailedMsg:
		a.saving--
		a.quitting = false
		a.welcome.making, a.welcome.trouble = false, msg.err.Error()
	case storeReadyMsg:
		a.opts.Store = msg.store
		a.opts.Path = msg.store.Path()
		a.focus = onShelf
		a.saving--
		a.status = status{"made " + a.opts.Path, saidGood}
		return a, tea.Batch(loadShelf(msg.store), tick(a.opts.LookEvery))
	}
	return a, nil
}

// resume takes up the keys that came while the selected batch was being read.
func (a app) resume() (tea.Model, tea.Cmd) {
	id := a.shelf.selectedBatch()
	if len(a.typedAhead) == 0 || id != 0 && !a.batch.shows(id) {
		return a, nil
	}
	keys := a.typedAhead
	a.typedAhead = nil
	var m tea.Model = a
	cmds := make([]tea.Cmd, 0, len(keys))
	for _, k := range keys {
		var cmd tea.Cmd
		m, cmd = m.(app).handleKey(k)
		cmds = append(cmds, cmd)
	}
	return m, tea.Batch(cmds...)
}

// setBatch hands a batch to every pane that may show it.
func (a *app) setBatch(b model.Batch, s model.State, err error) {
	if b.ID == a.shelf.selectedBatch() {
		a.batch.turnTo(a.shelf.selectedLabel())
		a.batch.setBatch(b, s, err)
	}
	if b.ID == a.journal.batch.ID {
		a.journal.setBatch(b, s)
	}
	a.bottles.setBatch(b)
	a.entry.setBatch(b)
	a.sweeten.setBatch(b, s, err)
	a.bench.setBatch(b, s, err)
	a.fizz.setBatch(b, s, err)
	a.keep.setBatch(b, s, err)
	a.plans.setBatch(b, s, err)
	a.due.setBatch(b)
}

// reload reads everything again.
func (a app) reload() tea.Cmd { return loadShelf(a.opts.Store) }

// loadSelected reads the batch the shelf points at, and turns to it.
func (a *app) loadSelected() tea.Cmd {
	id := a.shelf.selectedBatch()
	if id == 0 {
		a.batch.turnTo(a.shelf.selectedLabel())
		return nil
	}
	return loadBatch(a.opts.Store, id, a.opts.Now())
}

// enter gives the focus to f, to come back later.
func (a *app) enter(f focus) {
	a.below = append(a.below[:len(a.below):len(a.below)], a.focus)
	a.focus = f
}

// isOpen reports whether f has the focus, or gets it back.
func (a app) isOpen(f focus) bool { return a.focus == f || slices.Contains(a.below, f) }

// leave gives the focus back.
func (a *app) leave() {
	if n := len(a.below); n > 0 {
		a.focus, a.below = a.below[n-1], a.below[:n-1]
		return
	}
	a.focus = onShelf
}

// quit ends the program when nothing is being saved, and otherwise as soon as
// that is done.
func (a app) quit() (tea.Model, tea.Cmd) {
	if a.saving > 0 {
		a.quitting = true
		a.status = status{"saving, then leaving", saidPlain}
		return a, nil
	}
	return a, tea.Quit
}

// help shows every key of the focus.
func (a *app) help(keys keyMap) {
	a.helping, a.helpFrom = keys, 0
	a.enter(onHelp)
}

// words returns how things are written now.
func (a app) words() words.Words { return a.opts.Glyphs.Words(a.shelf.shelf.Settings.US) }
