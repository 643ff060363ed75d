package model

import (
	"slices"
	"time"
)

// DueOver is something that was due and is no more: it was done, or what was written
// since made an end of it.
type DueOver struct {
	DueRow       // as it was told last
	By     Entry // what ended it
}

// DuesOver returns what ceased to be due for a batch at or after a moment and has not
// come back since: done or put aside, no longer true, struck out. What is due depends on
// the journal alone, and a journal only grows, so it is asked of the journal as it was
// after each deed.
//
// The journal cannot tell what a program of other rules, or of another file of the same
// cellar, such as one a backup has replaced, once called due. Nor does this tell what
// began and ceased within one day of a batch read many times a day.
func DuesOver(b Batch, vessels map[VesselID]Vessel, since time.Time) []DueOver {
	row := func(entries int) Row {
		so := b
		so.Entries = b.Entries[:entries:entries]
		sum := Summarise(so)
		return Row{Vessel: vessels[sum.Vessel], Batch: sum}
	}
	looks := b.looksSince(since)
	if len(looks) < 2 {
		return nil
	}
	last := make(map[string]DueOver)
	var order []string
	for i, n := range looks {
		there := make(map[string]bool)
		r := row(n)
		for _, d := range r.Dues() {
			there[d.Key] = true
			if _, known := last[d.Key]; !known {
				order = append(order, d.Key)
			}
			last[d.Key] = DueOver{DueRow: DueRow{r, d}}
		}
		if i == 0 {
			continue
		}
		for key, over := range last {
			if !there[key] && over.By.ID == 0 {
				over.By = endedBy(key, b.Entries[looks[i-1]:n])
				last[key] = over
			}
		}
	}
	var all []DueOver
	for _, key := range order {
		if over := last[key]; over.By.ID != 0 {
			all = append(all, over)
		}
	}
	return all
}

// endedBy returns which of the entries written between two looks made an end of
// something due: the one that names it, or else the last.
func endedBy(key string, written []Entry) Entry {
	i := slices.IndexFunc(written, func(e Entry) bool {
		t, ok := e.Body.(Tick)
		return ok && t.Due == key
	})
	if i < 0 {
		i = len(written) - 1
	}
	return written[i]
}

// manyEntries is more than anybody writes by hand in a season (choice).
const manyEntries = 200

// looksSince returns after how many entries the journal is to be looked at to see all
// that was due since a moment: before the first deed after it, and after each. Of many
// entries, as a gauge writes them, it is enough to look once a day.
func (b Batch) looksSince(since time.Time) []int {
	first := 0 // a part was not there while the journal it began with was another's
	for i, e := range b.Entries {
		if _, part := e.Body.(Part); part {
			first = i
		}
	}
	var looks []int
	for n := first + 1; n <= len(b.Entries); n++ {
		switch {
		case n == len(b.Entries):
		case b.Entries[n].Recorded.Equal(b.Entries[n-1].Recorded): // written together
			continue
		case b.Entries[n].Recorded.Before(since):
			continue
		}
		looks = append(looks, n)
	}
	if len(looks) <= manyEntries {
		return looks
	}
	day := func(n int) time.Time { return b.Entries[n-1].Recorded.UTC().Truncate(24 * time.Hour) }
	thin := looks[:0:0]
	for i, n := range looks {
		if i == 0 || i+1 == len(looks) || !day(n).Equal(day(looks[i+1])) {
			thin = append(thin, n)
		}
	}
	return thin
}
