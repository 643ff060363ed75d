package words

import (
	"strings"
	"testing"
	"time"

	"cellar.local/glassrow/model"
)

// Ensure that a vessel on the scale is told in the words of the person's units, with
// what does not fit the journal.
func TestWords_Weighed(t *testing.T) {
	metric, us, ascii := Words{}, Words{US: true}, Words{Signs: ASCII}
	day := time.Date(2026, time.March, 1, 0, 0, 0, 0, time.UTC)
	there := model.ByScale{Drink: 18200, Volume: 17.9, PlusMinus: 0.12, Reckoned: 18.5}
	fits := there
	fits.Reckoned = 17.95
	more := there
	more.Reckoned = 17
	lost := model.ByScale{Lost: 1214, LostPlusMinus: 7, Since: day, Must: true, SG: 1.038, SGPlusMinus: 0.0018, Strength: 8.42, StrengthPlusMinus: 0.15}
	from := lost
	from.Must = false
	heavier := model.ByScale{Lost: -800, Since: day, Must: true}
	odd := lost
	odd.Unexplained, odd.SG = 1500, 0
	for name, c := range map[string]struct {
		say  Words
		by   model.ByScale
		want string
	}{
		"less":       {metric, there, "drink 18.20 kg = 17.9 ±0.1 L; the journal reckons 18.5 L: 600 mL less than written down"},
		"as written": {metric, fits, "drink 18.20 kg = 17.9 ±0.1 L"},
		"more":       {metric, more, "drink 18.20 kg = 17.9 ±0.1 L; the journal reckons 17.0 L: 900 mL more than written down"},
		"gallons":    {us, fits, "drink 40.12 lb = 4.73 ±0.03 gal"},
		"plain":      {ascii, fits, "drink 18.20 kg = 17.9 +-0.1 L"},
		"since must": {metric, lost, "lost 1214 g since the must: 1.038 ±0.002 by weight, 8.4 ±0.1 % vol"},
		"since then": {metric, from, "lost 1214 g since 1 Mar: 1.038 ±0.002 by weight, 8.4 ±0.1 % vol"},
		"heavier":    {metric, heavier, "800 g heavier since the must: something went in that is not written down"},
		"too light":  {metric, odd, "lost 1214 g since the must, 1500 g more than its sugar can give: something left that is not written down"},
	} {
		if got := strings.Join(c.say.Weighed(model.Weighing{}, c.by, time.UTC), "; "); got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
	if got := metric.WhyShort(there); !strings.Contains(got, "lees") || !strings.Contains(got, "a draw of 600 mL") {
		t.Errorf("less: %q", got)
	}
	if got := metric.WhyShort(more); !strings.Contains(got, "poured in") {
		t.Errorf("more: %q", got)
	}
	if got := metric.WhyShort(fits); got != "" {
		t.Errorf("as written: %q", got)
	}
	if got := metric.Levelled(model.Levelled{Seen: 17.5, Reckoned: 19}); got != "1.5 L less than the 19.0 L of the journal, which follows" {
		t.Errorf("level: %q", got)
	}
	if got := metric.Weighed(model.Weighing{Fruit: true}, model.ByScale{}, time.UTC); len(got) != 1 || !strings.Contains(got[0], "fruit") {
		t.Errorf("with fruit: %q", got)
	}
}
