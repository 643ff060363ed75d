package model

import (
	"errors"
	"math"
	"testing"

	"cellar.local/glassrow/calc"
)

func fizzBase(t *testing.T, sg calc.SG, solids calc.Liquid) calc.Liquid {
	t.Helper()
	l, err := calc.LiquidOf(19, sg, 6, solids)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

var beerBottle = calc.Container{ID: "beer", Name: "beer bottle, re-used", WarnVolumes: 3, StopVolumes: 4, StopBar: 5}
var wineBottle = calc.Container{ID: "wine", Name: "still-wine bottle", WarnVolumes: 0.1, StopVolumes: 0.3, StopBar: 0.5, Still: true}

// Ensure that a plan tells the figures of package calc, that sugar still in the drink
// counts, and that it is a danger in a bottle for still wine.
func TestFizzPlan_Priming(t *testing.T) {
	sugar := Sweetener{ID: "sugar", Ingredient: ingredientOf(t, "white sugar", map[calc.Component]calc.Gram{calc.Sucrose: 1})}
	dry := fizzBase(t, 0.9925, calc.Liquid{}.Plus(mustLiquid(t, map[calc.Component]calc.Gram{calc.Acid: 1})))
	plan := FizzPlan{Route: ByPriming, Container: beerBottle, Target: 2.4, With: sugar, Warmest: 18, Store: 28, Headspace: 0.04}
	f, err := plan.Work(dry, Cider)
	if err != nil {
		t.Fatal(err)
	}
	want, err := calc.PrimingSugar(19, 2.4, 18, sugar.Ingredient)
	if err != nil || math.Abs(float64(f.Mass-want.Mass)) > 1e-6 || f.Judgement.Verdict != calc.Fine && f.Judgement.Verdict != calc.Caution || f.Risky() {
		t.Errorf("primed with %v, want %v, %v; %v", f.Mass, want.Mass, err, f.Judgement)
	}
	plan.Container = wineBottle
	if f, err := plan.Work(dry, Cider); err != nil || f.Judgement.Verdict != calc.Danger {
		t.Errorf("bubbles in a bottle for still wine: %v, %v", f.Judgement, err)
	}
	sweet := dry.Plus(sugar.Ingredient.Amount(400))
	plan.Container = beerBottle
	if f, err := plan.Work(sweet, Cider); err != nil || f.Judgement.Verdict != calc.Danger || !f.Risky() {
		t.Errorf("with 21 g/L of sugar in it: %v, %v", f.Judgement, err)
	}
	plan.Target = 0.2
	if _, err := plan.Work(dry, Cider); !errors.Is(err, calc.ErrUnreachable) {
		t.Errorf("less gas than it holds: %v", err)
	}
}

// Ensure that heat is told when to begin, for how long, and that the bath of fully
// carbonated bottles is judged: 2.5 volumes are near 7 bar at 60 °C (stabilising notes).
func TestFizzPlan_Heat(t *testing.T) {
	sweet := fizzBase(t, 1.020, calc.AppleSolids())
	plan := FizzPlan{Route: ByHeat, Container: beerBottle, Target: 2.5, Warmest: 18, Store: 28, Headspace: 0.04}
	f, err := plan.Work(sweet, Cider)
	if err != nil {
		t.Fatal(err)
	}
	if f.StopAt >= 1.018 || f.StopAt <= 1.014 || f.InBath.Verdict != calc.Danger || f.Bath.Gauge < 6.5 || f.Bath.Gauge > 9 {
		t.Errorf("stop at %v, in the bath %v bar, %v", f.StopAt, f.Bath.Gauge, f.InBath)
	}
	if f.Least.Minutes() < 9 || f.Least.Minutes() > 10 || f.Safe <= f.Least {
		t.Errorf("heat for %v, or %v to be sure; 50 PU take 9.5 minutes at 65 °C", f.Least, f.Safe)
	}
	if _, err := plan.Work(fizzBase(t, 0.9925, calc.AppleSolids()), Cider); !errors.Is(err, calc.ErrUnreachable) {
		t.Errorf("a dry drink: %v", err)
	}
}

// Ensure that a keg is set as the table has it: 2.5 volumes at 4 °C are 0.78 bar
// (carbonation.csv).
func TestFizzPlan_Keg(t *testing.T) {
	plan := FizzPlan{Route: ByKeg, Container: calc.Container{Name: "keg", WarnVolumes: 4.5, StopVolumes: 6, StopBar: 8}, Target: 2.5, Warmest: 18, Store: 4, Headspace: 0.04}
	f, err := plan.Work(fizzBase(t, 1.020, calc.AppleSolids()), Cider)
	if err != nil || math.Abs(float64(f.Gauge)-0.78) > 0.01 || f.Judgement.Verdict != calc.Fine {
		t.Errorf("set to %v bar, %v, %v", f.Gauge, f.Judgement, err)
	}
}

func mustLiquid(t *testing.T, parts map[calc.Component]calc.Gram) calc.Liquid {
	t.Helper()
	l, err := calc.NewLiquid(parts)
	if err != nil {
		t.Fatal(err)
	}
	return l
}
