package model

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func liveIDs(b Batch) []EntryID {
	var ids []EntryID
	for _, e := range b.Live() {
		ids = append(ids, e.ID)
	}
	return ids
}

// Ensure that a void strikes its entry out, a void of a void brings it back, and so on.
func TestBatch_Live(t *testing.T) {
	j := brew(Mead, 10, 1.1, WineYeast).read(2, 1.09, 4, 1.07) // entries 1 to 4
	steps := []struct {
		says string
		void EntryID
		live []EntryID
		undo EntryID
	}{
		{"undo the last reading", 4, []EntryID{1, 2, 3}, 3},                 // 5
		{"undo the one before", 3, []EntryID{1, 2}, 2},                      // 6
		{"redo the one before", 6, []EntryID{1, 2, 3}, 3},                   // 7
		{"redo the last reading", 5, []EntryID{1, 2, 3, 4}, 4},              // 8
		{"undo the last reading again", 4, []EntryID{1, 2, 3}, 3},           // 9
		{"undo it twice over", 4, []EntryID{1, 2, 3}, 3},                    // 10
		{"one void taken back leaves the other", 10, []EntryID{1, 2, 3}, 3}, // 11
		{"both taken back bring it back", 9, []EntryID{1, 2, 3, 4}, 4},      // 12
		{"undo the redo", 12, []EntryID{1, 2, 3}, 3},                        // 13
	}
	for _, s := range steps {
		j.on(5, Void{Entry: s.void})
		if got := liveIDs(j.Batch); !slices.Equal(got, s.live) {
			t.Errorf("%s: live entries %v, want %v", s.says, got, s.live)
		}
		if got, ok := j.LastUndoable(); !ok || got.ID != s.undo {
			t.Errorf("%s: an undo strikes out %d, want %d", s.says, got.ID, s.undo)
		}
		if _, err := Replay(j.Batch, endOfTime); err != nil {
			t.Errorf("%s: %v", s.says, err)
		}
	}
}

// Ensure that undoing all the way comes to the must and stops there.
func TestBatch_LastUndoable(t *testing.T) {
	j := brew(Mead, 10, 1.1, WineYeast).read(2, 1.09).on(1, Note{Text: "written later, happened earlier"})
	for _, want := range []EntryID{4, 3, 2} {
		got, ok := j.LastUndoable()
		if !ok || got.ID != want {
			t.Fatalf("an undo strikes out %d, want %d", got.ID, want)
		}
		j.on(9, Void{Entry: got.ID})
	}
	if got, ok := j.LastUndoable(); ok {
		t.Errorf("an undo strikes out %d, want nothing", got.ID)
	}
	if got, ok := (Batch{}).LastUndoable(); ok {
		t.Errorf("an undo in an empty journal strikes out %d", got.ID)
	}
}

// Ensure that what is undone and redone at random leaves the state as it was.
func TestBatch_UndoRedo(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := brew(Mead, 10, 1.1, WineYeast).read(2, 1.09, 4, 1.07, 6, 1.05)
		struck := make(map[EntryID]EntryID) // by which void
		for range rapid.IntRange(0, 12).Draw(t, "steps") {
			target := EntryID(rapid.IntRange(2, 5).Draw(t, "entry"))
			if void, ok := struck[target]; ok {
				j.on(9, Void{Entry: void})
				delete(struck, target)
				continue
			}
			j.on(9, Void{Entry: target})
			struck[target] = j.Entries[len(j.Entries)-1].ID
		}
		for id := EntryID(1); id <= 5; id++ {
			_, gone := struck[id]
			if live := slices.Contains(liveIDs(j.Batch), id); live == gone {
				t.Fatalf("entry %d: live %v, struck out %v", id, live, gone)
			}
		}
	})
}

// Ensure that entries come in the order things happened, whenever they were written,
// and that a must written down anew comes before the pitch of the same minute.
func TestBatch_Live_Order(t *testing.T) {
	j := brew(Mead, 10, 1.1, WineYeast).read(6, 1.05, 2, 1.09)
	if got := liveIDs(j.Batch); !slices.Equal(got, []EntryID{1, 2, 4, 3}) {
		t.Errorf("live entries %v, want the earlier reading first", got)
	}
	j.on(6, Void{Entry: 1}).on(0, Must{Vessel: 1, Volume: 12, Gravity: 1.11})
	if got := liveIDs(j.Batch); !slices.Equal(got, []EntryID{6, 2, 4, 3}) {
		t.Errorf("live entries %v, want the new must first", got)
	}
	if s := j.replay(t); s.Original < 1.1099 || !s.Started.Equal(day0) {
		t.Errorf("from %v, started %v", s.Original, s.Started)
	}
	if got := j.Started(); !got.Equal(day0) {
		t.Errorf("Started = %v", got)
	}
	if got := (Batch{}).Started(); !got.IsZero() {
		t.Errorf("an empty journal started %v", got)
	}
}

// Ensure that voids that strike out nothing are refused by the name of the entry.
func TestReplay_Voids(t *testing.T) {
	for name, target := range map[string]EntryID{"nothing": 0, "what is not there": 40, "itself": 4, "what comes after it": 5} {
		j := brew(Mead, 10, 1.1, WineYeast).read(2, 1.09).on(3, Void{Entry: target}).read(4, 1.07)
		if _, err := Replay(j.Batch, endOfTime); !errors.Is(err, ErrInvalid) || !strings.Contains(err.Error(), "entry 4, void") {
			t.Errorf("a void of %s: error %v, want one that names entry 4", name, err)
		}
	}
}

func TestBatch_Validate(t *testing.T) {
	for name, c := range map[string]struct {
		b  Batch
		ok bool
	}{
		"a name and a drink": {Batch{Name: "Heather", Drink: Mead}, true},
		"no name":            {Batch{Name: " ", Drink: Mead}, false},
		"no drink":           {Batch{Name: "Heather"}, false},
		"an unknown drink":   {Batch{Name: "Heather", Drink: "tea"}, false},
		"a long name":        {Batch{Name: strings.Repeat("x", maxName+1), Drink: Mead}, false},
		"an escape":          {Batch{Name: "a\x1b[2J", Drink: Mead}, false},
	} {
		if err := c.b.Validate(); (err == nil) != c.ok || err != nil && !errors.Is(err, ErrInvalid) {
			t.Errorf("%s: error %v", name, err)
		}
	}
}
