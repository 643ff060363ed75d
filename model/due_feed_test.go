package model_test

import (
	"testing"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// Ensure that a plan made late is due from then on, not from before there was one.
func TestDues_PlanMadeLate(t *testing.T) {
	plan, err := model.PlanFeeding("DAP", 12, calc.FeedThirds, 1.095)
	if err != nil {
		t.Fatal(err)
	}
	b := fermented(t, 1, "Damson wine", 20, 1.095, 1.060).With(model.Entry{At: laterAt, Body: plan})
	n := 0
	for _, d := range model.Summarise(b).Dues {
		if d.What == "read" || d.Key[:4] != "feed" {
			continue
		}
		n++
		if d.At.Before(laterAt) {
			t.Errorf("%s is due %v, before it was planned at %v", d.Key, d.At, laterAt)
		}
	}
	if n == 0 {
		t.Errorf("no dose is due of %v", model.Summarise(b).Dues)
	}
}
