package model

import (
	"slices"
	"strings"
	"time"
)

// Striking out one side of what passed between two batches would make drink, or lose
// it. So the sides of such a deed, a [Draw] and its [Pour] or [Part], are struck out and
// brought back together. What else was written in one deed, as two sweeteners at once,
// or the journal that a part begins with a copy of, is turned by itself.

// meant returns the entry that a number means: of a void, what it struck out.
func (b Batch) meant(id EntryID) (Entry, bool) {
	for range b.Entries {
		i := slices.IndexFunc(b.Entries, func(e Entry) bool { return e.ID == id })
		if i < 0 {
			return Entry{}, false
		}
		v, void := b.Entries[i].Body.(Void)
		if !void {
			return b.Entries[i], true
		}
		id = v.Entry
	}
	return Entry{}, false
}

// Partners returns the batches with another side of what an entry says: none for what
// concerns this batch alone.
func (b Batch) Partners(id EntryID) []BatchID {
	e, ok := b.meant(id)
	if !ok || e.Deed == 0 || e.others() == 0 {
		return nil
	}
	var deed []Entry
	for _, other := range b.Entries {
		if other.Deed == e.Deed {
			deed = append(deed, other)
		}
	}
	return Others(deed)
}

// CopiedIn names the batches whose journal has an entry of this one too, because one was
// split off the other after it. Each goes its own way since: what is struck out in one
// still counts in the other.
func (b Batch) CopiedIn(id EntryID) []string {
	e, ok := b.meant(id)
	if !ok || e.others() != 0 {
		return nil
	}
	var names []string
	for _, later := range b.Live() {
		if later.At.Before(e.At) {
			continue
		}
		switch body := later.Body.(type) {
		case Draw:
			if name, split := strings.CutPrefix(body.Why, splitInto); split && body.To != 0 && !later.Recorded.Before(e.Recorded) {
				names = append(names, name)
			}
		case Part:
			if e.ID < later.ID {
				names = append(names, body.Name)
			}
		}
	}
	return names
}

// TurnTogether returns what to write so that an entry that counts is struck out, and one
// that was struck out counts again, with the other sides of it: [Batch.Turn] where it has
// none. partners are the batches that [Batch.Partners] names, as they are. The writing of
// this batch comes first.
func (b Batch) TurnTogether(id EntryID, reason string, at time.Time, partners ...Batch) (writings []Writing, back bool, err error) {
	voids, back, err := b.Turn(id, reason)
	if err != nil || len(b.Partners(id)) == 0 {
		return []Writing{{Batch: b.ID, Entries: voidsAt(voids, at)}}, back, err
	}
	e, _ := b.meant(id)
	all := append([]Batch{b}, partners...)
	for _, one := range all {
		var voids []Void
		if back {
			voids = one.bringBack(e.Deed, reason, all)
		} else {
			voids = one.strikeDeed(e, reason)
		}
		if len(voids) > 0 {
			writings = append(writings, Writing{Batch: one.ID, Entries: voidsAt(voids, at)})
		}
	}
	return writings, back, nil
}

// Turned returns the entries of the batch that a writing strikes out or brings back, in
// the order they were written.
func (b Batch) Turned(w Writing) []Entry {
	var turned []Entry
	for _, e := range b.Entries {
		if slices.ContainsFunc(w.Entries, func(by Entry) bool {
			v, void := by.Body.(Void)
			meant, ok := b.meant(v.Entry)
			return void && ok && meant.ID == e.ID
		}) {
			turned = append(turned, e)
		}
	}
	return turned
}

func voidsAt(voids []Void, at time.Time) []Entry {
	entries := make([]Entry, len(voids))
	for i, v := range voids {
		entries[i] = Entry{At: at, Recorded: at, Body: v}
	}
	return entries
}

// strikeDeed strikes out all that counts of the deed of e, the last first.
func (b Batch) strikeDeed(e Entry, reason string) []Void {
	var voids []Void
	for _, one := range slices.Backward(b.Live()) {
		if one.Deed == e.Deed {
			voids = append(voids, Void{Entry: one.ID, Reason: reason})
		}
	}
	return voids
}

// bringBack takes back what struck out the sides of a deed, with all that was struck out
// in the same breath: of a part that is its whole journal.
func (b Batch) bringBack(deed uint64, reason string, all []Batch) []Void {
	breaths := make(map[uint64]bool)
	for _, one := range all {
		for _, by := range one.sidesStruck(deed) {
			breaths[by.Deed] = by.Deed != 0
		}
	}
	var voids []Void
	struck := b.strikes()
	for _, e := range slices.Backward(b.Entries) {
		if _, void := e.Body.(Void); void {
			continue
		}
		for _, by := range struck[e.ID] {
			if breaths[by.Deed] || e.Deed == deed && e.others() != 0 {
				voids = append(voids, Void{Entry: by.ID, Reason: reason})
			}
		}
	}
	return voids
}

// sidesStruck returns what struck out the entries of a deed that have another side.
func (b Batch) sidesStruck(deed uint64) []Entry {
	struck := b.strikes()
	var by []Entry
	for _, e := range b.Entries {
		if e.Deed == deed && e.others() != 0 {
			by = append(by, struck[e.ID]...)
		}
	}
	return by
}
