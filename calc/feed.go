package calc

import (
	"fmt"
	"time"
)

// FeedSplit is a published way to share nutrient out over a fermentation. None of
// them feeds at rehydration, when ammonium harms the yeast.
type FeedSplit string

const (
	// FeedHalves: half when the yeast has woken up, half at a third of the drop. (A
	// winemaker's page.)
	FeedHalves FeedSplit = "halves"

	// FeedThirds: a third when it has woken up, a third at a third of the drop, and the
	// last before two thirds, with 10 Brix still to go. (A winemaker's notes.)
	FeedThirds FeedSplit = "thirds"

	// FeedQuarters: a quarter at 24, 48 and 72 hours, and the last at a third of the
	// drop or after a week. Usual for mead. (Common practice.)
	FeedQuarters FeedSplit = "quarters"
)

// FeedSplits returns the ways to share out, from fewest to most doses.
func FeedSplits() []FeedSplit { return []FeedSplit{FeedHalves, FeedThirds, FeedQuarters} }

// FeedDose is one of the feedings. Of its two marks the first to come counts; a mark
// of 0 is none.
type FeedDose struct {
	After time.Duration // since the yeast was pitched
	SG    SG            // when gravity has come down to this
	Mass  Gram
}

// MustToFeed is what a plan is made for.
type MustToFeed struct {
	Volume   Litre
	Original Brix
	Nitrogen MilligramPerLitre // YAN that is there already; honey musts have 10 to 50
	Need     NitrogenNeed
}

// Feeding is a plan.
type Feeding struct {
	Target MilligramPerLitre // YAN by the scale asked for
	Add    MilligramPerLitre // of it, from the source; 0 when there is enough
	Mass   Gram              // of the source, over all doses
	Doses  []FeedDose        // in order of time; none when nothing is to be added
	Most   Gram              // of the source in this volume, by its row; 0: not said
}

// OverMost reports whether the plan takes more of the source than its row allows. A
// second source, such as inactive yeast, can take the rest.
func (f Feeding) OverMost() bool { return f.Most > 0 && f.Mass > f.Most }

const (
	// wokenUp is the end of the lag phase, when feeding begins: published as 6 to 24
	// hours, here its middle (a choice).
	wokenUp = 12 * time.Hour

	// lastDrop is the drop in gravity after which yeast takes no more nitrogen: 9 %
	// vol (from memory), by AlcoholFromGravities for a must of 1.130.
	lastDrop = 0.066

	// NitrogenUntil is the strength from which yeast takes up little nitrogen more (from
	// memory; lastDrop is the same in gravity).
	NitrogenUntil PercentVol = 9

	// LastDoseShare is the share of the drop to 1.000 before which the last dose is
	// given. (A winemaker's notes, as at FeedThirds.)
	LastDoseShare = 2.0 / 3

	// lastBrix is how much the winemaker wants still to go at the last dose.
	lastBrix Brix = 10
)

// Plan returns when to stir in how much of the source.
//
//	mass = (target − nitrogen) · v / N
//
// with the target of [NitrogenNeed.Target] and N the nitrogen of the source. Gravity
// marks are at shares of the drop to 1.000: a third of it is at points · 2/3. None lies
// beyond a drop of 0.066, about 9 % vol, where yeast takes up no more.
//
// original from 5 to 40 Brix, volume from 0 to a million litres, nitrogen from 0 to
// 2000 mg/L; otherwise, and for an unknown need or split, the error wraps
// [ErrOutOfRange] or [ErrNotANumber]. Stir before powder goes in: it makes a working
// must boil over.
//
// Source: as at each split. 19 L of 24 Brix and medium need take 21.3 g of diammonium
// phosphate, in quarters 5.3 g each, the last at 1.067.
func (n NitrogenSource) Plan(m MustToFeed, split FeedSplit) (Feeding, error) {
	if err := inRange("nitrogen in the source", n.Nitrogen, 1, 500, " mg/g"); err != nil {
		return Feeding{}, err
	}
	if err := inRange("most of the source", float64(n.Most), 0, 1000, " g/L"); err != nil {
		return Feeding{}, err
	}
	if err := inRangeDosed(m.Volume); err != nil {
		return Feeding{}, err
	}
	if err := inRange("nitrogen", float64(m.Nitrogen), 0, 2000, " mg/L"); err != nil {
		return Feeding{}, err
	}
	target, err := m.Need.Target(m.Original)
	if err != nil {
		return Feeding{}, err
	}
	marks, err := split.marks(m.Original)
	if err != nil {
		return Feeding{}, err
	}
	f := Feeding{Target: target, Add: max(0, target-m.Nitrogen), Most: Gram(float64(n.Most) * float64(m.Volume))}
	f.Mass = f.Add.In(m.Volume) * milligramsPerGram / Gram(n.Nitrogen)
	if f.Mass == 0 {
		return f, nil
	}
	f.Doses = shareOut(f.Mass, marks)
	return f, nil
}

// shareOut gives each mark the same part of the mass. Marks that fall together, as in a
// light must, become one dose.
func shareOut(mass Gram, marks []FeedDose) []FeedDose {
	var doses []FeedDose
	for i, mark := range marks {
		if i == 0 || mark != marks[i-1] {
			doses = append(doses, mark)
		}
		doses[len(doses)-1].Mass += mass / Gram(len(marks))
	}
	return doses
}

// marks returns the doses without their masses.
func (s FeedSplit) marks(original Brix) ([]FeedDose, error) {
	og := gravityOfBrix(original)
	end := og - lastDrop
	third := max(og-(og-1)/3, end)
	switch s {
	case FeedHalves:
		return []FeedDose{{After: wokenUp}, {SG: third}}, nil
	case FeedThirds:
		last := max(gravityOfBrix(lastBrix), end) // never as late as two thirds of the drop
		return []FeedDose{{After: wokenUp}, {SG: third}, {SG: min(third, last)}}, nil
	case FeedQuarters:
		const day = 24 * time.Hour
		return []FeedDose{{After: day}, {After: 2 * day}, {After: 3 * day}, {After: 7 * day, SG: third}}, nil
	}
	return nil, fmt.Errorf("feeding in %q is not one of %s: %w", string(s), oneOf(FeedSplits()), ErrOutOfRange)
}

// gravityOfBrix is [SGOfBrix] of an extract that has been checked.
func gravityOfBrix(b Brix) SG { return SG(sucroseDensity20(float64(b)/100) / waterDensity20) }

// ShareOut returns the doses of a mass of nutrient for a must of b Brix, each with the
// mark at which it is due. b from 5 to 40 and a mass from 0; otherwise, and for a split
// that is not one of [FeedSplits], the error wraps [ErrOutOfRange] or [ErrNotANumber].
// Source: as at each split. 12 g in thirds for 24 Brix are three times 4 g: when the
// yeast has woken up, and twice on the way down.
func (s FeedSplit) ShareOut(mass Gram, b Brix) ([]FeedDose, error) {
	if err := inRange("extract", float64(b), float64(minFedBrix), float64(maxFedBrix), " Brix"); err != nil {
		return nil, err
	}
	if err := inRange("mass", float64(mass), 0, maxGrams, " g"); err != nil {
		return nil, err
	}
	marks, err := s.marks(b)
	if err != nil {
		return nil, err
	}
	return shareOut(mass, marks), nil
}
