package calc

import (
	"errors"
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// honey is the average of 490 US honeys (White 1962).
func honey(t testing.TB) Ingredient {
	t.Helper()
	i, err := NewIngredient("honey", map[Component]Gram{
		Water: 17.2, Sucrose: 1.31, Glucose: 31.28, Fructose: 38.19, Maltose: 7.31, Acid: 0.57, OtherSolids: 4.14})
	if err != nil {
		t.Fatal(err)
	}
	return i
}

// Ensure that a grape must comes to the potential strength that the law prints for it.
func TestMust_GrapeTable(t *testing.T) {
	// French order of 14 September 2011, annex IV. Its column of sugar per litre of a
	// must of printed density is made up from water and sugars alone; strength is
	// printed to 0.01 and sugar to 0.1.
	for _, row := range readTable(t, "grape-must-refractometer.csv") {
		sugar := number(t, row, "sugar_g_L")
		half := Gram(sugar / 2)
		l, err := NewLiquid(map[Component]Gram{Glucose: half, Fructose: half})
		wantNoError(t, err)
		m, err := NewMust(l)
		wantNoError(t, err)
		m, err = m.MadeUpTo(1)
		wantNoError(t, err)
		f := mustFigures(t, m)
		wantNear(t, "sugar", row["refractometer_brix"], float64(f.Sugar), sugar, 1e-6)
		wantNear(t, "Potential", sugar, float64(f.Potential), number(t, row, "potential_abv_16_83"), 0.011)
	}
	// And a must of 20 Brix by the ledger's own make-up of grapes: 11.40 % vol, its
	// density 1.0818 where the sugar scale says 1.0810.
	l, err := LiquidOf(1, 1.0818/0.998201, 0, GrapeSolids())
	wantNoError(t, err)
	m, err := NewMust(l)
	wantNoError(t, err)
	wantNear(t, "Potential", "20 Brix", float64(mustFigures(t, m).Potential), 11.40, 0.15)
}

// Ensure that fruit gives what its analysis says: late, without its stones, and with
// pulp that takes room but no gravity.
func TestMust_Figures(t *testing.T) {
	const kg = 1000
	t.Run("of honey and crushed blackcurrants", func(t *testing.T) {
		// 490 g without stalks hold 6.69 % sugar, 32.781 g; two fifths of it come late.
		m, err := NewMust(honey(t).Amount(1.5*kg), FruitPortion{Fruit: blackcurrant(t), Mass: 500, Crushed: true})
		wantNoError(t, err)
		m, err = m.MadeUpTo(4.5)
		wantNoError(t, err)
		f := mustFigures(t, m)
		wantNear(t, "volume", "", float64(f.Volume), 4.5, 1e-9)
		wantNear(t, "late sugar", "", float64(f.LateSugar), 13.1124, 1e-6)
		wantNear(t, "pulp", "", float64(m.Pulp()), 53.949, 1e-6)
		wantNear(t, "drink", "", float64(f.Volume-f.Drink), 53.949/1500, 1e-9)
		sugar := 1500*0.7809 + 32.781
		wantNear(t, "sugar", "", float64(f.Sugar), sugar/float64(f.Drink), 1e-6)
		wantNear(t, "potential", "", float64(f.Potential), sugar/float64(f.Drink)/16.83, 1e-6)
		wantNear(t, "unfermentable", "", float64(f.Unfermentable), 1500*0.0471+490*0.049, 1e-6)
		if !(f.SG > f.SGAllOut) {
			t.Errorf("thin juice arriving takes %v to %v, want down", f.SG, f.SGAllOut)
		}
	})
	t.Run("of whole fruit is that of what was poured, at first", func(t *testing.T) {
		poured := plainWater(t, 4).Plus(honey(t).Amount(kg))
		m, err := NewMust(poured, FruitPortion{Fruit: plum(t), Mass: 2 * kg})
		wantNoError(t, err)
		f := mustFigures(t, m)
		wantNear(t, "SG", "", float64(f.SG), float64(figures(t, poured).SG), 1e-12)
		wantNear(t, "late sugar", "", float64(f.LateSugar), 2*92.026*1, 1e-6)
		wantNear(t, "volume", "", float64(f.Volume), float64(f.Drink)+1880*0.0112/1500, 1e-9)
	})
	t.Run("of fruit alone has no gravity until the juice comes", func(t *testing.T) {
		m, err := NewMust(Liquid{}, FruitPortion{Fruit: plum(t), Mass: kg})
		wantNoError(t, err)
		f := mustFigures(t, m)
		if f.SG != 0 || !(f.SGAllOut > 1.03) {
			t.Errorf("SG %v and %v with all juice out", f.SG, f.SGAllOut)
		}
		// 9.79 % of sugar and 1.86 % of the rest in juice of 98.88 %: 11.8 Brix, the
		// estimate of the fruit table.
		b, err := BrixOfSG(f.SGAllOut)
		wantNoError(t, err)
		wantNear(t, "Brix of the juice", "plum", float64(b), 11.8, 0.05)
	})
	t.Run("counts only what ferments towards strength", func(t *testing.T) {
		l, err := NewLiquid(map[Component]Gram{Lactose: 100, Dextrin: 50, Erythritol: 20, Sucrose: 16.83})
		wantNoError(t, err)
		m, err := NewMust(l)
		wantNoError(t, err)
		m, err = m.MadeUpTo(1)
		wantNoError(t, err)
		f := mustFigures(t, m)
		wantNear(t, "potential", "", float64(f.Potential), 1, 1e-8)
		wantNear(t, "sugar", "", float64(f.Sugar), 116.83, 1e-6)
		wantNear(t, "unfermentable", "", float64(f.Unfermentable), 170, 1e-9)
	})
	t.Run("names starch as no sugar", func(t *testing.T) {
		m, err := NewMust(plainWater(t, 5), FruitPortion{Fruit: potato(t), Mass: kg, Prepared: true})
		wantNoError(t, err)
		f := mustFigures(t, m)
		wantNear(t, "starch", "", float64(f.Starch), 154.4, 1e-9)
		wantNear(t, "room for the pulp", "", float64(m.PulpVolume()), 172.0/1500, 1e-12)
		if f.Potential > 0.1 {
			t.Errorf("a kilogram of potatoes promises %v %% vol", f.Potential)
		}
	})
	t.Run("of raisins needs water", func(t *testing.T) {
		raisins := FruitPortion{Fruit: raisin(t), Mass: kg}
		m, err := NewMust(Liquid{}, raisins)
		wantNoError(t, err)
		// 84.6 parts of 100, less the pulp, are 83.6 % dissolved: just a syrup.
		if f, err := m.Figures(); err != nil || f.SGAllOut < 1.4 {
			t.Errorf("dry raisins: %+v, %v", f, err)
		}
		dry, err := NewIngredient("sugar", map[Component]Gram{Sucrose: 1})
		wantNoError(t, err)
		if f, err := m.Plus(dry.Amount(100)).Figures(); !errors.Is(err, ErrOutOfRange) || f != (MustFigures{}) {
			t.Errorf("raisins and sugar: %+v, %v, want ErrOutOfRange", f, err)
		}
		f := mustFigures(t, m.Plus(plainWater(t, 4.5)))
		wantNear(t, "potential of 1 kg in 4.5 L", "", float64(f.Potential), 578.8/5.139/16.83, 0.03)
	})
	t.Run("of nothing is nothing", func(t *testing.T) {
		if f, err := (Must{}).Figures(); err != nil || f != (MustFigures{}) {
			t.Errorf("%+v, %v", f, err)
		}
	})
}

// Ensure that juice on its way is neither lost nor made.
func TestMust_After(t *testing.T) {
	t.Run("keeps every gram", rapid.MakeCheck(func(t *rapid.T) {
		m, edible := drawMust(t)
		d := time.Duration(rapid.Int64Range(0, int64(3000*time.Hour)).Draw(t, "after"))
		free, inside := m.After(d)
		all := m.AllOut()
		both := free.Plus(inside)
		for _, c := range Components() {
			near(t, c.String(), float64(both.Of(c)), float64(all.Of(c)), 1e-9*float64(all.Mass()))
		}
		near(t, "mass", float64(all.Mass()+m.Pulp()), float64(m.poured.Mass()+edible), 1e-9*float64(all.Mass()))
		later, _ := m.After(d + time.Hour)
		if later.Mass() < free.Mass()*(1-1e-12) {
			t.Fatalf("%v g free after %v, %v an hour later", free.Mass(), d, later.Mass())
		}
	}))
	t.Run("does not change what was given", func(t *testing.T) {
		portions := []FruitPortion{{Fruit: plum(t), Mass: 1000}}
		m, err := NewMust(Liquid{}, portions...)
		wantNoError(t, err)
		portions[0].Mass = 1
		wantNear(t, "mass", "", float64(m.AllOut().Mass()+m.Pulp()), 940, 1e-9)
	})
}

// Ensure that made up to a volume means the vessel's volume, pulp and all.
func TestMust_MadeUpTo(t *testing.T) {
	t.Run("fills the vessel", rapid.MakeCheck(func(t *rapid.T) {
		m, _ := drawMust(t)
		f, err := m.Figures()
		if err != nil {
			t.Fatal(err)
		}
		v := f.Volume * Litre(rapid.Float64Range(1.0001, 20).Draw(t, "times"))
		full, err := m.MadeUpTo(v)
		if err != nil {
			t.Fatal(err)
		}
		got, err := full.Figures()
		if err != nil {
			t.Fatal(err)
		}
		near(t, "volume", float64(got.Volume), float64(v), 1e-9*float64(v))
		near(t, "extract", float64(full.AllOut().Extract()), float64(m.AllOut().Extract()), 1e-9*float64(f.Drink)*1000)
		if got.SGAllOut > max(1, f.SGAllOut)+1e-9 { // water makes what alcohol made light heavier
			t.Fatalf("water raises %v to %v", f.SGAllOut, got.SGAllOut)
		}
	}))
	t.Run("is less gravity than added to", func(t *testing.T) {
		// Half a pound of honey made up to a US gallon: 19 points, 47 g/L of sugar
		// (sweetener notes).
		const gallon = LitresPerUSGallon
		m, err := NewMust(honey(t).Amount(GramsPerPound / 2))
		wantNoError(t, err)
		made, err := m.MadeUpTo(gallon)
		wantNoError(t, err)
		f := mustFigures(t, made)
		wantNear(t, "points", "1/2 lb", f.SG.Points(), 19, 0.25)
		wantNear(t, "sugar", "1/2 lb", float64(f.Sugar), 47, 0.5)
		wantNear(t, "potential", "1/2 lb", float64(f.Potential), 2.65, 0.16)
		added := mustFigures(t, m.Plus(plainWater(t, gallon)))
		if !(added.SG < f.SG && added.Volume > gallon) {
			t.Errorf("added to a gallon: %v in %v L, made up to it %v", added.SG, added.Volume, f.SG)
		}
	})
	t.Run("refuses what does not fit", func(t *testing.T) {
		m, err := NewMust(Liquid{}, FruitPortion{Fruit: potato(t), Mass: 10000})
		wantNoError(t, err)
		for _, v := range []Litre{0.5, 5} { // the pulp alone is 0.86 L, with its juice 7
			if _, err := m.MadeUpTo(v); !errors.Is(err, ErrUnreachable) {
				t.Errorf("10 kg of potatoes in %v L: error %v", v, err)
			}
		}
		checkRange(t, 0, 1e6, 1, func(x float64) error {
			_, err := (Must{}).MadeUpTo(Litre(x))
			return err
		})
	})
}

// Ensure that a portion that cannot be is refused by name.
func TestNewMust(t *testing.T) {
	checkRange(t, 0, 1e9, 1, func(x float64) error {
		_, err := NewMust(Liquid{}, FruitPortion{Fruit: plum(t), Mass: Gram(x)})
		return err
	})
}

func FuzzMust(f *testing.F) {
	for _, x := range awkward {
		f.Add(x, 0.1, 500.0, 5.0, int64(0))
		f.Add(10.0, x, 500.0, 5.0, int64(1)<<60)
		f.Add(10.0, 0.1, x, 5.0, int64(-1))
		f.Add(10.0, 0.1, 500.0, x, int64(1))
	}
	f.Fuzz(func(t *testing.T, sugar, refuse, mass, litres float64, after int64) {
		if tiny := 1e-9; sugar > 0 && sugar < tiny || mass > 0 && mass < tiny {
			return // a billionth of a gram is no portion
		}
		fruit := newFruit(t, map[Component]Gram{Water: 85, Fructose: 9}, 4, 1)
		fruit.Refuse, fruit.HalfTime = refuse, time.Duration(after)
		fruit.Acid, fruit.PH = Span{1, 9}, Span{3, 4}
		l, err := NewLiquid(map[Component]Gram{Sucrose: Gram(sugar)})
		if err != nil {
			return
		}
		m, err := NewMust(l, FruitPortion{Fruit: fruit, Mass: Gram(mass), Crushed: after > 5})
		if err != nil {
			return
		}
		got, err := m.Figures()
		checkResult(t, "potential", float64(got.Potential), err)
		free, inside := m.After(time.Duration(after))
		for _, l := range []Liquid{free, inside} {
			if l.Mass() > 1e-9 {
				checkLiquid(t, l)
			}
		}
		g, err := m.AcidGuess()
		checkResult(t, "AcidGuess", g.High, err)
		if p := m.PHGuess(); !(p.Low <= p.High+1e-9) || math.IsInf(p.High, 0) {
			t.Errorf("PHGuess = %+v", p)
		}
		if made, err := m.MadeUpTo(Litre(litres)); err == nil {
			got, err := made.Figures()
			if err != nil || math.Abs(float64(got.Volume)-litres) > 1e-8*litres {
				t.Errorf("made up to %v L: %+v, %v", litres, got, err)
			}
		}
	})
}

func mustFigures(t *testing.T, m Must) MustFigures {
	t.Helper()
	f, err := m.Figures()
	wantNoError(t, err)
	return f
}

// drawMust draws a must with water in it, and the mass of the fruit that went in.
func drawMust(t *rapid.T) (Must, Gram) {
	poured := drawLiquid(t, "poured")
	var portions []FruitPortion
	var edible Gram
	for range rapid.IntRange(0, 4).Draw(t, "fruit") {
		f, err := NewFruit("fruit", map[Component]Gram{
			Water:    Gram(rapid.Float64Range(20, 60).Draw(t, "water")),
			Fructose: Gram(rapid.Float64Range(0, 20).Draw(t, "sugar")),
		}, PercentMass(rapid.Float64Range(1, 15).Draw(t, "pulp")), 1)
		if err != nil {
			t.Fatal(err)
		}
		f.Refuse = rapid.Float64Range(0, 0.7).Draw(t, "refuse")
		f.HalfTime = time.Duration(rapid.IntRange(0, 100).Draw(t, "half-time")) * time.Hour
		p := FruitPortion{
			Fruit:    f,
			Mass:     poured.Mass() * Gram(rapid.Float64Range(0.001, 1).Draw(t, "share")),
			Crushed:  rapid.Bool().Draw(t, "crushed"),
			Prepared: rapid.Bool().Draw(t, "prepared"),
		}
		portions = append(portions, p)
		edible += p.Edible()
	}
	m, err := NewMust(poured, portions...)
	if err != nil {
		t.Fatal(err)
	}
	return m, edible
}
