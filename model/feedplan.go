package model

import (
	"fmt"

	"cellar.local/glassrow/calc"
)

// PlanFeeding returns the plan of a nutrient shared out over a fermentation that began
// at a gravity. See [calc.FeedSplit] for the ways to share out.
func PlanFeeding(what string, mass calc.Gram, split calc.FeedSplit, original calc.SG) (FeedPlan, error) {
	if mass == 0 {
		return FeedPlan{}, fmt.Errorf("say how much of %s in all, as in DAP 12g: %w", what, ErrInvalid)
	}
	b, err := calc.BrixOfSG(original)
	if err != nil {
		return FeedPlan{}, fmt.Errorf("%w: %w", err, ErrInvalid)
	}
	doses, err := split.ShareOut(mass, b)
	if err != nil {
		return FeedPlan{}, fmt.Errorf("%w: %w", err, ErrInvalid)
	}
	var p FeedPlan
	for _, d := range doses {
		p.Doses = append(p.Doses, Meal{What: what, Mass: d.Mass, Mark: d.SG, After: d.After})
	}
	return p, p.Validate()
}
