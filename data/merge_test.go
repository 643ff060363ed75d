package data

import (
	"errors"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// shed makes a cellar with one mead in N1 and an empty N2.
func shed(t testing.TB, added time.Time) (Cellars, *Store) {
	t.Helper()
	dir := t.TempDir()
	s, err := Create(filepath.Join(dir, "cellar.db"), model.Settings{CellarName: "Shed"})
	if err != nil {
		t.Fatal(err)
	}
	for _, label := range []string{"N1", "N2"} {
		if _, err := s.AddVessel(model.Vessel{Label: label, Kind: model.Carboy, Capacity: 23, Added: added}); err != nil {
			t.Fatal(err)
		}
	}
	startIn(t, s, "Heather mead", 1, carryNow.AddDate(0, 0, -20))
	return CellarsWith(dir), s
}

func startIn(t testing.TB, s *Store, name string, v model.VesselID, at time.Time) model.Batch {
	t.Helper()
	b, err := s.StartBatch(model.Batch{Name: name, Drink: model.Mead, Entries: []model.Entry{
		{At: at, Recorded: at, Body: model.Must{Vessel: v, Volume: 10, Gravity: 1.09}},
		{At: at, Recorded: at, Body: model.Pitch{Yeast: model.WineYeast}},
	}})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func readIn(t testing.TB, s *Store, id model.BatchID, days int, sg calc.SG) {
	t.Helper()
	at := carryNow.AddDate(0, 0, -20+days)
	if _, err := s.Append(id, model.Entry{At: at, Recorded: at, Body: model.Reading{Gravity: sg, Scale: model.ScaleSG, Calibration: 20}}); err != nil {
		t.Fatal(err)
	}
}

// copied makes a second cellar of what the first exports.
func copied(t testing.TB, c Cellars, s *Store) (Cellars, *Store) {
	t.Helper()
	into := CellarsWith(t.TempDir())
	path := filepath.Join(t.TempDir(), "copy.db")
	if _, err := into.Import(path, strings.NewReader(exported(t, c, s.Path())), false); err != nil {
		t.Fatal(err)
	}
	second, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	return into, second
}

func add(t testing.TB, c Cellars, s *Store, text string) model.Imported {
	t.Helper()
	done, err := c.Import(s.Path(), strings.NewReader(text), true)
	if err != nil {
		t.Fatal(err)
	}
	wantSound(t, c, s.Path())
	return done
}

func remarksHold(t *testing.T, done model.Imported, want string) {
	t.Helper()
	if !strings.Contains(strings.Join(done.Remarks, "\n"), want) {
		t.Errorf("remarks %q, want one with %q", done.Remarks, want)
	}
}

// Ensure that what one cellar has more than its copy comes into the copy, once.
func TestCellars_ImportAdd_Newer(t *testing.T) {
	c, s := shed(t, carryNow)
	c2, s2 := copied(t, c, s)
	readIn(t, s, 1, 5, 1.060)
	startIn(t, s, "Quince wine", 2, carryNow)
	addSeries(t, s, 1, 300)
	text := exported(t, c, s.Path())
	done := add(t, c2, s2, text)
	if want := (model.Contents{Batches: 1, Entries: 3, Readings: 300}); done.Added != want {
		t.Errorf("added %s, want %s", done.Added, want)
	}
	remarksHold(t, done, "Heather mead has more than before: 1 entry")
	if again := exported(t, c2, s2.Path()); again != text {
		t.Errorf("they are not the same then:\n%s", firstDifference(text, again))
	}
	if done := add(t, c2, s2, text); !done.Added.Empty() {
		t.Errorf("a second time it added %s", done.Added)
	}
}

// Ensure that readings that come to a whole are told of the parts of it too.
func TestCellars_ImportAdd_ReadingsOfAWhole(t *testing.T) {
	c, s := shed(t, carryNow)
	b, err := s.Batch(1)
	if err != nil {
		t.Fatal(err)
	}
	writings, err := model.Split(b, "Heather mead, dry", model.Vessel{ID: 2, Label: "N2", Capacity: 23}, 4, carryNow, carryNow)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Write(writings...); err != nil {
		t.Fatal(err)
	}
	c2, s2 := copied(t, c, s)
	said := []model.DeviceReading{{At: carryNow.AddDate(0, 0, -4), Gravity: 1.041}, {At: carryNow.AddDate(0, 0, -3), Gravity: 1.034}}
	if _, err := s.Record(model.DeviceReadings{Batch: 1, Readings: said}); err != nil {
		t.Fatal(err)
	}
	done := add(t, c2, s2, exported(t, c, s.Path()))
	if want := (model.Contents{Readings: 2}); done.Added != want {
		t.Errorf("added %s, want %s", done.Added, want)
	}
	holds(t, s2)
}

// Ensure that two cellars that know nothing of each other can be put together: labels
// and numbers give way, what entries name follows, and later deeds are their own.
func TestCellars_ImportAdd_Stranger(t *testing.T) {
	c, s := shed(t, carryNow)
	c2, s2 := shed(t, carryNow.Add(time.Hour))
	b, err := s2.Batch(1)
	if err != nil {
		t.Fatal(err)
	}
	readIn(t, s2, 1, 8, 1.02)
	b, _ = s2.Batch(1)
	at := carryNow
	writings, err := model.Split(b, "Heather mead, dry", model.Vessel{ID: 2, Label: "N2", Capacity: 23}, 4, at, at)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s2.Write(writings...); err != nil {
		t.Fatal(err)
	}
	// Here N1 holds another mead of another name, so numbers and labels clash.
	startIn(t, s, "Buckwheat mead", 2, carryNow.AddDate(0, 0, -9))
	stranger := strings.Replace(exported(t, c2, s2.Path()), `"name":"Heather mead"`, `"name":"Bell heather mead"`, 1)
	done := add(t, c, s, stranger)
	if done.Added.Vessels != 2 || done.Added.Batches != 2 || !done.Left.Empty() {
		t.Fatalf("added %s, left %s", done.Added, done.Left)
	}
	remarksHold(t, done, "there is another vessel N1 already; the one of the file is called N1-2")
	remarksHold(t, done, "Bell heather mead is number 3 here and its lot L2026-1031-03; bottles may say L2026-1031-01")
	whole, err := s.Batch(3)
	if err != nil {
		t.Fatal(err)
	}
	part, err := s.Batch(4)
	if err != nil {
		t.Fatal(err)
	}
	sum := model.Summarise(part)
	if sum.Vessel != 4 || sum.Volume < 3.9 || sum.Volume > 4.1 {
		t.Errorf("the part is in vessel %d with %.2f L", sum.Vessel, float64(sum.Volume))
	}
	drawn := false
	for _, e := range whole.Entries {
		if d, ok := e.Body.(model.Draw); ok {
			drawn = d.To == 4
		}
	}
	if !drawn {
		t.Error("the draw does not name the part by its number here")
	}
	changed, err := s.Undo(4, at, "no split after all")
	if err != nil || len(changed) != 2 {
		t.Fatalf("undo of the split changed %d batches, %v, want 2", len(changed), err)
	}
	wantSound(t, c, s.Path())
}

// Ensure that what cannot be put together is refused as a whole.
func TestCellars_ImportAdd_Refused(t *testing.T) {
	refused := func(t *testing.T, c Cellars, s *Store, text string, want string) {
		t.Helper()
		before, _ := s.Revision()
		_, err := c.Import(s.Path(), strings.NewReader(text), true)
		if !errors.Is(err, model.ErrInvalid) || !strings.Contains(err.Error(), want) {
			t.Errorf("import = %v, want it to say %q", err, want)
		}
		if r, _ := s.Revision(); r != before {
			t.Error("something was written")
		}
	}
	t.Run("journals that part", func(t *testing.T) {
		c, s := shed(t, carryNow)
		c2, s2 := copied(t, c, s)
		readIn(t, s, 1, 5, 1.060)
		readIn(t, s2, 1, 6, 1.050)
		refused(t, c2, s2, exported(t, c, s.Path()), "part at entry 3")
	})
	t.Run("entries that say another thing at one time", func(t *testing.T) {
		c, s := shed(t, carryNow)
		c2, s2 := copied(t, c, s)
		readIn(t, s, 1, 5, 1.060)
		readIn(t, s2, 1, 5, 1.059)
		refused(t, c2, s2, exported(t, c, s.Path()), "part at entry 3")
	})
	t.Run("two batches in one vessel", func(t *testing.T) {
		c, s := shed(t, carryNow)
		c2, s2 := copied(t, c, s)
		startIn(t, s, "Quince wine", 2, carryNow)
		startIn(t, s2, "Damson wine", 2, carryNow)
		refused(t, c2, s2, exported(t, c, s.Path()), "Quince wine would both be in N2")
	})
	t.Run("content, unless told to add", func(t *testing.T) {
		c, s := shed(t, carryNow)
		_, err := c.Import(s.Path(), strings.NewReader(exported(t, c, s.Path())), false)
		if err == nil || !strings.Contains(err.Error(), "already holds 2 vessels, 1 batch, 2 entries; with --add") {
			t.Errorf("import = %v", err)
		}
	})
}
