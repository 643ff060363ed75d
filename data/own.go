package data

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"cellar.local/glassrow/model"
)

// A person's own rows of the handbook lie in the folder of their data, in tables of
// the same columns as the embedded ones: sweeteners.csv and fruit.csv. An own row
// with an id of the handbook takes its place; any other comes on top.
const (
	ownSweeteners = "sweeteners.csv"
	ownFruit      = "fruit.csv"
)

// SweetenersWith returns the handbook of sweeteners with the own rows of folder over
// it. No folder, or no table in it, is the handbook alone. The error names the file,
// the row and the column to look at.
func SweetenersWith(folder string) ([]model.Sweetener, error) {
	all, err := Sweeteners()
	if err != nil {
		return nil, err
	}
	return overlaid(all, folder, ownSweeteners, parseSweeteners, func(s model.Sweetener) string { return s.ID })
}

// FruitsWith returns the handbook of fruit with the own rows of folder over it, as
// [SweetenersWith] does.
func FruitsWith(folder string) ([]model.Fruit, error) {
	all, err := Fruits()
	if err != nil {
		return nil, err
	}
	return overlaid(all, folder, ownFruit, parseFruits, func(f model.Fruit) string { return f.ID })
}

// overlaid puts the rows of the file, if there is one, over all.
func overlaid[T any](all []T, folder, name string, parse func(string) ([]T, error), id func(T) string) ([]T, error) {
	if folder == "" {
		return all, nil
	}
	path := filepath.Join(folder, name)
	text, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return all, nil
	}
	if err != nil {
		return nil, fmt.Errorf("your own rows: %w", err)
	}
	own, err := parse(string(text))
	if err != nil {
		return nil, fmt.Errorf("your own rows in %s: %w", path, err)
	}
	replaced := make(map[string]bool, len(own))
	for _, o := range own {
		replaced[id(o)] = true
	}
	for _, row := range all {
		if !replaced[id(row)] {
			own = append(own, row)
		}
	}
	return own, nil
}
