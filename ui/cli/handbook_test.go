package cli_test

import (
	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/ui/cli"
)

// handbook is a few rows of the tables, with their figures.
func handbook() cli.Handbook {
	return cli.Handbook{
		Containers: []calc.Container{
			{ID: "beer_bottle_used", Name: "beer bottle, re-used", WarnVolumes: 3, StopVolumes: 4, StopBar: 5},
			{ID: "beer_bottle_new", Name: "beer bottle, new", WarnVolumes: 3.5, StopVolumes: 4.5, StopBar: 6},
			{ID: "sparkling_bottle", Name: "sparkling-wine bottle", WarnVolumes: 6, StopVolumes: 6.5, StopBar: 8},
			{ID: "wine_bottle", Name: "still-wine bottle, cork", WarnVolumes: 0.1, StopVolumes: 0.3, StopBar: 0.5, Still: true},
		},
	}
}
