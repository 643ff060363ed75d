package calc

import (
	"errors"
	"fmt"
)

// Container is a kind of closed vessel and what may be asked of it.
type Container struct {
	ID   string
	Name string

	// WarnVolumes and StopVolumes are limits for all carbon dioxide, or, of a still
	// container, for what comes into being after it is closed.
	WarnVolumes VolumesCO2
	StopVolumes VolumesCO2

	// StopBar is the limit of pressure at the warmest place it will stand.
	StopBar BarGauge

	// Still is set for a container that was not made for pressure.
	Still bool

	Note   string
	Source string
}

// Validate returns an error unless the limits of c are such that a verdict can be
// had: a name, 0 < warn ≤ stop ≤ 20 volumes, and up to 30 bar. It wraps
// [ErrOutOfRange] or [ErrNotANumber].
func (c Container) Validate() error {
	if c.Name == "" {
		return fmt.Errorf("container without a name: %w", ErrOutOfRange)
	}
	return errors.Join(
		inRange("stop volumes", float64(c.StopVolumes), leastLimit, maxContainerVolumes, ""),
		inRange("warn volumes", float64(c.WarnVolumes), leastLimit, float64(c.StopVolumes), ""),
		inRange("stop pressure", float64(c.StopBar), leastLimit, float64(maxCO2Gauge), " bar"),
	)
}

// Bounds of a container's limits: less than a hundredth is a slip, and so is more
// than any bottle holds.
const (
	leastLimit          = 0.01
	maxContainerVolumes = 20
)

// Verdict says whether a container may hold what is in it.
type Verdict uint8

const (
	Fine    Verdict = iota // within every limit
	Caution                // past the warning, or near the pressure it may hold
	Danger                 // past a limit: do not close it, or do not keep it
)

// String returns the word for the verdict.
func (v Verdict) String() string {
	switch v {
	case Fine:
		return "fine"
	case Caution:
		return "caution"
	case Danger:
		return "danger"
	}
	return "unknown verdict"
}

// Reason says which limit decided a verdict.
type Reason uint8

const (
	NoReason  Reason = iota // nothing is near a limit
	ByVolumes               // carbon dioxide in all
	ByNewGas                // carbon dioxide made in a still container
	ByGauge                 // pressure at the storage temperature
)

// String returns a word for the reason, empty for none.
func (r Reason) String() string {
	switch r {
	case NoReason:
		return ""
	case ByVolumes:
		return "volumes"
	case ByNewGas:
		return "new gas"
	case ByGauge:
		return "pressure"
	}
	return "unknown reason"
}

// Judgement is a verdict with its grounds.
type Judgement struct {
	Verdict Verdict
	Reason  Reason

	// Share is how much of the limit that decides is used up: 1 is at the limit, 1.2
	// a fifth over it. Of a fine container it is that of the limit it is nearest to.
	Share float64
}

// cautionShare is how near to its limit of pressure a container deserves a word:
// four fifths, common practice.
const cautionShare = 0.8

// Judge compares what a closed vessel holds with what the container may hold. A
// container for fizz is judged by all the carbon dioxide and by the higher pressure;
// a still one by the gas made in it and by the pressure without air, since the drink
// that is merely saturated, as each is after an airlock, would fail it otherwise.
//
// A limit is passed when it is exceeded, not when it is reached; a figure that is not
// a number is a danger.
func (c Container) Judge(s Sealed) Judgement {
	volumes, gauge, gas := s.Volumes(), s.Highest(), ByVolumes
	if c.Still {
		volumes, gauge, gas = s.NewVolumes(), s.Gauge, ByNewGas
	}
	return worse(
		judge(gas, float64(volumes/c.StopVolumes), float64(c.WarnVolumes/c.StopVolumes)),
		judge(ByGauge, float64(gauge/c.StopBar), cautionShare),
	)
}

// judge tells what one limit says when share of it is used up and caution begins at
// warn.
func judge(r Reason, share, warn float64) Judgement {
	switch {
	case share <= warn:
		return Judgement{Fine, NoReason, share}
	case share <= 1:
		return Judgement{Caution, r, share}
	}
	return Judgement{Danger, r, share} // and when share is not a number
}

// worse returns the graver of two judgements, and of two alike the one whose limit is
// used up further.
func worse(a, b Judgement) Judgement {
	if b.Verdict > a.Verdict || b.Verdict == a.Verdict && b.Share > a.Share {
		return b
	}
	return a
}
