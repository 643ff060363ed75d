package model

import (
	"strings"
	"testing"
)

// Ensure that only what passed between batches has partners: two sweeteners of one deed,
// and the copied journal of a part, are turned by themselves.
func TestBatch_Partners(t *testing.T) {
	b := brew(Mead, 10, 1.1, WineYeast).read(4, 1.06).Batch
	deed := func(n uint64, body Body) Entry { return Entry{At: onDay(5), Deed: n, Body: body} }
	b = b.With(
		deed(7, Addition{Portion: Portion{Ingredient: sugar, Mass: 10}}), deed(7, Addition{Portion: Portion{Ingredient: sugar, Mass: 20}}),
		deed(8, Draw{Volume: 1, To: 4}),
		deed(9, Draw{Volume: 1}),
		deed(0, Draw{Volume: 1, To: 4}), // written before there were deeds
		deed(10, Void{Entry: 6}),
	)
	for id, want := range map[EntryID]int{3: 0, 4: 0, 5: 0, 6: 1, 7: 0, 8: 0, 9: 1, 99: 0} {
		if got := b.Partners(id); len(got) != want || want == 1 && got[0] != 4 {
			t.Errorf("Partners(%d) = %v, want %d of them", id, got, want)
		}
	}
	for _, id := range []EntryID{4, 3} {
		writings, back, err := b.TurnTogether(id, "misread", onDay(6))
		if err != nil || back || len(writings) != 1 || len(writings[0].Entries) != 1 || writings[0].Entries[0].Body != (Void{Entry: id, Reason: "misread"}) {
			t.Errorf("TurnTogether(%d) = %v, %v, %v", id, writings, back, err)
		}
	}
}

// Ensure that a journal and the part split off it name each other for what is older than
// the split, and only for that.
func TestBatch_CopiedIn(t *testing.T) {
	whole := brew(Mead, 10, 1.1, WineYeast).read(4, 1.06).Batch
	whole.ID, whole.Name = 3, "Mead"
	vessel := Vessel{ID: 9, Label: "S1", Capacity: 5}
	writings, err := Split(whole, "Mead, dry", vessel, 4, onDay(6), onDay(6))
	if err != nil {
		t.Fatal(err)
	}
	drawn := writings[1].Entries[0]
	body := drawn.Body.(Draw)
	body.To = 4 // as the store fills it in
	drawn.Body = body
	whole = whole.With(drawn, Entry{At: onDay(8), Recorded: onDay(8), Body: Reading{Gravity: 1.04}},
		Entry{At: onDay(9), Recorded: onDay(9), Body: Draw{Volume: 1, Why: "split into glasses"}})
	part := writings[0].New
	part.Entries[len(part.Entries)-1].ID = EntryID(len(part.Entries)) // as the store numbers it
	for _, c := range []struct {
		b    Batch
		id   EntryID
		want string
	}{
		{whole, 3, "Mead, dry"}, // the reading of day 4
		{whole, 5, ""},          // that of day 8
		{part, 3, "Mead"},
		{part, part.Entries[len(part.Entries)-1].ID, ""}, // the split itself has a partner
	} {
		if got := strings.Join(c.b.CopiedIn(c.id), "|"); got != c.want {
			t.Errorf("entry %d of %s is copied in %q, want %q", c.id, c.b.Name, got, c.want)
		}
	}
}
