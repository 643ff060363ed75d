package data

import (
	"testing"

	"cellar.local/glassrow/calc"
)

// Ensure that the doses are Underhill's, point by point, up to the legal limit.
func TestSorbate(t *testing.T) {
	table, err := Sorbate()
	if err != nil {
		t.Fatal(err)
	}
	limit := float64(calc.SorbicLimit / calc.SorbicInSorbate)
	points := 0
	for _, row := range printedRows(t, "sorbate_dose") {
		if row["quantity"] != "potassium sorbate" {
			continue
		}
		points++
		got, err := table.Dose(calc.PercentVol(row.number(t, "alcohol_pct_vol")), calc.PH(row.number(t, "ph")), 1)
		if err != nil {
			t.Fatal(err)
		}
		wantNear(t, "sorbate at "+row["alcohol_pct_vol"]+" % vol and pH "+row["ph"],
			float64(got.Sorbate), min(row.number(t, "value"), limit), 1e-9)
	}
	rows, err := readTable(sorbateCSV, []string{"id", "abv_pct_vol", "ph", "potassium_sorbate_mg_l", "source", "checked"})
	if err != nil || len(rows) != points {
		t.Errorf("%d rows for %d printed points, %v", len(rows), points, err)
	}
	for _, r := range rows { // what the limit hides is as printed too
		if r.text("id") == "10/3.5" && r.text("potassium_sorbate_mg_l") != "270" {
			t.Errorf("10/3.5 has %s mg/L, want 270", r.text("potassium_sorbate_mg_l"))
		}
	}
}

// Ensure that the limits are the printed ones, and none is missing.
func TestSulfiteLimits(t *testing.T) {
	all, err := SulfiteLimits()
	if err != nil {
		t.Fatal(err)
	}
	printed := printedValues(t, "limits_and_constants")
	for id, c := range map[string]struct {
		quantity, place string
		from, below     calc.GramPerLitre
	}{
		"eu_red_dry":     {"total SO2, EU red wine, sugar below 5 g/L", "EU", 0, 5},
		"eu_white_dry":   {"total SO2, EU white and rose wine, sugar below 5 g/L", "EU", 0, 5},
		"eu_red_sweet":   {"total SO2, EU red wine, sugar 5 g/L or more", "EU", 5, 0},
		"eu_white_sweet": {"total SO2, EU white and rose wine, sugar 5 g/L or more", "EU", 5, 0},
		"eu_named_sweet": {"total SO2, EU certain named sweet wines", "EU", 5, 0},
		"eu_sparkling":   {"total SO2, EU quality sparkling wine", "EU", 0, 0},
		"eu_cider_mead":  {"total SO2, EU cider, perry, fruit wine, mead", "EU", 0, 0},
		"eu_beer":        {"total SO2, EU beer", "EU", 0, 0},
		"us_wine":        {"total SO2, US wine", "US", 0, 0},
	} {
		got, found := calc.Find(all, id)
		want, there := printed[c.quantity]
		if !found || !there {
			t.Errorf("%s: found %v, printed %v", id, found, there)
			continue
		}
		wantNear(t, id, float64(got.Total), want, 0)
		if got.Place != c.place || got.SugarFrom != c.from || got.SugarBelow != c.below {
			t.Errorf("%s: %+v, want %+v", id, got, c)
		}
	}
	if len(all) != 9 {
		t.Errorf("%d limits, want 9", len(all))
	}
}

// Ensure that the targets are the printed ones, and the rule of calc rests on them.
func TestHeatTargets(t *testing.T) {
	all, err := HeatTargets()
	if err != nil {
		t.Fatal(err)
	}
	printed := printedValues(t, "pu_targets")
	for id, quantity := range map[string]string{
		"sweetened":         "PU, cider and sweetened fruit drinks",
		"unhopped_spores":   "PU, non-alcoholic beer, S. cerevisiae ascospores, bitterness 6-9 IBU",
		"hopped_spores":     "PU, non-alcoholic beer, S. cerevisiae ascospores, bitterness 25-50 IBU",
		"light_beer":        "PU, light beer",
		"dark_beer":         "PU, dark beer",
		"low_alcohol_beer":  "PU, low-alcohol beer",
		"us_breweries_1955": "PU, US breweries in 1955 survey",
		"invertase":         "PU, destroys yeast invertase in beer",
	} {
		got, found := calc.Find(all, id)
		low, there := printed[quantity+" (low)"]
		if !found || !there {
			t.Errorf("%s: found %v, printed %v", id, found, there)
			continue
		}
		wantNear(t, id+", low", float64(got.Low), low, 0)
		wantNear(t, id+", high", float64(got.High), printed[quantity+" (high)"], 0)
	}
	if len(all) != 8 {
		t.Errorf("%d targets, want 8", len(all))
	}
	sweetened, _ := calc.Find(all, "mead")
	spores, _ := calc.Find(all, "unhopped_spores")
	if sweetened.Low != calc.HeatFloor || spores.Low != calc.HeatCarefulLow || spores.High != calc.HeatCarefulHigh {
		t.Errorf("the rule has %v, %v and %v PU, the table %v, %v and %v", calc.HeatFloor, calc.HeatCarefulLow, calc.HeatCarefulHigh,
			sweetened.Low, spores.Low, spores.High)
	}
}
