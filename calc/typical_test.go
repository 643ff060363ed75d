package calc

import "testing"

// Ensure that what a must is taken to be made of agrees with what is in print.
func TestTypicalSolids(t *testing.T) {
	for name, c := range map[string]struct {
		solids           Liquid
		fermentable      float64 // share of the extract
		within           float64
		glucoseToFructos float64 // by mass; 0: not compared
	}{
		// White 1962: 78.09 of 82.8 % solids are sugars that ferment.
		"honey": {HoneySolids(), 78.09 / 82.8, 0.001, 0.82},
		// OIV Oeno 21/2004, table II at 20 Brix: 191.9 of 216.2 g/L.
		"grape": {GrapeSolids(), 191.9 / 216.2, 0.001, 1},
		// USDA SR26 09016 has apple juice at 11.3 % sugars in 11.8 % solids less acid,
		// fruit table 0.88 to 0.92 of the solids; twice as much fructose as glucose.
		"apple": {AppleSolids(), 0.90, 0.02, 0.46},
		// USDA SR26 09252: 9.75 % sugars of 12.6 % soluble solids.
		"pear": {PearSolids(), 0.77, 0.02, 0.41},
		// Worts of the kinetics notes, section 1: 67 to 73 % real limit of attenuation.
		"wort":  {WortSolids(), 0.68, 0.02, 0},
		"sugar": {SugarSolids(), 1, 0, 0},
	} {
		share := float64(c.solids.Fermentable() / c.solids.Extract())
		wantNear(t, "fermentable share", name, share, c.fermentable, c.within)
		if c.glucoseToFructos != 0 {
			ratio := float64(c.solids.Of(Glucose) / c.solids.Of(Fructose))
			wantNear(t, "glucose to fructose", name, ratio, c.glucoseToFructos, 0.02)
		}
		if c.solids.Of(Water) != 0 || c.solids.Of(Ethanol) != 0 {
			t.Errorf("%s holds water or alcohol: %+v", name, c.solids)
		}
		if l, err := LiquidOf(1, 1.05, 0, c.solids); err != nil {
			t.Errorf("%s: %v", name, err)
		} else {
			checkLiquid(t, l)
		}
	}
}

// Ensure that 13 °P wort in the ledger has the grams of its source.
func TestWortSolids(t *testing.T) {
	sg, err := SGOfBrix(13)
	wantNoError(t, err)
	l, err := LiquidOf(1, sg, 0, WortSolids())
	wantNoError(t, err)
	// Food Biochemistry and Food Processing, 2nd ed., ch. 33: Canadian lager wort.
	for c, want := range map[Component]float64{Fructose: 1.5, Glucose: 10.3, Sucrose: 4.2, Maltose: 60.4, Maltotriose: 17.7, Dextrin: 34.0} {
		wantNear(t, "g/L", c, float64(l.Of(c)), want, 0.03*want)
	}
}
