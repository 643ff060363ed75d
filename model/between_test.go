package model_test

import (
	"math"
	"strings"
	"testing"
	"time"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

var (
	madeAt  = time.Date(2026, time.March, 1, 18, 0, 0, 0, time.UTC)
	laterAt = madeAt.AddDate(0, 1, 0)
)

// fermented returns a batch of v litres that went from og to fg.
func fermented(t *testing.T, id model.BatchID, name string, v calc.Litre, og, fg calc.SG) model.Batch {
	t.Helper()
	read := model.Reading{Gravity: fg, Scale: model.ScaleSG, Calibration: model.DefaultCalibration}
	b := model.Batch{ID: id, Name: name, Drink: model.Wine}.With(
		model.Entry{At: madeAt, Body: model.Must{Vessel: model.VesselID(id), Volume: v, Gravity: og}},
		model.Entry{At: madeAt, Body: model.Pitch{Yeast: model.WineYeast}},
		model.Entry{At: madeAt.AddDate(0, 0, 20), Body: read})
	stateOf(t, b)
	return b
}

func stateOf(t *testing.T, b model.Batch) model.State {
	t.Helper()
	s, err := model.Replay(b, laterAt.AddDate(1, 0, 0))
	if err != nil {
		t.Fatalf("%s: %v", b.Name, err)
	}
	return s
}

// sameInAll compares what two rows of liquids hold of every component, to 1e-9.
func sameInAll(t *testing.T, what string, before, after []calc.Liquid) {
	t.Helper()
	for _, c := range calc.Components() {
		var had, has float64
		for _, l := range before {
			had += float64(l.Of(c))
		}
		for _, l := range after {
			has += float64(l.Of(c))
		}
		if math.Abs(had-has) > 1e-9*math.Max(1, had) {
			t.Errorf("%s: %.12g g of %v before, %.12g g after", what, had, c, has)
		}
	}
}

// Ensure that a split loses nothing and makes nothing, and that both parts keep
// gravity, strength, curve and first gravity.
func TestSplit(t *testing.T) {
	whole := fermented(t, 1, "Quince wine", 20, 1.095, 1.012)
	had := stateOf(t, whole)
	writings, err := model.Split(whole, "Quince wine, sweet", model.Vessel{ID: 2, Label: "N2", Capacity: 10}, 8, laterAt, laterAt)
	if err != nil {
		t.Fatal(err)
	}
	part, rest := stateOf(t, writings[0].New), stateOf(t, whole.With(writings[1].Entries...))
	sameInAll(t, "split", []calc.Liquid{had.Liquid}, []calc.Liquid{part.Liquid, rest.Liquid})
	if math.Abs(float64(part.Figures.Volume)-8) > 1e-9 {
		t.Errorf("the part holds %v L, want 8", part.Figures.Volume)
	}
	for _, s := range []model.State{part, rest} {
		if s.Original != had.Original || math.Abs(float64(s.Strength-had.Strength)) > 1e-9 || s.SG() != had.SG() {
			t.Errorf("a part has %.4f, %.4f, %.6f %%; want %.4f, %.4f, %.6f %%", float64(s.Original), float64(s.SG()),
				float64(s.Strength), float64(had.Original), float64(had.SG()), float64(had.Strength))
		}
	}
	if part.Vessel != 2 || rest.Vessel != 1 {
		t.Errorf("they are in vessels %d and %d, want 2 and 1", part.Vessel, rest.Vessel)
	}
	for name, volume := range map[string]calc.Litre{"out of": 21, "does not fit": 12} {
		if _, err := model.Split(whole, "x", model.Vessel{ID: 2, Label: "N2", Capacity: 10}, volume, laterAt, laterAt); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("splitting %v L off 20 into 10: %v, want a word of %q", volume, err, name)
		}
	}
}

// Ensure that pouring one batch into another loses nothing, blends by mass, and keeps
// strength where the classic square has it.
func TestPourOver(t *testing.T) {
	strong := fermented(t, 1, "Plum wine", 10, 1.115, 1.000)
	weak := fermented(t, 2, "Windfall perry", 30, 1.050, 1.000)
	a, b := stateOf(t, strong), stateOf(t, weak)
	writings, err := model.PourOver(strong, weak, 4, laterAt, laterAt)
	if err != nil {
		t.Fatal(err)
	}
	blend, rest := stateOf(t, weak.With(writings[0].Entries...)), stateOf(t, strong.With(writings[1].Entries...))
	sameInAll(t, "pour", []calc.Liquid{a.Liquid, b.Liquid}, []calc.Liquid{blend.Liquid, rest.Liquid})

	// By mass: the share of ethanol is the mean of the shares, weighted by the masses.
	poured := a.Liquid.Scaled(4 / float64(a.Figures.Volume))
	share := func(l calc.Liquid) float64 { return float64(l.Of(calc.Ethanol) / l.Mass()) }
	want := (share(poured)*float64(poured.Mass()) + share(b.Liquid)*float64(b.Liquid.Mass())) / float64(poured.Mass()+b.Liquid.Mass())
	if got := share(blend.Liquid); math.Abs(got-want) > 1e-12 {
		t.Errorf("share of ethanol %.12f, want %.12f", got, want)
	}
}

// Ensure that the square of the blender comes out: to make 12 % of 15 % and 10 %, take
// 2 parts of the stronger (12 - 10) to 3 of the weaker (15 - 12). Common practice in
// winemaking handbooks. The square neglects contraction, which is below 0.02 % vol here.
func TestPourOver_Square(t *testing.T) {
	drink := func(id model.BatchID, abv calc.PercentVol, v calc.Litre) model.Batch {
		l, err := calc.LiquidOf(v, 0.995, abv, calc.GrapeSolids())
		if err != nil {
			t.Fatal(err)
		}
		spill := model.Batch{ID: id, Name: "Wine", Drink: model.Wine}.With(
			model.Entry{At: madeAt, Body: model.Must{Vessel: 1, Volume: 0.05, Gravity: 1.05}},
			model.Entry{At: madeAt, Body: model.Pour{Name: "from a friend", Liquid: l}})
		return spill
	}
	strong, weak := drink(1, 15, 200), drink(2, 10, 300)
	s := stateOf(t, strong)
	writings, err := model.PourOver(strong, weak, s.Figures.Volume, laterAt, laterAt)
	if err != nil {
		t.Fatal(err)
	}
	blend := stateOf(t, weak.With(writings[0].Entries...))
	if math.Abs(float64(blend.Strength)-12) > 0.03 {
		t.Errorf("2 parts of 15 %% and 3 of 10 %% make %.3f %%, want 12.00 ± 0.03", float64(blend.Strength))
	}
	gone := stateOf(t, strong.With(writings[1].Entries...))
	if gone.Vessel != 0 || gone.Standing != model.Empty {
		t.Errorf("after the last of it was poured away it is %s in vessel %d", gone.Standing, gone.Vessel)
	}
}

// Ensure that racking and topping up with water keep sugar and alcohol in grams.
func TestTopUp_Water(t *testing.T) {
	b := fermented(t, 1, "Damson wine", 20, 1.095, 1.012)
	racked := b.With(model.Entry{At: laterAt, Body: model.Rack{To: 2, Volume: 18}})
	was := stateOf(t, racked)
	sameInAll(t, "rack", []calc.Liquid{stateOf(t, b).Liquid.Scaled(18 / float64(stateOf(t, b).Figures.Volume))}, []calc.Liquid{was.Liquid})
	is := stateOf(t, racked.With(model.Entry{At: laterAt, Body: model.TopUp(2000)}))
	for _, c := range calc.Components() {
		want := was.Liquid.Of(c)
		if c == calc.Water {
			want += 2000
		}
		if got := is.Liquid.Of(c); math.Abs(float64(got-want)) > 1e-9*math.Max(1, float64(want)) {
			t.Errorf("%v: %v g, want %v", c, got, want)
		}
	}
}

// Ensure that a level read on the vessel changes how much there is, not what it is; and
// that one which cannot be is refused.
func TestReplay_Level(t *testing.T) {
	b := fermented(t, 1, "Damson wine", 20, 1.095, 1.012)
	was := stateOf(t, b)
	is := stateOf(t, b.With(model.Entry{At: laterAt, Body: model.Reading{Level: 18}}))
	if math.Abs(float64(is.Figures.Volume)-18) > 1e-9 || math.Abs(float64(is.Strength-was.Strength)) > 1e-9 || is.SG() != was.SG() {
		t.Errorf("%v L at %.4f, %v; want 18 L at %.4f, %v", is.Figures.Volume, float64(is.SG()), is.Strength, float64(was.SG()), was.Strength)
	}
	if _, err := model.Replay(b.With(model.Entry{At: laterAt, Body: model.Reading{Level: 5}}), laterAt); err == nil {
		t.Error("a level of 5 L where there are 20 is taken")
	}
}

// Ensure that no more bottles are taken than were filled, and that nothing is drawn
// from a vessel that is empty.
func TestReplay_TakenAndGone(t *testing.T) {
	b := fermented(t, 1, "Damson wine", 20, 1.095, 0.996).With(model.Entry{At: laterAt, Body: model.Bottle{Count: 25, Size: 0.75}})
	s := stateOf(t, b.With(model.Entry{At: laterAt.AddDate(0, 6, 0), Body: model.Tasted{Bottles: 2, Marked: true, Mark: 7}}))
	if s.Bottles != 25 || s.Taken != 2 {
		t.Errorf("%d taken of %d, want 2 of 25", s.Taken, s.Bottles)
	}
	for name, body := range map[string]model.Body{
		"26 bottles taken out of 25": model.Tasted{Bottles: 26},
		"bottled before":             model.Draw{Volume: 1},
	} {
		if _, err := model.Replay(b.With(model.Entry{At: laterAt, Body: body}), laterAt); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%#v: %v, want a word of %q", body, err, name)
		}
	}
}

// Ensure that drink poured out from over fruit is what stood there, juice and all: the
// two sides of the pour agree to the last gram.
func TestPourOver_Fruit(t *testing.T) {
	juice, err := calc.NewLiquid(map[calc.Component]calc.Gram{calc.Water: 0.85, calc.Glucose: 0.05, calc.Fructose: 0.05})
	if err != nil {
		t.Fatal(err)
	}
	damson := calc.Fruit{Name: "damson", Juice: juice, Pulp: 0.05, HalfTime: 48 * time.Hour}
	over := fermented(t, 1, "Damson wine", 10, 1.080, 1.010).With(
		model.Entry{At: madeAt.AddDate(0, 0, 25), Body: model.Fruited{Portion: calc.FruitPortion{Fruit: damson, Mass: 2000}}})
	into := fermented(t, 2, "Quince wine", 10, 1.080, 1.010)
	writings, err := model.PourOver(over, into, 3, laterAt, laterAt)
	if err != nil {
		t.Fatal(err)
	}
	// Yeast changes nothing in the glass, but whoever pitches looks at what is there.
	there := stateOf(t, over.With(model.Entry{At: laterAt, Body: model.Pitch{Yeast: model.WineYeast}}))
	if there.Liquid.Sugar() <= stateOf(t, over).Liquid.Sugar() {
		t.Fatal("no juice came out of the fruit")
	}
	after, err := model.Becomes(writings, laterAt, over, into)
	if err != nil {
		t.Fatal(err)
	}
	sameInAll(t, "pour from over fruit", []calc.Liquid{there.Liquid, stateOf(t, into).Liquid}, []calc.Liquid{after[0].Liquid, after[1].Liquid})
}

// Ensure that water is known by volume and by mass where something is stirred in. At
// 20 °C a litre weighs 998.2 g (Tanaka et al., Metrologia 38, 2001).
func TestParsePortion_Water(t *testing.T) {
	for text, want := range map[string]calc.Gram{"water 2L": 1996.4, "500 mL water": 499.1, "water 500g": 500} {
		name, mass, err := model.ParsePortion(text)
		if err != nil || name != "water" || math.Abs(float64(mass-want)) > 0.05 {
			t.Errorf("ParsePortion(%q) = %q, %v, %v; want %v g of water", text, name, mass, err, want)
		}
	}
	if _, _, err := model.ParsePortion("honey 2L"); err == nil {
		t.Error("honey is taken by volume, whose mass nobody knows")
	}
	sw, err := model.NamedSweetener(nil, "Water")
	if err != nil || sw.Ingredient.PerGram.Of(calc.Water) != 1 {
		t.Errorf("NamedSweetener water: %v, %v", sw, err)
	}
}
