package data

import (
	_ "embed"
	"fmt"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

//go:embed handbook/yeasts.csv
var yeastsCSV string

// Yeasts returns the handbook of kinds of yeast in the order it lists them. Every
// call returns its own copy. The error names the row and the column that somebody
// who edited the table has to look at.
func Yeasts() ([]model.YeastKind, error) {
	all, err := parseYeasts(yeastsCSV)
	if err != nil {
		return nil, fmt.Errorf("handbook of yeasts: %w", err)
	}
	return all, nil
}

// yeastColumns are the columns of the table.
var yeastColumns = []string{
	"id", "name", "aliases", "tolerance_low_pct", "tolerance_high_pct", "notes", "source", "checked",
}

// Limits that catch a slip of the finger, in % vol.
const (
	leastTolerance = 1
	mostTolerance  = 25 // no yeast was seen to reach it
)

// parseYeasts reads a table like the embedded one.
func parseYeasts(text string) ([]model.YeastKind, error) {
	rows, err := readTable(text, yeastColumns)
	if err != nil {
		return nil, err
	}
	all := make([]model.YeastKind, len(rows))
	for i, row := range rows {
		if err := row.filled("id", "name", "tolerance_low_pct", "tolerance_high_pct", "source", "checked"); err != nil {
			return nil, err
		}
		n := numbers{row: row}
		tolerance := n.span("tolerance_low_pct", "tolerance_high_pct", mostTolerance)
		if n.err != nil {
			return nil, n.err
		}
		if tolerance.Low < leastTolerance {
			return nil, row.wrong("tolerance_low_pct", "%g is below %d", tolerance.Low, leastTolerance)
		}
		all[i] = model.YeastKind{
			ID: row.text("id"),
			Tolerance: calc.YeastTolerance{
				Name: row.text("name"), Low: calc.PercentVol(tolerance.Low), High: calc.PercentVol(tolerance.High),
			},
			Aliases: row.list("aliases"),
			Notes:   row.text("notes"),
			Source:  row.text("source") + " (" + row.text("checked") + ")",
		}
	}
	return all, distinctNames(rows)
}
