package calc

import "fmt"

// Grams of an acid that neutralise one equivalent of alkali: its molar mass over its
// acid groups, computed from IUPAC atomic weights. Acidity is told in the first.
const (
	TartaricEquivalent = 150.087 / 2
	MalicEquivalent    = molarMassMalic / 2
	CitricEquivalent   = 192.124 / 3 // without crystal water
)

// AcidKind is a row of the handbook: an acid to reckon acidity in, or to add.
type AcidKind struct {
	Listed
	MolarMass float64 // g/mol, crystal water included
	Groups    int     // acid groups that a titration counts
	Purity    float64 // grams of what MolarMass is of, in a gram as sold
	PKs       PKs     // of the groups; none where what it does to the pH is not told
	Addable   bool    // sold for adding to a drink; others only express a titration
}

// Equivalent returns the grams that neutralise one equivalent of alkali.
func (a AcidKind) Equivalent() float64 { return a.MolarMass / float64(a.Groups) }

// MolesPerGram returns the moles of the acid in a gram as sold.
func (a AcidKind) MolesPerGram() float64 { return a.Purity / a.MolarMass }

// Express returns grams of this acid per litre with the titratable acidity ta: times
// its equivalent weight, over that of tartaric acid.
//
// ta from 0 to 100 g/L; otherwise the error wraps [ErrOutOfRange] or
// [ErrNotANumber]. It is exact, but the end points of titrations differ: to pH 8.2
// reads 0.1 to 0.3 g/L more than to pH 7 (from memory).
//
// Source: equivalent weights. 1 g/L is 0.893 as malic and 0.653 as sulfuric acid.
func (a AcidKind) Express(ta Acidity) (GramPerLitre, error) {
	if err := a.check(); err != nil {
		return 0, err
	}
	if err := inRangeAcidity("acidity", ta); err != nil {
		return 0, err
	}
	return GramPerLitre(float64(ta) * a.Equivalent() / TartaricEquivalent), nil
}

// Acidity returns the titratable acidity of c grams of this acid per litre, the
// inverse of [AcidKind.Express]. French tables print sulfuric acid: 1 g/L of it is 1.53.
//
// c from 0 to 100 g/L; otherwise the error wraps [ErrOutOfRange] or [ErrNotANumber].
func (a AcidKind) Acidity(c GramPerLitre) (Acidity, error) {
	if err := a.check(); err != nil {
		return 0, err
	}
	if err := inRangeAcidity("acidity", Acidity(c)); err != nil {
		return 0, err
	}
	return Acidity(float64(c) * TartaricEquivalent / a.Equivalent()), nil
}

// Raise returns how much of the acid, as sold, brings v litres from one titratable
// acidity to a higher one. With from = to it is 0.
//
// Add half, stir and measure: 1 g/L of tartaric acid lowers the pH of a grape must by
// 0.05 to 0.2, that of a honey must, which hardly buffers, by 0.3 to 0.5 (common
// practice).
//
// from and to from 0 to 100 g/L, v from 0 to a million litres; otherwise the error
// wraps [ErrOutOfRange] or [ErrNotANumber]. A to below from takes a [Carbonate], and
// the error wraps [ErrUnreachable].
//
// Source: equivalent weights. 19 L from 5.0 to 6.5 take 28.5 g of tartaric acid; a rise
// by 1 g/L takes 0.853 g/L of citric acid and 1.36 of lactic acid of 88 %.
func (a AcidKind) Raise(v Litre, from, to Acidity) (Gram, error) {
	if err := a.check(); err != nil {
		return 0, err
	}
	if err := inRangeAcidChange(v, from, to); err != nil {
		return 0, err
	}
	if to < from {
		return 0, fmt.Errorf("acid cannot lower acidity from %.4g to %.4g g/L: %w", float64(from), float64(to), ErrUnreachable)
	}
	return Gram(float64(to-from) * a.Equivalent() / TartaricEquivalent / a.Purity * float64(v)), nil
}

func (a AcidKind) check() error {
	if err := inRange("molar mass", a.MolarMass, 1, 1000, " g/mol"); err != nil {
		return err
	}
	if err := inRange("acid groups", float64(a.Groups), 1, 6, ""); err != nil {
		return err
	}
	return inRange("purity", 100*a.Purity, 1, 100, " %")
}

// TitratableAcidity returns the acidity that a titration with sodium hydroxide found:
//
//	TA = 75.04 · mL · normality / mL of sample
//
// alkali from 0 to 1000 mL, normality from 0 to 10, sample from 0.1 to 1000 mL;
// otherwise the error wraps [ErrOutOfRange] or [ErrNotANumber], as it does when what
// comes out is above 100 g/L.
//
// Source: the equivalent weight of tartaric acid. 6.7 mL of 0.1 normal alkali for 10 mL
// are 5.03 g/L.
func TitratableAcidity(alkaliML, normality, sampleML float64) (Acidity, error) {
	if err := inRange("alkali", alkaliML, 0, 1000, " mL"); err != nil {
		return 0, err
	}
	if err := inRange("normality", normality, 0, 10, ""); err != nil {
		return 0, err
	}
	if err := inRange("sample", sampleML, 0.1, 1000, " mL"); err != nil {
		return 0, err
	}
	ta := Acidity(TartaricEquivalent * alkaliML * normality / sampleML)
	if err := inRangeAcidity("acidity", ta); err != nil {
		return 0, err
	}
	return ta, nil
}

// maxAcidity is well above lemon juice.
const maxAcidity Acidity = 100

func inRangeAcidity(what string, ta Acidity) error {
	return inRange(what, float64(ta), 0, float64(maxAcidity), " g/L")
}

func inRangeAcidChange(v Litre, from, to Acidity) error {
	if err := inRangeDosed(v); err != nil {
		return err
	}
	if err := inRangeAcidity("acidity now", from); err != nil {
		return err
	}
	return inRangeAcidity("acidity wanted", to)
}
