package data

import (
	"fmt"
	"runtime"
	"runtime/debug"
	"strings"
)

// guard runs fn and turns what a damaged file does to it into ErrDamaged.
//
// bbolt trusts its pages: a bad one ends in an index out of range, a failed
// assertion, or, when the file is shorter than its map, in a memory fault that
// would end the process. SetPanicOnFault makes the last one recoverable, for
// this goroutine only, so fn must not hand the transaction to another.
//
// A panic out of our own code is a bug, not damage, and goes on upwards: told
// as damage it would send somebody to restore a backup for nothing.
//
// What no guard can catch is a page tree bent into a ring: bbolt then goes
// round until the stack or the memory ends. That is for trust to find, before.
func guard(fn func() error) (err error) {
	defer debug.SetPanicOnFault(debug.SetPanicOnFault(true))
	defer func() {
		if p := recover(); p != nil {
			if !fromDisk(p) {
				panic(p)
			}
			err = fmt.Errorf("%w: %v", ErrDamaged, p)
		}
	}()
	return fn()
}

// fromDisk reports whether the panic that is being recovered was caused by
// bytes of the file. It is only good inside the deferred function, while the
// frames that panicked are still on the stack.
func fromDisk(p any) bool {
	if _, fault := p.(interface{ Addr() uintptr }); fault {
		return true // the map was read where the file has no bytes
	}
	pcs := make([]uintptr, 64)
	frames := runtime.CallersFrames(pcs[:runtime.Callers(1, pcs)])
	for panicking := false; ; {
		frame, more := frames.Next()
		switch {
		case frame.Function == "runtime.gopanic":
			panicking = true
		case !panicking:
		case strings.HasPrefix(frame.Function, "go.etcd.io/bbolt"):
			return true
		case strings.HasPrefix(frame.Function, "cellar.local/glassrow/"):
			return false
		}
		if !more {
			return false
		}
	}
}
