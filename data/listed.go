package data

import (
	"errors"
	"math"
	"slices"
	"strings"

	"cellar.local/glassrow/calc"
)

// listedColumns are the columns that every table of named things has.
var listedColumns = []string{"id", "name", "aliases", "notes", "source", "checked"}

// parseListed reads a table of named things with the given further columns; row makes
// one thing of a row. No two rows may share a name.
func parseListed[T any](text string, further []string, row func(tableRow, calc.Listed) (T, error)) ([]T, error) {
	rows, err := readTable(text, slices.Concat(listedColumns, further))
	if err != nil {
		return nil, err
	}
	if len(rows) == 0 {
		return nil, errors.New("there are no rows")
	}
	all := make([]T, len(rows))
	var before []calc.Listed
	for i, r := range rows {
		l, err := r.listed(before)
		if err != nil {
			return nil, err
		}
		if all[i], err = row(r, l); err != nil {
			return nil, err
		}
		before = append(before, l)
	}
	return all, nil
}

// listed returns the columns that every table has. A name that one of the rows before
// goes by is an error.
func (r tableRow) listed(before []calc.Listed) (calc.Listed, error) {
	for _, column := range []string{"id", "name", "source", "checked"} {
		if r.text(column) == "" {
			return calc.Listed{}, r.wrong(column, "it is empty")
		}
	}
	for _, column := range []string{"id", "name", "aliases"} {
		for _, name := range r.list(column) {
			if other, taken := calc.Find(before, name); taken {
				return calc.Listed{}, r.wrong(column, "%q is row %q already", name, other.ID)
			}
		}
	}
	return calc.Listed{
		ID:      r.text("id"),
		Name:    r.text("name"),
		Aliases: r.list("aliases"),
		Notes:   r.text("notes"),
		Source:  r.text("source") + " (" + r.text("checked") + ")",
	}, nil
}

// figure is number for a cell that may not be empty.
func (r tableRow) figure(column string, low, high float64) (float64, error) {
	if r.text(column) == "" {
		return 0, r.wrong(column, "it is empty")
	}
	return r.number(column, low, high)
}

// count is figure for a whole number.
func (r tableRow) count(column string, low, high float64) (int, error) {
	x, err := r.figure(column, low, high)
	if err == nil && x != math.Trunc(x) {
		return 0, r.wrong(column, "%g is not a whole number", x)
	}
	return int(x), err
}

// between reads the two ends of a range.
func (r tableRow) between(lowColumn, highColumn string, least, most float64) (low, high float64, err error) {
	if low, err = r.figure(lowColumn, least, most); err != nil {
		return 0, 0, err
	}
	if high, err = r.figure(highColumn, least, most); err != nil {
		return 0, 0, err
	}
	if low > high {
		return 0, 0, r.wrong(lowColumn, "%g is above %s, %g", low, highColumn, high)
	}
	return low, high, nil
}

// word returns the text of a cell if it is one of those.
func (r tableRow) word(column string, words ...string) (string, error) {
	text := r.text(column)
	if !slices.Contains(words, text) {
		return "", r.wrong(column, "%q is not one of: %s", text, strings.Join(words, ", "))
	}
	return text, nil
}
