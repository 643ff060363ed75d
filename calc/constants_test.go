package calc

import (
	"math"
	"testing"
)

// Ensure that constants which only scale or share something out are those of their
// source, to the digit. Where a formula hangs on a constant, a published table
// checks it elsewhere.
func TestConstants(t *testing.T) {
	for name, c := range map[string]struct{ got, want float64 }{
		// Kinetics notes, section 3, table of the recommended model.
		"Monod constant of glucose":       {uptakeKGlucose, 10.3},
		"Monod constant of fructose":      {uptakeKFructose, 19.6},
		"maltose against hexose":          {uptakeRMaltose, 0.8},
		"maltotriose against hexose":      {uptakeRMaltotriose, 0.4},
		"Monod constant of maltose":       {uptakeKMaltose, 1.7},
		"Monod constant of maltotriose":   {uptakeKMaltotriose, 5.0},
		"repression by free hexose":       {uptakeKRepression, 4.0},
		"Monod constant of the invertase": {inversionKSucrose, 9.0},
		"ethanol at which uptake ends":    {uptakeEndsAt, 114.4396724},
		"sucrose split for each hexose":   {inversionRate, 3.56},
		// Fitted to washes of measured strength; see MustYield.
		"ethanol from hexose":  {MustYield().Ethanol, 0.475},
		"glycerol from hexose": {MustYield().Glycerol, 0.023},
		"gas from hexose":      {MustYield().CO2, 0.465}, // kinetics notes, section 5
		// Exact by definition: UK Weights and Measures Act 1985; SI brochure.
		"imperial gallon":           {LitresPerImpGallon, 4.54609},
		"zero Celsius":              {float64(Celsius(0).Kelvin()), 273.15},
		"US pint, half a quart":     {LitresPerUSQuart / 2, 0.473176473},
		"ounce, a sixteenth of one": {GramsPerOunce, 28.349523125},
		// Kinetics notes, sections 3 and 4, and choices made with them.
		"spread of the tolerance":         {float64(TypicalSpread().Tolerance), 0.12},
		"spread of the first gravity":     {float64(TypicalSpread().Gravity), 0.0015},
		"a tolerance beyond the packet":   {float64(TypicalSpread().ToleranceAbove), 1.5},
		"widening of what is drawn":       {drawWider, 1.25},
		"model error at 70 % of the drop": {discrepancy(0.7), 0.00225},
		"model error at 90 % of the drop": {discrepancy(0.9), 0.00125},
		"80 % of a normal distribution":   {eightyPercent, math.Sqrt2 * math.Erfinv(0.8)},
		"finish, share of what is left":   {finishOfLeft, 0.15},
		// Sweetener table: ranges in print, their middle as the notes have it.
		"sweetness of glucose":    {Glucose.RelativeSweetness(), 0.74},
		"sweetness of fructose":   {Fructose.RelativeSweetness(), 1.7},
		"sweetness of erythritol": {Erythritol.RelativeSweetness(), 0.65},
		// Alduchov & Eskridge 1996, the revised Magnus form; Sander 2015, from memory; OIML
		// D 28; atomic weights.
		"Magnus, kPa at 0 °C":         {magnusA, 0.61094},
		"Magnus, numerator":           {magnusB, 17.625},
		"Magnus, denominator":         {magnusC, 243.04},
		"Henry's constant of ethanol": {henryEthanol, 1.9},
		"its fall with warmth":        {henryFalls, 6400},
		"where it is given":           {henryAt, 25},
		"density of a scale's weight": {weightsDensity, 8000},
		"molar mass of water":         {molarMassOfWater, 18.0153},
		"molar mass of ethanol":       {molarMassEthanol, 46.069},
		// Kinetics notes, section 5; notes on apparent gravity, each g/L of extract.
		"gravity that goes with a gram of sugar": {float64(FallPerSugar), 4.62e-4},
		"gravity that goes with a gram of gas":   {float64(FallPerGas), 0.00099},
		"gravity that comes with a gram":         {float64(RisePerSugar), 0.000386},
		// Diagnosis notes, section 6, and the design's two to three points.
		"a hydrometer":        {float64(HydrometerPlusMinus), 0.001},
		"a reading at random": {float64(TypicalSigma), 0.0015},
		"a refractometer":     {float64(RefractometerPlusMinus), 0.0025},
	} {
		if math.Abs(c.got-c.want) > 1e-6*math.Abs(c.want) {
			t.Errorf("%s: %v, want %v", name, c.got, c.want)
		}
	}
}

// Ensure that the error bars are those of the worked values in their comments.
func TestPlusMinus_WorkedValues(t *testing.T) {
	// sqrt((1.5 % of 12)² + 2·(130·0.001)²), computed by hand.
	if got := StrengthPlusMinus(12, 0.001, 0.001); math.Abs(float64(got)-0.257294) > 1e-6 {
		t.Errorf("StrengthPlusMinus(12, two points) = %.6f, want 0.257294", float64(got))
	}
	if got := StrengthPlusMinus(12); math.Abs(float64(got)-0.18) > 1e-12 {
		t.Errorf("StrengthPlusMinus(12) = %v, want 0.18", got)
	}
	// sqrt((2 % of 240)² + 2·(0.001/4.62e-4)²), computed by hand.
	if got := SugarPlusMinus(240, 0.001, 0.001); math.Abs(float64(got)-5.692990) > 1e-5 {
		t.Errorf("SugarPlusMinus(240, two points) = %.6f, want 5.692990", float64(got))
	}
	if got := SugarPlusMinus(0, 0.001); math.Abs(float64(got)-2.164502) > 1e-6 {
		t.Errorf("SugarPlusMinus(0, a point) = %.6f, want 2.164502", float64(got))
	}
}

// Ensure that the typical solids are those printed in their sources.
func TestTypicalSolids_ArePrintedFigures(t *testing.T) {
	for name, c := range map[string]struct {
		got  Liquid
		want map[Component]float64
	}{
		"honey, White 1962": {HoneySolids(), map[Component]float64{
			Sucrose: 1.31, Glucose: 31.28, Fructose: 38.19, Maltose: 7.31, Acid: 0.57, OtherSolids: 4.14}},
		"grape, OIV Oeno 21/2004": {GrapeSolids(), map[Component]float64{
			Glucose: 95.95, Fructose: 95.95, Acid: 8, OtherSolids: 16.3}},
		"apple, USDA SR26 09016": {AppleSolids(), map[Component]float64{
			Sucrose: 5.09, Glucose: 10.62, Fructose: 23.13, Acid: 1.6, Sorbitol: 1.7, OtherSolids: 0.86}},
		"pear, USDA SR26 09252": {PearSolids(), map[Component]float64{
			Sucrose: 0.71, Glucose: 2.6, Fructose: 6.42, Sorbitol: 2, Acid: 0.3, OtherSolids: 0.6}},
		"wort, Food Biochemistry and Food Processing ch. 33": {WortSolids(), map[Component]float64{
			Sucrose: 4.2, Glucose: 10.3, Fructose: 1.5, Maltose: 60.4, Maltotriose: 17.7, Dextrin: 34, OtherSolids: 12.7}},
	} {
		for _, part := range Components() {
			if got := float64(c.got.Of(part)); math.Abs(got-c.want[part]) > 1e-9 {
				t.Errorf("%s: %s %v, want %v", name, part, got, c.want[part])
			}
		}
	}
}

// Ensure that ranges end where they are documented to.
func TestRanges_EndWhereTheySay(t *testing.T) {
	for _, c := range []struct {
		sg SG
		ok bool
	}{{0.95, false}, {0.9499, false}, {1, true}, {1.4484, true}, {1.4501, false}, {1.45, false}} {
		// 0.95 is in range as a number, but below water without alcohol.
		if _, err := LiquidOf(1, c.sg, 0, SugarSolids()); (err == nil) != c.ok {
			t.Errorf("LiquidOf(1, %v, 0): %v, want accepted %v", c.sg, err, c.ok)
		}
	}
	if _, err := LiquidOf(1, 0.9501, 30, SugarSolids()); err == nil {
		t.Error("a gravity below that of its own alcohol was accepted")
	}
	dry, err := NewLiquid(map[Component]Gram{Water: 15, Sucrose: 85})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := dry.Volume(); err != nil {
		t.Errorf("85 %% dissolved by mass: %v, want a volume", err)
	}
	drier, err := NewLiquid(map[Component]Gram{Water: 14.99, Sucrose: 85.01})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := drier.Volume(); err == nil {
		t.Error("85.01 % dissolved by mass has a volume, want an error")
	}
}

// Ensure that the nodes between which the quick curve runs are Chebyshev's.
func TestQuickCurve_Nodes(t *testing.T) {
	q := newQuickCurve(func(x float64) float64 { return x }, -1, 1)
	for i, degrees := range [...]float64{162, 126, 90, 54, 18} {
		if want := math.Cos(degrees * math.Pi / 180); math.Abs(q.x[i]-want) > 1e-8 {
			t.Errorf("node %d at %v, want %v", i, q.x[i], want)
		}
	}
}

// Ensure that the recommended model's parameters are those of the table in the
// kinetics notes, section 3; the check tables pin the rest.
func TestUptakeConstants(t *testing.T) {
	p := TypicalUptake(20, 140, 14)
	y := uptakeVector{}
	cool, warm := TypicalUptake(10, 140, 14), TypicalUptake(30, 140, 14)
	tenDegrees := newUptakeRates(&warm, &y, 0, 0.14, 0).invertase / newUptakeRates(&cool, &y, 0, 0.14, 0).invertase
	for name, c := range map[string]struct{ got, want float64 }{
		"pitch of unknown size":        {float64(p.Pitch), 0.25},
		"share of the published death": {p.DeathShare, 0.25},
		"half growth on nitrogen":      {float64(p.KNitrogen), 0.00883},
		"a yeast that loves fructose":  {float64(p.FructoseLoving().KFructose) / float64(p.KGlucose), 1.15},
		"ethanol from hexose, theory":  {maxEthanolYield, 0.511435},
		"growth gives way to heat at":  {uptakeHotFrom, 32},
		"growth ends at":               {uptakeHotTo, 45.4},
		"yeast held from 0.277 g/L on": {yeastPerNitrogen(0.4) / yeastPerNitrogen(0.277), 1},
		"and not before":               {yeastPerNitrogen(0.2768) / yeastPerNitrogen(0.277), math.Exp(3.61 * 0.0002)},
		"nor after":                    {yeastPerNitrogen(0.2774) / yeastPerNitrogen(0.277), 1},
		"invertase, twenty degrees":    {tenDegrees, math.Exp(0.0771 * 20)},
	} {
		if math.Abs(c.got-c.want) > 1e-6*math.Abs(c.want) {
			t.Errorf("%s: %v, want %v", name, c.got, c.want)
		}
	}
}
