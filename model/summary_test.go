package model

import (
	"encoding/json"
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"cellar.local/glassrow/calc"
)

// Ensure that a summary says what the replay of the whole journal does.
func TestSummarise(t *testing.T) {
	j := brew(Mead, 10, 1.1, WineYeast).read(4, 1.060, 9, 1.020).on(10, Note{Text: "clearing"})
	s, sum := j.replay(t), Summarise(j.Batch)
	if sum.Batch != 1 || sum.Name != "trial" || sum.Drink != Mead || sum.Vessel != 1 || sum.Entries != 5 || sum.Problem != "" {
		t.Errorf("summary %+v", sum)
	}
	if sum.SG != s.SG() || sum.Strength != s.Strength || sum.Volume != s.Figures.Volume || sum.Original != s.Original || sum.Standing != s.Standing {
		t.Errorf("summary %+v of %+v", sum, s)
	}
	if !sum.LastReading.Equal(onDay(9)) || !sum.Pitched.Equal(day0) || !sum.Started.Equal(day0) {
		t.Errorf("read %v, pitched %v, started %v", sum.LastReading, sum.Pitched, sum.Started)
	}
	again, _ := json.Marshal(Summarise(j.Batch))
	if first, _ := json.Marshal(sum); string(first) != string(again) {
		t.Errorf("the same journal gives %s, then %s", first, again)
	}
}

// Ensure that a journal that cannot be worked out is trouble, with the reason and with
// what was known before.
func TestSummarise_Problem(t *testing.T) {
	sum := Summarise(brew(Mead, 10, 1.1, WineYeast).read(4, 1.060).on(5, Rack{To: 2, Volume: 99}).Batch)
	if !sum.Trouble || !strings.Contains(sum.Problem, "entry 4, rack") {
		t.Errorf("trouble %v, problem %q", sum.Trouble, sum.Problem)
	}
	if sum.SG != 1.06 || sum.Strength < 5 || sum.Volume < 9 || sum.Standing != Working {
		t.Errorf("summary %+v, want that of the reading", sum)
	}
	if sum := Summarise(Batch{ID: 7}); !sum.Trouble || sum.Problem == "" || sum.Batch != 7 {
		t.Errorf("summary of nothing %+v", sum)
	}
}

// Ensure that the sketch is the curve at even steps of time.
func TestSketch(t *testing.T) {
	at := func(days float64, sg calc.SG) Point { return Point{At: onDay(days), SG: sg} }
	t.Run("begins and ends with the curve", func(t *testing.T) {
		got := sketch([]Point{at(0, 1.100), at(1, 1.090), at(31, 1.000)})
		if len(got) != SketchWidth || got[0] != 1.1 || math.Abs(float64(got[SketchWidth-1]-1)) > 1e-9 {
			t.Errorf("sketch %v", got)
		}
		wantNear(t, "gravity after a day", got[1].Points(), 90, 0.01)
		wantNear(t, "gravity half-way", got[16].Points(), 45, 0.01)
	})
	t.Run("steps at an addition", func(t *testing.T) {
		got := sketch([]Point{at(0, 1.050), at(15.5, 1.010), at(15.5, 1.040), at(31, 1.000)})
		if !(got[15] < 1.012 && got[16] > 1.038) {
			t.Errorf("around the addition %v", got[14:18])
		}
	})
	t.Run("of little is little", func(t *testing.T) {
		if got := sketch(nil); got != nil {
			t.Errorf("sketch of nothing %v", got)
		}
		if got := sketch([]Point{at(0, 1.05)}); len(got) != 1 || got[0] != 1.05 {
			t.Errorf("sketch of a point %v", got)
		}
		if got := sketch([]Point{at(0, 1.05), at(0, 1.04)}); len(got) != 1 || got[0] != 1.04 {
			t.Errorf("sketch of an instant %v", got)
		}
	})
	t.Run("stays within the curve", rapid.MakeCheck(func(t *rapid.T) {
		var curve []Point
		day, low, high := 0.0, calc.SG(2), calc.SG(0)
		for range rapid.IntRange(1, 60).Draw(t, "points") {
			day += rapid.SampledFrom([]float64{0, 0.01, 1, 100, 40000}).Draw(t, "days")
			sg := calc.SG(rapid.Float64Range(0.98, 1.15).Draw(t, "sg"))
			curve, low, high = append(curve, at(day, sg)), min(low, sg), max(high, sg)
		}
		for _, sg := range sketch(curve) {
			if !(sg >= low-1e-9 && sg <= high+1e-9) {
				t.Fatalf("%v in a curve from %v to %v", sg, low, high)
			}
		}
	}))
}

// Ensure that the next thing due is counted from what was done last.
func TestSummary_Next(t *testing.T) {
	for name, c := range map[string]struct {
		j    *journal
		what string
		day  float64
	}{
		"a must waits a day for yeast":            {unpitched(Mead, Must{Vessel: 1, Volume: 10, Gravity: 1.1}), "pitch", 1},
		"a day after the pitch":                   {brew(Mead, 10, 1.1, WineYeast), "read", 1},
		"not counted from a reading of the must":  {unpitched(Mead, Must{Vessel: 1, Volume: 10, Gravity: 1.1}).read(0.1, 1.1).on(2, Pitch{Yeast: WineYeast}), "read", 3},
		"three days after a reading when working": {brew(Mead, 10, 1.1, WineYeast).read(4, 1.06), "read", 7},
		"two days when in trouble":                {brew(Mead, 10, 1.1, WineYeast).read(4, 1.06, 9, 1.03, 12, 1.03, 15, 1.03), "read", 17},
		"two weeks when done":                     {brew(Beer, 10, 1.05, AleYeast).read(4, 1.012, 10, 1.012, 15, 1.012), "read", 29},
		"six weeks when resting":                  {brew(Beer, 10, 1.05, AleYeast).read(4, 1.012, 10, 1.012, 30, 1.012), "read", 72},
	} {
		due := Summarise(c.j.Batch).Next()
		if due.What != c.what || due.At.Sub(onDay(c.day)).Abs() > time.Second {
			t.Errorf("%s: %s on %v, want %s on %v", name, due.What, due.At, c.what, onDay(c.day))
		}
	}
	if due := Summarise(brew(Mead, 10, 1.1, WineYeast).on(30, Bottle{Count: 12, Size: 0.75}).Batch).Next(); due != (Due{}) {
		t.Errorf("bottles are due for %q", due.What)
	}
}

// Ensure that a batch whose journal cannot be worked out stays on the shelf, in
// the vessel the journal names last, and is trouble.
func TestSummarise_KeepsABrokenBatchInItsVessel(t *testing.T) {
	at := time.Date(2026, 3, 1, 19, 0, 0, 0, time.UTC)
	b := Batch{ID: 1, Name: "Broken", Drink: Mead, Entries: []Entry{
		{ID: 1, At: at, Recorded: at, Body: Must{Vessel: 7, Volume: 19, Gravity: 1.1}},
		{ID: 2, At: at, Recorded: at, Body: Void{Entry: 99}},
	}}
	if sum := Summarise(b); sum.Vessel != 7 || !sum.Trouble || sum.Problem == "" {
		t.Errorf("Summarise: vessel %d, trouble %v, problem %q; want 7, true and a reason", sum.Vessel, sum.Trouble, sum.Problem)
	}
}
