package data

import (
	_ "embed"
	"fmt"

	"cellar.local/glassrow/calc"
)

//go:embed handbook/acids.csv
var acidsCSV string

//go:embed handbook/carbonates.csv
var carbonatesCSV string

// Acids returns the handbook of acids, those sold for adding to a drink first. Every
// call returns its own copy. The error names the row and the column to look at.
func Acids() ([]calc.AcidKind, error) {
	all, err := parseAcids(acidsCSV)
	if err != nil {
		return nil, fmt.Errorf("handbook of acids: %w", err)
	}
	return all, nil
}

// Carbonates returns the handbook of what takes acid away. Every call returns its own
// copy. The error names the row and the column to look at.
func Carbonates() ([]calc.Carbonate, error) {
	all, err := parseCarbonates(carbonatesCSV)
	if err != nil {
		return nil, fmt.Errorf("handbook of carbonates: %w", err)
	}
	return all, nil
}

func parseAcids(text string) ([]calc.AcidKind, error) {
	columns := []string{"molar_mass_g_mol", "acid_groups", "purity_pct", "pk1", "pk2", "pk3", "addable"}
	return parseListed(text, columns, tableRow.acid)
}

func (r tableRow) acid(l calc.Listed) (calc.AcidKind, error) {
	none := calc.AcidKind{}
	molar, err := r.figure("molar_mass_g_mol", 20, 500)
	if err != nil {
		return none, err
	}
	groups, err := r.count("acid_groups", 1, 6)
	if err != nil {
		return none, err
	}
	purity, err := r.figure("purity_pct", 1, 100)
	if err != nil {
		return none, err
	}
	var pks calc.PKs
	for i, column := range []string{"pk1", "pk2", "pk3"} {
		if pks[i], err = r.number(column, 0.5, 14); err != nil {
			return none, err
		}
		if pks[i] != 0 && i > 0 && (pks[i-1] == 0 || pks[i-1] >= pks[i]) {
			return none, r.wrong(column, "the pK must rise from one group to the next, none left out")
		}
	}
	addable, err := r.word("addable", "yes", "no")
	if err != nil {
		return none, err
	}
	return calc.AcidKind{Listed: l, MolarMass: molar, Groups: groups, Purity: purity / 100, PKs: pks, Addable: addable == "yes"}, nil
}

func parseCarbonates(text string) ([]calc.Carbonate, error) {
	columns := []string{"molar_mass_g_mol", "equivalents", "salt", "practice_low_g", "practice_high_g"}
	return parseListed(text, columns, tableRow.carbonate)
}

func (r tableRow) carbonate(l calc.Listed) (calc.Carbonate, error) {
	none := calc.Carbonate{}
	molar, err := r.figure("molar_mass_g_mol", 20, 500)
	if err != nil {
		return none, err
	}
	equivalents, err := r.count("equivalents", 1, 2)
	if err != nil {
		return none, err
	}
	salt, err := r.word("salt", string(calc.CalciumTartrate), string(calc.Bitartrate))
	if err != nil {
		return none, err
	}
	low, high, err := r.between("practice_low_g", "practice_high_g", 0.1, 10)
	if err != nil {
		return none, err
	}
	return calc.Carbonate{
		Listed: l, MolarMass: molar, Equivalents: equivalents, Salt: calc.TartrateSalt(salt),
		PracticeLow: low, PracticeHigh: high,
	}, nil
}
