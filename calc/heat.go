package calc

import (
	"fmt"
	"math"
	"time"
)

// Pasteurisation units, Del Vecchio et al. 1951: each degree multiplies the rate by
// puPerDegree, and one unit is a minute at puReference. It is the same as ten times
// for each 6.95 °C. Engineers who round that to 7 reckon 2.5 % less at 70 °C.
const (
	puPerDegree         = 1.393
	puReference Celsius = 60
)

// Where the relation was checked (from memory).
const (
	minPUCelsius Celsius = 50
	maxPUCelsius Celsius = 75
)

// What sweetened drinks in the package are given. Hops, alcohol and acid help, so a
// beer does with less; see the heat targets of the handbook.
const (
	// HeatFloor is the least for cider and sweetened drinks (from memory of cider
	// and brewing practice).
	HeatFloor PU = 50

	// HeatCarefulLow and HeatCarefulHigh are what ascospores of yeast stood in an
	// alcohol-free beer of low bitterness (Rachon 2024, abstract).
	HeatCarefulLow  PU = 83
	HeatCarefulHigh PU = 132

	// heatOfBeer is the low end for light beer (EBC manual).
	heatOfBeer PU = 15
)

// HeatTarget is a row of the handbook: the units that a kind of drink is given.
type HeatTarget struct {
	Listed
	Low, High PU
}

// HeatStep is a stretch of time that the centre of the bottle spent at one
// temperature, or at that temperature and above.
type HeatStep struct {
	At  Celsius
	For time.Duration
}

// PURate returns the pasteurisation units of a minute at t,
//
//	1.393^(t − 60)
//
// t from 50 to 75 °C; otherwise the error wraps [ErrOutOfRange] or [ErrNotANumber].
// Source: Del Vecchio et al. 1951. 1 at 60 °C, 5.245 at 65, 27.51 at 70.
func PURate(t Celsius) (PU, error) {
	if err := inRange("temperature", float64(t), float64(minPUCelsius), float64(maxPUCelsius), " °C"); err != nil {
		return 0, err
	}
	return puRate(t), nil
}

// Pasteurisation returns the units that the steps add up to. The temperature is that
// at the centre of the bottle. A step below 50 °C, as on the way up and down, counts
// nothing.
//
// Every step from 0 to 75 °C and no time below 0; otherwise the error wraps
// [ErrOutOfRange] or [ErrNotANumber]. Never heat a bottle that is carbonated too
// high, scratched or unknown: at 60 °C a beer of 2.5 volumes is at some 7 bar.
//
// Source: [PURate]. 10 minutes at 65 °C are 52.5 units.
func Pasteurisation(steps []HeatStep) (PU, error) {
	var sum PU
	for i, s := range steps {
		if err := inRange("temperature", float64(s.At), 0, float64(maxPUCelsius), " °C"); err != nil {
			return 0, fmt.Errorf("step %d: %w", i+1, err)
		}
		if s.For < 0 {
			return 0, fmt.Errorf("step %d: time %v is below 0: %w", i+1, s.For, ErrOutOfRange)
		}
		if s.At >= minPUCelsius {
			sum += puRate(s.At) * PU(s.For.Minutes())
		}
	}
	return sum, nil
}

// maxPUTarget bounds what anybody asks of a pasteuriser; at 50 °C it takes 19 days.
const maxPUTarget PU = 1000

// HeatFor returns how long the centre of the bottle has to be at t for the units
// wanted: wanted / rate minutes.
//
// wanted from 0 to 1000, t from 50 to 75 °C; otherwise the error wraps
// [ErrOutOfRange] or [ErrNotANumber]. Source: [PURate]. 50 units take 9.5 minutes at
// 65 °C.
func HeatFor(wanted PU, t Celsius) (time.Duration, error) {
	if err := inRange("pasteurisation", float64(wanted), 0, float64(maxPUTarget), " PU"); err != nil {
		return 0, err
	}
	rate, err := PURate(t)
	if err != nil {
		return 0, err
	}
	return time.Duration(float64(wanted/rate) * float64(time.Minute)), nil
}

func puRate(t Celsius) PU { return PU(math.Pow(puPerDegree, float64(t-puReference))) }
