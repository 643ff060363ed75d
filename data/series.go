package data

import (
	"bytes"
	"math"
	"slices"

	"go.etcd.io/bbolt"
)

// A series is the dense readings of one thing, named by a number. Any number
// of series share a bucket, which must hold nothing else. Between the points of
// two pages of a series there is always a step in time: points of the same
// moment share a page, so that its first time can be its key.

// maxPagePoints is how many points a page may hold before it is split. Each
// append rewrites the last page, and each scan starts by decoding a whole one;
// 256 keeps both at a few microseconds. Only more points than that at a single
// moment can make a page longer.
const maxPagePoints = 256

// appendSeries adds points, in any order, to series id, and returns how many
// were new. A point that is there already, alike in time and values, is not
// stored twice, so an import can be repeated; one with the time of another but
// other values is kept beside it.
func appendSeries(b *bbolt.Bucket, id uint64, points []seriesPoint) (added int, err error) {
	b.FillPercent = 0.9 // series grow at their ends, so half-empty leaves would mostly stay that way
	for rest := tidy(points); len(rest) > 0; {
		page, err := pageFor(b.Cursor(), id, rest[0].AtMS)
		if err != nil {
			return added, err
		}
		n := len(rest)
		if !page.last {
			if i := slices.IndexFunc(rest, func(p seriesPoint) bool { return p.AtMS >= page.end }); i >= 0 {
				n = i
			}
		}
		merged := tidy(page.points, rest[:n])
		rest = rest[n:]
		if len(merged) == len(page.points) {
			continue
		}
		added += len(merged) - len(page.points)
		if err := replacePage(b, id, page, merged); err != nil {
			return added, err
		}
	}
	return added, nil
}

// scanSeries calls fn with each point of series id from fromMS to toMS, both
// included, in order of time, until fn returns false.
func scanSeries(b *bbolt.Bucket, id uint64, fromMS, toMS int64, fn func(seriesPoint) bool) error {
	c := b.Cursor()
	k, v := seekPage(c, id, fromMS)
	var points []seriesPoint // one buffer for all pages
	for ; k != nil; k, v = c.Next() {
		sid, first, err := splitKey(k)
		if err != nil {
			return err
		}
		if sid != id || first > toMS {
			return nil
		}
		if points, err = decodePage(points[:0], k, v); err != nil {
			return err
		}
		for _, p := range points {
			if p.AtMS > toMS || p.AtMS >= fromMS && !fn(p) {
				return nil
			}
		}
	}
	return nil
}

// latestSeries returns the last point of series id; ok is false when it has
// none. Of several at that moment it returns the one that sorts last.
func latestSeries(b *bbolt.Bucket, id uint64) (p seriesPoint, ok bool, err error) {
	k, v := seekPage(b.Cursor(), id, math.MaxInt64)
	if k == nil {
		return seriesPoint{}, false, nil
	}
	points, err := decodePage(nil, k, v)
	if err != nil {
		return seriesPoint{}, false, err
	}
	return points[len(points)-1], true, nil
}

// replacePage puts points where page was, as one page or several.
func replacePage(b *bbolt.Bucket, id uint64, page seriesPage, points []seriesPoint) error {
	if page.key != nil && !bytes.Equal(page.key, pageKey(id, points[0].AtMS)) { // it starts earlier now
		if err := b.Delete(page.key); err != nil {
			return err
		}
	}
	size := maxPagePoints // leave full pages behind where the series grows
	if !page.last {       // and room for more of the same where it is mended
		pages := (len(points) + maxPagePoints - 1) / maxPagePoints
		size = (len(points) + pages - 1) / pages
	}
	for len(points) > 0 {
		cut := min(size, len(points))
		for cut < len(points) && points[cut].AtMS == points[cut-1].AtMS {
			cut++
		}
		key, value := encodePage(id, points[:cut])
		if err := b.Put(key, value); err != nil {
			return err
		}
		points = points[cut:]
	}
	return nil
}
