//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package data

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// holdTurnstile stands in the turnstile of f until the returned function is
// called.
func holdTurnstile(t *testing.T, f *boltFile) (leave func()) {
	t.Helper()
	sidecar, err := os.OpenFile(f.path+".lock", os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		t.Fatal(err)
	}
	if !tryLockFile(sidecar) {
		t.Fatal("the turnstile is taken")
	}
	return func() { _ = sidecar.Close() }
}

// Ensure that nobody waits longer in the queue than patience lasts, and that
// giving up keeps nobody out afterwards.
func TestTurnstile_Busy(t *testing.T) {
	f := newCellar(t)
	f.patience = 40 * time.Millisecond
	leave := holdTurnstile(t, f)
	for range 3 {
		wantErr(t, "view", f.view(nothing), ErrBusy)
		wantErr(t, "update", f.update(nothing), ErrBusy)
	}
	leave()
	if err := newBoltFile(f.path, boltOptions{}).update(nothing); err != nil {
		t.Errorf("update by another session = %v", err)
	}
	f.patience = defaultPatience
	if err := f.update(nothing); err != nil {
		t.Errorf("update = %v", err)
	}
}

// Ensure that one who gave up keeps a single place in the queue, and takes it
// over when he comes again.
func TestTurnstile_KeepsItsPlace(t *testing.T) {
	f := newCellar(t)
	leave := holdTurnstile(t, f)
	ts := &turnstile{path: f.path + ".lock"}
	var first *place
	for range 3 {
		ctx, cancel := context.WithTimeout(t.Context(), 5*time.Millisecond)
		_, err := ts.enter(ctx)
		cancel()
		wantErr(t, "enter", err, ErrBusy)
		if first == nil {
			first = ts.place
		}
		if ts.place == nil || ts.place != first {
			t.Fatalf("place = %p, want %p again", ts.place, first)
		}
	}
	entered := make(chan func())
	go func() {
		leave, err := ts.enter(t.Context())
		if err != nil {
			t.Error(err)
		}
		entered <- leave
	}()
	time.Sleep(5 * time.Millisecond)
	leave()
	leave = <-entered
	sidecar, err := os.Open(ts.path)
	if err != nil {
		t.Fatal(err)
	}
	defer sidecar.Close()
	if tryLockFile(sidecar) {
		t.Error("the lock is not held")
	}
	leave()
	if _, err := ts.enter(t.Context()); err != nil {
		t.Error(err)
	}
}

// Ensure that without a folder to put the sidecar in there is an error, which
// boltFile takes for leave to go without.
func TestTurnstile_NoFolder(t *testing.T) {
	ts := &turnstile{path: filepath.Join(t.TempDir(), "missing", "cellar.db.lock")}
	_, err := ts.enter(t.Context())
	wantErr(t, "enter", err, os.ErrNotExist)
}
