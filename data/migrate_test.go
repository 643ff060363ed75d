package data

import (
	"errors"
	"strings"
	"testing"

	"go.etcd.io/bbolt"
)

// adds returns a migration that leaves its name in the file.
func adds(name string) migration {
	return func(tx *bbolt.Tx) error {
		return tx.Bucket(things).Put([]byte(name), []byte(name))
	}
}

// newer returns the same file as a later version of the program sees it.
func newer(f *boltFile, migrations ...migration) *boltFile {
	return newBoltFile(f.path, boltOptions{migrations: migrations})
}

func schemaOf(t *testing.T, f *boltFile) (m meta) {
	t.Helper()
	db, err := bbolt.Open(f.path, 0, nil)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	err = db.View(func(tx *bbolt.Tx) (err error) {
		m, err = readMeta(tx)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// Ensure that an older file is brought up to date by the first call, whether
// that reads or writes, each migration once and in order.
func TestBoltFile_Upgrade(t *testing.T) {
	want := func(tx *bbolt.Tx) error {
		for _, name := range []string{"second", "third"} {
			if tx.Bucket(things).Get([]byte(name)) == nil {
				t.Errorf("%s migration has not run", name)
			}
		}
		return nil
	}
	t.Run("when reading", func(t *testing.T) {
		f := newer(newCellar(t), adds("second"), adds("third"))
		if err := f.view(want); err != nil {
			t.Fatal(err)
		}
		if got := schemaOf(t, f); got != (meta{schema: 3, revision: 3}) {
			t.Errorf("meta = %+v, want schema 3 at revision 3", got)
		}
	})
	t.Run("when writing", func(t *testing.T) {
		f := newer(newCellar(t), adds("second"), adds("third"))
		if err := f.update(want); err != nil {
			t.Fatal(err)
		}
		if got := schemaOf(t, f); got != (meta{schema: 3, revision: 4}) {
			t.Errorf("meta = %+v, want schema 3 at revision 4", got)
		}
	})
	t.Run("from where it stopped", func(t *testing.T) {
		f := newCellar(t)
		ran := 0
		second := func(*bbolt.Tx) error { ran++; return nil }
		trouble := errors.New("trouble")
		err := newer(f, second, func(*bbolt.Tx) error { return trouble }).view(nothing)
		if !errors.Is(err, trouble) || !strings.Contains(err.Error(), "upgrade to schema 3") {
			t.Errorf("view = %v, want trouble with schema 3", err)
		}
		if got := schemaOf(t, f); got.schema != 2 {
			t.Errorf("schema = %d, want 2", got.schema)
		}
		if err := newer(f, second, adds("third")).view(nothing); err != nil {
			t.Error(err)
		}
		if ran != 1 {
			t.Errorf("first migration ran %d times, want once", ran)
		}
	})
	t.Run("not at all when the file is new", func(t *testing.T) {
		f := newBoltFile(t.TempDir()+"/cellar.db", boltOptions{migrations: []migration{adds("second")}})
		if err := f.create(fillThings); err != nil {
			t.Fatal(err)
		}
		if got := schemaOf(t, f); got != (meta{schema: 2, revision: 1}) {
			t.Errorf("meta = %+v, want schema 2 at revision 1", got)
		}
	})
}

// Ensure that an older program refuses a newer file, names both, and leaves it
// as it is.
func TestBoltFile_Newer(t *testing.T) {
	f := newCellar(t)
	if err := newer(f, adds("second")).update(nothing); err != nil {
		t.Fatal(err)
	}
	before := schemaOf(t, f)
	for call, err := range map[string]error{"view": f.view(nothing), "update": f.update(nothing)} {
		wantErr(t, call, err, ErrNewer)
		if !strings.Contains(err.Error(), "its schema is 2, this program knows up to 1") {
			t.Errorf("%s = %v, want both numbers", call, err)
		}
	}
	if after := schemaOf(t, f); after != before {
		t.Errorf("meta = %+v, want %+v as before", after, before)
	}
}
