package calc

// Molar masses in g/mol, as in the stabilising notes (computed from atomic weights).
const (
	molarMassSO2                    = 64.066
	molarMassPotassiumMetabisulfite = 222.33
	molarMassSodiumMetabisulfite    = 190.11
)

// Sulfite is a salt that gives off SO2 in a sour drink.
type Sulfite struct {
	SO2 float64 // grams of SO2 from one gram
}

// PotassiumMetabisulfite is fresh K2S2O5: 57.63 % SO2 in theory, two of its moles
// from one of the salt. Handbooks round it to 57 or 58, and to 50 for stock that
// has stood open.
func PotassiumMetabisulfite() Sulfite {
	return Sulfite{SO2: 2 * molarMassSO2 / molarMassPotassiumMetabisulfite}
}

// SodiumMetabisulfite is fresh Na2S2O5: 67.4 % SO2 in theory.
func SodiumMetabisulfite() Sulfite {
	return Sulfite{SO2: 2 * molarMassSO2 / molarMassSodiumMetabisulfite}
}

// SulfiteDose is what to add to reach a free SO2.
type SulfiteDose struct {
	Add  MilligramPerLitre // as SO2; 0 when there is enough
	Mass Gram              // of the salt, in the whole vessel
}

// Dose returns what brings v litres from the free SO2 they have to what is wanted:
//
//	mass = (wanted − free) · v / (1000 · SO2)
//
// As much of the addition as [FirstSulfiteFreeLow] tells will bind, so the first
// one falls short, and free SO2 keeps falling in storage: measure before the next.
// With more than is wanted there already, the dose is 0.
//
// wanted and free from 0 to 2000 mg/L, v from 0 to a million litres, the salt from 1
// to 100 % SO2; otherwise the error wraps [ErrOutOfRange] or [ErrNotANumber].
//
// Source: the moles of SO2 in the salt. 50 mg/L in a US gallon take 0.328 g of
// potassium metabisulfite; a table of Colorado State University has 0.320.
func (s Sulfite) Dose(wanted, free MilligramPerLitre, v Litre) (SulfiteDose, error) {
	if err := inRange("SO2 in the salt", 100*s.SO2, 1, 100, " %"); err != nil {
		return SulfiteDose{}, err
	}
	if err := inRange("free SO2 wanted", float64(wanted), 0, float64(maxSO2), " mg/L"); err != nil {
		return SulfiteDose{}, err
	}
	if err := inRange("free SO2", float64(free), 0, float64(maxSO2), " mg/L"); err != nil {
		return SulfiteDose{}, err
	}
	if err := inRangeDosed(v); err != nil {
		return SulfiteDose{}, err
	}
	add := max(0, wanted-free)
	return SulfiteDose{Add: add, Mass: add.In(v) / Gram(s.SO2)}, nil
}

// maxDosedLitres bounds a volume that a person can mean to dose: a thousand tonnes.
const maxDosedLitres = 1e6

func inRangeDosed(v Litre) error {
	return inRange("volume", float64(v), 0, maxDosedLitres, " L")
}
