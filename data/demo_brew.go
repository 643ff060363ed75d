package data

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"time"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// recipe is how a demo batch was made and looked after.
type recipe struct {
	name   string
	drink  model.Drink
	vessel string  // label of the first one
	began  float64 // evenings ago
	volume calc.Litre
	read   calc.SG // gravity of the must on the hydrometer
	must   []helping
	fruit  []helping // of the handbook, crushed

	lines    float64      // division of the hydrometer in SG
	room     calc.Celsius // where it stands
	readings []float64    // evenings ago; 2.5 is the morning of the evening 2
	events   []event
}

// helping is some of a thing in the pantry.
type helping struct {
	mass calc.Gram
	what string // name in the pantry
	as   string // what the journal calls it; empty: the same
}

// event is something else that was done, after the reading of that evening.
type event struct {
	ago float64
	do  act
}

// act does something to a brew and returns what the journal says of it, nil for
// nothing.
type act func(*brew) (model.Body, error)

// pace is how fast a yeast works: at most peak grams of hexose in a litre and a
// day, half of it when half g/L of sugar are left, and less the nearer the
// strength is to limit, where it gives up. Most of the pace is there lag days
// after it was woken.
type pace struct {
	lag, peak, half float64
	limit           calc.PercentVol
}

func (p pace) rate(days float64, f calc.Figures) float64 {
	if days <= 0 || p.peak == 0 {
		return 0
	}
	awake := 1 - math.Exp(-math.Pow(days/p.lag, 3))
	sugar := float64(f.Fermentable)
	tired := math.Min(1, float64(f.Strength/p.limit))
	return p.peak * awake * sugar / (sugar + p.half) * (1 - math.Pow(tired, 4))
}

// brew is a demo batch in the making.
type brew struct {
	days    diary
	slot    int // place in the evening's round
	vessels []model.Vessel
	pantry  pantry
	rng     *rand.Rand

	recipe recipe
	liquid calc.Liquid // what really is in the vessel
	at     time.Time   // when liquid is that
	pace   pace
	woken  time.Time
	batch  model.Batch

	steeping []steeping
	plan     model.EntryID // of the feeding planned last
	agenda   []step        // still to be done
	parts    []*brew       // split off it
}

// step is an event at its time.
type step struct {
	at time.Time
	do act
}

// steeping is fruit in a vessel.
type steeping struct {
	portion calc.FruitPortion
	in      time.Time
}

// newBrew returns the batch of a recipe before anything is done; slot counts the
// recipes from 0.
func newBrew(r recipe, slot int, days diary, vessels []model.Vessel, stock pantry) *brew {
	return &brew{
		days: days, slot: slot, vessels: vessels, pantry: stock,
		rng:    rand.New(rand.NewPCG(demoSeed, uint64(slot))),
		recipe: r,
		at:     days.at(r.began, slot, 0),
		batch:  model.Batch{ID: model.BatchID(slot + 1), Name: r.name, Drink: r.drink},
	}
}

// make plays the recipe through, and what was split off it.
func (b *brew) make() error {
	b.fillAgenda(event{b.recipe.began, makesMust})
	tomorrow := b.days.lastEvening.AddDate(0, 0, 1)
	if err := b.until(tomorrow); err != nil {
		return err
	}
	for _, part := range b.parts {
		if err := part.until(tomorrow); err != nil {
			return fmt.Errorf("%s: %w", part.recipe.name, err)
		}
	}
	return nil
}

// fillAgenda puts the events of the recipe, after others, on the agenda.
func (b *brew) fillAgenda(first ...event) {
	events := first
	for _, ago := range b.recipe.readings {
		events = append(events, event{ago, reads(0, "")})
	}
	events = append(events, b.recipe.events...)
	slices.SortStableFunc(events, func(x, y event) int { return cmp.Compare(y.ago, x.ago) })
	nth := 0
	for i, e := range events {
		if nth++; i == 0 || e.ago != events[i-1].ago {
			nth = 0
		}
		b.agenda = append(b.agenda, step{b.days.at(e.ago, b.slot, nth), e.do})
	}
}

// until does what is on the agenda up to a time.
func (b *brew) until(t time.Time) error {
	for len(b.agenda) > 0 && !b.agenda[0].at.After(t) {
		next := b.agenda[0]
		b.agenda = b.agenda[1:]
		if err := b.fermentUntil(next.at); err != nil {
			return err
		}
		body, err := next.do(b)
		if err != nil {
			return fmt.Errorf("%s: %w", next.at.Format(time.DateTime), err)
		}
		if body != nil {
			b.write(body)
		}
	}
	return nil
}

func (b *brew) write(body model.Body) { b.writeIn(0, body) }

// writeIn writes an entry of a deed that touches several batches.
func (b *brew) writeIn(deed uint64, body model.Body) {
	b.batch.Entries = append(b.batch.Entries, model.Entry{
		ID:       model.EntryID(len(b.batch.Entries) + 1),
		Deed:     deed,
		At:       b.at,
		Recorded: b.at.Add(time.Duration(20+b.rng.IntN(200)) * time.Second),
		Body:     body,
	})
}

// demoStep is how long the pace of a fermentation is taken to stay the same.
const demoStep = 3 * time.Hour

func (b *brew) fermentUntil(t time.Time) error {
	for b.at.Before(t) {
		step := min(demoStep, t.Sub(b.at))
		b.soak(step)
		b.at = b.at.Add(step)
		rate, f, err := b.rate()
		if err != nil {
			return err
		}
		if rate < 0.005 {
			continue
		}
		eaten, err := b.batch.Drink.Fermentation().Run(b.liquid, calc.Gram(rate*float64(f.Volume)*step.Hours()/24))
		if err != nil {
			return err
		}
		b.liquid = eaten.Liquid
	}
	return nil
}

// soak lets in the juice that leaves the fruit over the next step.
func (b *brew) soak(span time.Duration) {
	for _, f := range b.steeping {
		since := b.at.Sub(f.in)
		b.liquid = b.liquid.Plus(f.portion.Juice().Scaled(f.portion.Free(since+span) - f.portion.Free(since)))
	}
}

// rate returns the hexose eaten in a litre and a day at the moment.
func (b *brew) rate() (float64, calc.Figures, error) {
	if b.woken.IsZero() {
		return 0, calc.Figures{}, nil
	}
	f, err := b.liquid.Figures()
	return b.pace.rate(b.at.Sub(b.woken).Hours()/24, f), f, err
}

func (b *brew) vesselLabelled(label string) (model.Vessel, error) {
	for _, v := range b.vessels {
		if v.Label == label {
			return v, nil
		}
	}
	return model.Vessel{}, fmt.Errorf("no vessel %s", label)
}

// makesMust is the first act of every batch.
func makesMust(b *brew) (model.Body, error) {
	vessel, err := b.vesselLabelled(b.recipe.vessel)
	if err != nil {
		return nil, err
	}
	must := model.Must{Vessel: vessel.ID, Volume: b.recipe.volume, Gravity: b.recipe.read}
	for _, h := range b.recipe.must {
		p, err := b.pantry.portion(h)
		if err != nil {
			return nil, err
		}
		must.Ingredients = append(must.Ingredients, p)
	}
	for _, h := range b.recipe.fruit {
		f, err := b.pantry.fruitPortion(h)
		if err != nil {
			return nil, err
		}
		must.Fruit = append(must.Fruit, f)
	}
	for _, f := range must.Fruit {
		b.steeping = append(b.steeping, steeping{f, b.at})
	}
	b.liquid, err = must.Liquid(b.batch.Drink)
	return must, err
}

// pitches adds yeast.
func pitches(yeast model.YeastGroup, name string, tolerance calc.PercentVol, p pace) act {
	return func(b *brew) (model.Body, error) {
		b.pace, b.woken = p, b.at
		return model.Pitch{Yeast: yeast, Name: name, Tolerance: tolerance}, nil
	}
}

// wakes changes the pace of the yeast, which nobody in the cellar sees.
func wakes(p pace) act {
	return func(b *brew) (model.Body, error) {
		b.pace, b.woken = p, b.at
		return nil, nil
	}
}

// says writes a note.
func says(text string) act {
	return func(*brew) (model.Body, error) { return model.Note{Text: text}, nil }
}

// stirsIn adds something to the batch.
func stirsIn(h helping, purpose string) act {
	return func(b *brew) (model.Body, error) {
		p, err := b.pantry.portion(h)
		b.liquid = b.liquid.Plus(p.Liquid())
		return model.Addition{Portion: p, Purpose: purpose}, err
	}
}

// forgets adds something and writes only a note of it, which nobody can reckon with.
func forgets(h helping, note string) act {
	return func(b *brew) (model.Body, error) {
		p, err := b.pantry.portion(h)
		b.liquid = b.liquid.Plus(p.Liquid())
		return model.Note{Text: note}, err
	}
}

// stabilises writes down what was done; the yeast of the demo cellar gives up.
func stabilises(what model.Stabilise) act {
	return func(b *brew) (model.Body, error) {
		b.pace = pace{lag: 1, limit: 1}
		return what, nil
	}
}

// putsIn adds fruit of the handbook, crushed.
func putsIn(h helping) act {
	return func(b *brew) (model.Body, error) {
		p, err := b.pantry.fruitPortion(h)
		b.steeping = append(b.steeping, steeping{p, b.at})
		b.liquid = b.liquid.Plus(p.Juice().Scaled(p.Free(0)))
		return model.Fruited{Portion: p}, err
	}
}

// takesFruitOut lifts the fruit out and lets it drain; what is inside is lost.
func takesFruitOut(b *brew) (model.Body, error) {
	b.steeping = nil
	return model.Press{}, nil
}

// racksTo moves the batch to another vessel and leaves some litres behind.
func racksTo(label string, left calc.Litre) act {
	return func(b *brew) (model.Body, error) {
		to, err := b.vesselLabelled(label)
		if err != nil {
			return nil, err
		}
		have, err := b.liquid.Volume()
		if err != nil {
			return nil, err
		}
		keep := calc.Litre(math.Floor(float64(have-left)*10) / 10)
		b.liquid = b.liquid.Scaled(float64(keep / have))
		return model.Rack{To: to.ID, Volume: keep}, nil
	}
}

// bottles draws the whole batch off, under cork.
func bottles(count int, size calc.Litre) act {
	return func(*brew) (model.Body, error) {
		return model.Bottle{Count: count, Size: size, Closure: "cork"}, nil
	}
}

// tastes opens a bottle.
func tastes(mark float64, words string) act {
	return func(*brew) (model.Body, error) {
		return model.Tasted{Bottles: 1, Marked: true, Mark: mark, Words: words}, nil
	}
}

// takes carries bottles off untasted.
func takes(count int, words string) act {
	return func(*brew) (model.Body, error) { return model.Tasted{Bottles: count, Words: words}, nil }
}

// slips writes down a gravity that is not that of the batch.
func slips(wrong calc.SG) act {
	return func(*brew) (model.Body, error) {
		return model.Reading{Gravity: wrong, Scale: model.ScaleSG, Calibration: model.DefaultCalibration}, nil
	}
}

// strikesOut takes back the entry before.
func strikesOut(reason string) act {
	return func(b *brew) (model.Body, error) {
		return model.Void{Entry: model.EntryID(len(b.batch.Entries)), Reason: reason}, nil
	}
}

// unsteadiness of hand and eye: no reading is further off than this before the
// lines of the hydrometer come into it, and most less than half of it.
const unsteadiness = 0.0004

// reads takes a gravity, and writes down a pH and a remark if given.
func reads(ph float64, remark string) act {
	return func(b *brew) (model.Body, error) {
		f, err := b.liquid.Figures()
		if err != nil {
			return nil, err
		}
		seen := f.SG + calc.SG(unsteadiness*(b.rng.Float64()+b.rng.Float64()-1))
		r := model.Reading{Scale: model.ScaleSG, Calibration: model.DefaultCalibration, PH: ph, Note: remark}
		if b.rng.IntN(5) < 3 { // the thermometer is not always at hand
			r.Temperature, r.HasTemperature = b.sampleTemperature(), true
		}
		r.Gravity, err = floats(r, seen, f.Strength)
		r.Gravity = calc.SG(math.Round(math.Round(float64(r.Gravity)/b.recipe.lines)*b.recipe.lines*1000) / 1000)
		return r, err
	}
}

// floats returns where the hydrometer of r comes to rest in a sample of gravity sg.
func floats(r model.Reading, sg calc.SG, abv calc.PercentVol) (calc.SG, error) {
	r.Gravity = sg
	for range 4 {
		means, err := r.Corrected(abv)
		if err != nil {
			return 0, err
		}
		r.Gravity += sg - means
	}
	return r.Gravity, nil
}

// sampleTemperature is that of the room, and up to four degrees more while the
// yeast works hard.
func (b *brew) sampleTemperature() calc.Celsius {
	rate, _, err := b.rate()
	if err != nil {
		rate = 0
	}
	t := float64(b.recipe.room) + rate/15 + 1.5*(b.rng.Float64()-0.5)
	return calc.Celsius(math.Round(2*t) / 2)
}
