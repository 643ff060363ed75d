package calc

import (
	"fmt"
	"math"
	"time"
)

// Span is the lowest and the highest value found in print. The zero Span says
// that none was found.
type Span struct{ Low, High float64 }

// Known reports whether there is anything in s.
func (s Span) Known() bool { return s.High > 0 }

// check reports what is wrong with s, which must lie within 0 to most.
func (s Span) check(what string, most float64, unit string) error {
	if err := inRange("highest "+what, s.High, 0, most, unit); err != nil {
		return err
	}
	return inRange("lowest "+what, s.Low, 0, s.High, unit)
}

// Fruit is a fruit, a root or a grain as a food table describes it: juice, and
// pulp that never dissolves. The pulp takes up room in a vessel and holds the juice
// back for days, but no hydrometer feels it.
type Fruit struct {
	Name string

	// Juice is the water and all that dissolves in one gram of the part that goes
	// into the must. It weighs a gram less the pulp.
	Juice Liquid

	Pulp   float64 // insoluble share of that part: skin, pips, fibre, starch
	Starch float64 // the starch in Pulp; see Starchy
	Refuse float64 // share of the fruit as bought that is thrown away: stones, cores, peel

	// HalfTime is how long it takes for half the juice to leave the whole fruit;
	// 0 for a juice.
	HalfTime time.Duration

	PH   Span
	Acid Span // grams in a kilogram, reckoned as the fruit's main acid
}

// fruitSlack is how far the parts of a fruit may go beyond 100 g in 100 g: printed
// analyses are rounded part by part.
const fruitSlack = 1.0

// maxRefuse is more than the waste of any fruit in the tables; the pod of the
// tamarind and the rind of the jackfruit have 0.66 and 0.72.
const maxRefuse = 0.9

// NewFruit returns a fruit from what 100 g of its edible part hold, as food tables
// print it. What the parts and the pulp leave of 100 g counts as other dissolved
// solids; starch is the part of the pulp that is starch.
//
// Parts beyond 101 g in all, more starch than pulp, or nothing at all but pulp are
// an error that wraps [ErrOutOfRange].
func NewFruit(name string, per100 map[Component]Gram, pulp, starch PercentMass) (Fruit, error) {
	juice, err := NewLiquid(per100)
	if err != nil {
		return Fruit{}, fmt.Errorf("%s: %w", name, err)
	}
	if err := inRange("pulp", float64(pulp), 0, 100, " %"); err != nil {
		return Fruit{}, fmt.Errorf("%s: %w", name, err)
	}
	if err := inRange("starch", float64(starch), 0, float64(pulp), " %"); err != nil {
		return Fruit{}, fmt.Errorf("%s: %w", name, err)
	}
	sum := float64(juice.Mass()) + float64(pulp)
	if juice.Mass() <= 0 || sum > 100+fruitSlack {
		return Fruit{}, fmt.Errorf("%s: the parts of 100 g add up to %.2f g: %w", name, sum, ErrOutOfRange)
	}
	juice.grams[OtherSolids] += max(0, 100-sum)
	whole := max(100, sum)
	return Fruit{
		Name:   name,
		Juice:  juice.Scaled(1 / whole),
		Pulp:   float64(pulp) / whole,
		Starch: float64(starch) / whole,
	}, nil
}

// starchyShare is where a fruit's starch becomes the point of it: a banana has 5 %
// and is a fruit, a potato 15 % [choice].
const starchyShare = 0.1

// Starchy reports whether the thing is chiefly starch, as rice, oats, flour and
// potatoes are. Yeast cannot use starch: it takes malt, koji or enzymes to make
// sugar of it first. Until then it is pulp.
func (f Fruit) Starchy() bool { return f.Starch > starchyShare }

// Sugar returns the share of sugar in the part that goes into the must.
func (f Fruit) Sugar() float64 { return float64(f.Juice.Sugar()) }

// check reports what is wrong with figures that were set by hand.
func (f Fruit) check() error {
	if err := inRange("share of waste", f.Refuse, 0, maxRefuse, ""); err != nil {
		return err
	}
	if f.HalfTime < 0 {
		return fmt.Errorf("half-time of %v: %w", f.HalfTime, ErrOutOfRange)
	}
	if err := f.PH.check("pH", 14, ""); err != nil {
		return err
	}
	return f.Acid.check("acid", 1000, " g/kg")
}

// FruitPortion is some fruit on its way into a must.
type FruitPortion struct {
	Fruit    Fruit
	Mass     Gram // as bought, or when Prepared, without the waste
	Prepared bool // stones, cores and peel were off before it was weighed
	Crushed  bool // mashed, sliced small, or frozen and thawed; otherwise whole
}

// Edible returns the mass that goes into the must: without stones, cores and peel.
func (p FruitPortion) Edible() Gram {
	if p.Prepared {
		return p.Mass
	}
	return p.Mass * Gram(1-p.Fruit.Refuse)
}

// Juice returns the water and all that dissolves in the portion, wherever it is.
func (p FruitPortion) Juice() Liquid { return p.Fruit.Juice.Scaled(float64(p.Edible())) }

// What crushing does, both [choice] after common practice, no source: crushed fruit
// is pressed after five to seven days, whole fruit left in for two weeks or more.
const (
	crushedFree    = 0.6 // share of the juice that is out at once
	crushedQuicker = 2   // times faster the rest follows
)

// Free returns the share of the portion's juice that is out in the must after a
// time: what crushing set free at once, and the rest by first order,
//
//	1 − (1 − s)·2^(−t/h)
//
// with s the share free at once and h the half-time: whole fruit has s = 0 and its
// own h, crushed fruit s = 0.6 and half of h. With a half-time of two days, whole
// fruit has given 0.912 after a week and crushed fruit 0.997. A time before the
// beginning counts as the beginning.
func (p FruitPortion) Free(after time.Duration) float64 {
	half, start := p.Fruit.HalfTime.Hours(), 0.0
	if p.Crushed {
		half, start = half/crushedQuicker, crushedFree
	}
	if half <= 0 {
		return 1
	}
	return 1 - (1-start)*math.Exp2(-max(0, after.Hours())/half)
}
