package data

import (
	"errors"
	"testing"

	"cellar.local/glassrow/model"
)

// Ensure that a plan comes back as it was kept, stays out of the journal, is replaced
// under its name, and is gone without trace when it is discarded.
func TestStore_Plans(t *testing.T) {
	s := newStore(t)
	stored, err := s.StartBatch(mead(1, readingOf(1.0985)))
	if err != nil {
		t.Fatal(err)
	}
	if plans, err := s.Plans(stored.ID); err != nil || len(plans) != 0 {
		t.Fatalf("before any is kept there are %v, %v", plans, err)
	}
	if err := s.DropPlan(stored.ID, "none"); err != nil {
		t.Errorf("discarding what is not there: %v", err)
	}
	all, err := Sweeteners()
	if err != nil {
		t.Fatal(err)
	}
	aim, err := model.ParseAim("eu medium dry")
	if err != nil {
		t.Fatal(err)
	}
	plan := model.Plan{Name: "for Sunday", Candidates: []model.Candidate{
		{First: all[0], Share: 0.5, Aim: model.Aim{Mass: 300}},
		{First: all[0], Second: all[1], Share: 0.35, Aim: aim},
	}}
	for _, p := range []model.Plan{{Name: "for Sunday", Candidates: plan.Candidates[:1]}, {Name: "another", Candidates: plan.Candidates[:1]}, plan} {
		if err := s.KeepPlan(stored.ID, p); err != nil {
			t.Fatal(err)
		}
	}
	again, err := Open(s.Path())
	if err != nil {
		t.Fatal(err)
	}
	got, err := again.Plans(stored.ID)
	if err != nil || len(got) != 2 || got[0].Name != "another" || len(got[1].Candidates) != 2 {
		t.Fatalf("kept %+v, %v", got, err)
	}
	first, second := got[1].Candidates[0], got[1].Candidates[1]
	if first.First.ID != all[0].ID || first.First.Ingredient != all[0].Ingredient || first.Aim.Mass != 300 {
		t.Errorf("the first came back as %+v", first)
	}
	if second.Second.Name() != all[1].Name() || second.Share != 0.35 || second.Aim.Text != "eu medium dry" || second.Aim.Target == nil {
		t.Errorf("the second came back as %+v", second)
	}
	if b, err := again.Batch(stored.ID); err != nil || len(b.Entries) != len(stored.Entries) {
		t.Errorf("the journal has %d entries, %v; want %d", len(b.Entries), err, len(stored.Entries))
	}
	if other, err := again.Plans(stored.ID + 1); err != nil || len(other) != 0 {
		t.Errorf("another batch has %v, %v", other, err)
	}
	for _, name := range []string{"for Sunday", "another"} {
		if err := again.DropPlan(stored.ID, name); err != nil {
			t.Fatal(err)
		}
	}
	if left, err := s.Plans(stored.ID); err != nil || len(left) != 0 {
		t.Errorf("discarded, and there is %v, %v", left, err)
	}
	for what, err := range map[string]error{
		"no name":       s.KeepPlan(stored.ID, model.Plan{Candidates: plan.Candidates}),
		"no candidate":  s.KeepPlan(stored.ID, model.Plan{Name: "x"}),
		"no such batch": s.KeepPlan(99, plan),
		"a bell":        s.KeepPlan(stored.ID, model.Plan{Name: "a\ab", Candidates: plan.Candidates}),
	} {
		if !errors.Is(err, model.ErrInvalid) {
			t.Errorf("%s: %v", what, err)
		}
	}
}
