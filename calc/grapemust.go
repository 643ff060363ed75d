package calc

// Where the table of grape musts begins and ends.
const (
	minMustBrix = 10
	maxMustBrix = 30
)

// The table of grape musts as polynomials in x = (Brix − 20)/10: density in kg/m³ and
// sugar in g/L. A fit to its rows, within half a unit of the last digit of the sugar
// (0.1 g/L) and 0.00007 kg/L of the density, printed to 0.0001.
var (
	mustDensityTerms = [3]float64{1081.7559, 44.857937, 2.1395576}
	mustSugarTerms   = [3]float64{191.88816, 113.36380, 3.6473946}
)

// GrapeMust is what the law reads from a refractometer in grape must.
type GrapeMust struct {
	Density   KilogramPerCubicMetre // at 20 °C
	Sugar     GramPerLitre          // glucose and fructose together
	Potential PercentVol            // at 16.83 g/L of sugar for 1 % vol
}

// GrapeMustOf returns density, sugar and potential strength of a grape must whose
// refractometer reading at 20 °C is b.
//
// It is for grapes: 2 to 3 % of a grape must are acids and salts, so it holds 24 g/L
// less sugar than a sucrose solution of that Brix. Other fruit has more of them, and
// honey fewer.
//
// b from 10 to 30 Brix; otherwise the error wraps [ErrOutOfRange] or
// [ErrNotANumber]. Source: OIV Oeno 21/2004, table II, in the French order of 14
// September 2011, annex IV. 20 Brix are 1.0818 kg/L, 191.9 g/L and 11.40 % vol.
func GrapeMustOf(b Brix) (GrapeMust, error) {
	if err := inRange("refractometer reading of grape must", float64(b), minMustBrix, maxMustBrix, " Brix"); err != nil {
		return GrapeMust{}, err
	}
	x := float64(b-20) / 10
	sugar := GramPerLitre(horner(mustSugarTerms[:], x))
	return GrapeMust{
		Density:   KilogramPerCubicMetre(horner(mustDensityTerms[:], x)),
		Sugar:     sugar,
		Potential: PercentVol(sugar / SugarPerPercentVol),
	}, nil
}
