package data

import (
	"context"
	"errors"
	"io/fs"
	"math/rand/v2"
	"os"
	"time"

	"go.etcd.io/bbolt"
	berrors "go.etcd.io/bbolt/errors"
)

// defaultPatience is how long a call waits for other sessions. A write takes
// about 3 ms, so five seconds mean that somebody holds on to the file.
const defaultPatience = 5 * time.Second

// A boltFile is one cellar file, opened for the length of each transaction and
// closed again, so that any number of sessions and scripts can share it. It
// keeps nothing open between calls and needs no closing. It is safe for use by
// several goroutines; their transactions take turns.
//
// Functions given to view and update run while others wait: they should decode
// what they need and return, and must not call the boltFile again (the inner
// call would wait for the outer one and end in ErrBusy). Bytes from the
// transaction are dead once the function returns.
//
// The file may be on a network filesystem only if a single machine writes it:
// bbolt does not support more.
type boltFile struct {
	path       string
	patience   time.Duration
	migrations []migration
	rescue     bool
	written    uint64
	turnstile  turnstile
	inside     chan struct{} // one token: the call that may use the file now
	walked     os.FileInfo   // the file that trust has passed; belongs to the token
}

// boltOptions adjusts a boltFile; its zero value is for everyday use.
type boltOptions struct {
	patience   time.Duration // wait this long for other sessions; 0 means defaultPatience
	migrations []migration   // all of them, oldest first; their number is the schema, see schema

	// rescue reads what can still be read of a damaged file. Only for copying
	// things out of it: on a file damaged in the wrong place the process may
	// run until the machine is out of memory, or be killed.
	rescue bool

	// written is the revision that a new file begins after, so that deeds written
	// elsewhere keep their numbers for themselves; see nextDeed.
	written uint64
}

// newBoltFile returns the file at path. It does not touch the disk.
func newBoltFile(path string, o boltOptions) *boltFile {
	if o.patience == 0 {
		o.patience = defaultPatience
	}
	return &boltFile{
		path:       path,
		patience:   o.patience,
		migrations: o.migrations,
		rescue:     o.rescue,
		written:    o.written,
		turnstile:  turnstile{path: path + ".lock"},
		inside:     make(chan struct{}, 1),
	}
}

// view runs fn in a transaction that sees the file as the last update left it.
// An error from fn comes back as it is. If the file is of an older schema it is
// upgraded first, as update would, so a program that only reads never meets an
// old layout.
func (f *boltFile) view(fn func(*bbolt.Tx) error) error {
	look := func(h *handle) error { return f.transact(h, reading, fn) }
	err := f.with(reading, look)
	if !errors.Is(err, errOlder) {
		return err
	}
	if err := f.with(writing, f.upgrade); err != nil {
		return err
	}
	return f.with(reading, look)
}

// update runs fn in a transaction and commits it. On nil the change is on the
// disk, synced, and revision has grown by one. On an error nothing has changed,
// with one exception that no database can spare us: when the very last sync
// fails (the disk is dying) the outcome is open. An error from fn comes back as
// it is.
func (f *boltFile) update(fn func(*bbolt.Tx) error) error {
	return f.with(writing, func(h *handle) error {
		if err := f.upgrade(h); err != nil {
			return err
		}
		return f.transact(h, writing, fn)
	})
}

// with opens the file, lends the handle to fn and closes it again.
func (f *boltFile) with(want access, fn func(*handle) error) error {
	ctx, cancel := context.WithTimeout(context.Background(), f.patience)
	defer cancel()
	exit, err := f.enter(ctx)
	if err != nil {
		return describe("open", f.path, want, err)
	}
	defer exit()
	h, err := f.open(ctx, want)
	if err != nil {
		return describe("open", f.path, want, err)
	}
	defer h.close()
	if err := f.trust(h); err != nil {
		return describe("open", f.path, want, err)
	}
	return fn(h)
}

// trust walks the pages of a file that this boltFile has not had before, and
// returns ErrDamaged rather than let bbolt loose on a tree that would kill the
// process. Once is enough: what goes bad, goes bad on the shelf, and sessions
// at work leave sound pages behind.
func (f *boltFile) trust(h *handle) error {
	info, err := h.file.Stat()
	if err != nil {
		return err
	}
	if f.rescue || f.walked != nil && os.SameFile(f.walked, info) {
		return nil
	}
	if err := h.walk(context.Background()); err != nil {
		return err
	}
	f.walked = info
	return nil
}

// enter waits for the other goroutines of this process. A mutex would do, if
// one could stop waiting for it.
func (f *boltFile) enter(ctx context.Context) (exit func(), err error) {
	select {
	case f.inside <- struct{}{}:
		return func() { <-f.inside }, nil
	case <-ctx.Done():
		return nil, ErrBusy
	}
}

// open passes the turnstile and takes the lock, or returns ErrBusy when ctx
// ends first.
func (f *boltFile) open(ctx context.Context, want access) (*handle, error) {
	if _, err := os.Stat(f.path); errors.Is(err, fs.ErrNotExist) {
		return nil, err // before a sidecar is left beside nothing
	}
	leave, err := f.turnstile.enter(ctx)
	if err == ErrBusy {
		return nil, err
	}
	if err != nil {
		leave = func() {} // go without, see turnstile
	}
	h, err := f.openLocked(ctx, want)
	if err != nil || want == reading {
		leave()
	} else {
		h.leave = leave
	}
	return h, err
}

// openLocked tries for the lock until it has it or ctx ends. Whoever is ahead
// of us is a reader or writer already at work, so the steps are short.
func (f *boltFile) openLocked(ctx context.Context, want access) (*handle, error) {
	for {
		h, err := openHandle(f.path, want)
		if !errors.Is(err, berrors.ErrTimeout) && !errors.Is(err, errMoved) {
			return h, err
		}
		select {
		case <-time.After(300*time.Microsecond + rand.N(1200*time.Microsecond)):
		case <-ctx.Done():
			return nil, ErrBusy
		}
	}
}

// transact runs fn in one transaction of the open file, once the file has
// shown that it is a cellar of our schema. Errors of fn are the caller's own
// and are handed back untouched; all others say what happened to which file.
func (f *boltFile) transact(h *handle, want access, fn func(*bbolt.Tx) error) error {
	refused := false
	err := h.transact(want, func(tx *bbolt.Tx) error {
		m, err := readMeta(tx)
		if err != nil {
			return err
		}
		if err := m.admit(f.schema()); err != nil {
			return err
		}
		if err := fn(tx); err != nil {
			refused = true
			return err
		}
		if want != writing {
			return nil
		}
		if m, err = readMeta(tx); err != nil { // fn may have used up numbers
			return err
		}
		return m.bump(tx)
	})
	if err == nil || refused {
		return err
	}
	return describe(want.String(), f.path, want, err)
}

// revision returns a number that grows with every update of the file, by
// whichever session: the cheap way to ask whether anything is new. It always
// reads the file, in about a fifth of a millisecond, because a size and a
// modification time can stay the same across a write.
func (f *boltFile) revision() (uint64, error) {
	var m meta
	err := f.view(func(tx *bbolt.Tx) (err error) {
		m, err = readMeta(tx)
		return err
	})
	return m.revision, err
}
