package data

import (
	"fmt"
	"strings"
	"time"

	"go.etcd.io/bbolt"

	"cellar.local/glassrow/model"
)

// Write adds to several journals in one transaction, as one deed, and returns the
// batches as stored, in the order of the writings. A writing without a batch is a new
// one, split off another; draws that name no batch go to it. What [Store.Append]
// refuses is refused here, and then nothing is written.
func (s *Store) Write(writings ...model.Writing) ([]model.Batch, error) {
	var stored []model.Batch
	err := s.file.update(func(tx *bbolt.Tx) error {
		stored = nil
		deed, err := nextDeed(tx)
		if err != nil {
			return err
		}
		fresh := model.BatchID(0)
		for _, w := range writings {
			b, err := writeOne(tx, w, fresh, deed)
			if err != nil {
				return err
			}
			if w.Batch == 0 {
				fresh = b.ID
			}
			stored = append(stored, b)
		}
		if err := vesselsOnce(tx, stored); err != nil {
			return err
		}
		return vesselsHold(tx, stored)
	})
	if err != nil {
		return nil, err
	}
	return stored, nil
}

// nextDeed returns a number for a deed: the revision that this write makes.
func nextDeed(tx *bbolt.Tx) (uint64, error) {
	m, err := readMeta(tx)
	return m.revision + 1, err
}

// writeOne adds to one journal. fresh is the batch that this deed began, if it has.
func writeOne(tx *bbolt.Tx, w model.Writing, fresh model.BatchID, deed uint64) (model.Batch, error) {
	before := w.New
	entries := w.Entries
	if w.Batch == 0 {
		id, err := nextID(tx, batchesBucket)
		if err != nil {
			return before, err
		}
		entries, before.Entries, before.ID = before.Entries, nil, model.BatchID(id)
		if err := before.Validate(); err != nil {
			return before, err
		}
		if err := putRecord(tx, batchesBucket, idKey(id), batchRecord{Name: before.Name, Drink: string(before.Drink)}); err != nil {
			return before, err
		}
	} else {
		var err error
		if before, err = batchIn(tx, w.Batch); err != nil {
			return before, err
		}
	}
	b, added := appended(before, entries)
	if w.Batch == 0 { // what was said of the whole so far is as this transaction finds it
		var err error
		if b.Series, err = seriesIn(tx, b, 0); err != nil {
			return b, err
		}
	}
	for i := range added {
		if d, ok := added[i].Body.(model.Draw); ok && d.To == 0 && fresh != 0 {
			d.To = fresh
			added[i].Body = d
		}
		added[i].Deed = deed
	}
	copy(b.Entries[len(b.Entries)-len(added):], added)
	if err := checkEach(tx, added); err != nil {
		return b, err
	}
	sum := model.Summarise(b)
	if sum.Problem != "" && (w.Batch == 0 || model.Summarise(before).Problem == "") {
		return b, refusal(b, sum.Problem)
	}
	for _, e := range added {
		if err := putEntry(tx, b.ID, e); err != nil {
			return b, err
		}
	}
	if !b.Undone() {
		sum = sum.Foreseen(b)
	}
	return b, putRecord(tx, summariesBucket, idKey(uint64(b.ID)), fromSummary(sum))
}

// refusal is the error of a journal that a write would make impossible.
func refusal(b model.Batch, problem string) error {
	return fmt.Errorf("%s: %s: %w", b.Name, strings.TrimSuffix(problem, ": "+model.ErrInvalid.Error()), model.ErrInvalid)
}

// vesselsOnce refuses batches of which one is in a vessel that holds another.
func vesselsOnce(tx *bbolt.Tx, batches []model.Batch) error {
	for _, b := range batches {
		if v := model.Summarise(b).Vessel; v != 0 {
			if err := vesselFree(tx, v, b.ID); err != nil {
				return err
			}
		}
	}
	return nil
}

// brimful is how far over its capacity a vessel may be filled: the marks are no better.
const brimful = 1.02

// vesselsHold refuses batches that their vessels do not hold.
func vesselsHold(tx *bbolt.Tx, batches []model.Batch) error {
	for _, b := range batches {
		sum := model.Summarise(b)
		if sum.Vessel == 0 {
			continue
		}
		v, err := vesselIn(tx, sum.Vessel)
		if err != nil {
			return err
		}
		if sum.Volume > v.Capacity*brimful {
			return fmt.Errorf("%.4g L does not fit: %s holds %.4g L: %w", float64(sum.Volume), v.Label, float64(v.Capacity), model.ErrInvalid)
		}
	}
	return nil
}

// Undo strikes out what was written last of a batch and still counts, with all that
// was written together with it, here and in the batches it names, in one transaction.
// It returns the batches that changed, this one first. An undo that would make a
// journal impossible is refused, and says of which batch.
func (s *Store) Undo(id model.BatchID, at time.Time, reason string) ([]model.Batch, error) {
	var stored []model.Batch
	err := s.file.update(func(tx *bbolt.Tx) error {
		stored = nil
		b, err := batchIn(tx, id)
		if err != nil {
			return err
		}
		last, ok := b.LastUndoable()
		if !ok {
			return fmt.Errorf("nothing to undo: only the must of %s is left: %w", b.Name, model.ErrInvalid)
		}
		deed, err := nextDeed(tx)
		if err != nil {
			return err
		}
		all := []model.BatchID{id}
		if last.Deed != 0 {
			all = append(all, model.Others(b.Deed(last))...)
		}
		for _, one := range all {
			b, err := batchIn(tx, one)
			if err != nil {
				return err
			}
			struck := b.Deed(last)
			if one != id && len(struck) == 0 {
				continue
			}
			var voids []model.Entry
			for i := len(struck) - 1; i >= 0; i-- {
				voids = append(voids, model.Entry{At: at, Recorded: at, Body: model.Void{Entry: struck[i].ID, Reason: reason}})
			}
			if b, err = writeOne(tx, model.Writing{Batch: one, Entries: voids}, 0, deed); err != nil {
				return err
			}
			stored = append(stored, b)
		}
		return vesselsOnce(tx, stored)
	})
	if err != nil {
		return nil, err
	}
	return stored, nil
}
