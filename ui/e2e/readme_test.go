package e2e

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Ensure that the screen in the README is the one that the program shows.
func TestReadme_ShowsTheShelf(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	screen, err := os.ReadFile(filepath.Join("testdata", "TestScreens_Golden", "shelf_80x24.golden"))
	if err != nil {
		t.Fatal(err)
	}
	if want := "```\n" + strings.TrimRight(string(screen), "\n") + "\n```\n"; !strings.Contains(string(text), want) {
		t.Errorf("the README does not show\n%s", want)
	}
}
