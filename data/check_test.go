package data

import (
	"context"
	"encoding/binary"
	"errors"
	"testing"
	"time"

	"go.etcd.io/bbolt"
)

// editPage returns a copy of content in which edit has changed a page of that
// sort: the first one that is in use and, if it is a leaf, starts with a record.
func editPage(t *testing.T, content []byte, flags uint16, edit func(id uint64, page []byte)) []byte {
	t.Helper()
	bad := append([]byte(nil), content...)
	enough := errors.New("seen enough")
	err := cellarOf(t, content).update(func(tx *bbolt.Tx) error { // bbolt knows the free pages only when it may write
		for id := 2; ; id++ {
			info, err := tx.Page(id)
			if err != nil {
				return err
			}
			if info == nil {
				return errors.New("no such page")
			}
			page := bad[id*pageSize:][:pageSize]
			ofBuckets := flags == leafFlag && page[pageHeaderSize] == bucketFlag
			if info.Type != "free" && flagsOf(page) == flags && !ofBuckets {
				edit(uint64(id), page)
				return enough
			}
		}
	})
	if err != enough {
		t.Fatal(err)
	}
	return bad
}

// Ensure that a page tree bent into a ring ends the call and not the process.
// bbolt would follow it until the memory is used up.
func TestCheck_Ring(t *testing.T) {
	bad := editPage(t, soundCellar(t), branchFlag, func(id uint64, page []byte) {
		binary.NativeEndian.PutUint64(page[pageHeaderSize+8:], id) // its first child is itself
	})
	f := cellarOf(t, bad)
	wantErr(t, "check", f.check(t.Context()), ErrDamaged)
	wantErr(t, "view", f.view(nothing), ErrDamaged)
	wantErr(t, "update", f.update(nothing), ErrDamaged)
}

// Ensure that page numbers, sizes and counts that lead out of the file are
// noticed before anybody follows them.
func TestCheck_OutOfBounds(t *testing.T) {
	sound := soundCellar(t)
	first := pageHeaderSize // the first element of a page
	put32, put64 := binary.NativeEndian.PutUint32, binary.NativeEndian.PutUint64
	for name, c := range map[string]struct {
		flags uint16
		edit  func(id uint64, page []byte)
	}{
		"child page":       {branchFlag, func(_ uint64, page []byte) { put64(page[first+8:], 1<<40) }},
		"branch key":       {branchFlag, func(_ uint64, page []byte) { put32(page[first+4:], 1<<31) }},
		"no children":      {branchFlag, func(_ uint64, page []byte) { page[10], page[11] = 0, 0 }},
		"too many":         {leafFlag, func(_ uint64, page []byte) { page[10], page[11] = 0xFF, 0xFF }},
		"leaf key":         {leafFlag, func(_ uint64, page []byte) { put32(page[first+8:], 1<<31) }},
		"leaf value":       {leafFlag, func(_ uint64, page []byte) { put32(page[first+12:], 1<<31) }},
		"leaf position":    {leafFlag, func(_ uint64, page []byte) { put32(page[first+4:], 1<<31) }},
		"value as bucket":  {leafFlag, func(_ uint64, page []byte) { put32(page[first:], bucketFlag) }},
		"overflow":         {leafFlag, func(_ uint64, page []byte) { put32(page[12:], 1<<20) }},
		"wrong number":     {leafFlag, func(id uint64, page []byte) { put64(page, id+1) }},
		"wrong sort":       {leafFlag, func(_ uint64, page []byte) { page[8] = 0x40 }},
		"long freelist":    {freelistFlag, func(_ uint64, page []byte) { page[10], page[11] = 0xFE, 0xFF }},
		"endless freelist": {freelistFlag, func(_ uint64, page []byte) { page[10], page[11] = 0xFF, 0xFF; put64(page[first:], 1<<60) }},
		"free page":        {freelistFlag, func(_ uint64, page []byte) { put64(page[first:], 1<<40) }},
		"page free twice":  {freelistFlag, func(_ uint64, page []byte) { copy(page[first:], page[first+8:][:8]) }},
	} {
		t.Run(name, func(t *testing.T) {
			f := cellarOf(t, editPage(t, sound, c.flags, c.edit))
			wantErr(t, "check", f.check(t.Context()), ErrDamaged)
			wantErr(t, "view", f.view(nothing), ErrDamaged)
		})
	}
}

// Ensure that what only bbolt's own check can find is found too.
func TestCheck_FoundByBolt(t *testing.T) {
	sound := soundCellar(t)
	t.Run("lost page", func(t *testing.T) {
		f := cellarOf(t, editPage(t, sound, freelistFlag, func(_ uint64, page []byte) { page[10]-- }))
		wantErr(t, "check", f.check(t.Context()), ErrDamaged)
		if err := f.update(nothing); err != nil {
			t.Errorf("update after check = %v, want the file unlocked", err)
		}
	})
	t.Run("keys out of order", func(t *testing.T) {
		f := cellarOf(t, editPage(t, sound, leafFlag, func(_ uint64, page []byte) {
			pos := binary.NativeEndian.Uint32(page[pageHeaderSize+4:])
			page[pageHeaderSize+int(pos)] = 0xFF // first byte of the first key
		}))
		wantErr(t, "check", f.check(t.Context()), ErrDamaged)
	})
}

// Ensure that a check ends when its time is up, and lets go of the file.
func TestCheck_Deadline(t *testing.T) {
	f := cellarOf(t, soundCellar(t))
	ended, cancel := context.WithCancel(t.Context())
	cancel()
	if err := f.check(ended); err == nil {
		t.Error("check after its time = nil, want an error")
	}
	if err := f.update(nothing); err != nil {
		t.Errorf("update after check = %v", err)
	}

	never := make(chan error)
	soon, cancel := context.WithTimeout(t.Context(), time.Millisecond)
	defer cancel()
	wantErr(t, "firstFindings", firstFindings(soon, never), context.DeadlineExceeded)
}

// Ensure that what is left of a damaged file can be had by those who ask for
// it, and that only they get it.
func TestDamage_Rescue(t *testing.T) {
	bad := editPage(t, soundCellar(t), leafFlag, func(_ uint64, page []byte) { clear(page) })
	f := cellarOf(t, bad)
	wantErr(t, "view", f.view(nothing), ErrDamaged)

	f = newBoltFile(f.path, boltOptions{rescue: true})
	saved, lost := 0, 0
	for n := uint64(200); n <= 3000; n++ {
		err := f.view(func(tx *bbolt.Tx) error {
			if len(tx.Bucket(things).Get(numbered(n))) == 60 {
				saved++
			}
			return nil
		})
		if errors.Is(err, ErrDamaged) {
			lost++
		} else if err != nil {
			t.Fatal(err)
		}
	}
	if saved < 2000 || lost == 0 {
		t.Errorf("saved %d and lost %d records, want most of them saved", saved, lost)
	}
}
