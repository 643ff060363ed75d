package model

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"cellar.local/glassrow/calc"
)

// State is what a batch is at a moment, worked out from its journal.
type State struct {
	Started time.Time
	Pitched time.Time // or when a must without yeast in the journal was last seen still; zero: no yeast yet
	Vessel  VesselID  // zero: none, all bottled or poured away
	Liquid  calc.Liquid
	Figures calc.Figures

	Original    calc.SG           // gravity of the must
	Strength    calc.PercentVol   // now
	PlusMinus   calc.PercentVol   // half-width of the likely range of Strength
	Tolerance   calc.PercentVol   // of the yeast; 0: no yeast yet
	Naive       calc.PercentVol   // strength by the first and the last gravity alone; see NaiveMisleads
	SugarPM     calc.GramPerLitre // half-width of the likely range of the fermentable sugar
	Unexplained calc.GramPerLitre // extract in the last reading that nothing explains

	LateSugar calc.Gram  // still inside the fruit in the vessel, when the drink was last touched
	FruitRoom calc.Litre // that this fruit takes up, its juice included

	Curve   []Point   // gravity over time
	Marks   []Mark    // events worth showing on a chart
	Last    Entry     // the last hand reading with a gravity; ID 0: none
	Read    time.Time // of the last gravity, by hand or by a device; zero: never
	Device  Afloat
	Bottles int    // filled
	Taken   int    // of these, opened or given away
	Place   string // it was moved to; empty: where the vessel is kept

	PH      Analysis[float64] // the last of each
	Acid    Analysis[calc.GramPerLitre]
	FreeSO2 Analysis[calc.MilligramPerLitre]
	Weighed Analysis[calc.Gram] // the full vessel

	Weighings []Weighing // each time it was on the scale, and
	Levels    []Levelled // each time its marks were read

	Verdict // what it is doing, and why

	drink        Drink
	unpitched    bool              // it ferments, though no pitch is in the journal
	sureFood     calc.GramPerLitre // sugar that any such yeast would eat; see player.food
	keptSweet    calc.GramPerLitre // sugar stirred in for the tongue when the yeast was done
	primedWith   calc.GramPerLitre // sugar stirred in for bubbles when the yeast was done
	fed          time.Time         // when food was added last
	sweetened    time.Time         // when keptSweet was added last
	primed       time.Time         // when primedWith was added
	racked       time.Time         // when it was racked last
	stabilised   time.Time         // when it was stabilised last
	stabilisedBy Stabilise         // all that was done for it
	lastEntry    time.Time         // when the last thing happened
	warmths      []warmth          // temperatures of samples
	lowestPH     float64           // 0: never read
	nutrients    bool              // the journal speaks of food for the yeast
	movesSince   time.Time         // when it last stood before it moved again
	stillDays    float64           // over which a batch that stands did not move
	steeping     []steeping        // fruit in the vessel
	steeped      time.Time         // until when its juice is in Liquid
	juiced       bool              // juice came out of fruit after the pitch
	gone         bool              // the last of it was drawn off
	notStarted   bool              // the yeast should have begun by the last reading
}

// Point is a gravity at a time.
type Point struct {
	At       time.Time
	SG       calc.SG // at 20/20 °C
	Entry    EntryID
	Computed bool        // worked out after an addition, not read
	Device   bool        // read by a device, over some hours; Entry is 0
	Liquid   calc.Liquid // what was in the vessel then

	added      float64           // points by which an addition just then changed it
	juice      float64           // points by which fruit changed it since the point before
	juiceSugar calc.GramPerLitre // that it gave since then
}

// Mark is an event on the time axis of a chart.
type Mark struct {
	At    time.Time
	Kind  Kind
	Entry EntryID
}

// Replay works out the state of the batch at a moment: entries that happened
// later do not count. A journal whose must is missing or whose parts cannot be
// gives an error that names the entry, and the state before it.
func Replay(b Batch, until time.Time) (State, error) {
	p, err := walk(b, until)
	s, unfinished := p.finish()
	if err != nil {
		return s, err
	}
	return s, unfinished
}

// drawnAt is [Replay] as whoever draws from the vessel at a moment finds it: with the
// juice that has come out of its fruit by then.
func drawnAt(b Batch, at time.Time) (State, error) {
	p, err := walk(b, at)
	if err == nil {
		err = p.soak(at)
	}
	s, unfinished := p.finish()
	if err != nil {
		return s, err
	}
	return s, unfinished
}

// walk plays the journal up to a moment, and stops at an entry that cannot be.
func walk(b Batch, until time.Time) (*player, error) {
	p := &player{rule: b.Drink.Fermentation(), drink: b.Drink}
	p.state.drink = b.Drink
	if err := b.checkVoids(); err != nil {
		return p, err
	}
	live := b.Live()
	p.exact = exactness(live)
	p.pitchComes = slices.ContainsFunc(live, func(e Entry) bool {
		_, pitch := e.Body.(Pitch)
		return pitch && !e.At.After(until)
	})
	floats, about := b.afloat(live, until)
	p.state.Device = about
	for _, e := range live {
		if e.At.After(until) {
			break
		}
		n := 0
		for n < len(floats) && floats[n].At().Before(e.At) {
			n++
		}
		p.float(floats[:n])
		floats = floats[n:]
		if err := p.play(e); err != nil {
			return p, e.wrap(err)
		}
	}
	p.float(floats)
	return p, nil
}

// wrap says of which entry an error is.
func (e Entry) wrap(err error) error {
	kind := Kind("entry of no kind")
	if e.Body != nil {
		kind = e.Body.Kind()
	}
	return fmt.Errorf("entry %d, %s of %s: %w", e.ID, kind, e.At.Format("2 Jan 2006"), err)
}

// errNoMust is what is wrong with a batch that begins with nothing.
var errNoMust = errors.New("the journal has no must, so nothing can be worked out")

func (p *player) finish() (State, error) {
	s := &p.state
	if s.Started.IsZero() {
		return *s, errNoMust
	}
	if err := p.measure(); err != nil {
		return *s, err
	}
	p.naive()
	s.Verdict = s.judge()
	return *s, nil
}

// measure works out the figures of the liquid as it is.
func (p *player) measure() error {
	s := &p.state
	f, err := s.Liquid.Figures()
	if err != nil {
		return err
	}
	s.Figures, s.Strength = f, f.Strength
	s.PlusMinus = calc.StrengthPlusMinus(s.Strength, calc.HydrometerPlusMinus, s.gravityPM())
	if extract, err := calc.ExtractOfSG(s.Original); err == nil {
		s.SugarPM = calc.SugarPlusMinus(extract, calc.HydrometerPlusMinus, s.gravityPM())
	}
	s.sureFood = p.food()
	return s.measureFruit()
}

// naive works out the strength that the first and the last gravity alone give, by the
// same yield, so that what differs is only what came in between.
func (p *player) naive() {
	s := &p.state
	s.Naive = s.Strength
	if !p.altered || s.Pitched.IsZero() || s.Original <= 1 {
		return
	}
	must, err := calc.LiquidOf(1, s.Original, 0, p.solids)
	if err != nil {
		return
	}
	got, err := p.rule.ToGravity(must, s.SG())
	if err != nil {
		return
	}
	if abv, err := got.Liquid.Strength(); err == nil {
		s.Naive = abv
	}
}

// naiveApart is the difference between the strength of the ledger and that of the two
// gravities from which it is worth a word.
const naiveApart calc.PercentVol = 0.3

// NaiveMisleads says in one sentence how far the strength by the first and the last
// gravity alone is off, and why; empty when it is not.
func (s State) NaiveMisleads() string {
	off := s.Strength - s.Naive
	if off < naiveApart && off > -naiveApart {
		return ""
	}
	why := "which leaves out the sugar that came after the first reading"
	switch {
	case off < 0 && s.juiced:
		why = "which takes for fermented what the juice of the fruit thinned"
	case off < 0:
		why = "which takes for fermented what was thinned"
	case s.juiced:
		why = "which leaves out the sugar that came out of the fruit after the first reading"
	}
	return fmt.Sprintf("%.3f and %.3f alone would make %.1f %% vol, %s", float64(s.Original), float64(s.SG()), float64(s.Naive), why)
}

// SG returns the gravity to show: the last one read or computed.
func (s State) SG() calc.SG {
	if len(s.Curve) == 0 {
		return 0
	}
	return s.Curve[len(s.Curve)-1].SG
}
