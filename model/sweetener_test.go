package model

import (
	"strings"
	"testing"

	"cellar.local/glassrow/calc"
)

var shelfOfSweeteners = []Sweetener{
	{ID: "white_sugar", Ingredient: sugar, Aliases: []string{"table sugar", "Sucrose"}},
	{ID: "honey_average", Ingredient: mixture("Honey, average", map[calc.Component]calc.Gram{calc.Glucose: 1})},
	{ID: "honey_uk", Ingredient: mixture("Honey, UK table", map[calc.Component]calc.Gram{calc.Glucose: 1}), Aliases: []string{"British honey"}},
	{ID: "maple_syrup", Ingredient: mixture("Maple syrup", map[calc.Component]calc.Gram{calc.Sucrose: 66, calc.Water: 34})},
	{ID: "date_syrup", Ingredient: mixture("Date syrup (70 Brix)", map[calc.Component]calc.Gram{calc.Fructose: 70, calc.Water: 30})},
	{ID: "sucralose", Ingredient: mixture("Sucralose", map[calc.Component]calc.Gram{calc.Sucralose: 1})},
	{ID: "erythritol", Ingredient: mixture("Erythritol", map[calc.Component]calc.Gram{calc.Erythritol: 1})},
}

// Ensure that a sweetener is found as a person would say it, and two are not confused.
func TestFindSweetener(t *testing.T) {
	for name, want := range map[string]string{
		"white_sugar": "white_sugar", "White sugar": "white_sugar", "TABLE-SUGAR": "white_sugar", "sucrose": "white_sugar", "sugar": "white_sugar",
		"maple": "maple_syrup", "  maple   syrup ": "maple_syrup", "british": "honey_uk", "uk": "honey_uk", "honey average": "honey_average",
		"date": "date_syrup", "70 brix": "date_syrup", "sucral": "sucralose",
		"honey": "honey_average|honey_uk", "syrup": "maple_syrup|date_syrup", "suc": "white_sugar|sucralose",
		"treacle": "", "": "", "   ": "", "_": "", "honey honey": "",
	} {
		found, ok, matches := FindSweetener(shelfOfSweeteners, name)
		var got []string
		for _, m := range matches {
			got = append(got, m.ID)
		}
		if ok {
			got = []string{found.ID}
		}
		if strings.Join(got, "|") != want || ok != (want != "" && !strings.Contains(want, "|")) {
			t.Errorf("FindSweetener(%q) = %v, found %v, want %q", name, got, ok, want)
		}
	}
}

func TestSweetener(t *testing.T) {
	for _, s := range shelfOfSweeteners {
		if got, want := s.Intense(), s.ID == "sucralose"; got != want {
			t.Errorf("%s is intense: %v", s.ID, got)
		}
		if got, want := s.Fermentable(), s.ID != "sucralose" && s.ID != "erythritol"; got != want {
			t.Errorf("%s is fermentable: %v", s.ID, got)
		}
	}
}
