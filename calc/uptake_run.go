package calc

import (
	"fmt"
	"math"
)

// Uptake is a fermentation at one moment: the liquid, and what the yeast brings to
// the next hour. Its methods return new ones.
//
// At an event (an addition, a feed, a rack, a new temperature) take the Uptake of
// that moment, change it, and run on from there.
type Uptake struct {
	Liquid   Liquid
	Yeast    GramPerLitre // active yeast
	Nitrogen YAN          // not yet taken up

	// FirstNitrogen is what a litre held when the yeast was pitched, and what has been
	// fed since; it sets how much yeast a gram of nitrogen makes.
	FirstNitrogen YAN

	// LagLeft is what is left of the lag, in the unit of LagWork; 0 is over.
	LagLeft float64
}

// UptakeRow is a moment of a simulation with the figures of its liquid.
type UptakeRow struct {
	Time Hour
	Uptake
	Figures Figures
}

// maxUptakeHours is as far ahead as a simulation goes: two years.
const maxUptakeHours = 17520

// Pitched returns must at the moment the yeast goes in.
func (p UptakeParameters) Pitched(must Liquid) Uptake {
	return Uptake{Liquid: must, Yeast: p.Pitch, Nitrogen: p.Nitrogen, FirstNitrogen: p.Nitrogen, LagLeft: p.LagWork}
}

// Simulate ferments must from the pitch and returns a row for each of the given
// times, which must rise from 0 on. See [UptakeParameters.Run].
func (p UptakeParameters) Simulate(must Liquid, times ...Hour) ([]UptakeRow, error) {
	return p.Run(p.Pitched(must), times...)
}

// Run ferments from a moment on and returns a row for each of the given times, in
// hours since then, rising from 0 to 17520. Volume for concentrations is that at
// the start of the run; the figures of a row are those of its liquid by the ledger.
//
// A parameter outside [UptakeParameters.Validate], an empty liquid, or one with more
// than 900 g/L of sugar is an error.
func (p UptakeParameters) Run(from Uptake, times ...Hour) ([]UptakeRow, error) {
	if err := p.Validate(); err != nil {
		return nil, fmt.Errorf("uptake: %w", err)
	}
	r, err := p.runner(from, uptakeFine)
	if err != nil {
		return nil, fmt.Errorf("uptake: %w", err)
	}
	rows := make([]UptakeRow, 0, len(times))
	last := Hour(0)
	for _, t := range times {
		if err := inRange("time", float64(t), float64(last), maxUptakeHours, " h"); err != nil {
			return nil, fmt.Errorf("uptake: %w", err)
		}
		last = t
		row := UptakeRow{Time: t, Uptake: r.moment(float64(t))}
		if row.Figures, err = row.Liquid.Figures(); err != nil {
			return nil, fmt.Errorf("uptake: %w", err)
		}
		rows = append(rows, row)
	}
	return rows, nil
}

// EveryHours returns the times 0, step, 2·step ... up to and with until, for
// [UptakeParameters.Run]. A step that is not positive gives the two ends.
func EveryHours(step, until Hour) []Hour {
	if !(until > 0) {
		return []Hour{0}
	}
	if !(step > 0) || step > until {
		return []Hour{0, until}
	}
	var times []Hour
	for i := 0; i < maxUptakeHours && Hour(i)*step < until*(1-1e-9); i++ {
		times = append(times, Hour(i)*step)
	}
	return append(times, until)
}

// Plus returns the moment after other was poured in, with nitrogen grams of usable
// N in it: yeast and nitrogen thin out with the volume, mass is conserved.
func (u Uptake) Plus(other Liquid, nitrogen Gram) (Uptake, error) {
	if err := inRange("nitrogen added", float64(nitrogen), 0, maxGrams, " g"); err != nil {
		return Uptake{}, err
	}
	before, err := u.Liquid.Volume()
	if err != nil {
		return Uptake{}, fmt.Errorf("pour: %w", err)
	}
	u.Liquid = u.Liquid.Plus(other)
	after, err := u.Liquid.Volume()
	if err != nil {
		return Uptake{}, fmt.Errorf("pour: %w", err)
	}
	if after == 0 {
		return u, nil
	}
	thin := float64(before / after)
	fed := YAN(1000 * float64(nitrogen) / float64(after))
	u.Yeast *= GramPerLitre(thin)
	u.Nitrogen = u.Nitrogen*YAN(thin) + fed
	u.FirstNitrogen = u.FirstNitrogen*YAN(thin) + fed
	return u, nil
}

// Repitched returns the moment after fresh yeast, pitch g/L with work of a lag
// before it, was added to what is there.
func (u Uptake) Repitched(pitch GramPerLitre, work float64) (Uptake, error) {
	if err := inRange("pitch", float64(pitch), 0, 20, " g/L"); err != nil {
		return Uptake{}, err
	}
	if err := inRange("lag work", work, 0, 20, ""); err != nil {
		return Uptake{}, err
	}
	awake := float64(u.Yeast)*math.Exp(-u.LagLeft) + float64(pitch)*math.Exp(-work)
	u.Yeast += pitch
	if u.Yeast > 0 && awake > 0 {
		u.LagLeft = math.Log(float64(u.Yeast) / awake)
	}
	return u, nil
}

// Racked returns the moment after the liquid came off its sediment, which took the
// given share of the active yeast along, 0 to 1.
func (u Uptake) Racked(share float64) (Uptake, error) {
	if err := inRange("share of yeast left behind", share, 0, 1, ""); err != nil {
		return Uptake{}, err
	}
	u.Yeast *= GramPerLitre(1 - share)
	return u, nil
}

// uptakeRunner is a run under way: the stepper, and the liquid it started from.
type uptakeRunner struct {
	walk   uptakeStepper
	from   Uptake
	volume float64
	yield  Yield
}

// maxUptakeSugar bounds the sugar a run starts from, in g/L: well past any must.
const maxUptakeSugar = 900

func (p *UptakeParameters) runner(from Uptake, allow float64) (uptakeRunner, error) {
	v, err := from.Liquid.Volume()
	if err != nil {
		return uptakeRunner{}, err
	}
	if v == 0 {
		return uptakeRunner{}, fmt.Errorf("an empty vessel: %w", ErrOutOfRange)
	}
	y, err := from.vector(float64(v))
	if err != nil {
		return uptakeRunner{}, err
	}
	ethanol := from.Liquid.grams[Ethanol] / float64(v)
	rates := newUptakeRates(p, &y, ethanol, float64(from.FirstNitrogen)/1000, from.LagLeft)
	return uptakeRunner{
		walk:   newUptakeStepper(rates, y, allow),
		from:   from,
		volume: float64(v),
		yield:  p.Yield,
	}, nil
}

// vector returns the moment as the model sees it, for a liquid of v litres.
func (u Uptake) vector(v float64) (uptakeVector, error) {
	sugar := float64(u.Liquid.Fermentable()) / v
	for _, c := range []struct {
		what   string
		x      float64
		lo, hi float64
		unit   string
	}{
		{"sugar", sugar, 0, maxUptakeSugar, " g/L"},
		{"active yeast", float64(u.Yeast), 0, 100, " g/L"},
		{"nitrogen", float64(u.Nitrogen), 0, 1e5, " mg/L"},
		{"nitrogen at first", float64(u.FirstNitrogen), 0, 1e5, " mg/L"},
		{"lag left", u.LagLeft, 0, 40, ""},
	} {
		if err := inRange(c.what, c.x, c.lo, c.hi, c.unit); err != nil {
			return uptakeVector{}, err
		}
	}
	var y uptakeVector
	for c := Sucrose; c <= Maltotriose; c++ {
		y[upSucrose+int(c-Sucrose)] = u.Liquid.grams[c] / v
	}
	y[upNitrogen] = float64(u.Nitrogen) / 1000
	y[upYeast] = float64(u.Yeast)
	return y, nil
}

// moment returns the fermentation at t hours; t must not fall from call to call.
func (r *uptakeRunner) moment(t float64) Uptake {
	y := r.walk.reach(t)
	u := r.from
	u.Liquid = r.liquid(&y)
	u.Yeast = GramPerLitre(y[upYeast])
	u.Nitrogen = YAN(1000 * y[upNitrogen])
	// q grows as e^(µ·t) and h is ln(1 + 1/q).
	u.LagLeft = math.Log1p(r.walk.rates.lag * math.Exp(-r.walk.rates.growth*t))
	return u
}

// liquid returns the ledger in state y: the sugars that are left, and what became of
// the rest, the water that splitting takes up included.
func (r *uptakeRunner) liquid(y *uptakeVector) Liquid {
	l := r.from.Liquid
	for c := Sucrose; c <= Maltotriose; c++ {
		left := y[upSucrose+int(c-Sucrose)] * r.volume
		l.grams[Water] -= (l.grams[c] - left) * (traits[c].hexose - 1)
		l.grams[c] = left
	}
	eaten := max(0, (r.walk.rates.hexose0-y.hexose())*r.volume)
	l.grams[Ethanol] += eaten * r.yield.Ethanol
	l.grams[Glycerol] += eaten * r.yield.Glycerol
	l.grams[Water] = max(0, l.grams[Water])
	return l
}
