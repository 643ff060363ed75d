package data

import (
	"context"
	"errors"
	"slices"
	"time"

	"go.etcd.io/bbolt"

	"cellar.local/glassrow/model"
)

// checkWithin is how long bbolt's own check may take, which has been seen not to end.
const checkWithin = 2 * time.Minute

// Check reads all of the cellar at path and returns what is not as it should be: pages,
// records, names that lead nowhere, checksums of series, and summaries that are not what
// the journals make of them. With repair what can be made again is: spells of the readings,
// summaries of the journals. Nothing else is touched. Content is told as far as it could be read. The error is about a
// file that cannot be checked at all, such as none.
//
// Records are read from a copy, so that it keeps nobody from writing for long.
func (c Cellars) Check(path string, repair bool) (faults []model.Fault, contents model.Contents, err error) {
	s, err := Open(path)
	if err == nil {
		s.file.patience = carefulPatience
		ctx, cancel := context.WithTimeout(context.Background(), checkWithin)
		defer cancel()
		err = s.file.check(ctx)
	}
	if errors.Is(err, ErrDamaged) {
		return []model.Fault{{Where: "the file", What: err.Error(), Do: doRestore}}, contents, nil
	}
	if err != nil {
		return nil, contents, err
	}
	var stale []model.Summary
	var spells bool
	look := func() error {
		return s.file.snapshot(func(h *handle) error {
			return h.transact(reading, func(tx *bbolt.Tx) error {
				a := newAudit(tx)
				faults = a.run(true)
				stale, spells = a.rebuilt, a.spells
				contents, _ = contentsOf(tx) // where it cannot be counted a fault says why
				return nil
			})
		})
	}
	if err := look(); err != nil || !repair || !slices.ContainsFunc(faults, isStale) {
		return faults, contents, err
	}
	if spells { // first, for summaries are made of them too
		if err := s.file.update(rebuildSpells); err != nil {
			return faults, contents, err
		}
		if err := look(); err != nil {
			return faults, contents, err
		}
	}
	if err := s.repair(stale); err != nil {
		return faults, contents, err
	}
	err = look()
	return faults, contents, err
}

func isStale(f model.Fault) bool { return f.Stale }

// repair writes the rebuilt summaries, and takes away those of no batch. A batch that
// got entries or readings of a device meanwhile is summarised anew.
func (s *Store) repair(rebuilt []model.Summary) error {
	return s.file.update(func(tx *bbolt.Tx) error {
		for _, sum := range rebuilt {
			key := idKey(uint64(sum.Batch))
			b, err := batchIn(tx, sum.Batch)
			if errors.Is(err, model.ErrInvalid) { // no such batch
				summaries, err := bucket(tx, summariesBucket)
				if err != nil {
					return err
				}
				if err := summaries.Delete(key); err != nil {
					return err
				}
				continue
			}
			if err != nil {
				return err
			}
			if now := model.Summarise(b); differs(fromSummary(now), withoutForecast(sum)) != "" {
				sum = now
			}
			if err := putRecord(tx, summariesBucket, key, fromSummary(sum)); err != nil {
				return err
			}
		}
		return nil
	})
}

func withoutForecast(sum model.Summary) summaryRecord {
	r := fromSummary(sum)
	r.Forecast = nil
	return r
}
