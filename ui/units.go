package ui

import (
	"fmt"
	"math"
	"time"

	"cellar.local/glassrow/calc"
)

// units writes quantities the way the person reads them.
type units struct {
	us bool
	g  Glyphs
}

func (u units) gravity(sg calc.SG) string {
	if sg == 0 {
		return "-"
	}
	return fmt.Sprintf("%.3f", float64(sg))
}

// fineGravity shows the fourth digit, for corrections and plans.
func (u units) fineGravity(sg calc.SG) string { return fmt.Sprintf("%.4f", float64(sg)) }

func (u units) strength(abv, pm calc.PercentVol) string {
	if pm <= 0 {
		return fmt.Sprintf("%.1f %% vol", float64(abv))
	}
	return fmt.Sprintf("%.1f %s%.1f %% vol", float64(abv), u.g.PlusMinus, float64(pm))
}

func (u units) shortStrength(abv calc.PercentVol) string {
	return fmt.Sprintf("%.1f%%", float64(abv))
}

func (u units) volume(v calc.Litre) string {
	if u.us {
		return fmt.Sprintf("%.2f gal", float64(v)/calc.LitresPerUSGallon)
	}
	if v < 1 {
		return fmt.Sprintf("%.0f mL", float64(v)*1000)
	}
	return fmt.Sprintf("%.1f L", float64(v))
}

func (u units) mass(m calc.Gram) string {
	g := float64(m)
	switch {
	case g != 0 && math.Abs(g) < 1:
		return fmt.Sprintf("%.0f mg", g*1000)
	case u.us && math.Abs(g) >= calc.GramsPerPound:
		return fmt.Sprintf("%.2f lb", g/calc.GramsPerPound)
	case u.us:
		return fmt.Sprintf("%.2f oz", g/calc.GramsPerOunce)
	case math.Abs(g) >= 10000:
		return fmt.Sprintf("%.2f kg", g/1000)
	case math.Abs(g) < 10:
		return fmt.Sprintf("%.1f g", g)
	}
	return fmt.Sprintf("%.0f g", g)
}

func (u units) temperature(t calc.Celsius) string {
	if u.us {
		return fmt.Sprintf("%.0f %sF", t.Fahrenheit(), u.g.Degree)
	}
	return fmt.Sprintf("%.0f %sC", float64(t), u.g.Degree)
}

func (u units) perLitre(c calc.GramPerLitre) string { return fmt.Sprintf("%.1f g/L", float64(c)) }

// age says how long ago t was: 40m, 5h, 3d, 6w, 2y.
func age(t, now time.Time) string {
	if t.IsZero() {
		return "-"
	}
	return span(now.Sub(t))
}

func span(d time.Duration) string {
	const day = 24 * time.Hour
	switch {
	case d < 0:
		return "0m"
	case d < time.Hour:
		return fmt.Sprintf("%dm", int(d/time.Minute))
	case d < day:
		return fmt.Sprintf("%dh", int(d/time.Hour))
	case d < 60*day:
		return fmt.Sprintf("%dd", int(d/day))
	case d < 2*365*day:
		return fmt.Sprintf("%dw", int(d/(7*day)))
	}
	return fmt.Sprintf("%dy", int(d/(365*day)))
}

// when says when something is due: now, in 5h, in 3d, 2d late.
func when(t, now time.Time) string {
	switch d := t.Sub(now); {
	case d <= -time.Hour:
		return span(-d) + " late"
	case d < time.Hour:
		return "now"
	default:
		return "in " + span(d)
	}
}
