package data

import (
	"cmp"
	"errors"
	"slices"
	"time"

	"go.etcd.io/bbolt"

	"cellar.local/glassrow/model"
)

// errNothingNew ends a transaction that has nothing to write.
var errNothingNew = errors.New("nothing new")

// Record adds readings of devices to the series of their batches, all in one
// transaction, and tells what became of them. A moment at which there is a reading
// already keeps it, so that the same file can be recorded again and changes nothing. A
// reading that cannot be, or a batch that is not there, refuses all.
//
// The summaries are renewed without their outlook: that takes long, and a device comes
// again in a minute.
func (s *Store) Record(all ...model.DeviceReadings) ([]model.Taken, error) {
	for _, d := range all {
		for _, r := range d.Readings {
			if err := r.Validate(); err != nil {
				return nil, err
			}
		}
	}
	var taken []model.Taken
	err := s.file.update(func(tx *bbolt.Tx) error {
		taken = nil
		added := 0
		for _, d := range all {
			t, err := recordOne(tx, d)
			if err != nil {
				return err
			}
			taken = append(taken, t)
			added += t.Added
		}
		if added == 0 {
			return errNothingNew
		}
		return nil
	})
	if errors.Is(err, errNothingNew) {
		err = nil
	}
	if err != nil {
		return nil, err
	}
	return taken, nil
}

// recordOne adds readings to one series.
func recordOne(tx *bbolt.Tx, d model.DeviceReadings) (model.Taken, error) {
	taken := model.Taken{Batch: d.Batch}
	if _, err := batchIn(tx, d.Batch); err != nil || len(d.Readings) == 0 {
		return taken, err
	}
	points, err := newPoints(tx, d, &taken)
	if err != nil {
		return taken, err
	}
	if taken.Added, err = addPoints(tx, uint64(d.Batch), points); err != nil || taken.Added == 0 {
		return taken, err
	}
	return taken, renew(tx, d.Batch, time.UnixMilli(points[0].AtMS))
}

// newPoints returns those of the readings, in order, at whose moment there is none yet.
// Of two of one moment the first given counts.
func newPoints(tx *bbolt.Tx, d model.DeviceReadings, taken *model.Taken) ([]seriesPoint, error) {
	points := make([]seriesPoint, len(d.Readings))
	for i, r := range d.Readings {
		points[i] = fromDevice(r)
	}
	slices.SortStableFunc(points, func(a, b seriesPoint) int { return cmp.Compare(a.AtMS, b.AtMS) })
	pages, err := bucket(tx, readingsBucket)
	if err != nil {
		return nil, err
	}
	there := make(map[int64]seriesPoint)
	err = scanSeries(pages, uint64(d.Batch), points[0].AtMS, points[len(points)-1].AtMS, func(p seriesPoint) bool {
		there[p.AtMS] = p
		return true
	})
	fresh := points[:0]
	for _, p := range points {
		was, ok := there[p.AtMS]
		switch {
		case !ok:
			there[p.AtMS] = p
			fresh = append(fresh, p)
		case was != p:
			taken.Other++
			fallthrough
		default:
			taken.There++
		}
	}
	return fresh, err
}

// renew writes the summary of a batch after its series has grown from a moment on, and
// of the parts split off it after that: they share what it said until then.
func renew(tx *bbolt.Tx, id model.BatchID, from time.Time) error {
	b, err := batchIn(tx, id)
	if err != nil {
		return err
	}
	return renewParts(tx, b, from, map[model.BatchID]bool{})
}

// renewParts is renew, once for each batch: a part may be poured back into the whole.
func renewParts(tx *bbolt.Tx, b model.Batch, from time.Time, seen map[model.BatchID]bool) error {
	seen[b.ID] = true
	for _, e := range b.Entries {
		d, ok := e.Body.(model.Draw)
		if !ok || d.To == 0 || seen[d.To] || e.At.Before(from) {
			continue
		}
		to, err := batchIn(tx, d.To)
		if err != nil {
			return err
		}
		if part, _ := partOf(to.Entries); part.From != b.ID {
			continue // poured into it: another drink
		}
		if err := renewParts(tx, to, from, seen); err != nil {
			return err
		}
	}
	return putSummary(tx, b)
}

// partOf returns what a journal says it was split off last, and when; none of a whole.
func partOf(entries []model.Entry) (part model.Part, at time.Time) {
	for _, e := range entries {
		if p, ok := e.Body.(model.Part); ok && !e.At.Before(at) {
			part, at = p, e.At
		}
	}
	return part, at
}

// mostParts is how many times over a batch can have been split off another: more is a
// ring in a damaged file.
const mostParts = 32

// seriesIn returns the spells of a batch: its own, and of a part those of the whole from
// before it was split off.
func seriesIn(tx *bbolt.Tx, b model.Batch, depth int) ([]model.Spell, error) {
	own, err := spellsIn(tx, uint64(b.ID))
	if err != nil {
		return nil, err
	}
	part, at := partOf(b.Entries)
	if part.From == 0 || part.From == b.ID || depth > mostParts {
		return own, nil
	}
	whole, err := entriesIn(tx, part.From)
	if err != nil {
		return nil, err
	}
	before, err := seriesIn(tx, model.Batch{ID: part.From, Entries: whole}, depth+1)
	if err != nil {
		return nil, err
	}
	before = slices.DeleteFunc(before, func(s model.Spell) bool { return s.Last.After(at) })
	return append(before, own...), nil
}
