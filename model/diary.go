package model

import (
	"cmp"
	"fmt"
	"slices"

	"cellar.local/glassrow/calc"
)

// Told is an entry with what the whole journal says about it.
type Told struct {
	Entry
	Counts bool // neither a void nor struck out
	Struck Void // what struck it out; Entry 0: nothing did

	SG     calc.SG // what the gravity of a reading comes to, or an addition makes it; 0: none
	Change float64 // points since the gravity before
	First  bool    // there is no gravity before

	Weighing Weighing // of a reading that holds one; Entry 0: none
	Level    Levelled // likewise

	liquid calc.Liquid
}

// Strength returns the strength when the gravity was read.
func (t Told) Strength() (calc.PercentVol, error) { return t.liquid.Strength() }

// Diary returns the journal in the order in which it happened, what was struck out
// too, with the gravities of the state that it was worked out to. Of a journal that
// could not be worked out they end where that did.
func (b Batch) Diary(s State) []Told {
	points := make(map[EntryID]int, len(s.Curve))
	for i, p := range s.Curve {
		if p.Device {
			continue
		}
		points[p.Entry] = i
	}
	counts := make(map[EntryID]bool, len(b.Entries))
	for _, e := range b.Live() {
		counts[e.ID] = true
	}
	struck := b.strikes()
	out := make([]Told, len(b.Entries))
	for i, e := range b.Entries {
		t := Told{Entry: e, Counts: counts[e.ID]}
		t.Weighing, _ = s.WeighingOf(e.ID)
		t.Level, _ = s.LevelOf(e.ID)
		if by := struck[e.ID]; len(by) > 0 {
			t.Struck = by[len(by)-1].Body.(Void)
		}
		if at, ok := points[e.ID]; ok {
			p := s.Curve[at]
			t.SG, t.liquid, t.First = p.SG, p.Liquid, at == 0
			if at > 0 {
				t.Change = p.SG.Points() - lastByHand(s.Curve[:at]).SG.Points()
			}
		}
		out[i] = t
	}
	slices.SortStableFunc(out, func(x, y Told) int { return cmp.Or(x.At.Compare(y.At), mustFirst(x.Entry, y.Entry)) })
	return out
}

// strikes returns, of every entry that is struck out, the voids in force that do it.
func (b Batch) strikes() map[EntryID][]Entry {
	by := make(map[EntryID][]Entry)
	for i := len(b.Entries) - 1; i >= 0; i-- { // as Live
		e := b.Entries[i]
		if v, ok := e.Body.(Void); ok && len(by[e.ID]) == 0 {
			by[v.Entry] = append(by[v.Entry], e)
		}
	}
	for _, voids := range by {
		slices.Reverse(voids)
	}
	return by
}

// Turn returns what to add to the journal so that an entry that counts is struck out,
// and one that was struck out counts again. A void stands for what it struck out. The
// must stays: without it nothing can be worked out.
func (b Batch) Turn(id EntryID, reason string) (voids []Void, back bool, err error) {
	at := slices.IndexFunc(b.Entries, func(e Entry) bool { return e.ID == id })
	if at < 0 {
		return nil, false, fmt.Errorf("there is no entry %d in this journal: %w", id, ErrInvalid)
	}
	struck := b.strikes()
	body := b.Entries[at].Body
	if v, void := body.(Void); void {
		if by := struck[id]; len(by) > 0 {
			return nil, true, fmt.Errorf("entry %d struck out entry %d, and was itself taken back: %w", id, v.Entry, ErrInvalid)
		}
		return b.Turn(v.Entry, reason)
	}
	for _, v := range struck[id] {
		voids = append(voids, Void{Entry: v.ID, Reason: reason})
	}
	if len(voids) > 0 {
		return voids, true, nil
	}
	if _, must := body.(Must); must {
		return nil, false, fmt.Errorf("the must stays, for all else rests on it: %w", ErrInvalid)
	}
	return []Void{{Entry: id, Reason: reason}}, false, nil
}
