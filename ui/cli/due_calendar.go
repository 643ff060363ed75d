package cli

import (
	"fmt"
	"strings"
	"time"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui"
	"cellar.local/glassrow/ui/ics"
	"cellar.local/glassrow/ui/words"
)

// overFor is how many days what is over stays in the calendar file. Whoever imports it
// more seldom than that keeps in their calendar what was over before.
const overFor = 90

// showCalendar writes what is due as a calendar, and as cancelled what was due and is
// over, so that a calendar that has it lets go of it.
func (a *app) showCalendar(store ui.Store, shelf model.Shelf) error {
	w := calendarWriter{cellar: cellarID(shelf), words: a.words(shelf.Settings), now: a.Now(),
		batches: make(map[model.BatchID]model.Batch), vessels: make(map[model.VesselID]model.Vessel)}
	for _, v := range shelf.Vessels {
		w.vessels[v.ID] = v
	}
	name := shelf.Settings.CellarName
	if name == "" {
		name = "Cellar"
	}
	cal := ics.Calendar{Name: name, Product: "-//glassrow//due//EN"}
	var over []ics.Event
	for _, s := range shelf.Batches {
		b, err := store.Batch(s.Batch)
		if err != nil {
			return err
		}
		w.batches[b.ID] = b
		over = append(over, w.over(b)...)
	}
	for _, d := range shelf.Dues() {
		cal.Events = append(cal.Events, w.due(d))
	}
	cal.Events = append(cal.Events, over...)
	var out strings.Builder
	if err := cal.Write(&out); err != nil {
		return err
	}
	return a.show(out.String())
}

// calendarWriter turns what is due into events.
type calendarWriter struct {
	cellar  string
	words   words.Words
	now     time.Time
	batches map[model.BatchID]model.Batch
	vessels map[model.VesselID]model.Vessel
}

// due is something due as an event. What is due changes only when its journal does,
// and a journal only grows: the number of its entries is the event's sequence, and its
// last entry the time at which it was changed.
func (w calendarWriter) due(d model.DueRow) ics.Event {
	b := w.batches[d.Row.Batch.Batch]
	e := ics.Event{
		UID:      fmt.Sprintf("%d-%s@%s.glassrow", b.ID, strings.ReplaceAll(d.Due.Key, ":", "-"), w.cellar),
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

// over is what was due for a batch in the last months and is no more, as it was told
// last.
func (w calendarWriter) over(b model.Batch) []ics.Event {
	var all []ics.Event
	for _, o := range model.DuesOver(b, w.vessels, w.now.AddDate(0, 0, -overFor)) {
		e := w.due(o.DueRow)
		e.Cancelled = true
		e.Summary = "Over: " + e.Summary // for a calendar that shows it all the same
		on := o.By.Recorded.In(w.now.Location()).Format("2 Jan 2006")
		e.Description = fmt.Sprintf("Over since %s: %s.", on, strings.TrimSuffix(w.words.Entry(o.By.Body, w.label), "."))
		if t, ok := o.By.Body.(model.Tick); ok && t.Due == o.Due.Key {
			e.Description = "Done on " + on + "."
		}
		all = append(all, e)
	}
	return all
}

func (w calendarWriter) label(id model.VesselID) string { return w.vessels[id].Label }

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
