package data

import (
	"bytes"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"go.etcd.io/bbolt"

	"cellar.local/glassrow/model"
)

var carryNow = time.Date(2026, 11, 20, 18, 30, 0, 0, time.UTC)

// carryDemo makes a demo cellar with a plan, a recipe, own rows and a dense series.
func carryDemo(t testing.TB) (Cellars, *Store) {
	t.Helper()
	dir := t.TempDir()
	s, err := DemoAt(filepath.Join(dir, "demo.db"), carryNow)
	if err != nil {
		t.Fatal(err)
	}
	sweeteners, err := Sweeteners()
	if err != nil {
		t.Fatal(err)
	}
	plan := model.Plan{Name: "off-dry <&>", Candidates: []model.Candidate{{First: sweeteners[0], Share: 0.5, Aim: model.Aim{Mass: 300}}}}
	if err := s.KeepPlan(1, plan); err != nil {
		t.Fatal(err)
	}
	own := HandbookIn(dir)
	row, err := own.RowText(model.SweetenerTable, sweeteners[0].ID)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := own.KeepRow(model.SweetenerTable, row); err != nil {
		t.Fatal(err)
	}
	addSeries(t, s, 2, 1000)
	return CellarsWith(dir), s
}

// addSeries gives a batch n points, every 15 minutes.
func addSeries(t testing.TB, s *Store, batch uint64, n int) {
	t.Helper()
	points := make([]seriesPoint, n)
	for i := range points {
		points[i] = seriesPoint{AtMS: carryNow.UnixMilli() + int64(i)*900_000, SGe5: int32(110_000 - i*3), TempCentiC: int16(2000 + i%7), HasTemp: i%5 != 0}
	}
	err := s.file.update(func(tx *bbolt.Tx) error {
		if _, err := addPoints(tx, batch, points); err != nil {
			return err
		}
		return renew(tx, model.BatchID(batch), time.Time{})
	})
	if err != nil {
		t.Fatal(err)
	}
}

func exported(t testing.TB, c Cellars, path string) string {
	t.Helper()
	var b bytes.Buffer
	if _, err := c.Export(path, &b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func wantSound(t testing.TB, c Cellars, path string) {
	t.Helper()
	faults, _, err := c.Check(path, false)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range faults {
		t.Errorf("check: %+v", f)
	}
}

// Ensure that a cellar comes out of an export as it went in.
func TestCellars_RoundTrip(t *testing.T) {
	from, s := carryDemo(t)
	text := exported(t, from, s.Path())
	into := CellarsWith(t.TempDir())
	path := filepath.Join(t.TempDir(), "new", "cellar.db")
	done, err := into.Import(path, strings.NewReader(text), false)
	if err != nil {
		t.Fatal(err)
	}
	if done.Added.Vessels != 12 || done.Added.Readings != 1000 || done.Added.Rows != 1 || done.Added.Plans != 1 || len(done.Remarks) != 0 {
		t.Errorf("imported %+v", done)
	}
	if again := exported(t, into, path); again != text {
		t.Errorf("the second export differs:\n%s", firstDifference(text, again))
	}
	wantSound(t, into, path)
	wantSound(t, from, s.Path())
	second, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	compareShelves(t, s, second)
}

// compareShelves fails unless both show the same figures.
func compareShelves(t *testing.T, x, y *Store) {
	t.Helper()
	a, err := x.Shelf()
	if err != nil {
		t.Fatal(err)
	}
	b, err := y.Shelf()
	if err != nil {
		t.Fatal(err)
	}
	if len(a.Batches) != len(b.Batches) || len(a.Vessels) != len(b.Vessels) {
		t.Fatalf("%d batches in %d vessels, want %d in %d", len(b.Batches), len(b.Vessels), len(a.Batches), len(a.Vessels))
	}
	for i := range a.Batches {
		p, q := fromSummary(a.Batches[i]), fromSummary(b.Batches[i])
		p.Forecast, q.Forecast = nil, nil
		if at := differs(p, q); at != "" {
			t.Errorf("batch %d differs in %s", a.Batches[i].Batch, at)
		}
	}
}

func firstDifference(x, y string) string {
	a, b := strings.Split(x, "\n"), strings.Split(y, "\n")
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			return a[i] + "\n" + b[i]
		}
	}
	return "one is longer"
}

func TestCellars_BackupRestore(t *testing.T) {
	c, s := carryDemo(t)
	backup := filepath.Join(t.TempDir(), "b.db")
	if _, _, err := c.Backup(s.Path(), backup, false); err != nil {
		t.Fatal(err)
	}
	want := exported(t, c, s.Path())
	if _, err := s.Append(1, model.Entry{At: carryNow, Recorded: carryNow, Body: model.Note{Text: "later"}}); err != nil {
		t.Fatal(err)
	}
	before, _ := s.Revision()
	kept, _, err := c.Restore(s.Path(), backup, false, carryNow)
	if err != nil {
		t.Fatal(err)
	}
	if r, err := s.Revision(); err != nil || r <= before {
		t.Errorf("revision %d after %d, %v", r, before, err)
	}
	if got := exported(t, c, s.Path()); got != want {
		t.Errorf("restored another cellar:\n%s", firstDifference(want, got))
	}
	if old := exported(t, c, kept); !strings.Contains(old, "later") {
		t.Error("what was there is not kept")
	}
	if left, _ := filepath.Glob(filepath.Join(filepath.Dir(s.Path()), ".glassrow-*")); len(left) > 0 {
		t.Errorf("left lying: %v", left)
	}
}
