package calc

import (
	"errors"
	"testing"
)

// Ensure that so much sugar in so much drink reads what the sugar tables print.
func TestIngredient_Gravity(t *testing.T) {
	sugar, err := NewIngredient("sugar", map[Component]Gram{Sucrose: 100})
	wantNoError(t, err)
	// Plato's table (NBS Circular C440): 10 % by mass has d20/4 1.03814, so 103.8 g
	// in a litre and 1.0400 against water at 20 °C. Common practice: a pound in a US
	// gallon makes 46 points.
	for _, row := range []struct {
		mass Gram
		v    Litre
		want SG
		tol  float64
	}{
		{103.8, 1, 1.0400, 0.0001},
		{GramsPerPound, LitresPerUSGallon, 1.046, 0.0005},
	} {
		got, err := sugar.Gravity(row.mass, row.v)
		wantNoError(t, err)
		wantNear(t, "Gravity", row.mass, float64(got), float64(row.want), row.tol)
	}
	if _, err := sugar.Gravity(3000, 1); !errors.Is(err, ErrUnreachable) {
		t.Errorf("3 kg in a litre: %v, want ErrUnreachable", err)
	}
	checkRange(t, 0, 1e9, 1, func(x float64) error { return unlessFull(second(sugar.Gravity(Gram(x), 1e6))) })
	checkRange(t, 0, 1e6, 1, func(x float64) error { return unlessFull(second(sugar.Gravity(1, Litre(x)))) })
}

// Ensure that waste and pulp of fruit give nothing, and that pulp takes up room.
func TestFruit_Gravity(t *testing.T) {
	f, err := NewFruit("pulpy", map[Component]Gram{Water: 80, Sucrose: 10}, 10, 0)
	wantNoError(t, err)
	sugar, err := NewIngredient("sugar", map[Component]Gram{Sucrose: 100})
	wantNoError(t, err)
	f.Refuse = 0.2
	got, err := f.Gravity(1000, 2)
	wantNoError(t, err)
	// 800 g of it go in: 80 g of sugar, and 80 g of pulp that fill 0.053 L.
	want, err := sugar.Gravity(80, 2-0.08/1.5)
	wantNoError(t, err)
	wantNear(t, "Gravity", f.Name, float64(got), float64(want), 1e-9)
	if _, err := f.Gravity(5000, 1); !errors.Is(err, ErrUnreachable) {
		t.Errorf("5 kg in a litre: %v, want ErrUnreachable", err)
	}
	checkRange(t, 0, 1e9, 1, func(x float64) error { return unlessFull(second(f.Gravity(Gram(x), 1e6))) })
	checkRange(t, 0, 1e6, 1, func(x float64) error { return unlessFull(second(f.Gravity(1, Litre(x)))) })
}

// unlessFull leaves of errors those that say that a figure itself cannot be.
func unlessFull(err error) error {
	if errors.Is(err, ErrUnreachable) {
		return nil
	}
	return err
}

// Ensure that yeast can use all of sugar, nothing of water, and half of half.
func TestLiquid_FermentableShare(t *testing.T) {
	for name, row := range map[string]struct {
		parts map[Component]Gram
		want  float64
	}{
		"sugar in water": {map[Component]Gram{Water: 80, Sucrose: 20}, 1},
		"half lactose":   {map[Component]Gram{Water: 80, Glucose: 10, Lactose: 10}, 0.5},
		"water":          {map[Component]Gram{Water: 80}, 0},
	} {
		l, err := NewLiquid(row.parts)
		wantNoError(t, err)
		wantNear(t, "FermentableShare", name, l.FermentableShare(), row.want, 1e-12)
	}
}
