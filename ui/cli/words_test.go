package cli

import (
	"strings"
	"testing"
	"time"
	"unicode"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// env is an environment for tests.
type env map[string]string

func (e env) get(name string) string { return e[name] }

// Ensure that no text can move the cursor, ring the bell or retitle the window.
func TestWords_Text(t *testing.T) {
	for name, c := range map[string]struct{ in, rich, plain string }{
		"plain words":        {"heather honey", "heather honey", "heather honey"},
		"an escape sequence": {"\x1b]0;owned\x07", "?]0;owned?", "?]0;owned?"},
		"an 8-bit control":   {"a\u009b2Jb", "a?2Jb", "a?2Jb"},
		"line breaks, tabs":  {"a\nb\tc\rd", "a b c?d", "a b c?d"},
		"a change of order":  {"a\u202eb", "a?b", "a?b"},
		"broken UTF-8":       {"a\xffb", "a?b", "a?b"},
		"letters abroad":     {"čučo 12 ±0.3 °C", "čučo 12 ±0.3 °C", "?u?o 12 +-0.3 C"},
	} {
		t.Run(name, func(t *testing.T) {
			if got := (words{}).text(c.in); got != c.rich {
				t.Errorf("text(%q) = %q, want %q", c.in, got, c.rich)
			}
			if got := (words{ascii: true}).text(c.in); got != c.plain {
				t.Errorf("on an ASCII terminal text(%q) = %q, want %q", c.in, got, c.plain)
			}
		})
	}
}

// Ensure that the locale is read as the C library does: the first that is set.
func TestIsUTF8(t *testing.T) {
	for _, c := range []struct {
		env  env
		want bool
	}{
		{env{}, false},
		{env{"LANG": "en_GB.UTF-8"}, true},
		{env{"LANG": "en_GB.utf8"}, true},
		{env{"LANG": "C"}, false},
		{env{"LANG": "en_GB.UTF-8", "LC_ALL": "C"}, false},
		{env{"LANG": "C", "LC_CTYPE": "C.UTF-8"}, true},
		{env{"LANG": "en_GB.UTF-8", "GLASSROW_RUNES": "ascii"}, false},
	} {
		if got := isUTF8(c.env.get); got != c.want {
			t.Errorf("isUTF8 with %v = %v, want %v", c.env, got, c.want)
		}
	}
}

// Ensure that quantities are written in the person's units, in ASCII if need be.
func TestWords_Quantities(t *testing.T) {
	metric, us := words{}, words{us: true, ascii: true}
	for _, c := range []struct{ got, want string }{
		{metric.volume(19), "19.0 L"},
		{metric.fineVolume(19), "19.00 L"},
		{metric.volume(0.75), "750 mL"},
		{us.volume(3.785411784), "1.00 gal"},
		{metric.mass(0.04), "40 mg"},
		{metric.mass(1.5), "1.5 g"},
		{metric.mass(5500), "5500 g"},
		{metric.mass(25000), "25.00 kg"},
		{us.mass(calc.GramsPerPound * 2), "2.00 lb"},
		{us.mass(calc.GramsPerOunce * 2), "2.00 oz"},
		{metric.strength(12.44, 0.26), "12.4 ±0.3 % vol"},
		{us.strength(12.44, 0.26), "12.4 +-0.3 % vol"},
		{metric.points(-12), "-12.0 points"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

// Ensure that ages and due times are told in the largest unit that says enough.
func TestAgeAndDue(t *testing.T) {
	now := time.Date(2026, 11, 20, 18, 30, 0, 0, time.UTC)
	ago := func(d time.Duration) string { return age(now.Add(-d), now) }
	in := func(d time.Duration) string { return due(now.Add(d), now) }
	const day = 24 * time.Hour
	for _, c := range []struct{ got, want string }{
		{age(time.Time{}, now), "-"},
		{ago(-time.Hour), "0m"}, {ago(40 * time.Minute), "40m"}, {ago(5 * time.Hour), "5h"}, {ago(3 * day), "3d"},
		{ago(63 * day), "9w"}, {ago(800 * day), "2y"},
		{in(30 * time.Minute), "now"}, {in(-30 * time.Minute), "now"}, {in(5 * time.Hour), "in 5h"}, {in(-2 * day), "2d late"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

// Ensure that no line of a table is longer than asked, whatever is in the cells,
// and that the columns that cannot be spared are there.
func FuzzLines(f *testing.F) {
	f.Add("N1", "Heather mead", "1.034", 80)
	f.Add("N1", "桜の花 mead", "1.034", 45)
	f.Add("", "e\u0301\u0301", "", 20)
	f.Fuzz(func(t *testing.T, label, name, sg string, width int) {
		if width < 20 || width > 500 || len(label) > 1000 {
			t.Skip()
		}
		w := words{}
		columns := []column{
			{title: "vessel", cells: []string{w.text(label)}},
			{title: "batch", least: 8, spare: 1, cells: []string{w.text(name)}},
			{title: "SG", right: true, cells: []string{w.text(sg)}},
		}
		for _, l := range lines(columns, width) {
			if cells(l) > width || strings.ContainsFunc(l, unicode.IsControl) {
				t.Errorf("line %q is %d cells, want at most %d printable ones", l, cells(l), width)
			}
		}
		for _, l := range wrap(w.text(name), width) {
			if cells(l) > width {
				t.Errorf("wrapped line %q is %d cells, want at most %d", l, cells(l), width)
			}
		}
	})
}

// Ensure that the cellar is looked for where the person and the system say.
func TestApp_Path(t *testing.T) {
	for name, c := range map[string]struct {
		flag string
		env  env
		want string // empty: an error
	}{
		"the flag first":          {"/a/b.db", env{"GLASSROW_CELLAR": "/c.db", "HOME": "/h"}, "/a/b.db"},
		"then the environment":    {"", env{"GLASSROW_CELLAR": "/c.db", "HOME": "/h"}, "/c.db"},
		"then the data directory": {"", env{"XDG_DATA_HOME": "/x", "HOME": "/h"}, "/x/glassrow/cellar.db"},
		"a relative one ignored":  {"", env{"XDG_DATA_HOME": "x", "HOME": "/h"}, "/h/.local/share/glassrow/cellar.db"},
		"no home at all":          {"", env{}, ""},
	} {
		t.Run(name, func(t *testing.T) {
			a := app{Deps: Deps{Getenv: c.env.get}, cellar: c.flag}
			got, err := a.path()
			if got != c.want || (err != nil) != (c.want == "") {
				t.Errorf("path() = %q, %v, want %q", got, err, c.want)
			}
		})
	}
}

// Ensure that a complaint ends with what to do, not with the kind of error.
func TestComplaint(t *testing.T) {
	_, err := model.ParseVolume("19")
	if got, want := complaint(err), `volume "19" has no unit; write 19L or 5gal`; got != want {
		t.Errorf("complaint(%q) = %q, want %q", err, got, want)
	}
}
