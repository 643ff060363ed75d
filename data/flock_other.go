//go:build !(darwin || dragonfly || freebsd || linux || netbsd || openbsd)

package data

import "os"

// Without flock there is no queue: everybody passes the turnstile at once, and
// bbolt's own lock, tried again and again until the deadline, does the work
// alone. Safe, but not fair under load.

func tryLockFile(*os.File) bool { return true }

func lockFile(*os.File) error { return nil }

func unlockFile(*os.File) {}
