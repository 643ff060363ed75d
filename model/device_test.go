package model

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"cellar.local/glassrow/calc"
)

var afloatFrom = time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC)

// wine is a must of 1.090 that falls to 0.994, as gravity truly is days after the pitch.
func wine(days float64) calc.SG {
	return calc.SG(0.994 + 0.096/(1+math.Exp((days-5)/1.4)))
}

// reports is what a device says of the wine every quarter of an hour, points above the
// truth and wobbling.
func reports(fromDay, toDay, above float64) []DeviceReading {
	noise := rand.New(rand.NewPCG(3, 4))
	var out []DeviceReading
	for q := math.Ceil(fromDay * 96); q < toDay*96; q++ {
		sg := wine(q/96).Points() + above + 1.5*noise.NormFloat64()
		out = append(out, DeviceReading{At: afloatFrom.Add(time.Duration(q) * 15 * time.Minute), Gravity: calc.PointsSG(math.Round(sg*10) / 10),
			Temperature: 20, HasTemperature: true})
	}
	return out
}

// floated is a batch of that wine with a device in it and hand readings on some days.
func floated(series []DeviceReading, handDays ...float64) Batch {
	b := Batch{ID: 1, Name: "Damson wine", Drink: Wine, Series: SpellsOf(series), Entries: []Entry{
		{ID: 1, At: afloatFrom, Body: Must{Vessel: 1, Volume: 5, Gravity: 1.090}},
		{ID: 2, At: afloatFrom.Add(time.Hour), Body: Pitch{Yeast: WineYeast}},
	}}
	for _, d := range handDays {
		b = b.With(Entry{At: afloatFrom.Add(days(d)), Body: Reading{Gravity: wine(d), Scale: ScaleSG, Calibration: 20}})
	}
	return b
}

func replayed(t *testing.T, b Batch) State {
	t.Helper()
	s, err := Replay(b, endOfTime)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Ensure that a device that reads four points high is taken down to where the hand
// found the drink, all along the curve, and that its noise is not in it.
func TestReplay_DeviceLevelled(t *testing.T) {
	s := replayed(t, floated(reports(0.2, 9, 4), 3))
	if math.Abs(s.Device.Above-4) > 1 || !s.Device.Levelled.Equal(afloatFrom.Add(days(3))) {
		t.Errorf("device = %+v, want 4 points above on the third day", s.Device)
	}
	n := 0
	for _, p := range s.Curve {
		if p.Device {
			n++
			if truth := wine(p.At.Sub(afloatFrom).Hours() / 24); math.Abs(p.SG.Points()-truth.Points()) > 1.5 {
				t.Errorf("%s: %.4f, want %.4f ± 1.5 points", p.At.Format(time.DateTime), float64(p.SG), float64(truth))
			}
		}
	}
	if n < 25 || n > 40 {
		t.Errorf("%d points of the device in nine days of ferment, want one every six hours", n)
	}
	if s.Standing != Working && s.Standing != Slowing {
		t.Errorf("standing = %s, %v", s.Standing, s.Evidence)
	}
	if text := strings.Join(s.Evidence, "; "); !strings.Contains(text, "taken down") || !strings.Contains(text, "± 2 points") {
		t.Errorf("evidence = %q, want what was done to the device", text)
	}
}

// Ensure that a device nobody compared is told to be less sure than a hydrometer.
func TestReplay_DeviceAlone(t *testing.T) {
	b := floated(reports(1, 30, 4))
	b.Entries[0].Body = Must{Vessel: 1, Volume: 5, Gravity: 1.090}
	s := replayed(t, b)
	hand := replayed(t, floated(nil, 6, 20, 25, 30))
	if s.PlusMinus <= hand.PlusMinus || s.SugarPM <= hand.SugarPM {
		t.Errorf("± %v and ± %v, want more than by hand, ± %v and ± %v", s.PlusMinus, s.SugarPM, hand.PlusMinus, hand.SugarPM)
	}
	if s.Standing != Done && s.Standing != Resting {
		t.Errorf("standing = %s, %v", s.Standing, s.Evidence)
	}
	if text := strings.Join(s.Evidence, "; "); !strings.Contains(text, "by the device alone") || !strings.Contains(text, "± 4 points") {
		t.Errorf("evidence = %q, want that it rests on the device", text)
	}
	if !s.Device.Levelled.IsZero() || s.Last.ID != 0 || s.Read.IsZero() {
		t.Errorf("device %+v, last by hand %v, read %v", s.Device, s.Last, s.Read)
	}
}

// Ensure that a hand reading is the gravity now, whatever the device says around it.
func TestReplay_HandWins(t *testing.T) {
	at := 5 + 1.0/96/2 // between two reports
	s := replayed(t, floated(reports(1, 5.02, 9), at))
	if got, want := s.SG(), wine(at); math.Abs(got.Points()-want.Points()) > 0.01 {
		t.Errorf("gravity = %.4f, want %.4f as by hand", float64(got), float64(want))
	}
}

// Ensure that what is distrusted does not count, and a void brings it back.
func TestReplay_Distrust(t *testing.T) {
	series := reports(1, 12, 0)
	for i := range series { // out of the vessel for two days
		if d := series[i].At.Sub(afloatFrom).Hours() / 24; d > 9.8 {
			series[i].Gravity = 1.150
		}
	}
	b := floated(series)
	if got := replayed(t, b).SG(); got < 1.1 {
		t.Fatalf("gravity = %.3f, want the device's nonsense", float64(got))
	}
	b = b.With(Entry{At: afloatFrom.Add(days(13)), Body: Distrust{From: afloatFrom.Add(days(9.7)), To: afloatFrom.Add(days(12)), Reason: "cleaned"}})
	s := replayed(t, b)
	if got := s.SG(); math.Abs(got.Points()-wine(9.5).Points()) > 1.5 {
		t.Errorf("gravity = %.4f, want about %.4f from before", float64(got), float64(wine(9.5)))
	}
	voids, _, err := b.Turn(b.Entries[len(b.Entries)-1].ID, "")
	if err != nil {
		t.Fatal(err)
	}
	if got := replayed(t, b.With(Entry{At: afloatFrom.Add(days(13)), Body: voids[0]})).SG(); got < 1.1 {
		t.Errorf("gravity = %.3f after the void, want the device believed again", float64(got))
	}
}

// Ensure that what spans an addition is left out, and that what comes after it is played
// on the drink as it is then.
func TestReplay_DeviceOverAddition(t *testing.T) {
	series := reports(1, 4.1, 0)
	fed := afloatFrom.Add(days(3.6))
	for i := range series {
		if series[i].At.After(fed) {
			series[i].Gravity += 0.020
		}
	}
	sugar, err := calc.NewIngredient("sugar", map[calc.Component]calc.Gram{calc.Sucrose: 1})
	if err != nil {
		t.Fatal(err)
	}
	b := floated(series).With(Entry{At: fed, Body: Addition{Portion: Portion{Ingredient: sugar, Mass: 260}}})
	s := replayed(t, b)
	for i, p := range s.Curve[1:] {
		if p.Device && p.At.After(fed) && math.Abs(p.SG.Points()-s.Curve[i].SG.Points()) > 8 {
			t.Errorf("%.4f after %.4f, want no leap beside the addition's own", float64(p.SG), float64(s.Curve[i].SG))
		}
	}
	if s.Standing == Rising || s.Standing == Stuck {
		t.Errorf("standing = %s, %v", s.Standing, s.Evidence)
	}
}

// Ensure that a device cannot keep anybody from a batch: what cannot be is left out.
func TestReplay_DeviceImpossible(t *testing.T) {
	before := DeviceReading{At: afloatFrom.Add(-days(3)), Gravity: 1.05}
	silly := DeviceReading{At: afloatFrom.Add(days(2)), Gravity: 1.19, Temperature: 39, HasTemperature: true}
	s := replayed(t, floated([]DeviceReading{before, silly}))
	if s.Started.IsZero() {
		t.Error("not worked out")
	}
	gone := floated(reports(1, 20, 0), 15).With(Entry{At: afloatFrom.Add(days(16)), Body: Bottle{Count: 6, Size: 0.75}})
	if s := replayed(t, gone); s.Read.After(afloatFrom.Add(days(16))) {
		t.Errorf("read at %s, after the vessel was empty", s.Read)
	}
}

// Ensure that the past is not judged by what came later.
func TestReplay_DeviceUntil(t *testing.T) {
	b := floated(reports(1, 9, 4), 8)
	s, err := Replay(b, afloatFrom.Add(days(4)))
	if err != nil {
		t.Fatal(err)
	}
	if !s.Device.Levelled.IsZero() || s.Read.After(afloatFrom.Add(days(4))) {
		t.Errorf("device = %+v, read %s: neither may be of later", s.Device, s.Read)
	}
}

// Ensure that however long a series is and whatever it does, a few hundred points of it
// are played, in order.
func TestThinned(t *testing.T) {
	wild := make([]DeviceReading, 20000)
	for i := range wild {
		wild[i] = DeviceReading{At: afloatFrom.Add(time.Duration(i) * time.Hour), Gravity: calc.PointsSG(float64(i / 7 % 2 * 60))}
	}
	for name, series := range map[string][]DeviceReading{"a ferment and three years": reports(0, 1100, 2), "a jumping one": wild, "one reading": wild[:1], "none": nil} {
		t.Run(name, func(t *testing.T) {
			spells := SpellsOf(series)
			got := thinned(spells)
			if len(got) > mostPoints || len(got) == 0 != (len(series) == 0) {
				t.Errorf("%d points of %d spells", len(got), len(spells))
			}
			n := 0
			for _, s := range got {
				n += s.Readings
			}
			if n != len(series) || !slices.IsSortedFunc(got, func(a, b Spell) int { return a.First.Compare(b.First) }) {
				t.Errorf("%d readings in the points, want %d, in order", n, len(series))
			}
		})
	}
}

// Ensure that spells are the same however the readings come.
func TestSpellsOf(t *testing.T) {
	series := reports(0, 3, 0)
	want := SpellsOf(series)
	shuffled := slices.Clone(series)
	rand.New(rand.NewPCG(1, 2)).Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
	if got := SpellsOf(shuffled); !slices.Equal(got, want) {
		t.Error("another order makes other spells")
	}
	if len(want) != 12 || want[0].Readings != 24 {
		t.Errorf("%d spells, the first of %d readings, want 12 of 24", len(want), want[0].Readings)
	}
	five := []DeviceReading{{Gravity: 1.05}, {Gravity: 1.01}, {Gravity: 1.2}, {Gravity: 1.04}, {Gravity: 1.03}}
	if s := SpellOf(five); s.Median != 1.04 || s.Low != 1.01 || s.High != 1.2 {
		t.Errorf("SpellOf = %+v", s)
	}
}

// Ensure that the outlook of a ferment that a device alone watches holds where it truly
// ends, and is no surer than by hand.
func TestForesee_Device(t *testing.T) {
	o, err := Foresee(floated(reports(0.2, 8, 0)), endOfTime)
	if err != nil || !o.Known {
		t.Fatalf("Foresee = %+v, %v", o, err)
	}
	if end := wine(60); end < o.Final.Low || end > o.Final.High {
		t.Errorf("ends from %.4f to %.4f, want %.4f in it", float64(o.Final.Low), float64(o.Final.High), float64(end))
	}
}

func TestDeviceReadingOf(t *testing.T) {
	for text, ok := range map[string]bool{"1.034": true, "1034@21c": true, "8.5bx": true, "@21c": false, "1.034 ph3.4": false, "1.034; foam": false, "24kg": false, "": false} {
		r, err := ParseReading(text, DefaultCalibration)
		if err == nil {
			_, err = DeviceReadingOf(r, afloatFrom)
		}
		if (err == nil) != ok {
			t.Errorf("a device's %q: %v", text, err)
		}
	}
}

// Replaying a batch with 100,000 readings of a device, and the outlook of one at work.
func BenchmarkReplay_Device(b *testing.B) {
	for _, days := range []float64{20, 1042} {
		batch := floated(reports(0.2, days, 4), 3, 7, 12, 19)
		b.Run(fmt.Sprintf("replay/%.0fd", days), func(b *testing.B) {
			for b.Loop() {
				if _, err := Replay(batch, endOfTime); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	batch := floated(reports(0.2, 9, 4), 3)
	b.Run("foresee", func(b *testing.B) {
		for b.Loop() {
			if o, err := Foresee(batch, endOfTime); err != nil || !o.Known {
				b.Fatal(o, err)
			}
		}
	})
}
