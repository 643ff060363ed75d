package model

import (
	"errors"
	"fmt"
	"time"

	"cellar.local/glassrow/calc"
)

// FizzRoute is a way to a drink that is sweet and sparkling.
type FizzRoute string

// The routes.
const (
	// ByPriming: sweeten with what yeast leaves, then prime with sugar. The safest in
	// bottles, for the bubbles end by themselves.
	ByPriming FizzRoute = "prime"

	// ByHeat: all of the sugar could ferment; when a test bottle says that there are
	// bubbles enough, heat kills the yeast. The riskiest.
	ByHeat FizzRoute = "stop with heat"

	// ByKeg: force the gas in, in a cold keg, with sulfite and sorbate.
	ByKeg FizzRoute = "keg, cold"

	// WithoutFizz: no bubbles are wanted. What could make some all the same?
	WithoutFizz FizzRoute = "leave it still"
)

// FizzRoutes returns the routes.
func FizzRoutes() []FizzRoute { return []FizzRoute{ByPriming, ByHeat, ByKeg, WithoutFizz} }

// FizzPlan is how bubbles are meant to get into a batch.
type FizzPlan struct {
	Route     FizzRoute
	Container calc.Container
	Target    calc.VolumesCO2
	With      Sweetener    // to prime with
	Warmest   calc.Celsius // the drink has been since it fermented
	Store     calc.Celsius // the warmest it will stand; of a keg, where it is served
	Headspace float64
}

// Fizz is what comes of a plan.
type Fizz struct {
	Residual calc.VolumesCO2 // in the drink before
	Mass     calc.Gram       // of the priming sugar
	Held     calc.GramPerLitre
	Expected calc.VolumesCO2 // when all goes as planned
	Gauge    calc.BarGauge   // of a keg: what to set

	Cellar, Warm calc.Sealed // when every gram became gas, where it fermented and where it stands warmest
	Judgement    calc.Judgement

	// Quiet is the judgement when nothing ferments: the gas that is in it now.
	Quiet calc.Judgement

	// Of heat: what the bottles hold when it is time, and in the bath.
	StopAt      calc.SG
	Ready, Bath calc.Sealed
	InBath      calc.Judgement
	Least, Safe time.Duration // at BathCelsius, for the least units and for the careful ones
}

// BathCelsius is the usual bath for bottles: hot enough to be done within the hour,
// and every degree more is pressure.
const BathCelsius calc.Celsius = 65

// harmlessSugar is the sugar that may be left in a still bottle: 0.3 volumes (notes on
// carbonation, section 6, common practice).
const harmlessSugar calc.GramPerLitre = 1.2

// Work works the plan out for a liquid.
func (p FizzPlan) Work(l calc.Liquid, d Drink) (Fizz, error) {
	now, err := l.Figures()
	if err != nil {
		return Fizz{}, err
	}
	if now.Volume <= 0 {
		return Fizz{}, fmt.Errorf("nothing to put bubbles into: %w", ErrInvalid)
	}
	b, err := calc.BottledAt(p.Warmest, p.Headspace, now.Strength)
	if err != nil {
		return Fizz{}, err
	}
	f := Fizz{Residual: calc.CO2Volumes(b.Residual), Held: now.Fermentable, Expected: p.Target}
	mass := calc.Gram(0)
	switch p.Route {
	case ByPriming:
		prime, err := calc.PrimingSugar(now.Volume, p.Target, p.Warmest, p.With.Ingredient)
		if err != nil {
			return f, err
		}
		f.Mass, mass = prime.Mass, prime.Mass
	case ByHeat:
		if err := f.heat(p, b, l, d); err != nil {
			return f, err
		}
	case ByKeg:
		return f, f.keg(p, b)
	}
	if f.Cellar, err = b.Primed(l, p.With.Ingredient, mass, p.Warmest); err != nil {
		return f, err
	}
	if f.Warm, err = b.Primed(l, p.With.Ingredient, mass, p.Store); err != nil {
		return f, err
	}
	f.Judgement = p.Container.Judge(f.Warm)
	quiet, err := b.Pressure(0, p.Store)
	f.Quiet = p.Container.Judge(quiet)
	return f, err
}

// Assess judges whether the yeast of a batch would leave alone what is closed in: l, and
// the priming sugar with it. s is the state of the batch and g what stands between its
// yeast and sugar. Cold counts in a keg alone, for bottles leave it.
func (p FizzPlan) Assess(g Safeguards, s State, l calc.Liquid, f Fizz, table calc.SorbateTable) (calc.Assessment, error) {
	g.Chilled = g.Chilled && p.Route == ByKeg
	if p.Route == ByPriming {
		l = l.Plus(p.With.Ingredient.Amount(f.Mass))
	}
	closed, err := l.Figures()
	if err != nil {
		return calc.Assessment{}, err
	}
	return g.Assess(s, &Trial{Before: s.Figures, After: closed}, table)
}

// heat works out when to stop and what the bath does.
func (f *Fizz) heat(p FizzPlan, b calc.Bottling, l calc.Liquid, d Drink) error {
	missing := p.Target.GramPerLitre() - b.Residual
	if missing < 0 {
		return fmt.Errorf("%.2f volumes, less than the %.2f the drink holds: %w", float64(p.Target), float64(f.Residual), calc.ErrUnreachable)
	}
	done, err := d.Fermentation().ToCO2(l, missing)
	if errors.Is(err, calc.ErrUnreachable) {
		return fmt.Errorf("%.0f g/L of sugar is too little for %.1f volumes; sweeten it on trial first, in the planner: %w",
			float64(f.Held), float64(p.Target), calc.ErrUnreachable)
	}
	if err != nil {
		return err
	}
	if f.StopAt, err = done.Liquid.SG(); err != nil {
		return err
	}
	if f.Ready, err = b.Pressure(missing, p.Warmest); err != nil {
		return err
	}
	if f.Bath, err = b.Pressure(missing, BathCelsius); err != nil {
		return err
	}
	f.InBath = p.Container.Judge(f.Bath)
	if f.Least, err = calc.HeatFor(calc.HeatFloor, BathCelsius); err != nil {
		return err
	}
	f.Safe, err = calc.HeatFor(calc.HeatCarefulLow, BathCelsius)
	return err
}

// keg works out the pressure to set, and judges the keg by what it would hold if the
// cold were lost.
func (f *Fizz) keg(p FizzPlan, b calc.Bottling) error {
	b.Residual = p.Target.GramPerLitre()
	set, err := calc.EquilibriumPressure(b.Residual, p.Store)
	if err != nil {
		return err
	}
	f.Gauge = set
	if f.Cellar, err = b.Pressure(0, p.Store); err != nil {
		return err
	}
	f.Warm, err = b.Pressure(0, max(p.Store, p.Warmest))
	f.Judgement = p.Container.Judge(f.Warm)
	return err
}

// Risky reports whether the drink holds sugar that living yeast could turn into gas,
// on top of what was meant: more than a still bottle bears.
func (f Fizz) Risky() bool { return f.Held > harmlessSugar }

// Entry returns the priming to write down.
func (f Fizz) Entry(p FizzPlan) Addition {
	return Addition{Portion: Portion{Ingredient: p.With.Ingredient, Mass: f.Mass}, Purpose: "prime"}
}

// WarmestSince returns the warmest that a batch was read at since the day its yeast was
// done, by the temperatures of its samples in the last weeks; ok is false without any.
func (b Batch) WarmestSince(days float64, now time.Time) (t calc.Celsius, ok bool) {
	for _, e := range b.Live() {
		r, reading := e.Body.(Reading)
		if !reading || !r.HasTemperature || e.At.After(now) || daysBetween(e.At, now) > days {
			continue
		}
		if !ok || r.Temperature > t {
			t, ok = r.Temperature, true
		}
	}
	return t, ok
}
