package calc

import (
	"fmt"
	"math"
	"slices"
)

// Prospect is what is known of a fermentation before its readings: where it starts,
// the typical course of such a one, and how far from typical it may be.
type Prospect struct {
	// Start is the liquid at the pitch or at the last event; times count from there.
	Start Uptake

	// Typical is the centre of what is expected.
	Typical UptakeParameters

	// Spread is how far from it one may be.
	Spread ForecastSpread
}

// ForecastSpread holds the standard deviations of what is not known beforehand; a
// value of 0 takes its quantity for certain.
type ForecastSpread struct {
	RateScale       float64 // of the logarithm of the pace
	Nitrogen        float64 // of the logarithm of the effective nitrogen
	Tolerance       float64 // of the logarithm of the tolerance; with wide tails
	LagWork         float64 // of the logarithm of the lag
	Gravity         SG      // of the original gravity; with wide tails
	EthanolExponent float64 // of the logarithm of the braking's exponent
	Unfermentable   float64 // of the share of the extract that is not food after all

	// ToleranceAbove is the strength by which yeasts outdo their label, in % vol.
	ToleranceAbove PercentVol
}

// TypicalSpread returns the spread for a must whose make-up is known.
//
// Pace and lag: kinetics notes, section 3, log-sd 0.4 and 0.5; the pace is given 0.5,
// since s was fitted from 0.29 to 2.5. The exponent of the braking: 0.4, so that 0.5
// and 1 both lie near. Effective nitrogen: a factor of 1.6, since
// analysis and outcome hardly go together (section 5). Tolerance: fitted asymptotes
// of wine-type yeasts of 15.0 to 19.6 % vol lie above what labels say. Original
// gravity 0.0015 and 2 % of the extract: sections 3 and 4.
func TypicalSpread() ForecastSpread {
	return ForecastSpread{
		RateScale:       0.5,
		Nitrogen:        0.5,
		Tolerance:       0.12,
		LagWork:         0.5,
		Gravity:         0.0015,
		EthanolExponent: 0.4,
		Unfermentable:   solidsSpread,
		ToleranceAbove:  1.5,
	}
}

// UnknownMustSolids returns the make-up of a must of which only gravity is known:
// sugar, and 5 % that is not, between a wash of plain sugar and grape juice.
func UnknownMustSolids() Liquid {
	return solids(map[Component]Gram{Sucrose: 95, OtherSolids: 5})
}

// typicalNitrogen is the nitrogen of a must of which nothing is said, in mg N/L: the
// classic minimum (Bely, Sablayrolles & Barre 1990, from memory).
const typicalNitrogen YAN = 140

// unknownNitrogen is the spread of the logarithm of a must's nitrogen when nothing is
// said: musts of 70 to 370 mg N/L are common (diagnosis notes, section 1), a factor
// of 1.6 either side of the middle.
const unknownNitrogen = 0.5

// ProspectOf returns the prospect of a must of which only the first gravity, the
// temperature and the yeast's tolerance are known. og from 1.000 to 1.2.
func ProspectOf(og SG, t Celsius, tolerance PercentVol) (Prospect, error) {
	if err := inRange("original gravity", float64(og), 1, maxOriginalSG, ""); err != nil {
		return Prospect{}, err
	}
	must, err := LiquidOf(1, og, 0, UnknownMustSolids())
	if err != nil {
		return Prospect{}, err
	}
	p := TypicalUptake(t, typicalNitrogen, tolerance)
	spread := TypicalSpread()
	spread.Unfermentable = 2 * solidsSpread
	spread.Nitrogen = math.Hypot(spread.Nitrogen, unknownNitrogen)
	return Prospect{Start: p.Pitched(must), Typical: p, Spread: spread}, nil
}

// Band is a median and the range that holds the truth four times in five.
type Band[T ~float64] struct{ Low, Median, High T }

// Phase is where a fermentation stands by its fitted curve.
type Phase uint8

// The phases.
const (
	PhaseUnknown  Phase = iota // too few readings to say
	PhaseLag                   // less than a twentieth of the fall is done
	PhaseWorking               // under way
	PhaseSlowing               // at less than a third of its best pace
	PhaseFinished              // at its final gravity, with nothing left for this yeast
	PhaseStopped               // at its final gravity, with sugar left and below tolerance
)

// Forecast is what the readings so far say of the rest.
type Forecast struct {
	// Known is false as long as the readings say nothing: fewer than three times, or
	// still in the lag. Then Final, Finish and Curve are zero.
	Known bool
	Phase Phase

	// Final is where gravity comes to rest: it falls less than [FlatSlope] from there
	// on. It is what an instrument will read, its error included.
	Final Band[SG]

	// Finish is when gravity is within 0.001 of that, in hours since the start.
	Finish Band[Hour]

	// Rate is the pace of the fitted curve at the last reading.
	Rate SGPerDay

	// Curve holds the gravity at the times asked for.
	Curve []Band[SG]

	// Fitted and Start are the likeliest course: Run them to any moment, an event say,
	// and go on from there with a new Prospect.
	Fitted UptakeParameters
	Start  Uptake

	// Odd lists readings, by their place, that lie so far off the curve that they
	// hardly counted.
	Odd []int
}

// Limits of a forecast.
const (
	forecastLeast   = 3                 // readings at different times
	forecastHorizon = Hour(24 * 7 * 24) // as far as it looks: 24 weeks
	finishWithin    = 0.001             // of final gravity, one point
	lagShare        = 0.05              // of the fall: still lag
	oddResiduals    = 4                 // standard deviations
)

// Forecast fits the uptake model to the readings since the start and looks ahead:
// final gravity, when, and the gravity at the given times, each a median and an 80 %
// band.
//
// Pace, effective nitrogen, tolerance, lag, the exponent of the alcohol's braking, the
// original gravity and the share that is not food are fitted, each held by its spread. A reading far off the curve counts
// little (Student's t with four degrees of freedom). Three kinds of doubt are in a
// band: the error of a reading, what the readings leave open (drawn from the
// posterior by importance sampling, seed fixed), and what the model gets wrong, see
// forecastMisfit. Equal arguments give equal results.
//
// Readings in any order, from 0 to 4032 h; more than 40 are averaged over stretches of
// time. Sources: kinetics notes, sections 3 and 4.
func (p Prospect) Forecast(readings []TimedGravity, times ...Hour) (Forecast, error) {
	if err := p.validate(readings, times); err != nil {
		return Forecast{}, fmt.Errorf("forecast: %w", err)
	}
	if distinctTimes(readings) < forecastLeast {
		return Forecast{}, nil
	}
	m, err := newForecastModel(p, readings, times)
	if err != nil {
		return Forecast{}, fmt.Errorf("forecast: %w", err)
	}
	modes := m.modes()
	best := &modes[0].at
	likeliest := m.course(best)
	end := likeliest.final()
	var f Forecast
	f.Fitted, f.Start = m.parameters(best)
	f.Rate = SGPerDay(hoursPerDay * likeliest.rateAt(m.seen[len(m.seen)-1].hour))
	f.Odd = m.odd(readings, &likeliest)
	f.Phase = m.phase(best, &likeliest, end)
	if f.Known = f.Phase != PhaseLag; f.Known {
		m.look(&f, modes, end)
	}
	return f, nil
}

// distinctTimes returns at how many different times there are readings.
func distinctTimes(readings []TimedGravity) int {
	times := make(map[Hour]bool)
	for _, r := range readings {
		times[r.At] = true
	}
	return len(times)
}

func (p *Prospect) validate(readings []TimedGravity, times []Hour) error {
	if err := p.Typical.Validate(); err != nil {
		return err
	}
	s := p.Spread
	for _, c := range []struct {
		what    string
		x, most float64
	}{
		{"spread of the rate", s.RateScale, 1},
		{"spread of the nitrogen", s.Nitrogen, 1},
		{"spread of the tolerance", s.Tolerance, 1},
		{"spread of the lag", s.LagWork, 1},
		{"spread of the exponent", s.EthanolExponent, 1},
		{"spread of the gravity", float64(s.Gravity), 0.1},
		{"spread of the unfermentable share", s.Unfermentable, 1},
	} {
		if err := inRange(c.what, c.x, 0, c.most, ""); err != nil {
			return err
		}
	}
	if err := inRange("tolerance above the label", float64(s.ToleranceAbove), 0, 10, " % vol"); err != nil {
		return err
	}
	for _, r := range readings {
		if err := r.validate(); err != nil {
			return err
		}
		if err := inRange("time of a reading", float64(r.At), 0, float64(forecastHorizon), " h"); err != nil {
			return err
		}
	}
	for _, t := range times {
		if err := inRange("time asked for", float64(t), 0, float64(forecastHorizon), " h"); err != nil {
			return err
		}
	}
	return nil
}

// forecastPoint is a reading as the fit sees it.
type forecastPoint struct{ hour, sg, sigma float64 }

// mostForecastPoints bounds the work; a floating instrument gives thousands.
const mostForecastPoints = 40

// forecastPoints returns the readings in order of time, those of one stretch of time
// as one: their median, which a blunder does not move, with the error of their mean.
func forecastPoints(readings []TimedGravity) []forecastPoint {
	if len(readings) == 0 {
		return nil
	}
	sorted := slices.Clone(readings)
	slices.SortStableFunc(sorted, func(a, b TimedGravity) int {
		switch {
		case a.At < b.At:
			return -1
		case a.At > b.At:
			return 1
		}
		return 0
	})
	stretch := 0.0
	if len(sorted) > mostForecastPoints {
		stretch = float64(sorted[len(sorted)-1].At-sorted[0].At) / mostForecastPoints
	}
	var points []forecastPoint
	for from := 0; from < len(sorted); {
		to := from + 1
		for to < len(sorted) && float64(sorted[to].At-sorted[from].At) <= stretch {
			to++
		}
		points = append(points, pooled(sorted[from:to]))
		from = to
	}
	return points
}

// pooled returns readings of about one time as one point.
func pooled(group []TimedGravity) forecastPoint {
	var hour, weight float64
	sgs := make([]float64, len(group))
	for i, r := range group {
		hour += float64(r.At)
		weight += r.weight()
		sgs[i] = float64(r.SG)
	}
	slices.Sort(sgs)
	n := len(sgs)
	return forecastPoint{
		hour:  hour / float64(n),
		sg:    (sgs[(n-1)/2] + sgs[n/2]) / 2,
		sigma: 1 / math.Sqrt(weight),
	}
}
