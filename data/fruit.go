package data

import (
	_ "embed"
	"fmt"
	"math"
	"strings"
	"time"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

//go:embed handbook/fruit.csv
var fruitCSV string

// Fruits returns the handbook of fruit, roots and grains in the order it lists them:
// pome fruit, stone fruit, berries and grapes first, juices, roots and grains last.
// Every call returns its own copy. The error names the row and the column that
// somebody who edited the table has to look at.
func Fruits() ([]model.Fruit, error) {
	all, err := parseFruits(fruitCSV)
	if err != nil {
		return nil, fmt.Errorf("handbook of fruit: %w", err)
	}
	return all, nil
}

// fruitColumns are the columns of the table.
var fruitColumns = []string{
	"id", "name", "aliases", "group", "form",
	"water_pct", "total_sugars_pct", "sucrose_pct", "glucose_pct", "fructose_pct", "maltose_pct", "sorbitol_pct",
	"fibre_pct", "starch_pct", "insoluble_pct", "refuse_pct", "half_time_h",
	"ph_low", "ph_high", "ph_source", "acid_low_g_per_kg", "acid_high_g_per_kg", "acid_source", "main_acid",
	"caution", "notes", "source", "checked",
}

// fruitParts are the columns that hold what dissolves, by component.
var fruitParts = []struct {
	column    string
	component calc.Component
}{
	{"water_pct", calc.Water},
	{"sucrose_pct", calc.Sucrose},
	{"glucose_pct", calc.Glucose},
	{"fructose_pct", calc.Fructose},
	{"maltose_pct", calc.Maltose},
	{"sorbitol_pct", calc.Sorbitol},
}

// Limits that catch a slip of the finger in the table.
const (
	maxFruitName  = 34   // letters: a line of the narrowest list
	maxAcidPerKg  = 100  // g/kg; lemon juice has 50
	maxHalfTime   = 1000 // hours
	sugarSlack    = 2.0  // how far the sugars may be from the printed total, in % of the fruit
	fruitSumSlack = 1.0  // how far the parts may go beyond 100 %
)

// parseFruits reads a table like the embedded one.
func parseFruits(text string) ([]model.Fruit, error) {
	rows, err := readTable(text, fruitColumns)
	if err != nil {
		return nil, err
	}
	all := make([]model.Fruit, len(rows))
	for i, row := range rows {
		if all[i], err = row.fruit(); err != nil {
			return nil, err
		}
	}
	return all, distinctNames(rows)
}

// distinctNames returns an error unless every id, name and alias means one row.
func distinctNames(rows []tableRow) error {
	owner := make(map[string]int) // of each name, its row
	for i, row := range rows {
		for _, column := range []string{"id", "name", "aliases"} {
			for _, name := range row.list(column) {
				name = strings.ToLower(name)
				if other, taken := owner[name]; taken && other != i {
					return row.wrong(column, "%q is row %q already", name, rows[other].text("id"))
				}
				owner[name] = i
			}
		}
	}
	return nil
}

// filled returns an error unless there is something in each of the columns.
func (r tableRow) filled(columns ...string) error {
	for _, column := range columns {
		if r.text(column) == "" {
			return r.wrong(column, "it is empty")
		}
	}
	return nil
}

// fruit makes a model.Fruit of a row.
func (r tableRow) fruit() (model.Fruit, error) {
	none := model.Fruit{}
	if err := r.filled("id", "name", "group", "form", "water_pct", "source", "checked"); err != nil {
		return none, err
	}
	if n := len([]rune(r.text("name"))); n > maxFruitName {
		return none, r.wrong("name", "it is %d letters long, at most %d", n, maxFruitName)
	}
	f, err := r.fruitItself()
	if err != nil {
		return none, err
	}
	return model.Fruit{
		ID:       r.text("id"),
		Fruit:    f,
		Aliases:  r.list("aliases"),
		Group:    r.text("group"),
		Form:     r.text("form"),
		MainAcid: r.text("main_acid"),
		Caution:  r.text("caution"),
		Notes:    r.text("notes"),
		Source:   r.text("source") + " (" + r.text("checked") + ")",
	}, nil
}

// fruitItself makes a calc.Fruit of a row.
func (r tableRow) fruitItself() (calc.Fruit, error) {
	n := numbers{row: r}
	pulp := n.number("insoluble_pct", 100)
	starch := n.number("starch_pct", 100)
	refuse := n.number("refuse_pct", 90)
	hours := n.number("half_time_h", maxHalfTime)
	n.number("fibre_pct", 100) // for the reader; the program has no use for it
	ph := n.span("ph_low", "ph_high", 14)
	acid := n.span("acid_low_g_per_kg", "acid_high_g_per_kg", maxAcidPerKg)
	if n.err != nil {
		return calc.Fruit{}, n.err
	}
	if starch > pulp {
		return calc.Fruit{}, r.wrong("starch_pct", "%g is more than the insoluble part it belongs to, %g", starch, pulp)
	}
	parts, err := r.dissolved(pulp, acid)
	if err != nil {
		return calc.Fruit{}, err
	}
	f, err := calc.NewFruit(r.text("name"), parts, calc.PercentMass(pulp), calc.PercentMass(starch))
	if err != nil {
		return calc.Fruit{}, r.wrong("water_pct", "%v", err)
	}
	f.Refuse = refuse / 100
	f.HalfTime = time.Duration(hours * float64(time.Hour))
	f.PH, f.Acid = ph, acid
	return f, nil
}

// dissolved returns what 100 g of the fruit hold besides pulp. Acid is the middle of
// the printed range, or what the other parts leave room for.
func (r tableRow) dissolved(pulp float64, acid calc.Span) (map[calc.Component]calc.Gram, error) {
	n := numbers{row: r}
	parts := make(map[calc.Component]calc.Gram)
	sum, sugars := pulp, 0.0
	for _, p := range fruitParts {
		x := n.number(p.column, 100)
		parts[p.component] = calc.Gram(x)
		sum += x
		if p.component.Sugar() {
			sugars += x
		}
	}
	printed := n.number("total_sugars_pct", 100)
	if n.err != nil {
		return nil, n.err
	}
	if printed > 0 && math.Abs(sugars-printed) > sugarSlack {
		return nil, r.wrong("total_sugars_pct", "%g is not what the sugars add up to, %g, within %g", printed, sugars, sugarSlack)
	}
	if sum > 100+fruitSumSlack {
		return nil, r.wrong("water_pct", "the parts of the row add up to %.2f %%, at most 100 within %.1f", sum, fruitSumSlack)
	}
	middle := (acid.Low + acid.High) / 2 / 10 // g/kg to g in 100 g
	parts[calc.Acid] = calc.Gram(max(0, min(middle, 100-sum)))
	return parts, nil
}

// numbers reads the figures of a row one after the other; err is the first that
// could not be read.
type numbers struct {
	row tableRow
	err error
}

// number returns a figure from 0 to most.
func (n *numbers) number(column string, most float64) float64 {
	x, err := n.row.number(column, 0, most)
	if n.err == nil {
		n.err = err
	}
	return x
}

// span returns the lowest and the highest figure, in two cells; both empty: not known.
func (n *numbers) span(low, high string, most float64) calc.Span {
	s := calc.Span{Low: n.number(low, most), High: n.number(high, most)}
	if n.err == nil && (s.Low > s.High || (n.row.text(low) == "") != (n.row.text(high) == "")) {
		n.err = n.row.wrong(low, "%q and %s, %q, make no range", n.row.text(low), high, n.row.text(high))
	}
	return s
}
