package data

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"go.etcd.io/bbolt"
)

// unknownLeap is how far the revision leaps where that of the file replaced cannot be
// read. Nobody writes so often, so no session takes the new file for the old one.
const unknownLeap = 1 << 32

// replace puts the finished cellar at draft in the place of this one, while nobody else
// reads or writes. A session at work on the old file finishes first; one that waits for
// it finds the new one, with a higher revision than either had. There need be no file.
//
// judge may refuse what is there. With keep, the old file stays under that name. At every
// moment there is a whole cellar at the path, unless there was none.
func (f *boltFile) replace(draft, keep string, judge func(*bbolt.Tx) error) error {
	ctx, cancel := context.WithTimeout(context.Background(), f.patience)
	defer cancel()
	exit, err := f.enter(ctx)
	if err != nil {
		return describe("replace", f.path, writing, err)
	}
	defer exit()
	leave, err := f.turnstile.enter(ctx)
	if err != nil {
		return describe("replace", f.path, writing, err)
	}
	defer leave()
	there, unlock, err := f.hold(ctx)
	if err != nil {
		return describe("replace", f.path, writing, err)
	}
	defer unlock()
	revision := uint64(0)
	if there != nil {
		if revision, err = there.judged(judge); err != nil {
			return err
		}
	}
	if err := f.raise(draft, revision); err != nil {
		return describe("replace", f.path, writing, err)
	}
	if keep != "" {
		if err := keepBeside(f.path, keep); err != nil {
			return describe("replace", f.path, writing, err)
		}
	}
	if err := os.Rename(draft, f.path); err != nil {
		return describe("replace", f.path, writing, err)
	}
	return syncDir(filepath.Dir(f.path))
}

// held is a file that nobody else can use now.
type held struct{ h *handle } // nil: damaged

// hold locks the file against everybody; nil when there is none. A damaged file is
// locked too, as far as the system lets us.
func (f *boltFile) hold(ctx context.Context) (there *held, unlock func(), err error) {
	h, err := f.openLocked(ctx, writing)
	switch {
	case err == nil:
		return &held{h}, h.close, nil
	case notThere(err):
		return nil, func() {}, nil
	case !errors.Is(err, ErrDamaged):
		return nil, nil, err
	}
	raw, err := os.Open(f.path)
	if err != nil {
		return nil, nil, err
	}
	for !tryLockFile(raw) {
		select {
		case <-time.After(time.Millisecond):
		case <-ctx.Done():
			_ = raw.Close()
			return nil, nil, ErrBusy
		}
	}
	return &held{}, func() { _ = raw.Close() }, nil
}

// judged asks judge about the file and returns its revision. Without a judge a file
// that cannot be read is no reason to stop.
func (t held) judged(judge func(*bbolt.Tx) error) (revision uint64, err error) {
	err = ErrDamaged
	if t.h != nil {
		err = t.h.walk(context.Background())
	}
	if err == nil {
		err = t.h.transact(reading, func(tx *bbolt.Tx) error {
			m, err := readMeta(tx)
			if err != nil {
				return err
			}
			revision = m.revision
			if judge != nil {
				return judge(tx)
			}
			return nil
		})
	}
	if judge == nil && errors.Is(err, ErrDamaged) {
		return unknownLeap, nil
	}
	return revision, err
}

// raise gives the draft a revision above its own and another.
func (f *boltFile) raise(draft string, above uint64) error {
	h, err := openDraft(draft, writing)
	if err != nil {
		return err
	}
	defer h.close()
	return h.transact(writing, func(tx *bbolt.Tx) error {
		m, err := readMeta(tx)
		if err != nil {
			return err
		}
		m.revision = max(m.revision, above)
		return m.bump(tx)
	})
}

// keepBeside gives the file at path a second name, or a copy where the filesystem has
// no second names. Nothing is written over.
func keepBeside(path, keep string) error {
	err := os.Link(path, keep)
	if err == nil || errors.Is(err, os.ErrNotExist) { // there was none to keep
		return nil
	}
	if os.IsExist(err) {
		return fmt.Errorf("%s is in the way; move it", keep)
	}
	in, err := os.Open(path)
	if err != nil {
		return err
	}
	defer in.Close()
	return writeFileFrom(keep, false, 0o600, func(w io.Writer) error {
		_, err := io.Copy(w, in)
		return err
	})
}
