package model

import (
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
		if e.Body.Kind() != KindVoid && !struck[e.ID] {
			live = append(live, e)
		}
	}
	slices.SortStableFunc(live, func(x, y Entry) int { return x.At.Compare(y.At) })
	return live
}

// LastUndoable returns the entry that an undo would strike out: the one written
// last that still counts. The must itself cannot be undone.
func (b Batch) LastUndoable() (Entry, bool) {
	live := b.Live()
	slices.SortFunc(live, func(x, y Entry) int { return int(int64(y.ID) - int64(x.ID)) })
	for _, e := range live {
		if e.Body.Kind() != KindMust {
			return e, true
		}
	}
	return Entry{}, false
}

// Started returns when the must was made, or the time of the first entry.
func (b Batch) Started() time.Time {
	live := b.Live()
	for _, e := range live {
		if e.Body.Kind() == KindMust {
			return e.At
		}
	}
	if len(live) > 0 {
		return live[0].At
	}
	return time.Time{}
}
