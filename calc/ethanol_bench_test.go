package calc

import "testing"

func BenchmarkEthanolDensity(b *testing.B) {
	b.ReportAllocs()
	p := 0.0
	for b.Loop() {
		p = nextUpTo(p, 0.001, 0.2)
		sink = ethanolDensity(p, 25)
	}
}

func BenchmarkEthanolDensity20(b *testing.B) {
	b.ReportAllocs()
	p := 0.0
	for b.Loop() {
		p = nextUpTo(p, 0.001, 0.2)
		sink = ethanolDensity20(p)
	}
}

func BenchmarkEthanolRelative20(b *testing.B) {
	b.ReportAllocs()
	c := 0.0
	for b.Loop() {
		c = nextUpTo(c, 1, 160)
		sink = ethanolRelative20(c)
	}
}
