package model

import "testing"

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
