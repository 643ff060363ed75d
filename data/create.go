package data

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"syscall"

	"go.etcd.io/bbolt"
)

// create makes a new cellar, with its folder if need be, and lets fill write the
// first content in one transaction. It returns ErrExists when the path holds a file with
// bytes in it; an empty file is taken for a cellar that is yet to be made.
//
// The cellar is built beside its place and renamed into it when it is whole
// and synced: whatever happens, there is a good cellar or none.
func (f *boltFile) create(fill func(*bbolt.Tx) error) error {
	refused, err := f.tryCreate(fill)
	if err == nil || refused {
		return err
	}
	return describe("create", f.path, writing, err)
}

// tryCreate also reports whether the error is fill's own.
func (f *boltFile) tryCreate(fill func(*bbolt.Tx) error) (refused bool, err error) {
	ctx, cancel := context.WithTimeout(context.Background(), f.patience)
	defer cancel()
	exit, err := f.enter(ctx)
	if err != nil {
		return false, err
	}
	defer exit()
	if err := f.vacant(); err != nil {
		return false, err
	}
	if err := os.MkdirAll(filepath.Dir(f.path), 0o700); err != nil {
		return false, err
	}
	leave, err := f.turnstile.enter(ctx)
	if err != nil {
		return false, err
	}
	defer leave()
	if err := f.vacant(); err != nil { // somebody may have been ahead of us
		return false, err
	}
	draft := f.path + ".new"
	defer os.Remove(draft) // gone already when all went well
	if refused, err := f.build(draft, fill); err != nil {
		return refused, err
	}
	if err := os.Rename(draft, f.path); err != nil {
		return false, err
	}
	return false, syncDir(filepath.Dir(f.path))
}

// vacant returns ErrExists unless there is room for a new cellar at the path.
func (f *boltFile) vacant() error {
	info, err := os.Stat(f.path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err == nil && (!info.Mode().IsRegular() || info.Size() > 0) {
		return ErrExists
	}
	return err
}

// build writes a cellar to the file draft, over what an earlier attempt may
// have left there; the turnstile sees to it that nobody else does the same.
func (f *boltFile) build(draft string, fill func(*bbolt.Tx) error) (refused bool, err error) {
	if err := os.Remove(draft); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return false, err
	}
	empty, err := bbolt.Open(draft, 0o600, &bbolt.Options{Timeout: 1})
	if err != nil {
		return false, err
	}
	if err := empty.Close(); err != nil {
		return false, err
	}
	h, err := openDraft(draft, writing)
	if err != nil {
		return false, err
	}
	defer h.close()
	err = h.transact(writing, func(tx *bbolt.Tx) error {
		if err := fill(tx); err != nil {
			refused = true
			return err
		}
		return meta{schema: f.schema(), revision: f.written}.bump(tx)
	})
	return refused, err
}

// syncDir makes a rename in dir outlast a power cut, where the system has a
// way to ask for that.
func syncDir(dir string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	if err := d.Sync(); err != nil && !errors.Is(err, syscall.EINVAL) && !errors.Is(err, errors.ErrUnsupported) {
		return err
	}
	return nil
}
