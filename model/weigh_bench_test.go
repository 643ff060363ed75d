package model

import "testing"

// BenchmarkWeighing_With is what each weighing in a journal costs when it is shown.
func BenchmarkWeighing_With(b *testing.B) {
	j := brew(Mead, 18, 1.080, WineYeast).on(0.01, Reading{Mass: 25800}).on(9, Reading{Mass: 25000})
	s, err := Replay(j.Batch, endOfTime)
	if err != nil {
		b.Fatal(err)
	}
	w, _ := s.LastWeighing()
	for b.Loop() {
		if w.With(tareOf).SG == 0 {
			b.Fatal("no gravity by weight")
		}
	}
}
