package calc

import (
	"errors"
	"math"
	"slices"
	"testing"
)

func dryMead(t *testing.T) Liquid {
	t.Helper()
	l, err := LiquidOf(19, 0.998, 12.5, HoneySolids())
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// Ensure that a weighed ladder ends where it should in even steps, and that a glass
// scaled to the vessel and back is exactly the same dose.
func TestLadder_Weighed(t *testing.T) {
	l := dryMead(t)
	now, _ := l.Figures()
	sugar, _ := NewIngredient("sugar", map[Component]Gram{Sucrose: 1})
	rungs := must(sugar.Ladder(l, Ladder{Glass: 0.05, Glasses: 5, To: TargetSweetness(now.Sweetness + 40)}))(t)
	if rungs[0].Dose != 0 || math.Abs(float64(rungs[4].After.Sweetness-now.Sweetness-40)) > 1e-4 {
		t.Errorf("the ladder runs from %v to %v", rungs[0], rungs[4])
	}
	for k, r := range rungs {
		if want := rungs[4].Dose * Gram(k) / 4; math.Abs(float64(r.Dose-want)) > 1e-12 {
			t.Errorf("glass %d takes %v g, want %v", k+1, r.Dose, want)
		}
		if back := r.Vessel * Gram(0.05/now.Volume); math.Abs(float64(back-r.Dose)) > 1e-12 {
			t.Errorf("glass %d: %v g to the vessel and back is %v g", k+1, r.Dose, back)
		}
		vessel, err := l.Plus(sugar.Amount(r.Vessel)).Figures()
		if err != nil || math.Abs(float64(vessel.SG-r.After.SG)) > 1e-9 || math.Abs(float64(vessel.Strength-r.After.Strength)) > 1e-9 {
			t.Errorf("glass %d is %v, the vessel %v, %v", k+1, r.After, vessel, err)
		}
	}
}

// Ensure that the water of a syrup is counted: in the glass, which it thins, and not
// in the vessel, which gets the sweetener as it is and tastes the same.
func TestLadder_Syrup(t *testing.T) {
	l := dryMead(t)
	now, _ := l.Figures()
	for _, c := range []struct {
		name  string
		part  Component
		syrup GramPerLitre
	}{{"sugar", Sucrose, 500}, {"sucralose", Sucralose, 1}} {
		i, _ := NewIngredient(c.name, map[Component]Gram{c.part: 1})
		rungs := must(i.Ladder(l, Ladder{Glass: 0.05, Glasses: 5, From: TargetSweetness(now.Sweetness + 5), To: TargetSweetness(now.Sweetness + 40), Syrup: c.syrup}))(t)
		for k, r := range rungs {
			if math.Abs(float64(r.Dose)-float64(r.Syrup)*float64(c.syrup)) > 1e-12 || r.Syrup <= 0 {
				t.Errorf("%s, glass %d: %v g in %v L of syrup", c.name, k+1, r.Dose, r.Syrup)
			}
			if r.After.Strength >= now.Strength {
				t.Errorf("%s, glass %d: the syrup's water does not thin it", c.name, k+1)
			}
			vessel, err := l.Plus(i.Amount(r.Vessel)).Figures()
			if err != nil || math.Abs(float64(vessel.Sweetness-r.After.Sweetness)) > 1e-4 {
				t.Errorf("%s, glass %d tastes like %v, the vessel like %v, %v", c.name, k+1, r.After.Sweetness, vessel.Sweetness, err)
			}
		}
	}
}

// Ensure that what cannot be is said to be so.
func TestLadder_Refuses(t *testing.T) {
	l := dryMead(t)
	sugar, _ := NewIngredient("sugar", map[Component]Gram{Sucrose: 1})
	for name, d := range map[string]Ladder{
		"one glass": {Glass: 0.05, Glasses: 1, To: TargetSweetness(60)}, "a bath": {Glass: 50, Glasses: 3, To: TargetSweetness(60)},
		"downhill": {Glass: 0.05, Glasses: 3, From: TargetSweetness(60), To: TargetSweetness(50)}, "below today": {Glass: 0.05, Glasses: 3, To: TargetSweetness(1)},
		"not a number": {Glass: Litre(math.NaN()), Glasses: 3, To: TargetSweetness(60)}, "a rock": {Glass: 0.05, Glasses: 3, To: TargetSweetness(60), Syrup: 1999},
	} {
		_, err := sugar.Ladder(l, d)
		if !errors.Is(err, ErrOutOfRange) && !errors.Is(err, ErrUnreachable) && !errors.Is(err, ErrNotANumber) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Ensure that a blind order is a shuffle, the same each time, and not the same for
// every seed.
func TestBlindOrder(t *testing.T) {
	seen := make(map[[5]int]bool)
	for seed := range uint64(40) {
		order := BlindOrder(seed, 5)
		if !slices.Equal(order, BlindOrder(seed, 5)) {
			t.Fatalf("seed %d gives two orders", seed)
		}
		seen[[5]int(order)] = true
		slices.Sort(order)
		if !slices.Equal(order, []int{0, 1, 2, 3, 4}) {
			t.Fatalf("seed %d gives %v", seed, order)
		}
	}
	if len(seen) < 20 {
		t.Errorf("40 seeds give only %d orders", len(seen))
	}
}

// Ensure that the top of a hill of marks is found with an honest error, and that marks
// without a hill name the best glass.
func TestPrefer(t *testing.T) {
	marks := func(scores ...float64) []Scored {
		var out []Scored
		for i, s := range scores {
			out = append(out, Scored{float64(10 * i), s})
		}
		return out
	}
	for name, c := range map[string]struct {
		marks []Scored
		want  Preference
	}{
		"a hill, from the worked example": {marks(5, 8, 8, 5), Preference{Best: 15, Fitted: true}},
		"a hill off the middle":           {marks(2, 7, 8, 5, -2), Preference{Best: 17.5, Fitted: true}},
		"three marks":                     {marks(3, 8, 5), Preference{Best: 10}},
		"rising":                          {marks(2, 4, 6, 8), Preference{Best: 30, Edge: true}},
		"a valley":                        {marks(9, 4, 4, 8), Preference{Best: 0, Edge: true}},
		"one glass":                       {marks(5), Preference{Best: 0, Edge: true}},
	} {
		got, err := Prefer(c.marks)
		if err != nil || math.Abs(got.Best-c.want.Best) > 1e-9 || got.Fitted != c.want.Fitted || got.Edge != c.want.Edge || (got.PlusMinus > 0) != c.want.Fitted {
			t.Errorf("%s: %+v, %v, want %+v", name, got, err, c.want)
		}
	}
	// The standard error of the worked example, by hand: u = ±1, ±1/3; c = -27/8,
	// b = 0, var b = 0.25/(20/9), best = 15 ± 15·sqrt(0.1125)/(2·27/8).
	if got, _ := Prefer(marks(5, 8, 8, 5)); math.Abs(got.PlusMinus-15*math.Sqrt(0.1125)/6.75) > 1e-9 {
		t.Errorf("± %v, want %v", got.PlusMinus, 15*math.Sqrt(0.1125)/6.75)
	}
	if loose, _ := Prefer(marks(5, 9, 7, 5)); loose.PlusMinus <= 15*math.Sqrt(0.1125)/6.75 {
		t.Errorf("marks that scatter are told as sure as those that do not: ± %v", loose.PlusMinus)
	}
	for _, bad := range [][]Scored{nil, {{math.NaN(), 1}}, {{1, math.Inf(1)}}} {
		if _, err := Prefer(bad); err == nil {
			t.Errorf("Prefer(%v) has no error", bad)
		}
	}
}
