package model

import (
	"math"
	"testing"

	"cellar.local/glassrow/calc"
)

// Ensure that the diary is in the order of what happened, whenever it was written, with
// the gravities corrected and the points since the one before.
func TestBatch_Diary(t *testing.T) {
	j := brew(Mead, 19, 1.100, WineYeast).read(6, 1.060, 3, 1.080)
	warm := gravity(1.040)
	warm.Temperature, warm.HasTemperature = 30, true
	j.on(9, warm, Reading{PH: 3.4}, Note{Text: "quiet"})
	d := j.Diary(j.replay(t))
	var order []EntryID
	for _, l := range d {
		order = append(order, l.ID)
	}
	want := []EntryID{1, 2, 4, 3, 5, 6, 7}
	for i := range want {
		if order[i] != want[i] {
			t.Fatalf("order %v, want %v", order, want)
		}
	}
	near := func(what string, got, want, within float64) {
		t.Helper()
		if math.Abs(got-want) > within {
			t.Errorf("%s = %.3f, want %.3f ± %.3f", what, got, want, within)
		}
	}
	near("change from the must", d[2].Change, -20, 1e-9)
	near("change from day 3", d[3].Change, -20, 1e-9)
	now, err := d[4].Strength()
	if err != nil {
		t.Fatal(err)
	}
	corrected, err := warm.Corrected(now)
	if err != nil || corrected < 1.042 {
		t.Fatalf("1.040 at 30 °C is %v, %v", corrected, err)
	}
	near("corrected, in points", d[4].SG.Points(), corrected.Points(), 0.02)
	if d[0].First == false || d[4].First || d[5].SG != 0 || d[6].SG != 0 {
		t.Errorf("first %v %v, gravity of a pH %v and of a note %v", d[0].First, d[4].First, d[5].SG, d[6].SG)
	}
	abv, err := d[2].Strength()
	if err != nil {
		t.Fatal(err)
	}
	// 20 points of must are a little more than 2.6 % vol by 131 a point, which runs low
	near("strength on day 3", float64(abv), 2.75, 0.2)
}

// Ensure that an entry is turned from counting to struck out and back as often as one
// likes, by itself or by its void, and that the must stays.
func TestBatch_Turn(t *testing.T) {
	b := brew(Mead, 19, 1.100, WineYeast).read(3, 1.080).Batch
	counts := func(id EntryID) bool {
		s, _ := Replay(b, endOfTime)
		for _, l := range b.Diary(s) {
			if l.ID == id {
				return l.Counts
			}
		}
		t.Fatalf("no entry %d", id)
		return false
	}
	turn := func(id EntryID, wantBack bool) {
		t.Helper()
		voids, back, err := b.Turn(id, "misread")
		if err != nil || back != wantBack {
			t.Fatalf("Turn(%d) = back %v, %v; want back %v", id, back, err, wantBack)
		}
		for _, v := range voids {
			b = b.With(Entry{At: onDay(4), Recorded: onDay(4), Body: v})
		}
		if counts(3) != wantBack {
			t.Fatalf("after Turn(%d) entry 3 counts: %v", id, counts(3))
		}
	}
	turn(3, false)
	turn(3, true)
	turn(3, false)
	turn(6, true) // by the void that holds
	// two sessions strike the same one out
	b = b.With(Entry{At: onDay(4), Body: Void{Entry: 3}}, Entry{At: onDay(4), Body: Void{Entry: 3}})
	turn(3, true)
	for id, why := range map[EntryID]string{1: "the must", 4: "a void that was taken back", 99: "no entry"} {
		if voids, _, err := b.Turn(id, ""); err == nil {
			t.Errorf("Turn(%d), %s, gives %v", id, why, voids)
		}
	}
}

// Ensure that every kind of entry belongs to a strand, and that a strand can be named.
func TestStrand_HoldsEveryKind(t *testing.T) {
	bodies := []Body{Must{}, Pitch{}, Reading{}, Addition{}, Rack{}, Bottle{}, Note{}, Void{}, Stabilise{}, Bench{}, Tasting{},
		Fruited{}, Press{}, Fine{}, Stir{}, Move{}, FeedPlan{}, Feed{}, Draw{}, Pour{}, Part{}, Tasted{}, Reminder{}, Tick{}}
	for _, body := range bodies {
		held := 0
		for _, s := range Strands()[1:] {
			if s.Holds(Told{Entry: Entry{Body: body}, Counts: body.Kind() != KindVoid}) {
				held++
			}
		}
		if held != 1 {
			t.Errorf("%s belongs to %d strands, want 1", body.Kind(), held)
		}
	}
	noted := Told{Entry: Entry{Body: Reading{Gravity: calc.SG(1.05), Note: "cloves"}}, Counts: true}
	if !Readings.Holds(noted) || !NotesOfIt.Holds(noted) || StruckOut.Holds(noted) {
		t.Error("a reading with a note is to be found among the readings and the notes only")
	}
	for _, s := range Strands() {
		if got, err := ParseStrand(string(s)); err != nil || got != s {
			t.Errorf("ParseStrand(%q) = %q, %v", s, got, err)
		}
		if s.Next(1).Next(-1) != s {
			t.Errorf("%s: one on and one back is %s", s, s.Next(1).Next(-1))
		}
	}
	if _, err := ParseStrand("gossip"); err == nil {
		t.Error("a strand of gossip")
	}
}
