package cli

import (
	"cellar.local/glassrow/calc"
)

// trialColumns compares a liquid before and after an addition, a line a figure:
// gravity, sugar, sweetness, band, strength, volume.
func trialColumns(before, after calc.Figures, w words) []column {
	return []column{
		{title: "", cells: []string{"  gravity", "  sugar", "  sweetness", "  band", "  strength", "  volume"}},
		{title: "before", right: true, cells: trialCells(before, w)},
		{title: "after", right: true, cells: trialCells(after, w)},
	}
}

func trialCells(f calc.Figures, w words) []string {
	return []string{
		w.fineGravity(f.SG), w.perLitre(f.Sugar), w.perLitre(f.Sweetness), calc.BandOf(f.Sugar).String(),
		w.shortStrength(f.Strength), w.volume(f.Volume),
	}
}
