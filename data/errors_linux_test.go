package data

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"syscall"
	"testing"

	berrors "go.etcd.io/bbolt/errors"
)

// Ensure that what the system and bbolt say is told in our words, with the
// cause kept.
func TestDescribe(t *testing.T) {
	path := func(errno error) error { return &fs.PathError{Op: "open", Path: "c.db", Err: errno} }
	for name, c := range map[string]struct {
		want access
		err  error
		kind error
		text string
	}{
		"full disk": {writing, path(syscall.ENOSPC), ErrNoSpace,
			"write cellar c.db: disk full; make room, nothing was changed: no space left on device"},
		"used up quota": {writing, path(syscall.EDQUOT), ErrNoSpace,
			"write cellar c.db: disk full; make room, nothing was changed: disk quota exceeded"},
		"full disk, chain cut by bbolt": {writing, fmt.Errorf("file resize error: %s", path(syscall.ENOSPC)), ErrNoSpace,
			"write cellar c.db: disk full; make room, nothing was changed: file resize error: open c.db: no space left on device"},
		"read-only filesystem": {writing, path(syscall.EROFS), ErrReadOnly,
			"write cellar c.db: not writable; see to the rights of the file and its folder: read-only file system"},
		"forbidden to write": {writing, path(syscall.EACCES), ErrReadOnly,
			"write cellar c.db: not writable; see to the rights of the file and its folder: permission denied"},
		"immutable": {writing, path(syscall.EPERM), ErrReadOnly,
			"write cellar c.db: not writable; see to the rights of the file and its folder: operation not permitted"},
		"forbidden to read": {reading, path(syscall.EACCES), os.ErrPermission,
			"read cellar c.db: permission denied"},
		"missing": {reading, path(syscall.ENOENT), ErrNotFound,
			"read cellar c.db: no cellar there: no such file or directory"},
		"locked": {reading, berrors.ErrTimeout, ErrBusy,
			"read cellar c.db: locked by another session; try again, or end the one that holds it: timeout"},
		"bad checksum": {reading, berrors.ErrChecksum, ErrDamaged,
			"read cellar c.db: damaged; put it aside and bring back your last copy: checksum error"},
		"no map": {reading, berrors.ErrInvalidMapping, ErrDamaged,
			"read cellar c.db: damaged; put it aside and bring back your last copy: database isn't correctly mapped"},
		"other file": {reading, berrors.ErrInvalid, ErrNotCellar,
			"read cellar c.db: not a cellar; name another file with --cellar: invalid database"},
		"told already": {reading, fmt.Errorf("%w: its schema is 9", ErrNewer), ErrNewer,
			"read cellar c.db: made by a newer glassrow; use that one: its schema is 9"},
		"dying disk": {writing, path(syscall.EIO), syscall.EIO,
			"write cellar c.db: input/output error"},
	} {
		t.Run(name, func(t *testing.T) {
			got := describe(c.want.String(), "c.db", c.want, c.err)
			wantErr(t, "describe", got, c.kind)
			if got.Error() != c.text {
				t.Errorf("describe = %q, want %q", got, c.text)
			}
			var errno syscall.Errno
			if errors.As(c.err, &errno) && !errors.Is(got, errno) {
				t.Errorf("describe = %v, which has lost its cause", got)
			}
		})
	}
}
