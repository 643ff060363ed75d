package data

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"go.etcd.io/bbolt"

	"cellar.local/glassrow/model"
)

// Backup writes a copy of the cellar at path, as one moment saw it, to a new file, whole
// or not at all, and reads it again to see that it holds together. Unless over is set a
// file that is there is left alone and the error wraps [fs.ErrExist].
//
// Records that cannot be read are copied like all others, for they may be all there is;
// faults says how many there are.
func (c Cellars) Backup(path, to string, over bool) (contents model.Contents, faults int, err error) {
	s, err := Open(path)
	if err != nil {
		return contents, 0, err
	}
	if to, err = filepath.Abs(to); err != nil {
		return contents, 0, err
	}
	if !over {
		if _, err := os.Lstat(to); err == nil {
			return contents, 0, plainPathError("write", to, os.ErrExist)
		}
	}
	if sameFile(s.Path(), to) {
		return contents, 0, errors.New("that is the cellar itself; name another file")
	}
	s.file.patience = carefulPatience
	draft, err := s.file.copyTo(filepath.Dir(to))
	if err != nil {
		return contents, 0, plainPathError("write", to, err)
	}
	defer os.Remove(draft)
	if contents, faults, err = proven(draft); err != nil {
		return contents, faults, fmt.Errorf("the copy does not hold together, so none is kept: %w", err)
	}
	if err := settle(draft, to, over); err != nil {
		return contents, 0, plainPathError("write", to, err)
	}
	return contents, faults, syncDir(filepath.Dir(to))
}

// proven reads a whole cellar file that nobody else uses. It returns what is in it and
// how many records cannot be read or make no sense; the error is about its pages.
func proven(draft string) (contents model.Contents, faults int, err error) {
	h, err := openDraft(draft, reading)
	if err != nil {
		return contents, 0, err
	}
	ctx, cancel := context.WithTimeout(context.Background(), checkWithin)
	defer cancel()
	if err := newBoltFile(draft, boltOptions{}).checkHandle(ctx, h); err != nil {
		return contents, 0, err
	}
	if h, err = openDraft(draft, reading); err != nil {
		return contents, 0, err
	}
	defer h.close()
	err = h.transact(reading, func(tx *bbolt.Tx) error {
		a := newAudit(tx)
		a.run(false)
		faults = a.damage
		contents, err = contentsOf(tx)
		if faults > 0 {
			return nil // then it need not be possible to count them
		}
		return err
	})
	return contents, faults, err
}

func sameFile(x, y string) bool {
	here, err := os.Stat(x)
	if err != nil {
		return false
	}
	there, err := os.Stat(y)
	return err == nil && os.SameFile(here, there)
}

// Restore puts a copy of the backup at from in the place of the cellar at path. The
// backup is read from end to end first, brought to today's schema if it is older, and
// never changed. What was at path stays beside it under a name with the time, which is
// returned; empty if there was nothing. A cellar that is damaged, the usual reason, is
// kept like any other. Open dashboards see the restored cellar at their next look.
//
// A backup with records that cannot be read is refused unless force is set: it may be the only one.
func (c Cellars) Restore(path, from string, force bool, now time.Time) (kept string, contents model.Contents, err error) {
	if path, err = filepath.Abs(path); err != nil {
		return "", contents, err
	}
	if sameFile(path, from) {
		return "", contents, errors.New("the backup and the cellar are one file; name the backup")
	}
	f := newBoltFile(path, boltOptions{migrations: migrations, patience: carefulPatience})
	draft, err := f.fetch(from)
	defer removeQuietly(draft)
	if err != nil {
		return "", contents, err
	}
	contents, faults, err := proven(draft)
	if err == nil && faults > 0 && !force {
		err = fmt.Errorf("%d of its records cannot be read, and glassrow check --cellar %s says which; with --force it comes back all the same", faults, from)
	}
	if err != nil {
		return "", contents, aboutBackup(from, err)
	}
	if info, err := os.Stat(path); err == nil && info.Size() > 0 {
		kept = path + ".before-" + now.Format("20060102-150405")
	}
	return kept, contents, f.replace(draft, kept, nil)
}

// aboutBackup says what is wrong with a backup, and not what to do about a cellar.
func aboutBackup(from string, err error) error {
	what := err
	switch kind := kindOf(reading, err); kind {
	case ErrNotFound:
		what = errors.New("there is no such file, or nothing in it")
	case ErrNotCellar:
		what = errors.New("it is not a copy of a cellar; what export wrote comes back with glassrow import")
	case ErrDamaged:
		what = fmt.Errorf("it is damaged (%s); take an older one", plainDamage(err))
	}
	return fmt.Errorf("nothing was changed; the backup %s: %w", from, what)
}

// fetch copies the cellar at from to a draft beside this one, in today's schema.
func (f *boltFile) fetch(from string) (draft string, err error) {
	backup := newBoltFile(from, boltOptions{})
	ctx, cancel := context.WithTimeout(context.Background(), f.patience)
	defer cancel()
	// Not through its turnstile: a backup may lie where nothing can be written.
	h, err := backup.openLocked(ctx, reading)
	if err != nil {
		return "", aboutBackup(from, err)
	}
	defer h.close()
	if err := h.walk(ctx); err != nil {
		return "", aboutBackup(from, err)
	}
	if err := os.MkdirAll(filepath.Dir(f.path), 0o700); err != nil {
		return "", err
	}
	err = h.transact(reading, func(tx *bbolt.Tx) error {
		m, err := readMeta(tx)
		if err != nil {
			return err
		}
		if err := m.admit(f.schema()); err != nil && err != errOlder {
			return err
		}
		draft, err = copyTx(tx, filepath.Dir(f.path))
		return err
	})
	if err != nil {
		return draft, aboutBackup(from, err)
	}
	d, err := openDraft(draft, writing)
	if err != nil {
		return draft, err
	}
	defer d.close()
	return draft, f.upgrade(d)
}
