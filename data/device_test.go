package data

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"go.etcd.io/bbolt"

	"cellar.local/glassrow/model"
)

var afloatFrom = time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)

// told is what a device says every quarter of an hour of a ferment, from the n-th on.
func told(from, n int) []model.DeviceReading {
	out := make([]model.DeviceReading, n)
	for i := range out {
		q := from + i
		e5 := int32(100_000 + max(0, 10_000-10*q) + 100*(q*7%5))
		out[i] = model.DeviceReading{At: afloatFrom.Add(time.Duration(q) * 15 * time.Minute), Gravity: toGravity(e5)}
		if q%9 != 0 {
			out[i].Temperature, out[i].HasTemperature = 20.5, true
		}
	}
	return out
}

// floatingStore is a cellar with a mead in N1 and a free N2.
func floatingStore(t testing.TB, path string) (*Store, model.Batch) {
	t.Helper()
	s, err := Create(path, model.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	v, err := s.AddVessel(vesselN("N1"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.AddVessel(vesselN("N2")); err != nil {
		t.Fatal(err)
	}
	b, err := s.StartBatch(model.Batch{Name: "Heather mead", Drink: model.Mead, Entries: []model.Entry{
		{At: afloatFrom.Add(-time.Hour), Body: model.Must{Vessel: v.ID, Volume: 10, Gravity: 1.100}},
		{At: afloatFrom.Add(-time.Hour), Body: model.Pitch{Yeast: model.WineYeast}},
	}})
	if err != nil {
		t.Fatal(err)
	}
	return s, b
}

// holds fails unless spells and summaries are what pages and journals make.
func holds(t testing.TB, s *Store) {
	t.Helper()
	err := s.file.view(func(tx *bbolt.Tx) error {
		if err := checkSeries(tx.Bucket(readingsBucket)); err != nil {
			return err
		}
		if err := checkSpells(tx); err != nil {
			return err
		}
		return eachRecord(tx, summariesBucket, func(id uint64, r summaryRecord) error {
			b, err := batchIn(tx, model.BatchID(id))
			if err != nil {
				return err
			}
			want := fromSummary(model.Summarise(b))
			want.Forecast, r.Forecast = nil, nil
			if got, want := fmt.Sprintf("%+v", r), fmt.Sprintf("%+v", want); got != want {
				return fmt.Errorf("summary of %d is\n%s, want\n%s", id, got, want)
			}
			return nil
		})
	})
	if err != nil {
		t.Error(err)
	}
}

// Ensure that however readings come, in whatever order and pieces and again, the store
// holds each once, and its spells and summaries are what they make.
func TestStore_Record(t *testing.T) {
	s, b := floatingStore(t, t.TempDir()+"/cellar.db")
	all := told(0, 700)
	shuffled := slices.Clone(all)
	rand.New(rand.NewPCG(5, 6)).Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
	for part := range slices.Chunk(shuffled, 90) {
		taken, err := s.Record(model.DeviceReadings{Batch: b.ID, Readings: part})
		if err != nil || taken[0].Added != len(part) {
			t.Fatalf("Record = %+v, %v, want all %d taken", taken, err, len(part))
		}
		holds(t, s)
	}
	got, err := s.Batch(b.ID)
	if err != nil {
		t.Fatal(err)
	}
	if want := model.SpellsOf(all); !slices.Equal(got.Series, want) {
		t.Errorf("%d spells, want the %d of the whole", len(got.Series), len(want))
	}
	var back []model.DeviceReading
	err = Cellars{}.Series(s.Path(), b.ID, func(at time.Time, r model.Reading) error {
		d, err := model.DeviceReadingOf(r, at)
		back = append(back, d)
		return err
	})
	if err != nil || !slices.Equal(back, all) {
		t.Errorf("Series = %d readings, %v, want the %d", len(back), err, len(all))
	}

	t.Run("and nothing a second time", func(t *testing.T) {
		before, _ := s.Revision()
		other := slices.Clone(all)
		other[3].Gravity += 0.010
		taken, err := s.Record(model.DeviceReadings{Batch: b.ID, Readings: other})
		want := model.Taken{Batch: b.ID, There: len(all), Other: 1}
		if after, _ := s.Revision(); err != nil || taken[0] != want || after != before {
			t.Errorf("Record = %+v, %v at revision %d, want %+v at %d", taken, err, after, want, before)
		}
	})
	t.Run("and nothing of what cannot be", func(t *testing.T) {
		bad := append(told(900, 5), model.DeviceReading{At: afloatFrom, Gravity: 1.9})
		if _, err := s.Record(model.DeviceReadings{Batch: b.ID, Readings: bad}); !errors.Is(err, model.ErrInvalid) {
			t.Errorf("Record = %v, want it refused", err)
		}
		good := model.DeviceReadings{Batch: b.ID, Readings: told(900, 5)}
		if _, err := s.Record(good, model.DeviceReadings{Batch: 99, Readings: told(0, 1)}); !errors.Is(err, model.ErrInvalid) {
			t.Errorf("Record = %v, want no batch 99", err)
		}
		if got, _ := s.Batch(b.ID); len(got.Series) != len(model.SpellsOf(all)) {
			t.Error("some of it was written")
		}
	})
}

// Ensure that a part shares what was said of the whole until it was split off, also when
// that comes late, and no more.
func TestStore_RecordBeforeASplit(t *testing.T) {
	s, b := floatingStore(t, t.TempDir()+"/cellar.db")
	record := func(from, n int) {
		t.Helper()
		if _, err := s.Record(model.DeviceReadings{Batch: b.ID, Readings: told(from, n)}); err != nil {
			t.Fatal(err)
		}
		holds(t, s)
	}
	record(0, 96)
	whole, err := s.Batch(b.ID)
	if err != nil {
		t.Fatal(err)
	}
	at := afloatFrom.Add(5 * 24 * time.Hour)
	writings, err := model.Split(whole, "Heather mead, dry", model.Vessel{ID: 2, Label: "N2", Capacity: 20}, 4, at, at)
	if err != nil {
		t.Fatal(err)
	}
	stored, err := s.Write(writings...)
	if err != nil {
		t.Fatal(err)
	}
	part := stored[0].ID
	holds(t, s)
	record(96, 1000)
	got, err := s.Batch(part)
	if err != nil {
		t.Fatal(err)
	}
	want := model.SpellsOf(told(0, 5*96)) // the first of the sixth day is after the split
	if !slices.Equal(got.Series, want) {
		t.Errorf("the part has %d spells, want %d", len(got.Series), len(want))
	}
}

// Ensure that what a device said before a split is taken late, also when the part was
// poured back into the whole since: the two name each other then.
func TestStore_RecordBeforeATopUp(t *testing.T) {
	s, b := floatingStore(t, t.TempDir()+"/cellar.db")
	at := afloatFrom.Add(5 * 24 * time.Hour)
	writings, err := model.Split(b, "Heather mead, dry", model.Vessel{ID: 2, Label: "N2", Capacity: 20}, 4, at, at)
	if err != nil {
		t.Fatal(err)
	}
	stored, err := s.Write(writings...)
	if err != nil {
		t.Fatal(err)
	}
	later := at.Add(24 * time.Hour)
	if writings, err = model.PourOver(stored[0], stored[1], 1, later, later); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Write(writings...); err != nil {
		t.Fatal(err)
	}
	taken, err := s.Record(model.DeviceReadings{Batch: b.ID, Readings: told(0, 300)})
	if err != nil || taken[0].Added != 300 {
		t.Fatalf("Record = %+v, %v, want 300 taken", taken, err)
	}
	holds(t, s)
}

// Ensure that spells can be made again from the pages, and that a wrong one is found.
func TestStore_Spells(t *testing.T) {
	s, b := floatingStore(t, t.TempDir()+"/cellar.db")
	if _, err := s.Record(model.DeviceReadings{Batch: b.ID, Readings: told(0, 500)}); err != nil {
		t.Fatal(err)
	}
	before, _ := s.Batch(b.ID)
	if err := s.file.update(rebuildSpells); err != nil {
		t.Fatal(err)
	}
	holds(t, s)
	if after, _ := s.Batch(b.ID); !slices.Equal(before.Series, after.Series) {
		t.Error("made again they are others")
	}
	for name, hurt := range map[string]func(b *bbolt.Bucket) error{
		"one too few":  func(b *bbolt.Bucket) error { k, _ := b.Cursor().First(); return b.Delete(k) },
		"one too many": func(b *bbolt.Bucket) error { return b.Put(encodeSpell(9, model.SpellOf(told(0, 3)))) },
		"another":      func(b *bbolt.Bucket) error { return b.Put(encodeSpell(1, model.SpellOf(told(0, 3)))) },
		"a flipped bit": func(b *bbolt.Bucket) error {
			k, v := b.Cursor().First()
			v = slices.Clone(v)
			v[12] ^= 1
			return b.Put(k, v)
		},
	} {
		t.Run(name, func(t *testing.T) {
			err := s.file.update(func(tx *bbolt.Tx) error {
				if err := hurt(tx.Bucket(spellsBucket)); err != nil {
					return err
				}
				return checkSpells(tx)
			})
			wantErr(t, "checkSpells", err, ErrDamaged)
		})
	}
}

// recordForEver records ten readings more, and ten more, and prints how many there are.
func recordForEver(path string) error {
	s, err := Open(path)
	if err != nil {
		return err
	}
	n := 0
	if err := (Cellars{}).Series(s.Path(), 1, func(time.Time, model.Reading) error { n++; return nil }); err != nil {
		return err
	}
	for {
		if _, err := s.Record(model.DeviceReadings{Batch: 1, Readings: told(n, 10)}); err != nil {
			return err
		}
		n += 10
		fmt.Println(n)
	}
}

// recordHours records the readings of one hour of every eight, which hour is in the
// environment, each in a write of its own.
func recordHours(path string) error {
	s, err := Open(path)
	if err != nil {
		return err
	}
	hour := int(os.Getenv(hourEnv)[0] - '0')
	for q := 4 * hour; q < 640; q += 32 {
		if _, err := s.Record(model.DeviceReadings{Batch: 1, Readings: told(q, 4)}); err != nil {
			return err
		}
	}
	return nil
}

const hourEnv = "CELLAR_TEST_HOUR"

// Ensure that the death of who records loses nothing that it was told is written, and
// leaves no half of it: pages, spells and summary agree.
func TestStore_Record_Killed(t *testing.T) {
	path := t.TempDir() + "/cellar.db"
	s, _ := floatingStore(t, path)
	for range 15 {
		acknowledged := int(runAndKill(t, "recorder", path))
		n := 0
		if err := (Cellars{}).Series(s.Path(), 1, func(time.Time, model.Reading) error { n++; return nil }); err != nil {
			t.Fatal(err)
		}
		if n != acknowledged && n != acknowledged+10 {
			t.Errorf("%d readings, want %d or ten more", n, acknowledged)
		}
		holds(t, s)
	}
}

// Ensure that several devices recorded at once all get in, beside somebody who writes in
// the journal.
func TestStore_Record_ManyProcesses(t *testing.T) {
	path := t.TempDir() + "/cellar.db"
	s, b := floatingStore(t, path)
	ends := make(chan error)
	const devices = 8
	for i := range devices {
		cmd := roleCommand(t.Context(), "hours", path)
		cmd.Env = append(cmd.Env, fmt.Sprintf("%s=%d", hourEnv, i))
		go func() { ends <- cmd.Run() }()
	}
	for i := range 10 {
		at := afloatFrom.Add(time.Duration(200+i) * time.Hour)
		if _, err := s.Append(b.ID, model.Entry{At: at, Recorded: at, Body: model.Note{Text: strings.Repeat("bubbles ", i+1)}}); err != nil {
			t.Error(err)
		}
	}
	for range devices {
		if err := <-ends; err != nil {
			t.Error(err)
		}
	}
	holds(t, s)
	got, err := s.Batch(b.ID)
	if err != nil {
		t.Fatal(err)
	}
	if want := model.SpellsOf(told(0, 640)); !slices.Equal(got.Series, want) || len(got.Entries) != 12 {
		t.Errorf("%d spells and %d entries, want %d and 12", len(got.Series), len(got.Entries), len(want))
	}
}
