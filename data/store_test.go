package data

import (
	"compress/gzip"
	"encoding/json"
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"go.etcd.io/bbolt"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

var evening = time.Date(2026, time.March, 14, 19, 30, 0, 0, time.UTC)

// newStore makes a cellar with one vessel of 23 L, N1.
func newStore(t *testing.T) *Store {
	t.Helper()
	s, err := Create(filepath.Join(t.TempDir(), "cellar.db"), model.Settings{CellarName: "Shed"})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.AddVessel(vesselN("N1")); err != nil {
		t.Fatal(err)
	}
	return s
}

func vesselN(label string) model.Vessel {
	return model.Vessel{Label: label, Kind: model.Carboy, Capacity: 23, Added: evening}
}

// mead is a batch about to begin in a vessel.
func mead(v model.VesselID, entries ...model.Body) model.Batch {
	b := model.Batch{Name: "Mead", Drink: model.Mead}
	for i, body := range append([]model.Body{
		model.Must{Vessel: v, Volume: 19, Gravity: 1.100},
		model.Pitch{Yeast: model.WineYeast},
	}, entries...) {
		at := evening.Add(time.Duration(i) * time.Minute)
		b.Entries = append(b.Entries, model.Entry{At: at, Recorded: at, Body: body})
	}
	return b
}

func readingOf(sg calc.SG) model.Reading {
	return model.Reading{Gravity: sg, Scale: model.ScaleSG, Calibration: 20}
}

func entryAt(d time.Duration, body model.Body) model.Entry {
	return model.Entry{At: evening.Add(d), Recorded: evening.Add(d), Body: body}
}

var asStored = cmp.AllowUnexported(calc.Liquid{})

// Ensure that every kind of entry comes back from the disk as it went in.
func TestStore_KeepsEveryKindOfEntry(t *testing.T) {
	s := newStore(t)
	second, err := s.AddVessel(vesselN("N2"))
	if err != nil {
		t.Fatal(err)
	}
	honey, err := calc.NewIngredient("honey", map[calc.Component]calc.Gram{calc.Water: 17, calc.Glucose: 40, calc.Fructose: 43})
	if err != nil {
		t.Fatal(err)
	}
	full := readingOf(1.0985)
	full.HasTemperature, full.Temperature, full.PH, full.Note = true, 0, 3.61, "smells of bread"
	b := mead(1, full,
		model.Addition{Portion: model.Portion{Ingredient: honey, Mass: 250}, Purpose: "feed"},
		model.Rack{To: second.ID, Volume: 18},
		model.Stabilise{Sulfite: 1.9, Sorbate: 4.5, Filtered: true, PU: 22.5, Chilled: true},
		model.Bench{Glass: 0.05, Poured: []model.Portion{{Ingredient: honey}, {Ingredient: honey, Mass: 1.25}}, Syrup: 500, Seed: 1<<63 + 5},
		model.Tasting{Bench: 7, Glasses: []model.Taste{{Words: "thin"}, {Marked: true, Mark: 0}}},
		model.Note{Text: "tastes of heather"},
		model.Void{Entry: 9, Reason: "wrong vessel's note"},
		model.Bottle{Count: 3, Size: 0.75, Rest: true})
	must := b.Entries[0].Body.(model.Must)
	must.Ingredients = []model.Portion{{Ingredient: honey, Mass: 5500}}
	b.Entries[0].Body = must
	stored, err := s.StartBatch(b)
	if err != nil {
		t.Fatal(err)
	}
	again, err := Open(s.Path())
	if err != nil {
		t.Fatal(err)
	}
	got, err := again.Batch(stored.ID)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(stored, got, asStored); diff != "" {
		t.Errorf("the batch changed on its way to the disk and back:\n%s", diff)
	}
	if len(got.Entries) != 11 || got.Entries[10].ID != 11 {
		t.Errorf("%d entries, the last with id %d; want 11 and 11", len(got.Entries), got.Entries[len(got.Entries)-1].ID)
	}
}

// Ensure that the later kinds of entry come back from the disk as they went in, and
// what was written together stays together.
func TestRecord_LaterKinds(t *testing.T) {
	fruit, err := calc.NewFruit("damson", map[calc.Component]calc.Gram{calc.Water: 80, calc.Glucose: 6, calc.Acid: 2}, 3, 0)
	if err != nil {
		t.Fatal(err)
	}
	fruit.Refuse, fruit.HalfTime = 0.09, 50*time.Hour
	fruit.PH, fruit.Acid = calc.Span{Low: 2.9, High: 3.2}, calc.Span{Low: 15, High: 27}
	portion := calc.FruitPortion{Fruit: fruit, Mass: 4000, Prepared: true, Crushed: true}
	liquid, err := calc.NewLiquid(map[calc.Component]calc.Gram{calc.Water: 900, calc.Ethanol: 90, calc.Fructose: 20})
	if err != nil {
		t.Fatal(err)
	}
	reading := readingOf(1.012)
	reading.Acid, reading.HasFreeSO2, reading.Mass, reading.Level = 6.2, true, 24600, 18.5
	later := evening.Add(72 * time.Hour).UTC()
	for _, body := range []model.Body{
		reading,
		model.Must{Vessel: 1, Volume: 20, Fruit: []calc.FruitPortion{portion}},
		model.Addition{Portion: model.Portion{Ingredient: calc.Ingredient{Name: "x", PerGram: liquid.Scaled(1. / 1010)}, Mass: 5}, Plan: 3, Dose: 1},
		model.Bottle{Count: 3, Size: 0.75, Closure: "crown cap"},
		model.Fruited{Portion: portion},
		model.Press{Volume: 17},
		model.Fine{Agent: "bentonite", Mass: 12},
		model.Stir{},
		model.Move{Place: "south shelf"},
		model.FeedPlan{Doses: []model.Meal{{What: "DAP", Mass: 5, After: 24 * time.Hour, Mark: 1.07}, {What: "honey", Mass: 500, Mark: 1.03, Sugar: liquid.Scaled(1. / 1010)}}},
		model.Feed{What: "DAP", Mass: 5, Nitrogen: 50, Plan: 4, Dose: 0},
		model.Draw{Volume: 2, To: 7, Why: "to top up"},
		model.Pour{From: 8, Name: "Damson wine", Liquid: liquid, Tolerance: 14},
		model.Part{From: 8, Name: "Damson wine", Vessel: 2, Volume: 9},
		model.Tasted{Bottles: 1, Marked: true, Mark: 0, Words: "thin"},
		model.Reminder{What: "buy corks", Due: later, By: model.KindReading},
		model.Tick{Due: "read", Until: later, Words: "away"},
		model.Tick{Due: "read"},
	} {
		record, err := fromBody(body)
		if err != nil {
			t.Fatal(err)
		}
		raw, err := json.Marshal(record)
		if err != nil {
			t.Fatal(err)
		}
		got, err := toBody(body.Kind(), raw)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(body, got, asStored, cmpopts.EquateApprox(1e-12, 0)); diff != "" {
			t.Errorf("%s changed on its way to the disk and back:\n%s", body.Kind(), diff)
		}
		if err := got.Validate(); err != nil {
			t.Errorf("%s: %v", body.Kind(), err)
		}
	}
}

// Ensure that a cellar that an older schema wrote opens, says the same of every batch,
// and is of today's schema afterwards.
func TestOpen_OlderSchemas(t *testing.T) {
	for _, name := range []string{"schema1", "schema2"} {
		t.Run(name, func(t *testing.T) { openOlder(t, name) })
	}
}

// summariesAsLeft returns what the program of that day made of the journals.
func summariesAsLeft(t *testing.T, path string) []model.Summary {
	t.Helper()
	db, err := bbolt.Open(path, 0o600, &bbolt.Options{ReadOnly: true, Timeout: time.Second})
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	var all []model.Summary
	err = db.View(func(tx *bbolt.Tx) error {
		all, err = summariesIn(tx)
		return err
	})
	if err != nil || len(all) < 11 {
		t.Fatalf("%d summaries, %v", len(all), err)
	}
	return all
}

// olderCellar returns a copy of a file that an older schema wrote.
func olderCellar(t *testing.T, name string) string {
	t.Helper()
	packed, err := os.Open("testdata/" + name + ".db.gz")
	if err != nil {
		t.Fatal(err)
	}
	defer packed.Close()
	zipped, err := gzip.NewReader(packed)
	if err != nil {
		t.Fatal(err)
	}
	bytes, err := io.ReadAll(zipped)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "old.db")
	if err := os.WriteFile(path, bytes, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func openOlder(t *testing.T, name string) {
	path := olderCellar(t, name)
	then := summariesAsLeft(t, path)
	s, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	shelf, err := s.Shelf()
	if err != nil {
		t.Fatal(err)
	}
	if len(shelf.Vessels) != 12 || len(shelf.Batches) < 11 {
		t.Fatalf("%d vessels and %d batches, want 12 and 11 or more", len(shelf.Vessels), len(shelf.Batches))
	}
	for _, sum := range then {
		b, err := s.Batch(sum.Batch)
		if err != nil {
			t.Fatal(err)
		}
		now := model.Summarise(b)
		if now.Problem != "" || now.Standing != sum.Standing || now.SG != sum.SG || math.Abs(float64(now.Strength-sum.Strength)) > 1e-9 {
			t.Errorf("%s was %s at %.4f, %.2f %%; it is %s at %.4f, %.2f %% %s", sum.Name,
				sum.Standing, float64(sum.SG), float64(sum.Strength), now.Standing, float64(now.SG), float64(now.Strength), now.Problem)
		}
	}
	err = s.file.view(func(tx *bbolt.Tx) error {
		m, err := readMeta(tx)
		if m.schema != 3 {
			t.Errorf("its schema is %d, want 3", m.schema)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	wantSound(t, CellarsWith(""), path) // its summaries are today's
}

// Ensure that a summary with a word that an older program had for a standing is made
// again from the journal.
func TestStore_OldStanding(t *testing.T) {
	s, err := DemoAt(filepath.Join(t.TempDir(), "demo.db"), evening)
	if err != nil {
		t.Fatal(err)
	}
	want, err := s.Shelf()
	if err != nil {
		t.Fatal(err)
	}
	err = s.file.update(func(tx *bbolt.Tx) error {
		old := want.Batches[2]
		old.Standing, old.Evidence, old.RuledOut = "flat", []string{"no change"}, nil
		return putRecord(tx, summariesBucket, idKey(uint64(old.Batch)), fromSummary(old))
	})
	if err != nil {
		t.Fatal(err)
	}
	got, err := s.Shelf()
	if err != nil {
		t.Fatal(err)
	}
	if got.Batches[2].Standing != want.Batches[2].Standing || len(got.Batches[2].RuledOut) == 0 {
		t.Errorf("it is %s %q, want %s", got.Batches[2].Standing, got.Batches[2].Evidence, want.Batches[2].Standing)
	}
}

// Ensure that an appended entry brings the outlook of the batch up to date, the same as
// working it out from the journal, and that it comes back from the disk.
func TestStore_KeepsTheOutlook(t *testing.T) {
	s, err := DemoAt(filepath.Join(t.TempDir(), "demo.db"), evening)
	if err != nil {
		t.Fatal(err)
	}
	outlook := func() (model.Summary, *model.Outlook) {
		shelf, err := s.Shelf()
		if err != nil {
			t.Fatal(err)
		}
		for _, b := range shelf.Batches {
			if b.Name == "Heather-honey mead" {
				return b, b.Outlook
			}
		}
		t.Fatal("no mead")
		return model.Summary{}, nil
	}
	sum, o := outlook()
	if o != nil {
		t.Errorf("the demo is foreseen before anybody looks: %+v", o)
	}
	b, err := s.Append(sum.Batch, model.Entry{At: evening, Recorded: evening, Body: readingOf(1.002)})
	if err != nil {
		t.Fatal(err)
	}
	_, o = outlook()
	want := model.Summarise(b).Foreseen(b).Outlook
	if o == nil || !o.Known || o.Final != want.Final || !o.Finish.High.Equal(want.Finish.High) || !o.Finish.Low.Equal(want.Finish.Low) {
		t.Errorf("outlook %+v, want %+v", o, want)
	}
}

// Ensure that the summary on disk is what the journal gives.
func TestStore_SummaryMatchesTheJournal(t *testing.T) {
	path := filepath.Join(t.TempDir(), "demo.db")
	s, err := DemoAt(path, evening)
	if err != nil {
		t.Fatal(err)
	}
	shelf, err := s.Shelf()
	if err != nil {
		t.Fatal(err)
	}
	if len(shelf.Vessels) != 12 || shelf.Settings.CellarName == "" {
		t.Errorf("%d vessels in %q, want 12", len(shelf.Vessels), shelf.Settings.CellarName)
	}
	for _, stored := range shelf.Batches {
		b, err := s.Batch(stored.Batch)
		if err != nil {
			t.Fatal(err)
		}
		fresh := toSummary(b.ID, fromSummary(model.Summarise(b))) // the sketch is rounded on disk
		if diff := cmp.Diff(fresh, stored); diff != "" {
			t.Errorf("%s: summary and journal disagree:\n%s", b.Name, diff)
		}
	}
}

// Ensure that what cannot be is refused and leaves nothing behind.
func TestStore_RefusesWhatCannotBe(t *testing.T) {
	s := newStore(t)
	b, err := s.StartBatch(mead(1))
	if err != nil {
		t.Fatal(err)
	}
	before, _ := s.Revision()
	for name, try := range map[string]func() error{
		"a label twice, in another case": func() error { _, err := s.AddVessel(vesselN("n1")); return err },
		"a vessel without capacity": func() error {
			_, err := s.AddVessel(model.Vessel{Label: "X", Kind: model.Keg})
			return err
		},
		"a second batch in a full vessel": func() error { _, err := s.StartBatch(mead(1)); return err },
		"a batch in no vessel":            func() error { _, err := s.StartBatch(mead(99)); return err },
		"a batch that begins with nothing": func() error {
			_, err := s.StartBatch(model.Batch{Name: "X", Drink: model.Mead})
			return err
		},
		"a reading that cannot be": func() error { _, err := s.Append(b.ID, entryAt(time.Hour, readingOf(0.3))); return err },
		"a void of nothing":        func() error { _, err := s.Append(b.ID, entryAt(time.Hour, model.Void{Entry: 77})); return err },
		"racking to nowhere":       func() error { _, err := s.Append(b.ID, entryAt(time.Hour, model.Rack{To: 77})); return err },
		"a batch that is not there": func() error {
			_, err := s.Append(99, entryAt(time.Hour, readingOf(1.05)))
			return err
		},
		"more bottles than there is": func() error {
			_, err := s.Append(b.ID, entryAt(time.Hour, model.Bottle{Count: 500, Size: 1}))
			return err
		},
		"a good entry beside a bad one": func() error {
			_, err := s.Append(b.ID, entryAt(time.Hour, readingOf(1.05)), entryAt(time.Hour, readingOf(0.3)))
			return err
		},
	} {
		if err := try(); !errors.Is(err, model.ErrInvalid) {
			t.Errorf("%s: %v, want it refused", name, err)
		}
	}
	after, _ := s.Revision()
	got, _ := s.Batch(b.ID)
	if after != before || len(got.Entries) != 2 {
		t.Errorf("a refusal left something behind: revision %d to %d, %d entries", before, after, len(got.Entries))
	}
}

// Ensure that entries written at once by several sessions are all kept, each with
// its own number.
func TestStore_SeveralSessionsAppend(t *testing.T) {
	s := newStore(t)
	b, err := s.StartBatch(mead(1))
	if err != nil {
		t.Fatal(err)
	}
	const sessions, each = 4, 8
	var wg sync.WaitGroup
	for range sessions {
		other, err := Open(s.Path())
		if err != nil {
			t.Fatal(err)
		}
		wg.Add(1)
		go func() {
			defer wg.Done()
			for i := range each {
				if _, err := other.Append(b.ID, entryAt(time.Duration(i)*time.Hour, model.Note{Text: "a note"})); err != nil {
					t.Error(err)
				}
			}
		}()
	}
	wg.Wait()
	got, err := s.Batch(b.ID)
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Entries) != 2+sessions*each {
		t.Fatalf("%d entries, want %d", len(got.Entries), 2+sessions*each)
	}
	for i, e := range got.Entries {
		if e.ID != model.EntryID(i+1) {
			t.Fatalf("entry %d has the number %d", i+1, e.ID)
		}
	}
}

// Ensure that an undo and its undo are entries too, and give the old figures back.
func TestStore_UndoIsAnEntry(t *testing.T) {
	s := newStore(t)
	b, err := s.StartBatch(mead(1, readingOf(1.080)))
	if err != nil {
		t.Fatal(err)
	}
	first := model.Summarise(b)
	if b, err = s.Append(b.ID, entryAt(24*time.Hour, readingOf(1.050))); err != nil {
		t.Fatal(err)
	}
	if b, err = s.Append(b.ID, entryAt(25*time.Hour, model.Void{Entry: 4})); err != nil {
		t.Fatal(err)
	}
	undone := model.Summarise(b)
	undone.Entries = first.Entries
	if diff := cmp.Diff(first, undone); diff != "" {
		t.Errorf("undo did not give the old figures back:\n%s", diff)
	}
}

// Ensure that damage inside a record names what is damaged and panics nowhere.
func TestStore_SaysWhatIsDamaged(t *testing.T) {
	s := newStore(t)
	b, err := s.StartBatch(mead(1))
	if err != nil {
		t.Fatal(err)
	}
	for _, bad := range []struct{ bucket, key, value []byte }{
		{entriesBucket, append(idKey(1), idKey(2)...), []byte("{not json")},
		{entriesBucket, append(idKey(1), idKey(2)...), []byte(`{"kind":"comet","body":{}}`)},
		{entriesBucket, append(idKey(1), idKey(2)...), []byte(`{"kind":"pitch","body":7}`)},
	} {
		if err := s.file.update(func(tx *bbolt.Tx) error { return tx.Bucket(bad.bucket).Put(bad.key, bad.value) }); err != nil {
			t.Fatal(err)
		}
		if _, err := s.Batch(b.ID); !errors.Is(err, ErrDamaged) || !strings.Contains(err.Error(), "entries") {
			t.Errorf("an entry of %s: %v, want damage in entries", bad.value, err)
		}
	}
}

// Ensure that opening says what kind of thing is in the way.
func TestOpen_SaysWhatIsWrong(t *testing.T) {
	dir := t.TempDir()
	if _, err := Open(filepath.Join(dir, "none.db")); !errors.Is(err, ErrNotFound) {
		t.Errorf("a missing file: %v", err)
	}
	letter := filepath.Join(dir, "letter.txt")
	if err := os.WriteFile(letter, []byte(strings.Repeat("dear sir, ", 2000)), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(letter); !errors.Is(err, ErrNotCellar) && !errors.Is(err, ErrDamaged) {
		t.Errorf("a letter: %v", err)
	}
	if _, err := Create(letter, model.Settings{}); !errors.Is(err, ErrExists) {
		t.Errorf("making a cellar over a letter: %v", err)
	}
}
