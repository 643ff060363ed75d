package calc

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Ensure that each limit is the law's, on it and on both sides of it.
func TestTerm(t *testing.T) {
	const hair = 0.001 // g/L, finer than any label
	for _, row := range []struct {
		rule    TermRule
		sugar   GramPerLitre
		acidity GramPerLitre
		want    string
	}{
		// EU 2019/33, Annex III part B.
		{EUStill, 0, 0, "dry"}, {EUStill, 4, 0, "dry"}, {EUStill, 4 + hair, 0, "medium dry"},
		{EUStill, 8.5, 7, "dry"}, {EUStill, 8.5, 0, "medium dry"}, // the acidity clause: within 2 g/L
		{EUStill, 9, 7, "dry"}, {EUStill, 9, 7 - hair, "medium dry"}, {EUStill, 9 + hair, 9, "medium dry"},
		{EUStill, 8.3, 6.3, "dry"}, {EUStill, 8.3, 6.3 - hair, "medium dry"}, // 8.3 − 6.3 is a hair above 2 in binary
		{EUStill, 4 + hair, 2 + hair, "dry"}, {EUStill, 4 + hair, 2, "medium dry"},
		{EUStill, 12, 0, "medium dry"}, {EUStill, 12 + hair, 0, "medium"},
		{EUStill, 18, 8, "medium dry"}, {EUStill, 18, 8 - hair, "medium"}, {EUStill, 18 + hair, 15, "medium"}, // within 10
		{EUStill, 12 + hair, 2 + hair, "medium dry"}, {EUStill, 12 + hair, 2, "medium"},
		{EUStill, 45 - hair, 0, "medium"}, {EUStill, 45, 0, "sweet"}, {EUStill, 45, 50, "sweet"}, {EUStill, 1000, 0, "sweet"},
		// Annex III part A.
		{EUSparkling, 0, 0, "brut nature"}, {EUSparkling, 3 - hair, 0, "brut nature"}, {EUSparkling, 3, 0, "extra brut"},
		{EUSparkling, 6, 0, "extra brut"}, {EUSparkling, 6 + hair, 0, "brut"},
		{EUSparkling, 12 - hair, 0, "brut"}, {EUSparkling, 12, 0, "extra dry"},
		{EUSparkling, 17, 0, "extra dry"}, {EUSparkling, 17 + hair, 0, "sec"},
		{EUSparkling, 32, 0, "sec"}, {EUSparkling, 32 + hair, 0, "demi-sec"},
		{EUSparkling, 50, 0, "demi-sec"}, {EUSparkling, 50 + hair, 0, "doux"}, {EUSparkling, 1000, 0, "doux"},
		{EUSparkling, 9, 9, "brut"}, // no acidity clause here
		// OIV: medium dry too lies within 2 g/L of the acidity.
		{OIVStill, 4, 0, "dry"}, {OIVStill, 4 + hair, 0, "medium dry"}, {OIVStill, 9, 7, "dry"}, {OIVStill, 9, 7 - hair, "medium dry"},
		{OIVStill, 9 + hair, 9, "medium dry"},
		{OIVStill, 12, 0, "medium dry"}, {OIVStill, 12 + hair, 0, "semi-sweet"},
		{OIVStill, 18, 16, "medium dry"}, {OIVStill, 18, 16 - hair, "semi-sweet"}, {OIVStill, 18 + hair, 18, "semi-sweet"},
		{OIVStill, 45 - hair, 0, "semi-sweet"}, {OIVStill, 45, 0, "sweet"},
	} {
		got, err := Term(row.rule, row.sugar, row.acidity)
		if err != nil || got.Name != row.want {
			t.Errorf("Term(%s, %v, %v) = %q, %v, want %q", row.rule, row.sugar, row.acidity, got.Name, err, row.want)
		}
	}
}

// Ensure that every row of the published table is met inside its limits.
func TestTerm_Published(t *testing.T) {
	schemes := map[string]TermRule{
		"EU 2019/33 Annex III part A": EUSparkling, "EU 2019/33 Annex III part B": EUStill, "OIV definition": OIVStill,
	}
	seen := 0
	for _, row := range readTable(t, "sweetness-terms.csv") {
		rule, ok := schemes[row["scheme"]]
		if !ok {
			continue // ciders, and history
		}
		seen++
		name, _, _ := strings.Cut(strings.TrimSuffix(row["term"], " (acidity exception)"), " (")
		acidity := GramPerLitre(0)
		if strings.Contains(row["term"], "exception") {
			acidity = 50 // sugar is surely within the clause
		}
		at := func(sugar float64) LegalTerm {
			got, err := Term(rule, GramPerLitre(sugar), acidity)
			wantNoError(t, err)
			return got
		}
		if row["sugar_max_g_per_L"] == "" { // the sweetest
			most := number(t, row, "sugar_min_g_per_L")
			if got := at(most + 0.01).Name; got != name {
				t.Errorf("%s: above %v it is %q, want %q", rule, most, got, name)
			}
			continue
		}
		most := number(t, row, "sugar_max_g_per_L")
		on := most
		if row["max_inclusive"] == "no" || most == 45 { // where two terms meet it is the sweeter
			on -= 0.001
		}
		if got := at(on).Name; got != name {
			t.Errorf("%s: at %v with acidity %v it is %q, want %q", rule, on, acidity, got, name)
		}
		if got := at(most + 0.001).Name; got == name {
			t.Errorf("%s: just above %v it is still %q", rule, most, name)
		}
	}
	if seen != 19 {
		t.Errorf("%d rows of the three rules in the table, want 19", seen)
	}
}

// Ensure that terms only get sweeter with sugar and never with acidity.
func TestTerm_Order(t *testing.T) {
	rank := func(rule TermRule, name string) int {
		return slices.IndexFunc(termLimits[rule], func(l termLimit) bool { return l.name == name })
	}
	rapid.Check(t, func(t *rapid.T) {
		rule := rapid.SampledFrom(TermRules()).Draw(t, "rule")
		sugar := GramPerLitre(rapid.Float64Range(0, 100).Draw(t, "sugar"))
		acidity := GramPerLitre(rapid.Float64Range(0, 20).Draw(t, "acidity"))
		more := GramPerLitre(rapid.Float64Range(0, 20).Draw(t, "more"))
		here, err1 := Term(rule, sugar, acidity)
		sweeter, err2 := Term(rule, sugar+more, acidity)
		sourer, err3 := Term(rule, sugar, acidity+more)
		if err1 != nil || err2 != nil || err3 != nil {
			t.Fatal(err1, err2, err3)
		}
		if rank(rule, sweeter.Name) < rank(rule, here.Name) || rank(rule, sourer.Name) > rank(rule, here.Name) {
			t.Fatalf("%s: %q, with more sugar %q, with more acid %q", rule, here.Name, sweeter.Name, sourer.Name)
		}
	})
	t.Run("agree with the bands at their limits", func(t *testing.T) {
		for band, want := range map[SweetnessBand]string{Dry: "dry", OffDry: "medium dry", Medium: "medium", Sweet: "sweet"} {
			for _, sugar := range []GramPerLitre{0, 4, 4.1, 12, 12.1, 44.9, 45, 60} {
				got, err := Term(EUStill, sugar, 0)
				wantNoError(t, err)
				if (BandOf(sugar) == band) != (got.Name == want) {
					t.Errorf("%v g/L is %s by its band and %q by law", sugar, BandOf(sugar), got.Name)
				}
			}
		}
	})
}

// Ensure that a law nobody made, and numbers that are none, are refused.
func TestTerm_Refuses(t *testing.T) {
	if got, err := Term("eu", 4, 0); !errors.Is(err, ErrOutOfRange) || got.Name != "" {
		t.Errorf("unknown rule: %v, %v", got, err)
	}
	for _, rule := range TermRules() {
		checkRange(t, 0, 1000, 0.1, func(x float64) error { return second(Term(rule, GramPerLitre(x), 0)) })
		checkRange(t, 0, 100, 0.1, func(x float64) error { return second(Term(rule, 4, GramPerLitre(x))) })
	}
	got, err := Term(EUSparkling, 20, 0)
	wantNoError(t, err)
	if !slices.Equal(got.Also, []string{"dry"}) {
		t.Errorf("20 g/L are also called %v", got.Also)
	}
	got.Also[0] = "wet"
	if again, _ := Term(EUSparkling, 20, 0); again.Also[0] != "dry" {
		t.Error("what was returned is the table itself")
	}
}

func FuzzTerm(f *testing.F) {
	for _, x := range awkward {
		f.Add("eu-still", x, 5.0)
		f.Add("oiv-still", 5.0, x)
	}
	f.Fuzz(func(t *testing.T, rule string, sugar, acidity float64) {
		got, err := Term(TermRule(rule), GramPerLitre(sugar), GramPerLitre(acidity))
		if (got.Name == "") != (err != nil) {
			t.Errorf("Term = %v, %v", got, err)
		}
		checkResult(t, "Term", 0, err)
	})
}
