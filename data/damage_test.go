package data

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
	"time"

	"go.etcd.io/bbolt"
)

// soundCellar returns the bytes of a cellar of a hundred pages or so: deep
// enough for branch pages, with buckets in buckets, inline ones, overflow pages
// and a freelist with something in it.
func soundCellar(t testing.TB) []byte {
	t.Helper()
	f := newCellar(t)
	put(t, f, 3000, 60)
	err := f.update(func(tx *bbolt.Tx) error {
		b := tx.Bucket(things)
		for i := uint64(1); i < 200; i++ {
			if err := b.Delete(numbered(i)); err != nil {
				return err
			}
		}
		small, err := b.CreateBucket([]byte("small"))
		if err != nil {
			return err
		}
		large, err := b.CreateBucket([]byte("large"))
		if err != nil {
			return err
		}
		return errors.Join(small.Put([]byte("k"), []byte("v")), large.Put([]byte("k"), make([]byte, 10000)))
	})
	if err != nil {
		t.Fatal(err)
	}
	if err := f.update(nothing); err != nil {
		t.Fatal(err)
	}
	if err := f.check(t.Context()); err != nil {
		t.Fatal(err)
	}
	sound, err := os.ReadFile(f.path)
	if err != nil {
		t.Fatal(err)
	}
	return sound
}

// cellarOf returns a cellar file of the given bytes.
func cellarOf(t testing.TB, content []byte) *boltFile {
	t.Helper()
	path := filepath.Join(t.TempDir(), "cellar.db")
	if err := os.WriteFile(path, content, 0o600); err != nil {
		t.Fatal(err)
	}
	return newBoltFile(path, boltOptions{patience: time.Second})
}

// readAll reads every bucket, to any depth.
func readAll(tx *bbolt.Tx) error {
	var read func(b *bbolt.Bucket) error
	sum := 0
	read = func(b *bbolt.Bucket) error {
		return b.ForEach(func(k, v []byte) error {
			if v == nil {
				return read(b.Bucket(k))
			}
			for i := range v {
				sum += int(v[i])
			}
			return nil
		})
	}
	return tx.ForEach(func(_ []byte, b *bbolt.Bucket) error { return read(b) })
}

var pageSize = os.Getpagesize()

// Ensure that a file that was cut short is refused at once, before a writer
// can paper over the gap.
func TestDamage_CutShort(t *testing.T) {
	sound := soundCellar(t)
	used := usedPages(sound) * pageSize
	for _, size := range []int{10, 1000, pageSize, 2*pageSize - 1, 2 * pageSize, 3 * pageSize, used / 2, used - 1} {
		t.Run(fmt.Sprint(size), func(t *testing.T) {
			f := cellarOf(t, sound[:size])
			want := ErrDamaged
			if size == 10 { // not even the mark is left
				want = ErrNotCellar
			}
			wantErr(t, "view", f.view(nothing), want)
			wantErr(t, "update", f.update(nothing), want)
			wantErr(t, "check", f.check(t.Context()), want)
		})
	}
	t.Run("not where there was nothing yet", func(t *testing.T) {
		if err := cellarOf(t, sound[:used]).update(readAll); err != nil {
			t.Error(err)
		}
	})
}

// usedPages returns the number of pages below the high-water mark of a file.
func usedPages(content []byte) int {
	var pages, txid uint64
	for _, at := range []int{pageHeaderSize, pageSize + pageHeaderSize} {
		m := content[at:]
		if id := binary.NativeEndian.Uint64(m[48:]); id >= txid {
			txid, pages = id, binary.NativeEndian.Uint64(m[40:])
		}
	}
	return int(pages)
}

// Ensure that a file cut short under a running transaction ends in an error
// and not in a dead process.
func TestDamage_CutWhileMapped(t *testing.T) {
	f := cellarOf(t, soundCellar(t))
	for name, call := range map[string]func(func(*bbolt.Tx) error) error{"view": f.view, "update": f.update} {
		err := call(func(tx *bbolt.Tx) error {
			if err := os.Truncate(f.path, int64(2*pageSize)); err != nil {
				return err
			}
			return readAll(tx)
		})
		wantErr(t, name, err, ErrDamaged)
		wantErr(t, name+" later", elsewhere(f).update(nothing), ErrDamaged)
		if err := os.WriteFile(f.path, soundCellar(t), 0o600); err != nil {
			t.Fatal(err)
		}
	}
}

// Ensure that pages of rubbish are told as damage by whoever meets them, and
// that the lock is free afterwards.
func TestDamage_Rubbish(t *testing.T) {
	sound := soundCellar(t)
	for name, fill := range map[string]byte{"zeros": 0, "ones": 0xFF, "letters": 'a'} {
		t.Run(name, func(t *testing.T) {
			bad := append([]byte(nil), sound...)
			for i := 2 * pageSize; i < len(bad); i++ {
				bad[i] = fill
			}
			f := cellarOf(t, bad)
			for range 2 { // the second time shows that the first let go
				wantErr(t, "view", f.view(readAll), ErrDamaged)
				wantErr(t, "update", f.update(readAll), ErrDamaged)
				wantErr(t, "check", f.check(t.Context()), ErrDamaged)
			}
		})
	}
	t.Run("in both meta pages", func(t *testing.T) {
		bad := append([]byte(nil), sound...)
		bad[pageHeaderSize+20] ^= 1
		bad[pageSize+pageHeaderSize+20] ^= 1
		f := cellarOf(t, bad)
		wantErr(t, "view", f.view(readAll), ErrDamaged)
		wantErr(t, "update", f.update(readAll), ErrDamaged)
		wantErr(t, "check", f.check(t.Context()), ErrDamaged)
	})
}

// Ensure that bytes changed anywhere never bring the process down, and that
// when something is noticed it is called damage.
func TestDamage_Anywhere(t *testing.T) {
	sound := soundCellar(t)
	used := usedPages(sound)
	noticed := 0
	for seed := range uint64(400) {
		rnd := rand.New(rand.NewPCG(seed, 1))
		bad := append([]byte(nil), sound...)
		page := bad[rnd.IntN(used)*pageSize:][:pageSize]
		span := []int{pageHeaderSize, 64, pageSize}[rnd.IntN(3)] // headers matter most
		for range 1 + rnd.IntN(20) {
			page[rnd.IntN(span)] ^= byte(1 << rnd.IntN(8))
		}
		f := cellarOf(t, bad)
		for name, err := range map[string]error{
			"check":  f.check(t.Context()),
			"view":   f.view(readAll),
			"update": f.update(func(tx *bbolt.Tx) error { return tx.Bucket(things).Put(numbered(seed), nil) }),
		} {
			switch {
			case err == nil:
			case errors.Is(err, ErrDamaged), errors.Is(err, ErrNotCellar), errors.Is(err, ErrNewer):
				noticed++
			default:
				t.Errorf("seed %d: %s = %v, want damage", seed, name, err)
			}
		}
		if err := os.Remove(f.path); err != nil {
			t.Fatal(err)
		}
	}
	if noticed < 100 {
		t.Errorf("damage was noticed %d times of 1200, which is too few to have tested anything", noticed)
	}
}
