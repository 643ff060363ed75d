package data

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"runtime"
	"sync"

	"go.etcd.io/bbolt"

	"cellar.local/glassrow/model"
)

// summariesIn returns the summaries as they are kept, in the order of their ids. The
// transaction is read by this goroutine alone; the decoding, most of the time that a
// shelf of a thousand vessels takes, is shared out.
func summariesIn(tx *bbolt.Tx) ([]model.Summary, error) {
	b, err := bucket(tx, summariesBucket)
	if err != nil {
		return nil, err
	}
	var keys, values [][]byte
	err = b.ForEach(func(k, v []byte) error {
		if len(k) != 8 {
			return fmt.Errorf("%w: %s has a key %x", ErrDamaged, summariesBucket, k)
		}
		keys, values = append(keys, bytes.Clone(k)), append(values, bytes.Clone(v))
		return nil
	})
	if err != nil {
		return nil, err
	}
	all := make([]model.Summary, len(keys))
	errs := make([]error, len(keys))
	var workers sync.WaitGroup
	n := min(runtime.GOMAXPROCS(0), 1+len(keys)/leastShare)
	for w := range n {
		workers.Go(func() {
			for i := w; i < len(keys); i += n {
				var r summaryRecord
				errs[i] = unmarshal(summariesBucket, keys[i], values[i], &r)
				all[i] = toSummary(model.BatchID(binary.BigEndian.Uint64(keys[i])), r)
			}
		})
	}
	workers.Wait()
	return all, errors.Join(errs...)
}

// leastShare is how many summaries are worth another goroutine.
const leastShare = 50
