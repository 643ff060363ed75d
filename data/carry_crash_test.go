package data

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"cellar.local/glassrow/model"
)

// The roles of carry are played in a folder with a.db, b.db and a.jsonl, an export of
// the first.

// importForEver makes cellar after cellar out of the export.
func importForEver(dir string) error {
	for n := uint64(1); ; n++ {
		path := filepath.Join(dir, "in-"+numberedName(n))
		if _, err := CellarsWith("").ImportFile(path, filepath.Join(dir, "a.jsonl"), false); err != nil {
			return err
		}
		fmt.Println(n)
	}
}

// restoreForEver puts one backup after the other in the place of the cellar.
func restoreForEver(dir string) error {
	for n := 1; ; n++ {
		from := filepath.Join(dir, []string{"a.db", "b.db"}[n%2])
		now := carryNow.Add(time.Duration(n) * time.Second)
		kept, _, err := CellarsWith("").Restore(filepath.Join(dir, "cellar.db"), from, false, now)
		if err != nil {
			return err
		}
		_ = os.Remove(kept)
		fmt.Println(n)
	}
}

// addForEver adds what other cellars have to the cellar, a hundred of them.
func addForEver(dir string) error {
	text, err := os.ReadFile(filepath.Join(dir, "a.jsonl"))
	if err != nil {
		return err
	}
	for n := 1; ; n++ {
		other := strings.NewReplacer(`"name":"`, fmt.Sprintf(`"name":"%d `, n), `"label":"N`, fmt.Sprintf(`"label":"%d-N`, n)).Replace(string(text))
		if _, err := CellarsWith("").Import(filepath.Join(dir, "cellar.db"), strings.NewReader(other), true); err != nil {
			return err
		}
		fmt.Println(n)
	}
}

// noteForEver writes notes with its own number in them, one after the other.
func noteForEver(path string) error {
	s, err := Open(path)
	if err != nil {
		return err
	}
	s.file.patience = 20 * time.Second
	for n := 1; ; n++ {
		text := fmt.Sprintf("%s %d", os.Getenv(noterEnv), n)
		if _, err := s.Append(1, model.Entry{At: carryNow, Recorded: carryNow, Body: model.Note{Text: text}}); err != nil {
			return err
		}
		fmt.Println(n)
	}
}

const noterEnv = "CELLAR_TEST_NOTER"

// carryFolder makes the folder of the roles, and tells what the cellars hold.
func carryFolder(t *testing.T) (dir, a, b string) {
	t.Helper()
	dir = t.TempDir()
	c, s := shed(t, carryNow)
	addSeries(t, s, 1, 3000)
	a = exported(t, c, s.Path())
	if err := os.WriteFile(filepath.Join(dir, "a.jsonl"), []byte(a), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, _, err := c.Backup(s.Path(), filepath.Join(dir, "a.db"), false); err != nil {
		t.Fatal(err)
	}
	readIn(t, s, 1, 9, 1.01)
	b = exported(t, c, s.Path())
	for _, name := range []string{"b.db", "cellar.db"} {
		if _, _, err := c.Backup(s.Path(), filepath.Join(dir, name), false); err != nil {
			t.Fatal(err)
		}
	}
	return dir, a, b
}

// Ensure that an import whose process dies leaves the whole cellar or none.
func TestCellars_Import_Killed(t *testing.T) {
	c := CellarsWith("")
	for range 6 {
		dir, a, _ := carryFolder(t)
		acknowledged := runAndKill(t, "importer", dir)
		for n := uint64(1); n <= acknowledged+1; n++ {
			path := filepath.Join(dir, "in-"+numberedName(n))
			if _, err := Open(path); n > acknowledged && errors.Is(err, ErrNotFound) {
				continue
			}
			if got := exported(t, c, path); got != a {
				t.Errorf("cellar %d of %d differs:\n%s", n, acknowledged, firstDifference(a, got))
			}
		}
	}
}

// Ensure that an import into a cellar with content whose process dies has added all of
// a file or nothing of it.
func TestCellars_ImportAdd_Killed(t *testing.T) {
	for range 6 {
		dir, _, _ := carryFolder(t)
		acknowledged := int(runAndKill(t, "adder", dir))
		path := filepath.Join(dir, "cellar.db")
		wantSound(t, CellarsWith(""), path)
		_, held, err := CellarsWith("").Check(path, false)
		if err != nil {
			t.Fatal(err)
		}
		n := held.Batches - 1
		if n != acknowledged && n != acknowledged+1 || held.Readings != 3000*(n+1) || held.Vessels != 2*(n+1) {
			t.Errorf("%d imports were acknowledged, there is %s", acknowledged, held)
		}
	}
}

// Ensure that there is always one of the two cellars when a restore dies.
func TestCellars_Restore_Killed(t *testing.T) {
	for range 6 {
		dir, a, b := carryFolder(t)
		runAndKill(t, "restorer", dir)
		path := filepath.Join(dir, "cellar.db")
		wantSound(t, CellarsWith(""), path)
		if got := exported(t, CellarsWith(""), path); got != a && got != b {
			t.Errorf("the cellar is neither:\n%s", firstDifference(a, got))
		}
	}
}

// Ensure that other processes may write while a cellar is backed up, checked, exported
// and restored; that each copy is of one moment; and that no acknowledged note is lost:
// it is in the cellar, or in what a restore kept.
func TestCellars_ManyProcesses(t *testing.T) {
	dir, _, _ := carryFolder(t)
	path := filepath.Join(dir, "cellar.db")
	c := CellarsWith("")
	ctx, cancel := context.WithTimeout(t.Context(), 60*time.Second)
	defer cancel()
	acknowledged := make(chan []string)
	var kill []func()
	for _, name := range []string{"first", "second"} {
		cmd := roleCommand(ctx, "noter", path)
		cmd.Env = append(cmd.Env, noterEnv+"="+name)
		cmd.Stderr = nil
		out, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		kill = append(kill, func() { _ = cmd.Process.Kill() })
		go func() { acknowledged <- notesOf(name, out, cmd.Wait) }()
	}
	files := []string{path}
	for i := range 4 {
		backup := filepath.Join(dir, strconv.Itoa(i)+".db")
		if _, faults, err := c.Backup(path, backup, false); err != nil || faults > 0 {
			t.Errorf("backup: %d faults, %v", faults, err)
		}
		wantSound(t, c, backup)
		wantSound(t, c, path)
		before, err := newBoltFile(path, boltOptions{migrations: migrations}).revision()
		if err != nil {
			t.Fatal(err)
		}
		kept, _, err := c.Restore(path, backup, false, carryNow.Add(time.Duration(i)*time.Second))
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, kept)
		after, err := newBoltFile(path, boltOptions{migrations: migrations}).revision()
		if err != nil || after <= before {
			t.Errorf("revision %d after %d, %v", after, before, err)
		}
	}
	for _, k := range kill {
		k()
	}
	told := append(<-acknowledged, <-acknowledged...)
	if len(told) == 0 {
		t.Fatal("no notes were written meanwhile")
	}
	var there strings.Builder
	for _, f := range files {
		there.WriteString(exported(t, c, f))
	}
	for _, note := range told {
		if !strings.Contains(there.String(), `"text":"`+note+`"`) {
			t.Errorf("the note %q is lost", note)
		}
	}
	wantSound(t, c, path)
}

// notesOf collects the notes that a noter has told of until it ends.
func notesOf(name string, out interface{ Read([]byte) (int, error) }, wait func() error) []string {
	var text strings.Builder
	buf := make([]byte, 4096)
	for {
		n, err := out.Read(buf)
		text.Write(buf[:n])
		if err != nil {
			break
		}
	}
	_ = wait()
	var notes []string
	for line := range strings.Lines(text.String()) {
		if n, whole := strings.CutSuffix(line, "\n"); whole {
			notes = append(notes, name+" "+n)
		}
	}
	return slices.Clip(notes)
}
