package ui

import (
	"slices"

	"cellar.local/glassrow/model"
)

// sortByLabel puts rows in the order in which one walks past them.
func sortByLabel(rows []model.Row) {
	slices.SortFunc(rows, func(a, b model.Row) int { return model.CompareLabels(a.Vessel.Label, b.Vessel.Label) })
}
