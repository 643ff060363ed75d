package e2e

import (
	"fmt"
	"path/filepath"
	"testing"
	"time"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/data"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui"
	"cellar.local/glassrow/ui/uitest"
)

// manyVessels makes a cellar of n vessels, each with a batch of twenty readings.
func manyVessels(tb testing.TB, n int) string {
	tb.Helper()
	var vessels []model.Vessel
	var batches []model.Batch
	for i := 1; i <= n; i++ {
		id := model.VesselID(i)
		vessels = append(vessels, model.Vessel{ID: id, Label: fmt.Sprintf("C%d", i), Kind: model.Carboy, Capacity: 23, Added: evening})
		start := evening.Add(-30 * 24 * time.Hour)
		b := model.Batch{ID: model.BatchID(i), Name: fmt.Sprintf("Batch %d", i), Drink: model.Mead}
		b.Entries = []model.Entry{
			{ID: 1, At: start, Recorded: start, Body: model.Must{Vessel: id, Volume: 20, Gravity: 1.100}},
			{ID: 2, At: start, Recorded: start, Body: model.Pitch{Yeast: model.WineYeast}},
		}
		for k := range 20 {
			at := start.Add(time.Duration(k+1) * 36 * time.Hour)
			sg := calc.SG(1.100 - 0.005*float64(k+1))
			b.Entries = append(b.Entries, model.Entry{ID: model.EntryID(k + 3), At: at, Recorded: at,
				Body: model.Reading{Gravity: sg, Scale: model.ScaleSG, Calibration: 20}})
		}
		batches = append(batches, b)
	}
	path := filepath.Join(tb.TempDir(), "many.db")
	if _, err := data.CreateFilled(path, model.Settings{CellarName: "Many"}, vessels, batches); err != nil {
		tb.Fatal(err)
	}
	return path
}

// BenchmarkFrame_40Vessels draws one frame at 180x50.
func BenchmarkFrame_40Vessels(b *testing.B) {
	s := openAt(b, manyVessels(b, 40), &clock{evening}, 180, 50)
	b.ReportAllocs()
	for b.Loop() {
		s.Raw()
	}
}

// BenchmarkPlannerKey is a key in the planner, to the finished frame.
func BenchmarkPlannerKey(b *testing.B) {
	s := openAt(b, newDemo(b), &clock{evening}, 180, 50)
	s.Press("down", "s")
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		if i%40 < 20 {
			s.Press("right")
		} else {
			s.Press("left")
		}
		s.Raw()
	}
}

// BenchmarkPlannerKey_FourCandidates is a key in the planner with four candidates
// beside each other, one of them a mixture and two with a target, to the finished
// frame. It should take less than 5 ms.
func BenchmarkPlannerKey_FourCandidates(b *testing.B) {
	s := openAt(b, newDemo(b), &clock{evening}, 180, 50)
	selectLabel(s, "N5")
	s.Press("s").Type("t1.008").Press("enter", "=", "n", "m", "n", "tab").See("4 ")
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		if i%40 < 20 {
			s.Press("right")
		} else {
			s.Press("left")
		}
		s.Raw()
	}
}

// BenchmarkReadingKey is a key in the entry line, to the finished frame.
func BenchmarkReadingKey(b *testing.B) {
	s := openAt(b, manyVessels(b, 40), &clock{evening}, 180, 50)
	s.Press("r").Type("0.99")
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		if i%2 == 0 {
			s.Press("6")
		} else {
			s.Press("backspace")
		}
		s.Raw()
	}
}

// BenchmarkOpen_Demo opens the demo cellar, up to its first frame.
func BenchmarkOpen_Demo(b *testing.B) { benchmarkOpen(b, newDemo(b)) }

// BenchmarkOpen_1000Vessels opens a cellar of a thousand vessels, up to its first
// frame.
func BenchmarkOpen_1000Vessels(b *testing.B) { benchmarkOpen(b, manyVessels(b, 1000)) }

func benchmarkOpen(b *testing.B, path string) {
	for b.Loop() {
		s, err := data.Open(path)
		if err != nil {
			b.Fatal(err)
		}
		o := options(b, &clock{evening})
		o.Store = s
		uitest.Start(b, ui.New(o), 80, 24).Raw()
	}
}

// BenchmarkMakeDemo writes the demo cellar, as `glassrow demo` does each time.
func BenchmarkMakeDemo(b *testing.B) {
	for b.Loop() {
		newDemo(b)
	}
}
