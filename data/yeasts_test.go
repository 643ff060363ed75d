package data

import (
	"strings"
	"testing"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// Ensure that the kinds are those of the diagnosis notes, section 3, and that the
// usual figure of each group lies in its range.
func TestYeasts(t *testing.T) {
	all, err := Yeasts()
	if err != nil {
		t.Fatal(err)
	}
	want := map[string][2]calc.PercentVol{"ale": {8, 12}, "lager": {8, 11}, "wine": {13, 16}, "high": {16, 18}, "thermotolerans": {7, 9}}
	if len(all) != len(want) {
		t.Errorf("%d kinds, want %d", len(all), len(want))
	}
	for _, k := range all {
		if r := want[k.ID]; k.Tolerance.Low != r[0] || k.Tolerance.High != r[1] {
			t.Errorf("%s stands %v to %v %% vol, want %v", k.ID, k.Tolerance.Low, k.Tolerance.High, r)
		}
		if k.Source == "" || k.Name() == "" {
			t.Errorf("%s: name %q, source %q", k.ID, k.Name(), k.Source)
		}
	}
	for _, g := range []model.YeastGroup{model.AleYeast, model.LagerYeast, model.WineYeast, model.HighYeast} {
		k, ok, _ := model.FindYeastKind(all, string(g))
		if !ok || g.Tolerance() != (k.Tolerance.Low+k.Tolerance.High)/2 {
			t.Errorf("%s yeast stands %v %% vol, the middle of the handbook's %+v is another", g, g.Tolerance(), k.Tolerance)
		}
	}
}

// Ensure that each kind leaves what it can of a strong must, and more the weaker it is.
func TestYeasts_LeaveLessTheStronger(t *testing.T) {
	all, err := Yeasts()
	if err != nil {
		t.Fatal(err)
	}
	l, err := calc.LiquidOf(4.5, 1.150, 0, calc.HoneySolids())
	if err != nil {
		t.Fatal(err)
	}
	left, err := calc.Fermentation{Yield: calc.MustYield()}.LeftByEach(l, model.Tolerances(all))
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range left {
		if !(k.Weak.Figures.SG > k.Strong.Figures.SG && k.Weak.AtTolerance) {
			t.Errorf("%s: %v by the weak, %v by the strong", k.Yeast.Name, k.Weak.Figures.SG, k.Strong.Figures.SG)
		}
	}
}

const (
	yeastHeader = "id,name,aliases,tolerance_low_pct,tolerance_high_pct,notes,source,checked\n"
	yeastRow    = "kveik,farm yeast,kveik,11,14,,a book,read\n"
)

// Ensure that an edited table that cannot be right is refused where it is wrong.
func TestParseYeasts_Refuses(t *testing.T) {
	if _, err := parseYeasts(yeastHeader + yeastRow); err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct{ table, want string }{
		"nothing":       {"", "columns"},
		"no tolerance":  {yeastHeader + strings.Replace(yeastRow, "11,", ",", 1), "column tolerance_low_pct: it is empty"},
		"reversed":      {yeastHeader + strings.Replace(yeastRow, "11,14", "14,11", 1), "column tolerance_low_pct"},
		"too much":      {yeastHeader + strings.Replace(yeastRow, "11,14", "11,26", 1), "column tolerance_high_pct: 26 is outside 0 to 25"},
		"too little":    {yeastHeader + strings.Replace(yeastRow, "11,14", "0.5,14", 1), "column tolerance_low_pct: 0.5 is below 1"},
		"named already": {yeastHeader + yeastRow + yeastRow, `"kveik" is row "kveik" already`},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := parseYeasts(c.table)
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error is %v, want it to say %q", err, c.want)
			}
		})
	}
}

// Ensure that a table, whatever it holds, is refused or gives rows fit for use.
func FuzzParseYeasts(f *testing.F) {
	f.Add(yeastHeader + yeastRow)
	l, err := calc.LiquidOf(1, 1.05, 0, calc.HoneySolids())
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, table string) {
		all, err := parseYeasts(table)
		if err != nil || len(all) > 20 {
			return
		}
		if _, err := (calc.Fermentation{Yield: calc.MustYield()}).LeftByEach(l, model.Tolerances(all)); err != nil {
			t.Error(err)
		}
	})
}
