package data

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"strings"
	"time"

	"go.etcd.io/bbolt"

	"cellar.local/glassrow/model"
)

// A merge adds to a cellar what another has and it lacks.
//
//   - A vessel is the same if label, kind and the time it was added are. Another one whose
//     label is taken gets the label with -2.
//   - A batch is the same if its name is and one of the journals begins with all of the
//     other. What the file has more is added; what the cellar has more stays. If they
//     part in the middle the merge is refused: somebody has to choose.
//   - Any other batch is added, under its number if that is free, else the next.
//   - Plans and recipes are added unless there is one of that name.
//   - The settings stay.
//
// Whatever an entry names is renumbered with it, deeds too, so that an undo still takes
// back what was written together. All of it is one transaction; a vessel that would hold
// two batches is a reason to refuse it.
type merge struct {
	from, to *bbolt.Tx
	done     model.Imported

	vessels map[model.VesselID]model.VesselID
	batches map[model.BatchID]model.BatchID
	paired  map[model.BatchID]bool // of the cellar: the same as one of the file
	deeds   map[uint64]uint64
	meta    meta
}

func newMerge(from, to *bbolt.Tx) *merge {
	return &merge{
		from: from, to: to,
		vessels: map[model.VesselID]model.VesselID{}, batches: map[model.BatchID]model.BatchID{},
		paired: map[model.BatchID]bool{}, deeds: map[uint64]uint64{},
	}
}

func (m *merge) run() error {
	var err error
	if m.meta, err = readMeta(m.to); err != nil {
		return err
	}
	steps := []func() error{m.addVessels, m.pairBatches, m.numberBatches, m.addJournals, m.addPlans, m.addRecipes,
		func() error { return m.meta.write(m.to) }}
	for _, step := range steps {
		if err := step(); err != nil {
			return err
		}
	}
	return nil
}

func (m *merge) remark(format string, args ...any) {
	m.done.Remarks = append(m.done.Remarks, fmt.Sprintf(format, args...))
}

// addVessels finds the vessels of the file in the cellar, or adds them.
func (m *merge) addVessels() error {
	there, err := vesselsIn(m.to)
	if err != nil {
		return err
	}
	return eachRecord(m.from, vesselsBucket, func(id uint64, r vesselRecord) error {
		v := toVessel(model.VesselID(id), r)
		for _, other := range there {
			if strings.EqualFold(other.Label, v.Label) && other.Kind == v.Kind && other.Added.Equal(v.Added) {
				m.vessels[v.ID] = other.ID
				m.done.Left.Vessels++
				return nil
			}
		}
		label := freeLabel(there, v.Label)
		if label != v.Label {
			m.remark("there is another vessel %s already; the one of the file is called %s", v.Label, label)
		}
		fresh, err := nextID(m.to, vesselsBucket)
		if err != nil {
			return err
		}
		m.vessels[v.ID] = model.VesselID(fresh)
		v.ID, v.Label = model.VesselID(fresh), label
		there = append(there, v)
		m.done.Added.Vessels++
		return putVessel(m.to, v)
	})
}

// maxLabelRunes is how long a label may be; model.Vessel.Validate holds it to that.
const maxLabelRunes = 12

// freeLabel returns label, or the first of label-2, label-3 … that no vessel has.
func freeLabel(there []model.Vessel, label string) string {
	taken := func(l string) bool {
		for _, v := range there {
			if strings.EqualFold(v.Label, l) {
				return true
			}
		}
		return false
	}
	made := label
	for n := 2; taken(made); n++ {
		end := fmt.Sprintf("-%d", n)
		stem := []rune(label)
		made = string(stem[:min(len(stem), maxLabelRunes-len(end))]) + end
	}
	return made
}

// pairBatches finds the batches of the file that are in the cellar. Of several that
// could be the same, the one of the same number is.
func (m *merge) pairBatches() error {
	here := make(map[string][]model.Batch) // by name
	err := eachBatch(m.to, func(b model.Batch) error {
		here[b.Name] = append(here[b.Name], model.Batch{ID: b.ID, Name: b.Name, Entries: b.Entries})
		return nil
	})
	if err != nil {
		return err
	}
	for _, sameNumber := range []bool{true, false} {
		err := eachBatch(m.from, func(b model.Batch) error {
			if _, found := m.batches[b.ID]; found {
				return nil
			}
			for _, other := range here[b.Name] {
				if sameNumber && other.ID != b.ID || m.paired[other.ID] {
					continue
				}
				if n := inCommon(b, other); n > 0 && n == min(len(b.Entries), len(other.Entries)) {
					m.pair(b, other)
					return nil
				}
			}
			return nil
		})
		if err != nil {
			return err
		}
	}
	return eachBatch(m.from, func(b model.Batch) error {
		if _, found := m.batches[b.ID]; found {
			return nil
		}
		for _, other := range here[b.Name] {
			if n := inCommon(b, other); n > 0 && !m.paired[other.ID] {
				return fmt.Errorf("%s is there with another journal: number %d of the cellar and number %d of the file part at entry %d; nothing was added: %w",
					b.Name, other.ID, b.ID, n+1, model.ErrInvalid)
			}
		}
		return nil
	})
}

// pair notes that two batches are the same, and their deeds.
func (m *merge) pair(b, other model.Batch) {
	m.batches[b.ID], m.paired[other.ID] = other.ID, true
	for i := range min(len(b.Entries), len(other.Entries)) {
		if d := b.Entries[i].Deed; d != 0 {
			m.deeds[d] = other.Entries[i].Deed
		}
	}
}

// inCommon returns how many entries two journals begin with alike.
func inCommon(x, y model.Batch) int {
	n := 0
	for n < min(len(x.Entries), len(y.Entries)) && sameEntry(x.Entries[n], y.Entries[n]) {
		n++
	}
	return n
}

// sameEntry compares two entries but for the numbers of the vessels and batches they
// name, which are another cellar's.
func sameEntry(e, f model.Entry) bool {
	if e.ID != f.ID || !e.At.Equal(f.At) || !e.Recorded.Equal(f.Recorded) {
		return false
	}
	none := func(model.VesselID) model.VesselID { return 0 }
	nobody := func(model.BatchID) model.BatchID { return 0 }
	x, errX := bodyJSON(withNumbers(e.Body, none, nobody))
	y, errY := bodyJSON(withNumbers(f.Body, none, nobody))
	return e.Body.Kind() == f.Body.Kind() && errX == nil && errY == nil && bytes.Equal(x, y)
}

// numberBatches gives the other batches their numbers, before any journal is written
// that names them.
func (m *merge) numberBatches() error {
	var crowded []model.BatchID
	err := eachBatch(m.from, func(b model.Batch) error {
		if _, found := m.batches[b.ID]; found {
			return nil
		}
		batches, err := bucket(m.to, batchesBucket)
		if err != nil {
			return err
		}
		if batches.Get(idKey(uint64(b.ID))) != nil {
			crowded = append(crowded, b.ID)
			return nil
		}
		m.batches[b.ID] = b.ID
		return m.putBatchRecord(b)
	})
	if err != nil {
		return err
	}
	for _, id := range crowded {
		b, err := batchIn(m.from, id)
		if err != nil {
			return err
		}
		fresh, err := nextID(m.to, batchesBucket)
		if err != nil {
			return err
		}
		m.batches[id] = model.BatchID(fresh)
		was := b.Lot()
		b.ID = model.BatchID(fresh)
		m.remark("the number %d is taken, so %s is number %d here and its lot %s; bottles may say %s", id, b.Name, fresh, b.Lot(), was)
		if err := m.putBatchRecord(b); err != nil {
			return err
		}
	}
	return nil
}

func (m *merge) putBatchRecord(b model.Batch) error {
	return putRecord(m.to, batchesBucket, idKey(uint64(b.ID)), batchRecord{Name: b.Name, Drink: string(b.Drink)})
}

// addJournals writes the entries and series readings that the cellar lacks, and the
// summaries that follow.
func (m *merge) addJournals() error {
	err := eachBatch(m.from, func(b model.Batch) error {
		id := m.batches[b.ID]
		added, err := m.addEntries(b, id)
		if err != nil {
			return err
		}
		readings, err := m.addReadings(b.ID, id)
		if err != nil {
			return err
		}
		switch {
		case !m.paired[id]:
			m.done.Added.Batches++
		default:
			m.done.Left.Batches++
			if added > 0 {
				m.remark("%s has more than before: %s", b.Name, model.Contents{Entries: added})
			}
		}
		if readings > 0 { // parts that are there already share them
			return renew(m.to, id, time.Time{})
		}
		if m.paired[id] && added == 0 {
			return nil
		}
		return m.addSummary(b.ID, id)
	})
	if err != nil {
		return err
	}
	return m.vesselsOnce()
}

// addSummary writes the summary of a batch. Where the journal is that of the file now,
// the summary is too, but for the number of the vessel; it was worked out before the
// cellar was locked.
func (m *merge) addSummary(of, id model.BatchID) error {
	var sum summaryRecord
	if _, err := getRecord(m.from, summariesBucket, idKey(uint64(of)), &sum); err != nil {
		return err
	}
	here, err := batchIn(m.to, id)
	if err != nil {
		return err
	}
	if sum.Vessel = uint64(m.vessels[model.VesselID(sum.Vessel)]); sum.Entries != len(here.Entries) || len(here.Series) > 0 {
		sum = fromSummary(model.Summarise(here))
	}
	return putRecord(m.to, summariesBucket, idKey(uint64(id)), sum)
}

// vesselsOnce refuses a vessel that would hold two batches.
func (m *merge) vesselsOnce() error {
	in := make(map[uint64]string)
	return eachRecord(m.to, summariesBucket, func(_ uint64, sum summaryRecord) error {
		if sum.Vessel == 0 {
			return nil
		}
		other, full := in[sum.Vessel]
		if in[sum.Vessel] = sum.Name; !full {
			return nil
		}
		v, err := vesselIn(m.to, model.VesselID(sum.Vessel))
		if err != nil {
			return err
		}
		return fmt.Errorf("%s and %s would both be in %s; rack or bottle one of them first, nothing was added: %w",
			other, sum.Name, v.Label, model.ErrInvalid)
	})
}

// addEntries writes the entries after those that the cellar has.
func (m *merge) addEntries(b model.Batch, id model.BatchID) (added int, err error) {
	last := model.EntryID(0)
	if m.paired[id] {
		here, err := batchIn(m.to, id)
		if err != nil {
			return 0, err
		}
		last = lastEntry(here)
	}
	return added, eachEntry(m.from, uint64(b.ID), func(e uint64, r entryRecord) error {
		if model.EntryID(e) <= last {
			m.done.Left.Entries++
			return nil
		}
		if r.Body, err = m.renumbered(model.Kind(r.Kind), r.Body); err != nil {
			return err
		}
		if r.Deed, err = m.deed(r.Deed); err != nil {
			return err
		}
		added++
		m.done.Added.Entries++
		return putRecord(m.to, entriesBucket, binary.BigEndian.AppendUint64(idKey(uint64(id)), e), r)
	})
}

// deed returns the number here of a deed of the file. New ones are used up from the
// revision, so that no later write gets the same.
func (m *merge) deed(of uint64) (uint64, error) {
	if of == 0 {
		return 0, nil
	}
	if d, known := m.deeds[of]; known && d != 0 {
		return d, nil
	}
	m.meta.revision++
	m.deeds[of] = m.meta.revision
	return m.meta.revision, nil
}

// renumbered returns a body that names the vessels and batches of the cellar.
func (m *merge) renumbered(kind model.Kind, raw json.RawMessage) (json.RawMessage, error) {
	body, err := toBody(kind, raw)
	if err != nil {
		return nil, err
	}
	other := false
	changed := withNumbers(body, func(id model.VesselID) model.VesselID {
		other = other || m.vessels[id] != id
		return m.vessels[id]
	}, func(id model.BatchID) model.BatchID {
		other = other || m.batches[id] != id
		return m.batches[id]
	})
	if !other {
		return raw, nil
	}
	return bodyJSON(changed)
}

// addReadings adds the series of a batch; those that are there are not added twice.
func (m *merge) addReadings(of, id model.BatchID) (added int, err error) {
	from, err := bucket(m.from, readingsBucket)
	if err != nil {
		return 0, err
	}
	prefix := idKey(uint64(of))
	c := from.Cursor()
	for k, v := c.Seek(prefix); bytes.HasPrefix(k, prefix); k, v = c.Next() {
		points, err := decodePage(nil, k, v)
		if err != nil {
			return added, err
		}
		n, err := addPoints(m.to, uint64(id), points)
		if err != nil {
			return added, err
		}
		added += n
		m.done.Added.Readings += n
		m.done.Left.Readings += len(points) - n
	}
	return added, nil
}

func (m *merge) addPlans() error {
	return eachPlan(m.from, func(batch uint64, r planRecord) error {
		b, err := m.to.CreateBucketIfNotExists(plansBucket)
		if err != nil {
			return err
		}
		key := planKey(m.batches[model.BatchID(batch)], r.Name)
		if there := b.Get(key); there != nil {
			m.done.Left.Plans++
			return m.remarkOn(there, r, "plan", r.Name)
		}
		m.done.Added.Plans++
		return putRecord(m.to, plansBucket, key, r)
	})
}

func (m *merge) addRecipes() error {
	return eachRecipe(m.from, func(r recipeRecord) error {
		b, err := m.to.CreateBucketIfNotExists(recipesBucket)
		if err != nil {
			return err
		}
		if there := b.Get([]byte(r.Name)); there != nil {
			m.done.Left.Recipes++
			return m.remarkOn(there, r, "recipe", r.Name)
		}
		m.done.Added.Recipes++
		return putRecord(m.to, recipesBucket, []byte(r.Name), r)
	})
}

// remarkOn remarks on a record that says something else in the file.
func (m *merge) remarkOn(there []byte, r any, what, name string) error {
	record, err := json.Marshal(r)
	if err == nil && !bytes.Equal(record, there) {
		m.remark("the %s %q is another in the file; yours is left as it is", what, name)
	}
	return err
}

// eachBatch visits every batch with its journal.
func eachBatch(tx *bbolt.Tx, visit func(model.Batch) error) error {
	return eachRecord(tx, batchesBucket, func(id uint64, _ batchRecord) error {
		b, err := batchIn(tx, model.BatchID(id))
		if err != nil {
			return err
		}
		return visit(b)
	})
}
