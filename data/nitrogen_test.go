package data

import (
	"testing"

	"cellar.local/glassrow/calc"
)

// Ensure that the sources hold the nitrogen that chemistry and the notes say.
func TestNitrogenSources(t *testing.T) {
	all, err := NitrogenSources()
	if err != nil {
		t.Fatal(err)
	}
	source := func(name string) calc.NitrogenSource {
		s, found := calc.Find(all, name)
		if !found {
			t.Fatalf("no nitrogen source goes by %q", name)
		}
		return s
	}
	dap, sulfate, mix, yeast := source("DAP"), source("ammonium sulphate"), source("complex"), source("organic nutrient")

	// Nutrient notes, section 2, computed: 21.2 % of (NH4)2HPO4 and of (NH4)2SO4 is
	// nitrogen. Atomic weights of IUPAC, a unit of the last digit.
	wantNear(t, "nitrogen of diammonium phosphate", dap.Nitrogen, 2*14.007/molarMass(t, "N2 H9 P O4")*1000, 0.06)
	wantNear(t, "nitrogen of ammonium sulfate", sulfate.Nitrogen, 2*14.007/molarMass(t, "N2 H8 S O4")*1000, 0.06)

	// From memory: 4 to 10 % of inactive yeast is nitrogen, only a part of it of use.
	wantNear(t, "nitrogen of inactive yeast", yeast.Nitrogen, 40, 0)
	wantNear(t, "nitrogen of half and half", mix.Nitrogen, (dap.Nitrogen+yeast.Nitrogen)/2, 0.06)
	wantNear(t, "nitrogen of the mix", mix.Nitrogen, 126, 0)

	// EU 606/2009: 1 g/L of ammonium salts; half of the mix is one.
	for name, c := range map[string]struct{ got, want calc.GramPerLitre }{
		"diammonium phosphate": {dap.Most, 1}, "ammonium sulfate": {sulfate.Most, 1}, "complex": {mix.Most, 2}, "inactive yeast": {yeast.Most, 0},
	} {
		wantNear(t, "most of "+name, float64(c.got), float64(c.want), 0)
	}
	if all[0].ID != dap.ID {
		t.Errorf("the first source is %q, want the usual one, diammonium phosphate", all[0].Name)
	}
}
