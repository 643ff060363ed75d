package calc

import "testing"

// tenIngredients is a must of seven things stirred in and three fruits, short of
// its volume.
func tenIngredients(b testing.TB) Must {
	all := Liquid{}
	for c := Sucrose; c <= Lactose; c++ {
		all.grams[c] = 100
	}
	all = all.Plus(honey(b).Amount(1000))
	m, err := NewMust(all, FruitPortion{Fruit: blackcurrant(b), Mass: 500, Crushed: true},
		FruitPortion{Fruit: plum(b), Mass: 1000}, FruitPortion{Fruit: raisin(b), Mass: 250})
	if err != nil {
		b.Fatal(err)
	}
	return m
}

// The target is below 50 µs for a must of ten ingredients with all its figures.
func BenchmarkMust(b *testing.B) {
	m := tenIngredients(b)
	b.ReportAllocs()
	for b.Loop() {
		made, err := m.MadeUpTo(10)
		if err != nil {
			b.Fatal(err)
		}
		f, err := made.Figures()
		if err != nil {
			b.Fatal(err)
		}
		sink = float64(f.SG)
	}
}

func BenchmarkMust_AdjustedTo(b *testing.B) {
	m := tenIngredients(b)
	with := honey(b)
	b.ReportAllocs()
	for b.Loop() {
		got, err := m.AdjustedTo(10, TargetSG(1.11), with)
		if err != nil {
			b.Fatal(err)
		}
		sink = float64(got.Added)
	}
}

func BenchmarkFermentation_LeftBy(b *testing.B) {
	l := tenIngredients(b).AllOut()
	rule := Fermentation{Yield: MustYield()}
	b.ReportAllocs()
	for b.Loop() {
		got, err := rule.LeftBy(l, 12)
		if err != nil {
			b.Fatal(err)
		}
		sink = float64(got.Figures.SG)
	}
}

func BenchmarkMixFor(b *testing.B) {
	dry, err := DrinkOf(10, 1.000, 13)
	if err != nil {
		b.Fatal(err)
	}
	sweet, err := DrinkOf(5, 1.040, 9)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		got, err := MixFor(BlendPart{Liquid: dry}, BlendPart{Liquid: sweet}, TargetSG(1.01))
		if err != nil {
			b.Fatal(err)
		}
		sink = got.Share
	}
}
