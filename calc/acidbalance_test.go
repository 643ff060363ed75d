package calc

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Ensure that the pH of what is mixed together is what textbooks say of it.
func TestAcidBalance_PH(t *testing.T) {
	wantNear(t, "pH", "of water", float64(AcidBalance{}.PH()), 7, 1e-6)

	t.Run("of one acid alone", func(t *testing.T) {
		// Worked in textbooks of chemistry: 0.1 mol/L of acetic acid (pK 4.76) has pH 2.88;
		// pK and 0.1 mol/L of acid with half as much alkali: pH is the pK within 0.01.
		acetic := AcidBalance{}.Plus(PKs{4.76}, 0.1)
		wantNear(t, "pH", "0.1 M acetic acid", float64(acetic.PH()), 2.88, 0.005)
		wantNear(t, "pH", "half neutralised", float64(acetic.PlusAlkali(0.05).PH()), 4.76, 0.01)
		// The pK of the notes on acids, section 2, from memory, and 3.86 of gluconic acid.
		if TartaricPKs() != (PKs{2.98, 4.34}) || MalicPKs() != (PKs{3.40, 5.11}) || CitricPKs() != (PKs{3.13, 4.76, 6.40}) || GluconicPKs() != (PKs{3.86}) {
			t.Error("the pK are not those of the notes")
		}
		// Tables of the pH of common acids print 2.0 to 2.2 for it (from memory).
		wantNear(t, "pH", "0.1 M tartaric acid", float64(AcidBalance{}.Plus(TartaricPKs(), 0.1).PH()), 2.1, 0.1)
		// Cream of tartar, potassium hydrogen tartrate, is a pH standard: saturated, 0.034
		// mol/L at 25 °C, it has 3.557 (NBS). Activities are left aside here: 0.1 off.
		tartrate := AcidBalance{}.Plus(TartaricPKs(), 0.034).PlusAlkali(0.034)
		wantNear(t, "pH", "saturated potassium hydrogen tartrate", float64(tartrate.PH()), 3.557, 0.13)
	})
}

// Ensure that acid moves the pH of a must as far as winemakers see it move.
func TestAcidBalance_MovesAsFar(t *testing.T) {
	gram := 1 / 150.087
	t.Run("in a grape must", func(t *testing.T) {
		// Acid notes, section 2, common practice: 1 g/L of tartaric acid lowers the pH of a
		// grape must by 0.05 to 0.2, about 0.1.
		for _, ph := range []PH{3.1, 3.3, 3.5, 3.7} {
			for _, ta := range []Acidity{5, 7, 9} {
				must := AcidBalance{}.Plus(TartaricPKs(), TartaricPKs().Holding(ta, ph)).At(ph)
				wantNear(t, "pH", ph, float64(must.PH()), float64(ph), 1e-6)
				wantNear(t, "acidity", ta, float64(must.Acidity()), float64(ta), 1e-6)
				drop := float64(must.PH() - must.Plus(TartaricPKs(), gram).PH())
				if !(drop >= 0.05 && drop <= 0.2) {
					t.Errorf("1 g/L in a must of pH %.1f and %g g/L lowers it by %.3f, want 0.05 to 0.2", ph, ta, drop)
				}
			}
		}
	})
	t.Run("in a must of honey", func(t *testing.T) {
		// There, also common practice: by 0.3 to 0.5. The free acid of 490 honeys was 22
		// meq/kg, 7 to 47 (White 1962, from memory). The balance gives what is seen to a
		// must of 300 g/L of the sourest of them, and more to the average: honey buffers with
		// more than its acid, and a guess of it must be wide.
		for meq, want := range map[float64][2]float64{7: {0.9, 1.2}, 22: {0.5, 0.75}, 47: {0.3, 0.5}} {
			ta := Acidity(meq * 0.3 / 1000 * TartaricEquivalent)
			must := AcidBalance{}.Plus(GluconicPKs(), GluconicPKs().Holding(ta, 3.9)).At(3.9)
			drop := float64(must.PH() - must.Plus(TartaricPKs(), gram).PH())
			if !(drop >= want[0] && drop <= want[1]) {
				t.Errorf("1 g/L in a must of honey of %g meq/kg lowers it by %.3f, want %v", meq, drop, want)
			}
		}
	})
	// The doc comments.
	wantNear(t, "mol/L", "7 g/L at pH 3.3", TartaricPKs().Holding(7, 3.3), 0.0744, 5e-5)
	wantNear(t, "buffer", "grape must", AcidBalance{}.Plus(TartaricPKs(), TartaricPKs().Holding(7, 3.3)).At(3.3).Buffer(), 0.053, 5e-4)
	// A titration to pH 8.2 counts half of a group whose pK that is: 0.005 mol/L of it and
	// the millimole of free protons at pH 3, less the hydroxide of 8.2.
	half := AcidBalance{}.Plus(PKs{8.2}, 0.01).At(3)
	wantNear(t, "acidity", "a group of pK 8.2", float64(half.Acidity()), 75.0435*(0.005+0.001+1.579e-6-0.01*math.Pow(10, 3-8.2)), 2e-5)
	wantNear(t, "mol/L", "past the end", TartaricPKs().Holding(7, 9), 0, 0)
}

// Ensure that what is no figure is never mistaken for a pH, up to the ends of the ranges.
func TestAcidBalance_Ranges(t *testing.T) {
	must := AcidBalance{}.Plus(MalicPKs(), 0.05).At(3.4)
	told := func(b AcidBalance) float64 { return float64(b.PH()) + float64(b.Acidity()) + b.Buffer() }
	for name, c := range map[string]struct {
		low, high float64
		of        func(float64) float64
	}{
		"acid":             {0, 100, func(x float64) float64 { return told(must.Plus(TartaricPKs(), x)) }},
		"alkali":           {-100, 100, func(x float64) float64 { return told(must.PlusAlkali(x)) }},
		"a pH":             {0, 14, func(x float64) float64 { return told(must.At(PH(x))) }},
		"acidity":          {0, 1000, func(x float64) float64 { return TartaricPKs().Holding(Acidity(x), 3) }},
		"pH of an acidity": {0, 14, func(x float64) float64 { return TartaricPKs().Holding(5, PH(x)) }},
		"guess": {0, 14, func(x float64) float64 {
			span, about := GuessBalance(Span{3, 4}, PH(x), []AcidSource{{PKs: MalicPKs(), Acidity: Span{4, 8}}}).PH()
			return span.Low + span.High + float64(about)
		}},
		"guess with acid": {0, 100, func(x float64) float64 {
			g := GuessBalance(Span{3, 4}, 3.5, nil).Plus(CitricPKs(), x)
			span, about := g.Acidity()
			return span.Low + span.High + float64(about) + g.Buffer().High
		}},
	} {
		for _, x := range []float64{c.low, c.high, (c.low + c.high) / 2} {
			if got := c.of(x); math.IsNaN(got) || math.IsInf(got, 0) {
				t.Errorf("%s %v gives %v", name, x, got)
			}
		}
		for _, x := range []float64{c.low - 1e-9, c.high + 1e-9, math.NaN(), math.Inf(1), math.Inf(-1)} {
			if got := c.of(x); !math.IsNaN(got) {
				t.Errorf("%s %v gives %v, want NaN", name, x, got)
			}
		}
	}
}

// Ensure that acid lowers the pH and raises the acidity, alkali the other way round, and
// that the buffer is the slope of one against the other.
func TestAcidBalance_Directions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kinds := []PKs{TartaricPKs(), MalicPKs(), CitricPKs(), GluconicPKs()}
		k := rapid.SampledFrom(kinds).Draw(t, "acid")
		b := AcidBalance{}.Plus(rapid.SampledFrom(kinds).Draw(t, "must"), rapid.Float64Range(0.002, 0.15).Draw(t, "moles")).
			At(PH(rapid.Float64Range(2.8, 4.5).Draw(t, "pH")))
		more := b.Plus(k, rapid.Float64Range(0.001, 0.05).Draw(t, "more"))
		if !(more.PH() < b.PH() && more.Acidity() > b.Acidity()) {
			t.Fatalf("acid takes pH from %v to %v and acidity from %v to %v", b.PH(), more.PH(), b.Acidity(), more.Acidity())
		}
		const alkali = 1e-5
		less := b.PlusAlkali(alkali)
		if !(less.PH() > b.PH() && less.Acidity() < b.Acidity()) {
			t.Fatalf("alkali takes pH from %v to %v and acidity from %v to %v", b.PH(), less.PH(), b.Acidity(), less.Acidity())
		}
		slope := alkali / float64(less.PH()-b.PH())
		near(t, "buffer", b.Buffer(), slope, 0.02*slope+1e-5)
	})
}

// Ensure that a guess holds its middle, moves as its ends do, and grows with what the
// tables leave open.
func TestGuessBalance(t *testing.T) {
	sources := []AcidSource{{PKs: MalicPKs(), Acidity: Span{4, 8}, PH: 3.5}}
	g := GuessBalance(Span{3.2, 3.8}, 3.5, sources)
	span, middle := g.PH()
	wantNear(t, "lowest pH", "as told", span.Low, 3.2, 1e-6)
	wantNear(t, "highest pH", "as told", span.High, 3.8, 1e-6)
	wantNear(t, "middle", "as told", float64(middle), 3.5, 1e-6)
	if ta, about := g.Acidity(); !(ta.Low < 4 && ta.High > 8) || math.Abs(float64(about)-6) > 1e-5 {
		t.Errorf("acidity %v, about %v; want past 4 to 8, about 6: what is told at 3.5 is less at 3.8", ta, about)
	}
	sour := g.Plus(CitricPKs(), 0.01)
	if got, about := sour.PH(); !(got.Low < 3.2 && got.High < 3.8 && about < 3.5 && got.Low <= float64(about)) {
		t.Errorf("2 g/L of citric acid give %v, about %v", got, about)
	}
	if got, about := g.PlusAlkali(0.01).PH(); !(got.Low > 3.2 && got.High > 3.8 && about > 3.5) {
		t.Errorf("10 mmol/L of alkali give %v, about %v", got, about)
	}
	if b := g.Buffer(); !(b.Low > 0.01 && b.High < 0.08 && b.Low < b.High) {
		t.Errorf("buffer %v", b)
	}
	t.Run("takes a pH above 4.5 for that", func(t *testing.T) {
		// A choice: nearer to the end of a titration little acidity would stand for any salt.
		flat := func(ph PH) AcidBalance {
			return GuessBalance(Span{5, 6}, 5.5, []AcidSource{{PKs: MalicPKs(), Acidity: Span{2, 4}, PH: ph}}).middle
		}
		wantNear(t, "buffer", "pH 6 and 4.5", flat(6).Buffer(), flat(4.5).Buffer(), 1e-9)
	})
	t.Run("of water and acid alone is wide", func(t *testing.T) {
		got, about := GuessBalance(Span{}, 0, nil).Plus(TartaricPKs(), 1/150.087).PH()
		if !(got.High-got.Low > 0.7 && got.Low < 2.8 && float64(about) < got.High) {
			t.Errorf("1 g/L in tap water gives %v, about %v", got, about)
		}
	})
}
