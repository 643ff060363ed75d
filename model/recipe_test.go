package model

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"cellar.local/glassrow/calc"
)

// pantry is what the recipes of these tests are made of: honey is the average of 490 US
// honeys (White 1962), sugar 99.8 % sucrose (USDA SR26), apple USDA SR26 NDB 09003.
func pantry(t *testing.T) Larder {
	t.Helper()
	sweet := func(id, name, caution string, parts map[calc.Component]calc.Gram) Sweetener {
		i, err := calc.NewIngredient(name, parts)
		if err != nil {
			t.Fatal(err)
		}
		return Sweetener{ID: id, Ingredient: i, Caution: caution}
	}
	fruit := func(id, name, group, form string, parts map[calc.Component]calc.Gram, pulp calc.PercentMass, refuse float64, half time.Duration, ph, acid calc.Span) Fruit {
		f, err := calc.NewFruit(name, parts, pulp, 0)
		if err != nil {
			t.Fatal(err)
		}
		f.Refuse, f.HalfTime, f.PH, f.Acid = refuse, half, ph, acid
		return Fruit{ID: id, Fruit: f, Group: group, Form: form}
	}
	return Larder{
		Sweeteners: []Sweetener{
			sweet("honey_average", "honey", "Not for children under 12 months.", map[calc.Component]calc.Gram{calc.Water: 17.2,
				calc.Sucrose: 1.31, calc.Glucose: 31.28, calc.Fructose: 38.19, calc.Maltose: 7.31, calc.OtherSolids: 4.71}),
			sweet("white_sugar", "white sugar", "", map[calc.Component]calc.Gram{calc.Sucrose: 99.8, calc.OtherSolids: 0.18, calc.Water: 0.02}),
			sweet("golden_syrup", "golden syrup", "", map[calc.Component]calc.Gram{calc.Sucrose: 33, calc.Glucose: 23, calc.Fructose: 23, calc.Water: 17, calc.OtherSolids: 4}),
		},
		Fruits: []Fruit{
			fruit("apple", "apple", "pome", "fresh", map[calc.Component]calc.Gram{calc.Water: 85.56, calc.Sucrose: 2.07, calc.Glucose: 2.43, calc.Fructose: 5.9},
				1.97, 0.1, 36*time.Hour, calc.Span{Low: 3.3, High: 4}, calc.Span{Low: 6, High: 8}),
			fruit("damson", "damson", "stone", "fresh", map[calc.Component]calc.Gram{calc.Water: 77.5, calc.Glucose: 5.2, calc.Fructose: 3.4, calc.Sucrose: 1},
				1.6, 0.1, 60*time.Hour, calc.Span{Low: 2.9, High: 3.1}, calc.Span{}),
			fruit("apple_juice", "apple juice", "juice", "juice", map[calc.Component]calc.Gram{calc.Water: 88.24, calc.Sucrose: 1.26, calc.Glucose: 2.63, calc.Fructose: 5.73},
				0, 0, 0, calc.Span{Low: 3.3, High: 3.7}, calc.Span{Low: 3, High: 8}),
		},
		Acids: []calc.AcidKind{
			{Listed: calc.Listed{ID: "tartaric", Name: "tartaric acid"}, MolarMass: 150.087, Groups: 2, Purity: 1, PKs: calc.TartaricPKs(), Addable: true},
			{Listed: calc.Listed{ID: "malic", Name: "malic acid"}, MolarMass: 134.087, Groups: 2, Purity: 1, PKs: calc.MalicPKs(), Addable: true},
			{Listed: calc.Listed{ID: "citric", Name: "citric acid, anhydrous"}, MolarMass: 192.124, Groups: 3, Purity: 1, PKs: calc.CitricPKs(), Addable: true},
			{Listed: calc.Listed{ID: "acetic", Name: "acetic acid"}, MolarMass: 60.052, Groups: 1, Purity: 1, PKs: calc.PKs{4.76}},
		},
		Carbonates: []calc.Carbonate{{Listed: calc.Listed{ID: "potassium_bicarbonate", Name: "potassium bicarbonate"}, MolarMass: 100.115, Equivalents: 1}},
		Nutrients: []calc.NitrogenSource{
			{Listed: calc.Listed{ID: "dap", Name: "diammonium phosphate", Aliases: []string{"DAP"}}, Nitrogen: 212.1, Most: 1},
			{Listed: calc.Listed{ID: "inactive_yeast", Name: "inactive yeast"}, Nitrogen: 40},
		},
	}
}

func some(t *testing.T, name string, mass calc.Gram) RecipeItem {
	t.Helper()
	s, err := pantry(t).FindForRecipe(name)
	if err != nil {
		t.Fatal(err)
	}
	return RecipeItem{Stuff: s, Mass: mass}
}

func figuresOf(t *testing.T, r Recipe) RecipeFigures {
	t.Helper()
	f, err := r.Figures()
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// melomel has an aim, a volume, fruit of both kinds and something held back.
func melomel(t *testing.T) Recipe {
	apple := some(t, "apple", 1500)
	apple.Crushed = true
	damson := some(t, "damson", 800)
	damson.Prepared = true
	honey := some(t, "honey", 0)
	honey.Aim, honey.Held = MustAim{SG: 1.095}, 0.4
	return Recipe{Name: "creek melomel", Drink: Mead, Items: []RecipeItem{honey, apple, damson}, Fill: 10, Yeast: HighYeast, Doses: 3, Last: 1.01}
}

// Ensure that a recipe comes to what the published table and package calc say.
func TestRecipe_Figures(t *testing.T) {
	t.Run("a pound of sugar made up to a gallon", func(t *testing.T) {
		// 119.83 g/L are 11.47 Brix and 46.1 points in the published sucrose table
		// (ICUMSA SPS-4), and over the law's 16.83 7.1 % vol.
		r, err := Recipe{Items: []RecipeItem{some(t, "white sugar", calc.GramsPerPound)}, Fill: calc.LitresPerUSGallon}.Work()
		if err != nil {
			t.Fatal(err)
		}
		f := figuresOf(t, r)
		near(t, "SG", float64(f.Whole.SG), 1.0461, 0.0001)
		near(t, "potential", float64(f.Whole.Potential), 7.1, 0.03)
		near(t, "volume", float64(f.Whole.Volume), 3.785412, 1e-6)
	})
	t.Run("the must of calc", func(t *testing.T) {
		r, err := melomel(t).Work()
		if err != nil {
			t.Fatal(err)
		}
		water, err := calc.NewLiquid(map[calc.Component]calc.Gram{calc.Water: r.Water})
		if err != nil {
			t.Fatal(err)
		}
		must, err := calc.NewMust(water.Plus(r.Items[0].Stuff.Sweetener.Ingredient.Amount(r.Items[0].Mass)),
			calc.FruitPortion{Fruit: r.Items[1].Stuff.Fruit.Fruit, Mass: 1500, Crushed: true},
			calc.FruitPortion{Fruit: r.Items[2].Stuff.Fruit.Fruit, Mass: 800, Prepared: true})
		if err != nil {
			t.Fatal(err)
		}
		want, err := must.Figures()
		if err != nil {
			t.Fatal(err)
		}
		f := figuresOf(t, r)
		if f.Whole != want {
			t.Errorf("the recipe comes to %+v, calc says %+v", f.Whole, want)
		}
		if f.First.SG >= f.Whole.SG || f.First.LateSugar != f.Whole.LateSugar {
			t.Errorf("with honey held back it begins at %v of %v, late sugar %v of %v", f.First.SG, f.Whole.SG, f.First.LateSugar, f.Whole.LateSugar)
		}
		for i, y := range f.Left[1:] {
			if y.Tolerance < f.Left[i].Tolerance || y.Figures.Sugar > f.Left[i].Figures.Sugar+1e-9 {
				t.Errorf("%s leaves %v g/L, the weaker %s %v", y.Yeast, y.Figures.Sugar, f.Left[i].Yeast, f.Left[i].Figures.Sugar)
			}
		}
		ale, ok := f.Chosen(AleYeast)
		if !ok || !ale.AtTolerance {
			t.Fatalf("ale yeast in a must of 1.095 leaves %+v", ale)
		}
		near(t, "strength at which ale yeast stops", float64(ale.Figures.Strength), 10, 0.02)
	})
	t.Run("nothing at all", func(t *testing.T) {
		if f := figuresOf(t, Recipe{Drink: Mead}); f.Whole.Volume != 0 || f.Left != nil {
			t.Errorf("nothing comes to %+v", f)
		}
	})
}

// Ensure that an ingredient is solved to its aim within half a unit of the fourth
// place, whichever way it moves the must.
func TestRecipe_SolveFor(t *testing.T) {
	dry := Recipe{Drink: Wine, Items: []RecipeItem{some(t, "white sugar", 1000), some(t, "apple", 4000), some(t, "apple juice", 2000)}, Water: 2000}
	filled := melomel(t)
	strong := Recipe{Drink: Mead, Items: []RecipeItem{some(t, "honey", 3000)}}
	for name, c := range map[string]struct {
		r   Recipe
		row int
		aim MustAim
	}{
		"sugar upward":                   {dry, 0, MustAim{SG: 1.12}},
		"sugar downward":                 {dry, 0, MustAim{SG: 1.055}},
		"juice thins":                    {dry, 2, MustAim{SG: 1.08}},
		"water thins":                    {dry, 3, MustAim{SG: 1.06}},
		"strength by sugar":              {dry, 0, MustAim{Strength: 13}},
		"honey in a volume":              {filled, 0, MustAim{SG: 1.110}},
		"fruit in a volume":              {filled.With(0, 1500), 1, MustAim{SG: 1.075}},
		"strength in a volume":           {filled, 0, MustAim{Strength: 14}},
		"water to honey alone":           {strong, 1, MustAim{SG: 1.1}},
		"water to what is no liquid yet": {Recipe{Drink: Other, Items: []RecipeItem{some(t, "white sugar", 1000)}}, 1, MustAim{SG: 1.09}},
	} {
		t.Run(name, func(t *testing.T) {
			r, err := c.r.SolveFor(c.row, c.aim)
			if err != nil {
				t.Fatal(err)
			}
			f := figuresOf(t, r)
			if c.aim.SG != 0 {
				near(t, "SG", float64(f.Whole.SGAllOut), float64(c.aim.SG), 0.00005)
			} else {
				near(t, "potential", float64(f.Whole.Potential), float64(c.aim.Strength), 0.0005)
			}
			if r.Fill != 0 {
				near(t, "volume", float64(f.Whole.Volume), float64(r.Fill), 1e-6)
			}
			again, err := r.Work()
			if err != nil || math.Abs(float64(again.Water-r.Water)) > 1e-3 {
				t.Errorf("worked out again it has %v g of water, %v; had %v", again.Water, err, r.Water)
			}
		})
	}
	for name, c := range map[string]struct {
		r   Recipe
		row int
		aim MustAim
	}{
		"apples make no 1.200":            {dry, 1, MustAim{SG: 1.2}},
		"water makes nothing stronger":    {dry, 3, MustAim{SG: 1.2}},
		"no room for so much":             {filled.FilledTo(3), 0, MustAim{SG: 1.2}},
		"more than it is with none of it": {Recipe{Items: []RecipeItem{some(t, "honey", 0), some(t, "white sugar", 1000)}, Water: 4000}, 0, MustAim{SG: 1.02}},
	} {
		t.Run(name, func(t *testing.T) {
			r, err := c.r.SolveFor(c.row, c.aim)
			if !errors.Is(err, calc.ErrUnreachable) {
				t.Fatalf("SolveFor = %+v, %v; want an error that wraps ErrUnreachable", r, err)
			}
		})
	}
}

// Ensure that only one ingredient has an aim, and that moving it by hand ends that.
func TestRecipe_Aims(t *testing.T) {
	r := melomel(t)
	if r = r.AimedAt(1, MustAim{SG: 1.08}); r.Items[0].Aim.Set() || !r.Items[1].Aim.Set() {
		t.Errorf("two aims at once: %+v", r.Items)
	}
	if r = r.With(1, 100); r.Items[1].Aim.Set() || r.Fill != 10 {
		t.Errorf("an amount leaves %+v, %v L", r.Items[1], r.Fill)
	}
	if r = r.With(3, 5000); r.Fill != 0 || r.Water != 5000 {
		t.Errorf("5 kg of water leave %v L to fill, %v g of water", r.Fill, r.Water)
	}
	before := melomel(t)
	before.With(0, 1)
	before.AimedAt(0, MustAim{})
	if before.Items[0].Aim.SG != 1.095 {
		t.Error("a change reached back into the recipe it was made from")
	}
}

// Ensure that scaling multiplies every mass and leaves gravity where it is.
func TestRecipe_Scaled(t *testing.T) {
	r, err := melomel(t).Work()
	if err != nil {
		t.Fatal(err)
	}
	before := figuresOf(t, r)
	for _, to := range []calc.Litre{0.5, 4.6, 10, 23, 1000} {
		s, err := r.Scaled(to)
		if err != nil {
			t.Fatal(err)
		}
		k := float64(to / before.Whole.Volume)
		for i := range r.Items {
			near(t, "mass over mass", float64(s.Items[i].Mass/r.Items[i].Mass), k, 1e-9*k)
		}
		near(t, "water over water", float64(s.Water/r.Water), k, 1e-9*k)
		f := figuresOf(t, s)
		near(t, "SG", float64(f.Whole.SG), float64(before.Whole.SG), 1e-9)
		near(t, "first SG", float64(f.First.SG), float64(before.First.SG), 1e-9)
		near(t, "volume", float64(f.Whole.Volume), float64(to), 1e-6*float64(to))
		again, err := s.Work()
		if err != nil {
			t.Fatal(err)
		}
		near(t, "SG worked out anew", float64(figuresOf(t, again).Whole.SGAllOut), float64(before.Whole.SGAllOut), 1e-7)
	}
	if _, err := r.Scaled(0); !errors.Is(err, ErrInvalid) {
		t.Errorf("scaled to nothing: %v", err)
	}
	if _, err := (Recipe{Water: 0}).Scaled(10); !errors.Is(err, ErrInvalid) {
		t.Errorf("nothing scaled: %v", err)
	}
}

// Ensure that what is held back comes back in doses, all of it, at marks that fall.
func TestRecipe_Feeds(t *testing.T) {
	r, err := melomel(t).Work()
	if err != nil {
		t.Fatal(err)
	}
	doses, err := r.Feeds(1.09)
	if err != nil || len(doses) != 3 {
		t.Fatalf("Feeds = %+v, %v", doses, err)
	}
	var sum calc.Gram
	for i, want := range []float64{1.0633, 1.0367, 1.01} {
		near(t, "mark", float64(doses[i].Mark), want, 0.0001)
		sum += doses[i].Parts[0].Mass
	}
	near(t, "fed", float64(sum), float64(r.Items[0].Mass)*0.4, 1e-6)
	if _, err := r.Feeds(1.005); !errors.Is(err, ErrInvalid) {
		t.Errorf("a must below the last mark: %v", err)
	}
	if r, err = r.HoldingBack(0, Holding{}); err != nil || r.Doses != 0 || r.Items[0].Held != 0 {
		t.Errorf("nothing held back is %+v, %v", r, err)
	}
	if _, err := r.HoldingBack(1, Holding{Share: 0.5, Doses: 2, Last: 1.01}); !errors.Is(err, ErrInvalid) {
		t.Errorf("fruit held back: %v", err)
	}
	if all := melomel(t).Without(0); all.Doses != 0 || len(all.Items) != 2 || all.Validate() != nil {
		t.Errorf("without what was held back: %+v, %v", all, all.Validate())
	}
}

func TestParseHolding(t *testing.T) {
	for text, want := range map[string]Holding{
		"40% in 3 at 1.010": {0.4, 3, 1.01}, "25%": {0.25, 1, 1.01}, "50 in 2": {0.5, 2, 1.01}, "30% 4 1.02": {0.3, 4, 1.02}, "0": {}, "0%": {},
	} {
		if got, err := ParseHolding(text); err != nil || got != want {
			t.Errorf("ParseHolding(%q) = %+v, %v; want %+v", text, got, err, want)
		}
		if again, err := ParseHolding(want.Text()); err != nil || again != want {
			t.Errorf("%q of %+v is read as %+v, %v", want.Text(), want, again, err)
		}
	}
	for _, text := range []string{"", "half", "95%", "-3", "40% in 9", "40% in 0", "40% at 1.2", "40% often", "nan"} {
		if got, err := ParseHolding(text); !errors.Is(err, ErrInvalid) {
			t.Errorf("ParseHolding(%q) = %+v, %v", text, got, err)
		}
	}
}

func TestParseWish(t *testing.T) {
	for text, want := range map[string]Wish{
		"1.5kg": {Mass: 1500}, "2 lb": {Mass: 2 * calc.GramsPerPound}, "0g": {},
		"19L": {Fill: 19}, "5 gal": {Fill: 5 * calc.LitresPerUSGallon},
		"1.095": {Aim: MustAim{SG: 1.095}}, "1095": {Aim: MustAim{SG: 1.095}}, "12%": {Aim: MustAim{Strength: 12}}, "12.5 % vol": {Aim: MustAim{Strength: 12.5}},
	} {
		if got, err := ParseWish(text); err != nil || math.Abs(float64(got.Aim.SG-want.Aim.SG)) > 1e-9 || got.Mass != want.Mass || got.Fill != want.Fill || got.Aim.Strength != want.Aim.Strength {
			t.Errorf("ParseWish(%q) = %+v, %v; want %+v", text, got, err, want)
		}
	}
	if got, err := ParseWish("24bx"); err != nil || math.Abs(float64(got.Aim.SG)-1.1011) > 0.0002 { // ICUMSA SPS-4
		t.Errorf("24 Brix is %+v, %v", got, err)
	}
	for _, text := range []string{"", "34", "1.3", "0.99", "99%", "0%", "0L", "lots", "-1kg", "1.095 ph3"} {
		if got, err := ParseWish(text); !errors.Is(err, ErrInvalid) {
			t.Errorf("ParseWish(%q) = %+v, %v", text, got, err)
		}
	}
}

func FuzzParseWish(f *testing.F) {
	for _, s := range []string{"1.5kg", "12%", "19L", "1.095", "24bx", "", "1e400kg"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		w, err := ParseWish(text)
		if err != nil {
			return
		}
		if again, err := ParseWish(w.Aim.Text()); w.Aim.Set() && (err != nil || again.Aim != w.Aim) {
			t.Errorf("%q of %q is read as %+v, %v", w.Aim.Text(), text, again, err)
		}
	})
}

// Ensure that the guess of nitrogen says what it does not know.
func TestRecipe_Nitrogen(t *testing.T) {
	r := Recipe{Drink: Mead, Items: []RecipeItem{some(t, "honey", 2970)}, Fill: 10}
	f := func(r Recipe) NitrogenGuess {
		w, err := r.Work()
		if err != nil {
			t.Fatal(err)
		}
		return figuresOf(t, w).Nitrogen
	}
	// 297 g/L are the 22.5 Brix of which reviews tell 10 to 50 mg/L.
	if g := f(r); math.Abs(g.Low-10) > 0.2 || math.Abs(g.High-50) > 0.2 || g.Unknown != nil {
		t.Errorf("a honey must has %+v", g)
	}
	if g := f(r.Plus(some(t, "damson", 1000)).Plus(some(t, "golden syrup", 100)).Plus(some(t, "white sugar", 100))); !slices.Equal(g.Unknown, []string{"damson", "golden syrup"}) {
		t.Errorf("with damsons, syrup and sugar it has %+v", g)
	}
	if g := f(Recipe{Drink: Cider, Items: []RecipeItem{some(t, "apple juice", 5000)}}); math.Abs(g.Low-50) > 1e-9 || math.Abs(g.High-150) > 1e-9 {
		t.Errorf("apple juice has %+v, want 50 to 150 mg/L", g)
	}
	// 22.5 Brix times 0.9 mg per gram of extract, 246 g/L: 221 mg/L.
	w, err := r.Work()
	if err != nil {
		t.Fatal(err)
	}
	if want, ok := figuresOf(t, w).NitrogenWanted(calc.MediumNeed); !ok || math.Abs(float64(want)-221) > 3 {
		t.Errorf("it wants %v, %v", want, ok)
	}
}

func TestRecipe_Fit(t *testing.T) {
	r, err := melomel(t).Work()
	if err != nil {
		t.Fatal(err)
	}
	f := figuresOf(t, r)
	for capacity, want := range map[calc.Litre]Fit{15: Fits, 11: Tight, 10: Tight, 9.9: TooMuch} {
		if got := f.Fit(Vessel{Capacity: capacity}); got != want {
			t.Errorf("10 L in %v L: %v, want %v", capacity, got, want)
		}
	}
	for _, capacity := range []calc.Litre{5, 15, 23} {
		v := Vessel{Capacity: capacity}
		s, err := r.Scaled(RoomFor(v))
		if err != nil {
			t.Fatal(err)
		}
		if got := figuresOf(t, s).Fit(v); got != Fits {
			t.Errorf("scaled to what %v L have room for, it is %v", capacity, got)
		}
	}
	if !f.Sour() || f.Flat() == (f.PH.High <= 3.8) {
		t.Errorf("damsons of pH 2.9 give %+v: sour %v, flat %v", f.PH, f.Sour(), f.Flat())
	}
}

func TestRecipe_CostAndCautions(t *testing.T) {
	r := Recipe{Items: []RecipeItem{some(t, "honey", 1500), some(t, "honey", 500), some(t, "apple", 2000), some(t, "damson", 0)}, Water: 9000}
	cost, unknown := r.Cost(Prices{"honey_average": 10, "damson": 3})
	if cost != 20 || !slices.Equal(unknown, []string{"apple"}) {
		t.Errorf("it costs %v, %v not known", cost, unknown)
	}
	if all := r.Cautions(); len(all) != 1 || !strings.HasPrefix(all[0], "honey: Not for children") {
		t.Errorf("cautions %q", all)
	}
}

func TestRecipe_Validate(t *testing.T) {
	if err := melomel(t).Validate(); err != nil {
		t.Fatal(err)
	}
	for name, break_ := range map[string]func(*Recipe){
		"no name":                 func(r *Recipe) { r.Name = " " },
		"a bell":                  func(r *Recipe) { r.Name = "a\ab" },
		"no such drink":           func(r *Recipe) { r.Drink = "tea" },
		"nothing in it":           func(r *Recipe) { r.Items = nil },
		"a mass that cannot be":   func(r *Recipe) { r.Items[0].Mass = calc.Gram(math.NaN()) },
		"water that cannot be":    func(r *Recipe) { r.Water = -1 },
		"no such yeast":           func(r *Recipe) { r.Yeast = "rat" },
		"a tolerance too high":    func(r *Recipe) { r.Tolerance = 30 },
		"fruit held back":         func(r *Recipe) { r.Items[1].Held = 0.5 },
		"all held back":           func(r *Recipe) { r.Items[0].Held = 1 },
		"doses of nothing":        func(r *Recipe) { r.Items[0].Held = 0 },
		"no mark":                 func(r *Recipe) { r.Last = 0 },
		"a volume that cannot be": func(r *Recipe) { r.Fill = calc.Litre(math.Inf(1)) },
	} {
		r := melomel(t)
		break_(&r)
		if err := r.Validate(); !errors.Is(err, ErrInvalid) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestLarder_Matching(t *testing.T) {
	names := func(all []Stuff) (out []string) {
		for _, s := range all {
			out = append(out, s.Name())
		}
		return out
	}
	l := pantry(t)
	if got := names(l.Matching("apple")); !slices.Equal(got, []string{"apple", "apple juice"}) {
		t.Errorf("apple matches %q", got)
	}
	if got := names(l.Matching("sugar")); !slices.Equal(got, []string{"white sugar"}) {
		t.Errorf("sugar matches %q", got)
	}
	if got := names(l.Matching("phosphate")); !slices.Equal(got, []string{"diammonium phosphate"}) {
		t.Errorf("phosphate matches %q", got)
	}
	if got := names(l.Matching("acid")); !slices.Equal(got, []string{"tartaric acid", "malic acid", "citric acid, anhydrous"}) {
		t.Errorf("acid matches %q", got)
	}
	if got := l.Matching(""); len(got) != 12 {
		t.Errorf("no words match %d things", len(got))
	}
}

// near fails unless got is within slack of want.
func near(t *testing.T, what string, got, want, slack float64) {
	t.Helper()
	if !(math.Abs(got-want) <= slack) {
		t.Errorf("%s = %v, want %v ± %v", what, got, want, slack)
	}
}
