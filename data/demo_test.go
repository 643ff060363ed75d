package data

import (
	"math"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

var demoNow = time.Date(2026, 3, 14, 11, 30, 0, 0, time.UTC)

func demo(t *testing.T, now time.Time) ([]model.Vessel, []model.Batch) {
	t.Helper()
	_, vessels, batches, err := Demo(now)
	if err != nil {
		t.Fatal(err)
	}
	return vessels, batches
}

// demoMoments are presents that could upset a diary: just before and after the
// evening's work is over, clocks put forward and back, a leap day, the new year.
func demoMoments(t *testing.T) []time.Time {
	t.Helper()
	moments := []time.Time{
		demoNow,
		time.Date(2026, 6, 1, 20, 19, 59, 0, time.UTC),
		time.Date(2026, 6, 1, 20, 20, 0, 0, time.UTC),
		time.Date(2026, 6, 1, 0, 0, 0, 0, time.UTC),
		time.Date(2026, 6, 1, 23, 59, 59, 999, time.FixedZone("", 13*3600)),
		time.Date(2028, 2, 29, 21, 0, 0, 0, time.FixedZone("", -11*3600)),
		time.Date(2027, 1, 1, 3, 0, 0, 0, time.FixedZone("", 5*3600+1800)),
	}
	for _, zone := range []string{"Europe/London", "America/New_York", "Australia/Lord_Howe"} {
		here, err := time.LoadLocation(zone)
		if err != nil {
			t.Logf("%s is not known here", zone)
			continue
		}
		for month := time.Month(1); month <= 12; month++ {
			for _, day := range []int{1, 8, 29} {
				moments = append(moments, time.Date(2026, month, day, 20, 25, 0, 0, here))
			}
		}
	}
	return moments
}

// What each batch is meant to show, eleven in a vessel, one in bottles and a part whose
// bottles are gone: every standing there is, and done twice, with body left and without.
func TestDemo_Standings(t *testing.T) {
	want := map[string]struct {
		vessel          string
		standing        model.Standing
		says            string // in its evidence
		drink           model.Drink
		sgLow, sgHigh   calc.SG
		abvLow, abvHigh calc.PercentVol
	}{
		"Heather-honey mead":    {"N1", model.Slowing, "points a day, at best it made", model.Mead, 0.998, 1.010, 12, 15},
		"Windfall perry":        {"N2", model.Lag, "no yeast pitched yet", model.Perry, 1.050, 1.062, 0, 0.1},
		"Sea-buckthorn mead":    {"N3", model.Stuck, "of the 14.0 % vol this yeast stands", model.Mead, 1.045, 1.060, 5, 8},
		"Blackcurrant melomel":  {"N4", model.Done, "nothing left to eat", model.Mead, 0.992, 1.006, 11, 14},
		"Beetroot wine":         {"N5", model.Stable, "stabilised with 0.35 g sulfite, 0.9 g sorbate", model.Wine, 0.990, 1.000, 11, 14},
		"Damson wine":           {"S1", model.Rising, "with nothing added", model.Wine, 1.015, 1.035, 7, 12},
		"Oat stout":             {"S2", model.Working, "points a day", model.Beer, 1.022, 1.040, 2.5, 5.5},
		"Plum wine":             {"S3", model.Restarting, "since it was sweetened", model.Wine, 0.998, 1.006, 11, 14},
		"Elderflower sparkling": {"K1", model.Conditioning, "primed with 8 g/L", model.Other, 0.990, 1.002, 5, 7},
		"Brown ale":             {"S4", model.Done, "of sugar): more yeast will not help", model.Beer, 1.011, 1.0135, 4, 6},
		"Buckwheat mead":        {"B1", model.Resting, "racked off its lees since", model.Mead, 1.010, 1.030, 15.5, 17},
		"Quince wine":           {"", model.Bottled, "13 bottles filled", model.Wine, 0.990, 1.000, 11, 14},
		"Dry quince":            {"", model.Bottled, "5 bottles filled", model.Wine, 0.988, 0.994, 11, 14},
	}
	vessels, batches := demo(t, demoNow)
	if len(vessels) != 12 || len(batches) != len(want) {
		t.Fatalf("%d vessels and %d batches, want 12 and %d", len(vessels), len(batches), len(want))
	}
	shelf := model.Shelf{Vessels: vessels}
	for _, b := range batches {
		s := model.Summarise(b)
		shelf.Batches = append(shelf.Batches, s)
		w, ok := want[b.Name]
		if !ok {
			t.Errorf("%s is not expected", b.Name)
			continue
		}
		if s.Problem != "" {
			t.Errorf("%s: %s", b.Name, s.Problem)
		}
		if got := labelOf(vessels, s.Vessel); got != w.vessel || s.Standing != w.standing || s.Drink != w.drink {
			t.Errorf("%s is a %s in %q, %s; want a %s in %q, %s", b.Name, s.Drink, got, s.Standing, w.drink, w.vessel, w.standing)
		}
		if why := strings.Join(s.Evidence, "; "); !strings.Contains(why, w.says) {
			t.Errorf("%s: %q does not say %q", b.Name, why, w.says)
		}
		if s.SG < w.sgLow || s.SG > w.sgHigh {
			t.Errorf("%s reads %.4f, want %.4g to %.4g", b.Name, float64(s.SG), float64(w.sgLow), float64(w.sgHigh))
		}
		if s.Strength < w.abvLow || s.Strength > w.abvHigh {
			t.Errorf("%s has %.2f %% vol, want %.4g to %.4g", b.Name, float64(s.Strength), float64(w.abvLow), float64(w.abvHigh))
		}
		if trouble := w.standing == model.Stuck || w.standing == model.Restarting; s.Trouble != trouble {
			t.Errorf("%s: trouble is %v, want %v", b.Name, s.Trouble, trouble)
		}
	}
	seen := make(map[model.Standing]bool)
	for _, b := range shelf.Batches {
		seen[b.Standing] = true
	}
	for _, row := range shelf.Rows(demoNow) {
		seen[row.Standing()] = true
		if row.Empty() != (row.Vessel.Label == "N6") {
			t.Errorf("vessel %s: empty is %v", row.Vessel.Label, row.Empty())
		}
	}
	for _, s := range model.Standings() {
		if !seen[s] {
			t.Errorf("nothing in the cellar is %s", s)
		}
	}
}

func labelOf(vessels []model.Vessel, id model.VesselID) string {
	for _, v := range vessels {
		if v.ID == id {
			return v.Label
		}
	}
	return ""
}

// Ensure that the two flat batches with sugar or body left are told apart, and the
// plum wine falls again after it was dry and sweetened.
func TestDemo_Stories(t *testing.T) {
	_, batches := demo(t, demoNow)
	states := make(map[string]model.State)
	for _, b := range batches {
		s, err := model.Replay(b, demoNow)
		if err != nil {
			t.Fatal(err)
		}
		states[b.Name] = s
	}
	if s := states["Brown ale"]; s.HasFood() || s.Figures.Fermentable > 4 {
		t.Errorf("brown ale has %.1f g/L of food left, want none", float64(s.Figures.Fermentable))
	}
	if s := states["Sea-buckthorn mead"]; !s.HasFood() || s.Figures.Fermentable < 80 {
		t.Errorf("sea-buckthorn mead has %.1f g/L of food left, want plenty", float64(s.Figures.Fermentable))
	}
	if s := states["Buckwheat mead"]; s.HasFood() || s.Figures.Fermentable < 40 {
		t.Errorf("buckwheat mead has %.1f g/L of sugar left, want it sweet but its yeast spent", float64(s.Figures.Fermentable))
	}
	if !states["Windfall perry"].Pitched.IsZero() {
		t.Errorf("windfall perry is pitched, want it to wait")
	}
	curve := states["Plum wine"].Curve
	for i := len(curve) - 1; ; i-- {
		if !curve[i].Computed {
			continue
		}
		before, sweetened, now := curve[i-1].SG, curve[i].SG, curve[len(curve)-1].SG
		if before > 0.994 || sweetened < 1.004 || now > sweetened-0.004 {
			t.Errorf("plum wine went %.3f, sweetened %.3f, now %.3f; want dry, sweet and falling", float64(before), float64(sweetened), float64(now))
		}
		break
	}
}

// Ensure that the curves are those of the formulas: every reading that counts is
// within a point and a half of the ledger, and the strength told at the end is that
// of what really is in the vessel, within the error bar.
func TestDemo_ReadingsFollowTheLedger(t *testing.T) {
	handbook := sweeteners(t)
	days := diaryUpTo(demoNow)
	stock, err := newPantry(model.Larder{Sweeteners: handbook, Fruits: handbookFruits(t)})
	if err != nil {
		t.Fatal(err)
	}
	var brews []*brew
	for i, r := range demoRecipes() {
		b := newBrew(r, i, days, demoVessels(days), stock)
		if err := b.make(); err != nil {
			t.Fatal(err)
		}
		brews = append(append(brews, b), b.parts...)
	}
	for _, b := range brews {
		r := b.recipe
		for _, e := range b.batch.Live() {
			reading, ok := e.Body.(model.Reading)
			if !ok || !reading.HasGravity() {
				continue
			}
			s, err := model.Replay(b.batch, e.At)
			if err != nil {
				t.Fatalf("%s: %v", r.name, err)
			}
			ledger, err := s.Liquid.SG()
			if err != nil {
				t.Fatal(err)
			}
			read, err := reading.Corrected(s.Strength)
			if err != nil {
				t.Fatal(err)
			}
			if off := math.Abs(read.Points() - ledger.Points()); off > 1.5 {
				t.Errorf("%s, %s: read %.4f, ledger %.4f", r.name, e.At.Format(time.DateTime), float64(read), float64(ledger))
			}
		}
		s, err := model.Replay(b.batch, demoNow)
		if err != nil {
			t.Fatal(err)
		}
		truth, err := b.liquid.Strength()
		if err != nil {
			t.Fatal(err)
		}
		if r.name == "Damson wine" { // its syrup is not written down
			continue
		}
		if off := math.Abs(float64(s.Strength - truth)); off > float64(s.PlusMinus) {
			t.Errorf("%s: %.2f ± %.2f %% vol, really %.2f", r.name, float64(s.Strength), float64(s.PlusMinus), float64(truth))
		}
	}
}

// Ensure that a must's ingredients explain what its hydrometer read.
func TestDemo_MustsAddUp(t *testing.T) {
	_, batches := demo(t, demoNow)
	for _, b := range batches {
		must := b.Entries[0].Body.(model.Must)
		read := must.Gravity
		must.Gravity = 0
		l, err := must.Liquid(b.Drink)
		if err != nil {
			t.Errorf("%s: %v", b.Name, err)
			continue
		}
		if sg, err := l.SG(); err != nil || math.Abs(sg.Points()-read.Points()) > 2.5 {
			t.Errorf("%s: its ingredients give %.4f (%v), read %.3f", b.Name, float64(sg), err, float64(read))
		}
	}
}

// Ensure that no vessel ever holds more than it can, or two batches at once.
func TestDemo_VesselsHoldIt(t *testing.T) {
	vessels, batches := demo(t, demoNow)
	type stay struct {
		batch    string
		from, to time.Time
	}
	stays := make(map[model.VesselID][]stay)
	for _, b := range batches {
		part := slices.IndexFunc(b.Entries, func(e model.Entry) bool { return e.Body.Kind() == model.KindPart })
		for i, e := range b.Entries {
			s, err := model.Replay(b, e.At)
			if err != nil {
				t.Fatal(err)
			}
			if s.Vessel == 0 || i < part { // till then it was part of another
				continue
			}
			until := demoNow
			if i+1 < len(b.Entries) {
				until = b.Entries[i+1].At
			}
			stays[s.Vessel] = append(stays[s.Vessel], stay{b.Name, e.At, until})
			if v := vessels[s.Vessel-1]; s.Figures.Volume+s.FruitRoom > v.Capacity*0.99 {
				t.Errorf("%s: %.2f L in %s of %.4g L", b.Name, float64(s.Figures.Volume+s.FruitRoom), v.Label, float64(v.Capacity))
			}
		}
	}
	for id, all := range stays {
		for i, a := range all {
			for _, b := range all[:i] {
				if a.batch != b.batch && a.from.Before(b.to) && b.from.Before(a.to) {
					t.Errorf("%s holds %s and %s on %s", labelOf(vessels, id), a.batch, b.batch, a.from.Format(time.DateOnly))
				}
			}
		}
	}
}

// Ensure that a store would take it all, and a terminal show it.
func TestDemo_Valid(t *testing.T) {
	settings, vessels, batches, err := Demo(demoNow)
	if err != nil || settings.CellarName != "Tern Point boathouse" || settings.US {
		t.Errorf("settings are %+v: %v", settings, err)
	}
	labels := make(map[string]bool)
	for i, v := range vessels {
		if err := v.Validate(); err != nil || v.ID != model.VesselID(i+1) || labels[strings.ToUpper(v.Label)] || v.Place == "" {
			t.Errorf("vessel %d is %+v: %v", i+1, v, err)
		}
		labels[strings.ToUpper(v.Label)] = true
	}
	for i, b := range batches {
		if err := b.Validate(); err != nil || b.ID != model.BatchID(i+1) {
			t.Errorf("batch %d is %d, %s: %v", i+1, b.ID, b.Name, err)
		}
		for n, e := range b.Entries {
			if err := e.Body.Validate(); err != nil {
				t.Errorf("%s, entry %d: %v", b.Name, e.ID, err)
			}
			if e.ID != model.EntryID(n+1) || n > 0 && !e.At.After(b.Entries[n-1].At) {
				t.Errorf("%s: entry %d of %s comes %dth", b.Name, e.ID, e.At, n+1)
			}
			for _, text := range textOf(e.Body) {
				if strings.ContainsFunc(text, func(r rune) bool { return !unicode.IsPrint(r) }) {
					t.Errorf("%s, entry %d: %q is not printable", b.Name, e.ID, text)
				}
			}
			if r, ok := e.Body.(model.Reading); ok && r.HasGravity() {
				if thousandths := float64(r.Gravity) * 1000; math.Abs(thousandths-math.Round(thousandths)) > 1e-9 {
					t.Errorf("%s, entry %d: nobody reads %v", b.Name, e.ID, r.Gravity)
				}
			}
		}
	}
}

// textOf returns every text in an entry's body.
func textOf(b model.Body) []string {
	var out []string
	var walk func(reflect.Value)
	walk = func(v reflect.Value) {
		switch v.Kind() {
		case reflect.String:
			out = append(out, v.String())
		case reflect.Struct:
			for i := range v.NumField() {
				walk(v.Field(i))
			}
		case reflect.Slice, reflect.Array:
			for i := range v.Len() {
				walk(v.Index(i))
			}
		}
	}
	walk(reflect.ValueOf(b))
	return out
}

// Ensure that everything happened, and was written down, before now, and when a
// person is about.
func TestDemo_NothingInTheFuture(t *testing.T) {
	for _, now := range demoMoments(t) {
		vessels, batches := demo(t, now)
		for _, v := range vessels {
			if v.Added.After(now) {
				t.Errorf("now %s: vessel %s was added %s", now, v.Label, v.Added)
			}
		}
		newest := time.Time{}
		for _, b := range batches {
			for _, e := range b.Entries {
				if e.At.After(now) || e.Recorded.After(now) || e.Recorded.Before(e.At) {
					t.Errorf("now %s: %s, entry %d happened %s, recorded %s", now, b.Name, e.ID, e.At, e.Recorded)
				}
				if m, h := e.At.Minute(), e.At.Hour(); m%5 != 0 || e.At.Second() != 0 || h != 6 && h != 7 && h != 8 && h != 18 && h != 19 && h != 20 {
					t.Errorf("now %s: %s, entry %d happened at %s", now, b.Name, e.ID, e.At.Format(time.TimeOnly))
				}
				if e.At.After(newest) {
					newest = e.At
				}
			}
		}
		if age := now.Sub(newest); age > 27*time.Hour {
			t.Errorf("now %s: the newest entry is %s old", now, age)
		}
	}
}

// Ensure that the cellar depends on now and on nothing else.
func TestDemo_SameNowSameCellar(t *testing.T) {
	vessels, batches := demo(t, demoNow)
	againVessels, again := demo(t, demoNow)
	if !reflect.DeepEqual(vessels, againVessels) || !reflect.DeepEqual(batches, again) {
		t.Errorf("the same now gives another cellar")
	}
	const week = 7 * 24 * time.Hour
	_, later := demo(t, demoNow.Add(week))
	for i, b := range batches {
		for n, e := range b.Entries {
			l := later[i].Entries[n]
			if !l.At.Equal(e.At.Add(week)) || !l.Recorded.Equal(e.Recorded.Add(week)) || !reflect.DeepEqual(l.Body, e.Body) {
				t.Fatalf("%s, entry %d: %s %+v, a week later %s %+v", b.Name, e.ID, e.At, e.Body, l.At, l.Body)
			}
		}
	}
}

// Ensure that every present gives a cellar with the same standings.
func TestDemo_StandingsHoldAtAnyTime(t *testing.T) {
	_, first := demo(t, demoNow)
	moments := demoMoments(t)
	for k := 0; k < len(moments); k += 5 {
		now := moments[k]
		_, batches := demo(t, now)
		for i, b := range batches {
			if got, want := model.Summarise(b), model.Summarise(first[i]); got.Standing != want.Standing || got.Problem != "" {
				t.Errorf("now %s: %s is %s, %q, want %s", now, b.Name, got.Standing, got.Problem, want.Standing)
			}
		}
	}
}

// Ensure that there is in the cellar what passes between batches and what is fed by a
// plan: a part that was poured back in part and drunk, a plan all given and one still
// open, fruit put in later and taken out.
func TestDemo_Between(t *testing.T) {
	_, batches := demo(t, demoNow)
	kinds := make(map[string]map[model.Kind]int)
	byName := make(map[string]model.Batch)
	for _, b := range batches {
		byName[b.Name], kinds[b.Name] = b, make(map[model.Kind]int)
		for _, e := range b.Live() {
			kinds[b.Name][e.Body.Kind()]++
			for _, other := range model.Others([]model.Entry{e}) {
				if e.Deed == 0 || other == b.ID || int(other) > len(batches) {
					t.Errorf("%s, entry %d: deed %d with batch %d", b.Name, e.ID, e.Deed, other)
				}
			}
		}
	}
	for name, want := range map[string][]model.Kind{
		"Quince wine":          {model.KindDraw, model.KindPour, model.KindBottle, model.KindTaste},
		"Dry quince":           {model.KindPart, model.KindDraw, model.KindBottle, model.KindTaste},
		"Heather-honey mead":   {model.KindPlan, model.KindFeed},
		"Sea-buckthorn mead":   {model.KindPlan},
		"Blackcurrant melomel": {model.KindFruit, model.KindPress, model.KindRack},
	} {
		for _, k := range want {
			if kinds[name][k] == 0 {
				t.Errorf("%s has no %s", name, k)
			}
		}
	}
	if left := byName["Dry quince"].Stock(demoNow).Left; left != 0 {
		t.Errorf("%d bottles of the dry quince are left, want none", left)
	}
	open := func(name string) (n int) {
		for _, d := range model.Summarise(byName[name]).Dues {
			if strings.HasPrefix(d.Key, model.DueFeed) {
				n++
			}
		}
		return n
	}
	if open("Heather-honey mead") != 0 || open("Sea-buckthorn mead") != 1 {
		t.Errorf("doses due are %d and %d, want 0 of the plan that was given and 1 of the open one", open("Heather-honey mead"), open("Sea-buckthorn mead"))
	}
	// What the part gave, and no more than it had.
	whole, part := byName["Quince wine"], byName["Dry quince"]
	for _, e := range part.Live() {
		d, ok := e.Body.(model.Draw)
		if !ok {
			continue
		}
		for _, other := range whole.Live() {
			if p, ok := other.Body.(model.Pour); ok {
				if v, err := p.Liquid.Volume(); err != nil || math.Abs(float64(v-d.Volume)) > 1e-9 || other.Deed != e.Deed || !other.At.Equal(e.At) {
					t.Errorf("%v L drawn on %s in deed %d, %v L poured on %s in deed %d, %v", d.Volume, e.At, e.Deed, v, other.At, other.Deed, err)
				}
			}
		}
	}
}

// Ensure that what a person writes in the demo cellar is a deed of its own: none of the
// numbers that are in it already.
func TestDemo_DeedsAfterIt(t *testing.T) {
	s, err := DemoAt(filepath.Join(t.TempDir(), "demo.db"), demoNow)
	if err != nil {
		t.Fatal(err)
	}
	_, batches := demo(t, demoNow)
	last := lastDeed(batches)
	note := func() model.Entry {
		return model.Entry{At: demoNow, Recorded: demoNow, Body: model.Note{Text: "a note"}}
	}
	b, err := s.Append(12, note(), note())
	if err != nil {
		t.Fatal(err)
	}
	if deed := b.Entries[len(b.Entries)-1].Deed; last == 0 || deed <= last {
		t.Errorf("the first deed is %d, want more than %d", deed, last)
	}
}
