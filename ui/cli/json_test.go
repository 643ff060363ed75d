package cli

import (
	"encoding/json"
	"math"
	"runtime/debug"
	"strings"
	"testing"
	"time"
	"unicode"
)

// Ensure that figures keep seven digits and are always numbers or null.
func TestNumber_MarshalJSON(t *testing.T) {
	for in, want := range map[float64]string{
		1.0823456789: "1.082346",
		998.203123:   "998.2031",
		1234567.8:    "1234568",
		12345678901:  "12345680000",
		0.04:         "0.04",
		1e-9:         "0.000000001",
		0:            "0",
		3e-14:        "0",
		-3e-14:       "0",
		math.Inf(1):  "null",
		math.Inf(-1): "null",
		-12.00000001: "-12",
	} {
		got, err := json.Marshal(number(in))
		if err != nil || string(got) != want {
			t.Errorf("number(%v) = %s, %v, want %s", in, got, err, want)
		}
	}
	for _, odd := range []float64{math.NaN(), math.Copysign(0, -1)} {
		got, err := json.Marshal(number(odd))
		if err != nil || string(got) != "null" && string(got) != "0" {
			t.Errorf("number(%v) = %s, %v, want null or 0", odd, got, err)
		}
	}
}

// Ensure that a time is UTC and that never is null.
func TestStamp_MarshalJSON(t *testing.T) {
	at := time.Date(2026, 11, 20, 18, 30, 5, 99, time.FixedZone("two east", 7200))
	for want, in := range map[string]time.Time{`"2026-11-20T16:30:05Z"`: at, "null": {}} {
		got, err := json.Marshal(stamp(in))
		if err != nil || string(got) != want {
			t.Errorf("stamp(%v) = %s, %v, want %s", in, got, err, want)
		}
	}
}

// Ensure that whatever text is in a cellar, its JSON holds nothing that a terminal
// obeys, and still means the same text.
func FuzzEscapeUnprintable(f *testing.F) {
	for _, s := range []string{"heather", "\x1b[2J", "a\u009bb", "\u202e", "\U000e0041", "\u2028", "čučo"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		raw, err := json.Marshal(strings.ToValidUTF8(text, "?"))
		if err != nil {
			t.Fatal(err)
		}
		safe := escapeUnprintable(string(raw))
		if strings.ContainsFunc(safe, func(r rune) bool { return !unicode.IsPrint(r) }) {
			t.Errorf("%q is printed as %q", text, safe)
		}
		var back string
		if err := json.Unmarshal([]byte(safe), &back); err != nil || back != strings.ToValidUTF8(text, "?") {
			t.Errorf("%q comes back as %q, %v", text, back, err)
		}
	})
}

// Ensure that a build can be told from another.
func TestVersionOf(t *testing.T) {
	info := &debug.BuildInfo{GoVersion: "go1.26.0", Settings: []debug.BuildSetting{
		{Key: "vcs.revision", Value: "0123456789abcdef"}, {Key: "vcs.modified", Value: "true"}}}
	for version, want := range map[string]string{
		"":        "devel 0123456789ab modified go1.26.0",
		"(devel)": "devel 0123456789ab modified go1.26.0",
		"v0.0.0-20261120183000-0123456789ab+dirty": "v0.0.0-20261120183000-0123456789ab+dirty go1.26.0",
	} {
		info.Main.Version = version
		if got := versionOf(info); got != want {
			t.Errorf("versionOf(%q) = %q, want %q", version, got, want)
		}
	}
}
