package data

import (
	"encoding/binary"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode"

	"go.etcd.io/bbolt"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// This file judges the records of a file that is being imported, one kind after the
// other, by the rules that hold for what is typed.

func (im *importer) takeSettings(tx *bbolt.Tx, r settingsRecord) error {
	if im.settled {
		return im.wrong("the settings are there twice")
	}
	im.settled = true
	if err := im.printable("the cellar's name", r.CellarName, maxCell); err != nil {
		return err
	}
	if !(r.Calibration >= 0 && r.Calibration <= 50) {
		return im.wrong("a hydrometer calibrated at %g °C, want 0 to 50", r.Calibration)
	}
	if len(r.Prices) > maxRows {
		return im.wrong("%d prices, at most %d", len(r.Prices), maxRows)
	}
	for id, p := range r.Prices {
		if err := im.printable("a sweetener's id", id, maxCell); err != nil {
			return err
		}
		if !(p >= 0 && p <= 1e9) {
			return im.wrong("the price %g of a kilogram of %q", p, id)
		}
	}
	return putRecord(tx, settingsBucket, settingsKey, r)
}

func (im *importer) printable(what, s string, most int) error {
	if n := len([]rune(s)); n > most {
		return im.wrong("%s is %d letters long, at most %d", what, n, most)
	}
	for _, c := range s {
		if !unicode.IsPrint(c) {
			return im.wrong("%s holds the unprintable character %U", what, c)
		}
	}
	return nil
}

// id checks a number that has to follow last.
func (im *importer) id(what string, id, last uint64) error {
	if id <= last || id > maxID {
		return im.wrong("%s with the number %d, want one after %d", what, id, last)
	}
	return nil
}

// count counts one more of a kind of which there may be most.
func (im *importer) count(n *int, most int, what string) error {
	if *n++; *n > most {
		return im.wrong("more than %d %s", most, what)
	}
	return nil
}

func (im *importer) takeVessel(tx *bbolt.Tx, r carriedVessel) error {
	if err := im.count(&im.seen.Vessels, maxVessels, "vessels"); err != nil {
		return err
	}
	if err := im.id("a vessel", r.ID, im.lastVessel); err != nil {
		return err
	}
	im.lastVessel = r.ID
	v := toVessel(model.VesselID(r.ID), r.vesselRecord)
	if err := v.Validate(); err != nil {
		return err
	}
	label := strings.ToLower(v.Label)
	if im.labels[label] {
		return im.wrong("there are two vessels %s", v.Label)
	}
	im.labels[label], im.vessels[v.ID] = true, true
	return putVessel(tx, v)
}

func (im *importer) takeBatch(tx *bbolt.Tx, r carriedBatch) error {
	if err := im.count(&im.seen.Batches, maxBatches, "batches"); err != nil {
		return err
	}
	if err := im.id("a batch", r.ID, im.batch); err != nil {
		return err
	}
	im.batch, im.lastEntry, im.entries = r.ID, 0, 0
	b := model.Batch{ID: model.BatchID(r.ID), Name: r.Name, Drink: model.Drink(r.Drink)}
	if err := b.Validate(); err != nil {
		return err
	}
	im.batches[b.ID] = true
	return putRecord(tx, batchesBucket, idKey(r.ID), r.batchRecord)
}

func (im *importer) takeEntry(tx *bbolt.Tx, r carriedEntry) error {
	im.seen.Entries++
	if err := im.count(&im.entries, maxEntries, "entries in one batch"); err != nil {
		return err
	}
	if r.Batch == 0 || r.Batch != im.batch {
		return im.wrong("an entry of batch %d stands in the journal of batch %d", r.Batch, im.batch)
	}
	if err := im.id("an entry", r.ID, im.lastEntry); err != nil {
		return err
	}
	im.lastEntry = r.ID
	if r.Deed > maxID {
		return im.wrong("a deed with the number %d", r.Deed)
	}
	im.deed = max(im.deed, r.Deed)
	if err := im.judge(model.EntryID(r.ID), model.Kind(r.Kind), r.Body); err != nil {
		return err
	}
	r.At, r.Recorded = r.At.UTC(), r.Recorded.UTC()
	key := binary.BigEndian.AppendUint64(idKey(r.Batch), r.ID)
	return putRecord(tx, entriesBucket, key, r.entryRecord)
}

// judge refuses what an entry of that kind cannot say. The body is kept as it stands in
// the file, so it must say nothing that this program does not read.
func (im *importer) judge(id model.EntryID, kind model.Kind, raw json.RawMessage) error {
	if _, known := bodyRecords[kind]; !known {
		return im.wrong("an entry of kind %q, which this program does not know; was this made by a newer glassrow?", kind)
	}
	body, err := toBody(kind, raw)
	if err != nil {
		return err
	}
	if err := body.Validate(); err != nil {
		return err
	}
	record, err := fromBody(body)
	if err != nil {
		return err
	}
	if err := sameJSON(raw, record); err != nil {
		return im.wrong("%s: %s", kind, err)
	}
	if err := notBefore(id, body); err != nil {
		return im.wrong("%s", err)
	}
	vessel, batch := namedIn(body)
	if vessel != 0 && !im.vessels[vessel] {
		return im.wrong("it names vessel %d, which does not stand before it", vessel)
	}
	if _, noted := im.wanted[batch]; batch != 0 && !noted { // it may come later in the file
		if len(im.wanted) >= maxBatches {
			return im.wrong("more than %d batches are named", maxBatches)
		}
		im.wanted[batch] = im.line
	}
	return nil
}

func (im *importer) takePlan(tx *bbolt.Tx, r carriedPlan) error {
	if err := im.count(&im.seen.Plans, maxPlansRecipes, "plans"); err != nil {
		return err
	}
	if !im.batches[model.BatchID(r.Batch)] {
		return im.wrong("a plan for batch %d, which does not stand before it", r.Batch)
	}
	p, err := toPlan(r.planRecord)
	if err != nil {
		return fmt.Errorf("plan %q: %w: %w", r.Name, err, model.ErrInvalid)
	}
	if err := p.Validate(); err != nil {
		return err
	}
	b, err := tx.CreateBucketIfNotExists(plansBucket)
	if err != nil {
		return err
	}
	key := planKey(model.BatchID(r.Batch), r.Name)
	if b.Get(key) != nil {
		return im.wrong("batch %d has two plans %q", r.Batch, r.Name)
	}
	return putRecord(tx, plansBucket, key, r.planRecord)
}

func (im *importer) takeRecipe(tx *bbolt.Tx, r recipeRecord) error {
	if err := im.count(&im.seen.Recipes, maxPlansRecipes, "recipes"); err != nil {
		return err
	}
	if _, err := toRecipe(r); err != nil {
		return fmt.Errorf("recipe %q: %w: %w", r.Name, err, model.ErrInvalid)
	}
	if im.recipes[r.Name] {
		return im.wrong("there are two recipes %q", r.Name)
	}
	im.recipes[r.Name] = true
	if _, err := tx.CreateBucketIfNotExists(recipesBucket); err != nil {
		return err
	}
	return putRecord(tx, recipesBucket, []byte(r.Name), r)
}

func (im *importer) takeRow(r carriedRow) error {
	if err := im.count(&im.seen.Rows, maxRows, "own rows"); err != nil {
		return err
	}
	table, err := tableOf(model.Table(r.Table))
	if err != nil {
		return err
	}
	for column := range r.Cells {
		if !slices.Contains(table.columns, column) {
			return im.wrong("the table of %s has no column %q", r.Table, column)
		}
	}
	if r.Cells["id"] == "" {
		return im.wrong("a row without an id")
	}
	for _, other := range im.rows {
		if other.Table == r.Table && other.Cells["id"] == r.Cells["id"] {
			return im.wrong("there are two rows %q", r.Cells["id"])
		}
	}
	if _, err := im.own.Try(model.Table(r.Table), r.Cells); err != nil {
		return fmt.Errorf("row %q: %w", r.Cells["id"], err)
	}
	im.rows = append(im.rows, r)
	return nil
}

func (im *importer) takeReadings(tx *bbolt.Tx, r carriedReadings) error {
	if !im.batches[model.BatchID(r.Series)] {
		return im.wrong("readings of batch %d, which does not stand before them", r.Series)
	}
	if len(r.At) == 0 || len(r.At) > readingsPerLine || len(r.SG) != len(r.At) || len(r.Temperature) != len(r.At) {
		return im.wrong("%d times, %d gravities and %d temperatures; want as many of each, 1 to %d",
			len(r.At), len(r.SG), len(r.Temperature), readingsPerLine)
	}
	if r.Series < im.series {
		return im.wrong("readings of batch %d after those of batch %d", r.Series, im.series)
	}
	points := make([]seriesPoint, len(r.At))
	for i := range points {
		p, err := r.point(i)
		if err != nil {
			return im.wrong("reading %d: %s", i+1, err)
		}
		if im.series == r.Series && comparePoints(im.lastPoint, p) >= 0 {
			return im.wrong("reading %d is not later than the one before", i+1)
		}
		points[i], im.series, im.lastPoint = p, r.Series, p
	}
	im.seen.Readings += len(points)
	_, err := addPoints(tx, r.Series, points)
	return err
}

// point returns a reading as it is packed.
func (r carriedReadings) point(i int) (seriesPoint, error) {
	if lowest, highest := time.Unix(0, 0).UnixMilli(), int64(253402300799999); r.At[i] < lowest || r.At[i] > highest {
		return seriesPoint{}, fmt.Errorf("the time %d is not within the years 1970 to 9999", r.At[i])
	}
	d := model.DeviceReading{At: time.UnixMilli(r.At[i]).UTC(), Gravity: calc.SG(r.SG[i])}
	if t := r.Temperature[i]; t != nil {
		d.Temperature, d.HasTemperature = calc.Celsius(*t), true
	}
	return fromDevice(d), d.Validate()
}
