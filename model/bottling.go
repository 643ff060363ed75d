package model

import (
	"fmt"
	"math"

	"cellar.local/glassrow/calc"
)

// A bottle as usually filled, and the warmest a room gets that it may stand in.
const (
	usualHeadspace               = 0.04
	cellarWarm      calc.Celsius = 20
	warmestKept     calc.Celsius = 28
	bottleRoundings              = 1e-6
)

// PressureIn returns the pressure that so much sugar makes in a closed bottle, should
// living yeast eat it and the bottle then stand in a warm room.
func PressureIn(sugar calc.GramPerLitre, abv calc.PercentVol) (calc.BarGauge, error) {
	b, err := calc.BottledAt(cellarWarm, usualHeadspace, abv)
	if err != nil {
		return 0, err
	}
	s, err := b.SealedPressure(sugar, warmestKept)
	if err != nil {
		return 0, err
	}
	return s.Highest(), nil
}

// BottlesIn returns how many whole bottles a volume fills.
func BottlesIn(v, size calc.Litre) int {
	if !(size > 0) || !(v > 0) {
		return 0
	}
	return int(math.Floor(float64(v/size) + bottleRoundings))
}

// FitsInto reports whether what is racked fits into a vessel: the volume that arrives,
// or all there is.
func (r Rack) FitsInto(v Vessel, s State) error {
	volume := r.Volume
	if volume == 0 {
		volume = s.Figures.Volume
	}
	if volume > v.Capacity*1.001 {
		return fmt.Errorf("%.4g L does not fit: %s holds %.4g L; say what arrived there, or split it: %w",
			float64(volume), v.Label, float64(v.Capacity), ErrInvalid)
	}
	return nil
}
