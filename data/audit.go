package data

import (
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"go.etcd.io/bbolt"

	"cellar.local/glassrow/model"
)

// maxFaults is how many faults are told; a file with more is for its last copy.
const maxFaults = 50

// What to do about faults.
const (
	doRestore = "bring back your last copy with glassrow restore FILE"
	doRepair  = "glassrow check --repair works it out again from the journal"
	doUndo    = "strike the entry out or bring it back with glassrow void, or " + doRestore
)

// An audit reads every record of a cellar.
type audit struct {
	tx      *bbolt.Tx
	faults  []model.Fault
	more    int  // faults than are told
	damage  int  // faults in what cannot be worked out again
	spells  bool // they are not what the pages make, and have to be made again
	vessels map[model.VesselID]bool
	batches map[model.BatchID]string
	in      map[model.VesselID]string // what is in which vessel
	rebuilt []model.Summary           // for those that are stale; without entries where there is no batch
}

func newAudit(tx *bbolt.Tx) *audit {
	return &audit{tx: tx, vessels: map[model.VesselID]bool{}, batches: map[model.BatchID]string{}, in: map[model.VesselID]string{}}
}

// run returns the faults, those of stale summaries only if asked for.
func (a *audit) run(summaries bool) []model.Fault {
	a.settings()
	a.readSeries()
	a.readSpells()
	a.readVessels()
	a.readBatches(summaries)
	a.strays(entriesBucket, "journal")
	a.strays(summariesBucket, "summary")
	a.readPlans()
	a.readRecipes()
	if a.more > 0 {
		a.faults = append(a.faults, model.Fault{Where: "the file", What: fmt.Sprintf("%d faults more", a.more), Do: doRestore})
	}
	return a.faults
}

func (a *audit) fault(f model.Fault) {
	if len(a.faults) >= maxFaults {
		a.more++
		return
	}
	f.What = strings.ReplaceAll(f.What, ErrDamaged.Error()+": ", "")
	a.faults = append(a.faults, f)
}

// broken notes a record that cannot be.
func (a *audit) broken(where string, err error) {
	if err != nil {
		a.damage++
		a.fault(model.Fault{Where: where, What: strings.TrimSuffix(err.Error(), ": "+model.ErrInvalid.Error()), Do: doRestore})
	}
}

// each visits a bucket's pairs; a bucket that is missing is a fault if it must be there.
func (a *audit) each(name []byte, must bool, visit func(k, v []byte)) {
	b := a.tx.Bucket(name)
	if b == nil {
		if must {
			a.broken("bucket "+string(name), errors.New("it is missing"))
		}
		return
	}
	a.broken("bucket "+string(name), b.ForEach(func(k, v []byte) error {
		visit(k, v)
		return nil
	}))
}

// idOf reads the id at the front of a key, and notes a key that has none.
func (a *audit) idOf(bucket, k []byte, size int) (id uint64, ok bool) {
	if len(k) < 8 || size > 0 && len(k) != size {
		a.broken(fmt.Sprintf("%s, key %x", bucket, k), errors.New("not a key of this bucket"))
		return 0, false
	}
	return binary.BigEndian.Uint64(k), true
}

func (a *audit) settings() {
	a.each(settingsBucket, true, func(k, v []byte) {
		if string(k) == string(settingsKey) {
			a.broken("settings", json.Unmarshal(v, &settingsRecord{}))
		}
	})
}

func (a *audit) readVessels() {
	labels := make(map[string]bool)
	a.each(vesselsBucket, true, func(k, v []byte) {
		id, ok := a.idOf(vesselsBucket, k, 8)
		if !ok {
			return
		}
		a.vessels[model.VesselID(id)] = true
		where := fmt.Sprintf("vessel %d", id)
		var r vesselRecord
		if err := json.Unmarshal(v, &r); err != nil {
			a.broken(where, err)
			return
		}
		vessel := toVessel(model.VesselID(id), r)
		a.broken(where, vessel.Validate())
		if label := strings.ToLower(vessel.Label); labels[label] {
			a.broken(where, fmt.Errorf("there are two vessels %s", vessel.Label))
		} else {
			labels[label] = true
		}
	})
}

func (a *audit) readBatches(summaries bool) {
	a.each(batchesBucket, true, func(k, v []byte) {
		id, ok := a.idOf(batchesBucket, k, 8)
		if !ok {
			return
		}
		var r batchRecord
		err := json.Unmarshal(v, &r)
		if a.batches[model.BatchID(id)] = r.Name; err != nil {
			a.broken(fmt.Sprintf("batch %d", id), err)
		}
	})
	for _, id := range slices.Sorted(maps.Keys(a.batches)) { // all names first: a journal may name a later batch
		a.readBatch(id, summaries)
	}
}

// readBatch reads a journal and compares the summary.
func (a *audit) readBatch(id model.BatchID, summaries bool) {
	where := fmt.Sprintf("batch %d, %s", id, a.batches[id])
	b := model.Batch{ID: id}
	sound := true
	err := eachEntryBytes(a.tx, uint64(id), func(k, v []byte) {
		entry := fmt.Sprintf("%s, entry %d", where, binary.BigEndian.Uint64(k[8:]))
		e, err := toEntry(k, v)
		if err == nil {
			err = a.judge(e)
		}
		if err != nil {
			sound = false
			a.broken(entry, err)
			return
		}
		b.Entries = append(b.Entries, e)
	})
	if err != nil {
		a.broken(where, err)
		return
	}
	if !sound || a.spells {
		return // a summary of half of what is known says nothing
	}
	whole, err := batchIn(a.tx, id)
	if err == nil {
		err = whole.Validate()
	}
	if err != nil {
		a.broken(where, err)
		return
	}
	sum := model.Summarise(whole)
	if sum.Problem != "" {
		a.fault(model.Fault{Where: where, What: "the journal cannot be worked out: " + strings.TrimSuffix(sum.Problem, ": "+model.ErrInvalid.Error()), Do: doUndo})
	}
	if sum.Vessel != 0 && sum.Problem == "" {
		if other, full := a.in[sum.Vessel]; full {
			a.fault(model.Fault{Where: where, What: "it is in one vessel with " + other, Do: doUndo})
		}
		a.in[sum.Vessel] = whole.Name
	}
	if summaries {
		a.compare(where, whole, sum)
	}
}

// judge says what is wrong with an entry by itself.
func (a *audit) judge(e model.Entry) error {
	if err := e.Body.Validate(); err != nil {
		return err
	}
	if err := notBefore(e.ID, e.Body); err != nil {
		return err
	}
	vessel, batch := namedIn(e.Body)
	if vessel != 0 && !a.vessels[vessel] {
		return fmt.Errorf("it names vessel %d, which there is not", vessel)
	}
	if _, there := a.batches[batch]; batch != 0 && !there {
		return fmt.Errorf("it names batch %d, which there is not", batch)
	}
	return nil
}

// summaryTolerance is how far a kept figure may lie from the rebuilt one, as a share:
// another processor rounds otherwise.
const summaryTolerance = 1e-6

// compare notes a summary that is not what the journal says.
func (a *audit) compare(where string, b model.Batch, sum model.Summary) {
	var kept summaryRecord
	there, err := getRecord(a.tx, summariesBucket, idKey(uint64(b.ID)), &kept)
	what := "it has no summary"
	if there {
		if kept.Forecast != nil {
			sum = sum.Foreseen(b)
		}
		what = ""
		if err != nil {
			what = "its summary cannot be read"
		} else if at := differs(kept, fromSummary(sum)); at != "" {
			what = "its summary is not what the journal says: " + at
		}
	}
	if what == "" {
		return
	}
	if sum.Outlook == nil && sum.Problem == "" && !b.Undone() {
		sum = sum.Foreseen(b)
	}
	a.rebuilt = append(a.rebuilt, sum)
	a.fault(model.Fault{Where: where, What: what, Do: doRepair, Stale: true})
}

// differs returns the first key in which two records differ; empty for none.
func differs(x, y any) string {
	var sides [2]any
	for i, r := range []any{x, y} {
		b, err := json.Marshal(r)
		if err == nil {
			err = json.Unmarshal(b, &sides[i])
		}
		if err != nil {
			return err.Error()
		}
	}
	if at := firstLoss(sides[0], sides[1], summaryTolerance); at != "" {
		return at
	}
	return firstLoss(sides[1], sides[0], summaryTolerance)
}

// strays notes records that belong to no batch.
func (a *audit) strays(name []byte, what string) {
	last := uint64(0)
	a.each(name, true, func(k, _ []byte) {
		size := 8
		if string(name) == string(entriesBucket) {
			size = 16
		}
		id, ok := a.idOf(name, k, size)
		if _, there := a.batches[model.BatchID(id)]; !ok || there || id == last {
			return
		}
		last = id
		where, what := fmt.Sprintf("batch %d", id), "there is no such batch, but a "+what+" of it"
		if size == 16 {
			a.broken(where, errors.New(what))
			return
		}
		a.rebuilt = append(a.rebuilt, model.Summary{Batch: model.BatchID(id)})
		a.fault(model.Fault{Where: where, What: what, Do: doRepair, Stale: true})
	})
}

func (a *audit) readPlans() {
	a.each(plansBucket, false, func(k, v []byte) {
		id, ok := a.idOf(plansBucket, k, 0)
		if !ok {
			return
		}
		where := fmt.Sprintf("a plan of batch %d", id)
		var r planRecord
		err := json.Unmarshal(v, &r)
		if err == nil {
			_, err = toPlan(r)
		}
		if _, there := a.batches[model.BatchID(id)]; err == nil && !there {
			err = errors.New("there is no such batch")
		}
		a.broken(where, err)
	})
}

func (a *audit) readRecipes() {
	a.each(recipesBucket, false, func(k, v []byte) {
		var r recipeRecord
		err := json.Unmarshal(v, &r)
		if err == nil {
			_, err = toRecipe(r)
		}
		a.broken(fmt.Sprintf("recipe %q", k), err)
	})
}

// readSeries reads every page of every series, its checksum too.
func (a *audit) readSeries() {
	var before []seriesPoint
	last := uint64(0)
	a.each(readingsBucket, true, func(k, v []byte) {
		id, first, err := splitKey(k)
		if err != nil {
			a.broken("readings", err)
			return
		}
		where := fmt.Sprintf("readings of batch %d from %s on", id, time.UnixMilli(first).UTC().Format("2006-01-02 15:04"))
		points, err := decodePage(nil, k, v)
		if n := len(before); err == nil && n > 0 && id == last && before[n-1].AtMS >= first {
			err = errors.New("they begin before the page before them ends")
		}
		if batches := a.tx.Bucket(batchesBucket); err == nil && (batches == nil || batches.Get(idKey(id)) == nil) {
			err = errors.New("there is no such batch")
		}
		a.broken(where, err)
		before, last = points, id
	})
}

// readSpells compares the spells with the pages that they are made of.
func (a *audit) readSpells() {
	if a.damage > 0 {
		return // broken pages make no spells
	}
	if err := checkSpells(a.tx); err != nil {
		a.spells = true
		a.fault(model.Fault{Where: "spells of the devices", What: err.Error(), Do: "glassrow check --repair makes them again from the readings", Stale: true})
	}
}

// eachEntryBytes visits the records of a journal without reading them.
func eachEntryBytes(tx *bbolt.Tx, batch uint64, visit func(k, v []byte)) error {
	b, err := bucket(tx, entriesBucket)
	if err != nil {
		return err
	}
	prefix := string(idKey(batch))
	c := b.Cursor()
	for k, v := c.Seek([]byte(prefix)); strings.HasPrefix(string(k), prefix); k, v = c.Next() {
		if len(k) == 16 { // others are noted by strays
			visit(k, v)
		}
	}
	return nil
}
