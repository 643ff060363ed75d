package ui

import (
	"strings"
	"testing"

	"github.com/charmbracelet/bubbles/key"

	"cellar.local/glassrow/ui/plot"
)

// Ensure that within a focus no key means two things, that every binding has a
// word, and that help lists what the footer does.
func TestKeyMaps_AreSound(t *testing.T) {
	for name, keys := range everyKeyMap() {
		taken := make(map[string]string)
		for _, group := range keys.FullHelp() {
			for _, b := range group {
				if b.Help().Key == "" || b.Help().Desc == "" {
					t.Errorf("%s: %v has no words", name, b.Keys())
				}
				for _, k := range b.Keys() {
					if other, twice := taken[k]; twice {
						t.Errorf("%s: %q means %q and %q", name, k, other, b.Help().Desc)
					}
					taken[k] = b.Help().Desc
				}
			}
		}
		for _, b := range keys.ShortHelp() {
			if !listed(keys, b) {
				t.Errorf("%s: the footer names %q, the help does not", name, b.Help().Desc)
			}
		}
	}
}

func everyKeyMap() map[string]keyMap {
	return map[string]keyMap{
		"shelf": newShelfKeys(), "line": newLineKeys(), "sweeten": newSweetenKeys(), "target": newTargetKeys(),
		"bench": newBenchKeys(), "bench told": newBenchToldKeys(), "fizz": newFizzKeys(), "keep": newKeepKeys(), "plans": newPlansKeys(), "due": newDueKeys(), "must": newMustKeys(), "pick": newPickKeys(), "recipes": newRecipesKeys(), "form": newFormKeys(), "journal": newJournalKeys(), "bottles": newBottlesKeys(), "strike": newStrikeKeys(), "confirm": newConfirmKeys(), "help": newHelpKeys(), "menu": newMenuKeys(),
		"handbook": newHandbookKeys(), "handbook row": newHandbookRowKeys(), "search": newSearchKeys(),
	}
}

func listed(keys keyMap, want key.Binding) bool {
	for _, group := range keys.FullHelp() {
		for _, b := range group {
			if b.Help() == want.Help() {
				return true
			}
		}
	}
	return false
}

// Ensure that no line of any help is cut on the terminals it is for.
func TestHelpLines_AreWhole(t *testing.T) {
	g, st := GlyphsFor(plot.Braille), NewStyles(true)
	for name, keys := range everyKeyMap() {
		for _, w := range []int{45, 80, 180} {
			for _, l := range helpLines(keys, w, 100, g, st) {
				if width(l) > w || strings.Contains(l, "~") {
					t.Errorf("%s at %d columns: %q", name, w, l)
				}
			}
		}
	}
}
