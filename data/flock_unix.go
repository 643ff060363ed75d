//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package data

import (
	"os"
	"syscall"
)

// tryLockFile takes the exclusive lock on f if that is possible at once.
func tryLockFile(f *os.File) bool { return flock(f, syscall.LOCK_EX|syscall.LOCK_NB) == nil }

// lockFile waits for the exclusive lock on f, for as long as it takes.
func lockFile(f *os.File) error { return flock(f, syscall.LOCK_EX) }

// unlockFile drops whatever lock is held through f. Closing f does not do it
// while the file is still mapped: the map keeps the open file, and with it the
// lock, alive.
func unlockFile(f *os.File) { _ = flock(f, syscall.LOCK_UN) }

func flock(f *os.File, how int) error {
	conn, err := f.SyscallConn()
	if err != nil {
		return err
	}
	var lockErr error
	err = conn.Control(func(fd uintptr) {
		for {
			if lockErr = syscall.Flock(int(fd), how); lockErr != syscall.EINTR {
				return
			}
		}
	})
	if err != nil {
		return err
	}
	return lockErr
}
