package calc

import "math"

// Guess is a range within which something may lie when it was reckoned from tables
// instead of measured.
type Guess struct {
	Span

	// Share is the share of the fruit, by the mass that went in, whose figure was
	// in the tables. At 0 there is no guess, and Span is zero.
	Share float64
}

// AcidGuess returns the acid that the fruit may bring, in grams per litre of drink
// once all its juice is out: the tables' lowest and highest for each fruit, added
// up. It is a guess [choice]: fruit of which no table tells adds nothing, honey and
// juices that were poured in are not counted, and each fruit's acid is reckoned as
// its own main acid, which is up to a sixth less than as tartaric acid.
func (m Must) AcidGuess() (Guess, error) {
	v, err := m.AllOut().Volume()
	if err != nil || v == 0 {
		return Guess{}, err
	}
	var g Guess
	var told, all float64
	for _, p := range m.fruit {
		edible := float64(p.Edible())
		all += edible
		if !p.Fruit.Acid.Known() {
			continue
		}
		told += edible
		g.Low += edible / 1000 * p.Fruit.Acid.Low / float64(v)
		g.High += edible / 1000 * p.Fruit.Acid.High / float64(v)
	}
	if told > 0 {
		g.Share = told / all
	}
	return g, nil
}

// usualAcid, in g/kg, is what a fruit of unknown acidity weighs in with: the middle
// of the tables [choice].
const usualAcid = 10

// neutral is the pH of pure water.
const neutral = 7

// PHGuess returns the pH that the fruit may give the must: the tables' lowest and
// highest, each averaged over the fruit by the acid it brings, for the sourest part
// decides. The high end is raised by what thinning alone can do: in a solution of a
// weak acid the acidity goes with the square root of its strength, so pH rises by
// half the decimal logarithm of how many times the juice was thinned, never past
// the 7 of water; buffers hold it lower. It is a guess [choice], and a range: only a
// meter knows.
func (m Must) PHGuess() Guess {
	var g Guess
	var low, high, weight, told, all, juice float64
	for _, p := range m.fruit {
		edible := float64(p.Edible())
		all += edible
		juice += float64(p.Juice().Mass())
		if !p.Fruit.PH.Known() {
			continue
		}
		told += edible
		acid := usualAcid * edible
		if a := p.Fruit.Acid; a.Known() {
			acid = (a.Low + a.High) / 2 * edible
		}
		low += acid * p.Fruit.PH.Low
		high += acid * p.Fruit.PH.High
		weight += acid
	}
	if weight <= 0 {
		return Guess{}
	}
	g.Low, g.High, g.Share = low/weight, high/weight, told/all
	thinned := g.High + math.Log10(float64(m.AllOut().Mass())/juice)/2
	g.High = max(g.High, min(thinned, neutral))
	return g
}
