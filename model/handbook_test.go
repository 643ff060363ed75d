package model

import (
	"slices"
	"strings"
	"testing"
	"time"

	"cellar.local/glassrow/calc"
)

// fewRows is a few rows with figures far apart.
func fewRows(t *testing.T) Larder {
	t.Helper()
	mixed := func(id, name string, parts map[calc.Component]calc.Gram, aliases ...string) Sweetener {
		i, err := calc.NewIngredient(name, parts)
		if err != nil {
			t.Fatal(err)
		}
		return Sweetener{ID: id, Ingredient: i, Aliases: aliases, Form: "syrup", Flavour: "floral"}
	}
	fruit := func(id, group string, sugar calc.Gram, ph calc.Span) Fruit {
		f, err := calc.NewFruit(id, map[calc.Component]calc.Gram{calc.Water: 80, calc.Fructose: sugar}, 2, 0)
		if err != nil {
			t.Fatal(err)
		}
		f.PH, f.HalfTime = ph, 48*time.Hour
		return Fruit{ID: id, Fruit: f, Group: group, Form: "fresh"}
	}
	return Larder{
		Sweeteners: []Sweetener{
			mixed("milk", "Milk sugar", map[calc.Component]calc.Gram{calc.Lactose: 100}),
			mixed("honey", "honey", map[calc.Component]calc.Gram{calc.Water: 20, calc.Fructose: 80}, "runny honey"),
			mixed("beet", "beet sugar", map[calc.Component]calc.Gram{calc.Sucrose: 95, calc.Dextrin: 5}),
		},
		Fruits: []Fruit{fruit("plum", "stone", 10, calc.Span{}), fruit("sloe", "stone", 6, calc.Span{Low: 2.8, High: 3.2}), fruit("berry", "berry", 8, calc.Span{Low: 3.2, High: 3.6})},
	}
}

func idsOf(rows []Stuff) string {
	var ids []string
	for _, s := range rows {
		ids = append(ids, s.ID())
	}
	return strings.Join(ids, " ")
}

// Ensure that each order does what its name says, and leaves the rows it was given.
func TestSorted(t *testing.T) {
	l := fewRows(t)
	for _, c := range []struct {
		table Table
		order Order
		want  string
	}{
		{SweetenerTable, AsListed, "milk honey beet"},
		{SweetenerTable, ByName, "beet honey milk"},
		{SweetenerTable, BySugar, "milk beet honey"},
		{SweetenerTable, ByFermentable, "honey beet milk"},
		{SweetenerTable, BySweetness, "honey beet milk"},
		{FruitTable, BySugar, "plum berry sloe"},
		{FruitTable, ByPH, "sloe berry plum"},
	} {
		rows := l.Rows(c.table)
		before := idsOf(rows)
		if got := idsOf(Sorted(rows, c.order)); got != c.want || idsOf(rows) != before {
			t.Errorf("Sorted(%s, %s) = %s, want %s; given %s, was %s", c.table, c.order, got, c.want, idsOf(rows), before)
		}
	}
}

// Ensure that every word sought must be in a name, an alias or the kind.
func TestSearch(t *testing.T) {
	l := fewRows(t)
	rows := slices.Concat(l.Rows(SweetenerTable), l.Rows(FruitTable))
	for words, want := range map[string]string{
		"": "milk honey beet plum sloe berry", "SUGAR": "milk beet", "runny-honey": "honey", "stone fresh": "plum sloe",
		"sugar stone": "", "floral": "milk honey beet",
	} {
		if got := idsOf(Search(rows, words)); got != want {
			t.Errorf("Search(%q) = %q, want %q", words, got, want)
		}
	}
}

// Ensure that what is typed into a field is understood with its units, and that what
// no longer holds goes with it.
func TestFillRow(t *testing.T) {
	for _, c := range []struct {
		table             Table
		field, typed      string
		column, want, err string
	}{
		{SweetenerTable, "water", "17.2 %", "water_pct", "17.2", ""},
		{SweetenerTable, "water_pct", "17,2", "water_pct", "17.2", ""},
		{SweetenerTable, "weight", "11.9 lb/gal", "kg_per_litre", "1.42593", ""},
		{SweetenerTable, "a cup", "12oz", "cup_g", "340.194", ""},
		{SweetenerTable, "m.triose", "9%", "other_fermentable_kind", "maltotriose", ""},
		{FruitTable, "half out", "2d", "half_time_h", "48", ""},
		{FruitTable, "acid", "0.6-0.8%", "acid_high_g_per_kg", "8", ""},
		{FruitTable, "acid", "0.6-0.8%", "acid_low_g_per_kg", "6", ""},
		{FruitTable, "pH", "3.4", "ph_high", "3.4", ""},
		{FruitTable, "glucose", "3%", "total_sugars_pct", "", ""},
		{FruitTable, "pH", "3.4", "ph_source", "", ""},
		{FruitTable, "water", "much", "", "", `water: "much" is not understood; write 17.2%`},
		{FruitTable, "water", "2 kg", "", "", `water: unit "kg" is not known here`},
		{FruitTable, "colour", "red", "", "", `"colour" is nothing that a row of fruit holds`},
	} {
		row := RowText{"total_sugars_pct": "10", "ph_source": "a list"}
		err := FillRow(c.table, row, c.field, c.typed)
		switch {
		case c.err != "":
			if err == nil || !strings.Contains(err.Error(), c.err) {
				t.Errorf("%s=%s: %v, want %q", c.field, c.typed, err, c.err)
			}
		case err != nil || row[c.column] != c.want:
			t.Errorf("%s=%s: %s is %q, %v; want %q", c.field, c.typed, c.column, row[c.column], err, c.want)
		}
	}
}
