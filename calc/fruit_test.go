package calc

import (
	"errors"
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// The fruit that these tests are made of. Compositions from the handbook: UK table
// 14-053 for blackcurrants, USDA SR26 09279, 09298 and 11352 for plums, raisins and
// potatoes.
func blackcurrant(t testing.TB) Fruit {
	f := newFruit(t, map[Component]Gram{Water: 77.4, Sucrose: 0.29, Glucose: 3, Fructose: 3.4, Acid: 2.9}, 11.01, 0)
	f.Refuse, f.HalfTime = 0.02, 48*time.Hour
	f.PH, f.Acid = Span{3.3, 3.3}, Span{26, 32}
	return f
}

func plum(t testing.TB) Fruit {
	f := newFruit(t, map[Component]Gram{Water: 87.23, Sucrose: 1.57, Glucose: 5.07, Fructose: 3.07, Maltose: 0.08, Acid: 1.05}, 1.12, 0)
	f.Refuse, f.HalfTime = 0.06, 48*time.Hour
	f.PH, f.Acid = Span{2.8, 4.5}, Span{6, 15}
	return f
}

func raisin(t testing.TB) Fruit {
	f := newFruit(t, map[Component]Gram{Water: 15.43, Sucrose: 0.45, Glucose: 27.75, Fructose: 29.68}, 5.66, 2.7)
	f.HalfTime = 72 * time.Hour
	return f
}

func potato(t testing.TB) Fruit {
	f := newFruit(t, map[Component]Gram{Water: 79.34, Sucrose: 0.2, Glucose: 0.33, Fructose: 0.25}, 17.2, 15.44)
	f.Refuse, f.HalfTime = 0.25, 48*time.Hour
	return f
}

func newFruit(t testing.TB, per100 map[Component]Gram, pulp, starch PercentMass) Fruit {
	t.Helper()
	f, err := NewFruit("the fruit", per100, pulp, starch)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// Ensure that a printed analysis becomes juice and pulp, nothing lost.
func TestNewFruit(t *testing.T) {
	t.Run("counts what is left of 100 g as other solids", func(t *testing.T) {
		f := plum(t)
		wantNear(t, "other solids of a gram", "plum", float64(f.Juice.Of(OtherSolids)), 0.0081, 1e-12)
		wantNear(t, "sugar", "plum", f.Sugar(), 0.0979, 1e-12)
		wantNear(t, "pulp", "plum", f.Pulp, 0.0112, 1e-12)
		wantNear(t, "juice and pulp", "plum", float64(f.Juice.Mass())+f.Pulp, 1, 1e-12)
	})
	t.Run("makes up for rounding in print", func(t *testing.T) {
		f := newFruit(t, map[Component]Gram{Water: 90, Fructose: 5}, 6, 2) // 101 g of 100
		wantNear(t, "juice and pulp", 101, float64(f.Juice.Mass())+f.Pulp, 1, 1e-12)
		wantNear(t, "starch", 101, f.Starch, 2.0/101, 1e-12)
		tiny := newFruit(t, map[Component]Gram{Water: 0.0005}, 99, 0) // a little juice is juice
		wantNear(t, "water", 0.0005, float64(tiny.Juice.Of(Water)), 5e-6, 1e-12)
		if _, err := NewFruit("x", map[Component]Gram{Water: 90, Fructose: 5}, 6.001, 2); !errors.Is(err, ErrOutOfRange) {
			t.Errorf("101.001 g of 100 give the error %v", err)
		}
	})
	t.Run("refuses what no table prints", func(t *testing.T) {
		checkRange(t, 0, 96, 0.01, func(x float64) error { // 5 g of juice leave 96 for pulp, with the slack
			_, err := NewFruit("x", map[Component]Gram{Water: 5}, PercentMass(x), 0)
			return err
		})
		checkRange(t, 0, 20, 0.01, func(x float64) error {
			_, err := NewFruit("x", map[Component]Gram{Water: 80}, 20, PercentMass(x))
			return err
		})
		for name, parts := range map[string]map[Component]Gram{
			"nothing but pulp": {}, "less than nothing": {Water: -1}, "no component": {componentCount: 1},
		} {
			if _, err := NewFruit("x", parts, 100, 0); !errors.Is(err, ErrOutOfRange) {
				t.Errorf("%s: error %v", name, err)
			}
		}
		if _, err := NewFruit("x", map[Component]Gram{Water: 1}, 100.1, 0); !errors.Is(err, ErrOutOfRange) {
			t.Errorf("100.1 %% of pulp give the error %v", err)
		}
	})
}

// Ensure that a range found in print is told from none.
func TestSpan_Known(t *testing.T) {
	for s, want := range map[Span]bool{{}: false, {0, 0.0001}: true, {3, 4}: true} {
		if s.Known() != want {
			t.Errorf("%v known: %v", s, s.Known())
		}
	}
}

// Ensure that starch is told from sugar: yeast cannot use it as it is.
func TestFruit_Starchy(t *testing.T) {
	if plum(t).Starchy() || !potato(t).Starchy() {
		t.Errorf("a plum is starchy %v, a potato %v", plum(t).Starchy(), potato(t).Starchy())
	}
	for share, want := range map[float64]bool{0.0538: false, 0.1: false, 0.10001: true} { // 0.0538: banana
		if got := (Fruit{Starch: share}).Starchy(); got != want {
			t.Errorf("with %v of starch Starchy() = %v", share, got)
		}
	}
}

// Ensure that stones and peel are taken off, unless they were already.
func TestFruitPortion_Edible(t *testing.T) {
	p := FruitPortion{Fruit: plum(t), Mass: 1000}
	wantNear(t, "Edible", "as bought", float64(p.Edible()), 940, 1e-9)
	wantNear(t, "sugar", "as bought", float64(p.Juice().Sugar()), 92.026, 1e-9) // 940 g at 9.79 %
	p.Prepared = true
	wantNear(t, "Edible", "prepared", float64(p.Edible()), 1000, 1e-9)
}

// Ensure that juice comes out as documented.
func TestFruitPortion_Free(t *testing.T) {
	const day = 24 * time.Hour
	t.Run("takes the half-time", func(t *testing.T) {
		whole := FruitPortion{Fruit: plum(t)}
		crushed := FruitPortion{Fruit: plum(t), Crushed: true}
		for _, row := range []struct {
			p     FruitPortion
			after time.Duration
			want  float64
		}{
			{whole, 0, 0}, {whole, 2 * day, 0.5}, {whole, 4 * day, 0.75}, {whole, 7 * day, 0.91161}, {whole, -day, 0},
			{crushed, 0, 0.6}, {crushed, day, 0.8}, {crushed, 2 * day, 0.9}, {crushed, 7 * day, 0.996875}, {crushed, -day, 0.6},
			{FruitPortion{Fruit: Fruit{}}, 0, 1},                      // a juice
			{FruitPortion{Fruit: Fruit{HalfTime: time.Second}}, 0, 0}, // nearly one
		} {
			wantNear(t, "Free", row, row.p.Free(row.after), row.want, 1e-5)
		}
	})
	t.Run("rises and never passes all", rapid.MakeCheck(func(t *rapid.T) {
		p := FruitPortion{
			Fruit:   Fruit{HalfTime: time.Duration(rapid.Int64Range(0, int64(1000*time.Hour)).Draw(t, "half-time"))},
			Crushed: rapid.Bool().Draw(t, "crushed"),
		}
		a := time.Duration(rapid.Int64().Draw(t, "first"))
		b := time.Duration(rapid.Int64Range(int64(a), math.MaxInt64).Draw(t, "second"))
		if x, y := p.Free(a), p.Free(b); !(0 <= x && x <= y && y <= 1) {
			t.Fatalf("free %v after %v and %v after %v", x, a, y, b)
		}
	}))
}

// Ensure that figures set by hand are looked at before they are used.
func TestFruit_check(t *testing.T) {
	with := func(set func(*Fruit, float64)) func(float64) error {
		return func(x float64) error {
			f := plum(t)
			set(&f, x)
			_, err := NewMust(Liquid{}, FruitPortion{Fruit: f, Mass: 1})
			return err
		}
	}
	checkRange(t, 0, 0.9, 0.0001, with(func(f *Fruit, x float64) { f.Refuse = x }))
	checkRange(t, 0, 14, 0.001, with(func(f *Fruit, x float64) { f.PH = Span{0, x} }))
	checkRange(t, 0, 4, 0.001, with(func(f *Fruit, x float64) { f.PH = Span{x, 4} }))
	checkRange(t, 0, 1000, 0.1, with(func(f *Fruit, x float64) { f.Acid = Span{0, x} }))
	f := plum(t)
	f.HalfTime = -1
	if _, err := NewMust(Liquid{}, FruitPortion{Fruit: f}); !errors.Is(err, ErrOutOfRange) {
		t.Errorf("a negative half-time gives the error %v", err)
	}
}

func FuzzNewFruit(f *testing.F) {
	for _, x := range awkward {
		f.Add(x, 5.0, 1.0)
		f.Add(90.0, x, 1.0)
		f.Add(90.0, 5.0, x)
	}
	f.Fuzz(func(t *testing.T, water, pulp, starch float64) {
		got, err := NewFruit("x", map[Component]Gram{Water: Gram(water), Glucose: 4}, PercentMass(pulp), PercentMass(starch))
		checkResult(t, "NewFruit", got.Sugar(), err)
		if whole := float64(got.Juice.Mass()) + got.Pulp; err == nil && math.Abs(whole-1) > 1e-12 {
			t.Errorf("a gram of fruit weighs %v g", whole)
		}
	})
}
