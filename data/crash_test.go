package data

import (
	"bufio"
	"context"
	"errors"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"go.etcd.io/bbolt"
)

// runAndKill plays a role in another process, kills it at a random moment
// shortly after its first line, and returns the number on its last.
func runAndKill(t *testing.T, role, path string) (acknowledged uint64) {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), 10*time.Second)
	defer cancel()
	cmd := roleCommand(ctx, role, path)
	pipe, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	out := bufio.NewScanner(pipe)
	for first := true; out.Scan(); first = false {
		n, err := strconv.ParseUint(out.Text(), 10, 64)
		if err != nil {
			t.Fatalf("%s printed %q", role, out.Text())
		}
		acknowledged = n
		if first {
			time.AfterFunc(rand.N(15*time.Millisecond), func() { _ = cmd.Process.Kill() })
		}
	}
	if err := cmd.Wait(); err == nil || ctx.Err() != nil || acknowledged == 0 {
		t.Fatalf("%s ended with %v after number %d, want it killed", role, err, acknowledged)
	}
	return acknowledged
}

// Ensure that no acknowledged write is lost, nor the file hurt, by the sudden
// death of the writer.
func TestBoltFile_Update_Killed(t *testing.T) {
	f := newCellar(t)
	for range 50 {
		acknowledged := runAndKill(t, "writer", f.path)
		err := f.view(func(tx *bbolt.Tx) error {
			last := lastNumber(tx)
			// At most one write was under way, done but not yet told.
			if last != acknowledged && last != acknowledged+1 {
				t.Errorf("last record = %d, want %d or the next", last, acknowledged)
			}
			if n := tx.Bucket(things).Stats().KeyN; uint64(n) != last {
				t.Errorf("%d records, want %d", n, last)
			}
			m, err := readMeta(tx)
			if m.revision != last+1 {
				t.Errorf("revision = %d after %d updates", m.revision, last)
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		if err := f.check(t.Context()); err != nil {
			t.Fatal(err)
		}
	}
}

// Ensure that there is a whole cellar or none when its maker dies.
func TestBoltFile_Create_Killed(t *testing.T) {
	for range 5 {
		dir := t.TempDir()
		acknowledged := runAndKill(t, "creator", dir)
		for n := uint64(1); n <= acknowledged+1; n++ {
			f := newBoltFile(filepath.Join(dir, numberedName(n)), boltOptions{})
			err := f.view(readThings)
			if n > acknowledged && errors.Is(err, ErrNotFound) {
				err = f.create(fillThings) // whatever is lying about
			}
			if err != nil {
				t.Errorf("cellar %d of %d: %v", n, acknowledged, err)
			}
		}
	}
}

// Ensure that many processes that write and read one file at the same time all
// get their turn, lose nothing, and see time go forwards only.
func TestBoltFile_ManyProcesses(t *testing.T) {
	f := newCellar(t)
	ctx, cancel := context.WithTimeout(t.Context(), 15*time.Second)
	defer cancel()

	stopReaders, stop, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer stopReaders.Close()
	ends := make(chan error)
	const writers, readers = 4, 3
	for range readers {
		cmd := roleCommand(ctx, "reader", f.path)
		cmd.Stdin = stopReaders
		go func() { ends <- cmd.Run() }()
	}
	for range writers {
		cmd := roleCommand(ctx, "counter", f.path)
		go func() { ends <- cmd.Run() }()
	}
	for i := range writers + readers {
		if i == writers { // readers end only when told to
			_ = stop.Close()
		}
		if err := <-ends; err != nil {
			t.Errorf("process: %v", err)
		}
	}
	if r, err := f.revision(); r != 1+100*writers || err != nil {
		t.Errorf("revision = %d, %v, want %d", r, err, 1+100*writers)
	}
	if err := f.check(t.Context()); err != nil {
		t.Error(err)
	}
}
