package calc

import "testing"

// sink keeps the compiler from dropping what a benchmark computes.
var sink float64

func BenchmarkSucroseDensity(b *testing.B) {
	b.ReportAllocs()
	w := 0.0
	for b.Loop() {
		w = nextUpTo(w, 0.001, 0.3)
		sink = sucroseDensity(w, 25)
	}
}

func BenchmarkSucroseDensity20(b *testing.B) {
	b.ReportAllocs()
	w := 0.0
	for b.Loop() {
		w = nextUpTo(w, 0.001, 0.3)
		sink = sucroseDensity20(w)
	}
}

func BenchmarkSucroseRelative20(b *testing.B) {
	b.ReportAllocs()
	c := 0.0
	for b.Loop() {
		c = nextUpTo(c, 1, 400)
		sink = sucroseRelative20(c)
	}
}

func BenchmarkBrixOfSG(b *testing.B) {
	b.ReportAllocs()
	g := 0.0
	for b.Loop() {
		g = nextUpTo(g, 0.001, 0.15)
		x, err := BrixOfSG(SG(0.99 + g))
		if err != nil {
			b.Fatal(err)
		}
		sink = float64(x)
	}
}

// nextUpTo walks x through 0..most in steps, so that no call is like the last.
func nextUpTo(x, step, most float64) float64 {
	if x += step; x > most {
		return 0
	}
	return x
}
