package model

import (
	"math"
	"testing"

	"cellar.local/glassrow/calc"
)

const tareOf = 6400

// scales is a vessel as it is, whatever is written down of it.
type scales struct {
	rule   calc.Fermentation
	liquid calc.Liquid // with nothing of it fermented
	extra  calc.Gram   // on the scale and no drink: nutrients
	off    calc.Gram   // gone otherwise
}

// at returns what the vessel weighs when its drink reads sg: the liquid, the yeast on
// the bottom and the gas the drink keeps, less the vapour that went with the gas.
func (c scales) at(t *testing.T, sg calc.SG) calc.Gram {
	t.Helper()
	got, err := c.rule.ToGravity(c.liquid, sg)
	if err != nil {
		t.Fatal(err)
	}
	m := got.Liquid.Mass() + got.Yeast
	if got.CO2 > 0 {
		abv, err := got.Liquid.Strength()
		if err != nil {
			t.Fatal(err)
		}
		vapour, err := calc.VapourIn(20, abv/2)
		if err != nil {
			t.Fatal(err)
		}
		held, err := calc.ResidualCO2(20)
		if err != nil {
			t.Fatal(err)
		}
		v, err := c.liquid.Volume()
		if err != nil {
			t.Fatal(err)
		}
		kept := min(got.CO2, calc.Gram(held)*calc.Gram(v))
		m += kept - calc.Gram(vapour.Share())*(got.CO2-kept)
	}
	return tareOf + m + c.extra - c.off
}

func mustOf(t *testing.T, d Drink, v calc.Litre, sg calc.SG) scales {
	t.Helper()
	l, err := calc.LiquidOf(v, sg, 0, d.TypicalSolids())
	if err != nil {
		t.Fatal(err)
	}
	return scales{rule: d.Fermentation(), liquid: l}
}

// weighed writes down what a scale that shows grams says.
func (j *journal) weighed(day float64, m calc.Gram) *journal {
	return j.on(day, Reading{Mass: calc.Gram(math.Round(float64(m)))})
}

func lastWeighed(t *testing.T, j *journal, tare calc.Gram) (Weighing, ByScale) {
	t.Helper()
	w, ok := j.replay(t).LastWeighing()
	if !ok {
		t.Fatal("not weighed")
	}
	return w, w.With(tare)
}

// Ensure that two weighings give the gravity that the ledger would have, without a
// sample: the ledger fermented to a point, its mass taken, the gravity found again.
func TestWeighing_GravityByMass(t *testing.T) {
	for _, d := range []Drink{Mead, Wine, Cider, Beer} {
		for _, want := range []calc.SG{1.070, 1.050, 1.020} {
			v := mustOf(t, d, 18, 1.080)
			j := brew(d, 18, 1.080, WineYeast).weighed(0.01, v.at(t, 1.080)).weighed(9, v.at(t, want))
			_, got := lastWeighed(t, j, tareOf)
			wantNear(t, string(d)+" gravity", float64(got.SG), float64(want), 0.0002)
			ledger, err := v.rule.ToGravity(v.liquid, want)
			if err != nil {
				t.Fatal(err)
			}
			abv, err := ledger.Liquid.Strength()
			if err != nil {
				t.Fatal(err)
			}
			wantNear(t, string(d)+" strength", float64(got.Strength), float64(abv), 0.03)
			litres, err := ledger.Liquid.Volume()
			if err != nil {
				t.Fatal(err)
			}
			// The gas it holds, 1.7 g/L, is on the scale and no drink: 2 in 1000.
			wantNear(t, string(d)+" volume", float64(got.Volume), float64(litres), 0.05)
			if !got.Must || got.Unexplained != 0 || got.Short() != 0 {
				t.Errorf("%s: since the must %v, %v g unexplained, %v L short", d, got.Must, got.Unexplained, got.Short())
			}
			// A point at the start, 1.5 % of the fall for the yield, a little for the scale.
			pm := math.Hypot(0.001, 0.015*float64(1.080-want))
			wantNear(t, string(d)+" uncertainty", float64(got.SGPlusMinus), pm, 0.15*pm)
		}
	}
}

// Ensure that a ferment that has lost nothing yet may have made as much gas as it holds.
func TestWeighing_NothingLostYet(t *testing.T) {
	v := mustOf(t, Wine, 18, 1.080)
	_, got := lastWeighed(t, brew(Wine, 18, 1.080, WineYeast).weighed(0.01, v.at(t, 1.080)).weighed(0.5, v.at(t, 1.079)), tareOf)
	wantNear(t, "gravity", float64(got.SG), 1.079, float64(got.SGPlusMinus))
	if got.SGPlusMinus < 0.0015 {
		t.Errorf("± %v, and 1.7 g/L of gas may be in it", got.SGPlusMinus)
	}
}

// Ensure that a weighing leaves what the hydrometer said alone.
func TestWeighing_ChangesNoLedger(t *testing.T) {
	v := mustOf(t, Mead, 18, 1.100)
	j := brew(Mead, 18, 1.100, WineYeast).weighed(0.01, v.at(t, 1.100)).read(5, 1.060)
	before := j.replay(t)
	after := j.weighed(9, v.at(t, 1.030)).replay(t)
	if after.Liquid != before.Liquid || after.SG() != before.SG() || len(after.Curve) != len(before.Curve) {
		t.Errorf("%v became %v", before.SG(), after.SG())
	}
}

// Ensure that the volume is what is there, not what is written down, and that the two
// are told apart only when they are.
func TestWeighing_Volume(t *testing.T) {
	t.Run("by hand", func(t *testing.T) {
		// 25.6 kg less 6.4 are 19.2 kg of a must of 1.060: 19200·0.99985/(1.06·998.2-1.2)
		// is 18.164 L, and half of 0.1 kg and of the tare's are 0.067 L.
		_, got := lastWeighed(t, brew(Wine, 18.2, 1.060, WineYeast).on(0, Reading{Mass: 25600}), tareOf)
		wantNear(t, "drink", float64(got.Drink), 19200, 0)
		wantNear(t, "volume", float64(got.Volume), 18.164, 0.001)
		wantNear(t, "uncertainty", float64(got.PlusMinus), 0.076, 0.01)
	})
	t.Run("less than the journal has", func(t *testing.T) {
		v := mustOf(t, Wine, 18.5, 1.090)
		v.off = 600 // spilt, and not written down
		_, got := lastWeighed(t, brew(Wine, 18.5, 1.090, WineYeast).read(20, 0.998).weighed(20, v.at(t, 0.998)), tareOf)
		wantNear(t, "short", float64(got.Short()), 0.6, 0.06)
		if got.SG != 0 {
			t.Errorf("a single weighing makes %v by weight", got.SG)
		}
		fixed := brew(Wine, 18.5, 1.090, WineYeast).read(20, 0.998).weighed(20, v.at(t, 0.998)).on(20.1, Draw{Volume: got.Short()})
		wantNear(t, "volume written down", float64(fixed.replay(t).Figures.Volume), float64(got.Volume), 0.001)
	})
	t.Run("says nothing without the tare", func(t *testing.T) {
		v := mustOf(t, Wine, 18, 1.090)
		j := brew(Wine, 18, 1.090, WineYeast).weighed(0, v.at(t, 1.090)).weighed(7, v.at(t, 1.030))
		_, got := lastWeighed(t, j, 0)
		if got.Volume != 0 || got.Drink != 0 || got.Short() != 0 {
			t.Errorf("%v L, %v g", got.Volume, got.Drink)
		}
		wantNear(t, "gravity all the same", float64(got.SG), 1.030, 0.0003)
		// The journal's volume is good to 2 %, so is the fall of 60 points.
		wantNear(t, "uncertainty", float64(got.SGPlusMinus), math.Hypot(0.001, 0.06*math.Hypot(0.015, 0.02)), 0.0002)
	})
	t.Run("of a ferment that nobody looked at", func(t *testing.T) {
		j := brew(Wine, 18, 1.090, WineYeast).read(2, 1.080).on(12, Reading{Mass: tareOf + 18200})
		_, got := lastWeighed(t, j, tareOf)
		if got.SG != 0 || got.PlusMinus < 0.5 { // 8 points a day for ten days, half of it either way
			t.Errorf("%v ± %v L, %v by weight", got.Volume, got.PlusMinus, got.SG)
		}
	})
}

// Ensure that what came and went between two weighings is reckoned in.
func TestWeighing_WhatCameBetween(t *testing.T) {
	must := func() (scales, *journal) {
		v := mustOf(t, Mead, 18, 1.080)
		return v, brew(Mead, 18, 1.080, WineYeast).weighed(0.01, v.at(t, 1.080))
	}
	t.Run("honey, exactly", func(t *testing.T) {
		v, j := must()
		j.read(4, 1.050).on(4, added(honey, 1000, "feed"))
		v.liquid = v.liquid.Plus(Portion{honey, 1000}.Liquid())
		_, got := lastWeighed(t, j.weighed(9, v.at(t, 1.030)), tareOf)
		wantNear(t, "gravity", float64(got.SG), 1.030, 0.0003)
	})
	t.Run("nutrients", func(t *testing.T) {
		v, j := must()
		v.extra = 40
		_, got := lastWeighed(t, j.on(1, Feed{What: "nutrient", Mass: 40}).weighed(9, v.at(t, 1.030)), tareOf)
		wantNear(t, "gravity", float64(got.SG), 1.030, 0.0002)
	})
	t.Run("a sample, as far as its gas is known", func(t *testing.T) {
		v, j := must()
		at, err := v.rule.ToGravity(v.liquid, 1.050)
		if err != nil {
			t.Fatal(err)
		}
		litres, err := at.Liquid.Volume()
		if err != nil {
			t.Fatal(err)
		}
		j.read(4, 1.050).on(4, Draw{Volume: litres / 20})
		// Nineteen twentieths of the drink are left, and all of the yeast that was made by
		// then, a twentieth of which the smaller vessel below lacks.
		left := v
		left.liquid, left.extra = v.liquid.Scaled(0.95), at.Yeast/20
		_, got := lastWeighed(t, j.weighed(9, left.at(t, 1.030)), tareOf)
		wantNear(t, "gravity", float64(got.SG), 1.030, float64(got.SGPlusMinus))
		// A twentieth of the fall either way, by half, beside what it is without a sample.
		if got.SGPlusMinus < 0.0015 || got.SGPlusMinus > 0.0025 {
			t.Errorf("± %v", got.SGPlusMinus)
		}
	})
	for name, what := range map[string]Body{
		"another vessel": Rack{To: 2},
		"half of it":     Draw{Volume: 9},
		"fruit":          Fruited{calc.FruitPortion{Fruit: blackcurrants(t), Mass: 2000}},
	} {
		t.Run(name+" ends it", func(t *testing.T) {
			v, j := must()
			_, got := lastWeighed(t, j.read(4, 1.050).on(5, what).weighed(9, v.at(t, 1.030)), tareOf)
			if got.SG != 0 {
				t.Errorf("%v by weight", got.SG)
			}
		})
	}
	t.Run("and what nobody wrote down shows", func(t *testing.T) {
		v, j := must()
		v.off = -800
		_, got := lastWeighed(t, j.weighed(0.3, v.at(t, 1.080)), tareOf)
		if got.SG != 0 || got.Lost > -700 {
			t.Errorf("%v by weight, %v g lost", got.SG, got.Lost)
		}
		v.off = 3000
		_, got = lastWeighed(t, j.weighed(9, v.at(t, 1.030)), tareOf)
		if got.Unexplained < 1000 {
			t.Errorf("%v g unexplained", got.Unexplained)
		}
	})
}

// Ensure that a weighing without a gravity at the time is held against nothing, but
// that one read within hours serves.
func TestWeighing_Start(t *testing.T) {
	v := mustOf(t, Wine, 18, 1.090)
	j := brew(Wine, 18, 1.090, WineYeast).read(2, 1.080).weighed(4, v.at(t, 1.060)).weighed(9, v.at(t, 1.030))
	if _, got := lastWeighed(t, j, tareOf); got.SG != 0 {
		t.Errorf("%v by weight since an unknown gravity", got.SG)
	}
	j = brew(Wine, 18, 1.090, WineYeast).weighed(4, v.at(t, 1.060)).read(4.1, 1.060).weighed(9, v.at(t, 1.030))
	w, got := lastWeighed(t, j, tareOf)
	wantNear(t, "gravity since a reading", float64(got.SG), 1.030, 0.0003)
	if got.Must || !got.Since.Equal(onDay(4)) || w.Read() {
		t.Errorf("since %v, the must %v", got.Since, got.Must)
	}
	t.Run("and the hydrometer beside it", func(t *testing.T) {
		j := j.read(9.01, 1.036).on(9.01, Reading{Gravity: 1.036, Scale: ScaleSG, Calibration: 20, Mass: v.at(t, 1.030)})
		w, got := lastWeighed(t, j, tareOf)
		points, off := w.Off(got)
		wantNear(t, "points off", points, 6, 0.3)
		if !off || !w.Read() {
			t.Errorf("off %v, read %v", off, w.Read())
		}
	})
}

// Ensure that a level is held against what the journal had, which then follows it.
func TestLevelled(t *testing.T) {
	s := brew(Wine, 19, 1.090, WineYeast).on(3, Reading{Level: 18.5}).replay(t)
	l, ok := s.LevelOf(3)
	if !ok {
		t.Fatal("no level")
	}
	wantNear(t, "short", float64(l.Short()), 0.5, 1e-9)
	wantNear(t, "volume", float64(s.Figures.Volume), 18.5, 1e-9)
	s = brew(Wine, 18.6, 1.090, WineYeast).on(3, Reading{Level: 18.5}).replay(t)
	if l, _ := s.LevelOf(3); l.Short() != 0 {
		t.Errorf("%v L short, of what marks can show", l.Short())
	}
}

// Ensure that a vessel is topped up by what the scale says of it, as long as that holds.
func TestRow_InVessel(t *testing.T) {
	v := mustOf(t, Wine, 18, 1.090)
	v.off = 2000
	j := brew(Wine, 18, 1.090, WineYeast).read(20, 0.996, 27, 0.996, 34, 0.996).weighed(35, v.at(t, 0.996))
	row := func(tare calc.Gram) Row {
		return Row{Vessel: Vessel{Kind: Carboy, Capacity: 19, Tare: tare}, Batch: Summarise(j.Batch)}
	}
	due := func(r Row) bool {
		for _, d := range r.Dues() {
			if d.Key == DueTopUp {
				return true
			}
		}
		return false
	}
	wantNear(t, "by the journal", float64(row(0).InVessel()), 17.9, 0.15)
	wantNear(t, "by the scale", float64(row(tareOf).InVessel()), 15.8, 0.15)
	if due(row(0)) || !due(row(tareOf)) {
		t.Errorf("top up by the journal %v, by the scale %v", due(row(0)), due(row(tareOf)))
	}
	j.on(36, Pour{Name: "wine", Liquid: v.liquid.Scaled(0.1)})
	if got := row(tareOf).InVessel(); got < 19 {
		t.Errorf("%v L after topping up: the weighing is of before", got)
	}
	w, _ := j.replay(t).LastWeighing()
	if w.Current {
		t.Error("the weighing still holds")
	}
}

// Ensure that a scale is taken for as good as the finest digit it was read to.
func TestExactness(t *testing.T) {
	for name, c := range map[string]struct {
		masses []calc.Gram
		want   calc.Gram
	}{
		"tenths of a kilogram":  {[]calc.Gram{24600}, 50},
		"whole kilograms":       {[]calc.Gram{24000}, 50},
		"hundredths":            {[]calc.Gram{24600, 24610}, 5},
		"grams":                 {[]calc.Gram{24613, 24610}, 0.5},
		"tenths of a pound":     {[]calc.Gram{54.2 * calc.GramsPerPound}, 0.05 * calc.GramsPerPound},
		"hundredths of a pound": {[]calc.Gram{54.23 * calc.GramsPerPound}, 0.005 * calc.GramsPerPound},
	} {
		j := brew(Wine, 18, 1.090, WineYeast)
		for i, m := range c.masses {
			j.on(float64(i), Reading{Mass: m})
		}
		wantNear(t, name, float64(exactness(j.Live())), float64(c.want), 1e-9)
	}
}
