package data

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"cellar.local/glassrow/calc"
)

// printedValues returns what a table of the stabilising reference prints, by quantity.
func printedValues(t *testing.T, table string) map[string]float64 {
	t.Helper()
	values := make(map[string]float64)
	for _, row := range printedRows(t, table) {
		values[row["quantity"]] = row.number(t, "value")
	}
	return values
}

type printedRow map[string]string

func (r printedRow) number(t *testing.T, column string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(r[column], 64)
	if err != nil {
		t.Fatalf("column %s: %v", column, err)
	}
	return x
}

func printedRows(t *testing.T, table string) []printedRow {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "calc", "testdata", "stabilising.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []printedRow
	for _, line := range lines[1:] {
		row := make(printedRow)
		for i, cell := range line {
			row[lines[0][i]] = cell
		}
		if row["table"] == table {
			rows = append(rows, row)
		}
	}
	if rows == nil {
		t.Fatalf("no table %s", table)
	}
	return rows
}

// molarMass adds up the atomic weights of IUPAC, g/mol, for a formula such as C4 H6 O6.
// Sulfur has the older weight that the notes reckon with; today's is 0.006 less.
func molarMass(t *testing.T, formula string) float64 {
	t.Helper()
	weights := map[string]float64{"H": 1.008, "C": 12.011, "N": 14.007, "O": 15.999, "P": 30.974, "S": 32.066, "K": 39.098, "Ca": 40.078}
	sum := 0.0
	for part := range strings.FieldsSeq(formula) {
		element := strings.TrimRight(part, "0123456789")
		n := 1
		if digits := part[len(element):]; digits != "" {
			n, _ = strconv.Atoi(digits)
		}
		w, known := weights[element]
		if !known {
			t.Fatalf("no weight of %q", element)
		}
		sum += w * float64(n)
	}
	return sum
}

func wantNear(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) { // this way round so NaN fails too
		t.Errorf("%s = %.9g, want %.9g ± %.3g", what, got, want, tolerance)
	}
}

// Ensure that every row of the tables about keeping and feeding can be listed and cited.
func TestListed(t *testing.T) {
	var all []calc.Listed
	acids, err1 := Acids()
	carbonates, err2 := Carbonates()
	nitrogen, err3 := NitrogenSources()
	limits, err4 := SulfiteLimits()
	heat, err5 := HeatTargets()
	for _, err := range []error{err1, err2, err3, err4, err5} {
		if err != nil {
			t.Fatal(err)
		}
	}
	for _, r := range acids {
		all = append(all, r.Listed)
	}
	for _, r := range carbonates {
		all = append(all, r.Listed)
	}
	for _, r := range nitrogen {
		all = append(all, r.Listed)
	}
	for _, r := range limits {
		all = append(all, r.Listed)
	}
	for _, r := range heat {
		all = append(all, r.Listed)
	}
	if len(all) != 8+3+4+9+8 {
		t.Errorf("%d rows, want 32", len(all))
	}
	for _, l := range all {
		if l.ID == "" || l.Name == "" || !strings.HasSuffix(l.Source, ")") {
			t.Errorf("%+v: want an id, a name and a source with how far it was checked", l)
		}
		for _, text := range append([]string{l.ID, l.Name, l.Notes, l.Source}, l.Aliases...) {
			if strings.ContainsFunc(text, func(r rune) bool { return !unicode.IsPrint(r) }) {
				t.Errorf("%s: %q is not printable", l.ID, text)
			}
		}
	}
}

// sound are tables of one or a few rows that can be right, each with its parser.
var sound = map[string]struct {
	parse func(string) error
	table string
}{
	"acids": {
		func(s string) error { _, err := parseAcids(s); return err },
		"id,name,aliases,molar_mass_g_mol,acid_groups,purity_pct,pk1,pk2,pk3,addable,notes,source,checked\n" +
			"sour,sour acid,sour thing,150,2,100,3,4,,yes,,a table,read\n",
	},
	"carbonates": {
		func(s string) error { _, err := parseCarbonates(s); return err },
		"id,name,aliases,molar_mass_g_mol,equivalents,salt,practice_low_g,practice_high_g,notes,source,checked\n" +
			"mild,mild stone,,100,2,calcium tartrate,0.6,0.7,,a table,read\n",
	},
	"nitrogen": {
		func(s string) error { _, err := parseNitrogen(s); return err },
		"id,name,aliases,nitrogen_mg_g,most_g_l,notes,source,checked\n" +
			"food,yeast food,,200,1,,a table,read\n",
	},
	"limits": {
		func(s string) error { _, err := parseSulfiteLimits(s); return err },
		"id,name,aliases,place,total_so2_mg_l,sugar_from_g_l,sugar_below_g_l,notes,source,checked\n" +
			"here,a drink,,home,200,5,45,,a table,read\n",
	},
	"heat": {
		func(s string) error { _, err := parseHeatTargets(s); return err },
		"id,name,aliases,low_pu,high_pu,notes,source,checked\n" +
			"warm,warm drink,,50,100,,a table,read\n",
	},
	"sorbate": {
		func(s string) error { _, err := parseSorbate(s); return err },
		"id,abv_pct_vol,ph,potassium_sorbate_mg_l,source,checked\n" +
			"a,10,3.1,165,a table,read\nb,10,3.5,260,a table,read\nc,14,3.1,60,a table,read\nd,14,3.5,90,a table,read\n",
	},
}

// Ensure that an edited table that cannot be right is refused where it is wrong.
func TestListed_Refuses(t *testing.T) {
	for name, s := range sound {
		if err := s.parse("# first\n" + s.table); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if err := s.parse(""); err == nil {
			t.Errorf("%s: nothing at all was taken", name)
		}
		if err := s.parse(strings.Replace(s.table, "id,", "ident,", 1)); err == nil {
			t.Errorf("%s: a column of another name was taken", name)
		}
		header, _, _ := strings.Cut(s.table, "\n")
		if err := s.parse(header + "\n"); err == nil {
			t.Errorf("%s: a table without rows was taken", name)
		}
		if err := s.parse(strings.Replace(s.table, "a table", "", 1)); err == nil || !strings.Contains(err.Error(), "column source: it is empty") {
			t.Errorf("%s: error %v, want it to miss the source", name, err)
		}
	}
	for name, c := range map[string]struct{ table, old, new, want string }{
		"no name":                 {"acids", ",sour acid,", ",,", `row "sour" on line 2, column name: it is empty`},
		"row twice":               {"acids", "read\n", "read\nsour,second,,150,2,100,3,4,,yes,,a table,read\n", `column id: "sour" is row "sour" already`},
		"alias of another":        {"acids", "read\n", "read\nb,second,Sour-Thing,150,2,100,3,4,,yes,,a table,read\n", `column aliases: "Sour-Thing" is row "sour" already`},
		"molar mass":              {"acids", ",150,", ",1.5,", "column molar_mass_g_mol: 1.5 is outside"},
		"molar mass missing":      {"acids", ",150,", ",,", "column molar_mass_g_mol: it is empty"},
		"groups in part":          {"acids", ",2,", ",1.5,", "column acid_groups: 1.5 is not a whole number"},
		"groups":                  {"acids", ",2,", ",7,", "column acid_groups: 7 is outside"},
		"purity":                  {"acids", ",100,", ",101,", "column purity_pct: 101 is outside"},
		"purity missing":          {"acids", ",100,", ",,", "column purity_pct: it is empty"},
		"pK that falls":           {"acids", ",3,4,,", ",4,3,,", "column pk2: the pK must rise"},
		"pK left out":             {"acids", ",3,4,,", ",3,,5,", "column pk3: the pK must rise"},
		"addable":                 {"acids", ",yes,", ",perhaps,", `column addable: "perhaps" is not one of: yes, no`},
		"carbonate's mass":        {"carbonates", ",100,", ",NaN,", "column molar_mass_g_mol"},
		"carbonate's equivalents": {"carbonates", ",2,", ",3,", "column equivalents: 3 is outside"},
		"salt":                    {"carbonates", "calcium tartrate", "table salt", `column salt: "table salt" is not one of: calcium tartrate, potassium bitartrate`},
		"practice reversed":       {"carbonates", "0.6,0.7", "0.7,0.6", "column practice_low_g: 0.7 is above practice_high_g, 0.6"},
		"practice low":            {"carbonates", "0.6,0.7", "0,0.7", "column practice_low_g: 0 is outside"},
		"practice high":           {"carbonates", "0.6,0.7", "0.6,", "column practice_high_g: it is empty"},
		"nitrogen":                {"nitrogen", ",200,", ",501,", "column nitrogen_mg_g: 501 is outside"},
		"most":                    {"nitrogen", ",1,", ",one,", `column most_g_l: "one" is not a number`},
		"place":                   {"limits", ",home,", ",,", "column place: it is empty"},
		"total":                   {"limits", ",200,", ",,", "column total_so2_mg_l: it is empty"},
		"sugar from":              {"limits", ",5,45,", ",-5,45,", "column sugar_from_g_l: -5 is outside"},
		"sugar below":             {"limits", ",5,45,", ",5,x,", "column sugar_below_g_l"},
		"sugar reversed":          {"limits", ",5,45,", ",45,45,", "column sugar_below_g_l: 45 is not above sugar_from_g_l, 45"},
		"heat":                    {"heat", ",50,100,", ",50,1001,", "column high_pu: 1001 is outside"},
		"strength":                {"sorbate", "a,10,", "a,31,", "column abv_pct_vol: 31 is outside"},
		"pH":                      {"sorbate", "a,10,3.1,", "a,10,7,", "column ph: 7 is outside"},
		"dose":                    {"sorbate", ",165,", ",,", "column potassium_sorbate_mg_l: it is empty"},
		"dose rising":             {"sorbate", ",90,", ",261,", "14 % vol and pH 3.5 is more than with less alcohol"},
	} {
		t.Run(name, func(t *testing.T) {
			s := sound[c.table]
			table := strings.Replace(s.table, c.old, c.new, 1)
			if table == s.table {
				t.Fatalf("%q does not stand in the table", c.old)
			}
			if err := s.parse(table); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error is %v, want it to say %q", err, c.want)
			}
		})
	}
}

// Ensure that a table, whatever it holds, is refused or gives rows fit for use.
func FuzzParseListed(f *testing.F) {
	for _, s := range sound {
		f.Add(s.table)
	}
	f.Fuzz(func(t *testing.T, table string) {
		if acids, err := parseAcids(table); err == nil {
			for _, a := range acids {
				if _, err := a.Raise(19, 5, 6); err != nil {
					t.Errorf("%+v: %v", a, err)
				}
			}
		}
		if carbonates, err := parseCarbonates(table); err == nil {
			for _, c := range carbonates {
				if _, err := c.Lower(19, 6, 5); err != nil {
					t.Errorf("%+v: %v", c, err)
				}
			}
		}
		if sources, err := parseNitrogen(table); err == nil {
			for _, n := range sources {
				if _, err := n.Plan(calc.MustToFeed{Volume: 19, Original: 24, Need: calc.TableNeed}, calc.FeedHalves); err != nil {
					t.Errorf("%+v: %v", n, err)
				}
			}
		}
		if sorbate, err := parseSorbate(table); err == nil {
			if dose, err := sorbate.Dose(12, 3.3, 19); err != nil || !(dose.Sorbate > 0) {
				t.Errorf("%+v, %v", dose, err)
			}
		}
		limits, err := parseSulfiteLimits(table)
		for _, l := range limits {
			if err == nil && !l.For(l.SugarFrom) {
				t.Errorf("%+v is for no drink", l)
			}
		}
		targets, err := parseHeatTargets(table)
		for _, h := range targets {
			if err == nil && !(0 < h.Low && h.Low <= h.High) {
				t.Errorf("%+v", h)
			}
		}
	})
}
