package data

import (
	"context"
	"fmt"
	"os"
	"sync"
)

// turnstile puts the sessions that want a file in a queue.
//
// bbolt's own lock is polled, and readers may share it, so a steady stream of
// readers would keep a writer out for as long as it lasts. Here everybody
// passes through one exclusive lock on a sidecar file first:
//
//	reader:  enter ─ open (shared) ─ leave ─ read ─ close
//	writer:  enter ─ open (exclusive) ─ write ─ close ─ leave
//
// A writer who is inside waits only for the readers already reading; nobody
// new can start. The sidecar is about fairness alone. The data is guarded by
// bbolt's lock, so a session that cannot have the sidecar (a folder it may not
// write to) goes without and is merely less lucky. The sidecar stays when the
// last session ends: removing it would let two sessions queue at two files.
type turnstile struct {
	path string

	mu    sync.Mutex
	place *place // our place in the queue, if somebody stands in it
}

// A place in the queue is kept by a goroutine blocked in the kernel, which
// cannot be called back. When a caller runs out of patience the place is left
// standing, for the next caller to take over; so a session that polls a stuck
// file has one blocked thread, not one for each attempt.
type place struct {
	sidecar *os.File
	wanted  bool       // guarded by turnstile.mu: does anybody still want the lock?
	got     chan error // one value, sent only while wanted
}

// enter waits until the turnstile is ours, and returns the function that gives
// it to the next. It returns ErrBusy when ctx ends first, and any other error
// when there is no turnstile to be had.
func (t *turnstile) enter(ctx context.Context) (leave func(), err error) {
	p, err := t.queue()
	if err != nil {
		return nil, err
	}
	select {
	case err = <-p.got:
	case <-ctx.Done():
		if err = t.giveUp(p); err == ErrBusy {
			return nil, err
		}
	}
	if err != nil {
		_ = p.sidecar.Close()
		return nil, fmt.Errorf("lock %s: %w", t.path, err)
	}
	return func() { _ = p.sidecar.Close() }, nil // closing the last handle drops the lock
}

// queue returns the place that stands already, or goes and stands in one.
func (t *turnstile) queue() (*place, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.place != nil {
		t.place.wanted = true
		return t.place, nil
	}
	f, err := os.OpenFile(t.path, os.O_RDONLY|os.O_CREATE, 0o600)
	if err != nil {
		return nil, err
	}
	p := &place{sidecar: f, wanted: true, got: make(chan error, 1)}
	if tryLockFile(f) { // nobody there, which is nearly always
		p.got <- nil
		return p, nil
	}
	t.place = p
	go t.stand(p)
	return p, nil
}

// stand blocks until the lock is ours and hands it over, or drops it at once
// when nobody wants it any more.
func (t *turnstile) stand(p *place) {
	err := lockFile(p.sidecar)
	t.mu.Lock()
	defer t.mu.Unlock()
	t.place = nil
	if !p.wanted {
		_ = p.sidecar.Close()
		return
	}
	p.got <- err
}

// giveUp leaves the place standing and returns ErrBusy, unless the lock came
// in the same moment: then it is ours after all.
func (t *turnstile) giveUp(p *place) error {
	t.mu.Lock()
	defer t.mu.Unlock()
	select {
	case err := <-p.got:
		return err
	default:
		p.wanted = false
		return ErrBusy
	}
}
