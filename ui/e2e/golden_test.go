package e2e

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"cellar.local/glassrow/ui"
	"cellar.local/glassrow/ui/plot"
	"cellar.local/glassrow/ui/uitest"
)

var update = flag.Bool("update", false, "rewrite the golden screens")

// Ensure that the screens look as they did when somebody last looked at them.
// Behaviour is asserted elsewhere; these are for the eye.
func TestScreens_Golden(t *testing.T) {
	for _, size := range [][2]int{{45, 30}, {80, 24}, {180, 50}} {
		for name, keys := range map[string]func(*uitest.Screen){
			"done":     func(s *uitest.Screen) { turnTo(s, "S4") },
			"forecast": func(s *uitest.Screen) { turnTo(s, "N1") },
			"hazard":   func(s *uitest.Screen) { turnTo(s, "S3") },

			"shelf":   func(*uitest.Screen) {},
			"reading": func(s *uitest.Screen) { s.Press("r").Type("1.050 @25c") },
			"sweeten": func(s *uitest.Screen) { s.Press("end", "up", "s").Press("right", "right", "pgup") },
			"desk": func(s *uitest.Screen) {
				s.Press("end", "up", "s").Type("t1.008").Press("enter", "=", "n", "m", "tab", "p").Type("14.50").Press("enter")
			},
			"bench": func(s *uitest.Screen) {
				s.Press("end", "up", "t", "tab").Type("w").Press("tab", "tab", "tab", "tab", "tab", "right")
			},
			"fizz": func(s *uitest.Screen) { s.Press("end", "up", "z", "tab").Type("s").Press("right") },
			"must": func(s *uitest.Screen) {
				turnTo(s, "N6")
				s.Press("i", "n").Type("honey").Press("enter", "n").Type("damson").Press("enter", "up", "t").Type("1.095").Press("enter", "f").Type("40% in 3").Press("enter", "y")
			},
			"keep":         func(s *uitest.Screen) { s.Press("end", "up", "s").Type("t1.008").Press("enter", "r") },
			"journal":      func(s *uitest.Screen) { s.Press("l", "down") },
			"handbook":     func(s *uitest.Screen) { s.Press("h", "tab").Type("/plum").Press("enter", "down") },
			"handbook_row": func(s *uitest.Screen) { s.Press("h", "enter") },
			"handbook_own": func(s *uitest.Screen) { s.Press("h", "tab", "e") },

			"help":    func(s *uitest.Screen) { s.Press("?") },
			"bottles": func(s *uitest.Screen) { s.Press("c") },
			"due":     func(s *uitest.Screen) { s.Press("d", "j", "p").Type("fri") },
		} {
			t.Run(fmt.Sprintf("%s_%dx%d", name, size[0], size[1]), func(t *testing.T) {
				s := openAt(t, newDemo(t), &clock{evening}, size[0], size[1])
				keys(s.Screen)
				golden(t, s.Fits().Text())
			})
		}
	}
}

// turnTo walks to a vessel.
func turnTo(s *uitest.Screen, label string) {
	s.Press("home")
	for range 12 {
		for line := range strings.SplitSeq(s.Text(), "\n") {
			if strings.HasPrefix(line, "▸") && strings.Contains(line, " "+label+" ") {
				return
			}
		}
		s.Press("down")
	}
}

// Ensure that a terminal without Unicode gets pure ASCII.
func TestScreens_ASCII(t *testing.T) {
	path := newDemo(t)
	s := openAt(t, path, &clock{evening}, 80, 24)
	o := options(t, s.clock)
	o.Store, o.Glyphs = s.store, ui.GlyphsFor(plot.ASCII)
	plain := uitest.Start(t, ui.New(o), 80, 24)
	look := func() {
		t.Helper()
		for i, r := range plain.Text() {
			if r > 126 {
				t.Fatalf("byte %d is %q on an ASCII screen:\n%s", i, r, plain.Text())
			}
		}
	}
	look()
	golden(t, plain.Text())
	for range 12 { // every standing, with its verdict and forecast
		plain.Press("down")
		look()
		plain.Resize(180, 50)
		look()
		plain.Resize(80, 24)
	}
	plain.Press("home")
	for _, keys := range [][]string{{"r", "1", "@", "2", "1", "c", "esc"}, {"s", "right", "r", "esc", "=", "m", "t", "esc", "enter", "n", "esc"}, {"z", "right", "right", "tab", "esc"}, {"t", "ctrl+p", "esc", "esc"}, {",", ",", "l", "x", "esc", "f", "f", "f", "o", "esc"}, {"d", "j", "p", "2", "d", "esc", "n", "esc", "esc"}, {"v", "esc"}, {"i", "n", "h", "o", "n", "e", "y", "enter", "y", "c", "esc"}, {"?", "esc"}} {
		for _, k := range keys {
			plain.Press(k)
			look()
		}
	}
}

// golden compares text with the file named after the test.
func golden(t *testing.T, got string) {
	t.Helper()
	file := filepath.Join("testdata", t.Name()+".golden")
	got = trimRight(got)
	if *update {
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("the screen differs from %s; run with -update after looking at it:\n%s", file, got)
	}
}

func trimRight(screen string) string {
	lines := strings.Split(screen, "\n")
	for i, l := range lines {
		lines[i] = strings.TrimRight(l, " ")
	}
	return strings.Join(lines, "\n") + "\n"
}
