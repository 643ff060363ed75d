package ui

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/model"
)

// Facts. They go to every pane, whichever has the focus.
type (
	// shelfLoadedMsg carries the cellar as just read.
	shelfLoadedMsg struct{ shelf model.Shelf }

	// batchLoadedMsg carries a batch as just read, and what it works out to.
	batchLoadedMsg struct {
		batch model.Batch
		state model.State
		err   error // of the replay; the journal itself was read
	}

	// outlookMsg carries the forecast of a batch as it was with so many entries.
	outlookMsg struct {
		batch   model.BatchID
		entries int
		outlook model.Outlook
	}

	// loadFailedMsg says that the cellar could not be read.
	loadFailedMsg struct{ err error }

	// revisionMsg carries the store's revision, asked now and then to notice
	// what another session wrote.
	revisionMsg struct{ revision uint64 }

	// writtenMsg says that a write is on disk. batch is the zero Batch when the
	// write was not about one.
	writtenMsg struct {
		ticket ticket
		batch  model.Batch
		state  model.State
		said   string // what to tell the person
	}

	// writeFailedMsg says that a write was refused or failed; nothing changed.
	writeFailedMsg struct {
		ticket ticket
		err    error
	}

	// plansLoadedMsg carries the plans kept for a batch.
	plansLoadedMsg struct {
		batch model.BatchID
		plans []model.Plan
	}

	// larderMsg carries the tables of sweeteners and fruit: as just read, or with the
	// own row that the ticket wrote.
	larderMsg struct {
		ticket ticket
		larder model.Larder
		said   string // what to tell the person; empty: nothing was written
	}

	// larderFailedMsg says that the tables could not be read, or that the own row of
	// the ticket was not written; nothing changed.
	larderFailedMsg struct {
		ticket ticket
		err    error
	}

	// rowTextMsg carries a row of the handbook to be edited.
	rowTextMsg struct {
		table model.Table
		row   model.RowText
		stuff model.Stuff // the row that it was asked for
		err   error
	}

	// storeReadyMsg says that the first-run screen has made the cellar.
	storeReadyMsg struct{ store Store }

	// tickMsg is the clock of the screen: time to look for other writers.
	tickMsg time.Time
)

// settledMsg says that the cursor has rested since its n-th move.
type settledMsg int

// settle waits for the cursor to rest.
func settle(wait time.Duration, move int) tea.Cmd {
	if wait <= 0 {
		return func() tea.Msg { return settledMsg(move) }
	}
	return tea.Tick(wait, func(time.Time) tea.Msg { return settledMsg(move) })
}

// ticket tells a pane's own write from another's.
type ticket int

// tick sends a tickMsg after a while; never for a zero while.
func tick(every time.Duration) tea.Cmd {
	if every <= 0 {
		return nil
	}
	return tea.Tick(every, func(t time.Time) tea.Msg { return tickMsg(t) })
}

// loadShelf reads the cellar.
func loadShelf(s Store) tea.Cmd {
	return func() tea.Msg {
		shelf, err := s.Shelf()
		if err != nil {
			return loadFailedMsg{err}
		}
		return shelfLoadedMsg{shelf}
	}
}

// loadBatch reads a batch and works it out.
func loadBatch(s Store, id model.BatchID, now time.Time) tea.Cmd {
	return func() tea.Msg {
		b, err := s.Batch(id)
		if err != nil {
			return loadFailedMsg{err}
		}
		state, err := model.Replay(b, now)
		return batchLoadedMsg{b, state, err}
	}
}

// foresee works out where a batch is going. That takes long enough to be felt, so it
// comes after the batch itself; should it fail there is nothing to show, and what is
// wrong with the journal is told elsewhere.
func foresee(b model.Batch, now time.Time) tea.Cmd {
	return func() tea.Msg {
		o, err := model.Foresee(b, now)
		if err != nil {
			return nil
		}
		return outlookMsg{b.ID, len(b.Entries), o}
	}
}

// checkRevision asks whether another session wrote. A failure is left to the
// next load to report.
func checkRevision(s Store) tea.Cmd {
	return func() tea.Msg {
		r, err := s.Revision()
		if err != nil {
			return nil
		}
		return revisionMsg{r}
	}
}

// appendEntries writes entries to a journal.
func appendEntries(s Store, t ticket, id model.BatchID, now time.Time, said string, entries ...model.Entry) tea.Cmd {
	return func() tea.Msg {
		b, err := s.Append(id, entries...)
		if err != nil {
			return writeFailedMsg{t, err}
		}
		state, err := model.Replay(b, now)
		if err != nil {
			said += ", but " + err.Error()
		}
		return writtenMsg{t, b, state, said}
	}
}

// undoLast strikes out what was written last of a batch, with all that belongs to it.
func undoLast(s Store, t ticket, id model.BatchID, now time.Time, said string) tea.Cmd {
	return func() tea.Msg {
		batches, err := s.Undo(id, now, "undo")
		return writtenTogether(t, batches, err, now, said)
	}
}

// writeTogether adds to several journals at once; the first writing is of the batch to
// show.
func writeTogether(s Store, t ticket, now time.Time, said string, writings ...model.Writing) tea.Cmd {
	return func() tea.Msg {
		batches, err := s.Write(writings...)
		return writtenTogether(t, batches, err, now, said)
	}
}

func writtenTogether(t ticket, batches []model.Batch, err error, now time.Time, said string) tea.Msg {
	if err != nil {
		return writeFailedMsg{t, err}
	}
	if batches[0].Undone() {
		return writtenMsg{ticket: t, said: said}
	}
	state, err := model.Replay(batches[0], now)
	if err != nil {
		said += ", but " + err.Error()
	}
	return writtenMsg{t, batches[0], state, said}
}

// addVessel writes a vessel.
func addVessel(s Store, t ticket, v model.Vessel) tea.Cmd {
	return func() tea.Msg {
		v, err := s.AddVessel(v)
		if err != nil {
			return writeFailedMsg{t, err}
		}
		return writtenMsg{ticket: t, said: v.Label + " is on the shelf"}
	}
}

// changeVessel writes what is known of a vessel.
func changeVessel(s Store, t ticket, v model.Vessel) tea.Cmd {
	return func() tea.Msg {
		if err := s.ChangeVessel(v); err != nil {
			return writeFailedMsg{t, err}
		}
		return writtenMsg{ticket: t, said: v.Label + " is written down anew"}
	}
}

// startBatch writes a batch.
func startBatch(s Store, t ticket, b model.Batch, now time.Time) tea.Cmd {
	return func() tea.Msg {
		b, err := s.StartBatch(b)
		if err != nil {
			return writeFailedMsg{t, err}
		}
		state, err := model.Replay(b, now)
		if err != nil {
			return writeFailedMsg{t, err}
		}
		return writtenMsg{t, b, state, b.Name + " has begun; its gas is heavier than air and chokes, so keep the room aired"}
	}
}

// loadPlans reads the plans kept for a batch.
func loadPlans(s Store, id model.BatchID) tea.Cmd {
	return func() tea.Msg {
		plans, err := s.Plans(id)
		if err != nil {
			return loadFailedMsg{err}
		}
		return plansLoadedMsg{id, plans}
	}
}

// keepPlan writes a plan.
func keepPlan(s Store, t ticket, id model.BatchID, p model.Plan) tea.Cmd {
	return func() tea.Msg {
		if err := s.KeepPlan(id, p); err != nil {
			return writeFailedMsg{t, err}
		}
		return writtenMsg{ticket: t, said: p.Name + " is kept; o in the planner opens it"}
	}
}

// dropPlan discards a plan, and reads what is left.
func dropPlan(s Store, t ticket, id model.BatchID, name string) tea.Cmd {
	return func() tea.Msg {
		if err := s.DropPlan(id, name); err != nil {
			return writeFailedMsg{t, err}
		}
		return writtenMsg{ticket: t, said: name + " is discarded"}
	}
}

// loadLarder reads the tables of sweeteners and fruit.
func loadLarder(h Handbook) tea.Cmd {
	if h == nil {
		return nil
	}
	return func() tea.Msg {
		l, err := h.Larder()
		if err != nil {
			return larderFailedMsg{err: err}
		}
		return larderMsg{larder: l}
	}
}

// loadRowText reads the row of s to edit it.
func loadRowText(h Handbook, s model.Stuff) tea.Cmd {
	return func() tea.Msg {
		row, err := h.RowText(s.Table(), s.ID())
		return rowTextMsg{s.Table(), row, s, err}
	}
}

// keepRow writes an own row.
func keepRow(h Handbook, t ticket, table model.Table, row model.RowText) tea.Cmd {
	return func() tea.Msg {
		l, err := h.KeepRow(table, row)
		if err != nil {
			return larderFailedMsg{t, err}
		}
		return larderMsg{t, l, row["name"] + " is in your handbook"}
	}
}

// dropRow takes an own row away.
func dropRow(h Handbook, t ticket, s model.Stuff) tea.Cmd {
	return func() tea.Msg {
		l, err := h.DropRow(s.Table(), s.ID())
		if err != nil {
			return larderFailedMsg{t, err}
		}
		return larderMsg{t, l, "your own row " + s.Name() + " is taken away"}
	}
}

// saveSettings writes the settings.
func saveSettings(s Store, t ticket, set model.Settings, said string) tea.Cmd {
	return func() tea.Msg {
		if err := s.SaveSettings(set); err != nil {
			return writeFailedMsg{t, err}
		}
		return writtenMsg{ticket: t, said: said}
	}
}

// LookNow returns the message with which the screen's clock asks it to look for
// what other sessions wrote. Tests send it; in life the clock does.
func LookNow() tea.Msg { return tickMsg{} }
