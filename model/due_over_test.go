package model

import (
	"slices"
	"testing"
	"time"
)

// overs says of a journal what ended when, by the key, as key by the entry's number.
func overs(j *journal, since float64) map[string]EntryID {
	out := make(map[string]EntryID)
	for _, o := range DuesOver(j.Batch, map[VesselID]Vessel{1: {ID: 1, Label: "N1", Capacity: 12}}, onDay(since)) {
		out[o.Due.Key] = o.By.ID
	}
	return out
}

// Ensure that the journal tells what was due and is over, and what made an end of it.
func TestDuesOver(t *testing.T) {
	must := Must{Vessel: 1, Volume: 10, Gravity: 1.1}
	for name, c := range map[string]struct {
		j     *journal
		since float64
		want  map[string]EntryID
	}{
		"nothing was":                        {unpitched(Mead, must), 0, nil},
		"the yeast went in":                  {unpitched(Mead, must).on(1, Pitch{Yeast: WineYeast}), 0, map[string]EntryID{"pitch": 2}},
		"too long ago":                       {unpitched(Mead, must).on(1, Pitch{Yeast: WineYeast}), 2, nil},
		"written in the same breath":         {brew(Mead, 10, 1.1, WineYeast), 0, nil},
		"a reminder ticked off":              {brew(Mead, 10, 1.1, WineYeast).on(1, Reminder{What: "corks", Due: onDay(30)}).on(2, Tick{Due: "remind:3"}), 0, map[string]EntryID{"remind:3": 4}},
		"a reminder struck out":              {brew(Mead, 10, 1.1, WineYeast).on(1, Reminder{What: "corks", Due: onDay(30)}).on(2, Void{Entry: 3}), 0, map[string]EntryID{"remind:3": 4}},
		"put off is not over":                {brew(Mead, 10, 1.1, WineYeast).on(1, Reminder{What: "corks", Due: onDay(30)}).on(2, Tick{Due: "remind:3", Until: onDay(40)}), 0, nil},
		"ticked off and brought back":        {brew(Mead, 10, 1.1, WineYeast).on(1, Reminder{What: "corks", Due: onDay(30)}).on(2, Tick{Due: "remind:3"}).on(3, Void{Entry: 4}), 0, nil},
		"done twice: the last counts":        {brew(Mead, 10, 1.1, WineYeast).on(1, Reminder{What: "corks", Due: onDay(30)}).on(2, Tick{Due: "remind:3"}).on(3, Void{Entry: 4}).on(4, Tick{Due: "remind:3"}), 0, map[string]EntryID{"remind:3": 6}},
		"a dose given":                       {brew(Mead, 10, 1.1, WineYeast).on(1, plan(Meal{What: "salts", After: 48 * time.Hour})).on(2, Feed{What: "salts", Plan: 3}), 0, map[string]EntryID{"feed:3:1": 4}},
		"racked off its lees":                {dry().on(30, Rack{To: 1, Volume: 4.5}), 25, map[string]EntryID{"rack": 7}},
		"all bottled: nothing of a vessel":   {dry().on(30, Bottle{Count: 6, Size: 0.75}), 25, map[string]EntryID{"rack": 7, "read": 7, "topup": 7}},
		"readings that proved it struck out": {dry().on(30, Void{Entry: 6}, Void{Entry: 5}), 25, map[string]EntryID{"rack": 8, "topup": 8}},
	} {
		t.Run(name, func(t *testing.T) {
			got := overs(c.j, c.since)
			if len(got) != len(c.want) {
				t.Fatalf("over are %v, want %v", got, c.want)
			}
			for key, by := range c.want {
				if got[key] != by {
					t.Errorf("%s was ended by entry %d, want %d", key, got[key], by)
				}
			}
		})
	}
}

// Ensure that a part split off does not call off what its whole once asked for, nor what
// is over of itself under the numbers of the whole.
func TestDuesOver_OfAPart(t *testing.T) {
	whole := unpitched(Mead, Must{Vessel: 1, Volume: 10, Gravity: 1.1}).on(1, Note{Text: "struck out"}).on(2, Pitch{Yeast: WineYeast}).
		on(3, Void{Entry: 2}).on(4, Reminder{What: "corks", Due: onDay(30)}).on(5, Tick{Due: "remind:5", Until: onDay(40)})
	writings, err := Split(whole.Batch, "Half", Vessel{ID: 2, Label: "N2", Capacity: 5}, 4, onDay(6), onDay(6))
	if err != nil {
		t.Fatal(err)
	}
	part := &journal{writings[0].New}
	for i := range part.Entries {
		part.Entries[i].ID = EntryID(i + 1)
	}
	corks, ok := dueFor(Summarise(part.Batch).Dues, "remind:3")
	if !ok || !corks.At.Equal(onDay(40)) {
		t.Errorf("the part reminds of corks %v on %s, want as it was put off, on %s", ok, corks.At, onDay(40))
	}
	if got := overs(part, 0); len(got) != 0 {
		t.Errorf("of a part just split off %v are over", got)
	}
	part.on(7, Tick{Due: "remind:3"})
	if got := overs(part, 0); len(got) != 1 || got["remind:3"] == 0 {
		t.Errorf("of the part %v are over, want the corks", got)
	}
}

// Ensure that many entries are looked at once a day, and the first and the last of them.
func TestLooksSince_Many(t *testing.T) {
	j := brew(Mead, 10, 1.1, WineYeast)
	for i := range 1000 {
		j.on(1+float64(i)/100, Note{Text: "a look"})
	}
	looks := j.looksSince(onDay(2))
	if len(looks) != 11 || !slices.IsSorted(looks) || looks[len(looks)-1] != len(j.Entries) {
		t.Errorf("%d looks: %v", len(looks), looks)
	}
}
