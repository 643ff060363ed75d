package calc

import (
	"errors"
	"testing"

	"pgregory.net/rapid"
)

// Ensure that each scale asks for what its source does.
func TestNitrogenNeed_Target(t *testing.T) {
	t.Run("is the winery table", func(t *testing.T) {
		// Bisson and Butzke 2000, from memory: 200, 250, 300 and 350 mg/L.
		for b, want := range map[Brix]float64{21: 200, 23: 250, 25: 300, 27: 350} {
			got, err := TableNeed.Target(b)
			wantNoError(t, err)
			wantNear(t, "TableNeed.Target", b, float64(got), want, 1e-9)
		}
	})

	t.Run("holds the table at what is least and what is healthy", func(t *testing.T) {
		// 140 is a fair floor for 10 to 20 Brix (common practice), 400 the end of the
		// healthy range (textbooks, from memory); the line meets them at 18.6 and 29.
		for b, want := range map[Brix]float64{5: 140, 10: 140, 18.6: 140, 20: 175, 29: 400, 35: 400, 40: 400} {
			got, err := TableNeed.Target(b)
			wantNoError(t, err)
			wantNear(t, "TableNeed.Target", b, float64(got), want, 1e-9)
		}
	})

	t.Run("is the mead makers' factor times the sugar", func(t *testing.T) {
		// 0.75, 0.9 and 1.25 mg per gram; grams of sucrose in a litre by the printed
		// density table, to 0.001 kg/m³.
		for _, row := range readTable(t, "sucrose-density.csv") {
			b := number(t, row, "brix_pct_mass")
			if b < 5 || b > 40 || row["density_20C_kg_m3"] == "" {
				continue
			}
			sugar := b / 100 * number(t, row, "density_20C_kg_m3")
			for need, factor := range map[NitrogenNeed]float64{LowNeed: 0.75, MediumNeed: 0.9, HighNeed: 1.25} {
				got, err := need.Target(Brix(b))
				wantNoError(t, err)
				wantNear(t, string(need), b, float64(got), factor*sugar, 0.001)
			}
		}
	})

	t.Run("is what the notes say at 25 Brix", func(t *testing.T) {
		// 140, 300 and about 240 for medium demand: rounded there, by 4 %.
		for need, want := range map[NitrogenNeed]float64{LeastNeed: 140, TableNeed: 300, MediumNeed: 240} {
			got, err := need.Target(25)
			wantNoError(t, err)
			wantNear(t, string(need), 25, float64(got), want, 0.04*want)
		}
	})

	t.Run("is the worked example", func(t *testing.T) {
		for need, want := range map[NitrogenNeed]float64{LowNeed: 198, MediumNeed: 237, HighNeed: 330, TableNeed: 275} {
			got, err := need.Target(24)
			wantNoError(t, err)
			wantNear(t, string(need), 24, float64(got), want, 0.51)
		}
	})

	t.Run("never falls as the must gets sweeter, nor as demand rises", rapid.MakeCheck(func(t *rapid.T) {
		b := Brix(rapid.Float64Range(5, 39.9).Draw(t, "b"))
		for _, need := range NitrogenNeeds() {
			here, err1 := need.Target(b)
			sweeter, err2 := need.Target(b + 0.1)
			if err1 != nil || err2 != nil || sweeter < here {
				t.Fatalf("%s at %v Brix: %v, and 0.1 above %v (%v, %v)", need, b, here, sweeter, err1, err2)
			}
		}
		low, _ := LowNeed.Target(b)
		medium, _ := MediumNeed.Target(b)
		high, _ := HighNeed.Target(b)
		if !(low < medium && medium < high) {
			t.Fatalf("at %v Brix low %v, medium %v, high %v", b, low, medium, high)
		}
	}))

	t.Run("refuses what is no must and no scale", func(t *testing.T) {
		for _, need := range NitrogenNeeds() {
			checkRange(t, 5, 40, 1e-6, func(x float64) error {
				_, err := need.Target(Brix(x))
				return err
			})
		}
		if got, err := NitrogenNeed("hungry").Target(24); got != 0 || !errors.Is(err, ErrOutOfRange) {
			t.Errorf("need hungry: %v, %v", got, err)
		}
	})
}

// Ensure that the lines of the notes are drawn where they say.
func TestNitrogenLines(t *testing.T) {
	for _, c := range []struct {
		source    string
		got, want MilligramPerLitre
	}{
		{"Bely et al. 1990, from memory", NitrogenLeast, 140},
		{"AWRI", NitrogenRisk, 150},
		{"textbooks, from memory: healthy", NitrogenPlenty, 400},
		{"textbooks, from memory: worries", NitrogenTooMuch, 450},
	} {
		wantNear(t, c.source, "", float64(c.got), float64(c.want), 0)
	}
	wantNear(t, "9 % vol, from memory: nothing more", "", float64(NitrogenUntil), 9, 0)
	wantNear(t, "a winemaker's notes: never as late as two thirds of the drop", "", LastDoseShare, 0.667, 0.001)
}
