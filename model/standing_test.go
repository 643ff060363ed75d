package model

import (
	"math"
	"strings"
	"testing"

	"cellar.local/glassrow/calc"
)

// Ensure that a flat batch is told apart by what is left in it: dextrins only is done,
// and sugar under a yeast that could stand more is stuck.
func TestStanding_Flat(t *testing.T) {
	t.Run("a beer at its limit has nothing wrong", func(t *testing.T) {
		// From 1.050 to 1.012 is 76 % apparent attenuation, the middle of everyday ales
		// (70 to 80, diagnosis notes, section 3).
		j := brew(Beer, 20, 1.050, AleYeast).read(2, 1.030, 4, 1.016, 7, 1.012, 10, 1.012, 14, 1.012)
		s := j.replay(t)
		wantStanding(t, s, Flat, "no change in 7 days", "nothing left to eat, more yeast will not help", "what holds it at 1.012 is", "that yeast cannot eat")
		if s.HasFood() || Summarise(j.Batch).Trouble {
			t.Errorf("has food: %v, trouble: %v", s.HasFood(), Summarise(j.Batch).Trouble)
		}
		if body := s.Liquid.Of(calc.Dextrin); body < 500 {
			t.Errorf("%v g of dextrin in 20 L, want most of the body", body)
		}
	})
	t.Run("so has an ale that left its maltotriose", func(t *testing.T) {
		// 1.050 to 1.014: a strain that does not take maltotriose up ends 3 to 6 points
		// high (same section).
		j := brew(Beer, 20, 1.050, AleYeast).read(2, 1.030, 5, 1.014, 9, 1.014, 14, 1.014)
		wantStanding(t, j.replay(t), Flat, "more yeast will hardly help")
		if Summarise(j.Batch).Trouble {
			t.Error("it is in trouble")
		}
	})
	t.Run("a mead with 40 g/L left under its tolerance is stuck", func(t *testing.T) {
		j := brew(Mead, 10, 1.100, WineYeast).read(4, 1.070, 9, 1.030, 14, 1.016, 18, 1.007, 22, 1.007, 28, 1.0065)
		s := j.replay(t)
		wantNear(t, "fermentable sugar", float64(s.Figures.Fermentable), 40, 2)
		wantStanding(t, s, Flat, "of sugar left though this yeast stands 14.5 % vol", "read again first; then look at warmth and nutrients")
		if !s.HasFood() || !Summarise(j.Batch).Trouble {
			t.Errorf("has food: %v, trouble: %v", s.HasFood(), Summarise(j.Batch).Trouble)
		}
	})
	t.Run("the same under a yeast of 12 % vol is done", func(t *testing.T) {
		j := brew(Mead, 10, 1.100, WineYeast).on(0, Pitch{Yeast: AleYeast})
		j.Entries[1].Body = Pitch{Yeast: WineYeast, Tolerance: 12.5}
		j.read(4, 1.070, 9, 1.030, 14, 1.016, 18, 1.007, 22, 1.007, 28, 1.0065)
		wantStanding(t, j.replay(t), Flat, "near what this yeast stands (12.5)")
		if Summarise(j.Batch).Trouble {
			t.Error("it is in trouble")
		}
	})
	t.Run("a mead below 1.000 has only honey's slow sugars", func(t *testing.T) {
		// Diagnosis notes, section 3: allow 2 to 5 points for disaccharides.
		j := brew(Mead, 10, 1.085, WineYeast).read(4, 1.070, 9, 1.030, 14, 1.006, 18, 0.997, 22, 0.997, 28, 0.997)
		wantStanding(t, j.replay(t), Flat, "16 ± 5 g/L of sugar left, of kinds that many yeasts leave")
		if Summarise(j.Batch).Trouble {
			t.Error("it is in trouble")
		}
	})
	t.Run("three days are enough to be flat but not to be stuck", func(t *testing.T) {
		j := brew(Mead, 10, 1.100, WineYeast).read(4, 1.070, 9, 1.030, 12, 1.030)
		wantStanding(t, j.replay(t), Flat, "read again first")
		if Summarise(j.Batch).Trouble {
			t.Error("it is in trouble after three days")
		}
		if !Summarise(j.read(13.1, 1.030).Batch).Trouble {
			t.Error("it is not in trouble after four days")
		}
	})
	t.Run("however often it is read", func(t *testing.T) {
		j := brew(Mead, 10, 1.100, WineYeast).read(4, 1.070, 9, 1.030)
		for day := 10.0; day < 16; day += 0.25 {
			j.read(day, 1.030)
		}
		wantStanding(t, j.replay(t), Flat, "no change in 7 days")
		if !Summarise(j.Batch).Trouble {
			t.Error("it is not in trouble")
		}
	})
	t.Run("a slow steady fall is not flat", func(t *testing.T) {
		// 1.2 points in three days is less than a reading can tell, 2.4 in six is not.
		j := brew(Mead, 10, 1.100, WineYeast).read(4, 1.060, 10, 1.030, 13, 1.0288, 16, 1.0276)
		wantStanding(t, j.replay(t), Slowing, "0.4 points a day")
	})
	t.Run("a gap does not hide that it stands", func(t *testing.T) {
		j := brew(Mead, 10, 1.100, WineYeast).read(4, 1.060, 30, 0.998, 60, 0.998, 61, 0.998)
		wantStanding(t, j.replay(t), Flat, "no change in 31 days")
	})
}

// Ensure that additions neither count as fermentation nor hide it.
func TestStanding_Additions(t *testing.T) {
	working := func() *journal { return brew(Mead, 10, 1.090, HighYeast).read(3, 1.070, 6, 1.046, 9, 1.022) }
	dry := func() *journal {
		return brew(Mead, 10, 1.100, WineYeast).read(5, 1.050, 12, 1.004, 20, 0.995, 30, 0.995)
	}
	t.Run("a batch that works still works when fed", func(t *testing.T) {
		before := working().replay(t)
		for name, what := range map[string]Addition{"honey": added(honey, 1000, "feed"), "water": added(water, 2000, ""), "nutrients": added(mixture("nutrient", map[calc.Component]calc.Gram{calc.OtherSolids: 1}), 5, "feed")} {
			s := working().on(9.1, what).replay(t)
			if s.Standing != Working || strings.Join(s.Evidence, "") != strings.Join(before.Evidence, "") {
				t.Errorf("%s makes it %s %q, before %s %q", name, s.Standing, s.Evidence, before.Standing, before.Evidence)
			}
		}
	})
	t.Run("and the pace over the addition is that of the yeast", func(t *testing.T) {
		j := working().on(9.1, added(honey, 1000, "feed"))
		fed := j.replay(t).SG().Points()
		s := j.read(12, 1+(fed-21)/1000).replay(t)
		wantStanding(t, s, Working, "7.0 points a day") // 21 points in 3 days
	})
	t.Run("a flat batch stays flat when sweetened", func(t *testing.T) {
		j := dry().on(31, added(honey, 400, "sweeten"))
		s := j.replay(t)
		wantStanding(t, s, Flat, "what it was sweetened with; read it again in a few days")
		j.read(36, float64(s.SG()), 45, float64(s.SG()))
		wantStanding(t, j.replay(t), Flat, "what it was sweetened with: still so far, yet living yeast can wake")
		if Summarise(j.Batch).Trouble {
			t.Error("a sweetened batch that stands is in trouble")
		}
	})
	t.Run("and is told to ferment when it falls", func(t *testing.T) {
		j := dry().on(31, added(honey, 400, "sweeten"))
		sweet := j.replay(t).SG().Points()
		s := j.read(35, 1+(sweet-4)/1000).replay(t)
		wantStanding(t, s, Slowing, "0.8 points a day", "it falls since it was sweetened")
	})
	t.Run("a flat batch that is fed waits, then falls or is stuck", func(t *testing.T) {
		fed := func() *journal { return dry().on(31, added(honey, 600, "feed")) }
		sg := fed().replay(t).SG().Points()
		wantStanding(t, fed().replay(t), Lag, "it was flat before it was fed; no drop yet")
		wantStanding(t, fed().read(32, 1+sg/1000).replay(t), Lag, "no drop yet")
		wantStanding(t, fed().read(32, 1+(sg-2)/1000).replay(t), Lag, "2 points down since")
		if s := fed().read(33, 1+(sg-9)/1000).replay(t); s.Standing == Lag || s.Standing == Flat {
			t.Errorf("9 points down it is %s %q", s.Standing, s.Evidence)
		}
		stuck := fed().read(33, 1+sg/1000, 36, 1+sg/1000)
		wantStanding(t, stuck.replay(t), Flat)
		for _, e := range []*journal{fed(), fed().read(32, 1+sg/1000)} {
			if Summarise(e.Batch).Trouble {
				t.Error("it is in trouble as soon as it is fed")
			}
		}
	})
	t.Run("sugar fed with the word sweeten while it works is still food", func(t *testing.T) {
		j := brew(Mead, 10, 1.090, HighYeast).read(4, 1.050, 7, 1.030).on(7, added(honey, 1000, "sweeten"))
		sg := j.replay(t).SG()
		j.read(9, float64(sg)-0.004, 14, float64(sg)-0.004, 20, float64(sg)-0.004)
		wantStanding(t, j.replay(t), Flat, "though this yeast stands")
		if !Summarise(j.Batch).Trouble {
			t.Error("it is not in trouble")
		}
	})
	t.Run("dilution is not a fall", func(t *testing.T) {
		j := brew(Mead, 10, 1.100, WineYeast).read(3, 1.090, 6, 1.079).on(7, added(water, 3000, ""))
		s := j.replay(t)
		if best := bestPace(s.looks()); best > 4 {
			t.Errorf("best pace %v points a day, want what was read: under 4", best)
		}
	})
}

// Ensure that the lag is told by what was read after the pitch, and a must that never
// starts becomes trouble after three days (diagnosis notes, section 2).
func TestStanding_Lag(t *testing.T) {
	for name, c := range map[string]struct {
		j       *journal
		says    string
		trouble bool
	}{
		"nothing read":                   {brew(Mead, 10, 1.1, WineYeast), "no gravity read since the yeast went in", false},
		"read the next day":              {brew(Mead, 10, 1.1, WineYeast).read(1, 1.099), "1 point below the must so far", false},
		"read above the must":            {brew(Mead, 10, 1.1, WineYeast).read(1, 1.102), "no drop yet", false},
		"not started for four days":      {brew(Mead, 10, 1.1, WineYeast).read(1, 1.1, 4, 1.099), "4 days after the pitch it should be falling", true},
		"all read before the pitch":      {unpitched(Mead, Must{Volume: 10, Gravity: 1.1}).read(0.2, 1.094, 0.4, 1.090).on(0.5, Pitch{Yeast: WineYeast}), "no gravity read since", false},
		"corrected upwards, then read":   {unpitched(Mead, Must{Volume: 10, Gravity: 1.06}).read(0.4, 1.068).on(0.5, Pitch{Yeast: WineYeast}).read(1, 1.0675), "1 point below the must", false},
		"diluted before the pitch":       {unpitched(Mead, Must{Volume: 10, Gravity: 1.11}).on(0.2, added(water, 2000, "")).on(0.3, Pitch{Yeast: WineYeast}).read(1.3, 1.092), "no drop yet", false},
		"fed nutrients, nothing read":    {brew(Mead, 10, 1.1, WineYeast).on(1, added(honey, 50, "feed")), "no gravity read since", false},
		"yeast pitched into dry cider":   {brew(Cider, 10, 1.002, WineYeast).read(5, 1.002), "no drop yet", false},
		"read twice in the same instant": {brew(Mead, 10, 1.1, WineYeast).read(1, 1.099, 1, 1.098), "2 points below", false},
	} {
		t.Run(name, func(t *testing.T) {
			wantStanding(t, c.j.replay(t), Lag, c.says)
			if got := Summarise(c.j.Batch).Trouble; got != c.trouble {
				t.Errorf("trouble is %v, want %v", got, c.trouble)
			}
		})
	}
}

// Ensure that pace is not made of noise, gaps and slips.
func TestStanding_Pace(t *testing.T) {
	for name, c := range map[string]struct {
		j    *journal
		want Standing
		says string
	}{
		"one reading, falling":           {brew(Mead, 10, 1.1, WineYeast).read(5, 1.060), Working, "8.0 points a day"},
		"an hour after the pitch":        {brew(Mead, 10, 1.1, WineYeast).read(0.04, 1.096), Working, "5.3 points a day"}, // not 96
		"two readings of one day differ": {brew(Mead, 10, 1.1, WineYeast).read(4, 1.060, 8, 1.030, 8.04, 1.0285), Working, "7.8 points a day"},
		"less than a third of its best":  {brew(Mead, 10, 1.1, WineYeast).read(4, 1.060, 8, 1.030, 12, 1.022, 16, 1.016), Slowing, "1.5 points a day, at best it made 10"},
		"a long gap, then a short one":   {brew(Mead, 10, 1.1, WineYeast).read(4, 1.080, 30, 1.000, 31, 1.000), Slowing, "too short to tell"},
		"up with nothing added":          {brew(Mead, 10, 1.1, WineYeast).read(4, 1.060, 9, 1.020, 14, 1.023), Slowing, "3 points up in 5 days with nothing added"},
		"read every quarter of an hour":  {denselyRead(), Slowing, "at best it made"},
		"over three centuries":           {brew(Mead, 10, 1.1, WineYeast).read(4, 1.060, 100000, 1.000), Slowing, "0.0 points a day"},
	} {
		t.Run(name, func(t *testing.T) { wantStanding(t, c.j.replay(t), c.want, c.says) })
	}
}

// denselyRead is a batch with a floating hydrometer in it, in its tail.
func denselyRead() *journal {
	j := brew(Mead, 10, 1.1, WineYeast)
	for day := 0.5; day < 16; day += 1.0 / 96 {
		j.read(day, 1+0.1*math.Exp(-day/6))
	}
	return j
}

// Ensure that evidence reads as a person would say it.
func TestPoints(t *testing.T) {
	for x, want := range map[float64]string{0: "0 points", 1: "1 point", -0.04: "0 points", 2.44: "2.4 points", 10: "10 points"} {
		if got := points(x); got != want {
			t.Errorf("points(%v) = %q, want %q", x, got, want)
		}
	}
	for x, want := range map[float64]string{0.04: "1 hour", 1: "24 hours", 2.6: "3 days", 31: "31 days"} {
		if got := daysText(x); got != want {
			t.Errorf("daysText(%v) = %q, want %q", x, got, want)
		}
	}
}
