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
	sweeteners, err := data.Sweeteners()
	if err != nil {
		t.Fatal(err)
	}
	containers, err := data.Containers()
	if err != nil {
		t.Fatal(err)
	}
	handbook := cli.Handbook{Containers: containers}
	onDisk := clitest.Cellars{Open: openOnDisk, Create: createOnDisk, Demo: demoOnDisk, Sweeteners: sweeteners, Handbook: handbook}
	clitest.Run(t, filepath.Join("..", "cli", "testdata"), func() clitest.Cellars { return onDisk })
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
