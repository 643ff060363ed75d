package data

import (
	"fmt"
	"testing"

	"cellar.local/glassrow/calc"
)

func acid(t *testing.T, name string) calc.AcidKind {
	t.Helper()
	all, err := Acids()
	if err != nil {
		t.Fatal(err)
	}
	a, found := calc.Find(all, name)
	if !found {
		t.Fatalf("no acid goes by %q", name)
	}
	return a
}

// Ensure that the acids turn into one another as printed.
func TestAcids(t *testing.T) {
	t.Run("have the printed equivalents", func(t *testing.T) {
		// Acid notes, section 1, computed from equivalent weights and printed to 0.001:
		// an acidity told as the row acid, times the cell, is told as the column acid.
		names := []string{"tartaric", "malic", "citric", "sulfuric", "lactic", "acetic"}
		for i, row := range [][]float64{
			{1.000, 0.893, 0.853, 0.653, 1.200, 0.800},
			{1.119, 1.000, 0.955, 0.731, 1.344, 0.896},
			{1.172, 1.047, 1.000, 0.766, 1.407, 0.938},
			{1.530, 1.367, 1.306, 1.000, 1.837, 1.225},
			{0.833, 0.744, 0.711, 0.544, 1.000, 0.667},
			{1.250, 1.116, 1.066, 0.817, 1.500, 1.000},
		} {
			for j, want := range row {
				ta, err := acid(t, names[i]).Acidity(1)
				if err != nil {
					t.Fatal(err)
				}
				got, err := acid(t, names[j]).Express(ta)
				if err != nil {
					t.Fatal(err)
				}
				wantNear(t, names[i]+" as "+names[j], float64(got), want, 0.00051)
			}
		}
	})

	t.Run("have the printed milliequivalents", func(t *testing.T) {
		// As there, meq/L per g/L, to 0.01.
		for name, want := range map[string]float64{
			"tartaric": 13.33, "malic": 14.92, "citric": 15.61, "sulfuric": 20.39, "lactic": 11.10, "acetic": 16.65,
		} {
			wantNear(t, "meq per gram of "+name, 1000/acid(t, name).Equivalent(), want, 0.0056)
		}
	})

	t.Run("have the molar masses of their formulas", func(t *testing.T) {
		for name, c := range map[string]struct {
			formula string
			groups  int
		}{
			"tartaric": {"C4 H6 O6", 2}, "malic": {"C4 H6 O5", 2}, "citric": {"C6 H8 O7", 3}, "citric monohydrate": {"C6 H10 O8", 3},
			"lactic": {"C3 H6 O3", 1}, "acetic": {"C2 H4 O2", 1}, "sulfuric": {"H2 S O4", 2},
		} {
			a := acid(t, name)
			wantNear(t, name, a.MolarMass, molarMass(t, c.formula), 0.006)
			if a.Groups != c.groups {
				t.Errorf("%s has %d acid groups, want %d", name, a.Groups, c.groups)
			}
		}
	})

	t.Run("are as strong as sold", func(t *testing.T) {
		// Acid notes, sections 1 and 2: citric acid monohydrate is 0.914 of anhydrous by
		// weight; lactic acid comes at 88 %.
		wantNear(t, "anhydrous in the monohydrate", acid(t, "citric").MolarMass/acid(t, "citric monohydrate").MolarMass, 0.914, 0.00051)
		for name, want := range map[string]float64{
			"tartaric": 1, "malic": 1, "citric": 1, "citric monohydrate": 1, "lactic": 0.88, "acetic": 1, "sulfuric": 1,
		} {
			wantNear(t, "purity of "+name, acid(t, name).Purity, want, 1e-12)
		}
	})

	t.Run("give up their protons as the balance has it", func(t *testing.T) {
		// Acid notes, section 2, from memory: the table and calc say the same.
		for name, want := range map[string]calc.PKs{
			"tartaric": calc.TartaricPKs(), "malic": calc.MalicPKs(), "citric": calc.CitricPKs(), "citric monohydrate": calc.CitricPKs(),
			"lactic": {3.86}, "acetic": {4.76}, "sulfuric": {},
		} {
			if got := acid(t, name).PKs; got != want {
				t.Errorf("pK of %s are %v, want %v", name, got, want)
			}
		}
	})

	t.Run("blend as its three acids", func(t *testing.T) {
		// 5 parts of malic, 4 of citric, 1 of tartaric, by the balance of each: within 0.02
		// of the pH that the one acid of the row gives to a must.
		must := calc.AcidBalance{}.Plus(calc.MalicPKs(), 0.05).At(3.8)
		part := func(b calc.AcidBalance, name string, grams float64) calc.AcidBalance {
			a := acid(t, name)
			return b.Plus(a.PKs, grams*a.MolesPerGram())
		}
		for _, grams := range []float64{1, 3, 6} {
			apart := part(part(part(must, "malic", 0.5*grams), "citric", 0.4*grams), "tartaric", 0.1*grams)
			wantNear(t, "pH of the blend", float64(part(must, "acid blend", grams).PH()), float64(apart.PH()), 0.02)
			wantNear(t, "acidity of the blend", float64(part(must, "acid blend", grams).Acidity()), float64(apart.Acidity()), 0.03*grams)
		}
	})

	t.Run("offer nothing that is not sold for drinks", func(t *testing.T) {
		for name, want := range map[string]bool{
			"tartaric": true, "malic": true, "citric": true, "citric monohydrate": true, "lactic": true, "acetic": false, "sulphuric": false,
		} {
			if got := acid(t, name).Addable; got != want {
				t.Errorf("%s: addable %v, want %v", name, got, want)
			}
		}
	})
}

// Ensure that what takes acid away is as printed.
func TestCarbonates(t *testing.T) {
	all, err := Carbonates()
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		formula     string
		equivalents int
		salt        calc.TartrateSalt
		low, high   float64 // acid notes, section 3: from memory and common practice
		notes       float64 // as there, neutralisation, computed
	}{
		"chalk":               {"Ca C O3", 2, calc.CalciumTartrate, 0.67, 0.67, 0.667},
		"potassium-carbonate": {"K2 C O3", 2, calc.Bitartrate, 0.62, 0.62, 0.921},
		"KHCO3":               {"K H C O3", 1, calc.Bitartrate, 0.9, 1.0, 1.334},
	} {
		got, found := calc.Find(all, name)
		if !found {
			t.Errorf("no carbonate goes by %q", name)
			continue
		}
		wantNear(t, "molar mass of "+name, got.MolarMass, molarMass(t, c.formula), 0.006)
		wantNear(t, "practice, low, of "+name, got.PracticeLow, c.low, 0)
		wantNear(t, "practice, high, of "+name, got.PracticeHigh, c.high, 0)
		if got.Salt != c.salt || got.Equivalents != c.equivalents {
			t.Errorf("%s: %+v", name, got)
		}
		less, err := got.Lower(1, 8, 7)
		if err != nil {
			t.Error(err)
		}
		wantNear(t, fmt.Sprintf("%s for 1 g/L", name), float64(less.Neutralising), c.notes, 0.00051)
	}
	if len(all) != 3 {
		t.Errorf("%d carbonates, want 3", len(all))
	}
}
