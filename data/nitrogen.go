package data

import (
	_ "embed"
	"fmt"

	"cellar.local/glassrow/calc"
)

//go:embed handbook/nitrogen.csv
var nitrogenCSV string

// NitrogenSources returns the handbook of what feeds yeast, the usual one first. Every
// call returns its own copy. The error names the row and the column to look at.
func NitrogenSources() ([]calc.NitrogenSource, error) {
	all, err := parseNitrogen(nitrogenCSV)
	if err != nil {
		return nil, fmt.Errorf("handbook of nitrogen sources: %w", err)
	}
	return all, nil
}

func parseNitrogen(text string) ([]calc.NitrogenSource, error) {
	return parseListed(text, []string{"nitrogen_mg_g", "most_g_l"}, tableRow.nitrogenSource)
}

func (r tableRow) nitrogenSource(l calc.Listed) (calc.NitrogenSource, error) {
	nitrogen, err := r.figure("nitrogen_mg_g", 1, 500)
	if err != nil {
		return calc.NitrogenSource{}, err
	}
	most, err := r.number("most_g_l", 0, 100) // empty: not said
	if err != nil {
		return calc.NitrogenSource{}, err
	}
	return calc.NitrogenSource{Listed: l, Nitrogen: nitrogen, Most: calc.GramPerLitre(most)}, nil
}
