// Package ics writes events as a calendar file (RFC 5545) that any calendar program
// opens. It knows nothing of the program, and reads nothing back.
package ics

import (
	"fmt"
	"io"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"
)

// Calendar is a calendar and its events.
type Calendar struct {
	Name    string
	Product string // who wrote it: -//glassrow//due//EN
	Events  []Event
}

// Event is something at a time. A program that has read an event of the same UID takes
// the one with the higher Sequence for its new version.
//
// It is written as a VEVENT with an alarm and not as a VTODO: half of the calendar
// programs, and most of those on phones, show no to-dos. An event cannot be completed
// (RFC 5545, 3.8.1.11), only cancelled: programs take it out of sight or strike it
// through, and no alarm comes with it.
type Event struct {
	UID         string
	Sequence    int
	Modified    time.Time // when its source was last written
	Start       time.Time
	Length      time.Duration
	Summary     string
	Description string
	Location    string // empty: nowhere
	Cancelled   bool   // it is over; for whoever has read it before
}

// Write writes the calendar. Times are in UTC; without a METHOD the stamp of an event is
// when it was last revised (RFC 5545, 3.8.7.2), so the same cellar gives the same file.
func (c Calendar) Write(w io.Writer) error {
	var out lines
	out.put("BEGIN", "VCALENDAR")
	out.put("VERSION", "2.0")
	out.put("PRODID", escape(c.Product))
	out.put("CALSCALE", "GREGORIAN")
	if c.Name != "" {
		out.put("X-WR-CALNAME", escape(c.Name)) // no standard, but what calendars read
	}
	for _, e := range c.Events {
		e.write(&out)
	}
	out.put("END", "VCALENDAR")
	_, err := io.WriteString(w, out.text.String())
	return err
}

func (e Event) write(out *lines) {
	out.put("BEGIN", "VEVENT")
	out.put("UID", escape(e.UID))
	out.put("DTSTAMP", stamp(e.Modified))
	out.put("LAST-MODIFIED", stamp(e.Modified))
	out.put("SEQUENCE", fmt.Sprint(e.Sequence))
	out.put("DTSTART", stamp(e.Start))
	out.put("DURATION", fmt.Sprintf("PT%dM", int(e.Length.Minutes())))
	out.put("SUMMARY", escape(e.Summary))
	if e.Description != "" {
		out.put("DESCRIPTION", escape(e.Description))
	}
	if e.Location != "" {
		out.put("LOCATION", escape(e.Location))
	}
	out.put("TRANSP", "TRANSPARENT") // nobody is busy for it
	if e.Cancelled {
		out.put("STATUS", "CANCELLED")
		out.put("END", "VEVENT")
		return
	}
	out.put("STATUS", "CONFIRMED") // said, so that what was cancelled can come back
	out.put("BEGIN", "VALARM")
	out.put("ACTION", "DISPLAY")
	out.put("DESCRIPTION", escape(e.Summary))
	out.put("TRIGGER", "PT0S")
	out.put("END", "VALARM")
	out.put("END", "VEVENT")
}

// stamp is a moment in UTC (RFC 5545, 3.3.5, form 2).
func stamp(t time.Time) string { return t.UTC().Format("20060102T150405Z") }

// escape writes a value of type TEXT (RFC 5545, 3.3.11). Control characters are not
// allowed in one and are left out, and so is what is no Unicode.
func escape(s string) string {
	var b strings.Builder
	for _, r := range strings.ReplaceAll(s, "\r\n", "\n") {
		switch {
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\\' || r == ';' || r == ',':
			b.WriteByte('\\')
			b.WriteRune(r)
		case unicode.IsControl(r) || r == utf8.RuneError:
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// lines are content lines, each ended by CRLF.
type lines struct{ text strings.Builder }

// octets is the most of a line without its end (RFC 5545, 3.1).
const octets = 75

// put adds a content line, folded where it is too long: never within a rune, though the
// standard would let one.
func (l *lines) put(name, value string) {
	n := 0
	for _, r := range name + ":" + value {
		if n+utf8.RuneLen(r) > octets {
			l.text.WriteString("\r\n ")
			n = 1
		}
		l.text.WriteRune(r)
		n += utf8.RuneLen(r)
	}
	l.text.WriteString("\r\n")
}
