package words

import (
	"fmt"
	"strings"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// Doses says what goes in: 300 g of honey, 150 g of white sugar.
func (w Words) Doses(doses []model.Dose) string {
	text := ""
	for i, d := range doses {
		switch {
		case i > 0 && i == len(doses)-1:
			text += " and "
		case i > 0:
			text += ", "
		}
		text += w.Mass(d.Mass) + " of " + d.Sweetener.Name()
	}
	return text
}

// Meals says when a nutrient goes in, by the clock or by gravity: 12h, 1.063, 1.041.
func (w Words) Meals(meals []model.Meal) string {
	out := make([]string, len(meals))
	for i, m := range meals {
		switch {
		case m.Mark == 0:
			out[i] = Span(m.After)
		case m.After == 0:
			out[i] = w.Gravity(m.Mark)
		default:
			out[i] = w.Gravity(m.Mark) + " or " + Span(m.After)
		}
	}
	return strings.Join(out, ", ")
}

// TooMuchNutrient says what there is too much of.
func (w Words) TooMuchNutrient(r model.Recipe, f model.RecipeFigures) string {
	n := r.Nutrient
	most := calc.Gram(float64(n.Most) * float64(f.Whole.Drink))
	return fmt.Sprintf("More %s than rules allow or makers advise, %s: take another nutrient for the rest.", n.Name, w.FineMass(most))
}
