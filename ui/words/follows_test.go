package words

import (
	"slices"
	"testing"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// Ensure that only the figures that read differently are told, and that every strand
// has a word of its own for having and for having not.
func TestWords_Follows(t *testing.T) {
	state := func(sg calc.SG, abv calc.PercentVol) model.State {
		return model.State{Strength: abv, Curve: []model.Point{{SG: sg}}, Figures: calc.Figures{Sugar: 20, Volume: 19}}
	}
	got := Words{}.Follows(state(1.0101, 12.41), state(1.0201, 11.93))
	if want := []string{"strength 12.4 → 11.9 % vol", "gravity 1.010 → 1.020"}; !slices.Equal(got, want) {
		t.Errorf("Follows = %q, want %q", got, want)
	}
	if got := (Words{Signs: ASCII}).Follows(state(1.0101, 12.41), state(1.0101, 11.93)); !slices.Equal(got, []string{"strength 12.4 -> 11.9 % vol"}) {
		t.Errorf("Follows on ASCII = %q", got)
	}
	if got := (Words{}).Follows(state(1.0101, 12.41), state(1.0102, 12.43)); got != nil {
		t.Errorf("Follows of what reads the same = %q, want nothing", got)
	}
	said := make(map[string]model.Strand)
	for _, s := range model.Strands() {
		for _, text := range []string{Strand(s), NothingOf(s)} {
			if other, twice := said[text]; twice || text == "" {
				t.Errorf("%q is said of %s and %s", text, s, other)
			}
			said[text] = s
		}
	}
}
