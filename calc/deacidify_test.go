package calc

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The carbonates as the handbook has them; that it does is tested there.
var (
	chalk       = Carbonate{MolarMass: 100.087, Equivalents: 2, Salt: CalciumTartrate, PracticeLow: 0.67, PracticeHigh: 0.67}
	bicarbonate = Carbonate{MolarMass: 100.115, Equivalents: 1, Salt: Bitartrate, PracticeLow: 0.9, PracticeHigh: 1}
	potash      = Carbonate{MolarMass: 138.205, Equivalents: 2, Salt: Bitartrate, PracticeLow: 0.62, PracticeHigh: 0.62}
)

// Ensure that what takes acid away does so as printed.
func TestCarbonate_Lower(t *testing.T) {
	t.Run("is the printed table for 1 g/L", func(t *testing.T) {
		// Acid notes, section 3: neutralisation and the best case computed, to 0.001;
		// practice from memory.
		for _, c := range []struct {
			name                                  string
			with                                  Carbonate
			neutralising, practiceLow, high, best float64
		}{
			{"calcium carbonate", chalk, 0.667, 0.67, 0.67, 0.667},
			{"potassium bicarbonate", bicarbonate, 1.334, 0.9, 1.0, 0.667},
			{"potassium carbonate", potash, 0.921, 0.62, 0.62, 0.460},
		} {
			got, err := c.with.Lower(1, 8, 7)
			wantNoError(t, err)
			wantNear(t, c.name, "neutralising", float64(got.Neutralising), c.neutralising, 0.00051)
			wantNear(t, c.name, "settled, low", float64(got.SettledLow), c.practiceLow, 1e-12)
			wantNear(t, c.name, "settled, high", float64(got.SettledHigh), c.high, 1e-12)
			wantNear(t, c.name, "settled, at the least", float64(got.SettledLeast), c.best, 0.00051)
			if c.with.Salt == Bitartrate {
				wantNear(t, c.name, "twice the least", float64(2*got.SettledLeast), float64(got.Neutralising), 1e-12)
			}
			if got.Salt != c.with.Salt || got.Drop != 1 || got.TooFar {
				t.Errorf("%s: %+v", c.name, got)
			}
		}
	})

	t.Run("agrees with the Handbook of Enology", func(t *testing.T) {
		// Vol. 2: 1 g/L KHCO3 lowers the acidity by 0.49 g/L as sulfuric acid, 1 g/L
		// CaCO3 by 0.98.
		for _, c := range []struct {
			with Carbonate
			want float64
		}{{bicarbonate, 0.49}, {chalk, 0.98}} {
			got, err := c.with.Lower(1, 8, 7)
			wantNoError(t, err)
			drop, err := sulfuricAcid.Express(Acidity(1 / float64(got.Neutralising)))
			wantNoError(t, err)
			wantNear(t, "drop as sulfuric", c.with.MolarMass, float64(drop), c.want, 0.0051)
		}
	})

	t.Run("is 0.75 g/L for each gram of bicarbonate until the cold", func(t *testing.T) {
		got, err := bicarbonate.Lower(19, 8, 7.25)
		wantNoError(t, err)
		wantNear(t, "Neutralising", "19 L by 0.75", float64(got.Neutralising), 19, 0.02)
	})

	t.Run("foams", func(t *testing.T) {
		// 1 g/L CaCO3 releases 0.44 g/L CO2; by its formula, 44.009 of 100.087.
		got, err := chalk.Lower(1, 8, 6.5)
		wantNoError(t, err)
		wantNear(t, "CO2", "a gram of chalk", float64(got.CO2/got.Neutralising), 0.44, 0.0005)
		wantNear(t, "molarMassCO2", "", molarMassCO2, 12.011+2*15.999, 0.001)
	})

	t.Run("says when it goes further than usual", func(t *testing.T) {
		// Common practice: 2 to 3 g/L at most, and the pH under 3.6 to 3.8.
		for drop, want := range map[Acidity]bool{2.9: false, 3: false, 3.1: true} {
			got, err := bicarbonate.Lower(19, 10+drop, 10)
			wantNoError(t, err)
			if got.TooFar != want {
				t.Errorf("a drop of %v: TooFar = %v", drop, got.TooFar)
			}
		}
		wantNear(t, "UsualDrop", "", float64(UsualDrop), 3, 0)
		wantNear(t, "DeacidifiedPH", "", float64(DeacidifiedPH), 3.8, 0)
	})

	t.Run("takes nothing where there is little enough, and adds nothing", func(t *testing.T) {
		if got, err := chalk.Lower(19, 6, 6); err != nil || got != (Deacidification{Salt: CalciumTartrate}) {
			t.Errorf("Lower(19, 6, 6) = %+v, %v", got, err)
		}
		if got, err := chalk.Lower(19, 5, 6.5); got != (Deacidification{}) || !errors.Is(err, ErrUnreachable) {
			t.Errorf("Lower(19, 5, 6.5) = %+v, %v, want ErrUnreachable", got, err)
		}
	})

	t.Run("undoes what an acid did", rapid.MakeCheck(func(t *rapid.T) {
		// Equivalents: a mole of chalk takes what a mole of tartaric acid brought.
		from, by := rapid.Float64Range(0, 20).Draw(t, "from"), rapid.Float64Range(0.01, 10).Draw(t, "by")
		v := Litre(rapid.Float64Range(0.1, 1000).Draw(t, "v"))
		acid, err1 := tartaricAcid.Raise(v, Acidity(from), Acidity(from+by))
		got, err2 := chalk.Lower(v, Acidity(from+by), Acidity(from))
		if err1 != nil || err2 != nil || math.Abs(float64(got.Neutralising/acid)-100.087/150.087) > 1e-9 {
			t.Fatalf("%v g of acid, %v g of chalk (%v, %v)", acid, got.Neutralising, err1, err2)
		}
	}))

	t.Run("refuses what is no carbonate or no drink", func(t *testing.T) {
		checkRange(t, 0, 1e6, 1e-6, func(x float64) error {
			_, err := chalk.Lower(Litre(x), 8, 7)
			return err
		})
		checkRange(t, 0, 100, 1e-6, func(x float64) error {
			_, err := chalk.Lower(19, Acidity(x), 0)
			return err
		})
		checkRange(t, 0, 100, 1e-6, func(x float64) error {
			_, err := chalk.Lower(19, 100, Acidity(x))
			return err
		})
		checkRange(t, 1, 1000, 1e-6, func(x float64) error {
			_, err := Carbonate{MolarMass: x, Equivalents: 1}.Lower(19, 8, 7)
			return err
		})
		checkRange(t, 0, 10, 1e-6, func(x float64) error {
			_, err := Carbonate{MolarMass: 100, Equivalents: 1, PracticeLow: x, PracticeHigh: 10}.Lower(19, 8, 7)
			return err
		})
		checkRange(t, 0.5, 10, 1e-6, func(x float64) error {
			_, err := Carbonate{MolarMass: 100, Equivalents: 1, PracticeLow: 0.5, PracticeHigh: x}.Lower(19, 8, 7)
			return err
		})
		for _, n := range []int{0, 3} {
			if _, err := (Carbonate{MolarMass: 100, Equivalents: n}).Lower(19, 8, 7); !errors.Is(err, ErrOutOfRange) {
				t.Errorf("%d equivalents: error %v", n, err)
			}
		}
	})
}

func TestMalolacticOf(t *testing.T) {
	t.Run("is the printed gram", func(t *testing.T) {
		// Acid notes, section 3, computed.
		got, err := MalolacticOf(1)
		wantNoError(t, err)
		wantNear(t, "Lactic", 1, float64(got.Lactic), 0.672, 0.00051)
		wantNear(t, "CO2", 1, float64(got.CO2), 0.328, 0.00051)
		wantNear(t, "Drop", 1, float64(got.Drop), 0.560, 0.00051)
	})

	t.Run("rests on molar masses", func(t *testing.T) {
		// C4H6O5 and C3H6O3 by the atomic weights of IUPAC.
		const c, h, o = 12.011, 1.008, 15.999
		wantNear(t, "malic", "", molarMassMalic, 4*c+6*h+5*o, 0.002)
		wantNear(t, "lactic", "", molarMassLactic, 3*c+6*h+3*o, 0.002)
	})

	t.Run("keeps the mass", rapid.MakeCheck(func(t *rapid.T) {
		malic := GramPerLitre(rapid.Float64Range(0, 100).Draw(t, "malic"))
		got, err := MalolacticOf(malic)
		if err != nil || math.Abs(float64(got.Lactic+got.CO2-malic)) > 1e-5*float64(malic) { // rounded molar masses
			t.Fatalf("%v became %+v, %v", malic, got, err)
		}
	}))

	t.Run("drops what the two acids differ by", func(t *testing.T) {
		got, err := MalolacticOf(4)
		wantNoError(t, err)
		before, err := malicAcid.Acidity(4)
		wantNoError(t, err)
		after, err := lacticAcid.Acidity(got.Lactic)
		wantNoError(t, err)
		wantNear(t, "Drop", 4, float64(got.Drop), float64(before-after), 1e-9)
	})

	t.Run("refuses what is no drink", func(t *testing.T) {
		checkRange(t, 0, 100, 1e-6, func(x float64) error {
			_, err := MalolacticOf(GramPerLitre(x))
			return err
		})
	})
}
