package cli

import (
	"fmt"
	"strings"
	"time"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui"
	"cellar.local/glassrow/ui/ics"
)

// showCalendar writes what is due as a calendar.
func (a *app) showCalendar(store ui.Store, shelf model.Shelf) error {
	name := shelf.Settings.CellarName
	if name == "" {
		name = "Cellar"
	}
	cal := ics.Calendar{Name: name, Product: "-//glassrow//due//EN"}
	batches := make(map[model.BatchID]model.Batch)
	for _, d := range shelf.Dues() {
		id := d.Row.Batch.Batch
		b, ok := batches[id]
		if !ok {
			var err error
			if b, err = store.Batch(id); err != nil {
				return err
			}
			batches[id] = b
		}
		cal.Events = append(cal.Events, dueEvent(d, b, cellarID(shelf)))
	}
	var out strings.Builder
	if err := cal.Write(&out); err != nil {
		return err
	}
	return a.show(out.String())
}

// dueEvent is something due as an event. What is due changes only when its journal does,
// and a journal only grows: the number of its entries is the event's sequence, and its
// last entry the time at which it was changed.
func dueEvent(d model.DueRow, b model.Batch, cellar string) ics.Event {
	e := ics.Event{
		UID:      fmt.Sprintf("%d-%s@%s.glassrow", d.Row.Batch.Batch, strings.ReplaceAll(d.Due.Key, ":", "-"), cellar),
		Sequence: len(b.Entries), Start: d.Due.At, Length: 15 * time.Minute,
		Summary:     fmt.Sprintf("%s %s: %s", dueLabel(d), d.Row.Batch.Name, d.Due.What),
		Description: "Because " + d.Due.Because + ".",
		Location:    d.Row.Vessel.Place,
	}
	for _, entry := range b.Entries {
		if entry.Recorded.After(e.Modified) {
			e.Modified = entry.Recorded
		}
	}
	return e
}

// cellarID tells one cellar from another, wherever its file lies and whatever it is
// called today: by the moment at which its first vessel was added, which never changes.
func cellarID(shelf model.Shelf) string {
	var first model.Vessel
	for _, v := range shelf.Vessels {
		if first.ID == 0 || v.ID < first.ID {
			first = v
		}
	}
	return fmt.Sprintf("%x", first.Added.UnixNano())
}
