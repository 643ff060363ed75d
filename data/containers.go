package data

import (
	_ "embed"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode"

	"cellar.local/glassrow/calc"
)

//go:embed handbook/containers.csv
var containersCSV string

// Containers returns the handbook of bottles and other closed vessels in the order it
// lists them: those made for pressure first. Every call returns its own copy. The
// error names the row and the column that somebody who edited the table has to look
// at.
func Containers() ([]calc.Container, error) {
	all, err := parseContainers(containersCSV)
	if err != nil {
		return nil, fmt.Errorf("handbook of containers: %w", err)
	}
	return all, nil
}

// containerColumns are the columns of the table, in its order.
var containerColumns = []string{
	"id", "name", "warn_volumes", "stop_volumes", "stop_bar", "still", "note", "source", "checked",
}

// parseContainers reads a table like the embedded one. Lines beginning with # are
// skipped.
func parseContainers(text string) ([]calc.Container, error) {
	in := csv.NewReader(strings.NewReader(strings.TrimPrefix(text, "\ufeff"))) // some editors put a byte order mark
	in.Comment = '#'
	in.FieldsPerRecord = len(containerColumns)
	columns, err := in.Read()
	if err != nil {
		return nil, fmt.Errorf("the line that names the columns: %w", err)
	}
	for i, want := range containerColumns {
		if columns[i] != want {
			return nil, fmt.Errorf("column %d is %q, want %q", i+1, columns[i], want)
		}
	}
	var all []calc.Container
	lineOf := make(map[string]int) // of each id and name, in lower case
	for {
		cells, err := in.Read()
		if err == io.EOF && len(all) > 0 {
			return all, nil
		}
		if err == io.EOF {
			return nil, errors.New("there are no rows")
		}
		if err != nil {
			return nil, err // names the line itself
		}
		line, _ := in.FieldPos(0)
		c, err := parseContainer(cells)
		if err != nil {
			return nil, fmt.Errorf("row %q on line %d, %w", c.ID, line, err)
		}
		for _, name := range []string{strings.ToLower(c.ID), strings.ToLower(c.Name)} {
			if other, taken := lineOf[name]; taken && other != line {
				return nil, fmt.Errorf("row %q on line %d: %q is on line %d already", c.ID, line, name, other)
			}
			lineOf[name] = line
		}
		all = append(all, c)
	}
}

// parseContainer makes a container of the cells of a row. Beside an error the
// container has at least its id.
func parseContainer(cells []string) (calc.Container, error) {
	row := make(map[string]string, len(cells))
	for i, cell := range cells {
		row[containerColumns[i]] = strings.TrimSpace(cell)
	}
	c := calc.Container{ID: row["id"], Name: row["name"], Note: row["note"], Source: row["source"] + " (" + row["checked"] + ")"}
	for _, column := range containerColumns {
		if row[column] == "" && column != "note" {
			return c, fmt.Errorf("column %s: it is empty", column)
		}
		if strings.ContainsFunc(row[column], func(r rune) bool { return !unicode.IsPrint(r) || r == unicode.ReplacementChar }) {
			return c, fmt.Errorf("column %s: it holds an unprintable character", column)
		}
	}
	var err error
	number := func(column string) float64 {
		x, failed := strconv.ParseFloat(row[column], 64)
		if failed != nil && err == nil {
			err = fmt.Errorf("column %s: %q is not a number", column, row[column])
		}
		return x
	}
	c.WarnVolumes = calc.VolumesCO2(number("warn_volumes"))
	c.StopVolumes = calc.VolumesCO2(number("stop_volumes"))
	c.StopBar = calc.BarGauge(number("stop_bar"))
	if err != nil {
		return c, err
	}
	switch row["still"] {
	case "yes":
		c.Still = true
	case "no":
	default:
		return c, fmt.Errorf("column still: %q is neither yes nor no", row["still"])
	}
	return c, c.Validate()
}
