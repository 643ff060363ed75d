package calc

import "fmt"

// TartrateSalt is what falls out after a carbonate and takes more tartaric acid along.
type TartrateSalt string

const (
	// CalciumTartrate falls over weeks; the drop by neutralisation is all there is,
	// and is complete only then.
	CalciumTartrate TartrateSalt = "calcium tartrate"

	// Bitartrate falls in the cold: each mole takes a second acid group with it, so
	// the acidity drops further than neutralisation alone.
	Bitartrate TartrateSalt = "potassium bitartrate"
)

// Carbonate is a row of the handbook: something to take acid away with.
type Carbonate struct {
	Listed
	MolarMass   float64 // g/mol
	Equivalents int     // of acid that a mole neutralises: 2 for a carbonate, 1 for a bicarbonate
	Salt        TartrateSalt

	// PracticeLow and PracticeHigh are the grams per litre, as met in practice, for
	// 1 g/L less acidity once the salt has fallen.
	PracticeLow, PracticeHigh float64
}

// AlkaliPerGram returns the moles of acid groups that a gram neutralises.
func (c Carbonate) AlkaliPerGram() float64 { return float64(c.Equivalents) / c.MolarMass }

// Usual bounds of taking acid away (common practice). Carbonates take tartaric and
// hardly any malic acid: of an apple or plum must they cannot take more than they
// neutralise, and there a malolactic fermentation does better.
const (
	// UsualDrop is as far as carbonates are taken.
	UsualDrop Acidity = 3

	// DeacidifiedPH is the pH to stay under.
	DeacidifiedPH PH = 3.8
)

// Deacidification is what lowers the acidity of a vessel, by how far one waits.
type Deacidification struct {
	Drop Acidity

	// Neutralising does it at once, before any salt falls: the figure that a
	// titration on the next day confirms. Once the salt has fallen it has done more.
	Neutralising Gram

	// SettledLow to SettledHigh do it once the salt has fallen, as met in practice.
	// Dose by the low end, wait, and measure.
	SettledLow, SettledHigh Gram

	// SettledLeast would do it if every mole took all the salt that it can.
	SettledLeast Gram

	CO2    Gram // gas from Neutralising, a mole from each of the carbonate: it foams
	Salt   TartrateSalt
	TooFar bool // more than UsualDrop
}

// Lower returns how much of the carbonate brings v litres from one titratable acidity
// to a lower one. With M its molar mass and n the equivalents,
//
//	neutralising = (from − to) · v · M / (n · 75.04)
//
// and half of that at the least where bitartrate falls too.
//
// from and to from 0 to 100 g/L, v from 0 to a million litres; otherwise the error
// wraps [ErrOutOfRange] or [ErrNotANumber]. A to above from takes an [AcidKind], and the
// error wraps [ErrUnreachable].
//
// Source: Handbook of Enology vol. 2: 1 g/L of potassium bicarbonate lowers the acidity
// by 0.49 g/L as sulfuric acid, 1 g/L of calcium carbonate by 0.98. For 1 g/L less as
// tartaric it takes 0.667 g/L of calcium carbonate or 1.334 of bicarbonate at once, of
// which 0.9 to 1.0 are enough once the bitartrate has fallen (from memory).
func (c Carbonate) Lower(v Litre, from, to Acidity) (Deacidification, error) {
	if err := c.check(); err != nil {
		return Deacidification{}, err
	}
	if err := inRangeAcidChange(v, from, to); err != nil {
		return Deacidification{}, err
	}
	if to > from {
		return Deacidification{}, fmt.Errorf("carbonate cannot raise acidity from %.4g to %.4g g/L: %w",
			float64(from), float64(to), ErrUnreachable)
	}
	drop := from - to
	tartaric := float64(drop) * float64(v) // grams in the whole vessel
	neutralising := tartaric * c.MolarMass / float64(c.Equivalents) / TartaricEquivalent
	least := neutralising
	if c.Salt == Bitartrate {
		least /= 2
	}
	return Deacidification{
		Drop:         drop,
		Neutralising: Gram(neutralising),
		SettledLow:   Gram(tartaric * c.PracticeLow),
		SettledHigh:  Gram(tartaric * c.PracticeHigh),
		SettledLeast: Gram(least),
		CO2:          Gram(neutralising * molarMassCO2 / c.MolarMass),
		Salt:         c.Salt,
		TooFar:       drop > UsualDrop,
	}, nil
}

func (c Carbonate) check() error {
	if err := inRange("molar mass", c.MolarMass, 1, 1000, " g/mol"); err != nil {
		return err
	}
	if err := inRange("equivalents", float64(c.Equivalents), 1, 2, ""); err != nil {
		return err
	}
	if err := inRange("grams in practice", c.PracticeLow, 0, 10, ""); err != nil {
		return err
	}
	return inRange("grams in practice", c.PracticeHigh, c.PracticeLow, 10, "")
}

// Molar masses in g/mol, computed from IUPAC atomic weights.
const (
	molarMassMalic  = 134.087
	molarMassLactic = 90.078
)

// Malolactic is what lactic bacteria make of malic acid.
type Malolactic struct {
	Lactic GramPerLitre
	CO2    GramPerLitre
	Drop   Acidity
}

// MalolacticOf returns what is left when c grams of malic acid per litre become lactic
// acid: of each mole, one acid group and one of CO2 are gone.
//
// c from 0 to 100 g/L; otherwise the error wraps [ErrOutOfRange] or [ErrNotANumber].
// Source: molar masses. 1 g/L gives 0.672 g/L of lactic acid and 0.328 of CO2, and
// 0.560 g/L less acidity; pH rises by 0.1 to 0.3 (from memory).
func MalolacticOf(malic GramPerLitre) (Malolactic, error) {
	if err := inRangeAcidity("malic acid", Acidity(malic)); err != nil {
		return Malolactic{}, err
	}
	return Malolactic{
		Lactic: malic * molarMassLactic / molarMassMalic,
		CO2:    malic * molarMassCO2 / molarMassMalic,
		Drop:   Acidity(malic) * TartaricEquivalent / molarMassMalic,
	}, nil
}
