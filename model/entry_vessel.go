package model

import (
	"fmt"
	"time"

	"cellar.local/glassrow/calc"
)

// What happens to a batch while it stands in its vessel, besides the first kinds of
// entry.

// The kinds of what happens in a vessel.
const (
	KindFruit Kind = "fruit"
	KindPress Kind = "press"
	KindFine  Kind = "fine"
	KindStir  Kind = "stir"
	KindMove  Kind = "move"
	KindPlan  Kind = "plan"
	KindFeed  Kind = "feed"
)

// Fruited is fruit put in after the must was made. Its juice comes out over days.
type Fruited struct {
	Portion calc.FruitPortion
}

// Press is the taking out of the fruit, pressed or not.
type Press struct {
	Volume calc.Litre // of drink after it; 0: nothing was lost
}

// Fine is a fining stirred in to clear the drink. It settles and takes no part in
// what the drink is made of.
type Fine struct {
	Agent string
	Mass  calc.Gram // 0: not weighed
}

// Stir is the cap punched down, or the lees roused.
type Stir struct{}

// Move is the vessel carried elsewhere, with what is in it.
type Move struct {
	Place string
}

// FeedPlan is what the yeast is to be given and when. It feeds nothing by itself: a
// [Feed] or an [Addition] that names it ticks a dose off.
type FeedPlan struct {
	Doses []Meal
}

// Meal is one dose of a plan, due when gravity has come down to a mark, or a time
// after the yeast went in, whichever is first.
type Meal struct {
	What  string
	Mass  calc.Gram
	Mark  calc.SG       // 0: by the clock alone
	After time.Duration // 0: by gravity alone
	Sugar calc.Liquid   // what a gram of it is made of; empty for nutrients, which weigh nothing in the drink
}

// Feed is a nutrient given to the yeast. The little of it takes no part in the
// gravity.
type Feed struct {
	What     string
	Mass     calc.Gram
	Nitrogen calc.MilligramPerLitre // that it brings, as far as known
	Plan     EntryID                // of the plan it ticks off; 0: none
	Dose     int                    // which of the plan's doses, from 0
}

// Kind implements Body.
func (Fruited) Kind() Kind { return KindFruit }

// Kind implements Body.
func (Press) Kind() Kind { return KindPress }

// Kind implements Body.
func (Fine) Kind() Kind { return KindFine }

// Kind implements Body.
func (Stir) Kind() Kind { return KindStir }

// Kind implements Body.
func (Move) Kind() Kind { return KindMove }

// Kind implements Body.
func (FeedPlan) Kind() Kind { return KindPlan }

// Kind implements Body.
func (Feed) Kind() Kind { return KindFeed }

// Validate implements Body.
func (f Fruited) Validate() error { return checkFruit(f.Portion) }

// checkFruit reports what is wrong with fruit on its way into a must, or nil.
func checkFruit(p calc.FruitPortion) error {
	if err := plainText("fruit", p.Fruit.Name, maxName, true); err != nil {
		return err
	}
	if !(p.Mass > 0 && p.Mass <= 1e8) {
		return fmt.Errorf("%.4g g of %s is outside 0 to 100 t: %w", float64(p.Mass), p.Fruit.Name, ErrInvalid)
	}
	if gram := float64(p.Fruit.Juice.Mass()) + p.Fruit.Pulp; !(gram > 0.999 && gram < 1.001) {
		return fmt.Errorf("a gram of %s weighs %.4g g: %w", p.Fruit.Name, gram, ErrInvalid)
	}
	if _, err := calc.NewMust(calc.Liquid{}, p); err != nil {
		return fmt.Errorf("%w: %w", err, ErrInvalid)
	}
	return nil
}

// Validate implements Body.
func (p Press) Validate() error { return checkPart("volume", p.Volume) }

// checkPart checks a volume that may be left open.
func checkPart(what string, v calc.Litre) error {
	if !(v >= 0 && v <= 100000) {
		return fmt.Errorf("%s %.4g L is outside 0 to 100000 L: %w", what, float64(v), ErrInvalid)
	}
	return nil
}

// Validate implements Body.
func (f Fine) Validate() error {
	if err := plainText("fining", f.Agent, maxName, true); err != nil {
		return err
	}
	return checkSmallMass(f.Agent, f.Mass)
}

// checkSmallMass checks a mass of something weighed out on a small scale, or not at
// all.
func checkSmallMass(what string, m calc.Gram) error {
	if !(m >= 0 && m <= 1e6) {
		return fmt.Errorf("%.4g g of %s is outside 0 to 1 t: %w", float64(m), what, ErrInvalid)
	}
	return nil
}

// Validate implements Body.
func (Stir) Validate() error { return nil }

// Validate implements Body.
func (m Move) Validate() error { return plainText("place", m.Place, maxName, true) }

// maxDoses is more than any schedule has.
const maxDoses = 20

// Validate implements Body.
func (p FeedPlan) Validate() error {
	if len(p.Doses) == 0 || len(p.Doses) > maxDoses {
		return fmt.Errorf("a plan of %d doses is outside 1 to %d: %w", len(p.Doses), maxDoses, ErrInvalid)
	}
	for i, d := range p.Doses {
		if err := d.Validate(); err != nil {
			return fmt.Errorf("dose %d: %w", i+1, err)
		}
	}
	return nil
}

// maxAfter is later than any yeast is fed.
const maxAfter = 365 * 24 * time.Hour

// Validate reports what is wrong with the dose, or nil.
func (d Meal) Validate() error {
	if err := plainText("what to give", d.What, maxName, true); err != nil {
		return err
	}
	if err := checkSmallMass(d.What, d.Mass); err != nil {
		return err
	}
	if d.Mark != 0 && !(d.Mark >= minGravity && d.Mark <= maxGravity) {
		return fmt.Errorf("gravity mark %.4g cannot be; want %.3f to %.3f: %w", float64(d.Mark), minGravity, maxGravity, ErrInvalid)
	}
	if d.After < 0 || d.After > maxAfter || d.Mark == 0 && d.After == 0 {
		return fmt.Errorf("%s is due at no gravity and at no time: %w", d.What, ErrInvalid)
	}
	if gram := d.Sugar.Mass(); gram != 0 && !(gram > 0.999 && gram < 1.001) {
		return fmt.Errorf("a gram of %s weighs %.4g g: %w", d.What, float64(gram), ErrInvalid)
	}
	return nil
}

// Validate implements Body.
func (f Feed) Validate() error {
	if err := plainText("what was given", f.What, maxName, true); err != nil {
		return err
	}
	if !(f.Nitrogen >= 0 && f.Nitrogen <= 5000) {
		return fmt.Errorf("nitrogen of %.4g mg/L is outside 0 to 5000 mg/L: %w", float64(f.Nitrogen), ErrInvalid)
	}
	if f.Dose < 0 || f.Dose >= maxDoses {
		return fmt.Errorf("dose %d is outside 0 to %d: %w", f.Dose, maxDoses-1, ErrInvalid)
	}
	return checkSmallMass(f.What, f.Mass)
}
