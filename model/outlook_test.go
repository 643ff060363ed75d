package model

import (
	"testing"
	"time"

	"cellar.local/glassrow/calc"
)

// Ensure that a mead half-way is foreseen to end where such musts end: a honey must of
// 1.100 under a wine yeast between 0.990 and 1.012 (kinetics notes, section 4: rms
// error 0.009 in gravity when 40 % of the fall is done).
func TestForesee(t *testing.T) {
	j := brew(Mead, 10, 1.100, WineYeast).read(2, 1.092, 4, 1.078, 6, 1.062, 8, 1.048, 10, 1.037)
	o, err := Foresee(j.Batch, endOfTime)
	if err != nil || !o.Known {
		t.Fatalf("outlook %+v, error %v", o, err)
	}
	if !(o.Final.Low <= o.Final.Median && o.Final.Median <= o.Final.High) || o.Final.Median < 0.985 || o.Final.Median > 1.02 {
		t.Errorf("final gravity %+v", o.Final)
	}
	if !o.Finish.Median.After(onDay(10)) || o.Finish.Low.After(o.Finish.Median) || o.Finish.Median.After(o.Finish.High) || o.Finish.Median.After(onDay(80)) {
		t.Errorf("finish %+v", o.Finish)
	}
	if len(o.Curve) < 10 || !o.Curve[0].At.Equal(onDay(10)) {
		t.Fatalf("curve %+v", o.Curve)
	}
	wantNear(t, "gravity by the curve now", o.Curve[0].Median.Points(), 37, 2)
	last := o.Curve[0]
	for _, a := range o.Curve {
		if !a.At.Equal(last.At) && !a.At.After(last.At) || a.Median > last.Median+1e-6 || a.Low > a.Median || a.High < a.Median {
			t.Errorf("%+v after %+v", a, last)
		}
		last = a
	}
	again, err := Foresee(j.Batch, endOfTime)
	if err != nil || again.Final != o.Final || again.Finish != o.Finish {
		t.Errorf("the same journal gives %+v, then %+v", o.Final, again.Final)
	}
}

// Ensure that it says when and why it knows nothing.
func TestForesee_KnowsNothing(t *testing.T) {
	for why, j := range map[string]*journal{
		"no yeast yet":                               unpitched(Mead, Must{Vessel: 1, Volume: 10, Gravity: 1.1}),
		"too few readings since the pitch":           brew(Mead, 10, 1.1, WineYeast).read(2, 1.09, 3, 1.08),
		"it has hardly begun":                        brew(Mead, 10, 1.1, WineYeast).read(0.2, 1.1, 0.5, 1.0995, 1, 1.099),
		"it has come to rest":                        brew(Beer, 20, 1.050, AleYeast).read(2, 1.030, 4, 1.016, 7, 1.012, 10, 1.012, 14, 1.012),
		"it was stabilised":                          brew(Wine, 10, 1.090, WineYeast).read(3, 1.050, 6, 1.020).on(6, Stabilise{Filtered: true}).read(8, 1.019),
		"it stands":                                  brew(Mead, 10, 1.100, WineYeast).read(4, 1.070, 9, 1.030, 12, 1.030, 15, 1.030),
		"it is bottled":                              brew(Mead, 10, 1.1, WineYeast).on(30, Bottle{Count: 13, Size: 0.75}),
		"it does what the journal does not explain":  brew(Wine, 10, 1.070, WineYeast).read(1, 1.076),
		"too few readings since 9 Mar":               brew(Mead, 10, 1.1, HighYeast).read(2, 1.09, 5, 1.06, 8, 1.04).on(8, added(honey, 500, "feed")).read(9, 1.048),
		"when its yeast went in is not in the journ": unpitched(Cider, Must{Vessel: 1, Volume: 20, Gravity: 1.050}).read(3, 1.049, 7, 1.040, 12, 1.020),
	} {
		o, err := Foresee(j.Batch, endOfTime)
		if err != nil || o.Known || len(o.Why) < len(why) || o.Why[:len(why)] != why {
			t.Errorf("outlook known %v, why %q (%v), want %q", o.Known, o.Why, err, why)
		}
	}
	if _, err := Foresee(Batch{ID: 1}, endOfTime); err == nil {
		t.Error("a batch without a must has an outlook")
	}
}

// Ensure that a feed is an event: the sugar that came later is part of what is foreseen,
// and what was learnt of the yeast before it is kept.
func TestForesee_RestartsFromEvents(t *testing.T) {
	fed := brew(Mead, 10, 1.090, HighYeast).read(1, 1.088, 2, 1.080, 4, 1.062, 6, 1.046, 8, 1.033).on(8, added(honey, 1000, "feed"))
	sg := float64(fed.replay(t).SG())
	fed.read(10, sg-0.012, 12, sg-0.022, 14, sg-0.030)
	o, err := Foresee(fed.Batch, endOfTime)
	if err != nil || !o.Known {
		t.Fatalf("outlook %+v, error %v", o, err)
	}
	if o.Final.Median < 0.985 || o.Final.Median > 1.02 || o.Final.High-o.Final.Low > 0.04 {
		t.Errorf("final gravity %+v", o.Final)
	}
	racked := brew(Wine, 10, 1.090, WineYeast).read(1, 1.086, 2, 1.072, 3, 1.055, 4, 1.040).on(4, Rack{To: 2}).read(5, 1.029, 6, 1.020, 8, 1.009)
	if o, err := Foresee(racked.Batch, endOfTime); err != nil || !o.Known || o.Final.Median > 1.003 || o.Final.Median < 0.985 {
		t.Errorf("racked: %+v, %v", o.Final, err)
	}
}

// BenchmarkForesee_30Readings is what a look at a batch costs off the keyboard loop.
func BenchmarkForesee_30Readings(b *testing.B) {
	j := brew(Mead, 19, 1.100, WineYeast)
	p := calc.TypicalUptake(20, 140, 14.5)
	must, err := calc.LiquidOf(1, 1.1, 0, calc.HoneySolids())
	if err != nil {
		b.Fatal(err)
	}
	rows, err := p.Simulate(must, calc.EveryHours(12, 360)...)
	if err != nil {
		b.Fatal(err)
	}
	for _, r := range rows[1:] {
		j.Entries = append(j.Entries, Entry{ID: EntryID(len(j.Entries) + 1), At: day0.Add(time.Duration(float64(r.Time) * float64(time.Hour))), Body: gravity(float64(r.Figures.SG))})
	}
	for b.Loop() {
		if o, err := Foresee(j.Batch, endOfTime); err != nil || !o.Known {
			b.Fatal(err, o.Why)
		}
	}
}
