package model

import (
	"errors"
	"strings"
	"testing"
)

// Ensure that a reading is explained before it is taken, and only what is odd is asked
// about.
func TestUnderstand(t *testing.T) {
	j := brew(Wine, 10, 1.090, WineYeast).read(3, 1.060, 6, 1.034)
	fed := brew(Wine, 10, 1.090, WineYeast).read(3, 1.060).on(6, added(sugar, 500, "feed"))
	raw := unpitched(Mead, Must{Volume: 10, Ingredients: []Portion{{honey, 3000}}}) // 1.095
	for name, c := range map[string]struct {
		j        *journal
		r        Reading
		day      float64
		surprise string // "" for none
	}{
		"as expected":                        {j, gravity(1.022), 9, ""},
		"a point up":                         {j, gravity(1.035), 9, ""},
		"five points up":                     {j, gravity(1.039), 9, "5 points up since the last one"},
		"sixty points down in an hour":       {j, gravity(0.994), 6.04, "very fast"},
		"lower than any sugar explains":      {j, gravity(0.972), 60, "does not explain"},
		"a hot sample":                       {j, Reading{Gravity: 1.02, Calibration: 20, Temperature: 38, HasTemperature: true}, 9, "warm for a sample"},
		"only a temperature":                 {j, Reading{Temperature: 20, HasTemperature: true}, 9, ""},
		"only a high temperature":            {j, Reading{Temperature: 40, HasTemperature: true}, 9, "warm"},
		"between two that are there":         {j, gravity(1.046), 4.5, ""},
		"what the addition comes to":         {fed, gravity(1.075), 6.1, ""},
		"more than the addition comes to":    {fed, gravity(1.085), 6.1, "above what was added comes to"},
		"a must nearly as computed":          {raw, gravity(1.093), 0.5, ""},
		"a must far below what was computed": {raw, gravity(1.080), 0.5, "below the must as it was"},
		"a must far above what was computed": {raw, gravity(1.110), 0.5, "above the must as it was"},
		"a fall without yeast":               {unpitched(Cider, Must{Volume: 10, Gravity: 1.05}), gravity(1.03), 4, "no yeast is in the journal"},
	} {
		t.Run(name, func(t *testing.T) {
			entries := len(c.j.Entries)
			u, err := Understand(c.j.Batch, c.r, onDay(c.day))
			if err != nil {
				t.Fatal(err)
			}
			if (u.Surprise == "") != (c.surprise == "") || !strings.Contains(u.Surprise, c.surprise) {
				t.Errorf("surprise %q, want %q", u.Surprise, c.surprise)
			}
			if len(c.j.Entries) != entries {
				t.Errorf("the journal has grown to %d entries", len(c.j.Entries))
			}
		})
	}

	u, err := Understand(j.Batch, gravity(1.022), onDay(9))
	if err != nil {
		t.Fatal(err)
	}
	wantNear(t, "gravity", u.SG.Points(), 22, 1e-6)
	wantNear(t, "points since", u.Change, -12, 1e-6)
	wantNear(t, "days since", u.Days, 3, 1e-6)
	wantNear(t, "strength", float64(u.Strength), 68*0.1325, 0.25) // duty notice, drop 57 to 79
	if !u.Since.Equal(onDay(6)) || u.PlusMinus < 0.1 || u.PlusMinus > 0.4 {
		t.Errorf("since %v, ± %v", u.Since, u.PlusMinus)
	}
	if u, err := Understand(j.Batch, gravity(1.046), onDay(4.5)); err != nil || !u.Since.Equal(onDay(3)) {
		t.Errorf("a reading in between is compared with %v, %v", u.Since, err)
	}
}

// Ensure that a reading that cannot be is refused with the reason.
func TestUnderstand_Refuses(t *testing.T) {
	j := brew(Wine, 10, 1.090, WineYeast).read(3, 1.060)
	for name, c := range map[string]struct {
		b    Batch
		r    Reading
		day  float64
		says string
	}{
		"before the must":     {j.Batch, gravity(1.09), -1, "the must was made later than that, on 1 Mar 2026"},
		"of nothing":          {j.Batch, Reading{}, 4, "nothing read"},
		"of what is no drink": {j.Batch, gravity(1.5), 4, "cannot be"},
		"without a must":      {Batch{Drink: Mead}, gravity(1.05), 4, "no must"},
	} {
		_, err := Understand(c.b, c.r, onDay(c.day))
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: error %v, want one that says %q", name, err, c.says)
		}
		if c.day < 0 && !errors.Is(err, ErrInvalid) {
			t.Errorf("%s: error %v does not wrap ErrInvalid", name, err)
		}
	}
}
