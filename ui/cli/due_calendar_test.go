package cli_test

import (
	"bytes"
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/emersion/go-ical"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui"
	"cellar.local/glassrow/ui/cli"
	"cellar.local/glassrow/ui/cli/clitest"
)

// desk is somebody with a cellar, a clock and a calendar.
type desk struct {
	t     *testing.T
	store ui.Store
	now   time.Time
}

func (d *desk) does(line ...string) string {
	d.t.Helper()
	var out, errs bytes.Buffer
	if code := cli.Run(cli.Deps{
		Open:       func(string) (ui.Store, error) { return d.store, nil },
		Sweeteners: sweeteners(), Now: func() time.Time { return d.now },
		Getenv: func(name string) string { return map[string]string{"HOME": "/home", "LANG": "C.UTF-8"}[name] },
		In:     strings.NewReader(""), Out: &out, Err: &errs,
	}, line); code != 0 {
		d.t.Fatalf("glassrow %s: %s", strings.Join(line, " "), errs.String())
	}
	return out.String()
}

// diaryOf is a calendar as a program keeps one (RFC 5546, 2.1.5): an event a UID, of
// which a new version takes the place of an older one only.
type diaryOf map[string]*ical.Event

// takes imports a file, checked by the general-purpose parser, and returns its text.
func (c diaryOf) takes(t *testing.T, text string) string {
	t.Helper()
	cal, err := ical.NewDecoder(strings.NewReader(text)).Decode()
	if err != nil {
		t.Fatalf("%v in\n%s", err, text)
	}
	if len(cal.Children) > 0 {
		if err := ical.NewEncoder(&strings.Builder{}).Encode(cal); err != nil {
			t.Fatalf("not sound: %v in\n%s", err, text)
		}
	}
	seen := make(map[string]bool)
	for _, e := range cal.Events() {
		uid := prop(t, e, ical.PropUID)
		if seen[uid] {
			t.Errorf("%s twice in\n%s", uid, text)
		}
		seen[uid] = true
		if old, there := c[uid]; !there || sequence(t, e) > sequence(t, *old) {
			c[uid] = &e
		}
	}
	return text
}

func prop(t *testing.T, e ical.Event, name string) string {
	t.Helper()
	s, err := e.Props.Text(name)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func sequence(t *testing.T, e ical.Event) int {
	t.Helper()
	n, err := e.Props.Get(ical.PropSequence).Int()
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// open is what the calendar still asks for, by batch and key.
func (c diaryOf) open(t *testing.T) []string {
	var out []string
	for uid, e := range c {
		switch status := prop(t, *e, ical.PropStatus); status {
		case "CONFIRMED":
			if len(e.Children) != 1 {
				t.Errorf("%s has %d alarms", uid, len(e.Children))
			}
			out = append(out, uid[:strings.IndexByte(uid, '@')])
		case "CANCELLED":
			if len(e.Children) != 0 {
				t.Errorf("%s is over and rings", uid)
			}
		default:
			t.Errorf("%s is %q", uid, status)
		}
	}
	slices.Sort(out)
	return out
}

// dueNow is what the shelf says is due.
func (d *desk) dueNow() []string {
	shelf, err := d.store.Shelf()
	if err != nil {
		d.t.Fatal(err)
	}
	var out []string
	for _, r := range shelf.Dues() {
		out = append(out, string(rune('0'+r.Row.Batch.Batch))+"-"+strings.ReplaceAll(r.Due.Key, ":", "-"))
	}
	slices.Sort(out)
	return out
}

// Ensure that a calendar that is given the file again and again asks for what is due and
// for nothing else: whether it takes every file or now and then one.
func TestDueCalendar_LetsGo(t *testing.T) {
	d := &desk{t: t, store: &memory{path: "/cellar.db"}, now: clitest.Start}
	often, seldom := diaryOf{}, diaryOf{}
	were := make(map[string]bool)
	for i, step := range []struct {
		wait time.Duration
		line string
	}{
		{0, "vessel add N1 --kind demijohn --capacity 5L"},
		{time.Minute, "vessel add N2 --kind demijohn --capacity 5L"},
		{time.Minute, "start Plum --vessel N1 --kind wine --volume 4.5L --gravity 1.090"},
		{time.Hour, "remind N1 buy corks --at 20dec"},
		{time.Hour, "pitch N1 --yeast wine"},
		{time.Hour, "feed N1 salts 4g --plan thirds"},
		{36 * time.Hour, "record N1 1.080"},
		{time.Hour, "due done N1 feed:4:1"},
		{time.Hour, "due later N1 read 3d"},
		{48 * time.Hour, "record N1 1.040"},
		{96 * time.Hour, "record N1 1.000"},
		{96 * time.Hour, "record N1 0.994"},
		{time.Hour, "undo N1"},
		{time.Hour, "record N1 0.994"},
		{96 * time.Hour, "record N1 0.994"},
		{144 * time.Hour, "record N1 0.994"},
		{time.Hour, "due done N1 remind:2"},
		{time.Hour, "rack N1 --to N2 --volume 4L"},
		{time.Hour, "topup N2 --water 600mL"},
		{24 * time.Hour, "split N2 --to N1 --volume 2L --name Half"},
		{time.Hour, "undo N2"},
		{time.Hour, "bottle N2 --count 6 --size 750mL"},
		{240 * time.Hour, "taste Plum --mark 7 --words fair"},
	} {
		d.now = d.now.Add(step.wait)
		line := strings.Fields(step.line)
		d.does(line...)
		for _, key := range d.dueNow() {
			were[key] = true
		}
		text := often.takes(t, d.does("due", "--ics"))
		if again := d.does("due", "--ics"); again != text {
			t.Errorf("after %q the file is another each time", step.line)
		}
		if got, want := often.open(t), d.dueNow(); !slices.Equal(got, want) {
			t.Fatalf("after %q the calendar asks for %q, due is %q", step.line, got, want)
		}
		if i%4 != 0 {
			continue
		}
		seldom.takes(t, text)
		if got, want := seldom.open(t), d.dueNow(); !slices.Equal(got, want) {
			t.Fatalf("after %q a calendar seldom fed asks for %q, due is %q", step.line, got, want)
		}
	}
	// Nothing is called off that was never on.
	for uid := range often {
		if key := uid[:strings.IndexByte(uid, '@')]; !were[key] {
			t.Errorf("%s was never due", key)
		}
	}
	if len(were) != len(often) || len(were) < 8 {
		t.Errorf("due were %v, the calendar has had %d", slices.Sorted(maps.Keys(were)), len(often))
	}
	text := d.does("due", "--ics")
	for _, want := range []string{"SUMMARY:Over: N1 Plum: buy corks\r\n", "DESCRIPTION:Done on 12 Dec 2026.\r\n", "DESCRIPTION:Over since 12 Dec 2026: racked to N2\\, 4.0 L.\r\n"} {
		if !strings.Contains(strings.ReplaceAll(text, "\r\n ", ""), want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}

	// It does not grow for ever.
	d.now = d.now.AddDate(0, 0, 91)
	if text := d.does("due", "--ics"); strings.Contains(text, "CANCELLED") {
		t.Errorf("after three months it still calls off\n%s", text)
	}
}

// Ensure that a batch that a gauge writes many times an hour is looked at fast enough,
// and what it ended is still told.
func TestDueCalendar_ManyReadings(t *testing.T) {
	m := &memory{path: "/cellar.db"}
	d := &desk{t: t, store: m, now: clitest.Start}
	d.does("vessel", "add", "N1", "--kind", "demijohn", "--capacity", "5L")
	d.does("start", "Plum", "--vessel", "N1", "--kind", "wine", "--volume", "4.5L", "--gravity", "1.090")
	d.now = d.now.Add(time.Minute)
	calendar := diaryOf{}
	calendar.takes(t, d.does("due", "--ics"))
	d.does("pitch", "N1", "--yeast", "wine")
	b := &m.batches[0]
	for i := range 600 {
		at := d.now.Add(time.Duration(i+1) * 20 * time.Minute)
		b.Entries = append(b.Entries, model.Entry{ID: model.EntryID(len(b.Entries) + 1), At: at, Recorded: at, Body: model.Note{Text: "a look"}})
	}
	d.now = d.now.AddDate(0, 0, 10)
	calendar.takes(t, d.does("due", "--ics"))
	if got, want := calendar.open(t), []string{"1-read"}; !slices.Equal(got, want) {
		t.Errorf("the calendar asks for %q, want %q", got, want)
	}
}
