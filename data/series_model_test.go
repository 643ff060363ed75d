package data

import (
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"testing"

	"go.etcd.io/bbolt"
	"pgregory.net/rapid"
)

// Few different moments and values, so that they collide and pages have to be
// split, and now and then any at all.
var (
	anyID     = rapid.SampledFrom([]uint64{0, 1, 2, math.MaxUint64})
	anyMoment = rapid.OneOf(rapid.Int64Range(0, 2000), rapid.Int64Range(990, 1010), rapid.Int64())
	anyPoint  = rapid.Custom(func(t *rapid.T) seriesPoint {
		return seriesPoint{
			AtMS:       anyMoment.Draw(t, "at"),
			SGe5:       rapid.OneOf(rapid.Int32Range(99_900, 99_903), rapid.Int32()).Draw(t, "gravity"),
			TempCentiC: rapid.OneOf(rapid.Int16Range(2000, 2001), rapid.Int16()).Draw(t, "temperature"),
			HasTemp:    rapid.Bool().Draw(t, "has temperature"),
		}
	})
	anyPoints = rapid.Custom(func(t *rapid.T) []seriesPoint {
		points := rapid.SliceOfN(anyPoint, 0, 40).Draw(t, "points")
		if rapid.Bool().Draw(t, "and a log") {
			from := rapid.Int64Range(0, 600).Draw(t, "from") * 900_000
			points = append(points, everyQuarterHour(from, 300)...)
		}
		return points
	})
)

// seriesModel is what a bucket of series should hold: a sorted list of each,
// every point once.
type seriesModel map[uint64][]seriesPoint

// A bucket behaves as the model does, whatever is appended, in whatever order,
// in one transaction or in many.
func TestSeries_Model(t *testing.T) {
	db, err := bbolt.Open(filepath.Join(t.TempDir(), "series.db"), 0o600, &bbolt.Options{NoSync: true, NoGrowSync: true})
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	runs := 0
	rapid.Check(t, func(t *rapid.T) {
		runs++
		bucket, model := fmt.Append(nil, runs), seriesModel{}
		for range rapid.IntRange(1, 4).Draw(t, "transactions") {
			err := db.Update(func(tx *bbolt.Tx) error {
				b, err := tx.CreateBucketIfNotExists(bucket)
				if err != nil {
					return err
				}
				for range rapid.IntRange(1, 5).Draw(t, "appends") {
					model.append(t, b)
				}
				model.compare(t, b, anyID.Draw(t, "id"))
				return nil
			})
			if err != nil {
				t.Fatal(err)
			}
		}
		err := db.View(func(tx *bbolt.Tx) error {
			for id := range model {
				model.compare(t, tx.Bucket(bucket), id)
			}
			return checkSeries(tx.Bucket(bucket))
		})
		if err != nil {
			t.Fatal(err)
		}
	})
}

// append adds points to the bucket and the model alike.
func (m seriesModel) append(t *rapid.T, b *bbolt.Bucket) {
	id, points := anyID.Draw(t, "id"), anyPoints.Draw(t, "points")
	before := len(m[id])
	m[id] = tidy(m[id], points)
	added, err := appendSeries(b, id, points)
	if want := len(m[id]) - before; added != want || err != nil {
		t.Fatalf("appendSeries = %d, %v, want %d", added, err, want)
	}
}

// compare compares any stretch of a series, and its end, with the model.
func (m seriesModel) compare(t *rapid.T, b *bbolt.Bucket, id uint64) {
	from, to := anyMoment.Draw(t, "from"), anyMoment.Draw(t, "to")
	if rapid.Bool().Draw(t, "all") {
		from, to = math.MinInt64, math.MaxInt64
	}
	var want, got []seriesPoint
	for _, p := range m[id] {
		if from <= p.AtMS && p.AtMS <= to {
			want = append(want, p)
		}
	}
	err := scanSeries(b, id, from, to, func(p seriesPoint) bool {
		got = append(got, p)
		return true
	})
	if err != nil || !slices.Equal(got, want) {
		t.Fatalf("scanSeries(%d, %d, %d) = %v, %v, want %v", id, from, to, got, err, want)
	}
	latest, ok, err := latestSeries(b, id)
	if err != nil || ok != (len(m[id]) > 0) || ok && latest != m[id][len(m[id])-1] {
		t.Fatalf("latestSeries(%d) = %v, %v, %v", id, latest, ok, err)
	}
}
