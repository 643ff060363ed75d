package data

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"go.etcd.io/bbolt"
)

// copyTo writes the cellar, as it is at one moment, to a new file in dir and returns its
// name. The lock is kept for as long as the bytes take, and no longer: what is done with
// the copy, however slowly, keeps nobody from writing.
func (f *boltFile) copyTo(dir string) (draft string, err error) {
	err = f.view(func(tx *bbolt.Tx) error {
		draft, err = copyTx(tx, dir)
		return err
	})
	if err != nil && draft != "" {
		_ = os.Remove(draft)
	}
	return draft, err
}

// copyTx writes what tx sees to a new file in dir, synced.
func copyTx(tx *bbolt.Tx, dir string) (draft string, err error) {
	out, err := os.CreateTemp(dir, ".glassrow-*")
	if err != nil {
		return "", err
	}
	_, err = tx.WriteTo(out)
	if err == nil {
		err = out.Sync()
	}
	if closed := out.Close(); err == nil {
		err = closed
	}
	if err != nil {
		_ = os.Remove(out.Name())
		return "", err
	}
	return out.Name(), nil
}

// snapshot lends fn a copy of the cellar, opened for reading.
func (f *boltFile) snapshot(fn func(*handle) error) error {
	draft, err := f.copyTo(os.TempDir())
	if err != nil {
		return describe("copy", f.path, reading, err)
	}
	defer os.Remove(draft)
	h, err := openDraft(draft, reading)
	if err != nil {
		return describe("copy", f.path, reading, err)
	}
	defer h.close()
	return fn(h)
}

// draftBeside makes an empty database in the folder of path, to become a cellar.
func draftBeside(path string) (string, error) {
	dir := filepath.Dir(path)
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return "", err
	}
	f, err := os.CreateTemp(dir, ".glassrow-*")
	if err != nil {
		return "", err
	}
	draft := f.Name()
	if err := f.Close(); err != nil {
		return draft, err
	}
	empty, err := bbolt.Open(draft, 0o600, &bbolt.Options{Timeout: 1})
	if err != nil {
		return draft, err
	}
	return draft, empty.Close()
}

// notThere reports whether err says that there is no cellar.
func notThere(err error) bool {
	return errors.Is(err, fs.ErrNotExist) || errors.Is(err, ErrNotFound)
}
