package data

import (
	_ "embed"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

//go:embed handbook/sweeteners.csv
var sweetenersCSV string

// Sweeteners returns the handbook of sugars and sweeteners in the order it lists
// them: honey and sugars first, then syrups, malt, fruit concentrates, and what
// yeast leaves. Every call returns its own copy. The error names the row and the
// column that somebody who edited the table has to look at.
func Sweeteners() ([]model.Sweetener, error) {
	all, err := parseSweeteners(sweetenersCSV)
	if err != nil {
		return nil, fmt.Errorf("handbook of sweeteners: %w", err)
	}
	return all, nil
}

// sweetenerColumns are the columns of the table.
var sweetenerColumns = []string{
	"id", "name", "aliases", "form",
	"water_pct", "sucrose_pct", "glucose_pct", "fructose_pct", "maltose_pct",
	"other_fermentable_pct", "other_fermentable_kind", "unfermentable_pct", "unfermentable_kind",
	"kg_per_litre", "cup_g", "sweetness_low", "sweetness_high",
	"flavour", "caution", "notes", "source", "checked",
}

// partColumns are the columns that hold a share by mass. What it is a share of is
// the component itself or, when kinds is set, named by one of its words in the
// column kind.
var partColumns = []struct {
	share     string
	component calc.Component
	kind      string
	kinds     map[string]calc.Component
}{
	{share: "water_pct", component: calc.Water},
	{share: "sucrose_pct", component: calc.Sucrose},
	{share: "glucose_pct", component: calc.Glucose},
	{share: "fructose_pct", component: calc.Fructose},
	{share: "maltose_pct", component: calc.Maltose},
	{share: "other_fermentable_pct", kind: "other_fermentable_kind",
		kinds: map[string]calc.Component{"maltotriose": calc.Maltotriose}},
	{share: "unfermentable_pct", kind: "unfermentable_kind",
		kinds: map[string]calc.Component{
			"solids": calc.OtherSolids, "dextrin": calc.Dextrin, "lactose": calc.Lactose,
			"erythritol": calc.Erythritol, "xylitol": calc.Xylitol, "sorbitol": calc.Sorbitol, "allulose": calc.Allulose,
			"sucralose": calc.Sucralose, "stevia": calc.Stevia, "saccharin": calc.Saccharin,
			"acesulfame-K": calc.AcesulfameK, "aspartame": calc.Aspartame, "monk fruit": calc.MonkFruit,
		}},
}

// sumSlack is how far the parts of a row may be from 100 %: printed analyses are
// rounded part by part.
const sumSlack = 1.5

// Limits that catch a slip of the finger in the table.
const (
	maxSweetenerName = 34      // letters: a line of the narrowest list
	maxSweetness     = 20000.0 // times table sugar
)

// parseSweeteners reads a table like the embedded one.
func parseSweeteners(text string) ([]model.Sweetener, error) {
	rows, err := readTable(text, sweetenerColumns)
	if err != nil {
		return nil, err
	}
	if len(rows) == 0 {
		return nil, errors.New("there are no rows")
	}
	all := make([]model.Sweetener, len(rows))
	owner := make(map[string]int) // of each name, its row
	for i, row := range rows {
		if all[i], err = row.sweetener(); err != nil {
			return nil, err
		}
		for _, column := range []string{"id", "name", "aliases"} {
			for _, name := range row.list(column) {
				name = strings.ToLower(name)
				if other, taken := owner[name]; taken && other != i {
					return nil, row.wrong(column, "%q is row %q already", name, all[other].ID)
				}
				owner[name] = i
			}
		}
	}
	return all, nil
}

// sweetener makes a model.Sweetener of a row.
func (r tableRow) sweetener() (model.Sweetener, error) {
	none := model.Sweetener{}
	for _, column := range []string{"id", "name", "form", "source", "checked"} {
		if r.text(column) == "" {
			return none, r.wrong(column, "it is empty")
		}
	}
	if n := len([]rune(r.text("name"))); n > maxSweetenerName {
		return none, r.wrong("name", "it is %d letters long, at most %d", n, maxSweetenerName)
	}
	parts, err := r.parts()
	if err != nil {
		return none, err
	}
	ingredient, err := calc.NewIngredient(r.text("name"), parts)
	if err != nil {
		return none, r.wrong("water_pct", "%v", err)
	}
	kgPerLitre, err := r.number("kg_per_litre", 0.1, 3)
	if err != nil {
		return none, err
	}
	cup, err := r.number("cup_g", 20, 700)
	if err != nil {
		return none, err
	}
	if _, _, err := r.printedSweetness(); err != nil {
		return none, err
	}
	return model.Sweetener{
		ID:         r.text("id"),
		Ingredient: ingredient,
		Aliases:    r.list("aliases"),
		Form:       r.text("form"),
		KgPerLitre: kgPerLitre,
		CupGrams:   cup,
		Flavour:    r.text("flavour"),
		Caution:    r.text("caution"),
		Notes:      r.text("notes"),
		Source:     r.text("source") + " (" + r.text("checked") + ")",
	}, nil
}

// printedSweetness returns the range of sweetness found in print.
func (r tableRow) printedSweetness() (low, high float64, err error) {
	if low, err = r.number("sweetness_low", 0, maxSweetness); err != nil {
		return 0, 0, err
	}
	if high, err = r.number("sweetness_high", 0, maxSweetness); err != nil {
		return 0, 0, err
	}
	if low > high {
		return 0, 0, r.wrong("sweetness_low", "%g is above sweetness_high, %g", low, high)
	}
	return low, high, nil
}

// parts returns what a hundred grams hold.
func (r tableRow) parts() (map[calc.Component]calc.Gram, error) {
	parts := make(map[calc.Component]calc.Gram)
	sum := 0.0
	for _, p := range partColumns {
		share, err := r.number(p.share, 0, 100)
		if err != nil {
			return nil, err
		}
		c := p.component
		if p.kinds != nil {
			word := r.text(p.kind)
			kind, known := p.kinds[word]
			if !known && (word != "" || share > 0) {
				return nil, r.wrong(p.kind, "%q is not one of: %s", word, strings.Join(slices.Sorted(maps.Keys(p.kinds)), ", "))
			}
			c = kind
		}
		if share > 0 {
			parts[c] = calc.Gram(share)
			sum += share
		}
	}
	if math.Abs(sum-100) > sumSlack {
		return nil, r.wrong("water_pct", "the parts of the row add up to %.2f %%, want 100 within %.1f", sum, sumSlack)
	}
	return parts, nil
}
