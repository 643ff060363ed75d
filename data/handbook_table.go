package data

import (
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// tableRow is a line of a handbook table, by column.
type tableRow struct {
	line  int
	cells map[string]string
}

// maxCell is the length of the longest text a handbook can hold, in letters.
const maxCell = 500

// readTable reads a comma-separated table whose first line names its columns,
// which must be those wanted, in any order. Lines beginning with # are skipped.
// Cells come trimmed, and hold nothing that a terminal could stumble over.
func readTable(text string, want []string) ([]tableRow, error) {
	in := tableReader(text)
	columns, err := in.Read()
	if err != nil {
		return nil, fmt.Errorf("the line that names the columns: %w", err)
	}
	if err := sameColumns(columns, want); err != nil {
		return nil, err
	}
	var rows []tableRow
	for {
		cells, err := in.Read()
		if err == io.EOF {
			return rows, nil
		}
		if err != nil {
			return nil, err // names the line itself
		}
		line, _ := in.FieldPos(0)
		row := tableRow{line: line, cells: make(map[string]string, len(cells))}
		for i, cell := range cells {
			row.cells[columns[i]] = strings.TrimSpace(cell)
		}
		for _, column := range columns {
			if err := row.printable(column); err != nil {
				return nil, err
			}
		}
		rows = append(rows, row)
	}
}

// byteOrderMark is what some editors put before a text.
const byteOrderMark = "\ufeff"

func tableReader(text string) *csv.Reader {
	in := csv.NewReader(strings.NewReader(strings.TrimPrefix(text, byteOrderMark)))
	in.Comment = '#'
	return in
}

func sameColumns(have, want []string) error {
	for i, column := range have {
		if !slices.Contains(want, column) {
			return fmt.Errorf("column %q is not known", column)
		}
		if slices.Contains(have[:i], column) {
			return fmt.Errorf("column %q is there twice", column)
		}
	}
	for _, column := range want {
		if !slices.Contains(have, column) {
			return fmt.Errorf("column %q is missing", column)
		}
	}
	return nil
}

// wrong returns an error that names the row and the column.
func (r tableRow) wrong(column, format string, args ...any) error {
	return rowError{r.cells["id"], r.line, column, fmt.Sprintf(format, args...)}
}

// rowError says what is wrong with a cell of a table.
type rowError struct {
	id     string
	line   int
	column string
	what   string
}

// Error implements error.
func (e rowError) Error() string {
	return fmt.Sprintf("row %q on line %d, column %s: %s", e.id, e.line, e.column, e.what)
}

func (r tableRow) text(column string) string { return r.cells[column] }

// list returns the words of a cell with semicolons between them.
func (r tableRow) list(column string) []string {
	var words []string
	for word := range strings.SplitSeq(r.text(column), ";") {
		if word = strings.TrimSpace(word); word != "" {
			words = append(words, word)
		}
	}
	return words
}

// number returns the figure in a cell, which must lie between low and high; an
// empty cell is 0.
func (r tableRow) number(column string, low, high float64) (float64, error) {
	text := r.text(column)
	if text == "" {
		return 0, nil
	}
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return 0, r.wrong(column, "%q is not a number", text)
	}
	if !(x >= low && x <= high) { // written this way round so NaN fails too
		return 0, r.wrong(column, "%s is outside %g to %g", text, low, high)
	}
	return x, nil
}

func (r tableRow) printable(column string) error {
	text := r.text(column)
	if n := len([]rune(text)); n > maxCell {
		return r.wrong(column, "it is %d letters long, at most %d", n, maxCell)
	}
	for _, c := range text {
		if !unicode.IsPrint(c) || c == unicode.ReplacementChar {
			return r.wrong(column, "it holds the unprintable character %U", c)
		}
	}
	return nil
}
