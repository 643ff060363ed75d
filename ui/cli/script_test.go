package cli_test

import (
	"testing"

	"cellar.local/glassrow/ui/cli/clitest"
)

// Ensure that the commands do what the scripts in testdata show.
func TestScripts(t *testing.T) { clitest.Run(t, "testdata", memoryCellars) }
