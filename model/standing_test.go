package model

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"cellar.local/glassrow/calc"
)

// Ensure that a batch that stands is told apart by what is left in it: dextrins only is
// done, and sugar under a yeast that could stand more is stuck.
func TestStanding_Still(t *testing.T) {
	t.Run("a beer at its limit has nothing wrong", func(t *testing.T) {
		// From 1.050 to 1.012 is 76 % apparent attenuation, the middle of everyday ales
		// (70 to 80, diagnosis notes, section 3).
		j := brew(Beer, 20, 1.050, AleYeast).read(2, 1.030, 4, 1.016, 7, 1.012, 10, 1.012)
		wantStanding(t, j.replay(t), Slowing, "little left to eat: likely done")
		s := j.read(14, 1.012).replay(t)
		wantStanding(t, s, Done, "no change in 7 days, 3 readings", "nothing left to eat (", "): more yeast will not help",
			"what holds it at 1.012 is", "that yeast cannot eat, most of it dextrin: nothing is wrong")
		wantRuledOut(t, s, "stuck", "more yeast: it would find nothing", "more sugar: it would only ferment, and end near the same gravity (10 g/L more: 1.01")
		if s.HasFood() || Summarise(j.Batch).Trouble || len(s.Causes) > 0 || !s.Decides.IsZero() {
			t.Errorf("has food: %v, trouble: %v, causes %v, decides %v", s.HasFood(), Summarise(j.Batch).Trouble, s.Causes, s.Decides)
		}
		if body := s.Liquid.Of(calc.Dextrin); body < 500 {
			t.Errorf("%v g of dextrin in 20 L, want most of the body", body)
		}
	})
	t.Run("so has an ale that left its maltotriose", func(t *testing.T) {
		// 1.050 to 1.014: a strain that does not take maltotriose up ends 3 to 6 points
		// high (same section).
		j := brew(Beer, 20, 1.050, AleYeast).read(2, 1.030, 5, 1.014, 9, 1.014, 14, 1.014)
		wantStanding(t, j.replay(t), Done, "more yeast will hardly help")
		if Summarise(j.Batch).Trouble {
			t.Error("it is in trouble")
		}
	})
	t.Run("and a mead that is held up by lactose", func(t *testing.T) {
		lactose := mixture("lactose", map[calc.Component]calc.Gram{calc.Lactose: 100})
		j := brew(Wine, 10, 1.080, WineYeast).on(0, added(lactose, 600, "")).read(4, 1.040, 12, 1.016, 16, 1.016, 22, 1.016)
		wantStanding(t, j.replay(t), Done, "most of it lactose: nothing is wrong")
	})
	t.Run("a mead with 40 g/L left under its tolerance is stuck", func(t *testing.T) {
		j := brew(Mead, 10, 1.100, WineYeast).read(4, 1.070, 9, 1.030, 14, 1.016, 18, 1.007, 22, 1.007, 28, 1.0065)
		s := j.replay(t)
		wantNear(t, "fermentable sugar", float64(s.Figures.Fermentable), 40, 2)
		wantStanding(t, s, Stuck, "of the 14.5 % vol this yeast stands", "if done it would read about 0.99")
		wantRuledOut(t, s, "done: at least")
		if !s.HasFood() || !Summarise(j.Batch).Trouble {
			t.Errorf("has food: %v, trouble: %v", s.HasFood(), Summarise(j.Batch).Trouble)
		}
		if s.Causes[0].What != "a misreading" || !strings.HasPrefix(Summarise(j.Batch).Check, "read again first") {
			t.Errorf("causes %+v, want a misreading first", s.Causes)
		}
		wantCauses(t, s, "too little nitrogen", "alcohol near what the yeast stands", "cold or heat")
	})
	t.Run("the same under a yeast of 12 % vol is done", func(t *testing.T) {
		j := brew(Mead, 10, 1.100, WineYeast).on(0, Pitch{Yeast: AleYeast})
		j.Entries[1].Body = Pitch{Yeast: WineYeast, Tolerance: 12.5}
		j.read(4, 1.070, 9, 1.030, 14, 1.016, 18, 1.007, 22, 1.007, 28, 1.0065)
		s := j.replay(t)
		wantStanding(t, s, Done, "at the limit of this yeast (12.5)")
		wantRuledOut(t, s, "it has come as far as its yeast stands")
		if Summarise(j.Batch).Trouble {
			t.Error("it is in trouble")
		}
	})
	t.Run("a mead below 1.000 has only honey's slow sugars", func(t *testing.T) {
		// Diagnosis notes, section 3: allow 2 to 5 points for disaccharides.
		j := brew(Mead, 10, 1.085, WineYeast).read(4, 1.070, 9, 1.030, 14, 1.006, 18, 0.997, 22, 0.997, 28, 0.997)
		wantStanding(t, j.replay(t), Done, "16 ± 5 g/L of sugar left, of kinds that many yeasts leave")
		if Summarise(j.Batch).Trouble {
			t.Error("it is in trouble")
		}
	})
	t.Run("three days prove nothing, and it says when a reading will", func(t *testing.T) {
		// Diagnosis notes, section 5: two readings three days apart have an error of
		// 0.0007 a day; three over six days prove what is 0.00035.
		j := brew(Mead, 10, 1.100, WineYeast).read(4, 1.070, 9, 1.030, 12, 1.030)
		s := j.replay(t)
		wantStanding(t, s, Slowing, "0 points in 3 days, less than a reading can tell", "stuck, should it prove to stand")
		if d := daysBetween(day0, s.Decides); d < 14 || d > 16 || s.Question == "" || Summarise(j.Batch).Trouble {
			t.Errorf("decides on day %v (%s), want 14 to 16", d, s.Question)
		}
		if got := Summarise(j.Batch).Next(); !got.At.Equal(s.Decides) {
			t.Errorf("next reading %v, want %v", got.At, s.Decides)
		}
		decided := j.read(daysBetween(day0, s.Decides), 1.030)
		wantStanding(t, decided.replay(t), Stuck)
		if !Summarise(decided.Batch).Trouble {
			t.Error("it is not in trouble when that is decided")
		}
	})
	t.Run("however often it is read", func(t *testing.T) {
		j := brew(Mead, 10, 1.100, WineYeast).read(4, 1.070, 9, 1.030)
		for day := 10.0; day < 16; day += 0.25 {
			j.read(day, 1.030)
		}
		wantStanding(t, j.replay(t), Stuck, "no change in 7 days")
	})
	t.Run("a slow steady fall is not standing still", func(t *testing.T) {
		// 1.2 points in three days is less than a reading can tell, 2.4 in six is not.
		j := brew(Mead, 10, 1.100, WineYeast).read(4, 1.060, 10, 1.030, 13, 1.0288, 16, 1.0276)
		wantStanding(t, j.replay(t), Slowing)
		// A fifth of a point a day, read every week.
		j = brew(Mead, 10, 1.100, WineYeast).read(4, 1.060, 20, 1.020)
		for week := 0.0; week < 8; week++ {
			j.read(27+7*week, 1.0185-0.0014*week)
		}
		wantStanding(t, j.replay(t), Slowing)
	})
	t.Run("a gap does not hide that it stands", func(t *testing.T) {
		j := brew(Mead, 10, 1.100, WineYeast).read(4, 1.060, 30, 0.998, 60, 0.998, 61, 0.998)
		wantStanding(t, j.replay(t), Resting, "no change in 31 days")
	})
	t.Run("a blunder among the readings is left out and named", func(t *testing.T) {
		j := brew(Beer, 20, 1.050, AleYeast).read(2, 1.030, 4, 1.016, 7, 1.012, 10, 1.022, 12, 1.012, 15, 1.012)
		wantStanding(t, j.replay(t), Done, "no change in 8 days", "left out: 1.022 of 11 Mar")
	})
}

// Ensure that what is done rests in time, and is stable when it cannot wake.
func TestStanding_Rest(t *testing.T) {
	dry := func() *journal {
		return brew(Wine, 10, 1.080, WineYeast).read(3, 1.040, 8, 1.000, 12, 0.9925, 16, 0.9925, 19, 0.9925)
	}
	wantStanding(t, dry().replay(t), Done)
	wantStanding(t, dry().on(20, Rack{To: 2}).replay(t), Resting, "racked off its lees since")
	wantStanding(t, dry().read(35, 0.9925).replay(t), Resting)
	wantStanding(t, dry().read(75, 0.9925).replay(t), Stable, "still for two months and dry")

	both := Stabilise{Sulfite: 1, Sorbate: 2}
	wantStanding(t, dry().on(20, both).replay(t), Stable, "stabilised with 1 g sulfite, 2 g sorbate")
	wantStanding(t, dry().on(20, Stabilise{Sulfite: 1}).on(21, Stabilise{Sorbate: 2}).replay(t), Stable)
	wantStanding(t, dry().on(20, Stabilise{Filtered: true}).replay(t), Stable, "stabilised with a filter")
	wantStanding(t, dry().on(20, Stabilise{Sulfite: 1}).replay(t), Done, "which alone does not hold yeast down")
	wantStanding(t, dry().on(20, both, added(honey, 300, "sweeten")).replay(t), Stable, "what it was sweetened with")

	t.Run("stopped on purpose with sugar left it is not stuck", func(t *testing.T) {
		j := brew(Wine, 10, 1.090, WineYeast).read(3, 1.050, 6, 1.020).on(6, both, Stabilise{Chilled: true}).read(8, 1.017, 11, 1.017, 14, 1.017)
		s := j.replay(t)
		wantStanding(t, s, Stable, "of sugar left, kept by what was done", "1 g sulfite, 2 g sorbate, cold")
		wantRuledOut(t, s, "stuck: it was stopped")
		if Summarise(j.Batch).Trouble {
			t.Error("it is in trouble")
		}
	})
	t.Run("sugar stirred in afterwards is for the tongue, whatever it is called", func(t *testing.T) {
		wantStanding(t, dry().on(20, both, added(honey, 300, "")).replay(t), Stable, "what it was sweetened with")
	})
	t.Run("a sample too thin just after sweetening is no alarm", func(t *testing.T) {
		j := dry().on(20, added(honey, 300, "sweeten"))
		sg := float64(j.replay(t).SG())
		if s := j.read(20.2, sg-0.005).replay(t); s.Standing == Restarting {
			t.Errorf("it is %s %q", s.Standing, s.Evidence)
		}
		wantStanding(t, j.read(23, sg-0.006).replay(t), Restarting)
	})
	t.Run("and falls all the same: restarting", func(t *testing.T) {
		j := dry().on(20, both, added(honey, 300, "sweeten"))
		sg := float64(j.replay(t).SG())
		s := j.read(30, sg-0.005).replay(t)
		wantStanding(t, s, Restarting, "5 points down in 10 days", "a hazard if sealed")
		if !Summarise(j.Batch).Trouble {
			t.Error("it is not in trouble")
		}
	})
}

// Ensure that a hazard is told by all the gas that chemistry allows, as bottles are judged:
// 40 g/L of fructose are 9.95 volumes at 4.02 g/L each (carbonation notes, section 4).
func TestState_Hazard(t *testing.T) {
	for grams, want := range map[calc.Gram]string{40: "40 g/L left could make 10 volumes of gas", 2: "a point of gravity is half a volume of gas"} {
		l, err := calc.NewLiquid(map[calc.Component]calc.Gram{calc.Fructose: grams, calc.Lactose: 50})
		if err == nil {
			l, err = calc.MadeUpTo(l, 1)
		}
		if err != nil {
			t.Fatal(err)
		}
		s := State{Liquid: l}
		if s.Figures, err = l.Figures(); err != nil {
			t.Fatal(err)
		}
		if got := s.hazard(); got != "a hazard if sealed: "+want {
			t.Errorf("%v g: %q, want %q", grams, got, want)
		}
	}
}

// Ensure that priming is not a fault, in a keg or in bottles.
func TestStanding_Conditioning(t *testing.T) {
	primed := func() *journal {
		return brew(Beer, 20, 1.050, AleYeast).read(2, 1.030, 4, 1.014, 8, 1.012, 11, 1.012, 14, 1.012).on(15, added(sugar, 120, "prime"))
	}
	s := primed().replay(t)
	wantStanding(t, s, Conditioning, "primed with 6 g/L")
	if !s.Decides.Equal(onDay(36)) || Summarise(primed().Batch).Trouble {
		t.Errorf("decides %v, want three weeks after", s.Decides)
	}
	sg := float64(s.SG())
	wantStanding(t, primed().read(19, sg-0.0015).replay(t), Conditioning, "2 points down since")
	wantStanding(t, primed().read(22, sg-0.002, 27, sg-0.002, 33, sg-0.002).replay(t), Done)
	wantStanding(t, primed().on(15, Bottle{Count: 36, Size: 0.5}).replay(t), Conditioning, "36 bottles filled, primed")
	wantStanding(t, primed().on(15, Bottle{Count: 36, Size: 0.5}).on(40, Note{Text: "lively"}).replay(t), Bottled)
}

// Ensure that a fall after the end is told from a stuck batch that moves again.
func TestStanding_Restarting(t *testing.T) {
	t.Run("a dry wine that falls again is a hazard", func(t *testing.T) {
		s := brew(Wine, 10, 1.080, WineYeast).read(3, 1.040, 8, 0.996, 12, 0.992, 16, 0.992, 19, 0.992, 26, 0.9895, 30, 0.9885).replay(t)
		wantStanding(t, s, Restarting, "after it had stood still for", "a hazard if sealed")
		if s.Causes[0].Check == "" || s.Decides.IsZero() {
			t.Errorf("causes %+v, decides %v", s.Causes, s.Decides)
		}
	})
	t.Run("and says so of the bottles filled from it", func(t *testing.T) {
		s := brew(Wine, 10, 1.080, WineYeast).read(3, 1.040, 8, 0.996, 12, 0.992, 16, 0.992, 19, 0.992).
			on(20, Bottle{Count: 6, Size: 0.75, Rest: true}).read(30, 0.9885).replay(t)
		wantStanding(t, s, Restarting, "6 bottles were filled from it")
		wantCauses(t, s, "a misreading") // one reading so far
	})
	t.Run("a stuck mead that moves again is no hazard but good news", func(t *testing.T) {
		j := brew(Mead, 19, 1.115, AleYeast).read(4, 1.100, 9, 1.080, 16, 1.061, 20, 1.060, 26, 1.060, 30, 1.060)
		wantStanding(t, j.replay(t), Stuck)
		s := j.read(35, 1.056, 40, 1.051).replay(t)
		wantStanding(t, s, Slowing, "it moves again: before, it stood at 1.060 for")
		if Summarise(j.Batch).Trouble {
			t.Error("it is in trouble")
		}
	})
	t.Run("and where it stood is told as it was read, whatever was added before", func(t *testing.T) {
		j := brew(Mead, 19, 1.085, AleYeast).read(4, 1.070).on(5, added(honey, 1500, "feed"))
		j.read(9, 1.080, 16, 1.061, 20, 1.060, 26, 1.060, 30, 1.060, 36, 1.055)
		wantStanding(t, j.replay(t), Slowing, "before, it stood at 1.060 for")
	})
	t.Run("settled again it is done again", func(t *testing.T) {
		s := brew(Wine, 10, 1.080, WineYeast).read(3, 1.040, 8, 0.998, 12, 0.994, 16, 0.994, 19, 0.994, 26, 0.990, 30, 0.989, 36, 0.989, 41, 0.989).replay(t)
		wantStanding(t, s, Done)
	})
}

// Ensure that a gravity that goes up by itself is neither yeast nor forgotten.
func TestStanding_Rising(t *testing.T) {
	j := brew(Wine, 10, 1.070, WineYeast).read(1, 1.076)
	s := j.replay(t)
	wantStanding(t, s, Rising, "6 points up in 24 hours with nothing added", "that the sugar in the journal does not explain")
	wantRuledOut(t, s, "the yeast")
	wantCauses(t, s, "a misreading", "sugar that came late", "an addition not written down")
	if !s.Decides.Equal(onDay(2)) || !Summarise(j.Batch).Next().At.Equal(onDay(2)) {
		t.Errorf("decides %v, want a day after", s.Decides)
	}
	wantStanding(t, brew(Mead, 10, 1.1, WineYeast).read(4, 1.060, 9, 1.022, 11, 1.020, 14, 1.026, 15, 1.026).replay(t), Rising)
	wantStanding(t, brew(Mead, 10, 1.1, WineYeast).read(4, 1.060, 9, 1.020, 14, 1.026, 16, 1.018).replay(t), Slowing, "left out: 1.026 of 15 Mar")
	fed := brew(Mead, 10, 1.1, WineYeast).read(4, 1.060).on(5, added(honey, 500, "feed"))
	wantStanding(t, fed.read(6, float64(fed.replay(t).SG())+0.006).replay(t), Rising, "beyond what was added")
	sweet := brew(Mead, 10, 1.1, WineYeast).read(4, 1.060).on(5, added(honey, 1000, "feed"))
	wantStanding(t, sweet.read(5.1, float64(sweet.replay(t).SG())).replay(t), Working)
}

// Ensure that a ferment that is far slower than its must allows says what may be wrong.
func TestStanding_Sluggish(t *testing.T) {
	cold := Reading{Gravity: 1.092, Scale: ScaleSG, Calibration: 20, Temperature: 13, HasTemperature: true}
	j := brew(Wine, 10, 1.100, WineYeast).read(3, 1.098, 6, 1.095).on(9, cold).read(12, 1.087)
	s := j.replay(t)
	wantStanding(t, s, Slowing, "such a must would make about")
	wantCauses(t, s, "a misreading", "cold")
}

// Ensure that the rules stand the noise of a careful reader (σ 0.001, diagnosis notes,
// section 6): a wine that runs dry is called done within days of it, never stuck, and
// what stands is taken for restarting or rising once in two hundred readings at most.
func TestStanding_Noise(t *testing.T) {
	const runs, every, until = 25, 2, 60
	must, err := calc.LiquidOf(1, 1.080, 0, calc.GrapeSolids())
	if err != nil {
		t.Fatal(err)
	}
	rows, err := calc.TypicalUptake(20, 180, 14.5).Simulate(must, calc.EveryHours(24*every, 24*until)...)
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(7, 19))
	counts := make(map[Standing]int)
	all, doneOn := 0, 0.0
	for range runs {
		j, done := brew(Wine, 10, 1.080, WineYeast), 0.0
		for _, r := range rows[1:] {
			day := float64(r.Time) / 24
			s := j.read(day, float64(r.Figures.SG)+0.001*rng.NormFloat64()).replay(t)
			counts[s.Standing]++
			all++
			if done == 0 && s.Standing == Done {
				done = day
			}
		}
		doneOn += done / runs
	}
	// Gravity is within a point of its end on day 14.
	if doneOn < 17 || doneOn > 24 {
		t.Errorf("done on day %.1f on average, want 17 to 24", doneOn)
	}
	if wrong := counts[Restarting] + counts[Rising]; counts[Stuck] > 0 || wrong > all/200 {
		t.Errorf("of %d standings %v", all, counts)
	}
}

func wantRuledOut(t *testing.T, s State, says ...string) {
	t.Helper()
	out := strings.Join(s.RuledOut, "; ")
	for _, words := range says {
		if !strings.Contains(out, words) {
			t.Errorf("ruled out is %q, want %q", out, words)
		}
	}
}

func wantCauses(t *testing.T, s State, what ...string) {
	t.Helper()
	var got []string
	for _, c := range s.Causes {
		got = append(got, c.What)
		if c.Clue == "" || c.Check == "" {
			t.Errorf("cause %+v says too little", c)
		}
	}
	for _, w := range what {
		if !slices.Contains(got, w) {
			t.Errorf("causes are %q, want %q", got, w)
		}
	}
}

// Ensure that additions neither count as fermentation nor hide it.
func TestStanding_Additions(t *testing.T) {
	working := func() *journal { return brew(Mead, 10, 1.090, HighYeast).read(3, 1.070, 6, 1.046, 9, 1.022) }
	dry := func() *journal {
		return brew(Mead, 10, 1.100, WineYeast).read(5, 1.050, 12, 1.004, 20, 0.995, 25, 0.995, 30, 0.995)
	}
	t.Run("a batch that works still works when fed", func(t *testing.T) {
		before := working().replay(t)
		for name, what := range map[string]Addition{"honey": added(honey, 1000, "feed"), "water": added(water, 2000, ""), "nutrients": added(mixture("nutrient", map[calc.Component]calc.Gram{calc.OtherSolids: 1}), 5, "feed")} {
			s := working().on(9.1, what).replay(t)
			if s.Standing != Working || strings.Join(s.Evidence, "") != strings.Join(before.Evidence, "") {
				t.Errorf("%s makes it %s %q, before %s %q", name, s.Standing, s.Evidence, before.Standing, before.Evidence)
			}
		}
	})
	t.Run("and the pace over the addition is that of the yeast", func(t *testing.T) {
		j := working().on(9.1, added(honey, 1000, "feed"))
		fed := j.replay(t).SG().Points()
		s := j.read(12, 1+(fed-21)/1000).replay(t)
		wantStanding(t, s, Working, "7.0 points a day") // 21 points in 3 days
	})
	t.Run("a batch that is done stays done when sweetened", func(t *testing.T) {
		j := dry().on(31, added(honey, 400, "sweeten"))
		s := j.replay(t)
		wantStanding(t, s, Done, "what it was sweetened with; read it again in a few days")
		if !s.Decides.Equal(onDay(45)) {
			t.Errorf("decides %v, want two weeks after", s.Decides)
		}
		j.read(36, float64(s.SG()), 45, float64(s.SG()))
		wantStanding(t, j.replay(t), Resting, "what it was sweetened with: still so far, yet living yeast can wake")
		if Summarise(j.Batch).Trouble {
			t.Error("a sweetened batch that stands is in trouble")
		}
	})
	t.Run("and is told to restart when it falls", func(t *testing.T) {
		j := dry().on(31, added(honey, 400, "sweeten"))
		sweet := j.replay(t).SG().Points()
		s := j.read(35, 1+(sweet-4)/1000).replay(t)
		wantStanding(t, s, Restarting, "4 points down in 4 days since it was sweetened: living yeast", "volumes of gas")
		again := j.read(37, 1+(sweet-6)/1000).replay(t)
		wantRuledOut(t, again, "a misreading: 2 readings say so")
	})
	t.Run("a batch that stands and is fed waits, then falls or stands", func(t *testing.T) {
		fed := func() *journal { return dry().on(31, added(honey, 600, "feed")) }
		sg := fed().replay(t).SG().Points()
		wantStanding(t, fed().replay(t), Lag, "it stood before it was fed; no drop yet")
		wantStanding(t, fed().read(32, 1+sg/1000).replay(t), Lag, "no drop yet")
		wantStanding(t, fed().read(32, 1+(sg-2)/1000).replay(t), Lag, "2 points down since")
		if s := fed().read(33, 1+(sg-9)/1000).replay(t); s.Standing != Slowing && s.Standing != Working {
			t.Errorf("9 points down it is %s %q", s.Standing, s.Evidence)
		}
		wantStanding(t, fed().read(33, 1+sg/1000, 37, 1+sg/1000).replay(t), Done, "at the limit of this yeast")
		for _, e := range []*journal{fed(), fed().read(32, 1+sg/1000)} {
			if Summarise(e.Batch).Trouble {
				t.Error("it is in trouble as soon as it is fed")
			}
		}
	})
	t.Run("sugar fed with the word sweeten while it works is still food", func(t *testing.T) {
		j := brew(Mead, 10, 1.090, HighYeast).read(4, 1.050, 7, 1.030).on(7, added(honey, 1000, "sweeten"))
		sg := j.replay(t).SG()
		j.read(9, float64(sg)-0.004, 14, float64(sg)-0.004, 20, float64(sg)-0.004)
		wantStanding(t, j.replay(t), Stuck, "this yeast stands")
	})
	t.Run("dilution is not a fall", func(t *testing.T) {
		j := brew(Mead, 10, 1.100, WineYeast).read(3, 1.090, 6, 1.079).on(7, added(water, 3000, ""))
		s := j.replay(t)
		if best := bestPace(s.looks()); best > 4 {
			t.Errorf("best pace %v points a day, want what was read: under 4", best)
		}
	})
}

// Ensure that the lag is told by what was read after the pitch, and a must that never
// starts becomes trouble after three days (diagnosis notes, section 2).
func TestStanding_Lag(t *testing.T) {
	for name, c := range map[string]struct {
		j       *journal
		says    string
		trouble bool
	}{
		"nothing read":                   {brew(Mead, 10, 1.1, WineYeast), "no gravity read since the yeast went in", false},
		"read the next day":              {brew(Mead, 10, 1.1, WineYeast).read(1, 1.099), "1 point below the must so far", false},
		"read above the must":            {brew(Mead, 10, 1.1, WineYeast).read(1, 1.102), "no drop yet", false},
		"not started for four days":      {brew(Mead, 10, 1.1, WineYeast).read(1, 1.1, 4, 1.099), "4 days after the pitch it should be falling", true},
		"all read before the pitch":      {unpitched(Mead, Must{Volume: 10, Gravity: 1.1}).read(0.2, 1.094, 0.4, 1.090).on(0.5, Pitch{Yeast: WineYeast}), "no gravity read since", false},
		"corrected upwards, then read":   {unpitched(Mead, Must{Volume: 10, Gravity: 1.06}).read(0.4, 1.068).on(0.5, Pitch{Yeast: WineYeast}).read(1, 1.0675), "1 point below the must", false},
		"diluted before the pitch":       {unpitched(Mead, Must{Volume: 10, Gravity: 1.11}).on(0.2, added(water, 2000, "")).on(0.3, Pitch{Yeast: WineYeast}).read(1.3, 1.092), "no drop yet", false},
		"fed nutrients, nothing read":    {brew(Mead, 10, 1.1, WineYeast).on(1, added(honey, 50, "feed")), "no gravity read since", false},
		"yeast pitched into dry cider":   {brew(Cider, 10, 1.002, WineYeast).read(5, 1.002), "no drop yet", false},
		"read twice in the same instant": {brew(Mead, 10, 1.1, WineYeast).read(1, 1.099, 1, 1.098), "2 points below", false},
	} {
		t.Run(name, func(t *testing.T) {
			wantStanding(t, c.j.replay(t), Lag, c.says)
			if got := Summarise(c.j.Batch).Trouble; got != c.trouble {
				t.Errorf("trouble is %v, want %v", got, c.trouble)
			}
		})
	}
}

// Ensure that pace is not made of noise, gaps and slips.
func TestStanding_Pace(t *testing.T) {
	for name, c := range map[string]struct {
		j    *journal
		want Standing
		says string
	}{
		"one reading, falling":           {brew(Mead, 10, 1.1, WineYeast).read(5, 1.060), Working, "8.0 points a day"},
		"an hour after the pitch":        {brew(Mead, 10, 1.1, WineYeast).read(0.04, 1.096), Working, "5.3 points a day"}, // not 96
		"two readings of one day differ": {brew(Mead, 10, 1.1, WineYeast).read(4, 1.060, 8, 1.030, 8.04, 1.0285), Working, "7.8 points a day"},
		"less than a third of its best":  {brew(Mead, 10, 1.1, WineYeast).read(4, 1.060, 8, 1.030, 12, 1.022, 16, 1.016), Slowing, "1.5 points a day, at best it made 10"},
		"a long gap, then a short one":   {brew(Mead, 10, 1.1, WineYeast).read(4, 1.080, 30, 1.000, 31, 1.000), Slowing, "too short to tell"},
		"up with nothing added":          {brew(Mead, 10, 1.1, WineYeast).read(4, 1.060, 9, 1.020, 14, 1.023), Rising, "3 points up in 5 days with nothing added"},
		"read every quarter of an hour":  {denselyRead(), Slowing, "at best it made"},
		"over three centuries":           {brew(Mead, 10, 1.1, WineYeast).read(4, 1.060, 100000, 1.000), Slowing, "0.0 points a day"},
	} {
		t.Run(name, func(t *testing.T) { wantStanding(t, c.j.replay(t), c.want, c.says) })
	}
}

// denselyRead is a batch with a floating hydrometer in it, in its tail.
func denselyRead() *journal {
	j := brew(Mead, 10, 1.1, WineYeast)
	for day := 0.5; day < 16; day += 1.0 / 96 {
		j.read(day, 1+0.1*math.Exp(-day/6))
	}
	return j
}

// Ensure that evidence reads as a person would say it.
func TestPoints(t *testing.T) {
	for x, want := range map[float64]string{0: "0 points", 1: "1 point", -0.04: "0 points", 2.44: "2.4 points", 10: "10 points"} {
		if got := points(x); got != want {
			t.Errorf("points(%v) = %q, want %q", x, got, want)
		}
	}
	for x, want := range map[float64]string{0.04: "1 hour", 1: "24 hours", 2.6: "3 days", 31: "31 days"} {
		if got := daysText(x); got != want {
			t.Errorf("daysText(%v) = %q, want %q", x, got, want)
		}
	}
}
