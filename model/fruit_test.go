package model

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"cellar.local/glassrow/calc"
)

// larder is a handbook of a few rows.
func larder(t testing.TB) Larder {
	t.Helper()
	sweetener := func(id, name string, parts map[calc.Component]calc.Gram, aliases ...string) Sweetener {
		i, err := calc.NewIngredient(name, parts)
		if err != nil {
			t.Fatal(err)
		}
		return Sweetener{ID: id, Ingredient: i, Aliases: aliases}
	}
	fruit := func(id, name string, aliases ...string) Fruit {
		f, err := calc.NewFruit(name, map[calc.Component]calc.Gram{calc.Water: 85, calc.Fructose: 10}, 2, 0)
		if err != nil {
			t.Fatal(err)
		}
		f.Refuse = 0.1
		return Fruit{ID: id, Fruit: f, Aliases: aliases}
	}
	return Larder{
		Sweeteners: []Sweetener{
			sweetener("honey_average", "honey", map[calc.Component]calc.Gram{calc.Water: 17, calc.Fructose: 83}),
			sweetener("apple_syrup", "apple syrup", map[calc.Component]calc.Gram{calc.Water: 30, calc.Fructose: 70}),
		},
		Fruits: []Fruit{
			fruit("apple", "apple", "eating apple"), fruit("cherry_sour", "sour cherry", "morello", "sour cherries"),
			fruit("cherry_sweet", "sweet cherry", "sweet cherries"), fruit("black", "blackcurrant", "black currant"),
		},
	}
}

// Ensure that what people type finds the fruit they mean.
func TestFindFruit(t *testing.T) {
	all := larder(t).Fruits
	for name, want := range map[string]string{
		"apple": "apple", "Apples": "apple", "black-currants": "black", "BLACK": "black", "cherry_sour": "cherry_sour",
		"morello": "cherry_sour", "sour cherries": "cherry_sour", "eating": "apple", "currant": "black",
	} {
		if got, ok, _ := FindFruit(all, name); !ok || got.ID != want {
			t.Errorf("FindFruit(%q) = %q, %v, want %q", name, got.ID, ok, want)
		}
	}
	for name, want := range map[string]int{"cherry": 2, "cherries": 2, "gravel": 0, "": 0, " - ": 0} {
		if got, ok, matches := FindFruit(all, name); ok || got.ID != "" || len(matches) != want {
			t.Errorf("FindFruit(%q) = %q, %v with %d candidates, want %d", name, got.ID, ok, len(matches), want)
		}
	}
	t.Run("finds every row by each of its names", rapid.MakeCheck(func(t *rapid.T) {
		f := rapid.SampledFrom(all).Draw(t, "fruit")
		name := rapid.SampledFrom(f.names()).Draw(t, "name")
		if got, ok, _ := FindFruit(all, strings.ToUpper(name)); !ok || got.ID != f.ID {
			t.Fatalf("FindFruit(%q) = %q, %v", name, got.ID, ok)
		}
	}))
}

// Ensure that kinds of yeast are found, and asked for in their order.
func TestFindYeastKind(t *testing.T) {
	all := []YeastKind{
		{ID: "ale", Tolerance: calc.YeastTolerance{Name: "ale yeast", Low: 8, High: 12}, Aliases: []string{"beer yeast"}},
		{ID: "wine", Tolerance: calc.YeastTolerance{Name: "wine yeast", Low: 13, High: 16}},
	}
	for name, want := range map[string]string{"ale": "ale", "beer": "ale", "wine yeasts": "wine"} {
		if got, ok, _ := FindYeastKind(all, name); !ok || got.ID != want || got.Name() == "" {
			t.Errorf("FindYeastKind(%q) = %q, %v, want %q", name, got.ID, ok, want)
		}
	}
	if _, ok, matches := FindYeastKind(all, "yeast"); ok || len(matches) != 2 {
		t.Errorf("yeast finds %v, %v", ok, matches)
	}
	if got := Tolerances(all); !slices.Equal(got, []calc.YeastTolerance{all[0].Tolerance, all[1].Tolerance}) {
		t.Errorf("Tolerances = %v", got)
	}
}

// Ensure that sweeteners and fruit are found side by side.
func TestLarder_Find(t *testing.T) {
	l := larder(t)
	for name, want := range map[string]struct {
		name  string
		fruit bool
	}{"honey": {"honey", false}, "apple": {"apple", true}, "apple sy": {"apple syrup", false}, "blackcurrants": {"blackcurrant", true}} {
		if got, err := l.Find(name); err != nil || got.Name() != want.name || got.IsFruit() != want.fruit {
			t.Errorf("Find(%q) = %q, fruit %v, %v", name, got.Name(), got.IsFruit(), err)
		}
	}
	for name, want := range map[string]string{"cherry": "sour cherry or sweet cherry", "gravel": "not in the handbook", "": "not in the handbook"} {
		if _, err := l.Find(name); !errors.Is(err, ErrInvalid) || !strings.Contains(err.Error(), want) {
			t.Errorf("Find(%q): error %v, want it to say %q", name, err, want)
		}
	}
	many := Larder{}
	for _, id := range []string{"a", "b", "c", "d", "e"} {
		f := l.Fruits[0]
		f.ID, f.Aliases, f.Fruit.Name = id, nil, "plum "+id
		many.Fruits = append(many.Fruits, f)
	}
	if _, err := many.Find("plum"); err == nil || strings.Contains(err.Error(), "plum e") {
		t.Errorf("five candidates: %v, want four named", err)
	}
}

// Ensure that a list of portions becomes the must it names.
func TestLarder_Must(t *testing.T) {
	l := larder(t)
	water, err := calc.WaterOf(4)
	if err != nil {
		t.Fatal(err)
	}
	for crushed, late := range map[bool]float64{true: 0.4 * 45, false: 45} {
		for i := range l.Fruits {
			l.Fruits[i].Fruit.HalfTime = 1
		}
		m, err := l.Must(water, []string{"honey 1kg", "500 g blackcurrants"}, crushed)
		if err != nil {
			t.Fatal(err)
		}
		f, err := m.Figures()
		if err != nil {
			t.Fatal(err)
		}
		// 450 g without waste at 10 % sugar, and 830 g from the honey.
		if got := float64(f.Sugar) * float64(f.Drink); math.Abs(got-875) > 1e-6 {
			t.Errorf("%v g of sugar, want 875", got)
		}
		if math.Abs(float64(f.LateSugar)-late) > 1e-6 {
			t.Errorf("crushed %v: %v g of late sugar, want %v", crushed, f.LateSugar, late)
		}
	}
	for _, bad := range []string{"gravel 1kg", "honey", "cherry 1kg"} {
		if _, err := l.Must(water, []string{bad}, true); !errors.Is(err, ErrInvalid) {
			t.Errorf("%q: error %v", bad, err)
		}
	}
}

func FuzzLarder(f *testing.F) {
	for _, s := range []string{"honey 1kg", "500 g blackcurrants", "s 1g", "_ 2lb", "apple 1e300kg", "cherry 1t"} {
		f.Add(s)
	}
	l := larder(f)
	f.Fuzz(func(t *testing.T, text string) {
		if _, err := l.Find(text); err != nil && !errors.Is(err, ErrInvalid) {
			t.Errorf("Find(%q): %v", text, err)
		}
		m, err := l.Must(calc.Liquid{}, []string{text}, true)
		if err != nil {
			return
		}
		if g := float64(m.AllOut().Mass()); math.IsNaN(g) || g < 0 {
			t.Errorf("%q weighs %v g", text, g)
		}
	})
}
