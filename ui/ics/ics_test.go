package ics

import (
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/emersion/go-ical"
	"pgregory.net/rapid"
)

func written(t interface{ Fatal(...any) }, c Calendar) string {
	var b strings.Builder
	if err := c.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

var at = time.Date(2026, 12, 20, 13, 0, 0, 0, time.FixedZone("CET", 3600))

func event(summary string) Event {
	return Event{UID: "1-read@cellar.glassrow", Sequence: 7, Modified: at.Add(-time.Hour), Start: at, Length: 15 * time.Minute,
		Summary: summary, Description: "because; it is, say, \\ time", Location: "N1"}
}

// Ensure that a parser of RFC 5545 reads back what was written, and finds it sound.
func TestCalendar_IsReadBack(t *testing.T) {
	for _, summary := range []string{
		"read", "a,b;c:d\\e\\n", `"quoted" = not`, strings.Repeat("Sauerkirschmost für Großmutter ", 9),
		strings.Repeat("蜂蜜酒", 40), strings.Repeat("🍷", 60), strings.Repeat("x", 75), "two\nlines", "é́́combininǵ",
	} {
		text := written(t, Calendar{Name: "Shed, north; wall", Product: "-//glassrow//due//EN", Events: []Event{event(summary)}})
		cal, err := ical.NewDecoder(strings.NewReader(text)).Decode()
		if err != nil {
			t.Fatalf("%q: %v in\n%s", summary, err, text)
		}
		events := cal.Events()
		if len(events) != 1 {
			t.Fatalf("%q: %d events", summary, len(events))
		}
		e := events[0]
		if got, err := e.Props.Text(ical.PropSummary); err != nil || got != summary {
			t.Errorf("summary %q, %v; want %q", got, err, summary)
		}
		if got, _ := e.Props.Text(ical.PropDescription); got != "because; it is, say, \\ time" {
			t.Errorf("description %q", got)
		}
		if got, err := e.DateTimeStart(time.UTC); err != nil || !got.Equal(at) {
			t.Errorf("start %v, %v; want %v", got, err, at)
		}
		if got, err := e.DateTimeEnd(time.UTC); err != nil || !got.Equal(at.Add(15*time.Minute)) {
			t.Errorf("end %v, %v", got, err)
		}
		if n, err := e.Props.Get(ical.PropSequence).Int(); err != nil || n != 7 {
			t.Errorf("sequence %d, %v", n, err)
		}
		// What it writes in turn it checks against the rules of cardinality first.
		if err := ical.NewEncoder(&strings.Builder{}).Encode(cal); err != nil {
			t.Errorf("%q: not sound: %v", summary, err)
		}
		if len(e.Children) != 1 || e.Children[0].Name != ical.CompAlarm {
			t.Errorf("alarms %v", e.Children)
		}
	}
}

// Ensure that an event that is over says so and does not ring, and that one that is not
// says that too, so that it can come back.
func TestCalendar_Cancelled(t *testing.T) {
	off := event("rack")
	off.UID, off.Cancelled = "1-rack@cellar.glassrow", true
	text := written(t, Calendar{Product: "-//glassrow//due//EN", Events: []Event{event("read"), off}})
	cal, err := ical.NewDecoder(strings.NewReader(text)).Decode()
	if err != nil {
		t.Fatal(err)
	}
	if err := ical.NewEncoder(&strings.Builder{}).Encode(cal); err != nil {
		t.Errorf("not sound: %v", err)
	}
	for i, want := range []struct {
		status ical.EventStatus
		alarms int
	}{{ical.EventConfirmed, 1}, {ical.EventCancelled, 0}} {
		e := cal.Events()[i]
		if status, err := e.Status(); err != nil || status != want.status || len(e.Children) != want.alarms {
			t.Errorf("event %d is %q with %d alarms, %v; want %q with %d", i, status, len(e.Children), err, want.status, want.alarms)
		}
	}
}

// Ensure that whatever a name holds, lines stay within 75 octets of whole runes, nothing
// in a value begins a line of its own, and the text comes back.
func TestCalendar_AnyText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		summary := rapid.String().Draw(t, "summary")
		text := written(t, Calendar{Product: "-//glassrow//due//EN", Events: []Event{event(summary)}})
		if strings.Contains(strings.ReplaceAll(text, "\r\n", ""), "\n") || strings.Contains(strings.ReplaceAll(text, "\r\n", ""), "\r") {
			t.Fatalf("a bare line end in %q", text)
		}
		for line := range strings.SplitSeq(text, "\r\n") {
			if len(line) > octets || !utf8.ValidString(line) {
				t.Fatalf("line of %d octets, whole runes %v: %q", len(line), utf8.ValidString(line), line)
			}
		}
		cal, err := ical.NewDecoder(strings.NewReader(text)).Decode()
		if err != nil || len(cal.Events()) != 1 {
			t.Fatalf("%v of %q", err, text)
		}
	})
}
