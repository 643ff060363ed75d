package calc

import (
	"errors"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// live is a drink that has nothing but yeast and sugar: 12 % vol with a yeast that
// bears 16, finished and clear, pH 3.3.
var live = Protection{Fermentable: 20, Finished: true, Clear: true, ABV: 12, Tolerance: 16, PH: 3.3}

// with returns live after a change.
func with(change func(*Protection)) Protection {
	p := live
	change(&p)
	return p
}

// Ensure that the verdict is that of the stabilising notes, section 4, and of the
// choices named in the comment of Stabilised.
func TestStabilised(t *testing.T) {
	table := sorbateTable(t) // 120 mg/L for live

	for name, c := range map[string]struct {
		p       Protection
		verdict Stability
		first   StabilityReason // none: ""
	}{
		// The notes: any one of these is enough.
		"sterile filtration":           {with(func(p *Protection) { p.SterileFiltered = true }), StabilitySafe, BecauseFiltered},
		"filtration, still fermenting": {with(func(p *Protection) { p.SterileFiltered, p.Finished = true, false }), StabilitySafe, BecauseFiltered},
		"heat, careful":                {with(func(p *Protection) { p.Heat = 83 }), StabilitySafe, BecauseHeated},
		"fortified":                    {with(func(p *Protection) { p.ABV = 18 }), StabilitySafe, BecauseFortified},
		"fortified, unknown yeast":     {with(func(p *Protection) { p.ABV, p.Tolerance = 18, 0 }), StabilitySafe, BecauseFortified},
		"sulfite and sorbate": {with(func(p *Protection) { p.Molecular, p.Sorbate = 0.8, 120 }),
			StabilitySafe, BecauseSulfiteAndSorbate},
		"no sugar": {with(func(p *Protection) { p.Fermentable = 1.2 }), StabilitySafe, BecauseNoSugar},
		"no sugar, still fermenting": {with(func(p *Protection) { p.Fermentable, p.Finished = 0, false }),
			StabilityLive, ""},

		// The notes: neither alone is enough; sulfite alone does not keep live yeast off.
		"sulfite alone": {with(func(p *Protection) { p.Molecular = 2 }), StabilityLive, BecauseSulfiteAlone},
		"sorbate alone": {with(func(p *Protection) { p.Sorbate = 268 }), StabilityRisky, BecauseSorbateAlone},
		"both, still fermenting": {with(func(p *Protection) { p.Molecular, p.Sorbate, p.Finished = 0.8, 268, false }),
			StabilityLive, BecauseStillFermenting},
		"sulfite, still fermenting": {with(func(p *Protection) { p.Molecular, p.Finished = 0.8, false }),
			StabilityLive, BecauseStillFermenting},
		"nothing": {live, StabilityLive, ""},

		// The notes: below 10 % vol or above pH 3.5 the limit and another barrier.
		"beyond the table": {with(func(p *Protection) { p.Molecular, p.Sorbate, p.ABV = 0.8, 268, 7 }),
			StabilityRisky, BecauseBeyondTable},
		"beyond the table by pH": {with(func(p *Protection) { p.Molecular, p.Sorbate, p.PH = 0.8, 268, 3.6 }),
			StabilityRisky, BecauseBeyondTable},
		"pH not measured": {with(func(p *Protection) { p.Molecular, p.Sorbate, p.PH = 0.8, 268, 0 }),
			StabilityRisky, BecauseBeyondTable},
		"beyond the table, with 50 PU": {with(func(p *Protection) { p.Molecular, p.Sorbate, p.ABV, p.Heat = 0.8, 268, 7, 50 }),
			StabilitySafe, BecauseSulfiteAndSorbate},
		"beyond the table, and cold": {with(func(p *Protection) { p.Molecular, p.Sorbate, p.ABV, p.KeptCold = 0.8, 268, 7, true }),
			StabilitySafe, BecauseSulfiteAndSorbate},
		"beyond the table, short of the limit": {with(func(p *Protection) { p.Molecular, p.Sorbate, p.ABV, p.Heat = 0.8, 254.5, 7, 50 }),
			StabilityLikely, BecauseHeatedFloor},
		"beyond the table, near the limit": {with(func(p *Protection) { p.Molecular, p.Sorbate, p.ABV, p.Heat = 0.8, 255, 7, 50 }),
			StabilitySafe, BecauseSulfiteAndSorbate},

		// Choices.
		"a trace of sugar more":   {with(func(p *Protection) { p.Fermentable = 1.201 }), StabilityLive, ""},
		"heat, just not careful":  {with(func(p *Protection) { p.Heat = 82.9 }), StabilityLikely, BecauseHeatedFloor},
		"heat, floor":             {with(func(p *Protection) { p.Heat = 50 }), StabilityLikely, BecauseHeatedFloor},
		"heat, short":             {with(func(p *Protection) { p.Heat = 49.9 }), StabilityRisky, BecauseHeatedShort},
		"heat, as for beer":       {with(func(p *Protection) { p.Heat = 15 }), StabilityRisky, BecauseHeatedShort},
		"heat, hardly any":        {with(func(p *Protection) { p.Heat = 14.9 }), StabilityLive, ""},
		"just below fortified":    {with(func(p *Protection) { p.ABV, p.Tolerance = 17.995, 15 }), StabilityLikely, BecauseAboveLimit},
		"fortified, strong yeast": {with(func(p *Protection) { p.ABV, p.Tolerance = 18.9, 17 }), StabilityRisky, BecauseNearLimit},
		"fortified, clearly":      {with(func(p *Protection) { p.ABV, p.Tolerance = 19, 17 }), StabilitySafe, BecauseFortified},
		"far above an ale yeast":  {with(func(p *Protection) { p.Tolerance = 10 }), StabilityLikely, BecauseAboveLimit},
		"above it by less":        {with(func(p *Protection) { p.Tolerance = 10.0005 }), StabilityRisky, BecauseNearLimit},
		"a tenth below":           {with(func(p *Protection) { p.ABV, p.Tolerance = 9, 10 }), StabilityRisky, BecauseNearLimit},
		"more than a tenth below": {with(func(p *Protection) { p.ABV, p.Tolerance = 8.9995, 10 }), StabilityLive, ""},
		"yeast unknown":           {with(func(p *Protection) { p.Tolerance = 0 }), StabilityLive, BecauseLimitUnknown},
		"above, but it still works": {with(func(p *Protection) { p.ABV, p.Finished = 20, false }),
			StabilityLive, ""},
		"cold":                      {with(func(p *Protection) { p.KeptCold = true }), StabilityLikely, BecauseCold},
		"cold, still fermenting":    {with(func(p *Protection) { p.KeptCold, p.Finished = true, false }), StabilityRisky, BecauseCold},
		"both, cloudy":              {with(func(p *Protection) { p.Molecular, p.Sorbate, p.Clear = 0.8, 120, false }), StabilityRisky, BecauseCloudy},
		"both, sorbate short":       {with(func(p *Protection) { p.Molecular, p.Sorbate = 0.8, 113.995 }), StabilityRisky, BecauseSorbateShort},
		"both, sorbate as weighed":  {with(func(p *Protection) { p.Molecular, p.Sorbate = 0.8, 114 }), StabilitySafe, BecauseSulfiteAndSorbate},
		"both, sulfite as tested":   {with(func(p *Protection) { p.Molecular, p.Sorbate = 0.761, 120 }), StabilitySafe, BecauseSulfiteAndSorbate},
		"both, sulfite as for red":  {with(func(p *Protection) { p.Molecular, p.Sorbate = 0.759, 120 }), StabilityLikely, BecauseSulfiteLow},
		"both, sulfite just there":  {with(func(p *Protection) { p.Molecular, p.Sorbate = 0.476, 120 }), StabilityLikely, BecauseSulfiteLow},
		"both, hardly any sulfite":  {with(func(p *Protection) { p.Molecular, p.Sorbate = 0.474, 120 }), StabilityRisky, BecauseSorbateAlone},
		"the zero value, sweetened": {Protection{Fermentable: 20}, StabilityLive, ""},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := Stabilised(c.p, table)
			wantNoError(t, err)
			first := StabilityReason("")
			if len(got.Findings) > 0 {
				first = got.Findings[0].Reason
			}
			if got.Verdict != c.verdict || first != c.first {
				t.Errorf("Stabilised(%+v) = %v for %q, want %v for %q; all: %v", c.p, got.Verdict, first, c.verdict, c.first, got.Findings)
			}
		})
	}

	t.Run("tells everything that speaks to it, best first", func(t *testing.T) {
		got, err := Stabilised(with(func(p *Protection) {
			p.SterileFiltered, p.Heat, p.KeptCold, p.Tolerance, p.Molecular = true, 20, true, 12, 0.8
		}), table)
		wantNoError(t, err)
		want := []Finding{
			{BecauseFiltered, StabilitySafe}, {BecauseCold, StabilityLikely}, {BecauseHeatedShort, StabilityRisky},
			{BecauseNearLimit, StabilityRisky}, {BecauseSulfiteAlone, StabilityLive},
		}
		if !slices.Equal(got.Findings, want) {
			t.Errorf("Findings = %v, want %v", got.Findings, want)
		}
	})

	t.Run("lets the dose of the table pass", rapid.MakeCheck(func(t *rapid.T) {
		p := live
		p.ABV = PercentVol(rapid.Float64Range(10, 15.9).Draw(t, "abv"))
		p.PH = PH(rapid.Float64Range(2.8, 3.5).Draw(t, "ph"))
		dose, err1 := table.Dose(p.ABV, p.PH, 19)
		free, err2 := FreeSO2For(MolecularSO2White, p.PH)
		molecular, err3 := MolecularSO2(free, p.PH)
		p.Sorbate, p.Molecular = dose.Sorbate, molecular
		got, err := Stabilised(p, table)
		if err1 != nil || err2 != nil || err3 != nil || err != nil || got.Verdict != StabilitySafe {
			t.Fatalf("%+v: %v (%v, %v, %v, %v)", p, got, err1, err2, err3, err)
		}
	}))

	t.Run("never gets worse by protection, nor better by sugar", rapid.MakeCheck(func(t *rapid.T) {
		p := drawProtection(t)
		before, err := Stabilised(p, table)
		if err != nil {
			t.Fatal(err)
		}
		more := p
		switch rapid.IntRange(0, 8).Draw(t, "what") {
		case 0:
			more.SterileFiltered = true
		case 1:
			more.KeptCold = true
		case 2:
			more.Clear = true
		case 3:
			more.Finished = true
		case 4:
			more.Heat *= 1.5
		case 5:
			more.ABV += 1
		case 6:
			more.Molecular += 0.2
		case 7:
			more.Sorbate += 50
		case 8:
			more.Fermentable /= 2
		}
		after, err := Stabilised(more, table)
		if err != nil || after.Verdict < before.Verdict {
			t.Fatalf("%+v is %v; with more, %+v, %v (%v)", p, before, more, after, err)
		}
	}))

	t.Run("is the best of its findings", rapid.MakeCheck(func(t *rapid.T) {
		got, err := Stabilised(drawProtection(t), table)
		if err != nil {
			t.Fatal(err)
		}
		best := StabilityLive
		for _, f := range got.Findings {
			best = max(best, f.Worth)
		}
		if got.Verdict != best {
			t.Fatalf("%+v", got)
		}
	}))

	t.Run("refuses what is no drink", func(t *testing.T) {
		for _, c := range []struct {
			lo, hi, step float64
			set          func(*Protection, float64)
		}{
			{0, 1228.9, 0.5, func(p *Protection, x float64) { p.Fermentable = GramPerLitre(x) }},
			{0, 30, 1e-6, func(p *Protection, x float64) { p.ABV = PercentVol(x) }},
			{0, 30, 1e-6, func(p *Protection, x float64) { p.Tolerance = PercentVol(x) }},
			{2.5, 5, 1e-6, func(p *Protection, x float64) { p.PH = PH(x) }},
			{0, 2000, 1e-6, func(p *Protection, x float64) { p.Molecular = MilligramPerLitre(x) }},
			{0, 2000, 1e-6, func(p *Protection, x float64) { p.Sorbate = MilligramPerLitre(x) }},
			{0, 1.5e6, 1e-6, func(p *Protection, x float64) { p.Heat = PU(x) }},
		} {
			checkRange(t, c.lo, c.hi, c.step, func(x float64) error {
				_, err := Stabilised(with(func(p *Protection) { c.set(p, x) }), table)
				return err
			})
		}
	})
}

// Ensure that a week at the hottest that was checked is a heat one may have.
func TestMaxHeat(t *testing.T) {
	rate, err := PURate(75)
	wantNoError(t, err)
	wantNear(t, "maxHeat", "a week at 75 °C", maxHeat, float64(rate)*7*24*60, 0.05*maxHeat)
}

func TestStability_String(t *testing.T) {
	for s, want := range map[Stability]string{
		StabilityLive: "live", StabilityRisky: "risky", StabilityLikely: "likely", StabilitySafe: "safe", 99: "unknown stability",
	} {
		if got := s.String(); got != want {
			t.Errorf("Stability(%d).String() = %q, want %q", uint8(s), got, want)
		}
	}
}

func FuzzStabilised(f *testing.F) {
	for _, x := range awkward {
		f.Add(x, 12.0, 16.0, 3.3, 0.8, 120.0, 0.0, uint8(3))
		f.Add(20.0, x, 16.0, 3.3, 0.8, 120.0, x, uint8(7))
		f.Add(20.0, 12.0, x, x, 0.8, 120.0, 60.0, uint8(15))
		f.Add(20.0, 12.0, 16.0, 3.3, x, x, 60.0, uint8(0))
	}
	f.Fuzz(func(t *testing.T, sugar, abv, tolerance, ph, so2, sorbate, heat float64, flags uint8) {
		got, err := Stabilised(Protection{
			Fermentable: GramPerLitre(sugar), ABV: PercentVol(abv), Tolerance: PercentVol(tolerance), PH: PH(ph),
			Molecular: MilligramPerLitre(so2), Sorbate: MilligramPerLitre(sorbate), Heat: PU(heat),
			Finished: flags&1 != 0, Clear: flags&2 != 0, SterileFiltered: flags&4 != 0, KeptCold: flags&8 != 0,
		}, SorbateTable{})
		if err != nil && (got.Verdict != StabilityLive || got.Findings != nil ||
			!errors.Is(err, ErrOutOfRange) && !errors.Is(err, ErrNotANumber)) {
			t.Errorf("%+v beside the error %q", got, err)
		}
		if got.Verdict > StabilitySafe {
			t.Errorf("verdict %v", got.Verdict)
		}
	})
}

func drawProtection(t *rapid.T) Protection {
	return Protection{
		Fermentable: GramPerLitre(rapid.Float64Range(0, 100).Draw(t, "sugar")),
		Finished:    rapid.Bool().Draw(t, "finished"),
		Clear:       rapid.Bool().Draw(t, "clear"),
		ABV:         PercentVol(rapid.Float64Range(0, 25).Draw(t, "abv")),
		Tolerance:   PercentVol(rapid.SampledFrom([]float64{0, 10, 14.5, 17}).Draw(t, "tolerance")),
		PH:          PH(rapid.SampledFrom([]float64{0, 3.1, 3.4, 3.8}).Draw(t, "ph")),
		Molecular:   MilligramPerLitre(rapid.SampledFrom([]float64{0, 0.3, 0.5, 0.8, 2}).Draw(t, "molecular")),
		Sorbate:     MilligramPerLitre(rapid.SampledFrom([]float64{0, 60, 135, 268}).Draw(t, "sorbate")),
		Heat:        PU(rapid.SampledFrom([]float64{0, 14, 40, 60, 100}).Draw(t, "heat")),

		SterileFiltered: rapid.Bool().Draw(t, "filtered"),
		KeptCold:        rapid.Bool().Draw(t, "cold"),
	}
}
