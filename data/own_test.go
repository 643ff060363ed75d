package data

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// Ensure that a person's own rows replace those of the same id, come on top
// otherwise, and that a slip in them is named with its file.
func TestSweetenersWith_OwnRows(t *testing.T) {
	columns := strings.Join(sweetenerColumns, ",")
	row := func(values map[string]string) string {
		cells := make([]string, len(sweetenerColumns))
		for i, c := range sweetenerColumns {
			cells[i] = values[c]
		}
		return strings.Join(cells, ",")
	}
	folder := t.TempDir()
	write := func(rows ...string) {
		t.Helper()
		text := columns + "\n" + strings.Join(rows, "\n") + "\n"
		if err := os.WriteFile(filepath.Join(folder, sweetenerTable.file), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	base, err := Sweeteners()
	if err != nil {
		t.Fatal(err)
	}
	heather := row(map[string]string{"id": "heather_comb", "name": "heather comb", "form": "syrup",
		"water_pct": "20", "glucose_pct": "36", "fructose_pct": "40", "other_fermentable_pct": "0", "sucrose_pct": "0", "maltose_pct": "0",
		"unfermentable_pct": "4", "unfermentable_kind": "solids", "source": "my own refractometer", "checked": "measured"})
	honey := row(map[string]string{"id": base[0].ID, "name": "our honey", "aliases": "honey", "form": "syrup",
		"water_pct": "18", "glucose_pct": "38", "fructose_pct": "40", "other_fermentable_pct": "0", "sucrose_pct": "0", "maltose_pct": "0",
		"unfermentable_pct": "4", "unfermentable_kind": "solids", "source": "the beekeeper", "checked": "asked"})
	write(heather, honey)
	got, err := SweetenersWith(folder)
	if err != nil {
		t.Fatal(err)
	}
	if len(got) != len(base)+1 || got[0].ID != "heather_comb" {
		t.Errorf("%d rows, the first %q; want %d, the first heather_comb", len(got), got[0].ID, len(base)+1)
	}
	found, ok, _ := model.FindSweetener(got, "honey")
	if !ok || found.Name() != "our honey" || found.Ingredient.PerGram.Of(calc.Water) < 0.17 {
		t.Errorf("honey is %q, %v; want our honey", found.Name(), ok)
	}
	write(strings.Replace(heather, "20", "70", 1))
	if _, err := SweetenersWith(folder); err == nil || !strings.Contains(err.Error(), sweetenerTable.file) {
		t.Errorf("parts that add up to 150 %%: %v, want an error that names the file", err)
	}
	if all, err := SweetenersWith(t.TempDir()); err != nil || len(all) != len(base) {
		t.Errorf("no own table: %d rows, %v; want the handbook", len(all), err)
	}
	if fruit, err := FruitsWith(t.TempDir()); err != nil || len(fruit) == 0 {
		t.Errorf("no own fruit: %d rows, %v; want the handbook", len(fruit), err)
	}
}
