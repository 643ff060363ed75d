package model

import "cellar.local/glassrow/calc"

// YeastGroup is a kind of yeast by how much alcohol it stands.
type YeastGroup string

// The groups, by usual tolerance. The figures are the diagnosis notes'
// typical tolerances (from memory there); a packet's own figure is better.
const (
	AleYeast   YeastGroup = "ale"    // 8 to 12 % vol
	LagerYeast YeastGroup = "lager"  // 8 to 11
	WineYeast  YeastGroup = "wine"   // 13 to 16
	HighYeast  YeastGroup = "high"   // 16 to 18 and more
	WildYeast  YeastGroup = "wild"   // whatever came with the fruit
	NoYeast    YeastGroup = "unsaid" // pitched, kind not written down
)

// YeastGroups returns the groups a person can choose from.
func YeastGroups() []YeastGroup {
	return []YeastGroup{WineYeast, HighYeast, AleYeast, LagerYeast, WildYeast, NoYeast}
}

// Tolerance returns the alcohol at which the group usually stops: the middle of
// its range in the handbook, which a test of package data compares.
func (g YeastGroup) Tolerance() calc.PercentVol {
	switch g {
	case AleYeast:
		return 10
	case LagerYeast:
		return 9.5
	case HighYeast:
		return 17
	case WildYeast:
		return 12
	}
	return 14.5
}
