package model

import "cellar.local/glassrow/calc"

// typicalWarmth is what a batch without a temperature in its journal is taken to
// have.
const typicalWarmth calc.Celsius = 20

// nitrogen returns the usable nitrogen of a typical must: diagnosis notes, section 1
// (honey tens of mg/L or less, apple 50 to 120, grape 100 to 300, wort 150 to 250),
// the middle where a range is given.
func (d Drink) nitrogen() calc.YAN {
	switch d {
	case Mead:
		return 60
	case Wine:
		return 180
	case Cider, Perry:
		return 85
	case Beer:
		return 200
	}
	return 100
}

// fedNitrogen is what a must comes to whose maker writes of nutrients: the classic
// minimum (Bely, Sablayrolles & Barre 1990, from memory).
const fedNitrogen calc.YAN = 140

// parameters returns what the uptake model knows of the batch.
func (s *State) parameters() calc.UptakeParameters {
	t, ok := s.lastWarmth()
	if !ok {
		t = typicalWarmth
	}
	n := s.drink.nitrogen()
	if s.nutrients {
		n = max(n, fedNitrogen)
	}
	tolerance := s.Tolerance
	if tolerance == 0 {
		tolerance = NoYeast.Tolerance()
	}
	p := calc.TypicalUptake(t, n, tolerance)
	p.Yield = s.drink.Fermentation().Yield
	return p
}

// expectedRate returns how fast gravity should be falling by now.
func (s *State) expectedRate() (calc.SGPerDay, error) {
	p := s.parameters()
	return p.ExpectedRate(p.InFullSwing(s.Liquid))
}
