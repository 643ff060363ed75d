package calc

import (
	"fmt"
	"math"
	"slices"
)

// Places of what the forecast fits. Each is counted in its own spread from what is
// typical, so that all are alike to the fit.
const (
	fitRate = iota
	fitNitrogen
	fitTolerance
	fitLag
	fitGravity
	fitShare
	fitExponent
	fitCount
)

// exponentShort is how many spreads the exponent of the alcohol's braking lies below
// the 1 of the dextrose washes: musts that go dry prefer 0.5 (kinetics notes, section
// 3), and with a spread of 0.4 this centres it on their geometric mean, 0.7.
const exponentShort = 0.9

// fitVector is a course among all that are possible.
type fitVector [fitCount]float64

// forecastModel is a prospect made ready for many runs, per litre of the start.
type forecastModel struct {
	prospect Prospect
	seen     []forecastPoint
	times    []Hour  // that gravity is asked for
	until    float64 // the last hour that matters
	sigma    float64 // of a single reading, as far as can be told
	gravity  quickGravity

	y       uptakeVector // at the start
	volume  float64
	ethanol float64
	extract float64
	other   float64 // extract that is not food
	og      float64
	buffer  course
}

func newForecastModel(p Prospect, readings []TimedGravity, times []Hour) (*forecastModel, error) {
	f, err := p.Start.Liquid.Figures()
	if err != nil {
		return nil, err
	}
	v := float64(f.Volume)
	if v == 0 {
		return nil, fmt.Errorf("an empty vessel: %w", ErrOutOfRange)
	}
	y, err := p.Start.vector(v)
	if err != nil {
		return nil, err
	}
	if err := inRange("extract", float64(f.Extract), 0, 450, " g/L"); err != nil {
		return nil, err
	}
	seen := forecastPoints(readings)
	m := &forecastModel{
		prospect: p,
		seen:     seen,
		times:    times,
		until:    seen[len(seen)-1].hour,
		sigma:    medianSigma(readings),
		gravity:  newQuickGravity(),
		y:        y,
		volume:   v,
		ethanol:  p.Start.Liquid.grams[Ethanol] / v,
		extract:  float64(f.Extract),
		other:    float64(f.Extract - f.Fermentable),
		og:       float64(f.SG),
	}
	for _, t := range times {
		m.until = math.Max(m.until, float64(t))
	}
	return m, nil
}

// medianSigma returns the middle one of the readings' errors.
func medianSigma(readings []TimedGravity) float64 {
	all := make([]float64, len(readings))
	for i, r := range readings {
		all[i] = r.sigma()
	}
	slices.Sort(all)
	return all[len(all)/2]
}

// fitted returns the parameters at z.
func (m *forecastModel) fitted(z *fitVector) UptakeParameters {
	p, s := m.prospect.Typical, m.prospect.Spread
	p.RateScale *= math.Exp(s.RateScale * z[fitRate])
	p.Nitrogen *= YAN(m.nitrogenFactor(z))
	p.Tolerance = (p.Tolerance + s.ToleranceAbove) * PercentVol(math.Exp(s.Tolerance*z[fitTolerance]))
	p.LagWork *= math.Exp(s.LagWork * z[fitLag])
	p.EthanolExponent *= math.Exp(s.EthanolExponent * (z[fitExponent] - exponentShort))
	return p
}

func (m *forecastModel) nitrogenFactor(z *fitVector) float64 {
	return math.Exp(m.prospect.Spread.Nitrogen * z[fitNitrogen])
}

// sugarFactors returns what the sugars are multiplied by at z, and the extract.
func (m *forecastModel) sugarFactors(z *fitVector) (sugar, extract float64) {
	if m.extract <= 0 {
		return 1, 1
	}
	const gramsPerSG = 2600 // dissolved extract for a unit of gravity: 25.9 g/L at 1.010
	extract = math.Max(0, 1+gramsPerSG*float64(m.prospect.Spread.Gravity)*z[fitGravity]/m.extract)
	food := m.extract - m.other
	if food <= 0 {
		return extract, extract
	}
	return extract * math.Max(0, 1-m.prospect.Spread.Unfermentable*z[fitShare]*m.extract/food), extract
}

// course runs the model at z until gravity is at rest and past all that is asked. The
// result is good until the next call.
func (m *forecastModel) course(z *fitVector) course {
	p := m.fitted(z)
	sugar, extract := m.sugarFactors(z)
	y := m.y
	for i := upSucrose; i <= upMaltotriose; i++ {
		y[i] *= sugar
	}
	y[upNitrogen] *= m.nitrogenFactor(z)
	first := float64(m.prospect.Start.FirstNitrogen) / 1000 * m.nitrogenFactor(z)
	lag := m.prospect.Start.LagLeft * math.Exp(m.prospect.Spread.LagWork*z[fitLag])
	r := newUptakeRates(&p, &y, m.ethanol, first, lag)

	dissolved := m.extract * extract
	var food float64
	for i := upSucrose; i <= upMaltotriose; i++ {
		food += y[i]
	}
	litre := tabarieLitre{
		gravity: &m.gravity, rates: &r, yield: p.Yield,
		other: dissolved - food, // may be less than none: a better yield than assumed
		mass:  waterDensity20 * (m.gravity.ethanol.at(m.ethanol) + m.gravity.sucrose.at(dissolved) - 1),
	}
	c := &m.buffer
	c.t, c.sg, c.rate = c.t[:0], c.sg[:0], c.rate[:0]
	w := newUptakeStepper(r, y, uptakeCoarse)
	for {
		sg, rate := litre.read(&w.y, &w.slope)
		c.t, c.sg, c.rate = append(c.t, w.t), append(c.sg, sg), append(c.rate, rate)
		if len(c.t) > 1 && w.t >= float64(forecastHorizon) {
			return *c
		}
		if w.t > m.until && -rate < flatRate/8 && r.awake(w.t) > 0.9 {
			return *c
		}
		w.advance()
	}
}

// tabarieLitre reads gravity off a run of what was a litre at its start.
type tabarieLitre struct {
	gravity *quickGravity
	rates   *uptakeRates
	yield   Yield
	other   float64
	mass    float64
}

func (l *tabarieLitre) read(y, slope *uptakeVector) (sg, rate float64) {
	const hour = 0.02 // short enough for a difference, long enough for its digits
	sg = l.of(y)
	var next uptakeVector
	for i := range next {
		next[i] = y[i] + hour*slope[i]
	}
	return sg, (l.of(&next) - sg) / hour
}

func (l *tabarieLitre) of(y *uptakeVector) float64 {
	eaten := l.rates.hexose0 - y.hexose()
	sugars := y[upSucrose] + y[upGlucose] + y[upFructose] + y[upMaltose] + y[upMaltotriose]
	return l.gravity.of(
		l.mass-eaten*(1-l.yield.Ethanol-l.yield.Glycerol),
		l.rates.ethanol0+eaten*l.yield.Ethanol,
		l.other+sugars+eaten*l.yield.Glycerol)
}

// parameters returns the course at z as a caller can run it.
func (m *forecastModel) parameters(z *fitVector) (UptakeParameters, Uptake) {
	u := m.prospect.Start
	sugar, extract := m.sugarFactors(z)
	var before, after float64
	for c := Sucrose; c <= Maltotriose; c++ {
		before += u.Liquid.grams[c]
		u.Liquid.grams[c] *= sugar
		after += u.Liquid.grams[c]
	}
	// What is no food makes up the rest, and water the volume.
	solids := before - after + m.extract*m.volume*(extract-1)
	had := u.Liquid.grams[OtherSolids]
	u.Liquid.grams[OtherSolids] = math.Max(0, had+solids)
	u.Liquid.grams[Water] = math.Max(0, u.Liquid.grams[Water]-
		specificVolumeOfSucrose*waterDensity20*(after-before+u.Liquid.grams[OtherSolids]-had))
	u.Nitrogen *= YAN(m.nitrogenFactor(z))
	u.FirstNitrogen *= YAN(m.nitrogenFactor(z))
	u.LagLeft = math.Min(40, u.LagLeft*math.Exp(m.prospect.Spread.LagWork*z[fitLag]))
	p := m.fitted(z)
	p.RateScale = math.Min(20, math.Max(0.001, p.RateScale))
	p.Nitrogen = min(2000, p.Nitrogen)
	p.Tolerance = min(30, max(1, p.Tolerance))
	p.LagWork = min(20, p.LagWork)
	p.EthanolExponent = min(4, max(0.25, p.EthanolExponent))
	return p, u
}

// phase tells where the course at z stands at the last reading.
func (m *forecastModel) phase(z *fitVector, c *course, end ending) Phase {
	last := m.seen[len(m.seen)-1].hour
	first := c.at(0)
	whole, done := first-end.sg, first-c.at(last)
	rate := -c.rateAt(last)
	switch {
	case whole > leastFall && done < lagShare*whole:
		return PhaseLag
	case last >= end.finish && rate < flatRate:
		if m.hasFood(z, last) {
			return PhaseStopped
		}
		return PhaseFinished
	case rate < c.fastest(last)/3:
		return PhaseSlowing
	}
	return PhaseWorking
}

// hasFood reports whether the course at z holds at t hours sugar that the yeast should
// still manage: more than a dry wine keeps, at less than nine tenths of what its
// label says it stands (diagnosis notes, section 5).
func (m *forecastModel) hasFood(z *fitVector, t float64) bool {
	p, u := m.parameters(z)
	r, err := p.runner(u, uptakeCoarse)
	if err != nil {
		return false
	}
	y := r.walk.reach(t)
	strength := 100 * r.walk.rates.ethanol(&y) / ethanolDensityPure20
	return y.hexose() > drySugar && strength < spentFrom*float64(m.prospect.Typical.Tolerance)
}

// Limits of the phases.
const (
	leastFall = 0.003 // a fall of three points is worth the name
	drySugar  = 4.0   // g/L, the OIV limit for dry wine
	spentFrom = 0.9
)

// odd returns the places of the readings that lie far off the course.
func (m *forecastModel) odd(readings []TimedGravity, c *course) []int {
	var far []int
	for i, r := range readings {
		if math.Abs(c.at(float64(r.At))-float64(r.SG)) > oddResiduals*math.Hypot(r.sigma(), forecastMisfit) {
			far = append(far, i)
		}
	}
	return far
}
