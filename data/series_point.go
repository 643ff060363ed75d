package data

import (
	"cmp"
	"slices"
)

// A seriesPoint is one reading of an instrument that reports every few minutes.
type seriesPoint struct {
	AtMS       int64 // Unix time in milliseconds
	SGe5       int32 // specific gravity × 100000, rounded
	TempCentiC int16 // °C × 100; 0 unless HasTemp
	HasTemp    bool
}

// comparePoints orders points by time. Points of one time are ordered by their
// values, for no reason but that there has to be an order: two instruments, or
// one with a bad clock, may well report at the same moment, and both are kept.
func comparePoints(a, b seriesPoint) int {
	return cmp.Or(
		cmp.Compare(a.AtMS, b.AtMS),
		cmp.Compare(a.SGe5, b.SGe5),
		cmp.Compare(a.warmth(), b.warmth()),
	)
}

// warmth is the temperature as one number, with none below all there are.
func (p seriesPoint) warmth() int {
	if !p.HasTemp {
		return -1 << 16
	}
	return int(p.TempCentiC)
}

// tidy returns the points of all the slices in order and each once, in a slice
// of its own.
func tidy(points ...[]seriesPoint) []seriesPoint {
	all := slices.Concat(points...)
	for i := range all {
		if !all[i].HasTemp {
			all[i].TempCentiC = 0
		}
	}
	slices.SortFunc(all, comparePoints)
	return slices.Compact(all)
}
