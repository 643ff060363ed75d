package data

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"cellar.local/glassrow/model"
)

// carriedShed is a small export, line by line.
func carriedShed(t testing.TB) []string {
	t.Helper()
	c, s := shed(t, carryNow)
	readIn(t, s, 1, 5, 1.06)
	addSeries(t, s, 1, 3)
	return strings.SplitAfter(strings.TrimSuffix(exported(t, c, s.Path()), "\n"), "\n")
}

// Ensure that an import refuses what is wrong, says on which line, and leaves nothing.
func TestCellars_Import_Hostile(t *testing.T) {
	good := carriedShed(t)
	const vessel, batch, must, reading, series, end = 3, 5, 6, 8, 9, 10
	cases := map[string]struct {
		line int    // where the change is made
		old  string // replaced there; empty: the whole line
		by   string
		want string
	}{
		"another file":       {1, "", "hello\n", "line 1: this is no export"},
		"a newer version":    {1, `"version":1`, `"version":7`, "line 1: made by a newer glassrow; use that one: the export is of version 7"},
		"a count too high":   {1, `"entries":3`, `"entries":4`, "holds 2 vessels, 1 batch, 3 entries, 3 series readings, its first line says"},
		"an unknown key":     {vessel, `"kind"`, `"colour":"red","kind"`, `line 3: key "colour" is not known`},
		"an unknown record":  {vessel, `{"vessel"`, `{"cask"`, `line 3: key "cask" is not known`},
		"two records":        {vessel, "\n", "{}\n", "line 3: there is more than one object"},
		"nothing on a line":  {vessel, "", "{}\n", "line 3: there are 0 records"},
		"cut in a line":      {vessel, `"carboy"`, "", "line 3: not JSON as it should be"},
		"an infinite number": {vessel, `"capacity_l":23`, `"capacity_l":1e999`, "line 3: "},
		"not a number":       {vessel, `"capacity_l":23`, `"capacity_l":NaN`, "line 3: not JSON"},
		"a wild number":      {vessel, `"capacity_l":23`, `"capacity_l":1e300`, "line 3: capacity"},
		"a control":          {vessel, `"N1"`, `"N\u001b"`, "line 3: label holds the unprintable character U+001B"},
		"a later control":    {vessel, `"N1"`, `"N\u009b"`, "line 3: label holds the unprintable character U+009B"},
		"bytes that no text": {vessel, `N1`, "N\xff", "line 3: it is not UTF-8"},
		"a label twice":      {vessel + 1, `"N2"`, `"n1"`, "line 4: there are two vessels n1"},
		"a number twice":     {vessel + 1, `"id":2`, `"id":1`, "line 4: a vessel with the number 1, want one after 1"},
		"a huge number":      {vessel + 1, `"id":2`, `"id":18446744073709551615`, "line 4: a vessel with the number"},
		"a negative number":  {vessel + 1, `"id":2`, `"id":-2`, "line 4: vessel.id cannot be number -2"},
		"an unknown drink":   {batch, `"mead"`, `"tea"`, `line 5: drink "tea"`},
		"an unknown kind":    {must, `"must"`, `"distil"`, `line 6: an entry of kind "distil", which this program does not know`},
		"an unknown vessel":  {must, `"vessel":1`, `"vessel":9`, "line 6: it names vessel 9"},
		"another's entry":    {must, `"batch":1`, `"batch":2`, "line 6: an entry of batch 2"},
		"a misspelt body":    {reading, `"gravity"`, `"gravitas"`, "line 8: "},
		"a body's odd key":   {reading, `"scale"`, `"mood":"good","scale"`, `line 8: reading: "mood" would not be kept`},
		"a time that is not": {reading, `"at":"2026`, `"at":"226`, "line 8: "},
		"no body":            {reading, `"kind":"reading"`, `"kind":""`, `line 8: an entry of kind ""`},
		"series of nobody":   {series, `"series":1`, `"series":8`, "line 9: readings of batch 8"},
		"fewer gravities":    {series, `"sg":[1.1,`, `"sg":[`, "line 9: 3 times, 2 gravities"},
		"a gravity of zero":  {series, `"sg":[1.1,`, `"sg":[0,`, "line 9: reading 1: nothing read"},
		"a gravity too high": {series, `"sg":[1.1,`, `"sg":[1.9,`, "line 9: reading 1: gravity 1.9"},
		"time that stands":   {series, "1795199400000,1795200300000", "1795199400000,1795199400000", "line 9: reading 2 is not later"},
		"a line too few":     {vessel + 1, "", "", "line 9: 8 lines stand before the last"},
		"an end too early":   {batch, "", `{"end":{"lines":4}}` + "\n", "line 6: there is more after the last line"},
		"no last line":       {end, "", "", "line 9: the file ends here, before its last line, with 2 vessels, 1 batch, 3 entries, 3 series readings out of"},
		"a line too long":    {vessel, "", `{"vessel":{"place":"` + strings.Repeat("x", maxCarriedLine) + "\n", "line 3: it is longer"},
	}
	for name, x := range cases {
		t.Run(name, func(t *testing.T) {
			lines := append([]string(nil), good...)
			if x.old == "" {
				lines[x.line-1] = x.by
			} else if lines[x.line-1] = strings.Replace(lines[x.line-1], x.old, x.by, 1); lines[x.line-1] == good[x.line-1] {
				t.Fatalf("line %d does not hold %s: %s", x.line, x.old, good[x.line-1])
			}
			dir := t.TempDir()
			_, err := CellarsWith(dir).Import(filepath.Join(dir, "cellar.db"), strings.NewReader(strings.Join(lines, "")), false)
			if !errors.Is(err, model.ErrInvalid) || !strings.Contains(err.Error(), x.want) {
				t.Errorf("import = %v, want %q", err, x.want)
			}
			if left, _ := os.ReadDir(dir); len(left) > 0 {
				t.Errorf("left %v", left)
			}
		})
	}
}

// Ensure that every file cut short is refused, wherever it is cut.
func TestCellars_Import_Truncated(t *testing.T) {
	whole := strings.Join(carriedShed(t), "")
	for n := 0; n < len(whole)-1; n += 37 {
		path := filepath.Join(t.TempDir(), "cellar.db")
		if _, err := CellarsWith("").Import(path, strings.NewReader(whole[:n]), false); err == nil {
			t.Errorf("the first %d of %d bytes were imported", n, len(whole))
		}
	}
}

// Ensure that version 1 as it was first written can be imported for ever.
func TestCellars_Import_VersionOne(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("testdata", "carried1.jsonl"))
	if err != nil {
		t.Fatal(err)
	}
	c := CellarsWith(t.TempDir())
	path := filepath.Join(t.TempDir(), "cellar.db")
	if _, err := c.Import(path, bytes.NewReader(text), false); err != nil {
		t.Fatal(err)
	}
	if again := exported(t, c, path); again != string(text) {
		t.Errorf("it comes out differently:\n%s", firstDifference(string(text), again))
	}
}

// FuzzCellars_Import feeds lines of any kind: they are refused, or come out of the
// cellar as they are kept.
func FuzzCellars_Import(f *testing.F) {
	good := carriedShed(f)
	f.Add(strings.Join(good, ""))
	for i := range good {
		f.Add(strings.Join(good[:i], "") + strings.Join(good[i+1:], ""))
		f.Add(strings.Replace(strings.Join(good, ""), fmt.Sprint(i), "-1", 3))
	}
	f.Fuzz(func(t *testing.T, text string) {
		dir := t.TempDir()
		c := CellarsWith(dir)
		path := filepath.Join(dir, "cellar.db")
		if _, err := c.Import(path, strings.NewReader(text), false); err != nil {
			return
		}
		first := exported(t, c, path)
		c2, second := CellarsWith(t.TempDir()), filepath.Join(t.TempDir(), "cellar.db")
		if _, err := c2.Import(second, strings.NewReader(first), false); err != nil {
			t.Fatalf("what was imported once is refused: %v", err)
		}
		if again := exported(t, c2, second); again != first {
			t.Errorf("it came out differently:\n%s", firstDifference(first, again))
		}
	})
}
