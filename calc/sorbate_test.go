package calc

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// printedSorbate returns the rows of the printed table.
func printedSorbate(t *testing.T) []SorbateRow {
	t.Helper()
	var rows []SorbateRow
	for _, row := range stabilising(t, "sorbate_dose") {
		if row["quantity"] == "potassium sorbate" {
			rows = append(rows, SorbateRow{
				ABV: PercentVol(number(t, row, "alcohol_pct_vol")), PH: PH(number(t, row, "ph")),
				Dose: MilligramPerLitre(number(t, row, "value")),
			})
		}
	}
	return rows
}

func sorbateTable(t *testing.T) SorbateTable {
	t.Helper()
	table, err := NewSorbateTable(printedSorbate(t))
	wantNoError(t, err)
	return table
}

// Ensure that the dose is the printed one, and careful where nothing is printed.
func TestSorbateTable_Dose(t *testing.T) {
	table := sorbateTable(t)

	t.Run("is the printed table", func(t *testing.T) {
		// Underhill, every point as printed but the last of 10 % vol: 270 mg/L is 201.5
		// of sorbic acid, and the law stops at 200.
		for _, row := range printedSorbate(t) {
			got, err := table.Dose(row.ABV, row.PH, 19)
			wantNoError(t, err)
			at := [2]float64{float64(row.ABV), float64(row.PH)}
			wantNear(t, "Dose", at, float64(got.Sorbate), min(float64(row.Dose), 267.94), 0.006)
			wantNear(t, "Mass", at, float64(got.Mass), float64(got.Sorbate)*0.019, 1e-12)
			want := []SorbateCondition{SorbateWithSulfite}
			if row.Dose == 270 {
				want = append(want, SorbateAtLimit)
			}
			if !slices.Equal(got.Conditions, want) {
				t.Errorf("Dose(%v).Conditions = %q, want %q", at, got.Conditions, want)
			}
		}
	})

	t.Run("is the printed table as sorbic acid", func(t *testing.T) {
		// Computed there, printed to 1 mg/L; 202 is where the law stops at 200.
		for _, row := range stabilising(t, "sorbate_dose") {
			if row["quantity"] != "as sorbic acid" {
				continue
			}
			abv, ph := number(t, row, "alcohol_pct_vol"), number(t, row, "ph")
			got, err := table.Dose(PercentVol(abv), PH(ph), 1)
			wantNoError(t, err)
			wantNear(t, "SorbicAcid", [2]float64{abv, ph}, float64(got.SorbicAcid), min(number(t, row, "value"), 200), 0.51)
		}
	})

	t.Run("is the worked example", func(t *testing.T) {
		got, err := table.Dose(12, 3.4, 19)
		wantNoError(t, err)
		wantNear(t, "Sorbate", "12, 3.4", float64(got.Sorbate), 135, 1e-9)
		wantNear(t, "Mass", "12, 3.4, 19 L", float64(got.Mass), 2.565, 1e-9)
		wantNear(t, "Active", "12, 3.4", float64(got.Active), 135*0.7464*0.9582, 0.01)
	})

	t.Run("is linear between the points", func(t *testing.T) {
		// The mean of the four around it, and of the two on an edge.
		for _, c := range []struct {
			abv  PercentVol
			ph   PH
			want float64
		}{
			{12.5, 3.35, (120 + 135 + 96 + 105) / 4.0}, {11, 3.15, (135 + 150) / 2.0}, {13.5, 3.5, (120 + 90) / 2.0},
		} {
			got, err := table.Dose(c.abv, c.ph, 19)
			wantNoError(t, err)
			wantNear(t, "Dose", c, float64(got.Sorbate), c.want, 1e-6) // 3.35 has no exact binary
		}
	})

	t.Run("is near Peynaud's", func(t *testing.T) {
		// From memory, in mg/L sorbic acid whatever the pH: 150 at 10 % vol, 125, 100,
		// 75 and 50 at 14. Each lies within what the table gives from pH 3.1 to 3.5.
		for abv, want := range map[PercentVol]float64{10: 150, 11: 125, 12: 100, 13: 75, 14: 50} {
			low, err := table.Dose(abv, 3.1, 1)
			wantNoError(t, err)
			high, err := table.Dose(abv, 3.5, 1)
			wantNoError(t, err)
			if !(float64(low.SorbicAcid) < want && want < float64(high.SorbicAcid)) {
				t.Errorf("at %v %% vol from %v to %v mg/L sorbic acid, want %v between", abv, low.SorbicAcid, high.SorbicAcid, want)
			}
		}
	})

	t.Run("takes the nearest edge of a stronger or sourer drink", func(t *testing.T) {
		for _, c := range []struct {
			abv  PercentVol
			ph   PH
			want float64
		}{{16, 3.3, 72}, {12, 2.9, 96}, {18, 2.8, 60}} {
			got, err := table.Dose(c.abv, c.ph, 1)
			wantNoError(t, err)
			wantNear(t, "Dose", c, float64(got.Sorbate), c.want, 1e-9)
			if !slices.Equal(got.Conditions, []SorbateCondition{SorbateWithSulfite}) {
				t.Errorf("Dose(%v).Conditions = %q", c, got.Conditions)
			}
		}
	})

	t.Run("asks for the limit and a barrier beyond the table", func(t *testing.T) {
		for _, c := range []struct {
			abv PercentVol
			ph  PH
		}{{9.99, 3.3}, {12, 3.51}, {5, 4}, {0, 2.5}} {
			got, err := table.Dose(c.abv, c.ph, LitresPerUSGallon)
			wantNoError(t, err)
			wantNear(t, "SorbicAcid", c, float64(got.SorbicAcid), 200, 1e-9)
			wantNear(t, "Sorbate", c, float64(got.Sorbate), 268, 0.51)            // the notes, computed
			wantNear(t, "Mass in a US gallon", c, float64(got.Mass), 1.01, 0.006) // the notes, computed
			if !slices.Equal(got.Conditions, []SorbateCondition{SorbateWithSulfite, SorbateWithBarrier}) {
				t.Errorf("Dose(%v).Conditions = %q", c, got.Conditions)
			}
		}
	})

	t.Run("asks the same of an empty table", func(t *testing.T) {
		got, err := SorbateTable{}.Dose(12, 3.3, 1)
		wantNoError(t, err)
		if !slices.Contains(got.Conditions, SorbateWithBarrier) || math.Abs(float64(got.SorbicAcid)-200) > 1e-9 {
			t.Errorf("SorbateTable{}.Dose(12, 3.3) = %+v", got)
		}
	})

	t.Run("never passes the limit, and always wants sulfite", rapid.MakeCheck(func(t *rapid.T) {
		abv := PercentVol(rapid.Float64Range(0, 30).Draw(t, "abv"))
		got, err := table.Dose(abv, PH(rapid.Float64Range(2.5, 5).Draw(t, "ph")), 19)
		if err != nil || !(got.SorbicAcid <= SorbicLimit*(1+1e-12)) || got.Active > got.SorbicAcid ||
			!slices.Contains(got.Conditions, SorbateWithSulfite) {
			t.Fatalf("%+v, %v", got, err)
		}
	}))

	t.Run("falls as alcohol rises, and rises with pH", rapid.MakeCheck(func(t *rapid.T) {
		abv := PercentVol(rapid.Float64Range(0, 29).Draw(t, "abv"))
		ph := PH(rapid.Float64Range(2.5, 4.9).Draw(t, "ph"))
		here, err1 := table.Dose(abv, ph, 1)
		stronger, err2 := table.Dose(abv+0.5, ph, 1)
		higher, err3 := table.Dose(abv, ph+0.05, 1)
		if err1 != nil || err2 != nil || err3 != nil ||
			stronger.Sorbate > here.Sorbate+1e-9 || higher.Sorbate < here.Sorbate-1e-9 {
			t.Fatalf("%v; stronger %v, higher pH %v", here, stronger, higher)
		}
	}))

	t.Run("refuses what is no drink", func(t *testing.T) {
		checkRange(t, 0, 30, 1e-6, func(x float64) error {
			_, err := table.Dose(PercentVol(x), 3.4, 19)
			return err
		})
		checkRange(t, 2.5, 5, 1e-6, func(x float64) error {
			_, err := table.Dose(12, PH(x), 19)
			return err
		})
		checkRange(t, 0, 1e6, 1e-6, func(x float64) error {
			_, err := table.Dose(12, 3.4, Litre(x))
			return err
		})
	})
}

// Ensure that the limits and the share of acid are the printed ones.
func TestSorbicAcid(t *testing.T) {
	wantNear(t, "SorbicInSorbate", "", 100*SorbicInSorbate,
		stabilisingValue(t, "limits_and_constants", "sorbic acid in potassium sorbate"), 0.0051)
	wantNear(t, "SorbicLimit", "", float64(SorbicLimit), stabilisingValue(t, "limits_and_constants", "sorbic acid in wine, OIV and EU"), 0)
	wantNear(t, "SorbicLimitUS", "", float64(SorbicLimitUS), stabilisingValue(t, "limits_and_constants", "sorbic acid in wine, US"), 0)
	wantNear(t, "SorbicTasted", "", float64(SorbicTasted), stabilisingValue(t, "limits_and_constants", "sorbic acid taste threshold, low"), 0)
	wantNear(t, "sorbicPKa", "", sorbicPKa, stabilisingValue(t, "limits_and_constants", "sorbic acid pKa"), 0)

	t.Run("in potassium sorbate, as the notes reckon it", func(t *testing.T) {
		// 300 mg/L sorbic acid = 402 mg/L potassium sorbate = 1.52 g per US gallon.
		sorbate := SorbicLimitUS / SorbicInSorbate
		wantNear(t, "sorbate", 300, float64(sorbate), 402, 0.51)
		wantNear(t, "sorbate in a US gallon", 300, float64(sorbate.In(LitresPerUSGallon)), 1.52, 0.0051)
	})

	t.Run("by molar masses", func(t *testing.T) {
		// C6H8O2 and C6H7KO2 by the atomic weights of IUPAC.
		const c, h, o, k = 12.011, 1.008, 15.999, 39.098
		wantNear(t, "sorbic acid", "", molarMassSorbicAcid, 6*c+8*h+2*o, 0.005)
		wantNear(t, "potassium sorbate", "", molarMassPotassiumSorbate, 6*c+7*h+2*o+k, 0.005)
	})
}

func TestUndissociatedSorbic(t *testing.T) {
	t.Run("weakens as pH rises", func(t *testing.T) {
		// The notes, computed, to 1 %.
		for ph, want := range map[PH]float64{3: 0.98, 3.5: 0.95, 4: 0.85} {
			got, err := UndissociatedSorbic(ph)
			wantNoError(t, err)
			wantNear(t, "UndissociatedSorbic", ph, got, want, 0.0051)
		}
	})

	t.Run("is half at the pKa", func(t *testing.T) {
		got, err := UndissociatedSorbic(4.76)
		wantNoError(t, err)
		wantNear(t, "UndissociatedSorbic", 4.76, got, 0.5, 1e-12)
	})

	t.Run("is ten in eleven one pH below it", func(t *testing.T) {
		got, err := UndissociatedSorbic(3.76)
		wantNoError(t, err)
		wantNear(t, "UndissociatedSorbic", 3.76, got, 10.0/11, 1e-12)
	})

	t.Run("refuses what is no drink", func(t *testing.T) {
		checkRange(t, 2.5, 5, 1e-6, func(x float64) error {
			_, err := UndissociatedSorbic(PH(x))
			return err
		})
	})
}

// Ensure that a table with a slip in it is not read over.
func TestNewSorbateTable(t *testing.T) {
	t.Run("takes the rows in any order", rapid.MakeCheck(func(t *rapid.T) {
		rows := rapid.Permutation([]SorbateRow{{10, 3.1, 165, ""}, {10, 3.5, 260, ""}, {14, 3.1, 60, ""}, {14, 3.5, 90, ""}}).Draw(t, "rows")
		table, err := NewSorbateTable(rows)
		if err != nil {
			t.Fatal(err)
		}
		got, err := table.Dose(12, 3.3, 1)
		if err != nil || math.Abs(float64(got.Sorbate)-(165+260+60+90)/4.0) > 1e-9 {
			t.Fatalf("Dose = %v, %v", got.Sorbate, err)
		}
	}))

	sound := []SorbateRow{{10, 3.1, 165, ""}, {10, 3.5, 260, ""}, {14, 3.1, 60, ""}, {14, 3.5, 90, ""}}
	for name, c := range map[string]struct {
		change func([]SorbateRow) []SorbateRow
		want   string
	}{
		"no rows":            {func([]SorbateRow) []SorbateRow { return nil }, "two of each"},
		"one strength":       {func(r []SorbateRow) []SorbateRow { return r[:2] }, "two of each"},
		"one pH":             {func(r []SorbateRow) []SorbateRow { return []SorbateRow{r[0], r[2]} }, "two of each"},
		"a hole":             {func(r []SorbateRow) []SorbateRow { return r[:3] }, "14 % vol and pH 3.5 is missing"},
		"a row twice":        {func(r []SorbateRow) []SorbateRow { return append(r, r[3]) }, "14 % vol and pH 3.5 is there twice"},
		"more with alcohol":  {func(r []SorbateRow) []SorbateRow { r[2].Dose = 166; return r }, "14 % vol and pH 3.1 is more"},
		"less with pH":       {func(r []SorbateRow) []SorbateRow { r[1].Dose = 164; return r }, "10 % vol and pH 3.5 is less"},
		"no dose":            {func(r []SorbateRow) []SorbateRow { r[3].Dose = 0; return r }, "14 % vol and pH 3.5 0 mg/L is outside"},
		"too much":           {func(r []SorbateRow) []SorbateRow { r[0].Dose = 1001; return r }, "outside"},
		"pH out of the room": {func(r []SorbateRow) []SorbateRow { r[0].PH = 7; return r }, "sorbate row: pH"},
		"strength too":       {func(r []SorbateRow) []SorbateRow { r[0].ABV = 31; return r }, "sorbate row: strength"},
	} {
		t.Run("refuses "+name, func(t *testing.T) {
			_, err := NewSorbateTable(c.change(slices.Clone(sound)))
			if !errors.Is(err, ErrOutOfRange) || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error %v, want one that says %q", err, c.want)
			}
		})
	}

	t.Run("refuses a dose that nobody prints", func(t *testing.T) {
		checkRange(t, 1, 1000, 1e-6, func(x float64) error { return SorbateRow{ABV: 12, PH: 3.3, Dose: MilligramPerLitre(x)}.check() })
	})
}

func FuzzSorbate(f *testing.F) {
	for _, x := range awkward {
		f.Add(x, 3.4, 19.0)
		f.Add(12.0, x, 19.0)
		f.Add(12.0, 3.4, x)
	}
	f.Fuzz(func(t *testing.T, abv, ph, v float64) {
		table, err := NewSorbateTable([]SorbateRow{
			{10, 3.1, 165, ""}, {10, 3.5, 270, ""}, {14, 3.1, 60, ""}, {14, 3.5, 90, ""}, // corners of the printed table
		})
		wantNoError(t, err)
		dose, err := table.Dose(PercentVol(abv), PH(ph), Litre(v))
		checkResult(t, "Dose", float64(dose.Mass), err)
		if dose.SorbicAcid > SorbicLimit*(1+1e-12) {
			t.Errorf("Dose(%v, %v) = %v mg/L sorbic acid", abv, ph, dose.SorbicAcid)
		}
		share, err := UndissociatedSorbic(PH(ph))
		checkResult(t, "UndissociatedSorbic", share, err)
		_, err = NewSorbateTable([]SorbateRow{{PercentVol(abv), PH(ph), MilligramPerLitre(v), ""}})
		if err == nil {
			t.Error("a table of one row was taken")
		}
	})
}
