package data

import (
	"context"
	"errors"
	"fmt"
)

// maxFindings is how many of bbolt's complaints go into one error. The first
// few say where; the rest mostly follow from them.
const maxFindings = 5

// check reads the whole file and returns ErrDamaged, with what was found, when
// it does not hold together; nil means that every page is where it should be.
// It knows pages, not what is in them.
//
// A deadline belongs in ctx: a large file takes a while, and bbolt's Check has
// been seen not to return. When ctx ends first its error is returned. The check
// then goes on in the background, keeping the file readable but locked against
// writers until it ends, because the pages under it must not change.
func (f *boltFile) check(ctx context.Context) error {
	waiting, cancel := context.WithTimeout(ctx, f.patience)
	defer cancel()
	exit, err := f.enter(waiting)
	if err != nil {
		return describe("check", f.path, reading, err)
	}
	defer exit()
	h, err := f.open(waiting, reading)
	if err != nil {
		return describe("check", f.path, reading, err)
	}
	if err := f.checkHandle(ctx, h); err != nil {
		return describe("check", f.path, reading, err)
	}
	return nil
}

// checkHandle walks the pages itself, then lets bbolt do it, and sees to it
// that h is closed in the end.
func (f *boltFile) checkHandle(ctx context.Context, h *handle) error {
	if err := h.walk(ctx); err != nil {
		h.close()
		return err
	}
	tx, err := h.db.Begin(false)
	if err != nil {
		h.close()
		return err
	}
	findings := tx.Check()
	finish := func() {
		for range findings {
		}
		_ = tx.Rollback()
		h.close()
	}
	err = firstFindings(ctx, findings)
	if ctx.Err() != nil {
		go finish()
	} else {
		finish()
	}
	return err
}

// firstFindings waits for all findings and returns the first few as one
// ErrDamaged, or ctx's error if that comes first.
func firstFindings(ctx context.Context, findings <-chan error) error {
	var few []error
	for {
		select {
		case err, more := <-findings:
			switch {
			case more && len(few) < maxFindings:
				few = append(few, err)
			case !more && len(few) > 0:
				return fmt.Errorf("%w: %w", ErrDamaged, errors.Join(few...))
			case !more:
				return nil
			}
		case <-ctx.Done():
			return ctx.Err()
		}
	}
}
