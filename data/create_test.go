package data

import (
	"errors"
	"os"
	"path/filepath"
	"sync"
	"sync/atomic"
	"testing"

	"go.etcd.io/bbolt"
)

// Ensure that a new cellar comes with its folder and is nobody else's to read.
func TestBoltFile_Create(t *testing.T) {
	f := newBoltFile(filepath.Join(t.TempDir(), "share", "glassrow", "cellar.db"), boltOptions{})
	if err := f.create(fillThings); err != nil {
		t.Fatal(err)
	}
	put(t, f, 1, 1)

	for path, want := range map[string]os.FileMode{filepath.Dir(f.path): 0o700 | os.ModeDir, f.path: 0o600} {
		info, err := os.Stat(path)
		if err != nil {
			t.Fatal(err)
		}
		if info.Mode() != want {
			t.Errorf("mode of %s = %v, want %v", filepath.Base(path), info.Mode(), want)
		}
	}
}

// Ensure that create takes the place of an empty file, and of nothing else.
func TestBoltFile_Create_Occupied(t *testing.T) {
	t.Run("by an empty file", func(t *testing.T) {
		f := newBoltFile(filepath.Join(t.TempDir(), "cellar.db"), boltOptions{})
		if err := os.WriteFile(f.path, nil, 0o600); err != nil {
			t.Fatal(err)
		}
		if err := f.create(fillThings); err != nil {
			t.Fatal(err)
		}
		put(t, f, 1, 1)
	})
	t.Run("by a cellar", func(t *testing.T) {
		f := newCellar(t)
		put(t, f, 5, 1)
		wantErr(t, "create", f.create(fillThings), ErrExists)
		if r, err := f.revision(); r != 2 || err != nil {
			t.Errorf("revision = %d, %v, want 2 as before", r, err)
		}
	})
	t.Run("by a letter", func(t *testing.T) {
		f := newBoltFile(filepath.Join(t.TempDir(), "cellar.db"), boltOptions{})
		if err := os.WriteFile(f.path, []byte("dear aunt"), 0o600); err != nil {
			t.Fatal(err)
		}
		wantErr(t, "create", f.create(fillThings), ErrExists)
	})
	t.Run("by a folder", func(t *testing.T) {
		f := newBoltFile(t.TempDir(), boltOptions{})
		wantErr(t, "create", f.create(fillThings), ErrExists)
	})
}

// Ensure that a failed create leaves no half a cellar, and that the next one
// does not stumble over what a killed one left.
func TestBoltFile_Create_Again(t *testing.T) {
	f := newBoltFile(filepath.Join(t.TempDir(), "cellar.db"), boltOptions{})
	refusal := errors.New("no vessels")
	if err := f.create(func(*bbolt.Tx) error { return refusal }); err != refusal {
		t.Errorf("create = %v, want the caller's own error", err)
	}
	wantErr(t, "view", f.view(nothing), ErrNotFound)
	if err := os.WriteFile(f.path+".new", []byte("half a cel"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := f.create(fillThings); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(f.path + ".new"); err == nil {
		t.Error("the draft is still there")
	}
}

// Ensure that of several sessions creating one cellar a single one succeeds.
func TestBoltFile_Create_Race(t *testing.T) {
	path := filepath.Join(t.TempDir(), "cellar.db")
	var made atomic.Int32
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			switch err := newBoltFile(path, boltOptions{}).create(fillThings); {
			case err == nil:
				made.Add(1)
			case !errors.Is(err, ErrExists):
				t.Error(err)
			}
		})
	}
	wg.Wait()
	if made.Load() != 1 {
		t.Errorf("%d sessions made the cellar, want 1", made.Load())
	}
}
