package data

import (
	"math"
	"testing"

	"go.etcd.io/bbolt"
)

// 100,000 points at once: an import of three years of quarter hours.
func BenchmarkSeries_Load(b *testing.B) {
	points := everyQuarterHour(1_760_000_000_000, 100_000)
	for b.Loop() {
		inBucket(b, func(bucket *bbolt.Bucket) { mustAppend(b, bucket, 7, points...) })
	}
}

// One more point at the end, as a live instrument sends it.
func BenchmarkSeries_Append(b *testing.B) {
	points := everyQuarterHour(1_760_000_000_000, 100_000)
	inBucket(b, func(bucket *bbolt.Bucket) {
		for i := 0; b.Loop(); i++ {
			mustAppend(b, bucket, 7, points[i%len(points)])
		}
	})
}

// All of 100,000 points.
func BenchmarkSeries_Scan(b *testing.B) {
	inBucket(b, func(bucket *bbolt.Bucket) {
		mustAppend(b, bucket, 7, everyQuarterHour(1_760_000_000_000, 100_000)...)
		for b.Loop() {
			n := 0
			err := scanSeries(bucket, 7, math.MinInt64, math.MaxInt64, func(seriesPoint) bool { n++; return true })
			if err != nil || n != 100_000 {
				b.Fatal(n, err)
			}
		}
	})
}

// The last point of one series among a thousand.
func BenchmarkSeries_Latest(b *testing.B) {
	inBucket(b, func(bucket *bbolt.Bucket) {
		for id := range uint64(1000) {
			mustAppend(b, bucket, id, everyQuarterHour(1_760_000_000_000, 300)...)
		}
		for i := uint64(0); b.Loop(); i++ {
			if _, ok, err := latestSeries(bucket, i%1000); !ok || err != nil {
				b.Fatal(ok, err)
			}
		}
	})
}

// The room that a hundred series take which grow side by side, in the file and
// in the pages of it that are in use.
func BenchmarkSeries_Size(b *testing.B) {
	const ids, n, step = 100, 5000, 50
	points := everyQuarterHour(1_760_000_000_000, n)
	for b.Loop() {
		f := newCellar(b)
		for i := 0; i < n; i += step {
			err := f.update(func(tx *bbolt.Tx) error {
				for id := range uint64(ids) {
					mustAppend(b, tx.Bucket(things), id, points[i:i+step]...)
				}
				return nil
			})
			if err != nil {
				b.Fatal(err)
			}
		}
		err := f.view(func(tx *bbolt.Tx) error {
			stats := tx.Bucket(things).Stats()
			b.ReportMetric(float64(tx.Size())/(ids*n), "file-B/point")
			b.ReportMetric(float64(stats.LeafAlloc+stats.BranchAlloc)/(ids*n), "used-B/point")
			return nil
		})
		if err != nil {
			b.Fatal(err)
		}
	}
}
