package data

import (
	"fmt"

	"go.etcd.io/bbolt"
)

// checkSeries decodes every page of every series in the bucket and returns
// ErrDamaged when one cannot be read or runs into the next.
func checkSeries(b *bbolt.Bucket) error {
	var (
		points []seriesPoint
		id     uint64 // of the page before
	)
	return b.ForEach(func(k, v []byte) error {
		sid, first, err := splitKey(k)
		if err != nil {
			return err
		}
		if n := len(points); n > 0 && sid == id && points[n-1].AtMS >= first {
			return fmt.Errorf("%w: series page %x starts before the last one ends", ErrDamaged, k)
		}
		id = sid
		points, err = decodePage(points[:0], k, v)
		return err
	})
}
