package data

import (
	"errors"
	"strings"
	"testing"
	"time"

	"cellar.local/glassrow/model"
)

// Ensure that a split and a pour are on disk in both journals or in none, and that one
// undo takes both sides back.
func TestStore_WriteAndUndo(t *testing.T) {
	s := newStore(t)
	second, err := s.AddVessel(vesselN("N2"))
	if err != nil {
		t.Fatal(err)
	}
	b, err := s.StartBatch(mead(1, readingOf(1.02)))
	if err != nil {
		t.Fatal(err)
	}
	last := b.Entries[len(b.Entries)-1].At
	split, err := model.Split(b, "The other half", second, 5, last.Add(time.Hour), last.Add(time.Hour))
	if err != nil {
		t.Fatal(err)
	}
	both, err := s.Write(split...)
	if err != nil {
		t.Fatal(err)
	}
	again, err := Open(s.Path())
	if err != nil {
		t.Fatal(err)
	}
	part, err := again.Batch(both[0].ID)
	if err != nil {
		t.Fatal(err)
	}
	if sum := model.Summarise(part); sum.Vessel != 2 || sum.Problem != "" || sum.Original != model.Summarise(b).Original {
		t.Errorf("the part is in vessel %d, began at %v, %s", sum.Vessel, sum.Original, sum.Problem)
	}
	if drawn, ok := both[1].Entries[len(both[1].Entries)-1].Body.(model.Draw); !ok || drawn.To != part.ID {
		t.Errorf("the last entry of the other is %#v, want a draw into %d", both[1].Entries[len(both[1].Entries)-1].Body, part.ID)
	}

	// Back again: the part is no batch any more, its vessel is free.
	if _, err := s.Undo(b.ID, last.Add(2*time.Hour), ""); err != nil {
		t.Fatal(err)
	}
	shelf, err := again.Shelf()
	if err != nil {
		t.Fatal(err)
	}
	for _, sum := range shelf.Batches {
		if sum.Batch == part.ID && (sum.Vessel != 0 || sum.Problem != "" || sum.Trouble) {
			t.Errorf("undone, it is still in vessel %d: %s", sum.Vessel, sum.Problem)
		}
		if sum.Batch == b.ID && sum.Volume != model.Summarise(b).Volume {
			t.Errorf("the first holds %v, want %v as before", sum.Volume, model.Summarise(b).Volume)
		}
	}

	// What one side refuses is written to neither.
	revision, _ := s.Revision()
	_, err = s.Write(model.Writing{Batch: b.ID, Entries: []model.Entry{entryAt(3*time.Hour, model.Note{Text: "x"})}},
		model.Writing{Batch: b.ID, Entries: []model.Entry{entryAt(4*time.Hour, model.Draw{Volume: 500})}})
	if !errors.Is(err, model.ErrInvalid) || !strings.Contains(err.Error(), "500") {
		t.Errorf("drawing 500 L: %v", err)
	}
	if now, _ := s.Revision(); now != revision {
		t.Errorf("revision %d after a refused write, want %d", now, revision)
	}
}

// Ensure that entries appended together are undone together.
func TestStore_UndoesADeed(t *testing.T) {
	s := newStore(t)
	b, err := s.StartBatch(mead(1, readingOf(1.02)))
	if err != nil {
		t.Fatal(err)
	}
	before := len(b.Live())
	if _, err := s.Append(b.ID, entryAt(time.Hour, model.Note{Text: "one"}), entryAt(time.Hour, model.Note{Text: "two"})); err != nil {
		t.Fatal(err)
	}
	all, err := s.Undo(b.ID, evening.Add(2*time.Hour), "undo")
	if err != nil {
		t.Fatal(err)
	}
	if got := len(all[0].Live()); got != before {
		t.Errorf("%d entries count after the undo, want %d", got, before)
	}
}

// Ensure that what is known of a vessel can be corrected, and nothing else with it.
func TestStore_ChangeVessel(t *testing.T) {
	s := newStore(t)
	shelf, err := s.Shelf()
	if err != nil {
		t.Fatal(err)
	}
	v := shelf.Vessels[0]
	v.Tare, v.Place = 6400, "loft"
	if err := s.ChangeVessel(v); err != nil {
		t.Fatal(err)
	}
	if shelf, err = s.Shelf(); err != nil || shelf.Vessels[0] != v {
		t.Errorf("%+v, %v; want %+v", shelf.Vessels[0], err, v)
	}
	if _, err := s.AddVessel(vesselN("N7")); err != nil {
		t.Fatal(err)
	}
	taken, gone, wrong := v, v, v
	taken.Label, gone.ID, wrong.Tare = "n7", 99, -1
	for name, bad := range map[string]model.Vessel{"a label of another": taken, "no such vessel": gone, "a tare below nothing": wrong} {
		if err := s.ChangeVessel(bad); !errors.Is(err, model.ErrInvalid) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
