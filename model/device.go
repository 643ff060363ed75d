package model

import (
	"fmt"
	"math"
	"slices"
	"time"

	"cellar.local/glassrow/calc"
)

// KindDistrust is the kind of a [Distrust].
const KindDistrust Kind = "distrust"

// Distrust says that a device in the vessel is not to be believed for a time: it lay on
// the bottom, hung in the foam, was out being cleaned. The series keeps what it said; the
// spells that the time touches do not count. A void brings them back.
type Distrust struct {
	From, To time.Time
	Reason   string
}

// Touches reports whether the time touches a spell.
func (d Distrust) Touches(s Spell) bool { return !s.Last.Before(d.From) && !s.First.After(d.To) }

// Kind implements Body.
func (Distrust) Kind() Kind { return KindDistrust }

// Validate implements Body.
func (d Distrust) Validate() error {
	if d.From.IsZero() || !d.To.After(d.From) {
		return fmt.Errorf("a device is distrusted from a time to a later one: %w", ErrInvalid)
	}
	return plainText("reason", d.Reason, maxText, false)
}

// Afloat is what replay made of the device in the vessel.
type Afloat struct {
	Last     time.Time // its last reading that counts; zero: no device
	Readings int       // that count
	Levelled time.Time // the hand reading that its level was last taken from; zero: none
	Above    float64   // points by which it read above the hydrometer then
}

// floating is a part of a series as replay takes it: a gravity of a device.
type floating struct {
	Spell
	above float64 // points to take off
}

// afloat returns what a device said up to a moment, thinned. The hand wins: what it read
// takes the place of the spell it lies in, and sets the level of the rest, for a device
// tells how gravity moves better than where it is. What spans a change of the drink is
// half of one and half of the other, and left out.
func (b Batch) afloat(live []Entry, until time.Time) ([]floating, Afloat) {
	if len(b.Series) == 0 {
		return nil, Afloat{}
	}
	var trusted []Spell
	for _, s := range b.Series {
		if !s.Last.After(until) && !distrusted(live, s) && !spansChange(live, s.First, s.Last) {
			trusted = append(trusted, s)
		}
	}
	levels := levelsOf(live, trusted, until)
	about := Afloat{}
	var kept []Spell
	for _, s := range trusted {
		about.Last, about.Readings = s.Last, about.Readings+s.Readings
		if !readByHand(live, s, until) {
			kept = append(kept, s)
		}
	}
	if n := len(levels); n > 0 {
		about.Levelled, about.Above = levels[n-1].at, levels[n-1].above
	}
	var out []floating
	for _, part := range cutAtChanges(live, kept) {
		for _, s := range thinned(part) {
			out = append(out, floating{s, aboveAt(levels, s.At())})
		}
	}
	return out, about
}

func distrusted(live []Entry, s Spell) bool {
	return slices.ContainsFunc(live, func(e Entry) bool {
		d, ok := e.Body.(Distrust)
		return ok && d.Touches(s)
	})
}

// spansChange reports whether the drink was made another between two moments.
func spansChange(live []Entry, from, to time.Time) bool {
	return slices.ContainsFunc(live, func(e Entry) bool {
		return changesDrink(e.Body) && e.At.After(from) && e.At.Before(to)
	})
}

func changesDrink(b Body) bool {
	switch b.(type) {
	case Must, Pour, Bottle:
		return true
	}
	return isEvent(b)
}

// cutAtChanges cuts a series where the drink was made another, so that nothing is joined
// across.
func cutAtChanges(live []Entry, spells []Spell) [][]Spell {
	var parts [][]Spell
	for _, e := range live {
		if !changesDrink(e.Body) {
			continue
		}
		n, _ := slices.BinarySearchFunc(spells, e.At, func(s Spell, t time.Time) int { return s.First.Compare(t) })
		if n > 0 {
			parts, spells = append(parts, spells[:n]), spells[n:]
		}
	}
	return append(parts, spells)
}

func readByHand(live []Entry, s Spell, until time.Time) bool {
	return slices.ContainsFunc(live, func(e Entry) bool {
		r, ok := e.Body.(Reading)
		return ok && r.HasGravity() && !e.At.After(until) && !e.At.Before(s.First) && !e.At.After(s.Last)
	})
}

// level is how far a device was above the hydrometer at a time, in points.
type level struct {
	at    time.Time
	above float64
}

// levelWithin is how far from a hand reading a device must have spoken to be compared.
const levelWithin = 12 * time.Hour

// levelsOf compares a device with the hand readings, and with the must if that was read.
func levelsOf(live []Entry, spells []Spell, until time.Time) []level {
	var levels []level
	for _, e := range live {
		sg, ok := handGravity(e.Body)
		if !ok || e.At.After(until) {
			continue
		}
		if device, ok := deviceAt(live, spells, e.At); ok {
			levels = append(levels, level{e.At, device - sg.Points()})
		}
	}
	return levels
}

// handGravity returns the gravity that a person read, at 20/20 °C. What alcohol does to
// the correction for temperature is left out on both sides, where it is much the same.
func handGravity(b Body) (calc.SG, bool) {
	switch b := b.(type) {
	case Must:
		return b.Gravity, b.Gravity != 0
	case Reading:
		if !b.HasGravity() {
			return 0, false
		}
		sg, err := b.Corrected(0)
		return sg, err == nil
	}
	return 0, false
}

// deviceAt returns the points that a device reads at a moment: between the middles of the
// two spells around it, or of the only one there is.
func deviceAt(live []Entry, spells []Spell, t time.Time) (float64, bool) {
	n, _ := slices.BinarySearchFunc(spells, t, func(s Spell, t time.Time) int { return s.At().Compare(t) })
	var before, after *Spell
	if n > 0 && t.Sub(spells[n-1].Last) <= levelWithin && !spansChange(live, spells[n-1].At(), t) {
		before = &spells[n-1]
	}
	if n < len(spells) && spells[n].First.Sub(t) <= levelWithin && !spansChange(live, t, spells[n].At()) {
		after = &spells[n]
	}
	switch {
	case before != nil && after != nil:
		x, ok := before.points()
		y, ok2 := after.points()
		part := t.Sub(before.At()).Hours() / math.Max(1e-9, after.At().Sub(before.At()).Hours())
		return x + (y-x)*part, ok && ok2
	case before != nil:
		return before.points()
	case after != nil:
		return after.points()
	}
	return 0, false
}

// points returns the gravity of the spell at 20/20 °C, in points.
func (s Spell) points() (float64, bool) {
	sg, err := s.reading().Corrected(0)
	return sg.Points(), err == nil
}

func (s Spell) reading() Reading {
	return DeviceReading{Gravity: s.Median, Temperature: s.Temperature, HasTemperature: s.HasTemperature}.Reading()
}

// aboveAt returns how far the device is above the hydrometer at a time: straight between
// two comparisons, and as in the nearest before the first and after the last.
func aboveAt(levels []level, t time.Time) float64 {
	n, _ := slices.BinarySearchFunc(levels, t, func(l level, t time.Time) int { return l.at.Compare(t) })
	switch {
	case len(levels) == 0:
		return 0
	case n == 0:
		return levels[0].above
	case n == len(levels):
		return levels[n-1].above
	}
	a, b := levels[n-1], levels[n]
	part := t.Sub(a.at).Hours() / math.Max(1e-9, b.at.Sub(a.at).Hours())
	return a.above + (b.above-a.above)*part
}

// float plays the gravities of a device between two entries. One that the journal cannot
// be squared with is left out: a device must not keep anybody from their batch.
func (p *player) float(all []floating) {
	if p.state.Vessel == 0 || p.state.Started.IsZero() {
		return // it lies elsewhere
	}
	for i, f := range all {
		before := *p
		if err := p.floats(f, i == len(all)-1); err != nil {
			*p = before
		}
	}
}

// floats plays one gravity. What the liquid is by then is worked out for the last, and
// for those that have moved by inferPoints since it was: a batch may stand for years.
func (p *player) floats(f floating, last bool) error {
	s := &p.state
	if err := p.soak(f.At()); err != nil {
		return err
	}
	before := s.Curve[len(s.Curve)-1]
	sg, err := p.corrected(f)
	if err != nil {
		return err
	}
	point := Point{At: f.At(), SG: sg, Device: true, Liquid: s.Liquid}
	moved := math.Abs(sg.Points()-p.inferred.Points()) >= inferPoints || len(s.steeping) > 0
	if (last || moved || !before.Device) && (!s.Pitched.IsZero() || p.beganByItself(f.At(), sg)) {
		got, err := p.rule.ToGravity(p.anchor, sg)
		if err != nil {
			return err
		}
		s.Liquid, s.Unexplained, p.yeast, p.inferred = got.Liquid, got.Unexplained, got.Yeast, sg
		point.Liquid = got.Liquid
	}
	if f.HasTemperature {
		s.warmths = append(s.warmths, warmth{at: f.At(), t: f.Temperature})
	}
	s.Read = f.Last
	return p.point(point)
}

// inferPoints is less than a device can tell.
const inferPoints = 1.0

// corrected returns the gravity at 20/20 °C that a device stands for, its level set.
func (p *player) corrected(f floating) (calc.SG, error) {
	r := f.reading()
	abv := calc.PercentVol(0)
	if r.HasTemperature && r.Temperature != r.Calibration {
		var err error
		if abv, err = p.strength(); err != nil {
			return 0, err
		}
	}
	sg, err := r.Corrected(abv)
	return sg - calc.SG(f.above/1000), err
}

// strength returns the strength for corrections, reckoned anew only where the liquid has
// changed since.
func (p *player) strength() (calc.PercentVol, error) {
	if p.liquidOf != p.state.Liquid {
		abv, err := p.state.Liquid.Strength()
		if err != nil {
			return 0, err
		}
		p.liquidOf, p.abv = p.state.Liquid, abv
	}
	return p.abv, nil
}

// gravityPM is how sure the gravity now is.
func (s *State) gravityPM() calc.SG {
	switch {
	case !s.ByDevice():
		return calc.HydrometerPlusMinus
	case s.Device.Levelled.IsZero():
		return calc.DevicePlusMinus
	}
	return calc.LevelledPlusMinus
}

// ByDevice reports whether the gravity now is a device's.
func (s *State) ByDevice() bool { return len(s.Curve) > 0 && s.Curve[len(s.Curve)-1].Device }

// sayDevice tells what the gravity now rests on when that is a device, and when a
// standstill does.
func (s *State) sayDevice(v *Verdict) {
	if !s.ByDevice() {
		return
	}
	text := fmt.Sprintf("a floating device's gravity, ± %s: read the hydrometer once to set its level", points(1000*float64(s.gravityPM())))
	if !s.Device.Levelled.IsZero() {
		text = fmt.Sprintf("a floating device's gravity, ± %s: %s", points(1000*float64(s.gravityPM())), levelText(s.Device))
	}
	v.Evidence = append(v.Evidence, text)
	if s.stillDays > 0 && s.Last.At.Before(s.Read.Add(-days(s.stillDays))) {
		// In front, where a small screen shows it too.
		v.Evidence = slices.Insert(v.Evidence, 1, "it stands by the device alone: read the hydrometer before you bottle it")
	}
}

func levelText(d Afloat) string {
	on := " by the hydrometer on " + d.Levelled.Format("2 Jan")
	switch above := math.Round(d.Above*10) / 10; {
	case above > 0:
		return "taken down " + points(above) + on
	case above < 0:
		return "taken up " + points(-above) + on
	}
	return "right" + on
}

// lastByHand returns the last point of the curve that no device read; there is one, the
// must's.
func lastByHand(curve []Point) Point {
	for i := len(curve) - 1; i > 0; i-- {
		if !curve[i].Device {
			return curve[i]
		}
	}
	return curve[0]
}
