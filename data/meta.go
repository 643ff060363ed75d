package data

import (
	"encoding/binary"
	"errors"
	"fmt"

	"go.etcd.io/bbolt"
)

// The meta bucket is the one thing that every version of the program finds in
// the same place, whatever became of the rest.
//
//	magic     "glassrow cellar"      this is ours
//	schema    4 bytes, big-endian    the layout of the rest, from 1
//	revision  8 bytes, big-endian    counts updates, from 1
var (
	metaBucket  = []byte("meta")
	magicKey    = []byte("magic")
	schemaKey   = []byte("schema")
	revisionKey = []byte("revision")
)

const magic = "glassrow cellar"

// errOlder is returned when the file waits for an upgrade. It never leaves the
// package: view and update know what to do.
var errOlder = errors.New("made by an older program")

// meta is the content of the meta bucket.
type meta struct {
	schema   uint32
	revision uint64
}

// readMeta returns what the file says about itself, or ErrNotCellar when it
// says nothing, or ErrDamaged when it makes no sense.
func readMeta(tx *bbolt.Tx) (meta, error) {
	b := tx.Bucket(metaBucket)
	if b == nil || string(b.Get(magicKey)) != magic {
		return meta{}, ErrNotCellar
	}
	schema, revision := b.Get(schemaKey), b.Get(revisionKey)
	if len(schema) != 4 || len(revision) != 8 {
		return meta{}, fmt.Errorf("%w: schema %x, revision %x", ErrDamaged, schema, revision)
	}
	m := meta{binary.BigEndian.Uint32(schema), binary.BigEndian.Uint64(revision)}
	if m.schema == 0 {
		return meta{}, fmt.Errorf("%w: schema 0", ErrDamaged)
	}
	return m, nil
}

// write puts m into the file, which may be new.
func (m meta) write(tx *bbolt.Tx) error {
	b, err := tx.CreateBucketIfNotExists(metaBucket)
	if err != nil {
		return err
	}
	return errors.Join(
		b.Put(magicKey, []byte(magic)),
		b.Put(schemaKey, binary.BigEndian.AppendUint32(nil, m.schema)),
		b.Put(revisionKey, binary.BigEndian.AppendUint64(nil, m.revision)),
	)
}

// bump writes m with the next revision.
func (m meta) bump(tx *bbolt.Tx) error {
	m.revision++
	return m.write(tx)
}

// admit compares the file's schema with the program's. It returns ErrNewer,
// naming both, or errOlder, or nil when they are the same.
func (m meta) admit(program uint32) error {
	switch {
	case m.schema > program:
		return fmt.Errorf("%w: its schema is %d, this program knows up to %d", ErrNewer, m.schema, program)
	case m.schema < program:
		return errOlder
	}
	return nil
}
