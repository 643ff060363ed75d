package model

import (
	"math"
	"time"

	"cellar.local/glassrow/calc"
)

// Weighing is a vessel on the scale, with what the journal knows of it. What it comes
// to hangs on the vessel's tare as well, which is no part of the journal: see
// [Weighing.With].
type Weighing struct {
	Entry    EntryID
	At       time.Time
	Vessel   VesselID
	Scale    calc.Gram // what the scale said: vessel, drink and all
	Exact    calc.Gram // half-width of that; see exactness
	Lees     calc.Gram // yeast that settled in this vessel, dry
	Fruit    bool      // fruit was in it, and what that weighs nobody knows
	Original calc.SG
	Current  bool // nothing came or went since

	sg, sgPlusMinus calc.SG // as far as the hydrometer knows it
	read            bool    // the hydrometer was in it at the time
	rule            calc.Fermentation
	liquid          calc.Liquid // by the journal
	warm            calc.Celsius
	since           *weighedStart // the weighing it is held against; nil: none
}

// weighedStart is a weighing at which the gravity was known, and what came and went
// since. Nothing in it is changed once a [Weighing] points at it.
type weighedStart struct {
	at     time.Time
	must   bool
	scale  calc.Gram
	lees   calc.Gram
	liquid calc.Liquid // at the time
	sg     calc.SG     // half-width of the gravity then
	kept   float64     // share of liquid that was not drawn off since
	poured calc.Liquid // came since, less what was drawn of it
	mass   calc.Gram   // came less went
	drawn  float64     // share drawn off in all
	loose  bool        // volume of what came was read off a jug
}

// ByScale is what a weighing says with the tare of its vessel.
type ByScale struct {
	// Of the drink, and how much of it there is; zero without a tare.
	Drink     calc.Gram
	Volume    calc.Litre
	PlusMinus calc.Litre
	Reckoned  calc.Litre // by the journal, at the gravity that Volume is reckoned with

	// How far the ferment has come by the mass it lost; SG is 0 where nothing is to be
	// held against it, or where the mass says that something came or went.
	Lost              calc.Gram
	LostPlusMinus     calc.Gram
	Since             time.Time
	Must              bool // since the must
	SG                calc.SG
	SGPlusMinus       calc.SG
	Strength          calc.PercentVol
	StrengthPlusMinus calc.PercentVol
	Unexplained       calc.Gram // lost, more than the sugar could give: something went out
}

// How near in time a gravity must be to a weighing to be that of the drink on the
// scale (choice): a ferment in full swing falls three points in it.
const weighedWithin = 6 * time.Hour

// Choices of what a weighing is good for.
const (
	drawnMost    = 0.25  // more drunk or bottled than that, and the loss is nobody's
	journalSure  = 0.02  // of the volume in a journal, read off a vessel by eye
	perDay       = 0.008 // gravity that a ferment nobody looks at may fall in a day
	scaleGood    = 2e-4  // of the load: a good kitchen or parcel scale
	gasSure      = 0.05  // of the gas: ferments weighed dry are up to that over what the ledger has
	toldApart    = 0.01  // of the volume: what nobody need be told of
	weighedAtAll = 0.05  // of the vessel's drink: less on the scale than this is no drink
)

// With returns what the weighing says; tare 0 is not known.
func (w Weighing) With(tare calc.Gram) ByScale {
	var out ByScale
	if w.Fruit {
		return out
	}
	sg, pm, lees := w.sg, w.sgPlusMinus, w.Lees
	if got, ok := w.lost(tare, &out); ok && !w.read {
		sg, pm, lees = got.Figures.SG, got.GravityPlusMinus, w.since.lees+got.Yeast
	}
	net := w.Scale - tare - lees
	if tare == 0 || net <= weighedAtAll*w.liquid.Mass() {
		return out
	}
	v, vpm, err := calc.VolumeWeighed(net, math.Sqrt2*w.Exact, sg, pm)
	if err != nil {
		return out
	}
	there, err := w.rule.ToGravity(w.liquid, sg) // a drink shrinks a little as it ferments
	if err != nil {
		return out
	}
	if out.Reckoned, err = there.Liquid.Volume(); err != nil {
		return out
	}
	out.Drink, out.Volume, out.PlusMinus = net, v, vpm
	return out
}

// lost works out how far the ferment has come by the mass that is gone.
func (w Weighing) lost(tare calc.Gram, out *ByScale) (calc.Weighed, bool) {
	b := w.since
	if b == nil || b.drawn > drawnMost {
		return calc.Weighed{}, false
	}
	liquid, room := b.liquid, journalSure
	if net := b.scale - tare - b.lees; tare > 0 && net > liquid.Mass()/2 && net < liquid.Mass()*2 {
		liquid = liquid.Scaled(float64(net / liquid.Mass()))
		room = float64(math.Sqrt2*w.Exact/net) + float64(calc.HydrometerPlusMinus)
	}
	if b.loose {
		room = math.Hypot(room, journalSure*float64(b.poured.Mass()/liquid.Mass()))
	}
	// What was drawn off had lost some of its gas and took the rest along: between all
	// of it and none, so half.
	start := liquid.Scaled(b.kept).Plus(b.poured)
	if b.kept < 1 {
		start = start.Scaled((1 + 1/b.kept) / 2)
		room = math.Hypot(room, (1/b.kept-1)/2)
	}
	gone := b.scale + b.mass - w.Scale
	out.Lost, out.LostPlusMinus, out.Since, out.Must = gone, math.Sqrt2*w.Exact, b.at, b.must
	if gone < -2*out.LostPlusMinus {
		return calc.Weighed{}, false // something went in
	}
	by := calc.Weighing{Lost: max(0, gone), Scale: w.Exact, Start: b.sg, Room: min(1, room)}
	if b.must {
		by.Held, _ = calc.ResidualCO2(w.warm)
	}
	got, err := w.rule.ToLoss(start, by)
	if err != nil {
		return calc.Weighed{}, false
	}
	if vapour, err := calc.VapourIn(w.warm, min(20, got.Figures.Strength/2)); err == nil {
		by.Carried = vapour.Share()
		if got, err = w.rule.ToLoss(start, by); err != nil {
			return calc.Weighed{}, false
		}
	}
	if float64(got.Unexplained) > math.Hypot(math.Sqrt2*float64(w.Exact), math.Hypot(gasSure, room)*float64(got.CO2)) {
		out.Unexplained = got.Unexplained
		return calc.Weighed{}, false // something went out
	}
	if gone <= out.LostPlusMinus { // it may yet be making the gas that it holds
		got.GravityPlusMinus = calc.SG(math.Hypot(float64(got.GravityPlusMinus), float64(by.Held)*float64(calc.FallPerGas)))
	}
	out.SG, out.SGPlusMinus = got.Figures.SG, got.GravityPlusMinus
	out.Strength, out.StrengthPlusMinus = got.Figures.Strength, got.StrengthPlusMinus
	return got, true
}

// Short returns by how much less drink is in the vessel than the journal reckons, or
// more when it is negative; 0 where the two agree as far as either is known.
func (by ByScale) Short() calc.Litre {
	gap := by.Reckoned - by.Volume
	if by.Volume == 0 || math.Abs(float64(gap)) <= max(2*float64(by.PlusMinus), toldApart*float64(by.Reckoned)) {
		return 0
	}
	return gap
}

// Off reports whether the hydrometer of the same visit says something else than the
// scale, and by how many points it is higher.
func (w Weighing) Off(by ByScale) (points float64, off bool) {
	if !w.read || by.SG == 0 {
		return 0, false
	}
	d := float64(w.sg - by.SG)
	return 1000 * d, math.Abs(d) > 2*math.Hypot(float64(by.SGPlusMinus), float64(calc.HydrometerPlusMinus))
}

// SG returns the gravity of the drink then, as far as the hydrometer knows it.
func (w Weighing) SG() calc.SG { return w.sg }

// Read reports whether the hydrometer was in it at the same visit.
func (w Weighing) Read() bool { return w.read }

// weigh keeps what a scale says, with what the journal makes of the drink then.
func (p *player) weigh(e Entry, r Reading) error {
	s := &p.state
	f, err := s.Liquid.Figures()
	if err != nil {
		return err
	}
	warm, ok := s.lastWarmth()
	if !ok {
		warm = typicalWarmth
	}
	w := Weighing{Entry: e.ID, At: e.At, Vessel: s.Vessel, Scale: r.Mass, Exact: p.exact + calc.Gram(scaleGood*float64(r.Mass)),
		liquid: s.Liquid, Lees: p.lees + p.yeast, Fruit: len(s.steeping) > 0, Original: s.Original, Current: true,
		read: r.HasGravity(), rule: p.rule, warm: warm, since: p.since}
	w.sg, w.sgPlusMinus = p.knownGravity(e.At, f)
	for i := range s.Weighings {
		s.Weighings[i].Current = false
	}
	s.Weighings = append(s.Weighings[:len(s.Weighings):len(s.Weighings)], w)
	if p.since == nil && !w.Fruit && p.sure(e.At) {
		p.startWeighing(w)
	}
	return nil
}

// sure reports whether the gravity at a time is that of the ledger.
func (p *player) sure(at time.Time) bool {
	return p.state.Pitched.IsZero() || !at.After(p.seen.Add(weighedWithin))
}

// knownGravity returns the gravity at a time and how well it is known: of a ferment
// that nobody looked at since, between where it was and how far it may have come.
func (p *player) knownGravity(at time.Time, f calc.Figures) (calc.SG, calc.SG) {
	if p.sure(at) {
		return f.SG, calc.HydrometerPlusMinus
	}
	left := calc.SG(f.Fermentable) * calc.FallPerSugar
	may := min(left, calc.SG(perDay*daysBetween(p.seen, at))) / 2
	return f.SG - may, may + calc.HydrometerPlusMinus
}

// startWeighing holds the weighings to come against this one.
func (p *player) startWeighing(w Weighing) {
	p.since = &weighedStart{at: w.At, must: p.state.Pitched.IsZero() || !w.At.After(p.state.Pitched.Add(weighedWithin)),
		scale: w.Scale, lees: p.lees + p.yeast, liquid: p.state.Liquid, sg: calc.HydrometerPlusMinus, kept: 1}
}

// weighedBefore starts from a weighing of a few hours ago, now that the gravity is read.
func (p *player) weighedBefore(at time.Time) {
	n := len(p.state.Weighings)
	if p.since != nil || n == 0 {
		return
	}
	if w := p.state.Weighings[n-1]; w.Current && !w.Fruit && !at.After(w.At.Add(weighedWithin)) {
		p.startWeighing(w)
	}
}

// came counts something of a known make-up into what the scale should say; loose is
// what was measured by volume.
func (p *player) came(poured calc.Liquid, loose bool) {
	p.changed(func(b *weighedStart) {
		b.poured, b.mass, b.loose = b.poured.Plus(poured), b.mass+poured.Mass(), b.loose || loose
	})
	p.moved()
}

// weighsMore counts what is no part of the drink: nutrients, finings, sulfite.
func (p *player) weighsMore(m calc.Gram) {
	if m > 0 {
		p.changed(func(b *weighedStart) { b.mass += m })
	}
}

// went counts the share of the drink that was drawn off.
func (p *player) went(share float64) {
	if share <= 0 {
		return
	}
	mass := p.state.Liquid.Mass() * calc.Gram(share)
	p.changed(func(b *weighedStart) {
		b.mass -= mass
		b.kept *= 1 - share
		b.drawn = 1 - (1-b.drawn)*(1-share)
		b.poured = b.poured.Scaled(1 - share)
	})
	p.yeastStays(share)
	p.moved()
}

// yeastStays leaves the yeast of the drink that went in the vessel.
func (p *player) yeastStays(share float64) {
	p.lees += p.yeast * calc.Gram(share)
	p.yeast *= calc.Gram(1 - share)
}

// changed replaces the start that weighings are held against, if there is one.
func (p *player) changed(change func(*weighedStart)) {
	if p.since != nil {
		next := *p.since
		change(&next)
		p.since = &next
	}
}

// moved makes the last weighing one of what is not there any more.
func (p *player) moved() {
	if n := len(p.state.Weighings); n > 0 && p.state.Weighings[n-1].Current {
		all := append([]Weighing(nil), p.state.Weighings...)
		all[n-1].Current = false
		p.state.Weighings = all
	}
}

// unweigh forgets what weighings were held against: the vessel is another, or holds what
// nobody weighed.
func (p *player) unweigh() {
	p.since = nil
	p.moved()
}

// settleYeast starts the count of a new anchor.
func (p *player) settleYeast() { p.lees, p.yeast = p.lees+p.yeast, 0 }

// exactness returns how exactly the scale of a journal was read: half of the finest
// last digit that was ever written down, for a scale shows the same digits each time
// and 24.60 is typed as 24.6.
func exactness(live []Entry) calc.Gram {
	finest := 100.0
	for _, e := range live {
		if r, ok := e.Body.(Reading); ok && r.Mass > 0 {
			finest = min(finest, lastDigit(float64(r.Mass)))
		}
	}
	return calc.Gram(finest / 2)
}

// lastDigit returns what the last digit of a mass is worth in grams, in whichever unit
// it was written shorter: 24600 g are 24.6 kg.
func lastDigit(grams float64) float64 {
	const pound = calc.GramsPerPound
	for _, step := range []float64{100, 0.1 * pound, 10, 0.01 * pound} {
		if n := grams / step; math.Abs(n-math.Round(n)) < 1e-6 {
			return step
		}
	}
	return 1
}

// Levelled is the drink read off the marks of a vessel, and what the journal had before.
type Levelled struct {
	Entry    EntryID
	Seen     calc.Litre
	Reckoned calc.Litre
}

// Short is how much less than the journal the marks showed; 0 where that is no more than
// marks are good for.
func (l Levelled) Short() calc.Litre {
	gap := l.Reckoned - l.Seen
	if math.Abs(float64(gap)) <= toldApart*float64(l.Reckoned) {
		return 0
	}
	return gap
}

// LastWeighing returns the last time the vessel that the batch is in was weighed.
func (s State) LastWeighing() (Weighing, bool) {
	for i := len(s.Weighings) - 1; i >= 0; i-- {
		if w := s.Weighings[i]; w.Vessel == s.Vessel {
			return w, true
		}
	}
	return Weighing{}, false
}

// WeighingOf returns the weighing of an entry.
func (s State) WeighingOf(id EntryID) (Weighing, bool) {
	for _, w := range s.Weighings {
		if w.Entry == id {
			return w, true
		}
	}
	return Weighing{}, false
}

// LevelOf returns the level of an entry.
func (s State) LevelOf(id EntryID) (Levelled, bool) {
	for _, l := range s.Levels {
		if l.Entry == id {
			return l, true
		}
	}
	return Levelled{}, false
}

// WeighedNow is a weighing since which nothing came or went: enough for the shelf, which
// reads no journal.
type WeighedNow struct {
	At  time.Time // zero: not weighed, or not since something came or went
	Net calc.Gram // vessel and drink, less the yeast on the bottom
	SG  calc.SG
}

// weighedNow returns the last weighing, if it holds still.
func (s State) weighedNow() WeighedNow {
	w, ok := s.LastWeighing()
	if !ok || !w.Current || w.Fruit {
		return WeighedNow{}
	}
	return WeighedNow{At: w.At, Net: w.Scale - w.Lees, SG: w.sg}
}

// InVessel returns the room that the batch takes up in its vessel: by the scale, where
// it was weighed since anything came or went and the tare is known, and else by the
// journal, which follows the marks of the vessel.
func (r Row) InVessel() calc.Litre {
	reckoned := r.Batch.Volume + r.Batch.FruitRoom
	net := r.Batch.Weighed.Net - r.Vessel.Tare
	if r.Batch.Weighed.At.IsZero() || r.Vessel.Tare == 0 || net <= 0 {
		return reckoned
	}
	v, _, err := calc.VolumeWeighed(net, 0, r.Batch.Weighed.SG, 0)
	if err != nil || v < weighedAtAll*reckoned {
		return reckoned
	}
	return v
}

// Tares tells the tare of a vessel by its number; 0: not known.
type Tares func(VesselID) calc.Gram

// Tare is the Tares of the cellar's vessels.
func (s Shelf) Tare(id VesselID) calc.Gram {
	for _, v := range s.Vessels {
		if v.ID == id {
			return v.Tare
		}
	}
	return 0
}
