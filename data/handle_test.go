package data

import (
	"os"
	"path/filepath"
	"testing"
	"time"
)

// Ensure that a draft is opened though something holds its lock for a moment, as a
// program does that is just being started.
func TestOpenDraft_WaitsForAMoment(t *testing.T) {
	path := filepath.Join(t.TempDir(), "draft.db")
	if _, err := DemoAt(path, evening); err != nil {
		t.Fatal(err)
	}
	holder, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer holder.Close()
	if !tryLockFile(holder) {
		t.Fatal("the file is locked already")
	}
	go func() {
		time.Sleep(20 * time.Millisecond)
		unlockFile(holder)
	}()
	h, err := openDraft(path, writing)
	if err != nil {
		t.Fatal(err)
	}
	h.close()
}
