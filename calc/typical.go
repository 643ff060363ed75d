package calc

// Typical solids: what the extract of a must is made of when nothing but its
// gravity is known. Only the proportions count. They decide how much of a
// gravity is food for the yeast, so a must entered with its ingredients is
// always better.

// HoneySolids: average of 490 US honeys (White 1962), 82.8 % solids.
func HoneySolids() Liquid {
	return solids(map[Component]Gram{
		Sucrose: 1.31, Glucose: 31.28, Fructose: 38.19, Maltose: 7.31, Acid: 0.57, OtherSolids: 4.14})
}

// GrapeSolids: 191.9 g/L of sugar in 216.2 g/L of extract at 20 Brix, half
// glucose and half fructose (OIV Oeno 21/2004, table II; equal halves are
// common practice for ripe grapes).
func GrapeSolids() Liquid {
	return solids(map[Component]Gram{
		Glucose: 95.95, Fructose: 95.95, Acid: 8, OtherSolids: 16.3})
}

// AppleSolids: apple juice, USDA SR26 09016 scaled as in the sweetener
// table's concentrate (43 % solids); the rest is malic acid, sorbitol, pectin.
func AppleSolids() Liquid {
	return solids(map[Component]Gram{
		Sucrose: 5.09, Glucose: 10.62, Fructose: 23.13, Acid: 1.6, Sorbitol: 1.7, OtherSolids: 0.86})
}

// PearSolids: pears are richer in sorbitol, which yeast leaves. Sugars from
// USDA SR26 09252; sorbitol about 2 % of the fruit (from memory).
func PearSolids() Liquid {
	return solids(map[Component]Gram{
		Sucrose: 0.71, Glucose: 2.6, Fructose: 6.42, Sorbitol: 2.0, Acid: 0.3, OtherSolids: 0.6})
}

// SugarSolids: table sugar and nothing else.
func SugarSolids() Liquid {
	return solids(map[Component]Gram{Sucrose: 100})
}

// WortSolids: 13 °P lager wort (Food Biochemistry and Food Processing, 2nd
// ed., ch. 33): fructose 1.5, glucose 10.3, sucrose 4.2, maltose 60.4,
// maltotriose 17.7, dextrins 34.0 g/L, and 9 % of the extract protein and salts.
func WortSolids() Liquid {
	return solids(map[Component]Gram{
		Sucrose: 4.2, Glucose: 10.3, Fructose: 1.5, Maltose: 60.4, Maltotriose: 17.7, Dextrin: 34, OtherSolids: 12.7})
}

// solids is for tables known to be right; the tests visit each.
func solids(parts map[Component]Gram) Liquid {
	var l Liquid
	for c, g := range parts {
		l.grams[c] = float64(g)
	}
	return l
}
