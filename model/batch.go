package model

import (
	"cmp"
	"fmt"
	"slices"
	"time"
)

// BatchID names a batch for good. Zero is no batch.
type BatchID uint64

// Batch is one drink from must to last bottle: its journal, and what it is
// called.
type Batch struct {
	ID      BatchID
	Name    string
	Drink   Drink
	Entries []Entry // in the order they were written

	// Series is what a device in the vessel said, in spells and in order; most batches
	// have none. It is no part of the journal.
	Series []Spell
}

// Validate reports what is wrong with the batch's name and kind, or nil.
func (b Batch) Validate() error {
	if err := plainText("name", b.Name, maxName, true); err != nil {
		return err
	}
	if !isOneOf(b.Drink, Drinks()) {
		return fmt.Errorf("drink %q is not one of %s: %w", b.Drink, joined(Drinks()), ErrInvalid)
	}
	return nil
}

// Live returns the entries that count, in the order they happened: all but the
// voids and what they strike out. A void that is itself voided has no effect.
func (b Batch) Live() []Entry {
	struck := make(map[EntryID]bool)
	// A void always comes after what it strikes out, so from the last entry
	// back every void is judged before its target.
	for i := len(b.Entries) - 1; i >= 0; i-- {
		if v, ok := b.Entries[i].Body.(Void); ok && !struck[b.Entries[i].ID] {
			struck[v.Entry] = true
		}
	}
	live := make([]Entry, 0, len(b.Entries))
	for _, e := range b.Entries {
		if _, void := e.Body.(Void); !void && !struck[e.ID] {
			live = append(live, e)
		}
	}
	slices.SortStableFunc(live, func(x, y Entry) int { return cmp.Or(x.At.Compare(y.At), mustFirst(x, y)) })
	return live
}

// mustFirst orders a must before what else happened in the same minute, so that one
// written down anew still comes before its pitch.
func mustFirst(x, y Entry) int {
	_, mx := x.Body.(Must)
	_, my := y.Body.(Must)
	switch {
	case mx && !my:
		return -1
	case my && !mx:
		return 1
	}
	return 0
}

// checkVoids reports a void that strikes out nothing, or something written after it.
func (b Batch) checkVoids() error {
	written := make(map[EntryID]bool, len(b.Entries))
	for _, e := range b.Entries {
		if v, ok := e.Body.(Void); ok && !written[v.Entry] {
			return e.wrap(fmt.Errorf("there is no entry %d before it to strike out: %w", v.Entry, ErrInvalid))
		}
		written[e.ID] = true
	}
	return nil
}

// LastUndoable returns the entry that an undo would strike out: the one written
// last that still counts. The must itself cannot be undone, unless it came with a
// part that was split off.
func (b Batch) LastUndoable() (Entry, bool) {
	var last Entry
	for _, e := range b.Live() {
		if _, must := e.Body.(Must); !must && e.ID > last.ID {
			last = e
		}
	}
	return last, last.ID != 0
}

// Deed returns the entries that count and were written together with e.
func (b Batch) Deed(e Entry) []Entry {
	if e.Deed == 0 {
		return []Entry{e}
	}
	var all []Entry
	for _, other := range b.Live() {
		if other.Deed == e.Deed {
			all = append(all, other)
		}
	}
	return all
}

// Undone reports whether this was split off another batch and all of it struck out
// again. It is no batch any more.
func (b Batch) Undone() bool {
	if len(b.Live()) > 0 || b.checkVoids() != nil {
		return false
	}
	return slices.ContainsFunc(b.Entries, func(e Entry) bool { return e.Body.Kind() == KindPart })
}

// Started returns when the must was made, or the time of the first entry.
func (b Batch) Started() time.Time {
	live := b.Live()
	for _, e := range live {
		if _, must := e.Body.(Must); must {
			return e.At
		}
	}
	if len(live) > 0 {
		return live[0].At
	}
	return time.Time{}
}
