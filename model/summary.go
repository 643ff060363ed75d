package model

import (
	"math"
	"time"

	"cellar.local/glassrow/calc"
)

// Summary is what the shelf shows of a batch. The store keeps it beside the
// journal so that the shelf draws without reading journals; [Summarise] can
// always make it again.
type Summary struct {
	Batch  BatchID
	Name   string
	Drink  Drink
	Vessel VesselID // zero: in no vessel any more

	Standing Standing
	Evidence []string
	RuledOut []string
	Check    string    // of trouble, what to look at first
	Decides  time.Time // when the next reading will tell; zero: nothing is open
	Trouble  bool      // somebody should look at it whatever the calendar says
	Problem  string    // why the journal could not be worked out; else empty

	Started     time.Time
	Pitched     time.Time
	LastReading time.Time // zero: never read
	Entries     int
	Bottles     int

	Original  calc.SG
	SG        calc.SG
	Strength  calc.PercentVol
	PlusMinus calc.PercentVol
	Volume    calc.Litre // of the drink
	LateSugar calc.Gram  // still inside the fruit; see [State]
	FruitRoom calc.Litre
	Weighed   WeighedNow
	Sketch    []calc.SG // the curve at SketchWidth even steps of time

	// Dues is what is to be done and when, the earliest first; nil when the summary was
	// kept by a program that did not know of it.
	Dues []Due

	// Outlook is the forecast without its curve; nil when nobody has worked it out yet,
	// which [Summarise] does not.
	Outlook *Outlook
}

// Undone reports whether it was split off another batch and that was undone: see
// [Batch.Undone].
func (s Summary) Undone() bool { return s.Entries > 0 && s.Standing == "" && s.Problem == "" }

// SketchWidth is how many points the sketch of a curve has: as many as the
// widest sparkline of the shelf can show.
const SketchWidth = 32

// Summarise works the summary out from the journal. It does not depend on the
// present, only on the entries, so it holds until the next one.
func Summarise(b Batch) Summary {
	sum := Summary{Batch: b.ID, Name: b.Name, Drink: b.Drink, Entries: len(b.Entries), Dues: []Due{}}
	if b.Undone() {
		return sum
	}
	s, err := Replay(b, endOfTime)
	if err != nil {
		sum.Problem = err.Error()
		sum.Trouble = true
		if s.Vessel == 0 {
			s.Vessel = lastVessel(b)
		}
	}
	sum.Vessel, sum.Started, sum.Pitched, sum.Bottles = s.Vessel, s.Started, s.Pitched, s.Bottles
	sum.Standing, sum.Evidence, sum.RuledOut, sum.Decides = s.Standing, s.Evidence, s.RuledOut, s.Decides
	if len(s.Causes) > 0 {
		sum.Check = s.Causes[0].Check
	}
	sum.Trouble = sum.Trouble || s.trouble()
	sum.LastReading = s.Read
	sum.Original, sum.SG = s.Original, s.SG()
	sum.Strength, sum.PlusMinus, sum.Volume = s.Strength, s.PlusMinus, s.Figures.Volume
	sum.LateSugar, sum.FruitRoom = s.LateSugar, s.FruitRoom
	sum.Weighed = s.weighedNow()
	sum.Sketch = sketch(s.Curve)
	sum.Dues = Dues(b, s)
	return sum
}

// Foreseen returns the summary with the outlook of the batch it was made of, which
// takes a while; see [Foresee].
func (s Summary) Foreseen(b Batch) Summary {
	o, err := Foresee(b, endOfTime)
	if err != nil {
		o = Outlook{Why: "the journal cannot be worked out"}
	}
	o.Curve = nil
	s.Outlook = &o
	return s
}

// lastVessel returns the vessel that the journal names last, for a batch that
// cannot be worked out: it must not vanish from the shelf.
func lastVessel(b Batch) VesselID {
	for i := len(b.Entries) - 1; i >= 0; i-- {
		switch body := b.Entries[i].Body.(type) {
		case Must:
			return body.Vessel
		case Rack:
			return body.To
		case Part:
			return body.Vessel
		}
	}
	return 0
}

// endOfTime lies after every entry.
var endOfTime = time.Date(9999, 1, 1, 0, 0, 0, 0, time.UTC)

// sketch samples a curve at even steps of time, straight lines between points.
func sketch(curve []Point) []calc.SG {
	if len(curve) == 0 {
		return nil
	}
	first, last := curve[0].At, curve[len(curve)-1].At
	span := last.Sub(first)
	if span <= 0 {
		return []calc.SG{curve[len(curve)-1].SG}
	}
	out := make([]calc.SG, SketchWidth)
	i := 0
	for k := range out {
		at := first.Add(time.Duration(float64(span) * float64(k) / (SketchWidth - 1)))
		for i < len(curve)-2 && curve[i+1].At.Before(at) {
			i++
		}
		out[k] = between(curve[i], curve[i+1], at)
	}
	return out
}

func between(a, b Point, at time.Time) calc.SG {
	span := b.At.Sub(a.At).Seconds()
	if span <= 0 {
		return b.SG
	}
	part := math.Max(0, math.Min(1, at.Sub(a.At).Seconds()/span))
	return a.SG + calc.SG(part)*(b.SG-a.SG)
}
