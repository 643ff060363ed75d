package data

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"go.etcd.io/bbolt"
)

// Ensure that what one session writes another reads, and that the revision
// tells it when to look.
func TestBoltFile_Update(t *testing.T) {
	here := newCellar(t)
	there := elsewhere(here)

	before, err := there.revision()
	if err != nil {
		t.Fatal(err)
	}
	put(t, here, 3, 10)
	after, err := there.revision()
	if err != nil {
		t.Fatal(err)
	}
	if before != 1 || after != 2 {
		t.Errorf("revision = %d, then %d, want 1, then 2", before, after)
	}
	err = there.view(func(tx *bbolt.Tx) error {
		if got := lastNumber(tx); got != 3 {
			t.Errorf("last record = %d, want 3", got)
		}
		return nil
	})
	if err != nil {
		t.Error(err)
	}
}

// Ensure that a refusal by the caller changes nothing, is handed back as it
// was, and leaves the file free for others.
func TestBoltFile_Update_Refused(t *testing.T) {
	f := newCellar(t)
	refusal := errors.New("vessel is full")

	err := f.update(func(tx *bbolt.Tx) error {
		if err := tx.Bucket(things).Put(numbered(1), nil); err != nil {
			return err
		}
		return refusal
	})
	if err != refusal {
		t.Errorf("update = %v, want the caller's own error", err)
	}
	if r, err := elsewhere(f).revision(); r != 1 || err != nil {
		t.Errorf("revision = %d, %v, want 1", r, err)
	}
}

// Ensure that a bug of ours is not taken for damage to the file, and does not
// leave it locked.
func TestBoltFile_OwnPanic(t *testing.T) {
	f := newCellar(t)
	bug := func(*bbolt.Tx) error {
		var entries []int
		_ = entries[len(os.Args)]
		return nil
	}
	for name, call := range map[string]func(func(*bbolt.Tx) error) error{"view": f.view, "update": f.update} {
		t.Run(name, func(t *testing.T) {
			defer func() {
				if p := recover(); !strings.Contains(fmt.Sprint(p), "index out of range") {
					t.Errorf("recovered %v, want the panic of the callback", p)
				}
				if err := elsewhere(f).update(nothing); err != nil {
					t.Error(err)
				}
			}()
			t.Errorf("returned %v, want a panic", call(bug))
		})
	}
}

// Ensure that a file held by someone else is told as busy when patience ends,
// and that nothing is left behind that would keep others out.
func TestBoltFile_Busy(t *testing.T) {
	f := newCellar(t)
	hasty := newBoltFile(f.path, boltOptions{patience: 50 * time.Millisecond})

	t.Run("by a writer who does not know the turnstile", func(t *testing.T) {
		db, err := bbolt.Open(f.path, 0, nil)
		if err != nil {
			t.Fatal(err)
		}
		wantErr(t, "view", hasty.view(nothing), ErrBusy)
		wantErr(t, "update", hasty.update(nothing), ErrBusy)
		if err := db.Close(); err != nil {
			t.Fatal(err)
		}
		if err := f.update(nothing); err != nil {
			t.Errorf("update once it is free = %v", err)
		}
	})
	t.Run("by a reader", func(t *testing.T) {
		db, err := bbolt.Open(f.path, 0, &bbolt.Options{ReadOnly: true})
		if err != nil {
			t.Fatal(err)
		}
		defer db.Close()
		wantErr(t, "update", hasty.update(nothing), ErrBusy)
		if err := f.view(nothing); err != nil {
			t.Errorf("view beside another reader = %v", err)
		}
	})
	t.Run("by itself", func(t *testing.T) {
		err := f.update(func(*bbolt.Tx) error {
			wantErr(t, "view within update", hasty.view(nothing), ErrBusy)
			return nil
		})
		if err != nil {
			t.Error(err)
		}
		f.patience = 50 * time.Millisecond
		_ = f.view(func(*bbolt.Tx) error {
			wantErr(t, "view within view", f.view(nothing), ErrBusy)
			return nil
		})
	})
}

// Ensure that goroutines of one session take turns.
func TestBoltFile_Goroutines(t *testing.T) {
	f := newCellar(t)
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			for range 10 {
				err := f.update(func(tx *bbolt.Tx) error {
					return tx.Bucket(things).Put(numbered(lastNumber(tx)+1), nil)
				})
				if err != nil {
					t.Error(err)
				}
				if _, err := f.revision(); err != nil {
					t.Error(err)
				}
			}
		})
	}
	wg.Wait()
	if r, err := f.revision(); r != 81 || err != nil {
		t.Errorf("revision = %d, %v, want 81", r, err)
	}
}

// Ensure that a transaction goes to the file that has the name, not to one
// that had it when we began to wait.
func TestBoltFile_Replaced(t *testing.T) {
	f := newCellar(t)
	other := newCellar(t)
	put(t, other, 7, 1)

	old, err := bbolt.Open(f.path, 0, nil)
	if err != nil {
		t.Fatal(err)
	}
	waiting := make(chan error)
	go func() {
		waiting <- f.update(func(tx *bbolt.Tx) error {
			if got := lastNumber(tx); got != 7 {
				t.Errorf("last record = %d, want 7 as in the new file", got)
			}
			return nil
		})
	}()
	time.Sleep(5 * time.Millisecond)
	if err := os.Rename(other.path, f.path); err != nil {
		t.Fatal(err)
	}
	if err := old.Close(); err != nil {
		t.Fatal(err)
	}
	if err := <-waiting; err != nil {
		t.Error(err)
	}
}

// Ensure that asking for a cellar that is not there says so and leaves nothing
// behind.
func TestBoltFile_Missing(t *testing.T) {
	dir := t.TempDir()
	f := newBoltFile(filepath.Join(dir, "cellar.db"), boltOptions{})
	nowhere := newBoltFile(filepath.Join(dir, "no", "such", "cellar.db"), boltOptions{})

	wantErr(t, "view", f.view(nothing), ErrNotFound)
	wantErr(t, "update", f.update(nothing), ErrNotFound)
	wantErr(t, "view in a missing folder", nowhere.view(nothing), ErrNotFound)
	_, err := f.revision()
	wantErr(t, "revision", err, ErrNotFound)

	if left, err := os.ReadDir(dir); len(left) > 0 || err != nil {
		t.Errorf("left behind %v, %v", left, err)
	}
}

// Ensure that files of other kinds are refused and not touched.
func TestBoltFile_NotCellar(t *testing.T) {
	otherProgram := func(path string) error {
		db, err := bbolt.Open(path, 0o600, nil)
		if err != nil {
			return err
		}
		err = db.Update(func(tx *bbolt.Tx) error {
			b, err := tx.CreateBucket(metaBucket)
			if err != nil {
				return err
			}
			return b.Put(magicKey, []byte("something else"))
		})
		return errors.Join(err, db.Close())
	}
	content := func(s string) func(string) error {
		return func(path string) error { return os.WriteFile(path, []byte(s), 0o600) }
	}
	for name, c := range map[string]struct {
		make func(path string) error
		want error
	}{
		"empty file":                {content(""), ErrNotFound},
		"one byte":                  {content("x"), ErrNotCellar},
		"text":                      {content(strings.Repeat("3 kg of damsons\n", 1000)), ErrNotCellar},
		"zeros":                     {content(strings.Repeat("\x00", 1<<16)), ErrNotCellar},
		"folder":                    {func(path string) error { return os.Mkdir(path, 0o700) }, ErrNotCellar},
		"database of someone else":  {otherProgram, ErrNotCellar},
		"database with nothing yet": {func(path string) error { db, err := bbolt.Open(path, 0o600, nil); return errors.Join(err, db.Close()) }, ErrNotCellar},
	} {
		t.Run(name, func(t *testing.T) {
			f := newBoltFile(filepath.Join(t.TempDir(), "cellar.db"), boltOptions{})
			if err := c.make(f.path); err != nil {
				t.Fatal(err)
			}
			before, _ := os.ReadFile(f.path)
			wantErr(t, "view", f.view(nothing), c.want)
			wantErr(t, "update", f.update(nothing), c.want)
			wantErr(t, "check", f.check(t.Context()), c.want)
			if after, _ := os.ReadFile(f.path); string(after) != string(before) {
				t.Error("the file has changed")
			}
		})
	}
}

func BenchmarkBoltFile_View(b *testing.B) {
	f := newCellar(b)
	put(b, f, 1000, 200)
	for b.Loop() {
		if _, err := f.revision(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkBoltFile_Update(b *testing.B) {
	f := newCellar(b)
	put(b, f, 1000, 200)
	for b.Loop() {
		if err := f.update(nothing); err != nil {
			b.Fatal(err)
		}
	}
}
