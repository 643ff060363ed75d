package data

import (
	"math"
	"strings"
	"testing"
	"unicode"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

func sweeteners(t *testing.T) []model.Sweetener {
	t.Helper()
	all, err := Sweeteners()
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func sweetener(t *testing.T, id string) model.Sweetener {
	t.Helper()
	for _, s := range sweeteners(t) {
		if s.ID == id {
			return s
		}
	}
	t.Fatalf("the handbook has no row %q", id)
	return model.Sweetener{}
}

// Ensure that every row can be listed, poured and cited.
func TestSweeteners(t *testing.T) {
	all := sweeteners(t)
	if len(all) < 35 {
		t.Errorf("Sweeteners() has %d rows, want 35 or more", len(all))
	}
	for _, s := range all {
		if m := float64(s.Ingredient.PerGram.Mass()); math.Abs(m-1) > 1e-12 {
			t.Errorf("%s: a gram has a mass of %g g", s.ID, m)
		}
		if s.Source == "" || s.Flavour == "" || s.Form == "" {
			t.Errorf("%s: source %q, flavour %q, form %q, want all filled in", s.ID, s.Source, s.Flavour, s.Form)
		}
		if strings.HasPrefix(s.ID, "cp_") {
			t.Errorf("%s is a rule of thumb, not a sweetener", s.ID)
		}
		for _, text := range append([]string{s.ID, s.Name(), s.Form, s.Flavour, s.Caution, s.Notes, s.Source}, s.Aliases...) {
			if strings.ContainsFunc(text, func(r rune) bool { return !unicode.IsPrint(r) }) {
				t.Errorf("%s: %q is not printable", s.ID, text)
			}
		}
		if err := (model.Portion{Ingredient: s.Ingredient, Mass: 1}).Validate(); err != nil {
			t.Errorf("%s cannot go into a journal: %v", s.ID, err)
		}
	}
}

// Ensure that a person who opens the list sees honey and sugars before the rest.
func TestSweeteners_HoneyAndSugarsFirst(t *testing.T) {
	for i, want := range []string{"honey", "white sugar", "corn sugar (dextrose)"} {
		if got := sweeteners(t)[i].Name(); got != want {
			t.Errorf("row %d is %q, want %q", i, got, want)
		}
	}
	leftByYeast := false
	for _, s := range sweeteners(t) {
		if leftByYeast = leftByYeast || s.ID == "lactose"; leftByYeast && s.Ingredient.PerGram.Fermentable() > 0.05 {
			t.Errorf("%s ferments, but is listed among what yeast leaves", s.ID)
		}
	}
}

// Shares in percent of the mass, and of the dissolved solids what yeast can use.
// Expected: what sugar and honey makers commonly say, and the published analyses
// named in the table.
func TestSweeteners_Composition(t *testing.T) {
	for id, want := range map[string]struct{ water, fermentable, slack float64 }{
		"honey_average":        {17, 94.5, 1},
		"white_sugar":          {0, 100, 0.5},
		"dextrose_monohydrate": {9.1, 99.5, 0.5},
		"maple_syrup":          {34, 97, 1},
		"treacle_black":        {28.5, 91, 1},
		"molasses_light":       {22, 69, 1},
		"molasses_blackstrap":  {24, 62, 1},
		"malt_extract_dry":     {3, 59, 1},
		"agave_syrup":          {23, 88, 1},
		"lactose":              {5, 0, 0.1},
		"maltodextrin":         {5, 3, 0.5},
		"erythritol":           {0, 0, 0.1},
	} {
		g := sweetener(t, id).Ingredient.PerGram
		if water := 100 * float64(g.Of(calc.Water)); math.Abs(water-want.water) > want.slack {
			t.Errorf("%s: %.1f %% water, want %.1f", id, water, want.water)
		}
		if share := 100 * float64(g.Fermentable()/g.Extract()); math.Abs(share-want.fermentable) > want.slack {
			t.Errorf("%s: %.1f %% of the solids ferment, want %.1f", id, share, want.fermentable)
		}
	}
}

// A pound made up to a US gallon. Expected for sugar: 119.83 g/L in the published
// sucrose table, 11.47 Brix, 46.1 points; for honey about 38 points.
func TestSweeteners_PoundInAGallon(t *testing.T) {
	for id, want := range map[string]struct{ points, slack float64 }{
		"white_sugar":          {46.1, 0.06},
		"honey_average":        {38, 0.5},
		"dextrose_monohydrate": {42, 0.5},
	} {
		l, err := calc.MadeUpTo(sweetener(t, id).Ingredient.Amount(calc.GramsPerPound), calc.LitresPerUSGallon)
		if err != nil {
			t.Fatal(err)
		}
		sg, err := l.SG()
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(sg.Points()-want.points) > want.slack {
			t.Errorf("a pound of %s in a gallon reads %.2f points, want %.1f", id, sg.Points(), want.points)
		}
	}
}

// Ensure that the sweetness reckoned from the parts is near what is in print: a
// figure typed into the wrong column shows here.
func TestSweeteners_SweetnessAsPrinted(t *testing.T) {
	rows, err := readTable(sweetenersCSV, sweetenerColumns)
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows {
		s, err := row.sweetener()
		if err != nil {
			t.Fatal(err)
		}
		low, high, err := row.printedSweetness()
		if err != nil {
			t.Fatal(err)
		}
		// Within an eighth, of the figure or of table sugar: panels differ by more.
		if got := float64(s.Ingredient.PerGram.Sweetness()); got < low-max(1, low)/8 || got > high+max(1, high)/8 {
			t.Errorf("%s: reckoned sweetness %.2f, printed %g to %g", s.ID, got, low, high)
		}
	}
}

// Ensure that the words people type find the row they mean.
func TestSweeteners_FoundByEverydayNames(t *testing.T) {
	for name, want := range map[string]string{
		"honey": "honey_average", "sugar": "white_sugar", "table sugar": "white_sugar", "cane sugar": "white_sugar",
		"corn sugar": "dextrose_monohydrate", "dextrose": "dextrose_monohydrate", "Glucose": "dextrose_monohydrate",
		"maple": "maple_syrup", "lactose": "lactose", "milk sugar": "lactose", "erythritol": "erythritol",
		"black treacle": "treacle_black", "treacle": "treacle_black", "golden syrup": "golden_syrup",
		"stevia": "stevia", "brown sugar": "brown_sugar_light", "DME": "malt_extract_dry", "agave": "agave_syrup",
		"xyl": "xylitol", "white_sugar": "white_sugar", "acesulfame k": "acesulfame_k",
	} {
		got, ok, matches := model.FindSweetener(sweeteners(t), name)
		if !ok || got.ID != want {
			t.Errorf("FindSweetener(%q) = %q, %v with %d candidates, want %q", name, got.ID, ok, len(matches), want)
		}
	}
	for name, atLeast := range map[string]int{"molasses": 3, "malt extract": 2, "apple": 2, "syrup": 4} {
		if got, ok, matches := model.FindSweetener(sweeteners(t), name); ok || len(matches) < atLeast {
			t.Errorf("FindSweetener(%q) = %q, %v with %d candidates, want %d or more to choose from", name, got.ID, ok, len(matches), atLeast)
		}
	}
	if _, ok, matches := model.FindSweetener(sweeteners(t), "gravel"); ok || len(matches) > 0 {
		t.Errorf("FindSweetener(gravel) finds something")
	}
}

// Ensure that what can hurt somebody is said.
func TestSweeteners_Cautions(t *testing.T) {
	for id, word := range map[string]string{
		"honey_average": "12 months", "xylitol": "dogs", "aspartame": "phenylketonuria", "lactose": "Milk allergen",
		"erythritol": "Laxative", "sorbitol": "Laxative", "malt_extract_dry": "gluten", "maltodextrin": "burst",
	} {
		if got := sweetener(t, id).Caution; !strings.Contains(got, word) {
			t.Errorf("caution of %s is %q, want it to speak of %q", id, got, word)
		}
	}
}

const (
	goodHeader = "id,name,aliases,form,water_pct,sucrose_pct,glucose_pct,fructose_pct,maltose_pct,other_fermentable_pct,other_fermentable_kind,unfermentable_pct,unfermentable_kind,kg_per_litre,cup_g,sweetness_low,sweetness_high,flavour,caution,notes,source,checked\n"
	goodRow    = "birch,birch syrup,birch; sap,syrup,33,10,25,28,0,0,,4,solids,1.33,315,0.6,0.9,wood,,,a table,read\n"
)

// Ensure that an edited table that cannot be right is refused where it is wrong.
func TestParseSweeteners_Refuses(t *testing.T) {
	if _, err := parseSweeteners("# first\n" + goodHeader + "# second\n\n" + goodRow); err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct{ table, want string }{
		"nothing":             {"", "columns"},
		"no rows":             {goodHeader, "no rows"},
		"missing column":      {strings.Replace(goodHeader, ",checked", "", 1) + goodRow, `"checked" is missing`},
		"unknown column":      {strings.Replace(goodHeader, "notes", "remarks", 1) + goodRow, `"remarks" is not known`},
		"column twice":        {strings.Replace(goodHeader, "notes", "source", 1) + goodRow, `"source" is there twice`},
		"short row":           {goodHeader + "birch,birch syrup\n", "line 2"},
		"not a number":        {goodHeader + strings.Replace(goodRow, ",33,", ",a third,", 1), `row "birch" on line 2, column water_pct: "a third" is not a number`},
		"negative":            {goodHeader + strings.Replace(goodRow, ",10,", ",-10,", 1), "column sucrose_pct: -10 is outside"},
		"not finite":          {goodHeader + strings.Replace(goodRow, ",10,", ",NaN,", 1), "column sucrose_pct"},
		"sum":                 {goodHeader + strings.Replace(goodRow, ",33,", ",30,", 1), "add up to 97.00 %"},
		"unknown kind":        {goodHeader + strings.Replace(goodRow, "solids", "sand", 1), `column unfermentable_kind: "sand" is not one of: acesulfame-K`},
		"kind not said":       {goodHeader + strings.Replace(goodRow, "solids", "", 1), `column unfermentable_kind: ""`},
		"wrong fermentable":   {goodHeader + strings.Replace(goodRow, ",0,,", ",0,starch,", 1), "column other_fermentable_kind"},
		"escape code":         {goodHeader + strings.Replace(goodRow, "wood", "wo\x1b[31mod", 1), "column flavour: it holds the unprintable character U+001B"},
		"broken text":         {goodHeader + strings.Replace(goodRow, "wood", "wo\xffod", 1), "column flavour"},
		"long name":           {goodHeader + strings.Replace(goodRow, "birch syrup", strings.Repeat("birch ", 9), 1), "column name"},
		"no source":           {goodHeader + strings.Replace(goodRow, "a table", "", 1), "column source: it is empty"},
		"density":             {goodHeader + strings.Replace(goodRow, "1.33", "1330", 1), "column kg_per_litre"},
		"sweetness reversed":  {goodHeader + strings.Replace(goodRow, "0.6,0.9", "0.9,0.6", 1), "column sweetness_low"},
		"row twice":           {goodHeader + goodRow + goodRow, `line 3, column id: "birch" is row "birch" already`},
		"alias of another":    {goodHeader + goodRow + strings.Replace(goodRow, "birch,birch syrup,birch; sap", "b2,second,SAP", 1), `column aliases: "sap" is row "birch" already`},
		"quote left open":     {goodHeader + strings.Replace(goodRow, "wood", `"wood`, 1), "line"},
		"more cells than due": {goodHeader + strings.TrimSpace(goodRow) + ",more\n", "line 2"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := parseSweeteners(c.table)
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error is %v, want it to say %q", err, c.want)
			}
		})
	}
}

// Ensure that a table, whatever it holds, is refused or gives rows fit for use.
func FuzzParseSweeteners(f *testing.F) {
	f.Add(goodHeader + goodRow)
	f.Fuzz(func(t *testing.T, table string) {
		all, err := parseSweeteners(table)
		for _, s := range all {
			if m := float64(s.Ingredient.PerGram.Mass()); err == nil && !(math.Abs(m-1) < 1e-9) {
				t.Errorf("%s: a gram has a mass of %g g", s.ID, m)
			}
		}
	})
}
