package data

import (
	"encoding/binary"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"go.etcd.io/bbolt"

	"cellar.local/glassrow/model"
)

// Ensure that check finds what is wrong, says where, and repairs what can be made again
// and nothing else.
func TestCellars_Check(t *testing.T) {
	key := func(id ...uint64) []byte {
		var k []byte
		for _, n := range id {
			k = binary.BigEndian.AppendUint64(k, n)
		}
		return k
	}
	replaced := func(in, k []byte, old, by string) func(*bbolt.Tx) error {
		return func(tx *bbolt.Tx) error {
			v := string(tx.Bucket(in).Get(k))
			changed := strings.Replace(v, old, by, 1)
			if changed == v {
				t.Fatalf("%s does not hold %s", v, old)
			}
			return tx.Bucket(in).Put(k, []byte(changed))
		}
	}
	cases := map[string]struct {
		hurt    func(*bbolt.Tx) error
		where   string
		what    string
		repairs bool
	}{
		"a stale figure":    {replaced(summariesBucket, key(1), `"volume_l":9.99`, `"volume_l":9.87`), "batch 1, Heather mead", `its summary is not what the journal says: "volume_l"`, true},
		"a stale sketch":    {replaced(summariesBucket, key(1), `"sketch":[109000`, `"sketch":[109100`), "batch 1", `"sketch"`, true},
		"a broken summary":  {func(tx *bbolt.Tx) error { return tx.Bucket(summariesBucket).Put(key(1), []byte("{")) }, "batch 1", "its summary cannot be read", true},
		"no summary":        {func(tx *bbolt.Tx) error { return tx.Bucket(summariesBucket).Delete(key(1)) }, "batch 1", "it has no summary", true},
		"a summary of none": {func(tx *bbolt.Tx) error { return tx.Bucket(summariesBucket).Put(key(7), []byte("{}")) }, "batch 7", "no such batch, but a summary", true},
		"a journal of none": {func(tx *bbolt.Tx) error { return tx.Bucket(entriesBucket).Put(key(7, 1), []byte("{}")) }, "batch 7", "no such batch, but a journal", false},
		"half a record":     {func(tx *bbolt.Tx) error { return tx.Bucket(entriesBucket).Put(key(1, 2), []byte(`{"kind":"pi`)) }, "batch 1, Heather mead, entry 2", "unexpected end", false},
		"an unknown kind":   {replaced(entriesBucket, key(1, 2), `"pitch"`, `"pinch"`), "batch 1, Heather mead, entry 2", `unknown kind "pinch"`, false},
		"an unknown vessel": {replaced(entriesBucket, key(1, 1), `"vessel":1`, `"vessel":5`), "batch 1, Heather mead, entry 1", "names vessel 5, which there is not", false},
		"a wild figure":     {replaced(entriesBucket, key(1, 3), `"gravity":1.06`, `"gravity":106`), "batch 1, Heather mead, entry 3", "gravity", false},
		"a broken vessel":   {replaced(vesselsBucket, key(2), `"N2"`, `"N 2"`), "vessel 2", "holds a space", false},
		"a label twice":     {replaced(vesselsBucket, key(2), `"N2"`, `"n1"`), "vessel 2", "two vessels n1", false},
		"an odd key":        {func(tx *bbolt.Tx) error { return tx.Bucket(batchesBucket).Put([]byte("odd"), []byte("{}")) }, "batches, key 6f6464", "not a key", false},
		"a missing bucket":  {func(tx *bbolt.Tx) error { return tx.DeleteBucket(vesselsBucket) }, "bucket vessels", "missing", false},
		"a flipped bit": {func(tx *bbolt.Tx) error {
			b := tx.Bucket(readingsBucket)
			k, v := b.Cursor().First()
			v = slices.Clone(v)
			v[len(v)/2] ^= 4
			return b.Put(slices.Clone(k), v)
		}, "readings of batch 1 from 2026-11-20 18:30 on", "checksum does not match", false},
		"a spell gone": {func(tx *bbolt.Tx) error {
			k, _ := tx.Bucket(spellsBucket).Cursor().First()
			return tx.Bucket(spellsBucket).Delete(slices.Clone(k))
		}, "spells of the devices", "is not what its readings make", true},
		"readings of none": {func(tx *bbolt.Tx) error {
			_, err := addPoints(tx, 9, []seriesPoint{{AtMS: 5, SGe5: 100_000}})
			return err
		}, "readings of batch 9", "no such batch", false},
	}
	for name, x := range cases {
		t.Run(name, func(t *testing.T) {
			c, s := shed(t, carryNow)
			readIn(t, s, 1, 5, 1.06)
			addSeries(t, s, 1, 600)
			wantSound(t, c, s.Path())
			if err := s.file.update(x.hurt); err != nil {
				t.Fatal(err)
			}
			faults, _, err := c.Check(s.Path(), false)
			if err != nil {
				t.Fatal(err)
			}
			at := slices.IndexFunc(faults, func(f model.Fault) bool {
				return strings.HasPrefix(f.Where, x.where) && strings.Contains(f.What, x.what) && f.Do != ""
			})
			if at < 0 {
				t.Fatalf("faults %+v, want one at %s: %s", faults, x.where, x.what)
			}
			if faults[at].Stale != x.repairs {
				t.Errorf("stale: %t, want %t", faults[at].Stale, x.repairs)
			}
			faults, _, err = c.Check(s.Path(), true)
			if err != nil || (len(faults) == 0) != x.repairs {
				t.Errorf("after the repair: %+v, %v", faults, err)
			}
			backup := filepath.Join(t.TempDir(), "b.db")
			if _, bad, err := c.Backup(s.Path(), backup, false); err != nil || (bad == 0) != x.repairs {
				t.Errorf("the backup has %d faults, %v", bad, err)
			}
			if x.repairs {
				return
			}
			if _, _, err := c.Restore(s.Path(), backup, false, carryNow); err == nil || !strings.Contains(err.Error(), "records cannot be read") {
				t.Errorf("it was restored unasked: %v", err)
			}
			if _, _, err := c.Restore(s.Path(), backup, true, carryNow); err != nil {
				t.Errorf("nor with force: %v", err)
			}
		})
	}
}

// Ensure that a damaged cellar, the usual reason for it, can be replaced by a backup, and
// is kept.
func TestCellars_Restore_Damaged(t *testing.T) {
	c, s := shed(t, carryNow)
	want := exported(t, c, s.Path())
	backup := filepath.Join(t.TempDir(), "b.db")
	if _, _, err := c.Backup(s.Path(), backup, false); err != nil {
		t.Fatal(err)
	}
	whole, err := os.ReadFile(s.Path())
	if err != nil {
		t.Fatal(err)
	}
	wild := slices.Clone(whole)
	for i := 3 * 4096; i < len(wild); i++ {
		wild[i] ^= byte(i * 7)
	}
	for name, bytes := range map[string][]byte{"cut short": whole[:len(whole)/2], "wild pages": wild, "only a head": whole[:5000], "empty": nil} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "cellar.db")
			if err := os.WriteFile(path, bytes, 0o600); err != nil {
				t.Fatal(err)
			}
			kept, _, err := c.Restore(path, backup, false, carryNow)
			if err != nil {
				t.Fatal(err)
			}
			if got := exported(t, c, path); got != want {
				t.Error("it is not the backup")
			}
			if bytes == nil {
				return
			}
			if old, err := os.ReadFile(kept); err != nil || string(old) != string(bytes) {
				t.Errorf("what was there is not kept: %v", err)
			}
		})
	}
	t.Run("but not another thing", func(t *testing.T) {
		path := filepath.Join(t.TempDir(), "photo")
		if err := os.WriteFile(path, []byte("a picture"), 0o600); err != nil {
			t.Fatal(err)
		}
		_, _, err := c.Restore(path, backup, false, carryNow)
		wantErr(t, "Restore", err, ErrNotCellar)
		if b, _ := os.ReadFile(path); string(b) != "a picture" {
			t.Error("it was touched")
		}
	})
}

// Ensure that a backup of an older schema comes back in today's.
func TestCellars_Restore_OldSchema(t *testing.T) {
	old := olderCellar(t, "schema1")
	before, err := os.ReadFile(old)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(old, 0o400); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "cellar.db")
	c := CellarsWith("")
	kept, held, err := c.Restore(path, old, false, carryNow)
	if err != nil || kept != "" || held.Batches == 0 {
		t.Fatalf("kept %q, %s, %v", kept, held, err)
	}
	wantSound(t, c, path)
	if after, _ := os.ReadFile(old); string(after) != string(before) {
		t.Error("the backup was changed")
	}
}

// Ensure that a repair does not put a summary in place that a device has outrun.
func TestStore_Repair_Outrun(t *testing.T) {
	s, b := floatingStore(t, t.TempDir()+"/cellar.db")
	if _, err := s.Record(model.DeviceReadings{Batch: b.ID, Readings: told(0, 300)}); err != nil {
		t.Fatal(err)
	}
	got, err := s.Batch(b.ID)
	if err != nil {
		t.Fatal(err)
	}
	rebuilt := model.Summarise(got).Foreseen(got)
	if _, err := s.Record(model.DeviceReadings{Batch: b.ID, Readings: told(300, 300)}); err != nil {
		t.Fatal(err)
	}
	if err := s.repair([]model.Summary{rebuilt}); err != nil {
		t.Fatal(err)
	}
	holds(t, s)
}
