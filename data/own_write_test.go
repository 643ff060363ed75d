package data

import (
	"errors"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// heather is an own row as a person would fill it in.
func heather() model.RowText {
	return model.RowText{"name": "heather comb", "aliases": "ling", "form": "syrup", "water_pct": "20", "glucose_pct": "36",
		"fructose_pct": "40", "unfermentable_pct": "4", "unfermentable_kind": "solids", "source": "my own refractometer", "checked": "measured"}
}

func keep(t *testing.T, h Handbook, table model.Table, row model.RowText) model.Larder {
	t.Helper()
	l, err := h.KeepRow(table, row)
	if err != nil {
		t.Fatalf("KeepRow(%s, %q): %v", table, row["name"], err)
	}
	return l
}

func named(t *testing.T, l model.Larder, name string) model.Stuff {
	t.Helper()
	s, err := l.Find(name)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Ensure that an own row is there at once and after a restart, can be changed and
// taken away, and that nothing is left over.
func TestHandbook_OwnRowRoundTrip(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "not", "there", "yet")
	h := HandbookIn(folder)
	l := keep(t, h, model.SweetenerTable, heather())
	again, err := HandbookIn(folder).Larder()
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range []model.Larder{l, again} {
		s := named(t, l, "ling")
		if s.ID() != "heather_comb" || s.Origin() != model.OwnRow || !(s.Gram().Of(calc.Fructose) > 0.399) {
			t.Errorf("kept: %q, origin %v, %v of fructose", s.ID(), s.Origin(), s.Gram().Of(calc.Fructose))
		}
	}
	row, err := h.RowText(model.SweetenerTable, "heather_comb")
	if err != nil || row["source"] != "my own refractometer" {
		t.Fatalf("RowText = %v, %v", row, err)
	}
	row["water_pct"], row["glucose_pct"] = "21", "35"
	if s := named(t, keep(t, h, model.SweetenerTable, row), "ling"); !(s.Gram().Of(calc.Water) > 0.209) {
		t.Errorf("changed: %v of water, want 0.21", s.Gram().Of(calc.Water))
	}
	l, err = h.DropRow(model.SweetenerTable, "heather_comb")
	if err != nil {
		t.Fatal(err)
	}
	printed, err := HandbookIn("").Larder()
	if err != nil || len(l.Sweeteners) != len(printed.Sweeteners) {
		t.Errorf("%d sweeteners after it was taken away, want %d (%v)", len(l.Sweeteners), len(printed.Sweeteners), err)
	}
	if names := leftIn(t, folder); !slices.Equal(names, []string{".handbook.lock", "sweeteners.csv"}) {
		t.Errorf("left in the folder: %v", names)
	}
	if _, err := h.DropRow(model.SweetenerTable, "heather_comb"); !errors.Is(err, model.ErrInvalid) {
		t.Errorf("taken away twice: %v, want ErrInvalid", err)
	}
}

func leftIn(t *testing.T, folder string) []string {
	t.Helper()
	var names []string
	files, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		names = append(names, f.Name())
	}
	return names
}

// Ensure that every printed row can be made one's own as it stands, and comes back
// when that is taken away.
func TestHandbook_EveryPrintedRowCanBeOwn(t *testing.T) {
	h := HandbookIn(t.TempDir())
	printed, err := h.Larder()
	if err != nil {
		t.Fatal(err)
	}
	for _, table := range model.Tables() {
		for _, s := range printed.Rows(table) {
			row, err := h.RowText(table, s.ID())
			if err != nil {
				t.Fatal(err)
			}
			before := maps.Clone(row)
			for _, f := range model.RowFields(table) {
				if err := f.Put(row, f.Of(row)); err != nil || !maps.Equal(row, before) {
					t.Errorf("%s: %s put as it was: %v, %v", s.ID(), f.Name, row, err)
				}
			}
			if _, err := h.Try(table, row); err != nil {
				t.Errorf("Try(%s): %v", s.ID(), err)
			}
			if err := free(s, append(printed.Rows(model.SweetenerTable), printed.Rows(model.FruitTable)...)); err != nil {
				t.Errorf("%s: %v", s.ID(), err)
			}
		}
	}
	row, err := h.RowText(model.FruitTable, "apple")
	if err != nil {
		t.Fatal(err)
	}
	row = row.Revised()
	row["water_pct"] = "84"
	apple := named(t, keep(t, h, model.FruitTable, row), "apple")
	if apple.Origin() != model.OwnInPlace || !strings.HasPrefix(apple.Fruit.Source, "my own, after USDA") {
		t.Errorf("own apple: origin %v, source %q", apple.Origin(), apple.Fruit.Source)
	}
	l, err := h.DropRow(model.FruitTable, "apple")
	if err != nil {
		t.Fatal(err)
	}
	if apple := named(t, l, "apple"); apple.Origin() != model.Printed || !strings.HasPrefix(apple.Fruit.Source, "USDA") {
		t.Errorf("apple after it: origin %v, source %q", apple.Origin(), apple.Fruit.Source)
	}
}

// Ensure that the text of other rows, comments, the order of columns and the line
// ends a person likes are left alone.
func TestHandbook_KeepsWhatElseIsInTheFile(t *testing.T) {
	columns := slices.Clone(sweetenerColumns)
	slices.Reverse(columns)
	line := func(id string) string {
		row := heather()
		row["id"], row["name"], row["aliases"], row["notes"] = id, "row "+id, "", `with "quotes", a comma`
		s, err := csvLine(columns, row, true)
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	header := byteOrderMark + "# mine\r\n" + strings.Join(columns, ",") + "\r\n"
	a, b, c := line("a"), "# about b\r\n\r\n"+line("b"), strings.TrimSuffix(line("c"), "\r\n")
	folder := t.TempDir()
	path := filepath.Join(folder, "sweeteners.csv")
	if err := os.WriteFile(path, []byte(header+a+b+c), 0o640); err != nil {
		t.Fatal(err)
	}
	h := HandbookIn(folder)
	row, err := h.RowText(model.SweetenerTable, "b")
	if err != nil {
		t.Fatal(err)
	}
	row["notes"] = "changed"
	keep(t, h, model.SweetenerTable, row)
	keep(t, h, model.SweetenerTable, heather())
	if _, err := h.DropRow(model.SweetenerTable, "a"); err != nil {
		t.Fatal(err)
	}
	newB := strings.Replace(b, `"with ""quotes"", a comma"`, "changed", 1)
	own := heather()
	own["id"] = "heather_comb"
	last, err := csvLine(columns, own, true)
	if err != nil {
		t.Fatal(err)
	}
	got, err := os.ReadFile(path)
	if want := header + newB + c + "\r\n" + last; err != nil || string(got) != want {
		t.Errorf("the file holds\n%q\nwant\n%q", got, want)
	}
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("its rights are %v, %v; want as they were", info.Mode(), err)
	}
}

// Ensure that what cannot be is refused in the words of the form, and leaves no file.
func TestHandbook_RefusesRows(t *testing.T) {
	folder := t.TempDir()
	h := HandbookIn(folder)
	for name, c := range map[string]struct {
		column, text, want string
	}{
		"sum":            {"water_pct", "70", "water: the parts of the row add up to 150.00 %"},
		"no source":      {"source", "", "source: it is empty"},
		"no name":        {"name", " ", "name: it is empty"},
		"name taken":     {"name", "White  Sugar", `"White  Sugar" is the row white sugar already`},
		"id taken":       {"name", "Apple", `"Apple" is the row apple already`},
		"alias taken":    {"aliases", "mine; runny-honey", `"runny honey" is the row honey already`},
		"unknown kind":   {"unfermentable_kind", "sand", `rest is: "sand" is not one of`},
		"control letter": {"notes", "a\x1b[2J", "notes: it holds the unprintable character"},
		"line break":     {"notes", "a\nb", "notes: it holds the unprintable character"},
	} {
		t.Run(name, func(t *testing.T) {
			row := heather()
			row[c.column] = c.text
			_, err := h.KeepRow(model.SweetenerTable, row)
			if !errors.Is(err, model.ErrInvalid) || !strings.Contains(err.Error(), c.want) {
				t.Errorf("KeepRow: %v, want ErrInvalid that says %q", err, c.want)
			}
		})
	}
	if names := leftIn(t, folder); !slices.Equal(names, []string{".handbook.lock"}) {
		t.Errorf("left in the folder: %v", names)
	}
	if _, err := HandbookIn("").KeepRow(model.SweetenerTable, heather()); err == nil || !strings.Contains(err.Error(), "XDG_DATA_HOME") {
		t.Errorf("without a folder: %v, want what to set", err)
	}
}

// Ensure that a damaged own file is named with its row and what to do, and is never
// written over.
func TestHandbook_DamagedFileIsLeftAlone(t *testing.T) {
	folder := t.TempDir()
	h := HandbookIn(folder)
	keep(t, h, model.SweetenerTable, heather())
	path := filepath.Join(folder, "sweeteners.csv")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	bad := strings.Replace(string(text), "heather comb,ling,syrup,20", "heather comb,ling,syrup,much", 1)
	if err := os.WriteFile(path, []byte(bad), 0o600); err != nil {
		t.Fatal(err)
	}
	other := heather()
	other["name"], other["aliases"] = "another", ""
	_, keepErr := h.KeepRow(model.SweetenerTable, other)
	_, dropErr := h.DropRow(model.SweetenerTable, "heather_comb")
	_, readErr := h.Larder()
	for what, err := range map[string]error{"KeepRow": keepErr, "DropRow": dropErr, "Larder": readErr} {
		if err == nil || !strings.Contains(err.Error(), path) || !strings.Contains(err.Error(), `row "heather_comb" on line 2, column water_pct: "much" is not a number`) ||
			!strings.Contains(err.Error(), "mend it with a text editor") {
			t.Errorf("%s: %v, want file, row, column and what to do", what, err)
		}
	}
	if now, err := os.ReadFile(path); err != nil || string(now) != bad {
		t.Errorf("the damaged file now holds %q, %v", now, err)
	}
}

// Ensure that two sessions that write at once lose nothing of each other.
func TestHandbook_TwoWriters(t *testing.T) {
	folder := t.TempDir()
	done := make(chan error)
	for _, who := range []string{"ann", "bob"} {
		go func() {
			var err error
			for i := range 8 {
				row := heather()
				row["name"], row["aliases"] = who+" "+string(rune('a'+i)), ""
				if _, e := HandbookIn(folder).KeepRow(model.SweetenerTable, row); e != nil {
					err = e
				}
			}
			done <- err
		}()
	}
	if err := errors.Join(<-done, <-done); err != nil {
		t.Fatal(err)
	}
	l, err := HandbookIn(folder).Larder()
	if err != nil {
		t.Fatal(err)
	}
	own := 0
	for _, s := range l.Sweeteners {
		if s.Origin.Own() {
			own++
		}
	}
	if own != 16 {
		t.Errorf("%d own rows, want 16", own)
	}
}

// Ensure that the form offers the kinds that the table knows.
func TestUnfermentableKinds(t *testing.T) {
	for _, p := range partColumns {
		if p.share != "unfermentable_pct" {
			continue
		}
		want := slices.Sorted(maps.Keys(p.kinds))
		got := model.UnfermentableKinds()
		slices.Sort(got)
		if !slices.Equal(got, want) {
			t.Errorf("UnfermentableKinds = %v, want %v", got, want)
		}
	}
}
