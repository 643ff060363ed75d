package calc

import "fmt"

// Bench is what stands on the bench for a sweetening trial: a row of glasses drawn
// from one vessel, each sweeter than the one before by the same step.
type Bench struct {
	Glass   Litre // in each glass
	Glasses int   // how many, the first left as it is
	UpTo    SG    // gravity of the last
	Syrup   GramPerLitre
}

// BenchGlass is one of the glasses.
type BenchGlass struct {
	SG     SG    // with the dose stirred in
	Dose   Gram  // of the sweetener
	Syrup  Litre // of the syrup that holds the dose; 0 when none is made
	Vessel Gram  // of the sweetener that does the same to the whole vessel
}

// What a bench can be.
const (
	leastGlasses, mostGlasses = 2, 50
	leastGlass, mostGlass     = 0.001, 10 // litres
	mostSyrup                 = 2000      // g/L: more than any sweetener weighs
)

// Bench returns the ladder of doses, by mass, for a trial of the ingredient on glasses
// of l. The first glass is l as it is, the last has the gravity wanted, and the steps
// between are even ones of gravity; each dose is that of [Ingredient.AmountFor]. What
// the whole vessel takes is the dose times the volume of l over that of the glass.
//
// Grams of a thick thing in a glass are hard to weigh. With a syrup, so many grams of
// the ingredient made up with water to a litre, each dose is told in syrup too, and
// the water of the syrup counts: it thins the drink, in the glass and, dosed as syrup,
// in the vessel.
//
// The glass from 0.001 to 10 L and no more than l, from 2 to 50 glasses, a syrup from
// 1 to 2000 g/L, 0 for none; otherwise the error wraps [ErrOutOfRange] or
// [ErrNotANumber]. It wraps [ErrUnreachable] where AmountFor does, and when the syrup
// has no room for so much.
//
// Source: even steps are common practice. Of 50 mL of water the last glass up to
// 1.082923, which is 20 Brix (ICUMSA SPS-4), takes 12.48 g of sucrose.
func (i Ingredient) Bench(l Liquid, b Bench) ([]BenchGlass, error) {
	now, err := l.Figures()
	if err != nil {
		return nil, err
	}
	if err := b.check(now.Volume); err != nil {
		return nil, err
	}
	stirred, litre := i, Liquid{}
	if b.Syrup > 0 {
		if stirred, litre, err = i.syrup(b.Syrup); err != nil {
			return nil, err
		}
	}
	glass := l.Scaled(float64(b.Glass) / float64(now.Volume))
	ladder := make([]BenchGlass, b.Glasses)
	for k := range ladder {
		part := SG(float64(k) / float64(b.Glasses-1))
		want := now.SG + part*(b.UpTo-now.SG)
		mass, err := stirred.AmountFor(glass, TargetSG(want))
		if err != nil {
			return nil, err
		}
		g := BenchGlass{SG: want, Dose: mass}
		if b.Syrup > 0 {
			g.Syrup = Litre(mass / litre.Mass())
			g.Dose = Gram(float64(g.Syrup) * float64(b.Syrup))
		}
		g.Vessel = g.Dose * Gram(now.Volume/b.Glass)
		ladder[k] = g
	}
	return ladder, nil
}

// syrup returns the ingredient as a syrup, and one litre of that.
func (i Ingredient) syrup(c GramPerLitre) (Ingredient, Liquid, error) {
	if i.PerGram.Sweetness() > tooSweetToWeigh*i.PerGram.Mass() {
		return Ingredient{}, Liquid{}, fmt.Errorf("a ladder of gravities with %s, of which milligrams sweeten: %w", i.Name, ErrUnreachable)
	}
	litre, err := MadeUpTo(i.Amount(Gram(c)), 1)
	if err != nil {
		return Ingredient{}, Liquid{}, fmt.Errorf("syrup of %.6g g/L of %s: %w", float64(c), i.Name, err)
	}
	return Ingredient{Name: "syrup of " + i.Name, PerGram: litre.Scaled(1 / float64(litre.Mass()))}, litre, nil
}

func (b Bench) check(vessel Litre) error {
	if err := inRange("glass", float64(b.Glass), leastGlass, mostGlass, " L"); err != nil {
		return err
	}
	if err := inRange("glass", float64(b.Glass), 0, float64(vessel), " L"); err != nil {
		return err
	}
	if err := inRange("glasses", float64(b.Glasses), leastGlasses, mostGlasses, ""); err != nil {
		return err
	}
	if err := inRange("last gravity", float64(b.UpTo), 0.9, 2, ""); err != nil {
		return err
	}
	if b.Syrup == 0 {
		return nil
	}
	return inRange("syrup", float64(b.Syrup), 1, mostSyrup, " g/L")
}
