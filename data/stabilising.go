package data

import (
	_ "embed"
	"fmt"

	"cellar.local/glassrow/calc"
)

//go:embed handbook/sulfite_limits.csv
var sulfiteLimitsCSV string

//go:embed handbook/heat_targets.csv
var heatTargetsCSV string

// SulfiteLimits returns the handbook of the SO2 that rules let a seller put into a
// drink. Every call returns its own copy. The error names the row and the column to
// look at.
func SulfiteLimits() ([]calc.SulfiteLimit, error) {
	all, err := parseSulfiteLimits(sulfiteLimitsCSV)
	if err != nil {
		return nil, fmt.Errorf("handbook of sulfite limits: %w", err)
	}
	return all, nil
}

// HeatTargets returns the handbook of pasteurisation units, those for a maker's own
// drinks first. Every call returns its own copy. The error names the row and the
// column to look at.
func HeatTargets() ([]calc.HeatTarget, error) {
	all, err := parseHeatTargets(heatTargetsCSV)
	if err != nil {
		return nil, fmt.Errorf("handbook of heat targets: %w", err)
	}
	return all, nil
}

func parseSulfiteLimits(text string) ([]calc.SulfiteLimit, error) {
	columns := []string{"place", "total_so2_mg_l", "sugar_from_g_l", "sugar_below_g_l"}
	return parseListed(text, columns, tableRow.sulfiteLimit)
}

func (r tableRow) sulfiteLimit(l calc.Listed) (calc.SulfiteLimit, error) {
	none := calc.SulfiteLimit{}
	if r.text("place") == "" {
		return none, r.wrong("place", "it is empty")
	}
	total, err := r.figure("total_so2_mg_l", 1, 1000)
	if err != nil {
		return none, err
	}
	from, err := r.number("sugar_from_g_l", 0, 1000) // empty: from none
	if err != nil {
		return none, err
	}
	below, err := r.number("sugar_below_g_l", 0, 1000) // empty: no upper end
	if err != nil {
		return none, err
	}
	if below != 0 && below <= from {
		return none, r.wrong("sugar_below_g_l", "%g is not above sugar_from_g_l, %g", below, from)
	}
	return calc.SulfiteLimit{
		Listed: l, Place: r.text("place"), Total: calc.MilligramPerLitre(total),
		SugarFrom: calc.GramPerLitre(from), SugarBelow: calc.GramPerLitre(below),
	}, nil
}

func parseHeatTargets(text string) ([]calc.HeatTarget, error) {
	return parseListed(text, []string{"low_pu", "high_pu"}, tableRow.heatTarget)
}

func (r tableRow) heatTarget(l calc.Listed) (calc.HeatTarget, error) {
	low, high, err := r.between("low_pu", "high_pu", 0.1, 1000)
	if err != nil {
		return calc.HeatTarget{}, err
	}
	return calc.HeatTarget{Listed: l, Low: calc.PU(low), High: calc.PU(high)}, nil
}
