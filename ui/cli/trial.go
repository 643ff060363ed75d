package cli

import (
	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/ui/words"
)

// trialColumns compares a liquid before and after an addition, a line a figure:
// gravity, sugar, sweetness, band, strength, volume.
func trialColumns(before, after calc.Figures, say words.Words) []column {
	return []column{
		{title: "", cells: []string{"  gravity", "  sugar", "  sweetness", "  band", "  strength", "  volume"}},
		{title: "before", right: true, cells: trialCells(before, say)},
		{title: "after", right: true, cells: trialCells(after, say)},
	}
}

func trialCells(f calc.Figures, say words.Words) []string {
	return []string{
		say.FineGravity(f.SG), say.PerLitre(f.Sugar), say.PerLitre(f.Sweetness), calc.BandOf(f.Sugar).String(),
		say.Strength(f.Strength, 0), say.Volume(f.Volume),
	}
}
