package data

import (
	"fmt"

	"go.etcd.io/bbolt"
)

// A migration brings a file from one schema to the next. It works on bytes
// alone: the record types of its day have moved on since, so it brings copies
// of those it needs. It must not assume that it runs only once in the life of
// a process.
type migration func(*bbolt.Tx) error

// schema is the number of the layout this program reads and writes. A file is
// created with it; the first migration leads from schema 1 to schema 2.
func (f *boltFile) schema() uint32 { return 1 + uint32(len(f.migrations)) }

// upgrade runs the migrations that the file has not had, under the exclusive
// lock and each in a transaction of its own together with its schema number. A
// kill in the middle leaves a file of some schema in between, and the next
// session goes on from there. On a file of today's schema it does nothing, and
// costs a look at one page.
//
// It happens on the first update, and on the first view too, since readers
// know one layout only. From then on older programs refuse the file.
func (f *boltFile) upgrade(h *handle) error {
	for {
		var m meta
		err := h.transact(reading, func(tx *bbolt.Tx) (err error) {
			if m, err = readMeta(tx); err != nil {
				return err
			}
			return m.admit(f.schema())
		})
		if err == nil {
			return nil
		}
		if err != errOlder {
			return describe("open", f.path, writing, err)
		}
		step := f.migrations[m.schema-1]
		m.schema++
		err = h.transact(writing, func(tx *bbolt.Tx) error {
			if err := step(tx); err != nil {
				return err
			}
			return m.bump(tx)
		})
		if err != nil {
			return describe(fmt.Sprintf("upgrade to schema %d", m.schema), f.path, writing, err)
		}
	}
}
