package data

import (
	"encoding/binary"
	"encoding/json"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"go.etcd.io/bbolt"

	"cellar.local/glassrow/model"
)

// The buckets of schema 3, besides meta. Ids are 8 bytes, big-endian, so that
// they sort.
//
//	settings   "settings"        settingsRecord
//	vessels    vessel id         vesselRecord
//	batches    batch id          batchRecord
//	entries    batch id, entry   entryRecord
//	summaries  batch id          summaryRecord, rebuilt from the entries
//	readings   dense series, see series.go
//	spells     what of them is read with a batch, rebuilt from them, see spells.go
var (
	settingsBucket  = []byte("settings")
	vesselsBucket   = []byte("vessels")
	batchesBucket   = []byte("batches")
	entriesBucket   = []byte("entries")
	summariesBucket = []byte("summaries")
	readingsBucket  = []byte("readings")
	spellsBucket    = []byte("spells")

	settingsKey = []byte("settings")
)

// migrations bring older files to today's schema.
var migrations = []migration{moreKinds, keepSpells}

// moreKinds leads from schema 1 to schema 2, which has more kinds of entry and says
// which were written together. What was there stays as it is; the number alone keeps
// an older program from calling a journal damaged.
func moreKinds(*bbolt.Tx) error { return nil }

// keepSpells is the step from schema 2 to 3: files have spells, journals may hold distrust
// of a device, and summaries tell more, so they are made anew. A journal that cannot be
// read keeps its summary; to say so is the business of [Cellars.Check].
func keepSpells(tx *bbolt.Tx) error {
	if err := rebuildSpells(tx); err != nil {
		return err
	}
	all, err := bucket(tx, batchesBucket)
	if err != nil {
		return err
	}
	return all.ForEach(func(k, _ []byte) error {
		if len(k) != 8 {
			return nil
		}
		b, err := batchIn(tx, model.BatchID(binary.BigEndian.Uint64(k)))
		if err != nil {
			return nil
		}
		return putSummary(tx, b)
	})
}

// Store is a cellar in a file. Each method is one transaction; see boltFile for
// what that promises when several sessions share the file.
type Store struct {
	file *boltFile
}

// Open returns the cellar at path. It returns ErrNotFound when there is none,
// and what is wrong when the file cannot be used.
func Open(path string) (*Store, error) {
	path, err := filepath.Abs(path)
	if err != nil {
		return nil, fmt.Errorf("open cellar: %w", err)
	}
	s := &Store{newBoltFile(path, boltOptions{migrations: migrations})}
	_, err = s.Revision()
	return s, err
}

// Create makes an empty cellar at path, its folder too. It returns ErrExists
// when there is a file.
func Create(path string, set model.Settings) (*Store, error) {
	return CreateFilled(path, set, nil, nil)
}

// CreateFilled makes a cellar with vessels and batches in it, in one
// transaction. Their ids and those of the entries are kept.
func CreateFilled(path string, set model.Settings, vessels []model.Vessel, batches []model.Batch) (*Store, error) {
	path, err := filepath.Abs(path)
	if err != nil {
		return nil, fmt.Errorf("create cellar: %w", err)
	}
	s := &Store{newBoltFile(path, boltOptions{migrations: migrations, written: lastDeed(batches)})}
	return s, s.file.create(func(tx *bbolt.Tx) error {
		if err := makeBuckets(tx); err != nil {
			return err
		}
		if err := putRecord(tx, settingsBucket, settingsKey, fromSettings(set)); err != nil {
			return err
		}
		for _, v := range vessels {
			if err := v.Validate(); err != nil {
				return err
			}
			if err := putVessel(tx, v); err != nil {
				return err
			}
		}
		for _, b := range batches {
			if err := putBatch(tx, b); err != nil {
				return err
			}
		}
		return nil
	})
}

// lastDeed returns the highest number of a deed in the batches.
func lastDeed(batches []model.Batch) (last uint64) {
	for _, b := range batches {
		for _, e := range b.Entries {
			last = max(last, e.Deed)
		}
	}
	return last
}

// Path returns the file as an absolute path.
func (s *Store) Path() string { return s.file.path }

// Revision returns a number that grows with every write by any session.
func (s *Store) Revision() (uint64, error) { return s.file.revision() }

// Shelf returns the settings, the vessels and a summary of every batch, all from
// one moment.
func (s *Store) Shelf() (model.Shelf, error) {
	var shelf model.Shelf
	err := s.file.view(func(tx *bbolt.Tx) error {
		shelf = model.Shelf{}
		m, err := readMeta(tx)
		if err != nil {
			return err
		}
		shelf.Revision = m.revision
		var set settingsRecord
		if _, err := getRecord(tx, settingsBucket, settingsKey, &set); err != nil {
			return err
		}
		shelf.Settings = toSettings(set)
		if shelf.Vessels, err = vesselsIn(tx); err != nil {
			return err
		}
		summaries, err := summariesIn(tx)
		if err != nil {
			return err
		}
		for _, sum := range summaries {
			if sum.Dues == nil || sum.Standing != "" && !slices.Contains(model.Standings(), sum.Standing) {
				// An older program's: the journal says what it did not know, or called otherwise.
				b, err := batchIn(tx, sum.Batch)
				if err != nil {
					return err
				}
				sum = model.Summarise(b)
			}
			shelf.Batches = append(shelf.Batches, sum)
		}
		return nil
	})
	return shelf, err
}

// Batch returns a batch with its journal, or ErrNotFound.
func (s *Store) Batch(id model.BatchID) (model.Batch, error) {
	var b model.Batch
	err := s.file.view(func(tx *bbolt.Tx) (err error) {
		b, err = batchIn(tx, id)
		return err
	})
	return b, err
}

// AddVessel stores a vessel under a new id. A label already taken is refused.
func (s *Store) AddVessel(v model.Vessel) (model.Vessel, error) {
	if err := v.Validate(); err != nil {
		return v, err
	}
	err := s.file.update(func(tx *bbolt.Tx) error {
		v.ID = 0 // a retry begins afresh
		if err := labelFree(tx, v); err != nil {
			return err
		}
		id, err := nextID(tx, vesselsBucket)
		if err != nil {
			return err
		}
		v.ID = model.VesselID(id)
		return putVessel(tx, v)
	})
	return v, err
}

// ChangeVessel replaces a vessel. One of that id must be there, or the error wraps
// model.ErrInvalid, as for a label of another.
func (s *Store) ChangeVessel(v model.Vessel) error {
	if err := v.Validate(); err != nil {
		return err
	}
	return s.file.update(func(tx *bbolt.Tx) error {
		if _, err := vesselIn(tx, v.ID); err != nil {
			return err
		}
		if err := labelFree(tx, v); err != nil {
			return err
		}
		return putVessel(tx, v)
	})
}

// labelFree reports an error when another vessel has the label of v.
func labelFree(tx *bbolt.Tx, v model.Vessel) error {
	there, err := vesselsIn(tx)
	if err != nil {
		return err
	}
	for _, other := range there {
		if other.ID != v.ID && strings.EqualFold(other.Label, v.Label) {
			return fmt.Errorf("there is a vessel %s already: %w", other.Label, model.ErrInvalid)
		}
	}
	return nil
}

// SaveSettings replaces the settings. Those that are not valid are refused.
func (s *Store) SaveSettings(set model.Settings) error {
	if err := set.Validate(); err != nil {
		return err
	}
	return s.file.update(func(tx *bbolt.Tx) error {
		return putRecord(tx, settingsBucket, settingsKey, fromSettings(set))
	})
}

// vesselsIn returns every vessel.
func vesselsIn(tx *bbolt.Tx) ([]model.Vessel, error) {
	var all []model.Vessel
	err := eachRecord(tx, vesselsBucket, func(id uint64, r vesselRecord) error {
		all = append(all, toVessel(model.VesselID(id), r))
		return nil
	})
	return all, err
}

func putVessel(tx *bbolt.Tx, v model.Vessel) error {
	return putRecord(tx, vesselsBucket, idKey(uint64(v.ID)), fromVessel(v))
}

// bucket returns a bucket that a cellar of this schema has.
func bucket(tx *bbolt.Tx, name []byte) (*bbolt.Bucket, error) {
	if b := tx.Bucket(name); b != nil {
		return b, nil
	}
	return nil, fmt.Errorf("%w: bucket %s is missing", ErrDamaged, name)
}

// putRecord writes a record as JSON.
func putRecord(tx *bbolt.Tx, in, key []byte, record any) error {
	b, err := bucket(tx, in)
	if err != nil {
		return err
	}
	bytes, err := json.Marshal(record)
	if err != nil {
		return err
	}
	return b.Put(key, bytes)
}

// getRecord reads a record, and reports whether there is one.
func getRecord(tx *bbolt.Tx, in, key []byte, record any) (bool, error) {
	b, err := bucket(tx, in)
	if err != nil {
		return false, err
	}
	bytes := b.Get(key)
	if bytes == nil {
		return false, nil
	}
	return true, unmarshal(in, key, bytes, record)
}

func unmarshal(in, key, bytes []byte, record any) error {
	if err := json.Unmarshal(bytes, record); err != nil {
		return fmt.Errorf("%w: %s %x: %w", ErrDamaged, in, key, err)
	}
	return nil
}

// eachRecord visits the records of a bucket whose keys are ids, in their order.
func eachRecord[R any](tx *bbolt.Tx, in []byte, visit func(id uint64, r R) error) error {
	b, err := bucket(tx, in)
	if err != nil {
		return err
	}
	return b.ForEach(func(k, v []byte) error {
		if len(k) != 8 {
			return fmt.Errorf("%w: %s has a key %x", ErrDamaged, in, k)
		}
		var r R
		if err := unmarshal(in, k, v, &r); err != nil {
			return err
		}
		return visit(binary.BigEndian.Uint64(k), r)
	})
}

// nextID returns an id that no record of the bucket has had.
func nextID(tx *bbolt.Tx, in []byte) (uint64, error) {
	b, err := bucket(tx, in)
	if err != nil {
		return 0, err
	}
	if last, _ := b.Cursor().Last(); len(last) == 8 {
		if n := binary.BigEndian.Uint64(last); n > b.Sequence() {
			if err := b.SetSequence(n); err != nil {
				return 0, err
			}
		}
	}
	return b.NextSequence()
}

func idKey(id uint64) []byte { return binary.BigEndian.AppendUint64(nil, id) }

// DemoAt makes the demo cellar at path, its times reckoned back from now.
func DemoAt(path string, now time.Time) (*Store, error) {
	set, vessels, batches, err := Demo(now)
	if err != nil {
		return nil, fmt.Errorf("demo cellar: %w", err)
	}
	return CreateFilled(path, set, vessels, batches)
}
