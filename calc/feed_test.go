package calc

import (
	"errors"
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// dap is diammonium phosphate as the handbook has it; that it does is tested there.
var dap = NitrogenSource{Nitrogen: 212.1, Most: 1}

// Ensure that a plan feeds what the scale asks for, when the sources say.
func TestNitrogenSource_Plan(t *testing.T) {
	must := MustToFeed{Volume: 19, Original: 24, Need: MediumNeed}

	t.Run("is the worked example", func(t *testing.T) {
		got, err := dap.Plan(must, FeedQuarters)
		wantNoError(t, err)
		wantNear(t, "Mass", "19 L", float64(got.Mass), 21.3, 0.051)
		wantNear(t, "Target", "24 Brix", float64(got.Target), 237.4, 0.051)
		wantNear(t, "Mass", "19 L", float64(got.Mass), 237.385*19/212.1, 0.001)
	})

	t.Run("makes 212 mg/L of a gram in a litre", func(t *testing.T) {
		// Nutrient notes, section 2, computed: 1 g/L gives 212 mg/L, 100 mg/L gives 21.
		got, err := dap.Plan(MustToFeed{Volume: 1, Original: 24, Need: LeastNeed}, FeedHalves)
		wantNoError(t, err)
		wantNear(t, "YAN from a gram", "dap", 140/float64(got.Mass), 212, 0.51)
	})

	t.Run("shares it out as published", func(t *testing.T) {
		const hour = time.Hour
		third := SG(1.067321) // of 24 Brix, 1.100981
		for split, want := range map[FeedSplit][]FeedDose{
			FeedHalves:   {{After: 12 * hour}, {SG: third}},
			FeedThirds:   {{After: 12 * hour}, {SG: third}, {SG: 1.039984}}, // 10 Brix to go
			FeedQuarters: {{After: 24 * hour}, {After: 48 * hour}, {After: 72 * hour}, {After: 168 * hour, SG: third}},
		} {
			got, err := dap.Plan(must, split)
			wantNoError(t, err)
			if len(got.Doses) != len(want) {
				t.Fatalf("%s has %d doses, want %d", split, len(got.Doses), len(want))
			}
			for i, dose := range got.Doses {
				wantNear(t, string(split)+" mass", i, float64(dose.Mass), float64(got.Mass)/float64(len(want)), 1e-9)
				wantNear(t, string(split)+" gravity", i, float64(dose.SG), float64(want[i].SG), 0.0000051)
				if dose.After != want[i].After {
					t.Errorf("%s dose %d after %v, want %v", split, i, dose.After, want[i].After)
				}
			}
		}
	})

	t.Run("puts a third of the drop from 1.100 at 1.067", func(t *testing.T) {
		// Nutrient notes, section 3, computed: gravity points x 2/3.
		b, err := BrixOfSG(1.1)
		wantNoError(t, err)
		marks, err := FeedHalves.marks(b)
		wantNoError(t, err)
		wantNear(t, "a third of the drop", 1.1, float64(marks[1].SG), 1+0.1*2/3, 1e-9)
	})

	t.Run("ends feeding at 9 % vol", func(t *testing.T) {
		// From memory, 9 to 10 % vol: the drop that Balling makes 9 % vol of at 1.130.
		got, err := AlcoholFromGravities(1.130, 1.130-lastDrop)
		wantNoError(t, err)
		wantNear(t, "ABV", 1.130, float64(got.ABV), 9, 0.05)
		plan, err := dap.Plan(MustToFeed{Volume: 19, Original: 40, Need: MediumNeed}, FeedThirds)
		wantNoError(t, err)
		og, err := SGOfBrix(40)
		wantNoError(t, err)
		wantNear(t, "last mark", "40 Brix", float64(plan.Doses[2].SG), float64(og)-0.066, 1e-9)
	})

	t.Run("gives the last third before two thirds of the drop", rapid.MakeCheck(func(t *rapid.T) {
		b := Brix(rapid.Float64Range(5, 40).Draw(t, "b"))
		og, err1 := SGOfBrix(b)
		marks, err2 := FeedThirds.marks(b)
		if err1 != nil || err2 != nil || !(marks[2].SG > 1+(og-1)/3) || marks[2].SG > marks[1].SG {
			t.Fatalf("%v Brix, %v: %+v (%v, %v)", b, og, marks, err1, err2)
		}
	}))

	t.Run("makes one dose of marks that fall together", func(t *testing.T) {
		// At 12 Brix a third of the drop is below 10 Brix already.
		got, err := dap.Plan(MustToFeed{Volume: 19, Original: 12, Need: MediumNeed}, FeedThirds)
		wantNoError(t, err)
		if len(got.Doses) != 2 || math.Abs(float64(got.Doses[1].Mass-2*got.Doses[0].Mass)) > 1e-9 {
			t.Errorf("doses %+v, want a third and two thirds", got.Doses)
		}
	})

	t.Run("counts what is there, down to nothing", func(t *testing.T) {
		some := must
		some.Nitrogen = 60
		got, err := dap.Plan(some, FeedHalves)
		wantNoError(t, err)
		wantNear(t, "Add", 60, float64(got.Add), float64(got.Target)-60, 1e-12)
		some.Nitrogen = 250
		got, err = dap.Plan(some, FeedHalves)
		wantNoError(t, err)
		if got.Add != 0 || got.Mass != 0 || got.Doses != nil {
			t.Errorf("with 250 mg/L: %+v, want no doses", got)
		}
	})

	t.Run("says when the row of the source allows less", func(t *testing.T) {
		// EU: 1 g/L of ammonium salts, that is 212 mg/L of nitrogen.
		for nitrogen, over := range map[MilligramPerLitre]bool{0: true, 24: true, 26: false, 250: false} {
			some := must
			some.Nitrogen = nitrogen
			got, err := dap.Plan(some, FeedHalves)
			wantNoError(t, err)
			if got.OverMost() != over || got.Most != 19 {
				t.Errorf("with %v mg/L: %v g of at most %v, OverMost %v, want %v", nitrogen, got.Mass, got.Most, got.OverMost(), over)
			}
		}
		got, err := NitrogenSource{Nitrogen: 40}.Plan(must, FeedHalves)
		wantNoError(t, err)
		if got.OverMost() {
			t.Errorf("without a limit: %+v is over it", got)
		}
	})

	t.Run("adds up, in order of time and falling gravity", rapid.MakeCheck(func(t *rapid.T) {
		m := MustToFeed{
			Volume:   Litre(rapid.Float64Range(0.1, 1000).Draw(t, "volume")),
			Original: Brix(rapid.Float64Range(5, 40).Draw(t, "original")),
			Nitrogen: MilligramPerLitre(rapid.Float64Range(0, 600).Draw(t, "nitrogen")),
			Need:     rapid.SampledFrom(NitrogenNeeds()).Draw(t, "need"),
		}
		og, _ := SGOfBrix(m.Original)
		f, err := dap.Plan(m, rapid.SampledFrom(FeedSplits()).Draw(t, "split"))
		if err != nil {
			t.Fatal(err)
		}
		var mass Gram
		last := FeedDose{SG: og}
		for _, dose := range f.Doses {
			mass += dose.Mass
			if dose.Mass <= 0 || dose.SG >= og || dose.After == 0 && dose.SG == 0 ||
				dose.SG != 0 && dose.SG >= last.SG || dose.After != 0 && dose.After <= last.After {
				t.Fatalf("%+v comes after %+v", dose, last)
			}
			if dose.SG != 0 {
				last.SG = dose.SG
			}
			last.After = max(last.After, dose.After)
		}
		after := float64(m.Nitrogen) + 1000*float64(mass)*dap.Nitrogen/1000/float64(m.Volume)
		if math.Abs(after-max(float64(f.Target), float64(m.Nitrogen))) > 1e-9 || math.Abs(float64(mass-f.Mass)) > 1e-9*float64(mass) {
			t.Fatalf("%v mg/L after %+v", after, f)
		}
	}))

	t.Run("refuses what is no must, no source and no split", func(t *testing.T) {
		checkRange(t, 0, 1e6, 1e-6, func(x float64) error {
			m := must
			m.Volume = Litre(x)
			_, err := dap.Plan(m, FeedHalves)
			return err
		})
		checkRange(t, 5, 40, 1e-6, func(x float64) error {
			m := must
			m.Original = Brix(x)
			_, err := dap.Plan(m, FeedHalves)
			return err
		})
		checkRange(t, 0, 2000, 1e-6, func(x float64) error {
			m := must
			m.Nitrogen = MilligramPerLitre(x)
			_, err := dap.Plan(m, FeedHalves)
			return err
		})
		checkRange(t, 1, 500, 1e-6, func(x float64) error {
			_, err := NitrogenSource{Nitrogen: x}.Plan(must, FeedHalves)
			return err
		})
		checkRange(t, 0, 1000, 1e-6, func(x float64) error {
			_, err := NitrogenSource{Nitrogen: 200, Most: GramPerLitre(x)}.Plan(must, FeedHalves)
			return err
		})
		if _, err := dap.Plan(must, "all at once"); !errors.Is(err, ErrOutOfRange) {
			t.Errorf("an unknown split: error %v", err)
		}
	})
}

func FuzzFeed(f *testing.F) {
	for _, x := range awkward {
		f.Add(x, 24.0, 0.0, 212.1, "medium", "quarters")
		f.Add(19.0, x, 0.0, 212.1, "table", "thirds")
		f.Add(19.0, 24.0, x, 212.1, "high", "halves")
		f.Add(19.0, 24.0, 0.0, x, "least", "halves")
	}
	f.Fuzz(func(t *testing.T, v, b, have, nitrogen float64, need, split string) {
		m := MustToFeed{Volume: Litre(v), Original: Brix(b), Nitrogen: MilligramPerLitre(have), Need: NitrogenNeed(need)}
		target, err := m.Need.Target(m.Original)
		checkResult(t, "Target", float64(target), err)
		plan, err := NitrogenSource{Nitrogen: nitrogen}.Plan(m, FeedSplit(split))
		checkResult(t, "Plan", float64(plan.Mass), err)
		for _, dose := range plan.Doses {
			if !(dose.Mass >= 0) || !(dose.SG == 0 || dose.SG >= 1) {
				t.Errorf("dose %+v", dose)
			}
		}
	})
}
