package data

import (
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"go.etcd.io/bbolt"
)

// The tests that need several processes start this binary again: with a role
// in the environment it plays that instead of running tests.
const (
	roleEnv = "CELLAR_TEST_ROLE"
	pathEnv = "CELLAR_TEST_PATH"
)

var roles = map[string]func(path string) error{
	"writer":  writeForEver,
	"creator": createForEver,
	"counter": countTo100,
	"reader":  readUntilClosed,

	"importer": importForEver,
	"adder":    addForEver,
	"restorer": restoreForEver,
	"noter":    noteForEver,
	"recorder": recordForEver,
	"hours":    recordHours,
}

func TestMain(m *testing.M) {
	role, ok := roles[os.Getenv(roleEnv)]
	if !ok {
		os.Exit(m.Run())
	}
	if err := role(os.Getenv(pathEnv)); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// roleCommand returns a process with the given role. It is killed, if it still
// runs, when ctx ends.
func roleCommand(ctx context.Context, role, path string) *exec.Cmd {
	cmd := exec.CommandContext(ctx, os.Args[0])
	cmd.Env = append(os.Environ(), roleEnv+"="+role, pathEnv+"="+path)
	cmd.Stderr = os.Stderr
	return cmd
}

var things = []byte("things")

// numbered is a record key.
func numbered(n uint64) []byte { return binary.BigEndian.AppendUint64(nil, n) }

// numberedName is a file name.
func numberedName(n uint64) string { return fmt.Sprintf("%04d.db", n) }

// lastNumber returns the highest record key in things, 0 when there is none.
func lastNumber(tx *bbolt.Tx) uint64 {
	k, _ := tx.Bucket(things).Cursor().Last()
	if k == nil {
		return 0
	}
	return binary.BigEndian.Uint64(k)
}

// writeForEver adds one record after the other, each in an update of its own,
// and prints its number when the update is acknowledged.
func writeForEver(path string) error {
	f := newBoltFile(path, boltOptions{})
	for {
		var n uint64
		err := f.update(func(tx *bbolt.Tx) error {
			n = lastNumber(tx) + 1
			return tx.Bucket(things).Put(numbered(n), fmt.Appendf(nil, "record %d, %0*d", n, n%700, 0))
		})
		if err != nil {
			return err
		}
		fmt.Println(n)
	}
}

// createForEver makes cellar after cellar in the folder.
func createForEver(dir string) error {
	for n := uint64(1); ; n++ {
		f := newBoltFile(filepath.Join(dir, numberedName(n)), boltOptions{})
		if err := f.create(fillThings); err != nil && !errors.Is(err, ErrExists) {
			return err
		}
		fmt.Println(n)
	}
}

// countTo100 adds 100 to the one number in the file, in steps of 1. Its
// patience is what the test means by nobody starves.
func countTo100(path string) error {
	f := newBoltFile(path, boltOptions{patience: 4 * time.Second})
	for range 100 {
		err := f.update(func(tx *bbolt.Tx) error {
			b := tx.Bucket(things)
			var n uint64
			if v := b.Get([]byte("count")); v != nil {
				n = binary.BigEndian.Uint64(v)
			}
			return b.Put([]byte("count"), numbered(n+1))
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// readUntilClosed reads the number over and over, and the revision with it,
// until its standard input is closed. Neither may go back.
func readUntilClosed(path string) error {
	f := newBoltFile(path, boltOptions{patience: 4 * time.Second})
	done := make(chan struct{})
	go func() {
		defer close(done)
		_, _ = os.Stdin.Read(make([]byte, 1))
	}()
	var count, revision uint64
	for {
		select {
		case <-done:
			return nil
		default:
		}
		var c, r uint64
		err := f.view(func(tx *bbolt.Tx) error {
			if v := tx.Bucket(things).Get([]byte("count")); v != nil {
				c = binary.BigEndian.Uint64(v)
			}
			m, err := readMeta(tx)
			r = m.revision
			return err
		})
		if err != nil {
			return err
		}
		if c < count || r < revision || r != c+1 {
			return fmt.Errorf("read count %d at revision %d after count %d at revision %d", c, r, count, revision)
		}
		count, revision = c, r
	}
}

// fillThings is the content of a new cellar in these tests.
func fillThings(tx *bbolt.Tx) error {
	_, err := tx.CreateBucket(things)
	return err
}

// newCellar returns a fresh cellar with an empty bucket of things.
func newCellar(t testing.TB) *boltFile {
	t.Helper()
	f := newBoltFile(filepath.Join(t.TempDir(), "cellar.db"), boltOptions{})
	if err := f.create(fillThings); err != nil {
		t.Fatal(err)
	}
	return f
}

// elsewhere returns the same file as another session sees it, one that does
// not wait for long.
func elsewhere(f *boltFile) *boltFile {
	return newBoltFile(f.path, boltOptions{patience: time.Second, migrations: f.migrations})
}

// put stores records numbered from 1 to n in one update.
func put(t testing.TB, f *boltFile, n uint64, size int) {
	t.Helper()
	err := f.update(func(tx *bbolt.Tx) error {
		for i := uint64(1); i <= n; i++ {
			if err := tx.Bucket(things).Put(numbered(i), make([]byte, size)); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// readThings reads every byte there is.
func readThings(tx *bbolt.Tx) error {
	sum := 0
	return tx.Bucket(things).ForEach(func(k, v []byte) error {
		for _, b := range v {
			sum += int(b)
		}
		return nil
	})
}

// nothing is an update that changes nothing but the revision.
func nothing(*bbolt.Tx) error { return nil }

// wantErr fails the test unless err is of the wanted kind.
func wantErr(t *testing.T, call string, err, want error) {
	t.Helper()
	if !errors.Is(err, want) {
		t.Errorf("%s = %v, want %v", call, err, want)
	}
}
