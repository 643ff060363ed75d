package model

import (
	"strings"
	"testing"

	"cellar.local/glassrow/calc"
)

// Ensure that what can hurt somebody is told from what went in, with the reason, and
// that words which only look alike raise no alarm.
func TestBatch_Cautions(t *testing.T) {
	larder := Larder{Fruits: []Fruit{{ID: "plum", Fruit: calc.Fruit{Name: "plum"}, Caution: "Do not crush the stones."},
		{ID: "watermelon", Fruit: calc.Fruit{Name: "watermelon"}, Caution: "Not this one."}}}
	lactose := mixture("milk sugar", map[calc.Component]calc.Gram{calc.Lactose: 95, calc.Water: 5})
	disguised := mixture("body", map[calc.Component]calc.Gram{calc.Lactose: 10, calc.Dextrin: 90})
	xylitol := mixture("birch sugar", map[calc.Component]calc.Gram{calc.Xylitol: 100})
	named := func(name string) calc.Ingredient {
		return mixture(name, map[calc.Component]calc.Gram{calc.Sucrose: 100})
	}
	for name, c := range map[string]struct {
		drink  Drink
		bodies []Body
		says   []string // beginning of what, then why
		not    []string
	}{
		"malt by its name":          {Wine, []Body{added(named("Malt extract, dry"), 100, "")}, []string{"contains gluten", "Malt extract, dry"}, nil},
		"barley in a beer unnamed":  {Beer, nil, []string{"contains gluten", "beer is usually brewed from barley"}, []string{"contains milk"}},
		"maltodextrin is no malt":   {Wine, []Body{added(named("maltodextrin"), 100, "")}, nil, []string{"contains gluten"}},
		"lactose by composition":    {Wine, []Body{added(disguised, 100, "")}, []string{"contains milk", "body"}, nil},
		"lactose by another name":   {Beer, []Body{added(lactose, 100, "")}, []string{"contains milk", "milk sugar"}, nil},
		"honey":                     {Wine, []Body{added(named("heather honey"), 100, "")}, []string{"honey in any form is not for a child under a year", "heather honey"}, nil},
		"a mead of nothing said":    {Mead, nil, []string{"honey in any form", "mead is made of honey"}, nil},
		"no honey in a wine":        {Wine, nil, nil, []string{"honey", "contains gluten", "xylitol"}},
		"xylitol":                   {Wine, []Body{added(xylitol, 100, "")}, []string{"xylitol poisons dogs", "birch sugar"}, nil},
		"almonds":                   {Wine, []Body{added(named("toasted almonds"), 10, "")}, []string{"contains nuts", "toasted almonds"}, nil},
		"coconut and nutmeg":        {Wine, []Body{added(named("coconut"), 10, ""), added(named("nutmeg"), 1, "")}, nil, []string{"contains nuts"}},
		"isinglass in a note":       {Wine, []Body{Note{Text: "Fined with isinglass."}}, []string{"may contain fish", "a note of 6 Mar 2026"}, []string{"contains fish"}},
		"honey only smelt":          {Wine, []Body{Note{Text: "smells of honey"}}, nil, []string{"honey in any form"}},
		"a handbook's own":          {Wine, []Body{added(named("plums"), 100, "")}, []string{"Do not crush the stones.", "plums"}, nil},
		"half a name of a handbook": {Wine, []Body{added(water, 100, "")}, nil, []string{"Not this one"}},
		"struck out":                {Wine, []Body{added(xylitol, 100, ""), Void{Entry: 3}}, nil, []string{"xylitol"}},
		// 1.2 g of K2S2O5 at 57.63 % in 10 L are 69 mg/L.
		"sulfite":               {Wine, []Body{Stabilise{Sulfite: 1.2, Sorbate: 2}}, []string{"contains sulphites", "about 69 mg/L of SO2 added"}, nil},
		"a pinch of sulfite":    {Wine, []Body{Stabilise{Sulfite: 0.1, Sorbate: 2}}, []string{"may contain sulphites", "about 5.8 mg/L"}, []string{"contains sulphites"}},
		"no sulfite":            {Wine, nil, []string{"may contain sulphites", "none is written down"}, []string{"contains sulphites"}},
		"no sulfite, in a note": {Wine, []Body{Note{Text: "No sulfite."}}, []string{"may contain sulphites", "none is written down"}, []string{"contains sulphites"}},
		"the sorbitol of plums": {Wine, []Body{added(mixture("plums", map[calc.Component]calc.Gram{calc.Sorbitol: 2, calc.Water: 98}), 100, "")}, nil, []string{"laxative"}},
		"sulfite by its name":   {Wine, []Body{added(named("potassium metabisulphite"), 1, "")}, []string{"contains sulphites", "potassium metabisulphite"}, nil},
	} {
		t.Run(name, func(t *testing.T) {
			j := brew(c.drink, 10, 1.08, WineYeast)
			for _, b := range c.bodies {
				j.on(5, b)
			}
			all := j.Cautions(larder)
			if len(c.says) > 0 && !says(all, c.says[0], c.says[1]) {
				t.Errorf("%+v does not say %q because %q", all, c.says[0], c.says[1])
			}
			for _, not := range c.not {
				if says(all, not, "") {
					t.Errorf("%+v says %q", all, not)
				}
			}
		})
	}
}

func says(all []Caution, what, why string) bool {
	for _, c := range all {
		if strings.HasPrefix(c.What, what) && strings.Contains(c.Why, why) {
			return true
		}
	}
	return false
}

// Ensure that allergens come first, and nothing twice.
func TestBatch_Cautions_Order(t *testing.T) {
	j := brew(Mead, 10, 1.08, WineYeast).on(5, added(honey, 100, ""), added(honey, 50, ""), added(mixture("rye malt", map[calc.Component]calc.Gram{calc.Maltose: 100}), 9, ""))
	all := j.Cautions(Larder{})
	seen := map[string]bool{}
	rest := false
	for _, c := range all {
		if seen[c.What] || strings.Contains(c.Why, "honey; honey") {
			t.Errorf("%+v comes twice", c)
		}
		if c.Allergen && rest {
			t.Errorf("the allergen %q comes after other cautions", c.What)
		}
		seen[c.What], rest = true, rest || !c.Allergen
	}
	if !all[0].Allergen || !rest {
		t.Errorf("got %+v", all)
	}
}
