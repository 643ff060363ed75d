package e2e

import (
	"path/filepath"
	"testing"
	"time"

	"cellar.local/glassrow/data"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui"
	"cellar.local/glassrow/ui/plot"
	"cellar.local/glassrow/ui/uitest"
)

// evening is when the tests take place.
var evening = time.Date(2026, time.March, 14, 19, 30, 0, 0, time.UTC)

// clock is a clock that a test can move.
type clock struct{ at time.Time }

func (c *clock) now() time.Time { return c.at }

// session is a dashboard on a cellar file, without a terminal.
type session struct {
	*uitest.Screen
	store *data.Store
	clock *clock
}

// newCellar makes an empty cellar and returns its path.
func newCellar(t testing.TB) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "cellar.db")
	if _, err := data.Create(path, model.Settings{CellarName: "Test cellar"}); err != nil {
		t.Fatal(err)
	}
	return path
}

// newDemo makes the demo cellar of the evening and returns its path.
func newDemo(t testing.TB) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "demo.db")
	if _, err := data.DemoAt(path, evening); err != nil {
		t.Fatal(err)
	}
	return path
}

// open starts a dashboard of 80x24 on a cellar.
func open(t testing.TB, path string) session {
	t.Helper()
	return openAt(t, path, &clock{evening}, 80, 24)
}

func openAt(t testing.TB, path string, c *clock, w, h int) session {
	t.Helper()
	s, err := data.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	o := options(t, c)
	o.Store, o.Path = s, path
	return session{uitest.Start(t, ui.New(o), w, h), s, c}
}

// options are a dashboard's without a store.
func options(t testing.TB, c *clock) ui.Options {
	t.Helper()
	own := data.HandbookIn(t.TempDir())
	larder, err := own.Larder()
	if err != nil {
		t.Fatal(err)
	}
	containers, err := data.Containers()
	if err != nil {
		t.Fatal(err)
	}
	sorbate, err := data.Sorbate()
	if err != nil {
		t.Fatal(err)
	}
	sulfite, err := data.SulfiteLimits()
	if err != nil {
		t.Fatal(err)
	}
	return ui.Options{
		Fruits: larder.Fruits,
		Acids:  read(t, data.Acids), Carbonates: read(t, data.Carbonates), Nutrients: read(t, data.NitrogenSources),
		Sorbate: sorbate, SulfiteLimits: sulfite,
		Containers: containers,
		Sweeteners: larder.Sweeteners,
		Handbook:   own,
		Now:        c.now,
		Styles:     ui.NewStyles(true),
		Glyphs:     ui.GlyphsFor(plot.Braille),
	}
}

// addVessel adds a vessel by its form.
func (s session) addVessel(label, capacity string) session {
	s.Press("v").See("A new vessel").Type(label).Press("tab", "tab").Type(capacity).Press("enter")
	s.See(label + " is on the shelf")
	return s
}

// startBatch starts a batch in the selected vessel by its form.
func (s session) startBatch(name, volume, gravity, when string) session {
	s.Press("b").See("A new batch").Type(name).Press("tab", "tab").Type(volume).Press("tab").Type(gravity)
	s.Press("tab", "tab", "right").See("wine").Press("tab", "ctrl+u").Type(when).Press("enter")
	s.See(name + " has begun")
	return s
}
