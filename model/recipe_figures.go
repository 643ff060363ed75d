package model

import (
	"cmp"
	"slices"
	"strings"

	"cellar.local/glassrow/calc"
)

// RecipeFigures is what a recipe comes to.
type RecipeFigures struct {
	Whole calc.MustFigures // of all that goes in, what is held back too
	First calc.MustFigures // on the first day
	All   calc.Liquid      // all of it, all juice out, the pulp taken out
	Feeds []RecipeDose

	PH, Acid calc.Guess    // of the fruit; the pH with the acid of the recipe, if there is any
	Soured   *Soured       // pH and acidity with the acid in it; nil: there is none
	Nitrogen NitrogenGuess // what is there for the yeast before it is fed
	Meals    []Meal        // of the nutrient
	Left     []YeastLeft   // by each group that can be chosen

	feedsErr error
}

// YeastLeft is what a group of yeast would leave of the must.
type YeastLeft struct {
	Yeast     YeastGroup
	Tolerance calc.PercentVol
	calc.Left
}

// Figures works out what the recipe comes to. Its amounts must be worked out; see
// [Recipe.Work]. A recipe of nothing gives the zero RecipeFigures.
func (r Recipe) Figures() (RecipeFigures, error) {
	var f RecipeFigures
	must, err := r.Must()
	if err != nil {
		return f, err
	}
	if f.Whole, err = must.Figures(); err != nil || f.Whole.Volume == 0 {
		return f, err
	}
	first, err := r.FirstDay()
	if err != nil {
		return f, err
	}
	if f.First, err = first.Figures(); err != nil {
		return f, err
	}
	f.All = must.AllOut()
	f.PH = must.PHGuess()
	if f.Acid, err = must.AcidGuess(); err != nil {
		return f, err
	}
	if r.sours() {
		s := r.soured(must, f.Whole.Drink)
		f.Soured, f.PH.Span = &s, s.PH
	}
	f.Feeds, f.feedsErr = r.Feeds(f.First.SGAllOut)
	nutrients, err := r.nutrientPlan(f.First.SGAllOut)
	if f.Meals = nutrients.Doses; f.feedsErr == nil {
		f.feedsErr = err
	}
	f.Nitrogen = r.nitrogen(f.Whole.Drink)
	f.Left, err = r.left(f.All)
	return f, err
}

// FeedsErr says why what is held back, or the nutrient, cannot be fed as planned; nil
// when it can.
func (f RecipeFigures) FeedsErr() error { return f.feedsErr }

// left is what each group of yeast would leave, the chosen one at the tolerance that
// was given for it.
func (r Recipe) left(all calc.Liquid) ([]YeastLeft, error) {
	rule := r.Drink.Fermentation()
	var out []YeastLeft
	for _, g := range YeastGroups() {
		if g == NoYeast && g != r.Yeast {
			continue
		}
		y := YeastLeft{Yeast: g, Tolerance: g.Tolerance()}
		if g == r.Yeast && r.Tolerance > 0 {
			y.Tolerance = r.Tolerance
		}
		var err error
		if y.Left, err = rule.LeftBy(all, max(1, y.Tolerance)); err != nil {
			return nil, err
		}
		out = append(out, y)
	}
	slices.SortStableFunc(out, func(a, b YeastLeft) int { return cmp.Compare(a.Tolerance, b.Tolerance) })
	return out, nil
}

// Chosen returns what the yeast that the recipe is for would leave.
func (f RecipeFigures) Chosen(g YeastGroup) (YeastLeft, bool) {
	i := slices.IndexFunc(f.Left, func(y YeastLeft) bool { return y.Yeast == g })
	if i < 0 {
		return YeastLeft{}, false
	}
	return f.Left[i], true
}

// NitrogenWanted returns the yeast assimilable nitrogen that the must should have by a
// scale. It is not known of a must lighter or heavier than those the scales are for.
func (f RecipeFigures) NitrogenWanted(n calc.NitrogenNeed) (calc.MilligramPerLitre, bool) {
	b, err := calc.BrixOfSG(f.Whole.SGAllOut)
	if err != nil {
		return 0, false
	}
	want, err := n.Target(b)
	return want, err == nil
}

// NitrogenGuess is the assimilable nitrogen that is likely in a must before anything is
// fed, in mg/L, as far as there are published figures.
type NitrogenGuess struct {
	calc.Span
	Unknown []string // what brings some of which nobody has told how much
}

// add counts in what so many litres of juice, or kilograms, bring to v litres.
func (g *NitrogenGuess) add(each calc.Span, amount float64, v calc.Litre) {
	g.Low += each.Low * amount / float64(v)
	g.High += each.High * amount / float64(v)
}

// Milligrams of assimilable nitrogen, all from memory of the literature (notes on
// nutrients, section 2), and as wide as it has them:
//
//   - apple juice 50 to 150 mg/L, grape must 60 to 500 mg/L;
//   - honey must of 20 to 25 Brix 10 to 50 mg/L. At 22.5 Brix a litre holds 246 g of
//     extract, which are 297 g of a honey of 17.2 % water: 34 to 168 mg from a kilogram.
var (
	nitrogenOfAppleJuice = calc.Span{Low: 50, High: 150}
	nitrogenOfGrapeJuice = calc.Span{Low: 60, High: 500}
	nitrogenOfHoney      = calc.Span{Low: 34, High: 168}
)

// pureSweet is the share of other solids and of what is left of a grain below which
// something sweet has next to nothing to feed yeast with but sugar.
const pureSweet = 0.01

// nitrogen guesses what the ingredients bring to v litres.
func (r Recipe) nitrogen(v calc.Litre) NitrogenGuess {
	var g NitrogenGuess
	for _, i := range r.Items {
		each, amount, known := i.nitrogen()
		switch {
		case i.Mass == 0 || v == 0:
		case known:
			g.add(each, amount, v)
		default:
			g.Unknown = append(g.Unknown, i.Stuff.Name())
		}
	}
	return g
}

// nitrogen returns what a litre of juice or a kilogram of honey holds, how many of them
// there are, and whether anything is known of it.
func (i RecipeItem) nitrogen() (each calc.Span, amount float64, known bool) {
	f := i.Stuff.Fruit
	juice, err := i.FruitPortion().Juice().Volume()
	l := i.Stuff.Sweetener.Ingredient.PerGram
	switch {
	case i.Stuff.IsFruit() && err != nil:
		return each, 0, false
	case i.Stuff.IsFruit() && (f.Group == "grape" || f.ID == "grape_juice"):
		return nitrogenOfGrapeJuice, float64(juice), f.Form != "dried"
	case i.Stuff.IsFruit() && (f.ID == "apple" || strings.HasPrefix(f.ID, "apple_") || f.ID == "cider_apple_juice"):
		return nitrogenOfAppleJuice, float64(juice), f.Form != "dried"
	case i.Stuff.IsFruit():
		return each, 0, false
	case i.Stuff.IsAcid():
		return each, 0, true
	case strings.HasPrefix(i.Stuff.ID(), "honey"):
		return nitrogenOfHoney, float64(i.Mass) / 1000, true
	}
	return each, 0, float64(l.Of(calc.OtherSolids)+l.Of(calc.Dextrin)) < pureSweet
}

// What yeast likes of a pH: must not below 3.2 to 3.3, or yeast slows; over 3.8 a drink
// spoils easily (notes on acids, section 4, common practice).
const (
	leastMustPH = 3.2
	mostMustPH  = 3.8
)

// Sour and Flat report whether by the fruit the pH may be lower, or higher, than yeast
// likes and a drink keeps.
func (f RecipeFigures) Sour() bool { return f.PH.Known() && f.PH.Low < leastMustPH }

// Flat is the other end; see [RecipeFigures.Sour].
func (f RecipeFigures) Flat() bool { return f.PH.Known() && f.PH.High > mostMustPH }

// Fit says how a must sits in a vessel.
type Fit uint8

// The fits, from best to worst.
const (
	Fits    Fit = iota
	Tight       // it may foam, or push its cap of fruit, over the brim
	TooMuch     // it does not go in
)

// fullest is the share of a vessel that a must can fill with room left for foam and a
// cap of fruit (common practice: a sixth or so stays free).
const fullest = 0.85

// Fit judges the must, the pulp included, in a vessel.
func (f RecipeFigures) Fit(v Vessel) Fit {
	switch {
	case v.Capacity <= 0:
		return Fits
	case f.Whole.Volume > v.Capacity*1.001:
		return TooMuch
	case f.Whole.Volume > RoomFor(v)*1.001: // a must scaled to just that is not too full
		return Tight
	}
	return Fits
}

// RoomFor returns the volume to which a vessel can be filled with a must that foams.
func RoomFor(v Vessel) calc.Litre { return v.Capacity * fullest }
