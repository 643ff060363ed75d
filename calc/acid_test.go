package calc

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The acids as the handbook has them; that it does is tested there, with the whole
// table of equivalents.
var (
	tartaricAcid = AcidKind{MolarMass: 150.087, Groups: 2, Purity: 1, Addable: true}
	malicAcid    = AcidKind{MolarMass: 134.087, Groups: 2, Purity: 1, Addable: true}
	citricAcid   = AcidKind{MolarMass: 192.124, Groups: 3, Purity: 1, Addable: true}
	lacticAcid   = AcidKind{MolarMass: 90.078, Groups: 1, Purity: 0.88, Addable: true}
	sulfuricAcid = AcidKind{MolarMass: 98.08, Groups: 2, Purity: 1}
)

// Ensure that an acidity in one acid is the printed one in another.
func TestAcidKind_Express(t *testing.T) {
	t.Run("is the printed row of tartaric acid", func(t *testing.T) {
		// Acid notes, section 1, computed from equivalent weights; to 0.001.
		for _, c := range []struct {
			name string
			acid AcidKind
			want float64
		}{{"tartaric", tartaricAcid, 1}, {"malic", malicAcid, 0.893}, {"citric", citricAcid, 0.853},
			{"sulfuric", sulfuricAcid, 0.653}, {"lactic", lacticAcid, 1.200}} {
			got, err := c.acid.Express(1)
			wantNoError(t, err)
			wantNear(t, "Express as "+c.name, 1, float64(got), c.want, 0.00051)
		}
	})

	t.Run("tells French tables", func(t *testing.T) {
		got, err := sulfuricAcid.Acidity(1)
		wantNoError(t, err)
		wantNear(t, "Acidity of sulfuric", 1, float64(got), 1.53, 0.0051)
	})

	t.Run("rests on the equivalent weight of tartaric acid", func(t *testing.T) {
		// C4H6O6 by the atomic weights of IUPAC.
		wantNear(t, "TartaricEquivalent", "", TartaricEquivalent, (4*12.011+6*1.008+6*15.999)/2, 0.001)
		wantNear(t, "MalicEquivalent", "", MalicEquivalent, (4*12.011+6*1.008+5*15.999)/2, 0.001)
		wantNear(t, "CitricEquivalent", "", CitricEquivalent, (6*12.011+8*1.008+7*15.999)/3, 0.001)
	})

	t.Run("does not ask how strong the bottle is", func(t *testing.T) {
		weak := lacticAcid
		weak.Purity = 0.5
		a, err1 := weak.Express(7)
		b, err2 := lacticAcid.Express(7)
		if err1 != nil || err2 != nil || a != b {
			t.Errorf("Express(7) = %v and %v (%v, %v)", a, b, err1, err2)
		}
	})

	t.Run("is undone by Acidity", rapid.MakeCheck(func(t *rapid.T) {
		a := drawAcid(t)
		ta := Acidity(rapid.Float64Range(0, 20).Draw(t, "ta"))
		c, err := a.Express(ta)
		if err != nil {
			t.Fatal(err)
		}
		back, err := a.Acidity(c)
		if err != nil || math.Abs(float64(back-ta)) > 1e-12 {
			t.Fatalf("%v g/L is %v in %+v, and back %v, %v", ta, c, a, back, err)
		}
	}))

	t.Run("refuses what is no acid or no drink", func(t *testing.T) {
		checkRange(t, 0, 100, 1e-6, func(x float64) error {
			_, err := malicAcid.Express(Acidity(x))
			return err
		})
		checkRange(t, 0, 100, 1e-6, func(x float64) error {
			_, err := malicAcid.Acidity(GramPerLitre(x))
			return err
		})
		checkAcidRow(t, func(a AcidKind) error {
			_, err := a.Express(5)
			return err
		})
		checkAcidRow(t, func(a AcidKind) error {
			_, err := a.Acidity(5)
			return err
		})
	})
}

// checkAcidRow fails the test unless call refuses each slip in a row of the handbook.
func checkAcidRow(t *testing.T, call func(AcidKind) error) {
	t.Helper()
	checkRange(t, 1, 1000, 1e-6, func(x float64) error { return call(AcidKind{MolarMass: x, Groups: 2, Purity: 1}) })
	checkRange(t, 0.01, 1, 1e-6, func(x float64) error { return call(AcidKind{MolarMass: 150, Groups: 2, Purity: x}) })
	for _, groups := range []int{0, -1, 7} {
		if err := call(AcidKind{MolarMass: 150, Groups: groups, Purity: 1}); !errors.Is(err, ErrOutOfRange) {
			t.Errorf("%d acid groups: error %v, want ErrOutOfRange", groups, err)
		}
	}
}

func TestAcidKind_Raise(t *testing.T) {
	t.Run("is the printed grams for 1 g/L", func(t *testing.T) {
		// Acid notes, section 2, computed: to raise by 1 g/L as tartaric.
		monohydrate := AcidKind{MolarMass: 210.14, Groups: 3, Purity: 1}
		for _, c := range []struct {
			name            string
			acid            AcidKind
			want, tolerance float64
		}{{"tartaric", tartaricAcid, 1, 1e-9}, {"malic", malicAcid, 0.893, 0.00051}, {"citric", citricAcid, 0.853, 0.00051},
			{"citric monohydrate", monohydrate, 0.933, 0.00051}, {"lactic of 88 %", lacticAcid, 1.36, 0.0051}} {
			got, err := c.acid.Raise(1, 5, 6)
			wantNoError(t, err)
			wantNear(t, "Raise with "+c.name, 1, float64(got), c.want, c.tolerance)
		}
	})

	t.Run("is that of a gallon", func(t *testing.T) {
		// 1 g/L = 3.785 g per US gallon.
		got, err := tartaricAcid.Raise(LitresPerUSGallon, 5, 6)
		wantNoError(t, err)
		wantNear(t, "Raise", "a gallon by 1", float64(got), 3.785, 0.00051)
	})

	t.Run("is the worked example", func(t *testing.T) {
		got, err := tartaricAcid.Raise(19, 5, 6.5)
		wantNoError(t, err)
		wantNear(t, "Raise", "19 L from 5.0 to 6.5", float64(got), 28.5, 1e-9)
	})

	t.Run("adds nothing where there is enough, and nothing below", func(t *testing.T) {
		if got, err := tartaricAcid.Raise(19, 6, 6); got != 0 || err != nil {
			t.Errorf("Raise(19, 6, 6) = %v, %v", got, err)
		}
		if got, err := tartaricAcid.Raise(19, 6.5, 5); got != 0 || !errors.Is(err, ErrUnreachable) {
			t.Errorf("Raise(19, 6.5, 5) = %v, %v, want ErrUnreachable", got, err)
		}
	})

	t.Run("refuses what is no acid or no drink", func(t *testing.T) {
		checkRange(t, 0, 1e6, 1e-6, func(x float64) error {
			_, err := tartaricAcid.Raise(Litre(x), 5, 6)
			return err
		})
		checkRange(t, 0, 100, 1e-6, func(x float64) error {
			_, err := tartaricAcid.Raise(19, Acidity(x), 100)
			return err
		})
		checkRange(t, 0, 100, 1e-6, func(x float64) error {
			_, err := tartaricAcid.Raise(19, 0, Acidity(x))
			return err
		})
		checkAcidRow(t, func(a AcidKind) error {
			_, err := a.Raise(19, 5, 6)
			return err
		})
	})
}

func TestTitratableAcidity(t *testing.T) {
	t.Run("is the printed rule", func(t *testing.T) {
		// TA as tartaric (g/L) = 75.04 x mL NaOH x normality / mL sample.
		for _, c := range [][3]float64{{6.7, 0.1, 10}, {10, 0.1, 15}, {5, 0.2, 5}, {0, 0.1, 10}} {
			got, err := TitratableAcidity(c[0], c[1], c[2])
			wantNoError(t, err)
			wantNear(t, "TitratableAcidity", c, float64(got), 75.04*c[0]*c[1]/c[2], 0.001)
		}
	})

	t.Run("refuses what no burette says", func(t *testing.T) {
		checkRange(t, 0, 1000, 1e-6, func(x float64) error {
			_, err := TitratableAcidity(x, 0.1, 1000)
			return err
		})
		checkRange(t, 0, 10, 1e-6, func(x float64) error {
			_, err := TitratableAcidity(1, x, 1000)
			return err
		})
		checkRange(t, 0.1, 1000, 1e-6, func(x float64) error {
			_, err := TitratableAcidity(1, 0.1, x)
			return err
		})
		if got, err := TitratableAcidity(1000, 10, 0.1); got != 0 || !errors.Is(err, ErrOutOfRange) {
			t.Errorf("TitratableAcidity(1000, 10, 0.1) = %v, %v", got, err)
		}
	})
}

func FuzzAcid(f *testing.F) {
	for _, x := range awkward {
		f.Add(x, 5.0, 6.0, 150.087, 2, 1.0)
		f.Add(19.0, x, 6.0, 150.087, 2, 1.0)
		f.Add(19.0, 5.0, x, 150.087, 2, 1.0)
		f.Add(19.0, 6.0, 5.0, x, 2, 1.0)
		f.Add(19.0, 6.0, 5.0, 100.0, 1, x)
	}
	f.Fuzz(func(t *testing.T, v, from, to, molar float64, groups int, part float64) {
		a := AcidKind{MolarMass: molar, Groups: groups, Purity: part}
		c, err := a.Express(Acidity(from))
		checkResult(t, "Express", float64(c), err)
		ta, err := a.Acidity(GramPerLitre(from))
		checkResult(t, "Acidity", float64(ta), err)
		mass, err := a.Raise(Litre(v), Acidity(from), Acidity(to))
		if !errors.Is(err, ErrUnreachable) {
			checkResult(t, "Raise", float64(mass), err)
		}
		k := Carbonate{MolarMass: molar, Equivalents: groups, PracticeLow: part, PracticeHigh: part}
		less, err := k.Lower(Litre(v), Acidity(from), Acidity(to))
		if !errors.Is(err, ErrUnreachable) {
			checkResult(t, "Lower", float64(less.Neutralising+less.SettledHigh+less.CO2), err)
		}
		ta, err = TitratableAcidity(v, part, molar)
		checkResult(t, "TitratableAcidity", float64(ta), err)
		m, err := MalolacticOf(GramPerLitre(from))
		checkResult(t, "MalolacticOf", float64(m.Drop), err)
	})
}

func drawAcid(t *rapid.T) AcidKind {
	return AcidKind{
		MolarMass: rapid.Float64Range(50, 250).Draw(t, "molar mass"), Groups: rapid.IntRange(1, 3).Draw(t, "groups"),
		Purity: rapid.Float64Range(0.1, 1).Draw(t, "purity"),
	}
}
