package model

import (
	"strings"
	"testing"
	"time"

	"cellar.local/glassrow/calc"
)

// journal is a batch being written down, entry by entry, in tests.
type journal struct{ Batch }

// day0 is when the must of every journal is made.
var day0 = time.Date(2026, 3, 1, 18, 0, 0, 0, time.UTC)

// onDay returns the time so many days after the must.
func onDay(days float64) time.Time { return day0.Add(time.Duration(days * 24 * float64(time.Hour))) }

// brew begins a journal with a must of a measured gravity, yeast going in at once.
func brew(d Drink, litres calc.Litre, og calc.SG, yeast YeastGroup) *journal {
	return unpitched(d, Must{Vessel: 1, Volume: litres, Gravity: og}).on(0, Pitch{Yeast: yeast})
}

func unpitched(d Drink, m Must) *journal {
	j := &journal{Batch{ID: 1, Name: "trial", Drink: d}}
	return j.on(0, m)
}

// on writes down what happened so many days after the must.
func (j *journal) on(days float64, bodies ...Body) *journal {
	for _, b := range bodies {
		j.Entries = append(j.Entries, Entry{ID: EntryID(len(j.Entries) + 1), At: onDay(days), Recorded: onDay(days), Body: b})
	}
	return j
}

// read writes down gravities: a day, a reading, a day, a reading.
func (j *journal) read(dayAndSG ...float64) *journal {
	for i := 0; i+1 < len(dayAndSG); i += 2 {
		j.on(dayAndSG[i], gravity(dayAndSG[i+1]))
	}
	return j
}

func gravity(sg float64) Reading {
	return Reading{Gravity: calc.SG(sg), Scale: ScaleSG, Calibration: DefaultCalibration}
}

// replay returns the state after the last entry.
func (j *journal) replay(t *testing.T) State {
	t.Helper()
	s, err := Replay(j.Batch, endOfTime)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

var (
	honey = mixture("honey", map[calc.Component]calc.Gram{calc.Water: 17.2, calc.Sucrose: 1.31, calc.Glucose: 31.28,
		calc.Fructose: 38.19, calc.Maltose: 7.31, calc.Acid: 0.57, calc.OtherSolids: 4.14})
	sugar = mixture("sugar", map[calc.Component]calc.Gram{calc.Sucrose: 100})
	water = mixture("water", map[calc.Component]calc.Gram{calc.Water: 100})
)

func mixture(name string, parts map[calc.Component]calc.Gram) calc.Ingredient {
	i, err := calc.NewIngredient(name, parts)
	if err != nil {
		panic(err)
	}
	return i
}

func added(i calc.Ingredient, grams calc.Gram, purpose string) Addition {
	return Addition{Portion: Portion{Ingredient: i, Mass: grams}, Purpose: purpose}
}

func wantNear(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if d := got - want; !(d <= tolerance && -d <= tolerance) {
		t.Errorf("%s is %.6g, want %.6g ± %.3g", what, got, want, tolerance)
	}
}

func wantStanding(t *testing.T, s State, want Standing, says ...string) {
	t.Helper()
	why := strings.Join(s.Evidence, "; ")
	if s.Standing != want {
		t.Errorf("it is %s (%s), want %s", s.Standing, why, want)
	}
	for _, words := range says {
		if !strings.Contains(why, words) {
			t.Errorf("evidence %q does not say %q", why, words)
		}
	}
}
