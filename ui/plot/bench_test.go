package plot_test

import (
	"math"
	"testing"

	"cellar.local/glassrow/ui/plot"
)

// The target is a tenth of a millisecond: a chart must not be felt in a frame.
func BenchmarkChart(b *testing.B) {
	c := ferment()
	c.Series[0].Points = nil
	for i := range 100 {
		x := float64(i) * 0.13
		c.Series[0].Points = append(c.Series[0].Points, plot.Point{X: x, Y: 1.012 + 0.088/(1+math.Exp((x-5)/2.1))})
	}
	styled := func(_ plot.Role, text string) string { return "\x1b[33m" + text + "\x1b[0m" }
	for _, set := range sets {
		b.Run(set.String(), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				c.Draw(120, 30, plot.Options{Runes: set})
			}
		})
	}
	b.Run("painted", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			c.Draw(120, 30, plot.Options{Paint: styled})
		}
	})
	b.Run("stack", func(b *testing.B) {
		b.ReportAllocs()
		c := sugars()
		for b.Loop() {
			c.Draw(120, 30, plot.Options{})
		}
	})
}

// The target is 2 µs: the shelf draws one for every vessel.
func BenchmarkSparkline(b *testing.B) {
	values := make([]float64, 60)
	for i := range values {
		values[i] = 1.012 + 0.088/(1+math.Exp((float64(i)-20)/6))
	}
	for _, set := range sets {
		b.Run(set.String(), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				plot.Sparkline(values, 16, plot.SparkOptions{Runes: set})
			}
		})
	}
}

func BenchmarkBar(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		plot.Bar(left, 0, 40, plot.Options{})
	}
}
