package model

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"cellar.local/glassrow/calc"
)

// Writing is what one deed adds to one batch. A deed may touch several.
type Writing struct {
	Batch   BatchID // 0: a new batch, New
	New     Batch
	Entries []Entry
}

// others returns the batches that an entry names besides its own.
func (e Entry) others() BatchID {
	switch b := e.Body.(type) {
	case Draw:
		return b.To
	case Pour:
		return b.From
	case Part:
		return b.From
	}
	return 0
}

// Others returns the batches that entries name besides their own, each once.
func Others(entries []Entry) []BatchID {
	var ids []BatchID
	seen := make(map[BatchID]bool)
	for _, e := range entries {
		if id := e.others(); id != 0 && !seen[id] {
			seen[id] = true
			ids = append(ids, id)
		}
	}
	return ids
}

// Split returns what to write to take volume litres of a batch into a free vessel as a
// batch of its own: the new batch with the journal so far, and the draw from the old
// one. The new batch's number is not known before it is stored; the store fills it in
// where the draw names none.
func Split(b Batch, name string, v Vessel, volume calc.Litre, at, now time.Time) ([]Writing, error) {
	s, err := drawnAt(b, at)
	if err != nil {
		return nil, err
	}
	if err := hasSome(s, volume); err != nil {
		return nil, err
	}
	if volume > v.Capacity*1.001 {
		return nil, fmt.Errorf("%.4g L does not fit: %s holds %.4g L: %w", float64(volume), v.Label, float64(v.Capacity), ErrInvalid)
	}
	part := Batch{Name: name, Drink: b.Drink}
	for _, s := range b.Series {
		if !s.Last.After(at) {
			part.Series = append(part.Series, s)
		}
	}
	for _, e := range b.Live() {
		if !e.At.After(at) {
			part.Entries = append(part.Entries, e)
		}
	}
	renumber(part.Entries)
	part.Entries = append(part.Entries, Entry{At: at, Recorded: now,
		Body: Part{From: b.ID, Name: b.Name, Vessel: v.ID, Volume: volume}})
	if err := part.Validate(); err != nil {
		return nil, err
	}
	drawn := Entry{At: at, Recorded: now, Body: Draw{Volume: volume, Why: splitInto + name}}
	return []Writing{{New: part}, {Batch: b.ID, Entries: []Entry{drawn}}}, nil
}

// splitInto begins what the draw of a split says, before the name of the part.
const splitInto = "split into "

// renumber counts the entries of a copied journal from 1, in the order they happened,
// and keeps what names another entry pointing at it.
func renumber(entries []Entry) {
	fresh := make(map[EntryID]EntryID, len(entries))
	for i, e := range entries {
		fresh[e.ID] = EntryID(i + 1)
	}
	for i := range entries {
		e := &entries[i]
		e.ID, e.Deed = EntryID(i+1), 0
		switch b := e.Body.(type) {
		case Tasting:
			b.Bench = fresh[b.Bench]
			e.Body = b
		case Feed:
			b.Plan = fresh[b.Plan]
			e.Body = b
		case Addition:
			b.Plan = fresh[b.Plan]
			e.Body = b
		case Tick:
			b.Due = renumberDue(b.Due, fresh)
			e.Body = b
		}
	}
}

// renumberDue returns the key of something due that names an entry, by its new number:
// remind:17, feed:12:1.
func renumberDue(key string, fresh map[EntryID]EntryID) string {
	parts := strings.SplitN(key, ":", 3)
	if parts[0] != DueRemind && parts[0] != DueFeed || len(parts) < 2 {
		return key
	}
	n, err := strconv.ParseUint(parts[1], 10, 64)
	if err != nil {
		return key
	}
	parts[1] = fmt.Sprint(fresh[EntryID(n)])
	return strings.Join(parts, ":")
}

// hasSome reports an error when there is no such volume in the vessel.
func hasSome(s State, volume calc.Litre) error {
	if err := checkSome(volume); err != nil {
		return err
	}
	if s.Vessel == 0 {
		return fmt.Errorf("nothing of it is in a vessel: %w", ErrInvalid)
	}
	if volume > s.Figures.Volume*(1+heldBack) {
		return fmt.Errorf("%.4g L out of %.4g L: %w", float64(volume), float64(s.Figures.Volume), ErrInvalid)
	}
	return nil
}

// PourOver returns what to write to pour volume litres of one batch into another: to
// top it up, or to blend the two.
func PourOver(from, into Batch, volume calc.Litre, at, now time.Time) ([]Writing, error) {
	if from.ID == into.ID {
		return nil, fmt.Errorf("%s cannot be poured into itself: %w", from.Name, ErrInvalid)
	}
	s, err := drawnAt(from, at)
	if err != nil {
		return nil, err
	}
	if err := hasSome(s, volume); err != nil {
		return nil, err
	}
	poured := Pour{From: from.ID, Name: from.Name, Liquid: s.Liquid.Scaled(float64(volume / s.Figures.Volume))}
	if !s.held() {
		poured.Tolerance = s.Tolerance
	}
	drawn := Draw{Volume: volume, To: into.ID, Why: "into " + into.Name}
	return []Writing{
		{Batch: into.ID, Entries: []Entry{{At: at, Recorded: now, Body: poured}}},
		{Batch: from.ID, Entries: []Entry{{At: at, Recorded: now, Body: drawn}}},
	}, nil
}

// With returns the batch as it would be with more entries, to try before writing.
func (b Batch) With(entries ...Entry) Batch {
	b.Entries = append(b.Entries[:len(b.Entries):len(b.Entries)], entries...)
	last := EntryID(0)
	for i := range b.Entries {
		if b.Entries[i].ID == 0 {
			b.Entries[i].ID = last + 1
		}
		last = max(last, b.Entries[i].ID)
	}
	return b
}

// Becomes returns what each of the batches named would be after the writings, in their
// order, to look at before writing. there are the batches as they are.
func Becomes(writings []Writing, at time.Time, there ...Batch) ([]State, error) {
	out := make([]State, len(writings))
	for i, w := range writings {
		b := w.New
		for _, one := range there {
			if w.Batch != 0 && one.ID == w.Batch {
				b = one.With(w.Entries...)
			}
		}
		s, err := Replay(b, at)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", b.Name, err)
		}
		out[i] = s
	}
	return out, nil
}
