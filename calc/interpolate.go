package calc

import "slices"

// bilinear returns the value at (x, y) of a table whose rows stand at xs and whose
// columns stand at ys, both rising, at least two of each. A point outside takes the
// value at the nearest edge; at a point of the table the value is exact.
func bilinear(xs, ys []float64, at func(i, j int) float64, x, y float64) float64 {
	i, s := bracket(xs, x)
	j, u := bracket(ys, y)
	low := at(i, j)*(1-u) + at(i, j+1)*u
	high := at(i+1, j)*(1-u) + at(i+1, j+1)*u
	return low*(1-s) + high*s
}

// bracket returns the step of xs that x falls in, and how far along it is, 0 to 1.
func bracket(xs []float64, x float64) (i int, share float64) {
	for i < len(xs)-2 && x >= xs[i+1] {
		i++
	}
	return i, min(max((x-xs[i])/(xs[i+1]-xs[i]), 0), 1)
}

// insertRising returns xs with x in its place, once.
func insertRising(xs []float64, x float64) []float64 {
	i, there := slices.BinarySearch(xs, x)
	if there {
		return xs
	}
	return slices.Insert(xs, i, x)
}
