package model

import (
	"fmt"
	"math"
	"time"

	"cellar.local/glassrow/calc"
)

// What a gravity does that nobody asked of it: rise, or fall after the end.

// rising is a gravity that went up by itself.
func (s *State) rising(all []look, up float64) Verdict {
	last := all[len(all)-1]
	from := all[len(all)-2]
	for _, l := range all[:len(all)-1] {
		if l.points < from.points {
			from = l
		}
	}
	above := "with nothing added"
	if s.addedBetween(from.at, last.at) {
		above = "beyond what was added"
	} else if s.gaveBetween(from.at, last.at) >= noticeableSugar {
		above = "beyond what the fruit should have given"
	}
	v := Verdict{Standing: Rising, Evidence: []string{fmt.Sprintf("%s up in %s %s", points(up), daysText(daysBetween(from.at, last.at)), above)}}
	v.RuledOut = []string{"the yeast: it can only lower a gravity"}
	v.Causes = []Cause{{What: "a misreading", Clue: "one reading", Check: "read again: spin the bubbles off, look at the temperature"}}
	fruit := Cause{What: "sugar that came late", Clue: "fruit gives its sugar up over days, honey settles until it is stirred", Check: "stir and read again tomorrow"}
	addition := Cause{What: "an addition not written down", Clue: fmt.Sprintf("%s of sugar would do it", gramsPerLitre(calc.GramPerLitre(up*sugarPerPoint))), Check: "ask who was in the cellar; write it down with its time"}
	v.Causes = append(v.Causes, fruit, addition)
	if s.Unexplained > 0 {
		v.Evidence = append(v.Evidence, gramsPerLitre(s.Unexplained)+" that the sugar in the journal does not explain")
	}
	v.Decides, v.Question = last.at.Add(days(1)), "whether it was the reading"
	return v
}

// addedBetween reports whether something that changes gravity was added in a time.
func (s *State) addedBetween(from, to time.Time) bool {
	for _, p := range s.Curve {
		if p.added != 0 && !p.At.Before(from) && !p.At.After(to) {
			return true
		}
	}
	return false
}

// sugarPerPoint is the sugar that raises the gravity of a litre by a point, in g: 25.9
// raise it by ten.
const sugarPerPoint = 0.001 / float64(calc.RisePerSugar)

// hazard says what the sugar that living yeast has before it would do in sealed glass:
// the most that chemistry allows, as bottles are judged by.
func (s *State) hazard() string {
	made, err := calc.FermentableCO2(s.Liquid)
	gas := calc.CO2Volumes(made)
	if err != nil || gas < 1 {
		return "a hazard if sealed: a point of gravity is half a volume of gas"
	}
	return fmt.Sprintf("a hazard if sealed: %s left could make %.0f volumes of gas", gramsPerLitre(s.Figures.Fermentable), float64(gas))
}

// restarting is a fall after the batch was done, stabilised or sweetened.
func (s *State) restarting(c course, still stretch, isStill bool) (Verdict, bool) {
	all := c.looks
	last := all[len(all)-1]
	since := func(t time.Time) (fall, past float64) {
		if t.IsZero() {
			return 0, 0
		}
		after := looksAfter(all, t)
		return after[0].points - last.points, daysBetween(t, last.at)
	}
	var said string
	fall, past := since(s.sweetened)
	if fall >= lagPoints {
		said = "since it was sweetened: living yeast"
	} else if fall, past = since(s.stabilised); fall >= lagPoints {
		said = "since it was stabilised: that did not hold"
	} else if stood, ok := c.stoodBefore(still, isStill); ok && s.fed.Before(all[stood.from].at) {
		fall, past = stood.level-last.points, daysBetween(all[stood.to].at, last.at)
		if s.hadFoodBefore(fall) || s.fruitFeeds(all[stood.from].at, last.at, fall) {
			return Verdict{}, false
		}
		said = fmt.Sprintf("after it had stood still for %s", daysText(daysBetween(all[stood.from].at, all[stood.to].at)))
	}
	// What was stirred in lies at the bottom for a while, and the sample is too thin.
	unmixed := s.addedBetween(last.at.Add(-days(mixingDays)), last.at)
	if said == "" || isStill || unmixed {
		return Verdict{}, false
	}
	v := Verdict{Standing: Restarting, Evidence: []string{fmt.Sprintf("%s down in %s %s", points(math.Round(fall)), daysText(past), said), s.hazard()}}
	if s.Bottles > 0 {
		v.Evidence = append(v.Evidence, counted(s.Bottles, "bottle")+" were filled from it: stand them cold, in a closed crate, and open one")
	}
	v.Causes = []Cause{{What: "living yeast and sugar", Clue: "it was not stabilised in a way that holds",
		Check: "keep the airlock on, let it run out, then stabilise before sweetening again"}}
	if n := readingsBelow(all, last.points+fall-lagPoints); n > 1 {
		v.RuledOut = []string{fmt.Sprintf("a misreading: %d readings say so", n)}
	} else {
		v.Causes = append(v.Causes, Cause{What: "a misreading", Clue: "it rests on one reading", Check: "read again tomorrow"})
	}
	if !s.stabilised.IsZero() {
		v.Causes[0].Clue = "stabilised with " + s.stabilisedBy.String()
	}
	v.Decides, v.Question = last.at.Add(days(2)), "whether it goes on"
	return v, true
}

// fruitFeeds reports whether fruit gave the sugar for half of a fall or more: its yeast
// goes on with what it is given, as meant.
func (s *State) fruitFeeds(from, to time.Time, fall float64) bool {
	return s.gaveBetween(from, to) >= calc.GramPerLitre(fall*sugarEatenPerPoint/2)
}

// readingsBelow returns how many of the last looks in a row lie at a gravity or below.
func readingsBelow(all []look, points float64) int {
	n := 0
	for n < len(all) && all[len(all)-1-n].points <= points+1e-9 {
		n++
	}
	return n
}

// hadFoodBefore reports whether there was food that the yeast should have managed
// before gravity fell by so many points: it was stuck then, not done.
func (s *State) hadFoodBefore(fall float64) bool {
	food := s.sureFood + calc.GramPerLitre(fall*sugarEatenPerPoint)
	strength := s.Strength - calc.PercentVol(fall*0.13)
	return food-s.SugarPM > dryGramsL && (s.Tolerance == 0 || strength < toleranceAt*s.Tolerance)
}

// sugarEatenPerPoint is the sugar that goes for a point of fall, in g/L: 2.16.
const sugarEatenPerPoint = 0.001 / float64(calc.FallPerSugar)
