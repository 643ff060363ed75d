package ui

import (
	"testing"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/plot"
)

// Ensure that every standing has a mark of its own in every set of runes, and one that
// the set may show: colour is not needed to tell them apart.
func TestGlyphs_Standing(t *testing.T) {
	for _, set := range []plot.Runes{plot.ASCII, plot.Console, plot.Blocks, plot.Braille} {
		g := GlyphsFor(set)
		seen := map[string]model.Standing{g.Trouble: "trouble", g.Late: "late"}
		for _, s := range model.Standings() {
			mark := g.Standing(s)
			if width(mark) != 1 {
				t.Errorf("%v: the mark of %s is %q, want one cell", set, s, mark)
			}
			if other, taken := seen[mark]; taken {
				t.Errorf("%v: %s and %s have the mark %q", set, s, other, mark)
			}
			seen[mark] = s
			if set == plot.ASCII && mark[0] > '~' {
				t.Errorf("the mark of %s is %q in ASCII", s, mark)
			}
		}
	}
}

// Ensure that every standing can be told by its word in every column of the shelf.
func TestStandingWord(t *testing.T) {
	for w := minWidth; w <= shelfMost; w++ {
		seen := make(map[string]bool)
		for _, s := range model.Standings() {
			cells := columnsFor(w).word
			word := fit(standingWord(s, cells), cells)
			if seen[word] || word[len(word)-1] == '~' {
				t.Errorf("in %d cells %s is %q", cells, s, word)
			}
			seen[word] = true
		}
	}
}
