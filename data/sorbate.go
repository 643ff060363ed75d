package data

import (
	_ "embed"
	"fmt"

	"cellar.local/glassrow/calc"
)

//go:embed handbook/sorbate.csv
var sorbateCSV string

// Sorbate returns the handbook's doses of sorbate by strength and pH. The error names
// the row and the column to look at.
func Sorbate() (calc.SorbateTable, error) {
	table, err := parseSorbate(sorbateCSV)
	if err != nil {
		return calc.SorbateTable{}, fmt.Errorf("handbook of sorbate doses: %w", err)
	}
	return table, nil
}

func parseSorbate(text string) (calc.SorbateTable, error) {
	none := calc.SorbateTable{}
	lines, err := readTable(text, []string{"id", "abv_pct_vol", "ph", "potassium_sorbate_mg_l", "source", "checked"})
	if err != nil {
		return none, err
	}
	rows := make([]calc.SorbateRow, len(lines))
	for i, r := range lines {
		if rows[i], err = r.sorbate(); err != nil {
			return none, err
		}
	}
	return calc.NewSorbateTable(rows)
}

func (r tableRow) sorbate() (calc.SorbateRow, error) {
	none := calc.SorbateRow{}
	abv, err := r.figure("abv_pct_vol", 0, 30)
	if err != nil {
		return none, err
	}
	ph, err := r.figure("ph", 2.5, 5)
	if err != nil {
		return none, err
	}
	dose, err := r.figure("potassium_sorbate_mg_l", 1, 1000)
	if err != nil {
		return none, err
	}
	if r.text("source") == "" {
		return none, r.wrong("source", "it is empty")
	}
	return calc.SorbateRow{
		ABV: calc.PercentVol(abv), PH: calc.PH(ph), Dose: calc.MilligramPerLitre(dose), Source: r.text("source"),
	}, nil
}
