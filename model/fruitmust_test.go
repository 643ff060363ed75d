package model

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"cellar.local/glassrow/calc"
)

// blackcurrants are as the food tables have them, with a half-time of two days.
func blackcurrants(t testing.TB) calc.Fruit {
	t.Helper()
	f, err := calc.NewFruit("blackcurrant", map[calc.Component]calc.Gram{calc.Water: 77.4, calc.Sucrose: 0.29,
		calc.Glucose: 3, calc.Fructose: 3.4, calc.Acid: 2.9}, 11.01, 0)
	if err != nil {
		t.Fatal(err)
	}
	f.Refuse, f.HalfTime = 0.02, 48*time.Hour
	return f
}

// raisins bring more sugar than any must has.
func raisins(t testing.TB) calc.Fruit {
	t.Helper()
	f, err := calc.NewFruit("raisin", map[calc.Component]calc.Gram{calc.Water: 15, calc.Glucose: 34, calc.Fructose: 36}, 10, 0)
	if err != nil {
		t.Fatal(err)
	}
	f.HalfTime = 48 * time.Hour
	return f
}

// fruitBatch is a vessel that somebody really has: what is in it, worked out beside the
// journal with nothing but calc, and the journal of it.
type fruitBatch struct {
	*journal
	t       *testing.T
	rule    calc.Fermentation
	portion calc.FruitPortion
	liquid  calc.Liquid
	day     float64
	out     bool
}

func newFruitBatch(t *testing.T, litres calc.Litre, sg calc.SG, p calc.FruitPortion) *fruitBatch {
	t.Helper()
	inside, err := p.Juice().Scaled(1 - p.Free(0)).Volume()
	if err != nil {
		t.Fatal(err)
	}
	pulp := calc.Litre(p.Edible() * calc.Gram(p.Fruit.Pulp) / 1500)
	// The must is honey and water of that gravity, as the ledger knows it.
	solids := honey.PerGram.Solids()
	if p.Crushed {
		t.Fatal("written for whole fruit")
	}
	l, err := calc.LiquidOf(litres-inside-pulp, sg, 0, solids)
	if err != nil {
		t.Fatal(err)
	}
	must := Must{Vessel: 1, Volume: litres, Gravity: sg, Ingredients: []Portion{{honey, 3000}}, Fruit: []calc.FruitPortion{p}}
	return &fruitBatch{journal: unpitched(Mead, must).on(0, Pitch{Yeast: HighYeast}), t: t, rule: Mead.Fermentation(), portion: p, liquid: l}
}

// until lets the fruit give and the yeast eat a share of the sugar there is, and reads.
func (m *fruitBatch) until(day, share float64) *fruitBatch {
	m.t.Helper()
	if !m.out {
		at := func(d float64) float64 { return m.portion.Free(time.Duration(d * 24 * float64(time.Hour))) }
		m.liquid = m.liquid.Plus(m.portion.Juice().Scaled(at(day) - at(m.day)))
	}
	m.day = day
	done, err := m.rule.Run(m.liquid, calc.Gram(share*float64(m.liquid.Hexose())))
	if err != nil {
		m.t.Fatal(err)
	}
	m.liquid = done.Liquid
	sg, err := m.liquid.SG()
	if err != nil {
		m.t.Fatal(err)
	}
	m.read(day, float64(sg))
	return m
}

// Ensure that a honey must of 1.080 with five kilograms of whole blackcurrants in it has
// the strength that it has, and that the two gravities alone are off by what the fruit
// brought: its sugar less its water.
func TestFruit_Strength(t *testing.T) {
	p := calc.FruitPortion{Fruit: blackcurrants(t), Mass: 5000}
	m := newFruitBatch(t, 15, 1.080, p)
	honeyOnly := m.liquid
	m.until(2, 0.2).until(5, 0.4).until(9, 0.7).until(14, 0.9).until(20, 1).until(30, 1).until(60, 1)
	s := m.replay(t)
	truth, err := m.liquid.Strength()
	if err != nil {
		t.Fatal(err)
	}
	wantNear(t, "strength", float64(s.Strength), float64(truth), 0.05)

	figures := func(l calc.Liquid) calc.Figures {
		f, err := l.Figures()
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	dryHoney, err := m.rule.Run(honeyOnly, honeyOnly.Hexose())
	if err != nil {
		t.Fatal(err)
	}
	alone, all := figures(dryHoney.Liquid), figures(m.liquid)
	// 0.484 g of ethanol a gram of hexose, 0.7893 kg/L; what the juice thinned; and 131 %
	// vol for a gravity of 1 where its acid keeps the last reading up.
	brought := 100 * float64(p.Juice().Hexose()) * 0.484 / 789.3 / float64(all.Volume)
	thinned := float64(alone.Strength) * (1 - float64(alone.Volume/all.Volume))
	keptUp := 131 * float64(all.SG-alone.SG)
	wantNear(t, "strength that the two gravities miss", float64(s.Strength-s.Naive), brought-thinned+keptUp, 0.1)
	// Blackcurrants have 67 g of sugar in a kilogram, so that they thin such a must.
	if said := s.NaiveMisleads(); !strings.HasSuffix(said, "what the juice of the fruit thinned") {
		t.Errorf("said %q", said)
	}
	dried := newFruitBatch(t, 12, 1.050, calc.FruitPortion{Fruit: raisins(t), Mass: 2500})
	s = dried.until(2, 0.05).until(9, 0.8).until(20, 1).until(30, 1).replay(t)
	if truth, err = dried.liquid.Strength(); err != nil {
		t.Fatal(err)
	}
	wantNear(t, "strength with raisins", float64(s.Strength), float64(truth), 0.05)
	if said := s.NaiveMisleads(); s.Strength-s.Naive < 5 || !strings.HasSuffix(said, "out of the fruit after the first reading") {
		t.Errorf("%.1f %% vol, by two gravities %.1f, said %q", float64(s.Strength), float64(s.Naive), said)
	}
}

// Ensure that all that was in the fruit is in the drink in the end, and nothing else.
func TestFruit_Conserved(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		p := calc.FruitPortion{Fruit: blackcurrants(t), Mass: calc.Gram(rapid.Float64Range(100, 6000).Draw(rt, "mass")),
			Crushed: rapid.Bool().Draw(rt, "crushed")}
		must := Must{Vessel: 1, Volume: 15, Ingredients: []Portion{{honey, 3000}}, Fruit: []calc.FruitPortion{p}}
		day := rapid.Float64Range(0, 20).Draw(rt, "day")
		j := unpitched(Mead, must).on(day, Fruited{p}, added(sugar, 1, ""))
		j.on(day+1000, added(sugar, 1, ""))
		s, err := Replay(j.Batch, endOfTime)
		if err != nil {
			rt.Fatal(err)
		}
		made, err := must.made()
		if err != nil {
			rt.Fatal(err)
		}
		if made, err = made.MadeUpTo(15); err != nil {
			rt.Fatal(err)
		}
		want := made.AllOut().Plus(p.Juice()).Plus(sugar.Amount(2))
		for _, c := range calc.Components() {
			if d := math.Abs(float64(s.Liquid.Of(c) - want.Of(c))); d > 1e-6 {
				rt.Fatalf("%v: %v g, want %v", c, s.Liquid.Of(c), want.Of(c))
			}
		}
		if s.LateSugar > 1e-6 {
			rt.Fatalf("%v g still inside", s.LateSugar)
		}
	})
}

// Ensure that what is written between two readings changes nothing.
func TestFruit_SplitsEvenly(t *testing.T) {
	m := newFruitBatch(t, 15, 1.080, calc.FruitPortion{Fruit: blackcurrants(t), Mass: 5000})
	m.until(2, 0.2).until(5, 0.4).until(9, 0.7)
	whole := m.replay(t)
	for _, between := range []Body{Note{Text: "quiet"}, Stir{}, Pitch{Yeast: HighYeast}, Reading{PH: 3.3}} {
		m.journal.on(1, between).on(3.3, between).on(8, between)
	}
	split := m.replay(t)
	for _, c := range calc.Components() {
		wantNear(t, c.String(), float64(split.Liquid.Of(c)), float64(whole.Liquid.Of(c)), 1e-9*float64(whole.Liquid.Mass()))
	}
	wantNear(t, "late sugar", float64(split.LateSugar), float64(whole.LateSugar), 1e-9)
	wantNear(t, "what two gravities give", float64(split.Naive), float64(whole.Naive), 1e-9)
	if split.Standing != whole.Standing {
		t.Errorf("it is %s, want %s", split.Standing, whole.Standing)
	}
}

// Ensure that a gravity that fruit lifts is no trouble, and that the evidence says why.
func TestFruit_NotRising(t *testing.T) {
	m := newFruitBatch(t, 12, 1.050, calc.FruitPortion{Fruit: raisins(t), Mass: 2500})
	m.until(2, 0.05).until(4, 0.15)
	s := m.replay(t)
	if up := s.Curve[len(s.Curve)-1].SG.Points() - s.Original.Points(); up < 10 {
		t.Fatalf("%v points up, want it to rise", up)
	}
	wantStanding(t, s, Working, "the fruit gives its sugar")
	u, err := Understand(m.Batch, gravity(float64(s.SG())+0.004), onDay(5))
	if err != nil || u.Surprise != "" {
		t.Errorf("a rise that fruit explains: surprise %q, %v", u.Surprise, err)
	}
	u, err = Understand(m.Batch, gravity(float64(s.SG())+0.030), onDay(5))
	if err != nil || !strings.Contains(u.Surprise, "of which the fruit should have made") {
		t.Errorf("a rise beyond the fruit: surprise %q, %v", u.Surprise, err)
	}
	unknown := newFruitBatch(t, 12, 1.050, calc.FruitPortion{Fruit: raisins(t), Mass: 100})
	unknown.read(2, 1.065)
	wantStanding(t, unknown.replay(t), Rising)
}

// Ensure that the fruit stops giving when it is out, pressed or left behind, and gives
// again when that is taken back.
func TestFruit_Out(t *testing.T) {
	begin := func() *fruitBatch {
		m := newFruitBatch(t, 15, 1.080, calc.FruitPortion{Fruit: blackcurrants(t), Mass: 5000})
		return m.until(2, 0.2)
	}
	for name, out := range map[string]Body{"pressed": Press{}, "racked": Rack{To: 2}, "bottled": Bottle{Count: 10, Size: 0.75}} {
		m := begin()
		m.journal.on(3, out)
		s := m.replay(t)
		if s.LateSugar != 0 || s.FruitRoom != 0 || s.LateSugarAt(onDay(3)) != 0 {
			t.Errorf("%s: %v g in %v L still inside", name, s.LateSugar, s.FruitRoom)
		}
		// Half of the rest is out after two days, and 0.354 of all the juice inside at three.
		juice := m.portion.Juice()
		before, err := m.liquid.Plus(juice.Scaled(0.5 - math.Exp2(-1.5))).Volume()
		if err != nil {
			t.Fatal(err)
		}
		wantNear(t, name+": volume", float64(s.Figures.Volume), float64(before), 1e-3)
		if name == "bottled" {
			continue
		}
		m.journal.on(9, added(sugar, 1, ""))
		wantNear(t, name+": mass later", float64(m.replay(t).Liquid.Mass()-s.Liquid.Mass()), 1, 1e-9)
		m.journal.on(10, Void{Entry: 4})
		wantNear(t, name+": late sugar once that is void", float64(m.replay(t).LateSugar), float64(juice.Sugar())*math.Exp2(-4.5), 1e-6)
	}
	t.Run("what was squeezed out is juice", func(t *testing.T) {
		m := begin()
		dry := m.journal.on(3, Press{}).replay(t)
		m = begin()
		s := m.journal.on(3, Press{Volume: dry.Figures.Volume + 0.5}).replay(t)
		wantNear(t, "volume", float64(s.Figures.Volume), float64(dry.Figures.Volume)+0.5, 0.002)
		if got := float64(s.Liquid.Of(calc.Acid)-dry.Liquid.Of(calc.Acid)) / float64(s.Liquid.Mass()-dry.Liquid.Mass()); math.Abs(got-float64(m.portion.Fruit.Juice.Of(calc.Acid)/m.portion.Fruit.Juice.Mass())) > 1e-4 {
			t.Errorf("%v of what came is acid", got)
		}
		m = begin()
		if _, err := Replay(m.journal.on(3, Press{Volume: 20}).Batch, endOfTime); !errors.Is(err, ErrInvalid) {
			t.Errorf("20 L out of 15: error %v", err)
		}
	})
}

// Ensure that fruit put in later counts, and not when it is struck out.
func TestFruit_Later(t *testing.T) {
	p := calc.FruitPortion{Fruit: blackcurrants(t), Mass: 1000, Crushed: true}
	j := brew(Mead, 10, 1.090, WineYeast).read(5, 1.040, 12, 1.000, 18, 0.998, 25, 0.998, 31, 0.998)
	without := j.replay(t)
	j.on(32, Fruited{p})
	s := j.replay(t)
	wantNear(t, "juice that crushing frees", float64(s.Liquid.Mass()-without.Liquid.Mass()), 0.6*float64(p.Juice().Mass()), 1e-6)
	wantNear(t, "sugar left inside", float64(s.LateSugar), 0.4*float64(p.Juice().Sugar()), 1e-6)
	if !s.Curve[len(s.Curve)-1].Computed || s.Curve[len(s.Curve)-1].SG <= without.SG() {
		t.Errorf("curve ends at %+v", s.Curve[len(s.Curve)-1])
	}
	if s.InVessel() <= s.Figures.Volume {
		t.Error("the pulp takes up no room")
	}
	j.on(33, Void{Entry: EntryID(len(j.Entries))})
	if back := j.replay(t); back.Liquid != without.Liquid || back.LateSugar != 0 {
		t.Error("struck out, it still counts")
	}
	fed := brew(Mead, 10, 1.090, WineYeast).read(5, 1.040, 12, 1.000, 18, 0.998, 25, 0.998, 31, 0.998).
		on(32, Fruited{calc.FruitPortion{Fruit: p.Fruit, Mass: 3000}}).read(36, 0.998, 40, 0.997)
	if s := fed.replay(t); s.Standing == Restarting || s.trouble() {
		t.Errorf("it is %s (%s): fruit was put in to be eaten", s.Standing, s.Evidence)
	}
}

// Ensure that the must of a fruit fills what it is said to fill, fruit and all.
func TestMust_Fruit(t *testing.T) {
	p := calc.FruitPortion{Fruit: blackcurrants(t), Mass: 4000}
	for _, sg := range []calc.SG{0, 1.085} {
		s := unpitched(Mead, Must{Vessel: 1, Volume: 12, Gravity: sg, Ingredients: []Portion{{honey, 2500}}, Fruit: []calc.FruitPortion{p}}).replay(t)
		wantNear(t, "in the vessel", float64(s.InVessel()), 12, 0.02) // mixing shrinks a little
		wantNear(t, "late sugar", float64(s.LateSugar), 4000*0.98*0.0669, 1)
		if sg != 0 {
			wantNear(t, "gravity", s.Original.Points(), 85, 1e-6)
		}
	}
	if _, err := Replay(unpitched(Wine, Must{Vessel: 1, Volume: 3, Gravity: 1.08, Fruit: []calc.FruitPortion{p}}).Batch, endOfTime); !errors.Is(err, ErrInvalid) {
		t.Errorf("4 kg in 3 L: %v", err)
	}
}

// Ensure that the forecast reckons with the sugar that is still inside the fruit.
func TestForesee_Fruit(t *testing.T) {
	m := newFruitBatch(t, 15, 1.080, calc.FruitPortion{Fruit: blackcurrants(t), Mass: 5000})
	m.until(2, 0.15).until(4, 0.3).until(6, 0.35)
	s := m.replay(t)
	stages, err := stagesOf(m.Batch, &s)
	if err != nil {
		t.Fatal(err)
	}
	want := newFruitBatch(t, 15, 1.080, m.portion).liquid.Plus(m.portion.Juice())
	wantNear(t, "sugar of the must to come", float64(stages[len(stages)-1].state.Liquid.Sugar()), float64(want.Sugar()), 1e-6)
	if o, err := Foresee(m.Batch, endOfTime); err != nil || !o.Known {
		t.Errorf("outlook %+v, %v", o, err)
	}
}

// Ensure that fruit is understood among what a must is made of.
func TestLarder_ParseStuff(t *testing.T) {
	l := larder(t)
	in, fruit, err := l.ParseStuff("honey 1.5kg, crushed blackcurrants 500g, 2 kg whole sour cherries")
	if err != nil || len(in) != 1 || len(fruit) != 2 || in[0].Mass != 1500 {
		t.Fatalf("%v, %v, %v", in, fruit, err)
	}
	if !fruit[0].Crushed || fruit[0].Mass != 500 || fruit[1].Crushed || fruit[1].Fruit.Name != "sour cherry" || fruit[1].Mass != 2000 {
		t.Errorf("%+v", fruit)
	}
	for _, bad := range []string{"crushed honey 1kg", "crushed 1kg", "gravel 1kg", "honey"} {
		if _, _, err := l.ParseStuff(bad); !errors.Is(err, ErrInvalid) {
			t.Errorf("%q: error %v", bad, err)
		}
	}
}
