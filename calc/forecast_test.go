package calc

import (
	"errors"
	"math"
	"reflect"
	"testing"

	"pgregory.net/rapid"
)

// grapeProspect is a red must of 1.092 at 20 °C.
func grapeProspect(t testing.TB) Prospect {
	must, err := LiquidOf(1, 1.092, 0, GrapeSolids())
	if err != nil {
		t.Fatal(err)
	}
	p := TypicalUptake(20, 180, 14.5)
	return Prospect{Start: p.Pitched(must), Typical: p, Spread: TypicalSpread()}
}

// readingsOf returns what the course of p reads at the given times, plus noise.
func readingsOf(t testing.TB, p UptakeParameters, from Uptake, noise float64, times ...Hour) []TimedGravity {
	rows, err := p.Run(from, times...)
	if err != nil {
		t.Fatal(err)
	}
	var all []TimedGravity
	for i, row := range rows {
		n := noise * []float64{0.6, -1.1, 0.2, 1.3, -0.4, -0.9, 1}[i%7]
		all = append(all, TimedGravity{At: row.Time, SG: row.Figures.SG + SG(n), Sigma: 0.0012})
	}
	return all
}

// Ensure that the forecast says what can be known, and when nothing can.
func TestProspect_Forecast(t *testing.T) {
	p := grapeProspect(t)
	truth := p.Typical
	truth.RateScale, truth.LagWork, truth.Tolerance, truth.EthanolExponent = 1.8, 1.6, 16, 0.8
	long, err := truth.Run(p.Start, EveryHours(6, 3000)...)
	wantNoError(t, err)
	end := float64(long[len(long)-1].Figures.SG)

	t.Run("finds its own model again", func(t *testing.T) {
		f, err := p.Forecast(readingsOf(t, truth, p.Start, 0.0008, 0, 24, 48, 72, 96, 120, 144), 60, 120, 240)
		wantNoError(t, err)
		if !f.Known {
			t.Fatalf("not known: phase %v", f.Phase)
		}
		if !(float64(f.Final.Low) < end && end < float64(f.Final.High)) {
			t.Errorf("final %+v, want %v inside", f.Final, end)
		}
		if f.Final.High-f.Final.Low > 0.015 {
			t.Errorf("final %+v after 60 %% of the fall, want it narrower than 0.015", f.Final)
		}
		for i, at := range []Hour{60, 120, 240} {
			rows, err := truth.Run(p.Start, at)
			wantNoError(t, err)
			if sg := rows[0].Figures.SG; sg < f.Curve[i].Low || sg > f.Curve[i].High {
				t.Errorf("gravity %v at %v h lies outside %+v", sg, at, f.Curve[i])
			}
		}
		// Within a point of the end: the first such row, and a day for the noise.
		for _, row := range long {
			if float64(row.Figures.SG) < end+0.001 {
				if row.Time < f.Finish.Low-24 || row.Time > f.Finish.High+24 {
					t.Errorf("finish %+v, want %v inside", f.Finish, row.Time)
				}
				break
			}
		}
		if f.Phase != PhaseWorking {
			t.Errorf("phase %v, want working", f.Phase)
		}
	})

	t.Run("gives a course that can be run on", func(t *testing.T) {
		readings := readingsOf(t, truth, p.Start, 0, 0, 24, 48, 72, 96, 120, 144, 200)
		f, err := p.Forecast(readings, 300)
		wantNoError(t, err)
		rows, err := f.Fitted.Run(f.Start, 144, 300)
		wantNoError(t, err)
		wantNear(t, "run to a reading", 144, float64(rows[0].Figures.SG), float64(readings[6].SG), 0.0015)
		wantNear(t, "run ahead", 300, float64(rows[1].Figures.SG), float64(f.Curve[0].Median), 0.003)
		rate, err := f.Fitted.ExpectedRate(rows[0].Uptake)
		wantNoError(t, err)
		if rate > 0 || f.Rate > 0 || f.Rate < rate {
			t.Errorf("rate %v at 200 h, %v at 144, want both falling and the later slower", f.Rate, rate)
		}
	})

	t.Run("knows nothing from two readings", func(t *testing.T) {
		f, err := p.Forecast(readingsOf(t, truth, p.Start, 0, 0, 100, 100))
		wantNoError(t, err)
		if f.Known || f.Phase != PhaseUnknown || f.Final != (Band[SG]{}) {
			t.Errorf("%+v", f)
		}
		if f, err = p.Forecast(nil); err != nil || f.Known {
			t.Errorf("no readings: %+v, %v", f, err)
		}
	})

	t.Run("knows nothing in the lag", func(t *testing.T) {
		f, err := p.Forecast(readingsOf(t, truth, p.Start, 0, 0, 4, 8, 12))
		wantNoError(t, err)
		if f.Known || f.Phase != PhaseLag || len(f.Curve) != 0 {
			t.Errorf("%+v", f)
		}
	})

	t.Run("does not believe a blunder, and names it", func(t *testing.T) {
		readings := readingsOf(t, truth, p.Start, 0, 0, 24, 48, 72, 96, 120, 144)
		clean, err := p.Forecast(readings)
		wantNoError(t, err)
		readings[4].SG -= 0.025 // as in the measured series
		f, err := p.Forecast(readings)
		wantNoError(t, err)
		if !reflect.DeepEqual(f.Odd, []int{4}) {
			t.Errorf("odd %v, want [4]", f.Odd)
		}
		wantNear(t, "final", "with a blunder", float64(f.Final.Median), float64(clean.Final.Median), 0.002)
	})

	t.Run("tells the phases apart", func(t *testing.T) {
		for name, row := range map[string]struct {
			until Hour
			want  Phase
		}{"slowing": {260, PhaseSlowing}, "finished": {1500, PhaseFinished}} {
			f, err := p.Forecast(readingsOf(t, truth, p.Start, 0.0003, EveryHours(row.until/14, row.until)...))
			wantNoError(t, err)
			if f.Phase != row.want || !f.Known {
				t.Errorf("%s: phase %v", name, f.Phase)
			}
		}
		stuck := readingsOf(t, truth, p.Start, 0, 0, 24, 48, 72)
		for _, h := range []Hour{120, 168, 240, 312, 400} {
			stuck = append(stuck, TimedGravity{At: h, SG: stuck[3].SG - 0.001, Sigma: 0.0012})
		}
		f, err := p.Forecast(stuck)
		wantNoError(t, err)
		if f.Phase != PhaseStopped {
			t.Errorf("stuck at %v: phase %v, final %+v", stuck[3].SG, f.Phase, f.Final)
		}
		wantNear(t, "final of a stuck one", "", float64(f.Final.Median), float64(stuck[3].SG)-0.001, 0.003)
	})

	t.Run("says of a dry drink that it rests", func(t *testing.T) {
		dry, err := LiquidOf(1, 0.995, 12.5, GrapeSolids())
		wantNoError(t, err)
		dry.grams[OtherSolids] += dry.grams[Glucose] + dry.grams[Fructose]
		dry.grams[Glucose], dry.grams[Fructose] = 0, 0
		q := p
		q.Start = p.Typical.InFullSwing(dry)
		f, err := q.Forecast([]TimedGravity{{0, 0.9955, 0}, {100, 0.9945, 0}, {200, 0.995, 0}})
		wantNoError(t, err)
		if !f.Known || f.Phase != PhaseFinished || math.Abs(float64(f.Final.Median)-0.995) > 0.001 {
			t.Errorf("%+v", f)
		}
	})

	t.Run("starts anew at an event", func(t *testing.T) {
		rows, err := truth.Run(p.Start, 200)
		wantNoError(t, err)
		honey, err := NewLiquid(map[Component]Gram{Glucose: 30, Fructose: 35, Water: 20})
		wantNoError(t, err)
		fed, err := rows[0].Plus(honey, 0)
		wantNoError(t, err)
		q := p
		q.Start = fed
		f, err := q.Forecast(readingsOf(t, truth, fed, 0.0005, 0, 24, 60, 100, 160))
		wantNoError(t, err)
		later, err := truth.Run(fed, 3000)
		wantNoError(t, err)
		if sg := later[0].Figures.SG; !f.Known || sg < f.Final.Low || sg > f.Final.High {
			t.Errorf("final %+v, want %v inside", f.Final, sg)
		}
	})

	t.Run("grows surer with readings", func(t *testing.T) {
		width := func(n int) SG {
			f, err := p.Forecast(readingsOf(t, truth, p.Start, 0.0005, EveryHours(24, 360)[:n]...))
			wantNoError(t, err)
			return f.Final.High - f.Final.Low
		}
		if a, b := width(4), width(14); !(b < a) {
			t.Errorf("width %v from 4 readings, %v from 14", a, b)
		}
	})

	t.Run("is the same for the same readings in any order", func(t *testing.T) {
		readings := readingsOf(t, truth, p.Start, 0.001, 0, 24, 48, 72, 96, 120, 144)
		a, err := p.Forecast(readings, 200)
		wantNoError(t, err)
		b, err := p.Forecast(readings, 200)
		wantNoError(t, err)
		if !reflect.DeepEqual(a, b) {
			t.Error("two calls differ")
		}
		readings[1], readings[5] = readings[5], readings[1]
		if b, err = p.Forecast(readings, 200); err != nil || !reflect.DeepEqual(a, b) {
			t.Error("another order differs")
		}
	})

	t.Run("takes thousands of readings of a floating instrument", func(t *testing.T) {
		f, err := p.Forecast(readingsOf(t, truth, p.Start, 0.001, EveryHours(0.25, 220)...))
		wantNoError(t, err)
		if !f.Known || end < float64(f.Final.Low) || end > float64(f.Final.High) {
			t.Errorf("final %+v, want %v inside", f.Final, end)
		}
	})

	t.Run("holds for certain what has no spread", func(t *testing.T) {
		q := p
		q.Spread = ForecastSpread{}
		f, err := q.Forecast(readingsOf(t, truth, p.Start, 0, 0, 48, 96, 144))
		wantNoError(t, err)
		if f.Fitted != q.Typical {
			t.Errorf("fitted %+v, want the typical", f.Fitted)
		}
	})
}

// Ensure that nothing outside the model's reach comes back as a figure.
func TestProspect_Forecast_refuses(t *testing.T) {
	p := grapeProspect(t)
	some := []TimedGravity{{0, 1.092, 0}, {48, 1.07, 0}, {96, 1.04, 0}}
	with := func(change func(*Prospect)) error {
		q := p
		change(&q)
		_, err := q.Forecast(some)
		return err
	}
	for name, set := range map[string]func(q *Prospect, x float64){
		"rate":      func(q *Prospect, x float64) { q.Spread.RateScale = x },
		"nitrogen":  func(q *Prospect, x float64) { q.Spread.Nitrogen = x },
		"tolerance": func(q *Prospect, x float64) { q.Spread.Tolerance = x },
		"lag":       func(q *Prospect, x float64) { q.Spread.LagWork = x },
		"gravity":   func(q *Prospect, x float64) { q.Spread.Gravity = SG(x / 10) },
		"share":     func(q *Prospect, x float64) { q.Spread.Unfermentable = x },
		"exponent":  func(q *Prospect, x float64) { q.Spread.EthanolExponent = x },
	} {
		t.Run(name, func(t *testing.T) {
			checkRange(t, 0, 1, 0.01, func(x float64) error { return with(func(q *Prospect) { set(q, x) }) })
		})
	}
	checkRange(t, 0, 10, 0.1, func(x float64) error {
		return with(func(q *Prospect) { q.Spread.ToleranceAbove = PercentVol(x) })
	})
	checkRange(t, 0, 4032, 1, func(x float64) error {
		_, err := p.Forecast(append([]TimedGravity{{Hour(x), 1.0, 0}}, some...))
		return err
	})
	checkRange(t, 0, 4032, 1, func(x float64) error { _, err := p.Forecast(some, Hour(x)); return err })
	for name, err := range map[string]error{
		"empty vessel": with(func(q *Prospect) { q.Start.Liquid = Liquid{} }),
		"dry sugar":    with(func(q *Prospect) { q.Start.Liquid = SugarSolids() }),
		"syrup": with(func(q *Prospect) {
			q.Start.Liquid = SugarSolids().Plus(Liquid{grams: [componentCount]float64{Water: 90}})
		}),
		"no yeast": with(func(q *Prospect) { q.Start.Yeast = -1 }),
		"hot":      with(func(q *Prospect) { q.Typical.Temperature = 99 }),
	} {
		if !errors.Is(err, ErrOutOfRange) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := p.Forecast([]TimedGravity{{0, 2, 0}, {1, 1, 0}, {2, 1, 0}}); !errors.Is(err, ErrOutOfRange) {
		t.Errorf("gravity 2: %v", err)
	}
}

// Ensure that a bare list of times and gravities has a forecast.
func TestProspectOf(t *testing.T) {
	p, err := ProspectOf(1.09, 20, 14.5)
	wantNoError(t, err)
	sg, err := p.Start.Liquid.SG()
	wantNoError(t, err)
	wantNear(t, "original gravity", "", float64(sg), 1.09, 1e-9)
	f, err := p.Forecast([]TimedGravity{{0, 1.09, 0}, {48, 1.075, 0}, {96, 1.047, 0}, {144, 1.025, 0}})
	wantNoError(t, err)
	if !f.Known || f.Final.Median < 0.985 || f.Final.Median > 1.003 {
		t.Errorf("%+v", f)
	}
	checkRange(t, 1, 1.2, 0.001, func(x float64) error { _, err := ProspectOf(SG(x), 20, 14.5); return err })
}

// Ensure that the inner loop's gravity is the ledger's.
func TestQuickGravity(t *testing.T) {
	q := newQuickGravity()
	t.Run("on its own", rapid.MakeCheck(func(t *rapid.T) {
		var l Liquid
		l.grams[Ethanol] = rapid.Float64Range(0, 160).Draw(t, "ethanol")
		l.grams[Sucrose] = rapid.Float64Range(0, 400).Draw(t, "extract")
		l.grams[Water] = rapid.Float64Range(650, 1000).Draw(t, "water")
		v, err := l.Volume()
		if err != nil {
			t.Fatal(err)
		}
		l = l.Scaled(0.995 / float64(v)) // what was a litre of must
		want, err := l.SG()
		if err != nil {
			t.Fatal(err)
		}
		if got := q.of(float64(l.Mass()), l.grams[Ethanol], l.grams[Sucrose]); math.Abs(got-float64(want)) > 5e-5 {
			t.Fatalf("gravity %v, want %v", got, want)
		}
	}))

	t.Run("along a course", rapid.MakeCheck(func(t *rapid.T) {
		must, p := drawUptake(t)
		prospect := Prospect{Start: p.Pitched(must), Typical: p}
		m, err := newForecastModel(prospect, readingsAt(0, 0, 20, 40), nil)
		if err != nil {
			t.Fatal(err)
		}
		c := m.course(&fitVector{})
		rows, err := p.Simulate(must, EveryHours(30, 960)...)
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range rows {
			// Coarse steps and a cubic between them; a third of what an eye reads.
			if got := c.at(float64(row.Time)); math.Abs(got-float64(row.Figures.SG)) > 4e-4 {
				t.Fatalf("gravity %v after %v h, want %v", got, row.Time, row.Figures.SG)
			}
		}
	}))
}

// Ensure that weights do not let one draw speak for all.
func TestTamed(t *testing.T) {
	w := tamed([]float64{0, 0, 0, 10})
	if sum := w[0] + w[1] + w[2] + w[3]; w[3]/sum > 0.9999 || w[3] <= w[0] {
		t.Errorf("tamed = %v", w)
	}
	if len(tamed(nil)) != 0 {
		t.Error("weights of nothing")
	}
}

func FuzzForecast(f *testing.F) {
	for _, x := range awkward {
		f.Add(x, 24.0, 1.08, 48.0, 1.06, 20.0, 14.0, 0.001)
		f.Add(1.09, x, x, 48.0, 1.06, x, 14.0, 0.001)
		f.Add(1.09, 24.0, 1.08, x, x, 20.0, x, x)
	}
	f.Fuzz(func(t *testing.T, og, h1, g1, h2, g2, celsius, tolerance, sigma float64) {
		p, err := ProspectOf(SG(og), Celsius(celsius), PercentVol(tolerance))
		if err != nil {
			checkResult(t, "ProspectOf", 0, err)
			return
		}
		got, err := p.Forecast([]TimedGravity{{0, SG(og), 0}, {Hour(h1), SG(g1), SG(sigma)}, {Hour(h2), SG(g2), 0}}, Hour(h2))
		checkResult(t, "Forecast", float64(got.Final.Median), err)
		checkResult(t, "Forecast", float64(got.Finish.High), err)
		if err == nil && got.Known && !(got.Final.Low <= got.Final.Median && got.Final.Median <= got.Final.High) {
			t.Errorf("band %+v is out of order", got.Final)
		}
	})
}

func BenchmarkProspect_Forecast(b *testing.B) {
	p := grapeProspect(b)
	for name, n := range map[string]int{"3 readings": 3, "30 readings": 30} {
		readings := readingsOf(b, p.Typical, p.Start, 0.001, EveryHours(240/Hour(n-1), 240)...)
		times := EveryHours(6, 600)
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				f, err := p.Forecast(readings, times...)
				if err != nil {
					b.Fatal(err)
				}
				sink = float64(f.Final.Median)
			}
		})
	}
}
