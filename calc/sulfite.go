package calc

import "math"

// sulfitePKa is the first pKa of sulfurous acid that tables for cellars use. It
// reproduces the 1982 table of the University of California Cooperative Extension
// at every tenth of pH. 1.77 is in print too and asks for 9 % more free SO2; with
// no table behind it that was read, it is left to laboratories.
const sulfitePKa = 1.81

// Where that table and its formula hold. Below pH 2.8 hardly any SO2 is needed;
// above 3.8 so much that heat, cold or filtration is the better answer.
const (
	minSulfitePH PH = 2.8
	maxSulfitePH PH = 4.2
)

// Molecular SO2 to aim at. With asthma, some people react to sulfite, some of them
// severely; every dose belongs on the label, and local rules come first.
const (
	// MolecularSO2White is for white and sweet drinks, and beside sorbate (the 1982
	// table).
	MolecularSO2White MilligramPerLitre = 0.8

	// MolecularSO2Red is for reds, where colour binds some of what a test calls
	// free (the same table).
	MolecularSO2Red MilligramPerLitre = 0.5

	// MolecularSO2Dessert is as far as makers of dessert wine go (from memory).
	MolecularSO2Dessert MilligramPerLitre = 1.5

	// MolecularSO2Smelt is about where it can be smelt (a society's table).
	MolecularSO2Smelt MilligramPerLitre = 2.0
)

// SulfiteStatement is the total SO2 from which a label has to say that the drink
// contains sulfites: above it in the EU (1169/2011 annex II), at it and above in
// the US (27 CFR 4.32(e), from memory). Yeast alone can make more.
const SulfiteStatement MilligramPerLitre = 10

// How much of a first addition is still free afterwards: the rest binds to sugar,
// colour and aldehyde. Common practice, without a source: measure.
const (
	FirstSulfiteFreeLow  = 0.5
	FirstSulfiteFreeHigh = 2.0 / 3
)

// SulfiteTablet is the usual mass of the tablets sold for small vessels, mostly
// metabisulfite; they run to 0.55 g, with 0.25 to 0.30 g of SO2 (common practice,
// without a source). Weigh or read the packet.
const SulfiteTablet Gram = 0.44

// What a person can mean by an amount of SO2, and of its molecular part.
const (
	maxSO2          MilligramPerLitre = 2000
	maxMolecularSO2 MilligramPerLitre = 5
)

// MolecularSO2 returns the part of the free SO2 that is molecular, the part that
// works against yeast and bacteria,
//
//	molecular = free / (1 + 10^(pH − 1.81))
//
// free from 0 to 2000 mg/L, ph from 2.8 to 4.2; otherwise the error wraps
// [ErrOutOfRange] or [ErrNotANumber].
//
// Alone it does not keep live yeast from sugar; see [Stabilised]. Source: the
// dissociation of sulfurous acid, pKa 1.81. 32 mg/L at pH 3.4 hold 0.80.
func MolecularSO2(free MilligramPerLitre, ph PH) (MilligramPerLitre, error) {
	if err := inRangeSulfite("free SO2", free, maxSO2, ph); err != nil {
		return 0, err
	}
	return free * molecularShare(ph, sulfitePKa), nil
}

// FreeSO2For returns the free SO2 in which so much is molecular, the inverse of
// [MolecularSO2]:
//
//	free = molecular · (1 + 10^(pH − 1.81))
//
// molecular from 0 to 5 mg/L, ph from 2.8 to 4.2; otherwise the error wraps
// [ErrOutOfRange] or [ErrNotANumber].
//
// Source: as there; within 1 mg/L of the table of 1982 at every tenth of pH. For
// 0.8 at pH 3.5 it is 40 mg/L.
func FreeSO2For(molecular MilligramPerLitre, ph PH) (MilligramPerLitre, error) {
	if err := inRangeSulfite("molecular SO2", molecular, maxMolecularSO2, ph); err != nil {
		return 0, err
	}
	return molecular / molecularShare(ph, sulfitePKa), nil
}

func molecularShare(ph PH, pk float64) MilligramPerLitre {
	return MilligramPerLitre(1 / (1 + math.Pow(10, float64(ph)-pk)))
}

func inRangeSulfite(what string, c, most MilligramPerLitre, ph PH) error {
	if err := inRange(what, float64(c), 0, float64(most), " mg/L"); err != nil {
		return err
	}
	return inRange("pH", float64(ph), float64(minSulfitePH), float64(maxSulfitePH), "")
}

// SulfiteLimit is a row of the handbook: the SO2, free and bound together, that a
// rule lets a seller put into a drink. At home it is a good limit.
type SulfiteLimit struct {
	Listed
	Place string            // whose rule: EU, US
	Total MilligramPerLitre // the most there may be

	// SugarFrom and SugarBelow are the sugar that the rule is for, the first
	// included; SugarBelow of 0 is no upper end.
	SugarFrom, SugarBelow GramPerLitre
}

// For reports whether the rule is for a drink with so much sugar.
func (l SulfiteLimit) For(sugar GramPerLitre) bool {
	return sugar >= l.SugarFrom && (l.SugarBelow == 0 || sugar < l.SugarBelow)
}
