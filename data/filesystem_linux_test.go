package data

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"syscall"
	"testing"

	"go.etcd.io/bbolt"
)

// withoutPrivilege runs the rest of the test, on this thread alone, as a user
// whom file permissions bind. The thread ends with the test.
func withoutPrivilege(t *testing.T) {
	if os.Geteuid() != 0 {
		return
	}
	const nobody = 65534
	runtime.LockOSThread()
	syscall.RawSyscall(syscall.SYS_SETFSUID, nobody, 0, 0)
	t.Cleanup(func() { syscall.RawSyscall(syscall.SYS_SETFSUID, 0, 0, 0) })
}

// mount puts a filesystem on dir, seen by this thread alone, until the test
// ends. The steps are arguments of mount(2).
func mount(t *testing.T, dir string, steps ...mountStep) {
	t.Helper()
	runtime.LockOSThread()
	if err := syscall.Unshare(syscall.CLONE_NEWNS); err != nil {
		t.Skipf("needs to mount a filesystem, which is not allowed here: %v", err)
	}
	steps = append([]mountStep{{target: "/", flags: syscall.MS_REC | syscall.MS_PRIVATE}}, steps...)
	for _, s := range steps {
		if err := syscall.Mount(s.source, s.target, s.fstype, s.flags, s.data); err != nil {
			t.Skipf("needs to mount a filesystem: %v", err)
		}
	}
	t.Cleanup(func() { _ = syscall.Unmount(dir, syscall.MNT_DETACH) })
}

type mountStep struct {
	source, target, fstype string
	flags                  uintptr
	data                   string
}

// Ensure that a cellar that may be read but not written can be read, with or
// without a folder to queue in, and says why it cannot be written.
func TestReadOnly_Permissions(t *testing.T) {
	for name, mode := range map[string]struct{ file, dir os.FileMode }{
		"file":            {0o444, 0o777},
		"file and folder": {0o444, 0o555},
	} {
		t.Run(name, func(t *testing.T) {
			f := cellarOf(t, soundCellar(t))
			dir := filepath.Dir(f.path)
			if err := errors.Join(os.Chmod(f.path, mode.file), os.Chmod(dir, mode.dir), os.Chmod(filepath.Dir(dir), 0o755)); err != nil {
				t.Fatal(err)
			}
			t.Cleanup(func() { _ = os.Chmod(dir, 0o700) })
			withoutPrivilege(t)
			if _, err := os.Stat(f.path); err != nil {
				t.Skipf("needs a folder for temporary files that everybody may enter: %v", err)
			}
			if err := f.view(readAll); err != nil {
				t.Errorf("view = %v", err)
			}
			wantErr(t, "update", f.update(nothing), ErrReadOnly)
			wantErr(t, "view of an older file", newer(f, adds("second")).view(nothing), ErrReadOnly)
		})
	}
	t.Run("no right to read", func(t *testing.T) {
		f := cellarOf(t, soundCellar(t))
		if err := errors.Join(os.Chmod(f.path, 0), os.Chmod(filepath.Dir(filepath.Dir(f.path)), 0o755)); err != nil {
			t.Fatal(err)
		}
		withoutPrivilege(t)
		wantErr(t, "view", f.view(nothing), os.ErrPermission)
	})
	t.Run("no right to create", func(t *testing.T) {
		dir := t.TempDir()
		if err := errors.Join(os.Chmod(dir, 0o555), os.Chmod(filepath.Dir(dir), 0o755)); err != nil {
			t.Fatal(err)
		}
		withoutPrivilege(t)
		f := newBoltFile(filepath.Join(dir, "cellar.db"), boltOptions{})
		wantErr(t, "create", f.create(fillThings), ErrReadOnly)
		f = newBoltFile(filepath.Join(dir, "below", "cellar.db"), boltOptions{})
		wantErr(t, "create in a new folder", f.create(fillThings), ErrReadOnly)
	})
}

// Ensure the same of a filesystem that nobody can write to.
func TestReadOnly_Filesystem(t *testing.T) {
	f := cellarOf(t, soundCellar(t))
	dir := filepath.Dir(f.path)
	mount(t, dir,
		mountStep{source: dir, target: dir, flags: syscall.MS_BIND},
		mountStep{target: dir, flags: syscall.MS_BIND | syscall.MS_REMOUNT | syscall.MS_RDONLY})
	if err := f.view(readAll); err != nil {
		t.Errorf("view = %v", err)
	}
	wantErr(t, "update", f.update(nothing), ErrReadOnly)
	f = newBoltFile(filepath.Join(dir, "other.db"), boltOptions{})
	wantErr(t, "create", f.create(fillThings), ErrReadOnly)
}

// Ensure that a full disk is told as that, that it costs nothing that was
// there, and that things go on when there is room again.
func TestNoSpace(t *testing.T) {
	dir := t.TempDir()
	mount(t, dir, mountStep{source: "tmpfs", target: dir, fstype: "tmpfs", data: "size=400k"})
	f := newBoltFile(filepath.Join(dir, "cellar.db"), boltOptions{})
	if err := f.create(fillThings); err != nil {
		t.Fatal(err)
	}
	ballast := filepath.Join(dir, "ballast")
	if err := os.WriteFile(ballast, make([]byte, 100<<10), 0o600); err != nil {
		t.Fatal(err)
	}
	add := func(tx *bbolt.Tx) error {
		return tx.Bucket(things).Put(numbered(lastNumber(tx)+1), make([]byte, 10_000))
	}
	var stored uint64
	var err error
	for stored < 100 && err == nil {
		if err = f.update(add); err == nil {
			stored++
		}
	}
	wantErr(t, "update", err, ErrNoSpace)
	wantErr(t, "create", newBoltFile(filepath.Join(dir, "other.db"), boltOptions{}).create(fillThings), ErrNoSpace)

	if err := os.Remove(ballast); err != nil {
		t.Fatal(err)
	}
	if err := f.check(t.Context()); err != nil {
		t.Error(err)
	}
	if err := f.update(add); err != nil {
		t.Errorf("update with room again = %v", err)
	}
	err = f.view(func(tx *bbolt.Tx) error {
		if got := lastNumber(tx); got != stored+1 {
			t.Errorf("last record = %d, want %d", got, stored+1)
		}
		return readAll(tx)
	})
	if err != nil {
		t.Error(err)
	}
}
