package calc

import (
	"fmt"
	"math"
)

// SGPerDay is how fast gravity changes; a fall is negative.
type SGPerDay float64

// TimedGravity is a gravity read at a time, in hours since the pitch or the last
// event.
type TimedGravity struct {
	At    Hour
	SG    SG
	Sigma SG // standard deviation of the reading; 0 stands for TypicalSigma
}

// TypicalSigma is the random error of a home hydrometer as a standard deviation:
// division, meniscus, bubbles, sample temperature and rounding come to 0.0011 to
// 0.0015 (diagnosis notes, section 6). What an instrument reads too high or low
// every time is not in it: that cancels in a slope.
const TypicalSigma SG = 0.0015

// DeviceSigma is what the middle of a few hours of a floating device's readings counts
// for, as a standard deviation. The middle of dozens wobbles far less; but what makes
// such a device stray lasts for days, so that twenty of them a week are not twenty
// witnesses. A choice: half as good as a hydrometer.
const DeviceSigma SG = 0.003

// Limits of a slope that counts as flat: the slope itself, and what it may be for
// all the readings can say, 95 in 100 (diagnosis notes, section 5; a choice).
const (
	FlatSlope SGPerDay = 0.0003
	FlatLimit SGPerDay = 0.0007
)

// FlatError is the standard error from which readings that stand still prove it:
// FlatLimit over the 95 % point of the normal distribution, one-sided.
const FlatError = FlatLimit / normal95

// normal95 is exceeded by one in twenty.
const normal95 = 1.644854

// Slope is the straight line through readings.
type Slope struct {
	PerDay   SGPerDay
	Error    SGPerDay // standard error, from the readings' own sigma
	Span     Hour     // from the first reading to the last
	Readings int
}

// SlopeOf returns the slope of the straight line through the readings, each weighted
// by 1/σ²; with the mean time t̄,
//
//	b = Σ w·(t − t̄)·SG / Σ w·(t − t̄)²,  s.e. = 1/√(Σ w·(t − t̄)²)
//
// It needs two readings at different times. Times within a million hours, gravities
// from 0.9 to 1.5, sigma 0 to 0.1. Two readings a day apart with σ 0.0015 have a
// standard error of 0.0021 a day: less than that they cannot show.
func SlopeOf(readings ...TimedGravity) (Slope, error) {
	s, err := spreadOf(readings)
	if err != nil {
		return Slope{}, fmt.Errorf("slope: %w", err)
	}
	if s.moment <= 0 {
		return Slope{}, fmt.Errorf("slope: %d readings at one time, want two times: %w", len(readings), ErrOutOfRange)
	}
	b := 0.0
	first, last := readings[0].At, readings[0].At
	for _, r := range readings {
		b += r.weight() * (r.days() - s.middle) * float64(r.SG-readings[0].SG)
		first, last = min(first, r.At), max(last, r.At)
	}
	return Slope{
		PerDay:   SGPerDay(b / s.moment),
		Error:    SGPerDay(1 / math.Sqrt(s.moment)),
		Span:     last - first,
		Readings: len(readings),
	}, nil
}

// Flat reports whether the readings show that gravity stands still: the slope is less
// than 0.0003 a day, and a fall of more than 0.0007 a day is ruled out. How many
// days and readings that needs besides is for the caller's rule.
func (s Slope) Flat() bool {
	return math.Abs(float64(s.PerDay)) < float64(FlatSlope) && float64(-s.PerDay)+normal95*float64(s.Error) < float64(FlatLimit)
}

// Falling reports whether a fall is sure, 95 in 100.
func (s Slope) Falling() bool { return float64(s.PerDay)+normal95*float64(s.Error) < 0 }

// DecidesAt returns when one more reading, with standard deviation sigma, makes the
// standard error of the slope want or less. Adding weight w at t to readings of
// weight W and spread M about their mean time t̄ makes the spread
//
//	M + W·w/(W + w)·(t − t̄)²
//
// The result is never before the last reading. With [FlatError] it is when flat
// readings are proof. One reading is enough to ask.
func DecidesAt(readings []TimedGravity, sigma SG, want SGPerDay) (Hour, error) {
	if len(readings) == 0 {
		return 0, fmt.Errorf("next reading: no reading yet: %w", ErrOutOfRange)
	}
	if err := inRange("standard error wanted", float64(want), 1e-9, 1, " a day"); err != nil {
		return 0, fmt.Errorf("next reading: %w", err)
	}
	next := TimedGravity{SG: 1, Sigma: sigma}
	if err := next.validate(); err != nil {
		return 0, fmt.Errorf("next reading: %w", err)
	}
	s, err := spreadOf(readings)
	if err != nil {
		return 0, fmt.Errorf("next reading: %w", err)
	}
	last := readings[0].At
	for _, r := range readings {
		last = max(last, r.At)
	}
	missing := 1/float64(want*want) - s.moment
	if missing <= 0 {
		return last, nil
	}
	w := next.weight()
	days := s.middle + math.Sqrt(missing*(s.weight+w)/(s.weight*w))
	return max(last, Hour(hoursPerDay*days)), nil
}

const hoursPerDay = 24

// spread is the weight of readings, their mean time in days and their second moment
// about it.
type spread struct{ weight, middle, moment float64 }

// spreadOf checks the readings and sums them up.
func spreadOf(readings []TimedGravity) (spread, error) {
	var s spread
	for _, r := range readings {
		if err := r.validate(); err != nil {
			return spread{}, err
		}
		s.weight += r.weight()
		s.middle += r.weight() * r.days()
	}
	if len(readings) > 0 {
		s.middle /= s.weight
	}
	for _, r := range readings {
		d := r.days() - s.middle
		s.moment += r.weight() * d * d
	}
	return s, nil
}

func (r TimedGravity) validate() error {
	if err := inRange("time of a reading", float64(r.At), -1e6, 1e6, " h"); err != nil {
		return err
	}
	if err := inRange("gravity", float64(r.SG), 0.9, 1.5, ""); err != nil {
		return err
	}
	return inRange("error of a reading", float64(r.Sigma), 0, 0.1, "")
}

// sigma returns the standard deviation of the reading, never so small that one
// reading would overrule all others.
func (r TimedGravity) sigma() float64 {
	if r.Sigma == 0 {
		return float64(TypicalSigma)
	}
	return max(1e-6, float64(r.Sigma))
}

func (r TimedGravity) weight() float64 { return 1 / (r.sigma() * r.sigma()) }
func (r TimedGravity) days() float64   { return float64(r.At) / hoursPerDay }
