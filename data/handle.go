package data

import (
	"context"
	"errors"
	"fmt"
	"os"
	"syscall"
	"time"

	"go.etcd.io/bbolt"
	berrors "go.etcd.io/bbolt/errors"
)

// access is what a transaction wants from the file.
type access bool

const (
	reading access = false // a lock shared with other readers
	writing access = true  // the lock alone
)

// String is the verb for error messages.
func (a access) String() string {
	if a == writing {
		return "write"
	}
	return "read"
}

// A handle is the file, opened and locked for the length of one call.
type handle struct {
	db    *bbolt.DB
	file  *os.File // the one under db, to unlock it when db cannot be closed
	stuck bool     // a transaction did not end; closing db would wait for it for ever
	leave func()   // gives up the turnstile, unless that has happened already
}

// errMoved is returned when the file was replaced between opening it and
// locking it. What we hold is no longer the cellar; open again.
var errMoved = errors.New("file was replaced")

// openHandle opens and locks the file without waiting for either. When someone
// else has the lock the error is bbolt's ErrTimeout.
func openHandle(path string, want access) (*handle, error) {
	h := &handle{}
	err := guard(func() (err error) {
		h.db, err = bbolt.Open(path, 0o600, &bbolt.Options{
			ReadOnly:     want == reading,
			Timeout:      1, // bbolt would wait in steps of 50 ms; we wait ourselves
			NoStatistics: true,
			OpenFile:     h.openFile,
			// The freelist stays synced, as it is by default: without it
			// every open would have to walk the whole file.
		})
		return err
	})
	if err != nil {
		h.stuck = true // if bbolt panicked it still has the lock
		h.close()
		return nil, h.explain(path, err)
	}
	if here, err := h.sameFile(path); err != nil || !here {
		h.close()
		if err == nil {
			err = errMoved
		}
		return nil, err
	}
	return h, nil
}

// openDraft opens a file that nobody else knows. Its lock can be held all the same, for
// the moment in which a program started by this process has our files open.
func openDraft(path string, want access) (*handle, error) {
	for deadline := time.Now().Add(defaultPatience); ; time.Sleep(time.Millisecond) {
		h, err := openHandle(path, want)
		if !errors.Is(err, berrors.ErrTimeout) || time.Now().After(deadline) {
			return h, err
		}
	}
}

// openFile opens what is there, where bbolt would create what is not.
func (h *handle) openFile(path string, flag int, perm os.FileMode) (*os.File, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() { // opening a pipe would hang
		return nil, ErrNotCellar
	}
	if info.Size() == 0 { // bbolt would make a database of it
		return nil, ErrNotFound
	}
	h.file, err = os.OpenFile(path, flag&^os.O_CREATE, perm)
	return h.file, err
}

// sameFile reports whether the file we locked is still the one at path.
func (h *handle) sameFile(path string) (bool, error) {
	there, err := os.Stat(path)
	if err != nil {
		return false, err
	}
	here, err := h.file.Stat()
	if err != nil {
		return false, err
	}
	return os.SameFile(here, there), nil
}

// explain tells a damaged cellar from a file of another kind, which bbolt
// calls by the same name.
func (h *handle) explain(path string, err error) error {
	var errno syscall.Errno
	kind := kindOf(reading, err)
	aboutContent := kind == ErrNotCellar || kind == nil && !errors.As(err, &errno)
	switch {
	case !aboutContent || errors.Is(err, ErrNotCellar) || errors.Is(err, berrors.ErrVersionMismatch):
		return err
	case hasBoltMagic(path):
		return fmt.Errorf("%w: %w", ErrDamaged, err)
	default:
		return fmt.Errorf("%w: %w", ErrNotCellar, err)
	}
}

// transact runs fn in one transaction; a writing one is committed when fn
// returns nil. Begin, Commit and Rollback are called by hand rather than
// through db.Update, because its own clean-up can panic a second time on a
// damaged file and we must know whether the transaction ended.
func (h *handle) transact(want access, fn func(*bbolt.Tx) error) error {
	return guard(func() error {
		h.stuck = true
		tx, err := h.db.Begin(want == writing)
		if err != nil {
			h.stuck = false
			return err
		}
		defer func() {
			_ = tx.Rollback() // after Commit this does nothing
			h.stuck = false
		}()
		if err := h.wholeFile(tx); err != nil {
			return err
		}
		if err := fn(tx); err != nil {
			return err
		}
		if want == writing {
			return tx.Commit()
		}
		return nil
	})
}

// wholeFile refuses a file that was cut short. bbolt would not notice until it
// needs a lost page, and a writer would fill the gap with zeros.
func (h *handle) wholeFile(tx *bbolt.Tx) error {
	info, err := h.file.Stat()
	if err != nil {
		return err
	}
	if info.Size() < tx.Size() {
		return fmt.Errorf("%w: %d of %d bytes are there", ErrDamaged, info.Size(), tx.Size())
	}
	return nil
}

// walk reads the page tree of the file without bbolt, see walkPages, and then
// asks whether it is a cellar: a damaged one may have lost the answer.
func (h *handle) walk(ctx context.Context) error {
	return h.transact(reading, func(tx *bbolt.Tx) error {
		if err := walkPages(ctx, &windows{file: h.file}, tx.DB().Info().PageSize, uint64(tx.ID())); err != nil {
			return err
		}
		_, err := readMeta(tx)
		return err
	})
}

// close unlocks the file whatever happened to it. Where bbolt is stuck, its
// memory map stays behind until the process ends: there is no way to reach it.
func (h *handle) close() {
	switch {
	case !h.stuck:
		_ = h.db.Close() // an acknowledged write is already on the disk
	case h.file != nil:
		unlockFile(h.file)
		_ = h.file.Close()
	}
	if h.leave != nil {
		h.leave()
	}
}
