package model

import (
	"errors"
	"math"
	"testing"
	"time"

	"cellar.local/glassrow/calc"
)

// sorbateTable is the corner of the printed table that the tests need: Underhill's 12
// and 14 % vol at pH 3.1 and 3.5.
func sorbateTable(t *testing.T) calc.SorbateTable {
	t.Helper()
	table, err := calc.NewSorbateTable([]calc.SorbateRow{
		{ABV: 12, PH: 3.1, Dose: 96}, {ABV: 12, PH: 3.5, Dose: 150}, {ABV: 14, PH: 3.1, Dose: 60}, {ABV: 14, PH: 3.5, Dose: 90},
	})
	if err != nil {
		t.Fatal(err)
	}
	return table
}

// stillMead is a dry mead that has stood still, and the honey to sweeten it.
func stillMead(t *testing.T) (Batch, Sweetener, time.Time) {
	t.Helper()
	start := time.Date(2026, 1, 1, 12, 0, 0, 0, time.UTC)
	at := func(days int) time.Time { return start.AddDate(0, 0, days) }
	read := func(sg calc.SG) Reading { return Reading{Gravity: sg, Scale: ScaleSG, Calibration: 20} }
	ph := read(0.997)
	ph.PH = 3.5
	b := Batch{ID: 1, Name: "x", Drink: Mead, Entries: []Entry{
		{ID: 1, At: at(0), Body: Must{Vessel: 1, Volume: 19, Gravity: 1.092}},
		{ID: 2, At: at(0), Body: Pitch{Yeast: HighYeast}},
		{ID: 3, At: at(20), Body: read(1.010)},
		{ID: 4, At: at(40), Body: ph},
		{ID: 5, At: at(50), Body: read(0.997)},
		{ID: 6, At: at(60), Body: read(0.997)},
		{ID: 7, At: at(60), Body: Rack{To: 2}},
	}}
	honey := Sweetener{ID: "honey", Ingredient: ingredientOf(t, "honey", map[calc.Component]calc.Gram{calc.Water: 17, calc.Glucose: 38, calc.Fructose: 45})}
	return b, honey, at(61)
}

// Ensure that a dry, quiet mead is told to start again when sweetened, that what is
// offered is by the tables, and that it then counts as stable.
func TestSafeguards_FromLiveToStable(t *testing.T) {
	b, honey, now := stillMead(t)
	table := sorbateTable(t)
	s, err := Replay(b, now)
	if err != nil {
		t.Fatal(err)
	}
	trial, err := Try(s, b.Drink, honey, 600)
	if err != nil {
		t.Fatal(err)
	}
	have, err := b.Safeguards(s)
	if err != nil || !have.Finished || !have.Clear || have.PH != 3.5 || have.Left != 0 {
		t.Fatalf("safeguards %+v, %v", have, err)
	}
	judged, err := have.Assess(s, &trial, table)
	if err != nil || judged.Verdict != calc.StabilityLive {
		t.Errorf("sweetened as it is: %+v, %v", judged, err)
	}
	if asIs, err := have.Assess(s, nil, table); err != nil || asIs.Verdict != calc.StabilitySafe {
		t.Errorf("not sweetened: %+v, %v", asIs, err)
	}
	plan, err := have.Plan(trial.After.Volume, trial.After.Strength, table)
	if err != nil || plan.Guessed || math.Abs(float64(plan.Free)-40) > 1 { // the 1982 table: 40 mg/L at pH 3.5
		t.Errorf("plan %+v, %v", plan, err)
	}
	if want := 40 * float64(trial.After.Volume) / 576; math.Abs(float64(plan.Sulfite.Mass)-want) > 0.02 { // mg/L x litres / 576
		t.Errorf("sulfite %v g, want %v", plan.Sulfite.Mass, want)
	}
	b.Entries = append(b.Entries, Entry{ID: 8, At: now, Body: plan.Entry()})
	s, err = Replay(b, now)
	if err != nil {
		t.Fatal(err)
	}
	have, err = b.Safeguards(s)
	if err != nil || have.FreeSO2 < 25 || have.Sorbate < 100 {
		t.Errorf("afterwards %+v, %v", have, err)
	}
	if judged, err = have.Assess(s, &trial, table); err != nil || judged.Verdict != calc.StabilityLikely {
		t.Errorf("stabilised, a third of the sulfite bound: %+v, %v", judged, err)
	}
	rest, err := have.Plan(trial.After.Volume, trial.After.Strength, table)
	if err != nil || rest.Sorbate.Mass > 0.01 || rest.Sulfite.Mass <= 0 || rest.Sulfite.Mass >= plan.Sulfite.Mass/2 {
		t.Errorf("what is missing: %+v, %v", rest, err)
	}
	if judged, err = have.AfterPlan(rest).Assess(s, &trial, table); err != nil || judged.Verdict != calc.StabilitySafe {
		t.Errorf("measured and topped up: %+v, %v", judged, err)
	}
}

// Ensure that sweetened and not stabilised a batch is at risk in a bottle, that
// filtering takes the risk away, and that a dry one never was.
func TestBatch_SugarAtRisk(t *testing.T) {
	b, honey, now := stillMead(t)
	table := sorbateTable(t)
	risk := func() calc.GramPerLitre {
		t.Helper()
		s, err := Replay(b, now)
		if err != nil {
			t.Fatal(err)
		}
		r, err := b.SugarAtRisk(s, table)
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	if r := risk(); r != 0 {
		t.Errorf("dry: %v g/L at risk", r)
	}
	b.Entries = append(b.Entries, Entry{ID: 8, At: now, Body: Addition{Portion: Portion{honey.Ingredient, 600}, Purpose: "sweeten"}})
	if r := risk(); r < 20 || r > 30 {
		t.Errorf("600 g of honey in 19 L: %v g/L at risk", r)
	}
	b.Entries = append(b.Entries, Entry{ID: 9, At: now, Body: Stabilise{Filtered: true}})
	if r := risk(); r != 0 {
		t.Errorf("filtered: %v g/L at risk", r)
	}
}

// Ensure that a pH is understood with and without its letters.
func TestParsePH(t *testing.T) {
	for _, text := range []string{"3.4", "ph3.4", " pH 3.4 ", "PH=3.4"} {
		if got, err := ParsePH(text); got != 3.4 || err != nil {
			t.Errorf("ParsePH(%q) = %v, %v", text, got, err)
		}
	}
	for _, bad := range []string{"", "sour", "1.034", "11", "3.4 1.034"} {
		if got, err := ParsePH(bad); !errors.Is(err, ErrInvalid) {
			t.Errorf("ParsePH(%q) = %v, %v", bad, got, err)
		}
	}
}

// Ensure that a plan over every limit offers neither sulfite nor sorbate, and that one
// within the highest, or without limits, stays as it is.
func TestStabilisePlan_Within(t *testing.T) {
	plan := StabilisePlan{Total: 197, Sulfite: calc.SulfiteDose{Mass: 4.43}, Sorbate: calc.SorbateDose{Mass: 3.5}}
	if got := plan.Within(20); !got.TooMuch || got.Needed() {
		t.Errorf("197 mg/L against a limit of 20: too much %v, needed %v; want true and false", got.TooMuch, got.Needed())
	}
	if got := plan.Within(20, 200); got.TooMuch || !got.Needed() {
		t.Error("197 mg/L against limits of 20 and 200 is held back")
	}
	if got := plan.Within(); got.TooMuch || !got.Needed() {
		t.Error("a plan without a limit is held back")
	}
}

// Ensure that sulfite counts where nobody read the pH, and that this is still no reason
// to trust it.
func TestSafeguards_WithoutPH(t *testing.T) {
	b, honey, now := stillMead(t)
	s, err := Replay(b, now)
	if err != nil {
		t.Fatal(err)
	}
	trial, err := Try(s, b.Drink, honey, 600)
	if err != nil {
		t.Fatal(err)
	}
	g := Safeguards{Finished: true, Clear: true, Tolerance: 17, FreeSO2: 60, Sorbate: 300}
	a, err := g.Assess(s, &trial, sorbateTable(t))
	if err != nil || a.Verdict != calc.StabilityRisky || a.Findings[0].Reason != calc.BecauseBeyondTable {
		t.Errorf("sulfite and sorbate at a pH nobody read: %+v, %v", a, err)
	}
	if f, held := a.Held(); held {
		t.Errorf("held by %v", f)
	}
}
