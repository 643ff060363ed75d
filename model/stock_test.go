package model

import (
	"errors"
	"math"
	"strings"
	"testing"
)

// bottledWine is a dry wine, six bottles of which are filled on day 60 and the rest,
// eighteen smaller ones, on day 90.
func bottledWine() *journal {
	return brew(Wine, 20, 1.090, WineYeast).read(10, 1.020, 30, 0.996, 50, 0.996).
		on(60, Bottle{Count: 6, Size: 0.75, Rest: true, Closure: "cork"}).
		read(80, 0.994).
		on(90, Bottle{Count: 18, Size: 0.75})
}

func mark(x float64) Tasted { return Tasted{Bottles: 1, Marked: true, Mark: x} }

// Ensure that bottles go from the oldest bottling first, and that what is struck out or
// yet to come does not count.
func TestBatch_Stock(t *testing.T) {
	type want struct{ filled, left, first, second, openings int }
	for name, c := range map[string]struct {
		j     *journal
		until float64
		want  want
	}{
		"before":               {bottledWine(), 59, want{}},
		"after the first":      {bottledWine(), 61, want{6, 6, 6, 0, 0}},
		"after both":           {bottledWine(), 91, want{24, 24, 6, 18, 0}},
		"tasted in the vessel": {brew(Wine, 20, 1.09, WineYeast).on(20, Tasted{Words: "sharp"}).on(30, Bottle{Count: 20, Size: 0.75}), 91, want{20, 20, 20, 0, 0}},
		"some taken":           {bottledWine().on(100, Tasted{Bottles: 4}).on(101, mark(7)), 200, want{24, 19, 1, 18, 2}},
		"out of the second":    {bottledWine().on(100, Tasted{Bottles: 4}).on(101, Tasted{Bottles: 5}), 200, want{24, 15, 0, 15, 2}},
		"not yet":              {bottledWine().on(100, Tasted{Bottles: 4}).on(101, Tasted{Bottles: 5}), 100.5, want{24, 20, 2, 18, 1}},
		"struck out":           {bottledWine().on(100, Tasted{Bottles: 4}).on(101, Void{Entry: 9}), 200, want{24, 24, 6, 18, 0}},
		"written late":         {bottledWine().on(100, Tasted{Bottles: 8}).on(70, Tasted{Bottles: 5}), 200, want{24, 11, 0, 11, 2}},
		"a glass of it":        {bottledWine().on(100, Tasted{Words: "the one of yesterday, flat"}), 200, want{24, 24, 6, 18, 1}},
	} {
		s := c.j.Stock(onDay(c.until))
		got := want{filled: s.Filled, left: s.Left, openings: len(s.Openings)}
		if len(s.Bottlings) > 0 {
			got.first = s.Bottlings[0].Left
		}
		if len(s.Bottlings) > 1 {
			got.second = s.Bottlings[1].Left
		}
		if got != c.want {
			t.Errorf("%s: %+v, want %+v", name, got, c.want)
		}
	}
}

// Ensure that a bottling keeps the figures of its day, whatever was read since.
func TestBatch_StockFigures(t *testing.T) {
	j := bottledWine()
	s := j.Stock(endOfTime)
	for i, day := range []float64{59, 89} {
		at, err := Replay(j.Batch, onDay(day))
		if err != nil {
			t.Fatal(err)
		}
		b := s.Bottlings[i]
		if b.SG != at.SG() || b.Strength != at.Strength || b.PlusMinus != at.PlusMinus {
			t.Errorf("bottling %d: %.4f %.2f, want %.4f %.2f as on the day before", i, b.SG, b.Strength, at.SG(), at.Strength)
		}
	}
	if first, second := s.Bottlings[0], s.Bottlings[1]; !(first.SG > second.SG && first.Strength < second.Strength) || first.Closure != "cork" {
		t.Errorf("%+v then %+v", first, second)
	}
	noMust := Batch{Entries: []Entry{{ID: 1, At: day0, Body: Bottle{Count: 3, Size: 1}}}}
	if s := noMust.Stock(endOfTime); s.Left != 3 || s.Bottlings[0].SG != 0 {
		t.Errorf("without a must: %+v", s)
	}
}

// Ensure that nobody takes a bottle that was not there, then or since.
func TestStock_CanTake(t *testing.T) {
	j := bottledWine().on(100, Tasted{Bottles: 20})
	for name, c := range map[string]struct {
		j     *journal
		n     int
		on    float64
		wrong string // empty: it can be
	}{
		"all":                   {j, 4, 110, ""},
		"one too many":          {j, 5, 110, "5 bottles: only 4 of 24 are left"},
		"before any was filled": {j, 1, 20, "no bottle could be taken on 21 Mar 2026"},
		"from the first":        {j, 4, 70, ""},
		"more than then":        {bottledWine(), 7, 70, "only 6 bottles could be taken on 10 May 2026"},
		"what went since":       {j, 5, 70, "only 4 of 24"},
		"none at all":           {brew(Wine, 20, 1.09, WineYeast), 1, 70, "none of it is bottled"},
		"nothing":               {brew(Wine, 20, 1.09, WineYeast), 0, 70, ""},
		"the last is gone":      {bottledWine().on(100, Tasted{Bottles: 24}), 1, 110, "no bottle is left of 24"},
	} {
		err := c.j.Stock(endOfTime).CanTake(c.n, onDay(c.on))
		switch {
		case c.wrong == "" && err != nil:
			t.Errorf("%s: %v", name, err)
		case c.wrong != "" && (err == nil || !strings.Contains(err.Error(), c.wrong) || !errors.Is(err, ErrInvalid)):
			t.Errorf("%s: %v, want %q", name, err, c.wrong)
		}
	}
}

// Ensure that what was best is told from two marks on, that from three on one evening
// alone does not decide, and that it is said on how many it rests.
func TestStock_Best(t *testing.T) {
	for name, c := range map[string]struct {
		marks []float64 // on day 100, 110, ...
		known bool
		day   float64
		mark  float64
		last  bool
	}{
		"none":            {nil, false, 0, 0, false},
		"one":             {[]float64{8}, false, 0, 0, false},
		"two, falling":    {[]float64{8, 6}, true, 100, 8, false},
		"two, rising":     {[]float64{6, 8}, true, 110, 8, true},
		"two alike":       {[]float64{7, 7}, true, 100, 7, false},
		"rising":          {[]float64{4, 6, 8}, true, 120, 7, true},
		"a hill":          {[]float64{3, 7, 8, 7, 2}, true, 120, 22.0 / 3, false},
		"one lucky night": {[]float64{9, 2, 6, 7, 8, 7}, true, 150, 7.5, true},
		"zero counts":     {[]float64{0, 0, 0}, true, 100, 0, false},
	} {
		j := bottledWine()
		for i, m := range c.marks {
			j.on(100+10*float64(i), mark(m), Tasted{Bottles: 1, Words: "no mark"})
		}
		got, known := j.Stock(endOfTime).Best()
		if known != c.known {
			t.Errorf("%s: known is %t", name, known)
			continue
		}
		if known && (!got.At.Equal(onDay(c.day)) || math.Abs(got.Mark-c.mark) > 1e-9 || got.Last != c.last || got.Marks != len(c.marks)) {
			t.Errorf("%s: %+v, want day %g, mark %.3f, last %t", name, got, c.day, c.mark, c.last)
		}
	}
}

// Ensure that the next bottle is said to come from where it does.
func TestStock_Oldest(t *testing.T) {
	if _, ok := brew(Wine, 20, 1.09, WineYeast).Stock(endOfTime).Oldest(); ok {
		t.Error("a bottle of what was never bottled")
	}
	for taken, entry := range map[int]EntryID{0: 6, 5: 6, 6: 8, 24: 8} {
		got, ok := bottledWine().on(100, Tasted{Bottles: taken, Words: "x"}).Stock(endOfTime).Oldest()
		if !ok || got.Entry != entry {
			t.Errorf("after %d the next comes from entry %d, want %d", taken, got.Entry, entry)
		}
	}
}

// Ensure that bottles of a sweet, live batch are said to be a danger while there are
// any, that bubbles that were wanted are not, and that bottles filled from a batch on
// the move are.
func TestBatch_BottleHazard(t *testing.T) {
	fill := Bottle{Count: 6, Size: 0.75}
	dry := func() *journal {
		return brew(Wine, 10, 1.080, WineYeast).read(3, 1.040, 8, 0.996, 12, 0.992, 16, 0.992, 19, 0.992)
	}
	strong := func() *journal { // where the table of sorbate knows what it takes
		return brew(Wine, 10, 1.097, WineYeast).read(3, 1.050, 8, 0.998, 12, 0.994, 16, 0.994, 19, 0.994)
	}
	moving := func() *journal { return dry().read(26, 0.9895, 30, 0.9885).on(31, fill) }
	for name, c := range map[string]struct {
		j         *journal
		restarted bool
		sweet     bool
	}{
		"dry and still":         {dry().on(20, fill), false, false},
		"sweetened and live":    {dry().on(20, added(honey, 300, "sweeten"), fill), false, true},
		"all of it drunk":       {dry().on(20, added(honey, 300, "sweeten"), fill).on(30, Tasted{Bottles: 6}), false, false},
		"primed":                {dry().on(20, added(sugar, 60, "prime"), fill), false, false},
		"sweetened and primed":  {dry().on(20, added(honey, 300, "sweeten"), added(sugar, 60, "prime"), fill), false, true},
		"heated in the bottle":  {dry().on(20, added(honey, 300, "sweeten"), fill).on(21, Stabilise{PU: 50}), false, false},
		"only the rest heated":  {dry().on(20, added(honey, 300, "sweeten"), Bottle{Count: 6, Size: 0.75, Rest: true}).on(21, Stabilise{PU: 50}, Bottle{Count: 3, Size: 0.75}), false, true},
		"stabilised, sweetened": {strong().on(20, Rack{To: 2}, Reading{PH: 3.3}, Stabilise{Sulfite: 1, Sorbate: 1.6}).on(30, added(honey, 300, "sweeten"), fill), false, false},
		"too little of both":    {strong().on(20, Rack{To: 2}, Reading{PH: 3.3}, Stabilise{Sulfite: 1, Sorbate: 0.4}).on(30, added(honey, 300, "sweeten"), fill), false, true},
		"filled on the move":    {moving(), true, false},
		"and drunk":             {moving().on(40, Tasted{Bottles: 6}), false, false},
		"the rest of it moves":  {dry().on(20, Bottle{Count: 6, Size: 0.75, Rest: true}).read(26, 0.9895, 30, 0.9885), true, false},
		"one was filled before": {dry().on(20, Bottle{Count: 1, Size: 0.75, Rest: true}).read(26, 0.9895, 30, 0.9885).on(31, fill).on(32, Tasted{Bottles: 1}), true, false},
	} {
		got, err := c.j.BottleHazard(c.j.Stock(endOfTime), c.j.replay(t), sorbateTable(t))
		if err != nil || got.Restarted != c.restarted || got.Sugar > 0 != c.sweet || got.Any() != (c.restarted || c.sweet) {
			t.Errorf("%s: %+v, %v; want restarted %t, sweet %t", name, got, err, c.restarted, c.sweet)
		}
	}
}
