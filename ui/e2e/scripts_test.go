package e2e

import (
	"errors"
	"fmt"
	"path/filepath"
	"testing"
	"time"

	"cellar.local/glassrow/data"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui"
	"cellar.local/glassrow/ui/cli"
	"cellar.local/glassrow/ui/cli/clitest"
)

// Ensure that the commands do on a real cellar file, with the real handbook, what
// their scripts show on a store in memory.
func TestScripts_OnDisk(t *testing.T) {
	onDisk := clitest.Cellars{Open: openOnDisk, Create: createOnDisk, Demo: demoOnDisk, Sweeteners: read(t, data.Sweeteners), Handbook: realHandbook(t)}
	clitest.Run(t, filepath.Join("..", "cli", "testdata"), func() clitest.Cellars { return onDisk })
}

// Ensure that own rows of the handbook are kept from one command to the next, and that
// whole cellars are carried about.
func TestScripts_OwnRows(t *testing.T) {
	cellars := clitest.Cellars{
		Open: openOnDisk, Create: createOnDisk, Demo: demoOnDisk, Handbook: realHandbook(t),
		Own:   func(folder string) ui.Handbook { return data.HandbookIn(folder) },
		Whole: func(folder string) cli.Cellars { return data.CellarsWith(folder) },
	}
	clitest.Run(t, filepath.Join("testdata", "scripts"), func() clitest.Cellars { return cellars })
}

func realHandbook(t *testing.T) cli.Handbook {
	t.Helper()
	return cli.Handbook{
		Fruits:     read(t, data.Fruits),
		Yeasts:     read(t, data.Yeasts),
		Containers: read(t, data.Containers),
		Acids:      read(t, data.Acids),
		Carbonates: read(t, data.Carbonates),
		Nitrogen:   read(t, data.NitrogenSources),
		Sorbate:    read(t, data.Sorbate),
		Limits:     read(t, data.SulfiteLimits),
	}
}

// read reads a table that has to be in order.
func read[T any](t testing.TB, table func() (T, error)) T {
	t.Helper()
	rows, err := table()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

func openOnDisk(path string) (ui.Store, error) {
	s, err := data.Open(path)
	if errors.Is(err, data.ErrNotFound) {
		return nil, fmt.Errorf("%w: %w", cli.ErrNoCellar, err)
	}
	return s, err
}

func createOnDisk(path string, set model.Settings) (ui.Store, error) { return data.Create(path, set) }

func demoOnDisk(path string, now time.Time) (ui.Store, error) { return data.DemoAt(path, now) }
