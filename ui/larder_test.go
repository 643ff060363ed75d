package ui

import (
	"reflect"
	"testing"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// Ensure that no pane is left with the old tables when they change.
func TestApp_SetLarderReachesEveryPane(t *testing.T) {
	a := New(Options{Styles: NewStyles(true)}).(app)
	sugar, err := calc.NewIngredient("sugar", map[calc.Component]calc.Gram{calc.Sucrose: 1})
	if err != nil {
		t.Fatal(err)
	}
	a.setLarder(model.Larder{Sweeteners: []model.Sweetener{{ID: "sugar", Ingredient: sugar}}, Fruits: []model.Fruit{{ID: "apple"}}})
	panes := 0
	for root, i := reflect.ValueOf(a), 0; i < root.NumField(); i++ {
		pane := root.Field(i)
		if pane.Kind() != reflect.Struct {
			continue
		}
		o := pane
		if pane.Type() != reflect.TypeFor[Options]() {
			if o = pane.FieldByName("opts"); !o.IsValid() {
				continue
			}
		}
		panes++
		for _, table := range []string{"Sweeteners", "Fruits"} {
			if n := o.FieldByName(table).Len(); n != 1 {
				t.Errorf("%s has %d %s, want those of the new tables; see setLarder", root.Type().Field(i).Name, n, table)
			}
		}
	}
	if panes < 10 {
		t.Errorf("looked at %d panes, want all of them", panes)
	}
}
