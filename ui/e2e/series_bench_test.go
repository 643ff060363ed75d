package e2e

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/data"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui"
)

// floatingVessels makes a cellar of vessels with a device in each that has reported n
// times, every five minutes, and hand readings once a week.
func floatingVessels(tb testing.TB, vessels, n int) string {
	tb.Helper()
	path := manyVessels(tb, 0)
	s, err := data.Open(path)
	if err != nil {
		tb.Fatal(err)
	}
	start := evening.Add(-time.Duration(n) * 5 * time.Minute)
	for i := 1; i <= vessels; i++ {
		v, err := s.AddVessel(model.Vessel{Label: fmt.Sprintf("C%d", i), Kind: model.Carboy, Capacity: 23, Added: start})
		if err != nil {
			tb.Fatal(err)
		}
		pace := 30 + float64(i%17)*8 // hours
		gravity := func(t time.Time) float64 {
			return 0.996 + 0.104/(1+math.Exp((t.Sub(start).Hours()-4*pace)/pace))
		}
		b := model.Batch{Name: fmt.Sprintf("Batch %d", i), Drink: model.Mead, Entries: []model.Entry{
			{At: start, Recorded: start, Body: model.Must{Vessel: v.ID, Volume: 20, Gravity: 1.100}},
			{At: start, Recorded: start, Body: model.Pitch{Yeast: model.WineYeast}},
		}}
		for at := start.Add(7 * 24 * time.Hour); at.Before(evening); at = at.Add(7 * 24 * time.Hour) {
			b.Entries = append(b.Entries, model.Entry{At: at, Recorded: at,
				Body: model.Reading{Gravity: calc.SG(math.Round(gravity(at)*1000) / 1000), Scale: model.ScaleSG, Calibration: 20}})
		}
		if b, err = s.StartBatch(b); err != nil {
			tb.Fatal(err)
		}
		told := model.DeviceReadings{Batch: b.ID, Readings: make([]model.DeviceReading, n)}
		for k := range told.Readings {
			at := start.Add(time.Duration(k+1) * 5 * time.Minute)
			wobble := float64((k*7919+i*104729)%41-20) / 1e4 // two points up and down
			told.Readings[k] = model.DeviceReading{At: at, Gravity: calc.SG(math.Round((gravity(at)+0.003+wobble)*1e4) / 1e4),
				Temperature: calc.Celsius(20 + float64(k/100%9)/10), HasTemperature: true}
		}
		if _, err := s.Record(told); err != nil {
			tb.Fatal(err)
		}
	}
	return path
}

// BenchmarkSeries_TenMillion is a cellar of a thousand vessels with ten thousand
// readings of a device each: how large its file is, how long it takes to the first frame
// and from a key to the next, and to take one more reading. It takes a minute to make.
func BenchmarkSeries_TenMillion(b *testing.B) {
	const vessels, each = 1000, 10_000
	path := floatingVessels(b, vessels, each)
	info, err := os.Stat(path)
	if err != nil {
		b.Fatal(err)
	}
	b.Run("first frame", func(b *testing.B) {
		o := options(b, &clock{evening})
		for b.Loop() {
			s, err := data.Open(path)
			if err != nil {
				b.Fatal(err)
			}
			o.Store = s
			m, _ := ui.New(o).Update(tea.WindowSizeMsg{Width: 180, Height: 50})
			m, _ = m.Update(m.Init()()) // the shelf; the batch on show follows off the loop
			if !strings.Contains(m.View(), "Batch 1") {
				b.Fatal(m.View())
			}
		}
		b.ReportMetric(float64(info.Size())/1e6, "file-MB")
		b.ReportMetric(float64(info.Size())/(vessels*each), "B/reading")
	})
	b.Run("walk", func(b *testing.B) {
		s := openAt(b, path, &clock{evening}, 180, 50)
		for i := 0; b.Loop(); i++ {
			if i%40 < 20 {
				s.Hold().Press("down")
			} else {
				s.Hold().Press("up")
			}
			s.Raw()
		}
	})
	b.Run("key of a reading", func(b *testing.B) {
		s := openAt(b, path, &clock{evening}, 180, 50)
		s.Press("r").Type("0.99")
		for i := 0; b.Loop(); i++ {
			if i%2 == 0 {
				s.Press("6")
			} else {
				s.Press("backspace")
			}
			s.Raw()
		}
	})
	b.Run("one more reading", func(b *testing.B) {
		s, err := data.Open(path)
		if err != nil {
			b.Fatal(err)
		}
		for i := 0; b.Loop(); i++ {
			r := model.DeviceReading{At: evening.Add(time.Duration(i) * time.Second), Gravity: 1.002}
			if _, err := s.Record(model.DeviceReadings{Batch: 1, Readings: []model.DeviceReading{r}}); err != nil {
				b.Fatal(err)
			}
		}
	})
}
