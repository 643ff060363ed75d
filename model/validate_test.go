package model

import (
	"errors"
	"math"
	"strings"
	"testing"

	"cellar.local/glassrow/calc"
)

// Ensure that each kind of entry takes what can be and refuses the rest with a reason.
func TestBody_Validate(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	volume := func(x float64) Body { return Must{Volume: calc.Litre(x), Gravity: 1.05} }
	og := func(x float64) Body { return Must{Volume: 10, Gravity: calc.SG(x)} }
	grams := func(x float64) Body { return added(honey, calc.Gram(x), "") }
	stands := func(x float64) Body { return Pitch{Yeast: AleYeast, Tolerance: calc.PercentVol(x)} }
	racked := func(x float64) Body { return Rack{To: 1, Volume: calc.Litre(x)} }
	bottled := func(n int, x float64) Body { return Bottle{Count: n, Size: calc.Litre(x)} }
	tenfold := honey
	tenfold.PerGram = tenfold.PerGram.Scaled(10)

	good := map[string]Body{
		"a must of a gravity": og(1.05), "a must of ingredients": Must{Volume: 1, Ingredients: []Portion{{honey, 1}}},
		"the smallest must": volume(0.05), "the largest must": volume(100000), "water": og(1), "treacle": og(1.25),
		"a pitch": Pitch{Yeast: WineYeast, Name: "from the last batch"}, "a strong yeast": stands(25),
		"an addition": grams(0.001), "all racked": racked(0), "some racked": racked(18), "a bottle": bottled(1, 0.01),
		"a note": Note{Text: "clear"}, "a void": Void{Entry: 1},
	}
	for name, b := range good {
		if err := b.Validate(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	bad := map[string]Body{
		"a must of nothing": Must{Volume: 10}, "no volume": volume(0), "volume NaN": volume(nan), "volume +Inf": volume(inf), "a lake": volume(100001),
		"a must lighter than water": og(0.999), "a must of syrup": og(1.26), "gravity NaN": og(nan), "gravity -Inf": og(-inf),
		"an ingredient without a name": Must{Volume: 1, Ingredients: []Portion{{calc.Ingredient{PerGram: honey.PerGram}, 1}}},
		"an ingredient of nothing":     added(calc.Ingredient{Name: "x"}, 1, ""), "a gram that weighs ten": added(tenfold, 1, ""),
		"no mass": grams(0), "mass NaN": grams(nan), "mass +Inf": grams(inf), "negative mass": grams(-1), "a shipload": grams(1.01e8),
		"no yeast": Pitch{}, "an unknown yeast": Pitch{Yeast: "bread"}, "tolerance NaN": stands(nan), "tolerance of spirit": stands(26), "negative tolerance": stands(-1),
		"racked nowhere": Rack{Volume: 1}, "racked NaN": racked(nan), "racked below none": racked(-1), "racked +Inf": racked(inf),
		"no bottles": bottled(0, 0.75), "fewer bottles": bottled(-3, 0.75), "bottles NaN": bottled(1, nan), "thimbles": bottled(1, 0.001), "too many bottles": bottled(100001, 0.75),
		"an empty note": Note{Text: " "}, "a note with an escape": Note{Text: "\x1b]0;x\a"}, "a long note": Note{Text: strings.Repeat("x", maxText+1)},
		"a void of nothing": Void{}, "a long reason": Void{Entry: 1, Reason: strings.Repeat("x", maxText+1)},
		"a purpose with a line break": added(honey, 1, "a\nb"), "a yeast with a tab": Pitch{Yeast: AleYeast, Name: "a\tb"},
	}
	for name, b := range bad {
		if err := b.Validate(); !errors.Is(err, ErrInvalid) {
			t.Errorf("%s: error %v, want one that wraps ErrInvalid", name, err)
		}
	}
}

// Ensure that the kinds of entry have the words that records and scripts use.
func TestBody_Kind(t *testing.T) {
	for want, b := range map[Kind]Body{"must": Must{}, "pitch": Pitch{}, "reading": Reading{}, "addition": Addition{}, "rack": Rack{}, "bottle": Bottle{}, "note": Note{}, "void": Void{}} {
		if got := b.Kind(); got != want {
			t.Errorf("%T is a %q, want %q", b, got, want)
		}
	}
}

// Ensure that every group of yeast and every drink can be used as it is.
func TestDrinksAndYeasts(t *testing.T) {
	for _, y := range YeastGroups() {
		if tol := y.Tolerance(); tol < 7 || tol > 20 { // diagnosis notes, section 3
			t.Errorf("%s stands %v %% vol", y, tol)
		}
	}
	for _, d := range Drinks() {
		if d.TypicalSolids().Fermentable() <= 0 || d.Fermentation().Yield.Ethanol <= 0 {
			t.Errorf("%s: %+v, %+v", d, d.TypicalSolids(), d.Fermentation())
		}
	}
}
