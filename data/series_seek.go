package data

import (
	"bytes"
	"math"

	"go.etcd.io/bbolt"
)

// seekPage puts c on the page of series id where a point at atMS belongs: the
// last page that starts no later, or else the first. It returns nil when the
// series has no pages.
func seekPage(c *bbolt.Cursor, id uint64, atMS int64) (key, value []byte) {
	want, start := pageKey(id, atMS), pageKey(id, math.MinInt64)
	k, v := c.Seek(want)
	if bytes.Equal(k, want) {
		return k, v
	}
	if k == nil {
		k, v = c.Last()
	} else {
		k, v = c.Prev()
	}
	if inSeries(k, id) {
		return k, v
	}
	// Either the series starts later than atMS, or Prev gave up early: it does,
	// at a leaf that this transaction has emptied. Next does not.
	var best []byte
	for k, _ = c.Seek(start); inSeries(k, id) && (best == nil || bytes.Compare(k, want) <= 0); k, _ = c.Next() {
		best = k
	}
	if best == nil {
		return nil, nil
	}
	return c.Seek(best)
}

// inSeries reports whether key is a page key of series id.
func inSeries(key []byte, id uint64) bool {
	sid, _, err := splitKey(key)
	return err == nil && sid == id
}

// seriesPage is a page taken out to be changed.
type seriesPage struct {
	key    []byte // nil when the series has no page yet
	points []seriesPoint
	last   bool  // no page follows
	end    int64 // else: where the next page starts
}

// pageFor returns the page where a point at atMS belongs.
func pageFor(c *bbolt.Cursor, id uint64, atMS int64) (seriesPage, error) {
	k, v := seekPage(c, id, atMS)
	if k == nil {
		return seriesPage{last: true}, nil
	}
	points, err := decodePage(nil, k, v)
	if err != nil {
		return seriesPage{}, err
	}
	page := seriesPage{key: bytes.Clone(k), points: points, last: true}
	if next, _ := c.Next(); inSeries(next, id) {
		page.last = false
		_, page.end, err = splitKey(next)
	}
	return page, err
}
