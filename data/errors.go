package data

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"syscall"

	berrors "go.etcd.io/bbolt/errors"
)

// Errors that say the file cannot be used as it stands. Only the person can
// change that: by naming another file, or by waiting.
var (
	// ErrNotFound is returned by every call on a file that does not exist, or
	// that exists with no bytes in it.
	ErrNotFound = errors.New("no cellar there")

	// ErrExists is returned by create when the path already holds something,
	// a cellar or not. Nothing was touched.
	ErrExists = errors.New("a file is already there; name another, or move it away")

	// ErrBusy is returned when other sessions kept the file locked for longer
	// than this one was willing to wait. Nothing was read or written; the same
	// call may succeed a moment later.
	ErrBusy = errors.New("locked by another session; try again, or end the one that holds it")
)

// Errors that say the file is there but is not a cellar this program can read.
// Trying again gives the same answer.
var (
	// ErrNotCellar is returned when the file is of another kind: text, a
	// folder, a database that some other program made.
	ErrNotCellar = errors.New("not a cellar; name another file with --cellar")

	// ErrNewer is returned when a later version of the program wrote the file.
	// Writing to it would drop what this version does not know.
	ErrNewer = errors.New("made by a newer glassrow; use that one")

	// ErrDamaged is returned when the file was a cellar, but bytes are missing
	// or contradict each other. It may come from opening the file or only when
	// a transaction reaches the bad part; the rest is often still readable.
	ErrDamaged = errors.New("damaged; put it aside and bring back your last copy")
)

// Errors that can occur when writing. The file holds what it held before.
var (
	// ErrReadOnly is returned by create and update when permissions, or the
	// filesystem, forbid writing; and by view when the file is of an older
	// schema and so would have to be upgraded first.
	ErrReadOnly = errors.New("not writable; see to the rights of the file and its folder")

	// ErrNoSpace is returned by create and update when the disk or the
	// person's share of it is full.
	ErrNoSpace = errors.New("disk full; make room, nothing was changed")
)

// kinds lists every sentinel once, so that an error which already carries one
// is not given a second.
var kinds = []error{
	ErrNotFound, ErrExists, ErrBusy, ErrNotCellar, ErrNewer, ErrDamaged, ErrReadOnly, ErrNoSpace,
}

// kindOf returns the sentinel that describes err, or nil when none does. The
// access matters because permission denied is about writing only if that was
// what we wanted.
func kindOf(want access, err error) error {
	for _, kind := range kinds {
		if errors.Is(err, kind) {
			return kind
		}
	}
	switch {
	case errors.Is(err, berrors.ErrTimeout):
		return ErrBusy
	case errors.Is(err, fs.ErrNotExist):
		return ErrNotFound
	case causedBy(err, fullErrnos):
		return ErrNoSpace
	case causedBy(err, readOnlyErrnos):
		return ErrReadOnly
	case want == writing && errors.Is(err, fs.ErrPermission):
		return ErrReadOnly
	case errors.Is(err, berrors.ErrChecksum), errors.Is(err, berrors.ErrInvalidMapping):
		return ErrDamaged
	case errors.Is(err, berrors.ErrInvalid), errors.Is(err, berrors.ErrVersionMismatch):
		return ErrNotCellar
	}
	return nil
}

// causedBy looks for the errnos in the chain and then in the text: bbolt
// formats some causes with %s ("file resize error: ..."), which cuts the chain.
func causedBy(err error, errnos []syscall.Errno) bool {
	if err == nil {
		return false
	}
	for _, errno := range errnos {
		if errors.Is(err, errno) || strings.Contains(err.Error(), errno.Error()) {
			return true
		}
	}
	return false
}

// describe says what was being done to which file, names the kind of failure
// and keeps the cause, without the second mention of the path that a
// *fs.PathError brings.
func describe(doing, path string, want access, err error) error {
	kind := kindOf(want, err)
	if perr, ok := err.(*fs.PathError); ok {
		err = perr.Err
	}
	if kind == nil || errors.Is(err, kind) {
		return fmt.Errorf("%s cellar %s: %w", doing, path, err)
	}
	return fmt.Errorf("%s cellar %s: %w: %w", doing, path, kind, err)
}
