package cli_test

import (
	"bytes"
	"errors"
	"strings"
	"testing"
	"time"
	"unicode"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui"
	"cellar.local/glassrow/ui/cli"
	"cellar.local/glassrow/ui/cli/clitest"
)

// hostile is a cellar that somebody else wrote: every text in it tries to take
// over the terminal.
func hostile(t *testing.T) *memory {
	t.Helper()
	const evil = "\x1b]0;owned\x07\u009b2J\u202e"
	disk := shelves{}
	if _, err := disk.demo("/hostile.db", clitest.Start); err != nil {
		t.Fatal(err)
	}
	m := disk["/hostile.db"]
	m.settings.CellarName = "C" + evil
	m.vessels[0].Place += evil
	m.vessels[1].Label += evil
	m.vessels[1].Place += evil
	b := &m.batches[0]
	b.Name += evil
	add := func(body model.Body) {
		b.Entries = append(b.Entries, model.Entry{ID: model.EntryID(len(b.Entries) + 1), At: clitest.Start.Add(-time.Hour), Body: body})
	}
	add(model.Note{Text: "note" + evil})
	add(model.Addition{Portion: model.Portion{Ingredient: sweeteners()[1].Ingredient, Mass: 10}, Purpose: "sweeten" + evil})
	add(model.Pitch{Yeast: model.WineYeast, Name: "yeast" + evil})
	add(model.Void{Entry: b.Entries[len(b.Entries)-3].ID, Reason: "reason" + evil})
	return m
}

func run(store ui.Store, out, errs interface{ Write([]byte) (int, error) }, args ...string) int {
	return cli.Run(cli.Deps{
		Open:       func(string) (ui.Store, error) { return store, nil },
		Sweeteners: sweeteners(), Now: func() time.Time { return clitest.Start }, Getenv: func(name string) string {
			return map[string]string{"HOME": "/home", "LANG": "C.UTF-8"}[name]
		},
		In: strings.NewReader(""), Out: out, Err: errs,
	}, args)
}

// Ensure that nothing in a cellar reaches the terminal as anything but text.
func TestRun_ControlCharacters(t *testing.T) {
	for _, line := range []string{
		"glance", "glance --json", "vessel list", "vessel list --json", "journal N1", "journal N1 --json", "pitch N1 --yeast wine",
		"record N1 1.030", "record N1 1.030 --json", "sweeten N1 --with honey --amount 20g", "sweeten N1 --with honey --amount 20g --json",
		"start X --vessel N1 --kind mead --volume 1L --gravity 1.1", "record Q1 1.030", "undo N1", "__complete record N", "__complete start X --vessel N",
	} {
		t.Run(line, func(t *testing.T) {
			var out, errs bytes.Buffer
			run(hostile(t), &out, &errs, strings.Fields(line)...)
			said := out.String() + errs.String()
			if !strings.Contains(said, "owned") {
				t.Fatalf("it said nothing out of the cellar:\n%s", said)
			}
			if strings.HasPrefix(line, "__complete") {
				said = strings.ReplaceAll(said, "\t", " ") // what the shell splits at
			}
			for _, r := range said {
				if r != '\n' && !unicode.IsPrint(r) {
					t.Fatalf("it printed %U:\n%q", r, said)
				}
			}
		})
	}
}

// fullDisk is standard output when the disk is full.
type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errors.New("no space left") }

// Ensure that an answer that could not be written is not taken for success.
func TestRun_FullDisk(t *testing.T) {
	for _, line := range []string{"glance", "glance --json", "calc gravity 1.048", "journal N1"} {
		var errs bytes.Buffer
		if code := run(hostile(t), fullDisk{}, &errs, strings.Fields(line)...); code == 0 || !strings.Contains(errs.String(), "no space left") {
			t.Errorf("%s with a full disk: exit code %d, %q", line, code, errs.String())
		}
	}
}

// Ensure that a store's refusal reaches the person in its own words.
func TestRun_StoreFails(t *testing.T) {
	var out, errs bytes.Buffer
	code := cli.Run(cli.Deps{
		Open:   func(string) (ui.Store, error) { return nil, errors.New("open cellar /x: locked by another session") },
		Now:    time.Now,
		Getenv: func(string) string { return "/x" }, Out: &out, Err: &errs,
	}, []string{"glance", "--json"})
	if code != 1 || out.Len() != 0 || errs.String() != "glassrow: open cellar /x: locked by another session\n" {
		t.Errorf("exit code %d, stdout %q, stderr %q", code, out.String(), errs.String())
	}
}

// Ensure that every command has a short help and an example that begins with it.
func TestNew_Help(t *testing.T) {
	root := cli.New(cli.Deps{Getenv: func(string) string { return "" }})
	for _, c := range root.Commands() {
		if c.Short == "" || c.GroupID == "" {
			t.Errorf("%s has no help or stands in no group", c.CommandPath())
		}
		for _, sub := range append(c.Commands(), c) {
			if sub.HasSubCommands() || c.Name() == "completion" || c.Name() == "help" {
				continue
			}
			for _, line := range strings.Split(sub.Example, "\n") {
				if !strings.HasPrefix(line, "  "+sub.CommandPath()) {
					t.Errorf("an example of %s is %q", sub.CommandPath(), line)
				}
			}
		}
	}
}
