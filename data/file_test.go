package data

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
)

// Ensure that a file is written whole, is not written over unasked, and that nothing
// is left beside it.
func TestWriteFile(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "sheet.md")
	holds := func(want string) {
		t.Helper()
		got, err := os.ReadFile(path)
		if err != nil || string(got) != want {
			t.Errorf("the file holds %q, %v, want %q", got, err, want)
		}
		if all, _ := os.ReadDir(dir); len(all) != 1 {
			t.Errorf("beside it lies %v", all)
		}
	}
	if err := WriteFile(path, []byte("one"), false); err != nil {
		t.Fatal(err)
	}
	holds("one")
	if err := WriteFile(path, []byte("two"), false); !errors.Is(err, fs.ErrExist) {
		t.Errorf("over a file that is there: %v, want fs.ErrExist", err)
	}
	holds("one")
	if err := WriteFile(path, []byte("three"), true); err != nil {
		t.Fatal(err)
	}
	holds("three")
	if err := WriteFile(filepath.Join(dir, "none", "sheet.md"), nil, false); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("in a folder that is not there: %v", err)
	}
	holds("three")
}
