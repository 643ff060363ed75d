package e2e

import (
	"testing"

	"cellar.local/glassrow/model"
)

// Ensure that fruit goes in on the dashboard, with the must and later, that the batch
// says what it still holds, and that undo takes it out again.
func TestFruit_InAndBack(t *testing.T) {
	s := open(t, newCellar(t)).addVessel("N6", "23L")
	s.Press("b").See("crush the flesh, not those")
	s.Type("Melomel").Press("tab", "tab").Type("15L").Press("tab").Type("1.080").Press("tab").
		Type("honey 3kg, crushed blackcurrant 4kg").Press("tab", "tab", "tab", "enter")
	s.See("of sugar still in the fruit")
	b, err := s.store.Batch(1)
	if err != nil {
		t.Fatal(err)
	}
	must, ok := b.Entries[0].Body.(model.Must)
	if !ok || len(must.Fruit) != 1 || !must.Fruit[0].Crushed || must.Fruit[0].Mass != 4000 || len(must.Ingredients) != 1 {
		t.Fatalf("the must is %+v", must)
	}
	s.Press("a").Type("honey 1kg, damson 2kg").Press("tab", "tab", "enter").See("write one thing").Press("esc")
	s.Press("a").Type("damson 2kg").Press("tab", "tab", "enter").See("addition written down", "+277 g of sugar still in the fruit")
	if b, err = s.store.Batch(1); err != nil || b.Entries[len(b.Entries)-1].Body.Kind() != model.KindFruit {
		t.Fatalf("the journal ends with %+v, %v", b.Entries[len(b.Entries)-1].Body, err)
	}
	s.Press("u", "y")
	if b, err = s.store.Batch(1); err != nil || b.Entries[len(b.Entries)-1].Body.Kind() != model.KindVoid {
		t.Fatalf("the journal ends with %+v, %v", b.Entries[len(b.Entries)-1].Body, err)
	}
}
