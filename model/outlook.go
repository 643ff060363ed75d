package model

import (
	"fmt"
	"math"
	"slices"
	"time"

	"cellar.local/glassrow/calc"
)

// Outlook is what the readings so far say of the rest of a ferment. Each figure is a
// median and the range that holds the truth four times in five.
type Outlook struct {
	// Known is false as long as nothing can be said; Why then says in plain words
	// why not, and the rest is zero.
	Known bool
	Why   string

	Final  calc.Band[calc.SG] // where gravity comes to rest
	Finish Finish             // when it is within a point of that
	Curve  []Ahead            // gravity from the last reading on
}

// Finish is a time as a median and an 80 % range.
type Finish struct{ Low, Median, High time.Time }

// Ahead is the gravity expected at a time.
type Ahead struct {
	At time.Time
	calc.Band[calc.SG]
}

// Foresee works out the outlook of a batch from what was written down until a moment.
// It fits the uptake model to the readings since the last thing that was done to the
// batch (an addition, a feed, a racking, more yeast), from the liquid as it was then;
// what the readings before that said of the yeast is kept.
//
// It takes up to some tenths of a second: not for the loop that answers keys.
func Foresee(b Batch, until time.Time) (Outlook, error) {
	s, err := Replay(b, until)
	if err != nil {
		return Outlook{}, err
	}
	if why := s.nothingAhead(); why != "" {
		return Outlook{Why: why}, nil
	}
	stages, err := stagesOf(b, &s)
	if err != nil {
		return Outlook{}, err
	}
	return stages[len(stages)-1].look(stages[:len(stages)-1])
}

// nothingAhead says why there is nothing to foresee; empty when there is.
func (s *State) nothingAhead() string {
	switch s.Standing {
	case Working, Slowing, Lag:
	case Restarting, Rising:
		// What it does now is not what it was pitched to do.
		return "it does what the journal does not explain"
	case Stuck:
		return "it stands; it must move again first"
	case Conditioning, Bottled:
		return "it is " + string(s.Standing)
	default:
		return "it has come to rest"
	}
	if s.Pitched.IsZero() {
		return "no yeast yet"
	}
	if s.held() {
		return "it was stabilised"
	}
	if s.unpitched {
		return "when its yeast went in is not in the journal"
	}
	return ""
}

// stage is a ferment from one event to the next, as the model sees it.
type stage struct {
	state    State // just after the event that begins it; its liquid with the juice to come
	from, to time.Time
	readings []calc.TimedGravity // hours since from
	first    bool                // it begins with the pitch
	fresh    bool                // it begins with other yeast, or after a standstill: the past says little
	solids   bool                // the must's ingredients are in the journal
}

// mostStages is how many stages are fitted: the last one and the one before, from which
// it takes over what is known of the yeast.
const mostStages = 2

// stagesOf cuts what happened to a batch at its events, the last stages only.
func stagesOf(b Batch, now *State) ([]stage, error) {
	var cuts []time.Time
	known := false
	live := b.Live()
	for _, e := range live {
		if e.At.After(now.lastEntry) {
			break
		}
		if m, ok := e.Body.(Must); ok {
			known = len(m.Ingredients) > 0 || len(m.Fruit) > 0
		}
		if e.At.After(now.Pitched) && isEvent(e.Body) && (len(cuts) == 0 || e.At.After(cuts[len(cuts)-1])) {
			cuts = append(cuts, e.At)
		}
	}
	if t := now.movesSince; !t.IsZero() {
		cuts = append(cuts, t)
		slices.SortFunc(cuts, time.Time.Compare)
		cuts = slices.CompactFunc(cuts, time.Time.Equal)
	}
	cuts = append([]time.Time{now.Pitched}, cuts...)
	first := len(cuts) <= mostStages
	cuts = cuts[max(0, len(cuts)-mostStages):]
	stages := make([]stage, len(cuts))
	for i, from := range cuts {
		at, err := Replay(b, from)
		if err != nil {
			return nil, err
		}
		st := stage{state: at, from: from, to: later(now.lastEntry, now.Read), first: first && i == 0, solids: known}
		st.fresh = from.Equal(now.movesSince) || slices.ContainsFunc(live, func(e Entry) bool {
			_, pitch := e.Body.(Pitch)
			return pitch && e.At.Equal(from)
		})
		if i+1 < len(cuts) {
			st.to = cuts[i+1]
		}
		st.read(now.Curve, at)
		if st.state.Liquid = at.soaked(st.to); i+1 == len(cuts) {
			st.state.Liquid = at.soaked(endOfTime)
		}
		stages[i] = st
	}
	return stages, nil
}

// isEvent reports whether the model restarts from an entry.
func isEvent(b Body) bool {
	switch b.(type) {
	case Addition, Rack, Pitch, Fruited, Press:
		return true
	}
	return false
}

// read takes the readings of the stage, and the gravity at its start if that is known
// as well as a reading: read within the day before.
func (st *stage) read(curve []Point, at State) {
	if !at.Read.IsZero() && !st.first && st.from.Sub(at.Read) <= 24*time.Hour {
		st.readings = append(st.readings, calc.TimedGravity{SG: at.Figures.SG})
	}
	for _, p := range curve {
		if p.Computed || !p.At.After(st.from) || p.At.After(st.to) {
			continue
		}
		r := calc.TimedGravity{At: calc.Hour(p.At.Sub(st.from).Hours()), SG: p.SG}
		if p.Device {
			r.Sigma = calc.DeviceSigma
		}
		st.readings = append(st.readings, r)
	}
}

// mostHours is as far as the forecast of package calc looks.
const mostHours calc.Hour = 24 * 7 * 24

// look makes the outlook of the stage, given those before.
func (st *stage) look(before []stage) (Outlook, error) {
	p, err := st.prospect(before)
	if err != nil {
		return Outlook{}, err
	}
	var last calc.Hour
	for _, r := range st.readings {
		last = max(last, r.At)
	}
	if last > mostHours {
		return Outlook{Why: "its last stage is over half a year long"}, nil
	}
	times := ahead(last)
	f, err := p.Forecast(st.readings, times...)
	if err != nil {
		return Outlook{}, fmt.Errorf("outlook: %w", err)
	}
	if !f.Known {
		return Outlook{Why: st.tooFew(f.Phase)}, nil
	}
	at := func(h calc.Hour) time.Time { return st.from.Add(time.Duration(float64(h) * float64(time.Hour))) }
	o := Outlook{Known: true, Final: f.Final, Finish: Finish{at(f.Finish.Low), at(f.Finish.Median), at(f.Finish.High)}}
	for i, band := range f.Curve {
		o.Curve = append(o.Curve, Ahead{at(times[i]), band})
	}
	return o, nil
}

// ahead returns the times at which the curve is asked for: from the last reading on,
// as long again as it took so far and ten days at least.
func ahead(last calc.Hour) []calc.Hour {
	const steps = 24
	span := min(max(1.2*last, 240), mostHours-last)
	var times []calc.Hour
	for i := 0; i <= steps; i++ {
		x := float64(i) / steps
		times = append(times, last+span*calc.Hour(math.Pow(x, 1.3)))
	}
	return times
}

func (st *stage) tooFew(phase calc.Phase) string {
	since := "since the pitch"
	if !st.first {
		since = "since " + st.from.Format("2 Jan")
	}
	if phase == calc.PhaseLag {
		return "it has hardly begun " + since
	}
	return "too few readings " + since + ": three will do"
}

// prospect is what is known before the readings of the stage.
func (st *stage) prospect(before []stage) (calc.Prospect, error) {
	s := &st.state
	typical := s.parameters()
	spread := calc.TypicalSpread()
	spread.Nitrogen = math.Hypot(spread.Nitrogen, unsaidNitrogen)
	if !st.solids {
		spread.Unfermentable *= 2
	}
	p := calc.Prospect{Typical: typical, Spread: spread}
	if st.first {
		p.Start = typical.Pitched(s.Liquid)
		return p, nil
	}
	if st.fresh {
		p.Start = typical.Pitched(s.Liquid)
		return p, nil
	}
	p.Start = typical.InFullSwing(s.Liquid)
	if len(before) == 0 {
		return p, nil
	}
	earlier := &before[len(before)-1]
	was, err := earlier.prospect(before[:len(before)-1])
	if err != nil {
		return p, err
	}
	if h := calc.Hour(st.from.Sub(earlier.from).Hours()); h <= mostHours {
		if f, err := was.Forecast(earlier.readings); err == nil && f.Known {
			return takenOver(p, f, h, s.Liquid), nil
		}
	}
	return p, nil
}

// unsaidNitrogen is the spread of the logarithm of a must's nitrogen of which nothing
// is said: a factor of 1.6 either way (diagnosis notes, section 1).
const unsaidNitrogen = 0.5

// takenOver returns the prospect with what a forecast of the stage before says of the
// yeast h hours after that began; the liquid is the ledger's. What is left to doubt of
// the pace is half of what it was (a choice).
func takenOver(p calc.Prospect, f calc.Forecast, h calc.Hour, l calc.Liquid) calc.Prospect {
	rows, err := f.Fitted.Run(f.Start, h)
	if err != nil || len(rows) == 0 {
		return p
	}
	p.Typical = f.Fitted
	p.Start = rows[0].Uptake
	p.Start.Liquid = l
	p.Spread.RateScale /= 2
	p.Spread.Nitrogen /= 2
	p.Spread.LagWork /= 2
	return p
}
