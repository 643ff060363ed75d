package e2e

import (
	"testing"
	"time"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui"
)

// typedDay is a reading typed in so many days after the must, and what the screen must
// say of the batch then.
type typedDay struct {
	day  float64
	sg   string
	want model.Standing
	sees []string
}

// typeInDays types readings as a person would, each on its day, and looks at the screen
// after each.
func typeInDays(t *testing.T, s session, days []typedDay) {
	t.Helper()
	made := s.clock.at
	for _, d := range days {
		s.clock.at = made.Add(time.Duration(d.day * 24 * float64(time.Hour)))
		s.Press("r").Type(d.sg)
		s.Press("enter")
		b, err := s.store.Batch(1)
		if err != nil {
			t.Fatal(err)
		}
		sum := model.Summarise(b)
		if sum.Standing != d.want {
			t.Errorf("on day %g at %s it is %s %q, want %s", d.day, d.sg, sum.Standing, sum.Evidence, d.want)
		}
		s.See(string(d.want))
		s.See(d.sees...)
	}
}

// Ensure that a mead that gets stuck, typed in day by day as it happened, is called
// stuck on the first day on which the readings prove it, and no sooner; that the day is
// told before; and that it is let off when it moves again. The series is invented.
func TestStuck_TypedDayByDay(t *testing.T) {
	s := openAt(t, newCellar(t), &clock{evening}, 180, 50)
	s.addVessel("N1", "23L").startBatch("Lime-honey mead", "20L", "1.112", "0h")
	typeInDays(t, s, []typedDay{
		{2, "1.108", model.Working, nil},
		{5, "1.093", model.Working, []string{"points a day"}},
		{8, "1.080", model.Working, []string{"ends"}},
		{12, "1.066", model.Working, []string{"ends", "forecast"}},
		{19, "1.056", model.Slowing, nil},
		{22, "1.056", model.Slowing, []string{"less than a reading can tell", "decides", "whether it has stopped or only creeps"}},
		{24, "1.056", model.Stuck, []string{"of sugar left; at", "check", "a misreading", "too little nitrogen", "is not", "in trouble"}},
		{28, "1.0555", model.Stuck, nil},
		{33, "1.051", model.Slowing, []string{"it moves again: before, it stood at 1.056"}},
		{38, "1.046", model.Slowing, nil},
	})
	s.DontSee("in trouble")
}

// Ensure that a beer at 1.012 with only dextrins left, typed in day by day, ends with
// nothing wrong: neither yeast nor sugar would do anything. The series is invented.
func TestDone_TypedDayByDay(t *testing.T) {
	s := openAt(t, newCellar(t), &clock{evening}, 180, 50)
	s.addVessel("N1", "23L")
	beer := model.Batch{Name: "Pale ale", Drink: model.Beer, Entries: []model.Entry{
		{At: evening, Recorded: evening, Body: model.Must{Vessel: 1, Volume: 20, Gravity: 1.050}},
		{At: evening, Recorded: evening, Body: model.Pitch{Yeast: model.AleYeast}},
	}}
	if _, err := s.store.StartBatch(beer); err != nil {
		t.Fatal(err)
	}
	s.Send(ui.LookNow())
	typeInDays(t, s, []typedDay{
		{1, "1.046", model.Working, nil},
		{2, "1.034", model.Working, nil},
		{3, "1.022", model.Working, nil},
		{4, "1.015", model.Working, []string{"ends"}},
		{6, "1.012", model.Slowing, nil},
		{9, "1.012", model.Slowing, []string{"decides"}},
		{13, "1.012", model.Done, []string{
			"nothing left to eat", "more yeast will not help", "what holds it at 1.012 is", "nothing is wrong",
			"more yeast: it would find nothing", "more sugar: it would only ferment, and end near the same gravity",
		}},
	})
	s.DontSee("in trouble", "check  ")
}
