package e2e

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// Ensure that a whole life can be written as a script for any shell, run by the program
// as it is built: every command succeeds, answers with one JSON object where that is
// asked for, and leaves a cellar that is sound and comes back from its export and its
// backup as it was.
func TestLife_ByShellScript(t *testing.T) {
	shell, err := exec.LookPath("sh")
	if err != nil {
		t.Skip("no sh here")
	}
	dir := t.TempDir()
	if out, err := exec.Command("go", "build", "-o", filepath.Join(dir, "glassrow"), "../..").CombinedOutput(); err != nil {
		t.Fatalf("go build: %v\n%s", err, out)
	}
	script, err := filepath.Abs(filepath.Join("testdata", "life.sh"))
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(shell, "-eu", script)
	cmd.Dir = dir
	cmd.Env = []string{"PATH=" + dir + ":" + os.Getenv("PATH"), "HOME=" + dir, "XDG_DATA_HOME=" + filepath.Join(dir, "data"), "TZ=UTC", "LANG=C.UTF-8"}
	var complaints strings.Builder
	cmd.Stderr = &complaints
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v\n%s\n%s", err, out, complaints.String())
	}
	answers := make(map[string]map[string]any) // by what the script calls them
	for _, line := range strings.Split(strings.TrimSpace(string(out)), "\n") {
		name, text, _ := strings.Cut(line, " ")
		var object map[string]any
		if err := json.Unmarshal([]byte(text), &object); err != nil {
			t.Fatalf("%s: %v in %s", name, err, text)
		}
		answers[name] = object
	}
	near := func(answer, key string, want, tolerance float64) {
		t.Helper()
		if got, ok := answers[answer][key].(float64); !ok || got < want-tolerance || got > want+tolerance {
			t.Errorf("%s: %s is %v, want %v ± %v", answer, key, answers[answer][key], want, tolerance)
		}
	}
	near("pressed", "volume_l", 18.5, 1e-6)
	near("racked", "volume_l", 17.5, 1e-6)
	near("racked", "sg", 0.995, 1e-6)
	near("sweetened", "sweetness_g_l", 30, 1e-3)
	near("bottled", "bottles", 18, 0)
	near("tenth", "bottles_left", 8, 0)
	if answers["checked"]["sound"] != true {
		t.Errorf("check: %v", answers["checked"])
	}
	read := func(name string) string {
		t.Helper()
		text, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	}
	if first, again := read("cellar.jsonl"), read("again.jsonl"); first != again {
		t.Errorf("the imported cellar comes out differently:\n%s", firstDifferent(first, again))
	}
	if first, back := read("cellar.jsonl"), read("restored.jsonl"); first != back {
		t.Errorf("the restored cellar comes out differently:\n%s", firstDifferent(first, back))
	}
	if sheet := read("sheet.html"); !strings.Contains(sheet, "the tenth") || !strings.Contains(sheet, "contains sulphites") {
		t.Error("the sheet lacks the tenth bottle, or the sulphites")
	}
	if ics := read("cellar.ics"); !strings.HasPrefix(ics, "BEGIN:VCALENDAR\r\n") || !strings.Contains(ics, "taste a bottle") {
		t.Errorf("the calendar: %s", ics)
	}
}

// firstDifferent returns the first line that two texts do not share.
func firstDifferent(a, b string) string {
	x, y := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range min(len(x), len(y)) {
		if x[i] != y[i] {
			return x[i] + "\n" + y[i]
		}
	}
	return "one is longer"
}
