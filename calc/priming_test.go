package calc

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// pure returns one that is nothing but c.
func pure(t testing.TB, c Component) Ingredient {
	t.Helper()
	i, err := NewIngredient(c.String(), map[Component]Gram{c: 1})
	if err != nil {
		t.Fatal(err)
	}
	return i
}

// Ensure that a dose is what the notes and a calculation by hand say.
func TestPrimingSugar(t *testing.T) {
	t.Run("is worked out by hand", func(t *testing.T) {
		// 2.4 volumes are 4.7124 g/L; at 18 °C 1.7631 g/L are left (0.90 volumes, notes,
		// section 3); 2.9493 g/L · 19 L is 56.04 g of gas, over 0.463 a gram of glucose
		// 121.0 g, over 0.463 · 1.05263 of sucrose 115.0, over 0.463 · 0.90909 of glucose
		// with its water of crystals 133.1.
		water, err := NewIngredient("dextrose", map[Component]Gram{Glucose: 180.156, Water: 18.015})
		wantNoError(t, err)
		for _, row := range []struct {
			with Ingredient
			mass float64
			most float64 // 1.7631 + mass/19 at 0.4886 for hexose, 0.5143 for sucrose
		}{
			{pure(t, Glucose), 121.03, 4.8753}, {pure(t, Fructose), 121.03, 4.8753},
			{pure(t, Sucrose), 114.98, 4.8753}, {water, 133.14, 4.8753},
		} {
			got, err := PrimingSugar(19, 2.4, 18, row.with)
			wantNoError(t, err)
			wantNear(t, "mass", row.with.Name, float64(got.Mass), row.mass, 0.02)
			wantNear(t, "residual", row.with.Name, float64(CO2Volumes(got.Residual)), 0.898, 0.0005)
			wantNear(t, "CO2", row.with.Name, float64(CO2Volumes(got.CO2)), 2.4, 1e-12)
			wantNear(t, "most", row.with.Name, float64(got.Most), row.most, 0.0005)
		}
	})

	t.Run("is within 2 % of the notes' grams for a volume", func(t *testing.T) {
		// Section 4: 0.463 g of gas for glucose, 0.489 for sucrose; a volume more in a
		// litre then takes 1.9635/0.463 = 4.241 and 1.9635/0.489 = 4.015 g.
		for c, want := range map[Component]float64{Glucose: 4.241, Sucrose: 4.015} {
			low, err1 := PrimingSugar(1, 2, 20, pure(t, c))
			high, err2 := PrimingSugar(1, 3, 20, pure(t, c))
			wantNoError(t, errors.Join(err1, err2))
			wantNear(t, "a volume more", c, float64(high.Mass-low.Mass), want, 0.02)
		}
	})

	t.Run("meets its target and comes back", rapid.MakeCheck(func(t *rapid.T) {
		c := Component(rapid.IntRange(int(Sucrose), int(Maltotriose)).Draw(t, "c"))
		with, err := NewIngredient("sugar", map[Component]Gram{c: 80, Water: 20})
		if err != nil {
			t.Fatal(err)
		}
		v := Litre(rapid.Float64Range(0.3, 1000).Draw(t, "v"))
		warmest := Celsius(rapid.Float64Range(-1, 40).Draw(t, "warmest"))
		target := VolumesCO2(rapid.Float64Range(1.7, 9).Draw(t, "target"))
		got, err := PrimingSugar(v, target, warmest, with)
		if err != nil || math.Abs(float64(CO2Volumes(got.CO2)-target)) > 1e-9 || !(got.Most > got.CO2) {
			t.Fatalf("PrimingSugar = %+v, %v", got, err)
		}
		back, err := PrimedWith(got.Mass, v, warmest, with)
		if err != nil || back != got {
			t.Fatalf("PrimedWith = %+v, %v, want %+v", back, err, got)
		}
		warm, err := PrimingSugar(v, target, min(warmest+1, 40), with)
		if err != nil || warm.Mass < got.Mass {
			t.Fatalf("a degree warmer takes %v, %v, less than %v", warm.Mass, err, got.Mass)
		}
	}))

	t.Run("says what cannot be", func(t *testing.T) {
		if _, err := PrimingSugar(19, 0.5, 18, pure(t, Sucrose)); !errors.Is(err, ErrUnreachable) {
			t.Errorf("less than is in it: error %v, want ErrUnreachable", err)
		}
		if _, err := PrimingSugar(19, 2.4, 18, pure(t, Xylitol)); !errors.Is(err, ErrUnreachable) {
			t.Errorf("with xylitol: error %v, want ErrUnreachable", err)
		}
		residual, err := ResidualCO2(18)
		wantNoError(t, err)
		got, err := PrimingSugar(19, CO2Volumes(residual)+1e-12, 18, pure(t, Sucrose))
		if err != nil || got.Mass > 1e-9 {
			t.Errorf("just what is in it takes %v g, %v", got.Mass, err)
		}
	})

	t.Run("refuses what nobody means", func(t *testing.T) {
		sugar := pure(t, Sucrose)
		checkRange(t, 0.001, 1e6, 0.0001, func(x float64) error {
			if x > 1e6 && !math.IsInf(x, 0) {
				x = 1.001e6
			}
			_, err := PrimedWith(0, Litre(x), 18, sugar)
			return err
		})
		checkRange(t, 2, 10, 0.001, func(x float64) error {
			if x < 2 && !math.IsInf(x, 0) {
				x -= 2 // the lower end of the range is 0, but no drink holds so little
			}
			_, err := PrimingSugar(19, VolumesCO2(x), 18, sugar)
			return err
		})
		checkRange(t, -1, 40, 0.001, func(x float64) error {
			_, err := PrimingSugar(19, 2.4, Celsius(x), sugar)
			return err
		})
		checkRange(t, 0, 300, 50, func(x float64) error { // g in a litre: more gas than 160 g/L
			_, err := PrimedWith(Gram(x), 1, 18, sugar)
			return err
		})
		checkRange(t, 0, 1e9, 1e6, func(x float64) error {
			_, err := PrimedWith(Gram(x), 1e6, 18, pure(t, Xylitol))
			return err
		})
	})
}

func FuzzPriming(f *testing.F) {
	for _, x := range awkward {
		f.Add(x, 2.4, 18.0, 100.0)
		f.Add(19.0, x, 18.0, 100.0)
		f.Add(19.0, 2.4, x, 100.0)
		f.Add(19.0, 2.4, 18.0, x)
		f.Add(0.1, 2.4, 18.0, x) // more gas than there can be
	}
	f.Fuzz(func(t *testing.T, v, target, c, mass float64) {
		with := pure(t, Sucrose)
		p, err := PrimingSugar(Litre(v), VolumesCO2(target), Celsius(c), with)
		if !errors.Is(err, ErrUnreachable) {
			checkResult(t, "PrimingSugar", float64(p.Mass), err)
		}
		checkResult(t, "most", float64(p.Most), nil)
		p, err = PrimedWith(Gram(mass), Litre(v), Celsius(c), with)
		checkResult(t, "PrimedWith", float64(p.CO2), err)
	})
}

func BenchmarkPrimingSugar(b *testing.B) {
	b.ReportAllocs()
	with := pure(b, Sucrose)
	for b.Loop() {
		p, err := PrimingSugar(19, 2.4, 18, with)
		if err != nil {
			b.Fatal(err)
		}
		sink = float64(p.Mass)
	}
}
