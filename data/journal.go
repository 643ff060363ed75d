package data

import (
	"encoding/binary"
	"encoding/json"
	"fmt"
	"strings"

	"go.etcd.io/bbolt"

	"cellar.local/glassrow/model"
)

// StartBatch stores a batch with its first entries under a new id, and returns
// it as stored. Its must has to name a vessel that is there, is free and holds
// it.
func (s *Store) StartBatch(b model.Batch) (model.Batch, error) {
	err := s.file.update(func(tx *bbolt.Tx) error {
		b.Entries = countedOn(b.Entries, 0)
		v, err := vesselOfMust(tx, b)
		if err != nil {
			return err
		}
		if err := model.CheckStart(b, v); err != nil {
			return err
		}
		if err := vesselFree(tx, v.ID, 0); err != nil {
			return err
		}
		id, err := nextID(tx, batchesBucket)
		if err != nil {
			return err
		}
		b.ID = model.BatchID(id)
		return putBatch(tx, b)
	})
	return b, err
}

// vesselOfMust returns the vessel that a new batch is to begin in.
func vesselOfMust(tx *bbolt.Tx, b model.Batch) (model.Vessel, error) {
	for _, e := range b.Entries {
		if m, ok := e.Body.(model.Must); ok {
			return vesselIn(tx, m.Vessel)
		}
	}
	return model.Vessel{}, fmt.Errorf("a batch begins with its must: %w", model.ErrInvalid)
}

func vesselIn(tx *bbolt.Tx, id model.VesselID) (model.Vessel, error) {
	var r vesselRecord
	ok, err := getRecord(tx, vesselsBucket, idKey(uint64(id)), &r)
	if err == nil && !ok {
		err = fmt.Errorf("no vessel has the number %d: %w", id, model.ErrInvalid)
	}
	return toVessel(id, r), err
}

// vesselFree refuses a vessel that another batch than except is in.
func vesselFree(tx *bbolt.Tx, v model.VesselID, except model.BatchID) error {
	return eachRecord(tx, summariesBucket, func(id uint64, r summaryRecord) error {
		if model.VesselID(r.Vessel) == v && model.BatchID(id) != except {
			return fmt.Errorf("the vessel holds %s: %w", r.Name, model.ErrInvalid)
		}
		return nil
	})
}

// Append adds entries to a journal in one transaction, numbers them, and returns
// the batch as stored. It refuses, and then adds none, when an entry by itself
// cannot be, when it makes the journal impossible to work out, when a void names
// no entry, or when it moves the batch into a vessel that is not free.
//
// The summary gets its outlook too. That takes a while, so it is worked out before the
// file is locked; should another session write to the same batch in between, the
// summary goes without.
func (s *Store) Append(id model.BatchID, entries ...model.Entry) (model.Batch, error) {
	foreseen := s.foresee(id, entries)
	var b model.Batch
	err := s.file.update(func(tx *bbolt.Tx) error {
		before, err := batchIn(tx, id)
		if err != nil {
			return err
		}
		var added []model.Entry
		b, added = appended(before, entries)
		if len(added) > 1 { // written together, undone together
			deed, err := nextDeed(tx)
			if err != nil {
				return err
			}
			for i := range added {
				added[i].Deed = deed
			}
			copy(b.Entries[len(before.Entries):], added)
		}
		if err := check(tx, before, b, added); err != nil {
			return err
		}
		for _, e := range added {
			if err := putEntry(tx, id, e); err != nil {
				return err
			}
		}
		sum := model.Summarise(b)
		if foreseen != nil && foreseen.Entries == sum.Entries {
			sum.Outlook = foreseen.Outlook
		}
		return putRecord(tx, summariesBucket, idKey(uint64(b.ID)), fromSummary(sum))
	})
	if err != nil {
		return model.Batch{}, err
	}
	return b, nil
}

// foresee returns the summary that a batch would have with more entries, its outlook
// included; nil when that cannot be told, which the write itself will find out.
func (s *Store) foresee(id model.BatchID, entries []model.Entry) *model.Summary {
	before, err := s.Batch(id)
	if err != nil {
		return nil
	}
	for _, e := range entries {
		if e.Body == nil || e.Body.Validate() != nil {
			return nil
		}
	}
	b, _ := appended(before, entries)
	sum := model.Summarise(b)
	if sum.Problem != "" {
		return nil
	}
	sum = sum.Foreseen(b)
	return &sum
}

// appended returns the batch with more entries, numbered on, and those entries.
func appended(b model.Batch, entries []model.Entry) (model.Batch, []model.Entry) {
	added := countedOn(entries, lastEntry(b))
	b.Entries = append(b.Entries[:len(b.Entries):len(b.Entries)], added...)
	return b, added
}

// countedOn returns the entries with their ids, counted on from last.
func countedOn(entries []model.Entry, last model.EntryID) []model.Entry {
	out := make([]model.Entry, len(entries))
	for i, e := range entries {
		e.ID = last + model.EntryID(i) + 1
		out[i] = e
	}
	return out
}

func lastEntry(b model.Batch) model.EntryID {
	var last model.EntryID
	for _, e := range b.Entries {
		last = max(last, e.ID)
	}
	return last
}

// checkEach judges entries about to be added, each by itself.
func checkEach(tx *bbolt.Tx, added []model.Entry) error {
	for _, e := range added {
		if err := e.Body.Validate(); err != nil {
			return err
		}
		switch b := e.Body.(type) {
		case model.Void:
			if b.Entry == 0 || b.Entry >= e.ID {
				return fmt.Errorf("there is no entry %d to strike out: %w", b.Entry, model.ErrInvalid)
			}
		case model.Rack:
			if _, err := vesselIn(tx, b.To); err != nil {
				return err
			}
		case model.Part:
			if _, err := vesselIn(tx, b.Vessel); err != nil {
				return err
			}
		}
	}
	return nil
}

// check judges entries about to be added: before is the batch without them,
// after the batch with them.
func check(tx *bbolt.Tx, before, after model.Batch, added []model.Entry) error {
	if err := checkEach(tx, added); err != nil {
		return err
	}
	sum, old := model.Summarise(after), model.Summarise(before)
	if sum.Problem != "" && old.Problem == "" {
		problem := strings.TrimSuffix(sum.Problem, ": "+model.ErrInvalid.Error())
		return fmt.Errorf("%s: %w", problem, model.ErrInvalid)
	}
	if sum.Vessel != 0 && sum.Vessel != old.Vessel {
		return vesselFree(tx, sum.Vessel, after.ID)
	}
	return nil
}

// batchIn reads a batch with its journal.
func batchIn(tx *bbolt.Tx, id model.BatchID) (model.Batch, error) {
	var r batchRecord
	ok, err := getRecord(tx, batchesBucket, idKey(uint64(id)), &r)
	if err != nil {
		return model.Batch{}, err
	}
	if !ok {
		return model.Batch{}, fmt.Errorf("no batch has the number %d: %w", id, model.ErrInvalid)
	}
	b := model.Batch{ID: id, Name: r.Name, Drink: model.Drink(r.Drink)}
	if b.Entries, err = entriesIn(tx, id); err != nil {
		return b, err
	}
	b.Series, err = seriesIn(tx, b, 0)
	return b, err
}

// entriesIn reads a journal.
func entriesIn(tx *bbolt.Tx, id model.BatchID) ([]model.Entry, error) {
	entries, err := bucket(tx, entriesBucket)
	if err != nil {
		return nil, err
	}
	var all []model.Entry
	prefix := idKey(uint64(id))
	c := entries.Cursor()
	for k, v := c.Seek(prefix); len(k) == 16 && string(k[:8]) == string(prefix); k, v = c.Next() {
		e, err := toEntry(k, v)
		if err != nil {
			return nil, err
		}
		all = append(all, e)
	}
	return all, nil
}

func toEntry(key, value []byte) (model.Entry, error) {
	var r entryRecord
	if err := unmarshal(entriesBucket, key, value, &r); err != nil {
		return model.Entry{}, err
	}
	body, err := toBody(model.Kind(r.Kind), r.Body)
	if err != nil {
		return model.Entry{}, fmt.Errorf("%s %x: %w", entriesBucket, key, err)
	}
	return model.Entry{ID: model.EntryID(binary.BigEndian.Uint64(key[8:])), At: r.At, Recorded: r.Recorded, Deed: r.Deed, Body: body}, nil
}

// putBatch writes a batch with its whole journal and its summary.
func putBatch(tx *bbolt.Tx, b model.Batch) error {
	if err := b.Validate(); err != nil {
		return err
	}
	if err := putRecord(tx, batchesBucket, idKey(uint64(b.ID)), batchRecord{Name: b.Name, Drink: string(b.Drink)}); err != nil {
		return err
	}
	for _, e := range b.Entries {
		if err := putEntry(tx, b.ID, e); err != nil {
			return err
		}
	}
	return putSummary(tx, b)
}

func putEntry(tx *bbolt.Tx, id model.BatchID, e model.Entry) error {
	body, err := fromBody(e.Body)
	if err != nil {
		return err
	}
	raw, err := json.Marshal(body)
	if err != nil {
		return err
	}
	key := binary.BigEndian.AppendUint64(idKey(uint64(id)), uint64(e.ID))
	return putRecord(tx, entriesBucket, key, entryRecord{At: e.At.UTC(), Recorded: e.Recorded.UTC(), Deed: e.Deed, Kind: string(e.Body.Kind()), Body: raw})
}

func putSummary(tx *bbolt.Tx, b model.Batch) error {
	return putRecord(tx, summariesBucket, idKey(uint64(b.ID)), fromSummary(model.Summarise(b)))
}
