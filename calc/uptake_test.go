package calc

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// uptakeCase is one of the reference trajectories of the kinetics notes, section 3.
type uptakeCase struct {
	name      string
	sugars    map[Component]Gram
	nitrogen  YAN
	pitch     GramPerLitre
	celsius   Celsius
	tolerance PercentVol
}

func uptakeCases() []uptakeCase {
	return []uptakeCase{
		{"REC-B", map[Component]Gram{Sucrose: 4, Glucose: 10, Fructose: 2, Maltose: 58, Maltotriose: 15}, 180, 0.5, 20, 10},
		{"REC-W", map[Component]Gram{Glucose: 110, Fructose: 110}, 200, 0.25, 20, 15},
		{"REC-M", map[Component]Gram{Sucrose: 5, Glucose: 110, Fructose: 135}, 80, 0.25, 20, 14},
		{"REC-S", map[Component]Gram{Sucrose: 280}, 200, 0.4, 22, 12},
		{"REC-C", map[Component]Gram{Sucrose: 20, Glucose: 25, Fructose: 70}, 100, 0.25, 14, 14},
	}
}

// notesYield is the yield that the reference trajectories were computed with.
var notesYield = Yield{Ethanol: 0.484, CO2: 0.465}

// must returns a litre of the case's must, and its parameters.
func (c uptakeCase) must(t testing.TB) (Liquid, UptakeParameters) {
	l, err := NewLiquid(c.sugars)
	if err != nil {
		t.Fatal(err)
	}
	if l, err = MadeUpTo(l, 1); err != nil {
		t.Fatal(err)
	}
	// The notes take 7.89 g/L for 1 % vol, this package the 7.8924 of OIML R 22; that
	// alone moves the sugar left at the tolerance by 0.1 %.
	p := TypicalUptake(c.celsius, c.nitrogen, c.tolerance*7.89/(ethanolDensityPure20/100))
	p.Pitch = c.pitch
	p.Yield = notesYield
	return l, p
}

// Ensure that the model is the one of the kinetics notes: their trajectories were
// computed apart from this code, by a fourth order method in steps of 1/16 h.
func TestUptakeParameters_Simulate(t *testing.T) {
	t.Run("gives the reference trajectories", func(t *testing.T) {
		table := readTable(t, "kinetics-check.csv")
		for _, c := range uptakeCases() {
			must, p := c.must(t)
			var times []Hour
			var want []map[string]string
			for _, row := range table {
				if row["case"] == c.name {
					times = append(times, Hour(number(t, row, "time_h")))
					want = append(want, row)
				}
			}
			if len(times) < 10 {
				t.Fatalf("case %s has %d rows", c.name, len(times))
			}
			rows, err := p.Simulate(must, times...)
			wantNoError(t, err)
			for i, row := range rows {
				at := [2]any{c.name, float64(row.Time)}
				check := func(column string, got, floor float64) {
					w := number(t, want[i], column)
					// Asked for within 0.1 % or 0.01 g/L. Half of that is left: the table is
					// rounded to 0.00001, its own error is 1e-6.
					wantNear(t, column, at, got, w, max(0.0005*w, floor))
				}
				for c, column := range map[Component]string{Sucrose: "sucrose", Glucose: "glucose",
					Fructose: "fructose", Maltose: "maltose", Maltotriose: "maltotriose", Ethanol: "ethanol"} {
					check(column, row.Liquid.grams[c], 0.002)
				}
				check("yan_mgN_L", float64(row.Nitrogen), 0.01)
				check("active_yeast", float64(row.Yeast), 0.0005)
			}
		}
	})

	t.Run("keeps the invariants of the notes", func(t *testing.T) {
		for _, c := range uptakeCases() {
			must, p := c.must(t)
			rows, err := p.Simulate(must, EveryHours(7, 1000)...)
			wantNoError(t, err)
			hexose := float64(must.Hexose())
			for _, row := range rows {
				l := row.Liquid
				// E/Y_E + hexose left is constant; asked for within 2e-5 of itself.
				wantNear(t, c.name+" balance", row.Time, (l.grams[Ethanol]/notesYield.Ethanol+float64(l.Hexose()))/hexose, 1, 1e-9)
				// Mass: what has gone is gas and yeast.
				gone := float64(must.Mass() - l.Mass())
				eaten := hexose - float64(l.Hexose())
				wantNear(t, c.name+" mass", row.Time, gone, eaten*(1-notesYield.Ethanol), 1e-9*hexose)
				// One carrier for both: with no sucrose, ln(G0/G)/ln(F0/F) = K_F/K_G.
				if c.name == "REC-W" && row.Time > 0 && l.grams[Glucose] > 0.01 {
					ratio := math.Log(110/l.grams[Glucose]) / math.Log(110/l.grams[Fructose])
					wantNear(t, "ln G over ln F", row.Time, ratio, 19.6/10.3, 0.002)
				}
			}
		}
	})

	t.Run("eats the sugars of a wort in order", func(t *testing.T) {
		must, p := uptakeCases()[0].must(t)
		rows, err := p.Simulate(must, EveryHours(1, 240)...)
		wantNoError(t, err)
		// Below 10 % of their peak at these hours (kinetics notes, section 3).
		for c, want := range map[Component]Hour{Sucrose: 24, Glucose: 47, Fructose: 63, Maltose: 100, Maltotriose: 157} {
			peak, below := 0.0, Hour(0)
			for _, row := range rows {
				peak = max(peak, row.Liquid.grams[c])
				if row.Liquid.grams[c] < 0.1*peak && below == 0 {
					below = row.Time
				}
			}
			if math.Abs(float64(below-want)) > 1 {
				t.Errorf("%v falls below a tenth of its peak at %v h, want %v", c, below, want)
			}
		}
	})

	t.Run("reads by the ledger", func(t *testing.T) {
		must, p := uptakeCases()[1].must(t)
		rows, err := p.Simulate(must, 0, 600)
		wantNoError(t, err)
		start, err := must.SG()
		wantNoError(t, err)
		wantNear(t, "gravity", 0, float64(rows[0].Figures.SG), float64(start), 1e-12)
		// 105.03 g ethanol and 3 g fructose in what was a litre: between 13 and 14 % vol.
		if abv := rows[1].Figures.Strength; abv < 13.2 || abv > 13.6 {
			t.Errorf("strength after 600 h = %v", abv)
		}
	})

	t.Run("leaves what the yeast cannot take", func(t *testing.T) {
		must, p := uptakeCases()[0].must(t)
		p.MaltoseRate, p.MaltotrioseRate = 0, 0
		rows, err := p.Simulate(must, 2000)
		wantNoError(t, err)
		l := rows[0].Liquid
		wantNear(t, "maltose", 2000, l.grams[Maltose], 58, 1e-12)
		wantNear(t, "maltotriose", 2000, l.grams[Maltotriose], 15, 1e-12)
	})

	t.Run("takes fructose sooner with a yeast that loves it", func(t *testing.T) {
		must, p := uptakeCases()[1].must(t)
		plain, err := p.Simulate(must, 240)
		wantNoError(t, err)
		loving, err := p.FructoseLoving().Simulate(must, 240)
		wantNoError(t, err)
		if !(loving[0].Liquid.grams[Fructose] < plain[0].Liquid.grams[Fructose]) {
			t.Errorf("fructose %v, want less than %v", loving[0].Liquid.grams[Fructose], plain[0].Liquid.grams[Fructose])
		}
	})

	t.Run("brakes less with a smaller exponent", func(t *testing.T) {
		must, p := uptakeCases()[1].must(t)
		p.EthanolExponent = 0.5
		half, err := p.Simulate(must, 240)
		wantNoError(t, err)
		if g := half[0].Liquid.grams[Fructose]; !(g < 29) {
			t.Errorf("fructose %v after 240 h, want less than the 29.9 of n = 1", g)
		}
	})

	t.Run("stays whole whatever goes in", rapid.MakeCheck(func(t *rapid.T) {
		must, p := drawUptake(t)
		rows, err := p.Simulate(must, EveryHours(24, 2400)...)
		if err != nil {
			t.Fatal(err)
		}
		limit := float64(p.Tolerance) / 100 * ethanolDensityPure20
		v, _ := must.Volume()
		hexose, before := float64(must.Hexose()), rows[0]
		for _, row := range rows {
			l := row.Liquid
			for c, g := range l.grams {
				if !(g >= 0) {
					t.Fatalf("%v of %v after %v h", g, Component(c), row.Time)
				}
			}
			if !(row.Yeast >= 0 && row.Nitrogen >= 0 && row.LagLeft >= 0) {
				t.Fatalf("yeast %v, nitrogen %v, lag %v after %v h", row.Yeast, row.Nitrogen, row.LagLeft, row.Time)
			}
			if e := l.grams[Ethanol] / float64(v); e > limit+0.01 {
				t.Fatalf("%v g/L ethanol after %v h, want at most %v", e, row.Time, limit)
			}
			// 1e-4 g: at worst the rounding of a whole fermentation.
			if l.Hexose() > before.Liquid.Hexose()+1e-4 || row.Nitrogen > before.Nitrogen+1e-4 {
				t.Fatalf("hexose %v or nitrogen %v rises after %v h", l.Hexose(), row.Nitrogen, row.Time)
			}
			gone := float64(must.Mass() - l.Mass())
			eaten := hexose - float64(l.Hexose())
			// 1e-6 g of each of the five sugars: traces below what the integration
			// resolves are cut to nothing, each by itself.
			if math.Abs(gone-eaten*(1-p.Yield.Ethanol-p.Yield.Glycerol)) > 5e-6+1e-9*hexose {
				t.Fatalf("mass lost %v, eaten %v after %v h", gone, eaten, row.Time)
			}
			before = row
		}
	}))

	t.Run("is near the same in steps a hundredth as accurate", rapid.MakeCheck(func(t *rapid.T) {
		// What fitting works with; it must not tell in a reading.
		must, p := drawUptake(t)
		fine, err1 := p.runner(p.Pitched(must), uptakeFine)
		coarse, err2 := p.runner(p.Pitched(must), uptakeCoarse)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		for at := 12.0; at < 600; at += 36 {
			a, err1 := fine.moment(at).Liquid.SG()
			b, err2 := coarse.moment(at).Liquid.SG()
			if err1 != nil || err2 != nil || math.Abs(float64(a-b)) > 3e-4 {
				t.Fatalf("SG %v fine, %v coarse after %v h (%v, %v)", a, b, at, err1, err2)
			}
		}
	}))
}

// drawUptake draws a litre of must and a yeast from all the places the model is for:
// 5 to 35 °C, up to 400 mg/L of nitrogen and 400 g/L of any sugars.
func drawUptake(t *rapid.T) (Liquid, UptakeParameters) {
	total := rapid.Float64Range(0, 400).Draw(t, "sugar")
	var l Liquid
	sum := 0.0
	for c := Sucrose; c <= Maltotriose; c++ {
		l.grams[c] = rapid.Float64Range(0, 1).Draw(t, c.String())
		sum += l.grams[c]
	}
	if sum > 0 {
		l = l.Scaled(total / sum)
	}
	l.grams[Ethanol] = rapid.Float64Range(0, 40).Draw(t, "ethanol")
	must, err := MadeUpTo(l, 1)
	if err != nil {
		t.Fatal(err)
	}
	p := TypicalUptake(Celsius(rapid.Float64Range(5, 35).Draw(t, "celsius")),
		YAN(rapid.Float64Range(0, 400).Draw(t, "nitrogen")),
		PercentVol(rapid.Float64Range(6, 20).Draw(t, "tolerance")))
	p.Pitch = GramPerLitre(rapid.Float64Range(0.01, 2).Draw(t, "pitch"))
	p.RateScale = rapid.Float64Range(0.3, 2.5).Draw(t, "scale")
	p.LagWork = rapid.Float64Range(0, 3).Draw(t, "lag")
	return must, p
}

// Ensure that what is asked outside the model is refused by name.
func TestUptakeParameters_Validate(t *testing.T) {
	must, typical := uptakeCases()[1].must(t)
	for name, row := range map[string]struct {
		lo, hi float64
		set    func(*UptakeParameters, float64)
	}{
		"temperature": {0, 45, func(p *UptakeParameters, x float64) { p.Temperature = Celsius(x) }},
		"nitrogen":    {0, 2000, func(p *UptakeParameters, x float64) { p.Nitrogen = YAN(x) }},
		"tolerance":   {1, 30, func(p *UptakeParameters, x float64) { p.Tolerance = PercentVol(x) }},
		"pitch":       {1e-4, 20, func(p *UptakeParameters, x float64) { p.Pitch = GramPerLitre(x) }},
		"scale":       {0.001, 20, func(p *UptakeParameters, x float64) { p.RateScale = x }},
		"lag":         {0, 20, func(p *UptakeParameters, x float64) { p.LagWork = x }},
		"exponent":    {0.25, 4, func(p *UptakeParameters, x float64) { p.EthanolExponent = x }},
		"death":       {0, 4, func(p *UptakeParameters, x float64) { p.DeathShare = x }},
		"KN":          {1e-4, 1, func(p *UptakeParameters, x float64) { p.KNitrogen = x }},
		"KG":          {0.1, 1000, func(p *UptakeParameters, x float64) { p.KGlucose = x }},
		"KF":          {0.1, 1000, func(p *UptakeParameters, x float64) { p.KFructose = x }},
		"rM":          {0, 10, func(p *UptakeParameters, x float64) { p.MaltoseRate = x }},
		"rR":          {0, 10, func(p *UptakeParameters, x float64) { p.MaltotrioseRate = x }},
		"KM":          {0.1, 1000, func(p *UptakeParameters, x float64) { p.KMaltose = x }},
		"KR":          {0.1, 1000, func(p *UptakeParameters, x float64) { p.KMaltotriose = x }},
		"Kr":          {0.1, 1000, func(p *UptakeParameters, x float64) { p.KRepression = x }},
		"Vinv":        {0, 100, func(p *UptakeParameters, x float64) { p.InvertaseRate = x }},
		"Kinv":        {0.1, 1000, func(p *UptakeParameters, x float64) { p.KInvertase = x }},
		"ethanol":     {0, 0.5114, func(p *UptakeParameters, x float64) { p.Yield.Ethanol = x }},
		"CO2":         {0, 0.516, func(p *UptakeParameters, x float64) { p.Yield.CO2 = x }},
		"glycerol":    {0, 0.051, func(p *UptakeParameters, x float64) { p.Yield.Glycerol = x }},
	} {
		t.Run(name, func(t *testing.T) {
			step := 0.01 * row.hi
			checkRange(t, row.lo, row.hi, step, func(x float64) error {
				p := typical
				row.set(&p, x)
				_, err := p.Simulate(must, 1, 50)
				return err
			})
		})
	}
}

// Ensure that the times and the liquid are looked at before the yeast goes in.
func TestUptakeParameters_Run(t *testing.T) {
	must, p := uptakeCases()[1].must(t)
	t.Run("refuses times that fall or lie beyond two years", func(t *testing.T) {
		checkRange(t, 0, 17520, 1, func(x float64) error {
			_, err := p.Simulate(must, Hour(x))
			return err
		})
		if _, err := p.Simulate(must, 10, 9); !errors.Is(err, ErrOutOfRange) {
			t.Errorf("times 10, 9: %v", err)
		}
	})

	t.Run("refuses what is no must", func(t *testing.T) {
		if _, err := p.Simulate(Liquid{}, 1); !errors.Is(err, ErrOutOfRange) {
			t.Errorf("empty vessel: %v", err)
		}
		dry, err := NewLiquid(map[Component]Gram{Sucrose: 1000, Water: 10})
		wantNoError(t, err)
		if _, err := p.Simulate(dry, 1); !errors.Is(err, ErrOutOfRange) {
			t.Errorf("dry sugar: %v", err)
		}
		thick, err := NewLiquid(map[Component]Gram{Sucrose: 1000, Water: 400})
		wantNoError(t, err)
		if _, err := p.Simulate(thick, 1); err == nil || !strings.Contains(err.Error(), "sugar") {
			t.Errorf("syrup: %v", err)
		}
	})

	t.Run("refuses a yeast that cannot be", func(t *testing.T) {
		for _, bad := range []Uptake{
			{Liquid: must, Yeast: -1}, {Liquid: must, Nitrogen: -1}, {Liquid: must, FirstNitrogen: YAN(math.NaN())},
			{Liquid: must, LagLeft: math.Inf(1)},
		} {
			if _, err := p.Run(bad, 1); err == nil {
				t.Errorf("Run(%+v) gives no error", bad)
			}
		}
	})

	t.Run("goes on from any moment as if it had not stopped", rapid.MakeCheck(func(t *rapid.T) {
		// The volume that concentrations are reckoned with is taken anew, and a drink is
		// 1 % smaller than its must: alike, not the same. Of twenty thousand draws the
		// furthest apart, 400 g/L at the quickest yeast, differ by 0.0015.
		must, p := drawUptake(t)
		at := Hour(rapid.Float64Range(1, 200).Draw(t, "at"))
		whole, err := p.Simulate(must, at, at+100)
		if err != nil {
			t.Fatal(err)
		}
		rest, err := p.Run(whole[0].Uptake, 100)
		if err != nil {
			t.Fatal(err)
		}
		if d := float64(rest[0].Figures.SG - whole[1].Figures.SG); math.Abs(d) > 0.002 {
			t.Fatalf("SG %v in two runs, %v in one", rest[0].Figures.SG, whole[1].Figures.SG)
		}
	}))
}

// Ensure that events change a fermentation as they change a vessel.
func TestUptake_Events(t *testing.T) {
	must, p := uptakeCases()[2].must(t)
	rows, err := p.Simulate(must, 240)
	wantNoError(t, err)
	now := rows[0].Uptake

	t.Run("pouring thins yeast and nitrogen and keeps mass", func(t *testing.T) {
		water, err := WaterOf(1)
		wantNoError(t, err)
		got, err := now.Plus(water, 0.1)
		wantNoError(t, err)
		wantNear(t, "mass", "", float64(got.Liquid.Mass()), float64(now.Liquid.Mass()+water.Mass()), 1e-9)
		wantNear(t, "yeast", "", float64(got.Yeast), float64(now.Yeast)/2, 0.02)
		wantNear(t, "nitrogen", "", float64(got.Nitrogen), 50, 1)
		wantNear(t, "nitrogen at first", "", float64(got.FirstNitrogen), 90, 1)
		empty, err := (Uptake{}).Plus(Liquid{}, 0)
		wantNoError(t, err)
		if empty != (Uptake{}) {
			t.Errorf("nothing poured into nothing is %+v", empty)
		}
	})

	t.Run("a feed lets a starved must run on", func(t *testing.T) {
		fed, err := now.Plus(Liquid{}, 0.2)
		wantNoError(t, err)
		plain, err := p.Run(now, 240)
		wantNoError(t, err)
		helped, err := p.Run(fed, 240)
		wantNoError(t, err)
		if !(helped[0].Figures.SG < plain[0].Figures.SG-0.005) {
			t.Errorf("SG %v fed, %v not", helped[0].Figures.SG, plain[0].Figures.SG)
		}
	})

	t.Run("a rack slows and fresh yeast hastens", func(t *testing.T) {
		less, err := now.Racked(0.8)
		wantNoError(t, err)
		more, err := now.Repitched(2, 0)
		wantNoError(t, err)
		var sg []SG
		for _, u := range []Uptake{more, now, less} {
			rows, err := p.Run(u, 120)
			wantNoError(t, err)
			sg = append(sg, rows[0].Figures.SG)
		}
		if !(sg[0] < sg[1] && sg[1] < sg[2]) {
			t.Errorf("SG %v, want it to rise from repitched to racked", sg)
		}
	})

	t.Run("fresh yeast has its own lag", func(t *testing.T) {
		got, err := Uptake{Liquid: must, Yeast: 1}.Repitched(1, 1)
		wantNoError(t, err)
		// Half is awake, half by e^-1.
		wantNear(t, "lag", "", math.Exp(-got.LagLeft), (1+math.Exp(-1))/2, 1e-12)
		none, err := Uptake{Liquid: must}.Repitched(0, 1)
		wantNoError(t, err)
		if none.LagLeft != 0 {
			t.Errorf("lag %v without yeast", none.LagLeft)
		}
	})

	t.Run("refuses what cannot be done", func(t *testing.T) {
		checkRange(t, 0, 1, 0.01, func(x float64) error { _, err := now.Racked(x); return err })
		checkRange(t, 0, 20, 0.01, func(x float64) error { _, err := now.Repitched(GramPerLitre(x), 1); return err })
		checkRange(t, 0, 20, 0.01, func(x float64) error { _, err := now.Repitched(1, x); return err })
		checkRange(t, 0, 1e9, 1, func(x float64) error { _, err := now.Plus(Liquid{}, Gram(x)); return err })
		sugar, err := NewLiquid(map[Component]Gram{Sucrose: 1e5})
		wantNoError(t, err)
		if _, err := now.Plus(sugar, 0); err == nil {
			t.Error("a mountain of sugar gives no error")
		}
		if _, err := (Uptake{Liquid: sugar}).Plus(must, 0); err == nil {
			t.Error("from dry sugar gives no error")
		}
	})
}

// Ensure that the pieces of the model are those of their sources.
func TestUptake_Constants(t *testing.T) {
	t.Run("lag is what the diagnosis notes say", func(t *testing.T) {
		// 28, 19, 12.7, 8.6 h at 10, 15, 20, 25 °C with h0 1.2 (section 2).
		for _, row := range []struct{ c, h, digit float64 }{{10, 28, 0.51}, {15, 19, 0.51}, {20, 12.7, 0.051}, {25, 8.6, 0.051}} {
			wantNear(t, "Lag", row.c, float64(TypicalUptake(Celsius(row.c), 200, 14).Lag()), row.h, row.digit)
		}
	})
	t.Run("heat stops growth", func(t *testing.T) {
		// Salvado et al. 2011: optimum 32.3, maximum 45.4 °C.
		if !math.IsInf(1/uptakeGrowthRate(45.4), 1) || uptakeHot(32) != 1 || uptakeHot(50) != 0 {
			t.Errorf("hot(32) = %v, growth(45.4) = %v", uptakeHot(32), uptakeGrowthRate(45.4))
		}
	})
	t.Run("yeast from nitrogen never falls", func(t *testing.T) {
		for n := 0.0; n < 1; n += 0.01 {
			if n*yeastPerNitrogen(n) > (n+0.01)*yeastPerNitrogen(n+0.01) {
				t.Errorf("more nitrogen than %v makes less yeast", n)
			}
		}
	})
	t.Run("a pitch of cells has its mass", func(t *testing.T) {
		// 4e-11 g a cell (Coleman, Fish & Block 2007): 10 million per mL are 0.4 g/L.
		wantNear(t, "PitchOfCells", 10, float64(PitchOfCells(10)), 10e6*1000*4e-11, 1e-12)
	})
	t.Run("times are spread evenly", func(t *testing.T) {
		if got := EveryHours(24, 60); len(got) != 4 || got[3] != 60 || got[2] != 48 {
			t.Errorf("EveryHours(24, 60) = %v", got)
		}
		if got := EveryHours(0, 60); len(got) != 2 {
			t.Errorf("EveryHours(0, 60) = %v", got)
		}
		if got := EveryHours(1, Hour(math.NaN())); len(got) != 1 {
			t.Errorf("EveryHours(1, NaN) = %v", got)
		}
	})
}

func FuzzUptake(f *testing.F) {
	for _, x := range awkward {
		f.Add(x, 20.0, 150.0, 14.0, 100.0)
		f.Add(200.0, x, 150.0, 14.0, 100.0)
		f.Add(200.0, 20.0, x, 14.0, 100.0)
		f.Add(200.0, 20.0, 150.0, x, 100.0)
		f.Add(200.0, 20.0, 150.0, 14.0, x)
	}
	f.Fuzz(func(t *testing.T, sugar, celsius, yan, tolerance, at float64) {
		must, err := NewLiquid(map[Component]Gram{Sucrose: Gram(sugar), Maltose: Gram(sugar / 3), Water: 900})
		if err != nil {
			return
		}
		rows, err := TypicalUptake(Celsius(celsius), YAN(yan), PercentVol(tolerance)).Simulate(must, Hour(at))
		switch {
		case err == nil:
			checkResult(t, "Simulate", float64(rows[0].Figures.SG), nil)
		default:
			checkResult(t, "Simulate", 0, err)
		}
	})
}

func BenchmarkUptakeParameters_Simulate(b *testing.B) {
	must, p := uptakeCases()[1].must(b)
	times := EveryHours(24, 1440)
	b.ReportAllocs()
	for b.Loop() {
		rows, err := p.Simulate(must, times...)
		if err != nil {
			b.Fatal(err)
		}
		sink = float64(rows[0].Yeast)
	}
}

// The fitter's inner loop: two weeks in coarse steps.
func BenchmarkUptakeRunner_coarse(b *testing.B) {
	must, p := uptakeCases()[1].must(b)
	b.ReportAllocs()
	for b.Loop() {
		r, err := p.runner(p.Pitched(must), uptakeCoarse)
		if err != nil {
			b.Fatal(err)
		}
		y := r.walk.reach(336)
		sink = y[upFructose]
	}
}
