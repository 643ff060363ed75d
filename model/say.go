package model

import (
	"fmt"
	"math"
	"strconv"
	"time"

	"cellar.local/glassrow/calc"
)

// dropped says a fall in whole points, or that there is none yet.
func dropped(fall float64, below string) string {
	if fall < 0.5 {
		return "no drop yet"
	}
	return points(math.Round(fall)) + " " + below
}

// points says a number of points: 1 point, 2.4 points.
func points(x float64) string {
	s := strconv.FormatFloat(math.Round(x*10)/10+0, 'f', -1, 64)
	if s == "1" {
		return "1 point"
	}
	return s + " points"
}

// gramsPerLitre says a concentration in whole grams, never a minus for nothing.
func gramsPerLitre(x calc.GramPerLitre) string {
	return fmt.Sprintf("%.0f g/L", math.Round(float64(x))+0)
}

// daysText says a time of some days: 18 hours, 3 days.
func daysText(days float64) string {
	if days < 2 {
		return counted(int(math.Round(days*24)), "hour")
	}
	return counted(int(math.Round(days)), "day")
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return strconv.Itoa(n) + " " + what + "s"
}

// days returns so many days as a duration.
func days(n float64) time.Duration { return time.Duration(n * 24 * float64(time.Hour)) }
