package model

import (
	"fmt"
	"strings"
)

// Contents is how much there is in a cellar, or in a file that carries one.
type Contents struct {
	Vessels  int
	Batches  int
	Entries  int
	Plans    int
	Recipes  int
	Rows     int // own rows of the handbook, which lie beside the cellar
	Readings int // of instruments that report by themselves; other readings are entries
}

// Empty reports whether there is nothing that a person could miss.
func (c Contents) Empty() bool { return c == Contents{} }

// String says it in words: 12 vessels, 11 batches, 203 entries.
func (c Contents) String() string {
	counts := []struct {
		n         int
		one, many string
	}{
		{c.Vessels, "vessel", "vessels"},
		{c.Batches, "batch", "batches"},
		{c.Entries, "entry", "entries"},
		{c.Plans, "plan", "plans"},
		{c.Recipes, "recipe", "recipes"},
		{c.Rows, "own row", "own rows"},
		{c.Readings, "series reading", "series readings"},
	}
	var words []string
	for _, w := range counts {
		switch w.n {
		case 0:
		case 1:
			words = append(words, "1 "+w.one)
		default:
			words = append(words, fmt.Sprintf("%d %s", w.n, w.many))
		}
	}
	if len(words) == 0 {
		return "nothing"
	}
	return strings.Join(words, ", ")
}

// Imported is what became of a file that was read into a cellar.
type Imported struct {
	Added   Contents
	Left    Contents // there already and left as it was
	Remarks []string // what a person should know of: another label, another lot, rows left
}

// Fault is something in a cellar's file that is not as it should be.
type Fault struct {
	Where string // bucket and record, in words
	What  string
	Do    string // what to do about it
	Stale bool   // only a summary, which can be rebuilt
}
