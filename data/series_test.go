package data

import (
	"errors"
	"math"
	"path/filepath"
	"slices"
	"testing"

	"go.etcd.io/bbolt"
)

// inBucket runs fn on an empty bucket, in a transaction that is never
// committed.
func inBucket(t testing.TB, fn func(b *bbolt.Bucket)) {
	t.Helper()
	db, err := bbolt.Open(filepath.Join(t.TempDir(), "series.db"), 0o600, nil)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	done := errors.New("done")
	err = db.Update(func(tx *bbolt.Tx) error {
		b, err := tx.CreateBucket([]byte("readings"))
		if err != nil {
			return err
		}
		fn(b)
		return done
	})
	if err != done {
		t.Fatal(err)
	}
}

// everyQuarterHour returns n points of a falling gravity from start on.
func everyQuarterHour(start int64, n int) []seriesPoint {
	points := make([]seriesPoint, n)
	for i := range points {
		points[i] = seriesPoint{
			AtMS:       start + int64(i)*900_000 + int64(i*7919%1500),
			SGe5:       110_400 - int32(i*30) + int32(i*31%17),
			TempCentiC: 2000 + int16(i*13%90),
			HasTemp:    true,
		}
	}
	return points
}

func scanAll(t testing.TB, b *bbolt.Bucket, id uint64, from, to int64) []seriesPoint {
	t.Helper()
	var got []seriesPoint
	err := scanSeries(b, id, from, to, func(p seriesPoint) bool {
		got = append(got, p)
		return true
	})
	if err != nil {
		t.Fatal(err)
	}
	return got
}

func mustAppend(t testing.TB, b *bbolt.Bucket, id uint64, points ...seriesPoint) (added int) {
	t.Helper()
	added, err := appendSeries(b, id, points)
	if err != nil {
		t.Fatal(err)
	}
	return added
}

// pageSizes returns the number of points in each page of the bucket.
func pageSizes(t testing.TB, b *bbolt.Bucket) (sizes []int) {
	t.Helper()
	err := b.ForEach(func(k, v []byte) error {
		points, err := decodePage(nil, k, v)
		sizes = append(sizes, len(points))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return sizes
}

// Ensure that points come back in order of time whatever order they came in,
// and that an import may be repeated.
func TestSeries_Append(t *testing.T) {
	points := everyQuarterHour(1_760_000_000_000, 1000)
	want := slices.Clone(points)
	oneByOne := slices.Collect(slices.Chunk(points, 1))
	backwards := slices.Clone(oneByOne)
	slices.Reverse(backwards)
	var even, odd []seriesPoint
	for i, p := range points {
		if i%2 == 0 {
			even = append(even, p)
		} else {
			odd = append(odd, p)
		}
	}
	for name, batches := range map[string][][]seriesPoint{
		"at once":           {points},
		"one by one":        oneByOne,
		"backwards":         backwards,
		"every other first": {even, odd},
	} {
		t.Run(name, func(t *testing.T) {
			inBucket(t, func(b *bbolt.Bucket) {
				added := 0
				for _, batch := range batches {
					added += mustAppend(t, b, 7, batch...)
				}
				if added != len(points) {
					t.Errorf("added %d, want %d", added, len(points))
				}
				if again := mustAppend(t, b, 7, points...); again != 0 {
					t.Errorf("added %d the second time, want 0", again)
				}
				if got := scanAll(t, b, 7, math.MinInt64, math.MaxInt64); !slices.Equal(got, want) {
					t.Errorf("scanned %d points, which are not those appended", len(got))
				}
				if err := checkSeries(b); err != nil {
					t.Error(err)
				}
				if sizes := pageSizes(t, b); slices.Max(sizes) > maxPagePoints {
					t.Errorf("pages of %v points, want at most %d", sizes, maxPagePoints)
				}
			})
		})
	}
	if !slices.Equal(points, want) {
		t.Error("appendSeries has changed the caller's points")
	}
}

// Ensure that growth leaves full pages behind, and mending leaves no crumbs.
func TestSeries_PageSizes(t *testing.T) {
	points := everyQuarterHour(0, 3*maxPagePoints+9)
	inBucket(t, func(b *bbolt.Bucket) {
		for _, p := range points {
			mustAppend(t, b, 7, p)
		}
		const full, half = maxPagePoints, maxPagePoints / 2
		if got, want := pageSizes(t, b), []int{full, full, full, 9}; !slices.Equal(got, want) {
			t.Errorf("pages of %v points, want %v", got, want)
		}
		mustAppend(t, b, 7, seriesPoint{AtMS: points[full+5].AtMS + 1})
		if got, want := pageSizes(t, b), []int{full, half + 1, half, full, 9}; !slices.Equal(got, want) {
			t.Errorf("pages of %v points, want %v", got, want)
		}
	})
}

// Ensure that different readings of one moment are all kept, even if there are
// more than a page should hold, and equal ones once.
func TestSeries_SameTime(t *testing.T) {
	inBucket(t, func(b *bbolt.Bucket) {
		const at = 1_760_000_000_000
		cold := seriesPoint{AtMS: at, SGe5: 105_000}
		warm := seriesPoint{AtMS: at, SGe5: 105_000, TempCentiC: 2100, HasTemp: true}
		if added := mustAppend(t, b, 7, warm, cold, warm); added != 2 {
			t.Errorf("added %d, want 2", added)
		}
		// A temperature that is not there has no value to differ by.
		if added := mustAppend(t, b, 7, seriesPoint{AtMS: at, SGe5: 105_000, TempCentiC: 5}); added != 0 {
			t.Errorf("added %d, want 0", added)
		}
		for i := range int32(400) {
			mustAppend(t, b, 7, seriesPoint{AtMS: at, SGe5: i})
		}
		mustAppend(t, b, 7, everyQuarterHour(at-100*900_000, 300)...)
		if got := scanAll(t, b, 7, at, at); len(got) != 402 {
			t.Errorf("%d readings at that moment, want 402", len(got))
		}
		if err := checkSeries(b); err != nil {
			t.Error(err)
		}
	})
}

// Ensure that a scan starts and stops where it is told.
func TestSeries_Scan(t *testing.T) {
	points := everyQuarterHour(0, 600)
	inBucket(t, func(b *bbolt.Bucket) {
		mustAppend(t, b, 7, points...)
		if got := scanAll(t, b, 7, points[250].AtMS, points[520].AtMS); !slices.Equal(got, points[250:521]) {
			t.Errorf("scanned %d points, want 271, both ends included", len(got))
		}
		if got := scanAll(t, b, 7, points[250].AtMS+1, points[252].AtMS-1); !slices.Equal(got, points[251:252]) {
			t.Errorf("scanned %v, want the one between", got)
		}
		if got := scanAll(t, b, 7, 5, 4); got != nil {
			t.Errorf("scanned %v, want nothing before the start", got)
		}
		var got []seriesPoint
		err := scanSeries(b, 7, 0, math.MaxInt64, func(p seriesPoint) bool {
			got = append(got, p)
			return len(got) < 3
		})
		if err != nil || len(got) != 3 {
			t.Errorf("scanned %d points, %v, want to stop after 3", len(got), err)
		}
	})
}

// Ensure that neighbours in a bucket do not see each other.
func TestSeries_Neighbours(t *testing.T) {
	inBucket(t, func(b *bbolt.Bucket) {
		ids := []uint64{0, 1, 255, 256, math.MaxUint64 - 1, math.MaxUint64}
		for i, id := range ids {
			if _, ok, err := latestSeries(b, id); ok || err != nil {
				t.Errorf("latest of %d = %v, %v, want none yet", id, ok, err)
			}
			mustAppend(t, b, id, trickyPoints[:i+3]...)
		}
		for i, id := range ids {
			want := trickyPoints[:i+3]
			if got := scanAll(t, b, id, math.MinInt64, math.MaxInt64); !slices.Equal(got, want) {
				t.Errorf("series %d = %v, want %v", id, got, want)
			}
			if got, ok, err := latestSeries(b, id); got != want[len(want)-1] || !ok || err != nil {
				t.Errorf("latest of %d = %v, %v, %v, want %v", id, got, ok, err, want[len(want)-1])
			}
		}
	})
}

// Ensure that pages are found in a transaction that has just deleted many
// others: a cursor of bbolt that steps back stops at a leaf emptied before.
func TestSeries_BesideDeleted(t *testing.T) {
	const ids = 40
	f := newCellar(t)
	points := everyQuarterHour(1_000_000_000, 4*maxPagePoints)
	err := f.update(func(tx *bbolt.Tx) error {
		for id := range uint64(ids) {
			mustAppend(t, tx.Bucket(things), id, points...)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	err = f.update(func(tx *bbolt.Tx) error {
		b := tx.Bucket(things)
		for id := uint64(1); id < ids; id += 2 {
			for i := 0; i < len(points); i += maxPagePoints {
				if err := b.Delete(pageKey(id, points[i].AtMS)); err != nil {
					return err
				}
			}
		}
		for id := range uint64(ids) {
			last, ok, err := latestSeries(b, id)
			if err != nil {
				return err
			}
			if kept := id%2 == 0; ok != kept || ok && last != points[len(points)-1] {
				t.Errorf("latest of %d = %v, %v, want the last point of the even ones", id, last, ok)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// Ensure that a damaged page is told by everyone who reads it.
func TestSeries_Damaged(t *testing.T) {
	inBucket(t, func(b *bbolt.Bucket) {
		key, value := encodePage(7, trickyPoints)
		value[5] ^= 1
		if err := b.Put(key, value); err != nil {
			t.Fatal(err)
		}
		_, err := appendSeries(b, 7, trickyPoints)
		wantErr(t, "appendSeries", err, ErrDamaged)
		_, _, err = latestSeries(b, 7)
		wantErr(t, "latestSeries", err, ErrDamaged)
		err = scanSeries(b, 7, math.MinInt64, math.MaxInt64, func(seriesPoint) bool { return true })
		wantErr(t, "scanSeries", err, ErrDamaged)
		wantErr(t, "checkSeries", checkSeries(b), ErrDamaged)
	})
	t.Run("by pages that run into each other", func(t *testing.T) {
		inBucket(t, func(b *bbolt.Bucket) {
			points := everyQuarterHour(0, 10)
			for _, page := range [][]seriesPoint{points[:6], points[5:]} {
				if err := b.Put(encodePage(7, page)); err != nil {
					t.Fatal(err)
				}
			}
			wantErr(t, "checkSeries", checkSeries(b), ErrDamaged)
		})
	})
}
