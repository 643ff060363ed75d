package cli

import (
	"strings"
	"testing"
	"time"
	"unicode"
)

// Ensure that whatever a device sends, a line that is taken holds what a reading can be,
// of a time that has been, and says it again when it is written out.
func FuzzParseDeviceLine(f *testing.F) {
	for _, line := range []string{
		"2026-11-20T18:30:00Z,N1,1.034@21c", `2d,"Heather mead","1,034"`, "time,label,reading", ",,", "now,#4,34", "\"",
		"2026-11-20T18:30:00Z,N1,8.5bx", "yesterday-18:30,\x1b]0;x\x07,998", "now,N1,1.034\r", "now,\u202eN1,1.034", "30m,N1,1.034;x",
	} {
		f.Add(line)
	}
	now := time.Date(2026, 11, 20, 18, 30, 0, 0, time.UTC)
	f.Fuzz(func(t *testing.T, line string) {
		d, err := parseDeviceLine(line, now)
		if err != nil {
			return
		}
		if err := d.reading.Validate(); err != nil {
			t.Errorf("%q: %v", line, err)
		}
		if d.reading.At.After(now.Add(time.Minute)) || d.reading.At.Year() < 1970 {
			t.Errorf("%q: at %s", line, d.reading.At)
		}
		if d.name == "" || strings.ContainsFunc(d.name, func(r rune) bool { return unicode.IsControl(r) && r != '\t' }) {
			t.Errorf("%q: named %q", line, d.name)
		}
		again, err := parseDeviceLine(d.reading.At.Format(time.RFC3339Nano)+`,"`+strings.ReplaceAll(d.name, `"`, `""`)+`",`+`"`+d.reading.Reading().String()+`"`, now)
		if err != nil || !again.reading.At.Equal(d.reading.At) || again.name != d.name {
			t.Errorf("%q: written out it is %+v, %v, want %+v", line, again, err, d)
		}
	})
}
