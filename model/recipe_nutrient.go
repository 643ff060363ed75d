package model

import (
	"fmt"
	"slices"
	"strings"

	"cellar.local/glassrow/calc"
)

// RecipeNutrient is what a recipe feeds its yeast with besides sugar, shared out over
// the fermentation. The zero RecipeNutrient is none.
type RecipeNutrient struct {
	Name     string
	Nitrogen float64           // milligrams that a gram brings
	Most     calc.GramPerLitre // what rules allow, or makers advise; 0: not said
	Mass     calc.Gram         // over all doses
	Missing  bool              // Mass is what covers the nitrogen that is missing
	Split    calc.FeedSplit
}

// NutrientOf returns so much as is missing of a nutrient, in thirds.
func NutrientOf(n calc.NitrogenSource) RecipeNutrient {
	return RecipeNutrient{Name: n.Name, Nitrogen: n.Nitrogen, Most: n.Most, Missing: true, Split: calc.FeedThirds}
}

// Set reports whether there is one.
func (n RecipeNutrient) Set() bool { return n.Name != "" }

func (n RecipeNutrient) validate() error {
	if !n.Set() {
		return nil
	}
	if err := plainText("nutrient", n.Name, maxName, true); err != nil {
		return err
	}
	if !(n.Nitrogen >= 1 && n.Nitrogen <= 500) {
		return fmt.Errorf("nitrogen of %.4g mg/g in %s is outside 1 to 500: %w", n.Nitrogen, n.Name, ErrInvalid)
	}
	if !(n.Most >= 0 && n.Most <= 1000) {
		return fmt.Errorf("most of %s, %.4g g/L, is outside 0 to 1000: %w", n.Name, float64(n.Most), ErrInvalid)
	}
	if !slices.Contains(calc.FeedSplits(), n.Split) {
		return fmt.Errorf("feeding in %q is not one of %s: %w", string(n.Split), joined(calc.FeedSplits()), ErrInvalid)
	}
	return checkSmallMass(n.Name, n.Mass)
}

// Wished returns the nutrient with what a person types of it: a mass, missing for as
// much as is missing, halves, thirds or quarters, or a mass and one of these.
func (n RecipeNutrient) Wished(text string) (RecipeNutrient, error) {
	words := strings.Fields(strings.ToLower(text))
	words = slices.DeleteFunc(words, func(w string) bool { return w == "in" })
	if len(words) == 0 {
		return n, fmt.Errorf("nothing is typed; write 12g, missing, or 12g in thirds: %w", ErrInvalid)
	}
	if last := calc.FeedSplit(words[len(words)-1]); slices.Contains(calc.FeedSplits(), last) {
		n.Split = last
		words = words[:len(words)-1]
	}
	switch rest := strings.Join(words, ""); rest {
	case "":
	case "missing":
		n.Missing = true
	default:
		m, err := ParseMass(rest)
		if err != nil {
			return n, fmt.Errorf("%q is not understood; write 12g, missing, or 12g in thirds: %w", text, ErrInvalid)
		}
		n.Mass, n.Missing = m, false
	}
	return n, n.validate()
}

// Nutrient understands a nutrient out of the larder, and what is wished of it: DAP, or
// DAP 12g in thirds.
func (l Larder) Nutrient(text string) (RecipeNutrient, error) {
	words := strings.Fields(text)
	for n := len(words); n > 0; n-- {
		found, ok, matches := FindNamed(l.Nutrients, nutrientNames, strings.Join(words[:n], " "))
		if !ok && len(matches) > 0 {
			names := make([]string, len(matches))
			for i, m := range matches {
				names[i] = m.Name
			}
			return RecipeNutrient{}, fmt.Errorf("%q could be %s: %w", strings.Join(words[:n], " "), strings.Join(names, " or "), ErrInvalid)
		}
		switch {
		case !ok:
		case n == len(words):
			return NutrientOf(found), nil
		default:
			return NutrientOf(found).Wished(strings.Join(words[n:], " "))
		}
	}
	return RecipeNutrient{}, fmt.Errorf("%q is not a nutrient in the handbook; write DAP, or DAP 12g in thirds: %w", text, ErrInvalid)
}

func nutrientNames(n calc.NitrogenSource) []string {
	return append([]string{n.ID, n.Name}, n.Aliases...)
}

// Feeding returns the recipe with a nutrient, or with none.
func (r Recipe) Feeding(n RecipeNutrient) Recipe {
	r.Nutrient = n
	return r
}

// nourished returns the recipe with as much nutrient as is missing, if that is asked.
func (r Recipe) nourished() (Recipe, error) {
	if !r.Nutrient.Set() || !r.Nutrient.Missing {
		return r, nil
	}
	must, err := r.Must()
	if err != nil {
		return r, err
	}
	f, err := must.Figures()
	if err != nil {
		return r, err
	}
	missing := r.missingNitrogen(f)
	r.Nutrient.Mass = missing.In(f.Drink) / calc.Gram(r.Nutrient.Nitrogen) * milligrams
	return r, nil
}

// milligrams in a gram.
const milligrams = 1000

// missingNitrogen is what medium need wants beyond the middle of what is likely there
// [choice]; what nobody knows of brings none. It is nothing where no scale tells.
func (r Recipe) missingNitrogen(f calc.MustFigures) calc.MilligramPerLitre {
	want, known := RecipeFigures{Whole: f}.NitrogenWanted(calc.MediumNeed)
	if !known {
		return 0
	}
	there := r.nitrogen(f.Drink)
	return max(0, want-calc.MilligramPerLitre(there.Low+there.High)/2)
}

// nutrientPlan returns how the nutrient is shared out in a must that begins at first.
func (r Recipe) nutrientPlan(first calc.SG) (FeedPlan, error) {
	if !r.Nutrient.Set() || r.Nutrient.Mass == 0 {
		return FeedPlan{}, nil
	}
	return PlanFeeding(r.Nutrient.Name, r.Nutrient.Mass, r.Nutrient.Split, first)
}

// NutrientBrings returns the nitrogen that the nutrient adds to the must.
func (r Recipe) NutrientBrings(f RecipeFigures) calc.MilligramPerLitre {
	if !r.Nutrient.Set() || f.Whole.Drink == 0 {
		return 0
	}
	return calc.NitrogenSource{Nitrogen: r.Nutrient.Nitrogen}.Brings(r.Nutrient.Mass, f.Whole.Drink)
}

// TooMuchNutrient reports whether there is more than rules allow or makers advise.
func (r Recipe) TooMuchNutrient(f RecipeFigures) bool {
	n := r.Nutrient
	return n.Set() && n.Most > 0 && float64(n.Mass) > float64(n.Most)*float64(f.Whole.Drink)*1.001
}
