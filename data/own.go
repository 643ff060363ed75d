package data

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"cellar.local/glassrow/model"
)

// Handbook is the tables of sweeteners and fruit with a person's own rows over the
// printed ones. The own rows lie in the folder of their data, in tables of the same
// columns as the embedded ones: sweeteners.csv and fruit.csv. An own row with an id
// of the handbook takes its place; any other comes on top.
//
// Nothing is kept in memory: every method reads the files as they are.
type Handbook struct{ folder string }

// HandbookIn returns the handbook with the own rows of a folder. No folder is the
// printed tables alone, to which nothing can be added.
func HandbookIn(folder string) Handbook { return Handbook{folder} }

// Larder returns both tables, own rows first. The error names the file, the row and
// the column to look at.
func (h Handbook) Larder() (model.Larder, error) {
	sweeteners, err := SweetenersWith(h.folder)
	if err != nil {
		return model.Larder{}, err
	}
	fruits, err := FruitsWith(h.folder)
	return model.Larder{Sweeteners: sweeteners, Fruits: fruits}, err
}

// SweetenersWith returns the handbook of sweeteners with the own rows of folder over
// it. No folder, or no table in it, is the handbook alone. The error names the file,
// the row and the column to look at.
func SweetenersWith(folder string) ([]model.Sweetener, error) {
	all, err := Sweeteners()
	if err != nil {
		return nil, err
	}
	own, err := ownRows(folder, sweetenerTable, parseSweeteners)
	if err != nil {
		return nil, err
	}
	return overlaid(all, own, func(s *model.Sweetener) (string, *model.Origin) { return s.ID, &s.Origin }), nil
}

// FruitsWith returns the handbook of fruit with the own rows of folder over it, as
// [SweetenersWith] does.
func FruitsWith(folder string) ([]model.Fruit, error) {
	all, err := Fruits()
	if err != nil {
		return nil, err
	}
	own, err := ownRows(folder, fruitTable, parseFruits)
	if err != nil {
		return nil, err
	}
	return overlaid(all, own, func(f *model.Fruit) (string, *model.Origin) { return f.ID, &f.Origin }), nil
}

// ownTable is what is different about the two tables.
type ownTable struct {
	file    string
	columns []string
	printed string             // the embedded table
	check   func(string) error // what is wrong with a table, if anything
}

var (
	sweetenerTable = ownTable{"sweeteners.csv", sweetenerColumns, sweetenersCSV, parses(parseSweeteners)}
	fruitTable     = ownTable{"fruit.csv", fruitColumns, fruitCSV, parses(parseFruits)}
)

// parses turns a parser into a check.
func parses[T any](parse func(string) ([]T, error)) func(string) error {
	return func(text string) error {
		_, err := parse(text)
		return err
	}
}

func tableOf(t model.Table) (ownTable, error) {
	switch t {
	case model.SweetenerTable:
		return sweetenerTable, nil
	case model.FruitTable:
		return fruitTable, nil
	}
	return ownTable{}, fmt.Errorf("there is no table %q; want sweeteners or fruit: %w", t, model.ErrInvalid)
}

// ownRows reads the own table in folder, if there is one.
func ownRows[T any](folder string, t ownTable, parse func(string) ([]T, error)) ([]T, error) {
	text, path, err := t.read(folder)
	if err != nil || strings.TrimSpace(text) == "" {
		return nil, err
	}
	if t.bare(text) {
		return nil, nil
	}
	rows, err := parse(text)
	if err != nil {
		return nil, damaged(path, err)
	}
	return rows, nil
}

// bare reports whether there are columns and nothing under them, as when the last own
// row was taken away.
func (t ownTable) bare(text string) bool {
	rows, err := readTable(text, t.columns)
	return err == nil && len(rows) == 0
}

// damaged says what to do about an own table that cannot be read.
func damaged(path string, err error) error {
	return fmt.Errorf("your own rows in %s: %w; mend it with a text editor, or move the file away", path, err)
}

// read returns the text of the own table in folder and where it is; no table is no
// text.
func (t ownTable) read(folder string) (text, path string, err error) {
	if folder == "" {
		return "", "", nil
	}
	path = filepath.Join(folder, t.file)
	b, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return "", path, nil
	}
	if err != nil {
		return "", path, fmt.Errorf("your own rows: %w", err)
	}
	return string(b), path, nil
}

// overlaid puts the own rows over all; of returns the id of a row and where it keeps
// whose it is.
func overlaid[T any](all, own []T, of func(*T) (string, *model.Origin)) []T {
	printed := make(map[string]bool, len(all))
	for i := range all {
		id, _ := of(&all[i])
		printed[id] = true
	}
	replaced := make(map[string]bool, len(own))
	for i := range own {
		id, origin := of(&own[i])
		replaced[id] = true
		*origin = model.OwnRow
		if printed[id] {
			*origin = model.OwnInPlace
		}
	}
	for i := range all {
		if id, _ := of(&all[i]); !replaced[id] {
			own = append(own, all[i])
		}
	}
	return own
}
