package e2e

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"cellar.local/glassrow/data"
	"cellar.local/glassrow/ui"
	"cellar.local/glassrow/ui/uitest"
)

// handbookIn opens a dashboard on the demo cellar with own rows in folder.
func handbookIn(t *testing.T, folder string, w, h int) session {
	t.Helper()
	store, err := data.Open(newDemo(t))
	if err != nil {
		t.Fatal(err)
	}
	c := &clock{evening}
	o := options(t, c)
	own := data.HandbookIn(folder)
	o.Store, o.Handbook = store, own
	if l, err := own.Larder(); err == nil {
		o.Sweeteners, o.Fruits = l.Sweeteners, l.Fruits
	}
	return session{uitest.Start(t, ui.New(o), w, h), store, c}
}

// field walks to a field of a form.
func field(s session, name string) session {
	for range 30 {
		if strings.Contains(s.Text(), "▸ "+name+" ") {
			break
		}
		s.Press("tab")
	}
	return s
}

// Ensure that a row is found by name, alias and kind, in the order asked for, and
// told in full.
func TestHandbook_SearchSortLook(t *testing.T) {
	s := handbookIn(t, t.TempDir(), 80, 24)
	s.Press("h").See("Handbook: sweeteners", "as listed", "▸ honey")
	s.Press("/").Type("runny").See("1 row", "honey").DontSee("white sugar").Press("ctrl+u").Type("viscous table").See("▸ honey, US food table", "2 rows")
	s.Type("zz").See("nothing is called that").Press("esc").See("41 rows", "▸ honey")
	s.Press("o").See("by name", "▸ honey").Press("o").See("by sugar").Press("home").See("▸ white sugar")
	s.Press("o").See("by yeast's share").Press("o").See("by sweetness").Press("home").See("▸ sucralose")
	s.Press("tab").See("Handbook: fruit", "▸ apple", "3.3-4.0").Press("tab").See("Handbook: sweeteners", "by sweetness").Press("tab")
	s.Type("/stone plum").See("▸ plum", "plum, Victoria").DontSee("peach").Press("enter", "enter")
	// USDA SR26 (2013) NDB 09279: plums.
	s.See("Handbook: fruit, 1 of", "87.2 g water", "1.57 g sucrose", "pulp that never dissolves", "half of it leaves the whole fruit in 48 hours", "printed in the handbook")
	s.Press("down", "down", "down", "down", "down", "down").See("Stones hold a cyanide-forming substance", "USDA SR26").Press("right").See("2 of").Press("esc", "esc").See("apple").Press("esc").See("Sea-buckthorn")
}

// Ensure that a person's own sweetener can be used in the planner as soon as it is
// written, is there after a restart, can be changed, and goes when asked.
func TestHandbook_OwnRow(t *testing.T) {
	folder := t.TempDir()
	s := handbookIn(t, folder, 80, 24)
	s.Press("h", "n").See("A row of your own", "not yet: water: ")
	s.Type("heather comb").Press("tab").Type("ling").Press("tab", "tab").Type("20").Press("tab", "tab").Type("36 %").Press("tab").Type("much")
	s.Press("enter").See("fructose", "\"much\" is not understood; write 17.2%").Press("ctrl+u").Type("40%").Press("enter", "enter", "enter")
	s.See("not yet: water: the parts of the row add up to 96.00 %").Type("4").See("yeast can use 76.0 g", "not yet: source: it is empty")
	field(s, "source").Screen.Type("my refractometer").See("yeast can use 76.0 g of 100 g", "100 g made up to a litre read 1.0").DontSee("not yet")
	s.Press("enter").See("heather comb is in your handbook", "▸ heather comb", "own")
	s.Press("esc").Press("end", "up", "s").See("‹ 1 heather comb ›").Press("esc")

	again := handbookIn(t, folder, 80, 24)
	again.Press("h").Type("/ling").Press("enter").See("▸ heather comb", "own", "76.0").Press("e").See("Your own row", "heather comb", "20%")
	again.Press("tab", "tab", "tab", "ctrl+u").Type("21%").Press("tab", "tab", "ctrl+u").Type("35g").Press("enter").See("is in your handbook", "75.0")
	again.Press("x").See("Take your own row heather comb away?").Press("n").See("heather comb").Press("x", "y").See("is taken away").DontSee("▸ heather comb")
	text, err := os.ReadFile(filepath.Join(folder, "sweeteners.csv"))
	if err != nil || strings.Contains(string(text), "heather") {
		t.Errorf("the file still holds %q, %v", text, err)
	}
}

// Ensure that figures in place of a printed row say whose they are, and that the
// printed row comes back.
func TestHandbook_OwnFiguresInPlace(t *testing.T) {
	folder := t.TempDir()
	s := handbookIn(t, folder, 180, 50)
	s.Press("h", "x").See("honey is printed in the handbook and stays")
	s.Press("tab", "e").See("In place of the handbook's apple", "my own, after USDA", "3.3-4.0", "6-8g/kg", "48h")
	field(s, "pH").Press("ctrl+u").Type("3.1-3.2").Press("enter").See("apple is in your handbook", "3.1-3.2", "your own figures, in place of the handbook's", "pH 3.10 to 3.20")
	s.Press("x").See("Those of the handbook come back").Press("y").See("is taken away", "3.3-4.0", "printed in the handbook")
}

// Ensure that a file damaged by hand is named with its row and what to do, that the
// tables in use stay, and that nothing typed is lost.
func TestHandbook_DamagedFile(t *testing.T) {
	folder := t.TempDir()
	s := handbookIn(t, folder, 180, 50)
	s.Press("h", "e").See("In place of the handbook's honey").Press("enter").See("honey is in your handbook").Press("e")
	path := filepath.Join(folder, "sweeteners.csv")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	bad := strings.Replace(string(text), ",17.2,", ",a lot,", 1)
	if err := os.WriteFile(path, []byte(bad), 0o600); err != nil {
		t.Fatal(err)
	}
	s.Press("ctrl+u").Type("our honey").Press("enter").See("not written: your own rows in", "sweeteners.csv", `row "honey_average" on line 2, column water_pct: "a lot" is not a number`, "mend it with a text editor", "our honey")
	s.Press("esc", "esc").Press("h").See(`column water_pct: "a lot" is not a number`, "▸ honey")
	if now, err := os.ReadFile(path); err != nil || string(now) != bad {
		t.Errorf("the damaged file was written over: %q, %v", now, err)
	}
	if err := os.WriteFile(path, text, 0o600); err != nil {
		t.Fatal(err)
	}
	s.Press("esc", "h").DontSee("is not a number").See("▸ honey", "own")
}

// Ensure that a save that is under way is waited for, and that leaving the form does
// not make the row disappear.
func TestHandbook_QuitWhileSaving(t *testing.T) {
	folder := t.TempDir()
	s := handbookIn(t, folder, 80, 24)
	s.Press("h", "e")
	s.Hold().Press("enter").See("saving").Release()
	s.See("honey is in your handbook").Press("esc", "q")
	if l, err := data.HandbookIn(folder).Larder(); err != nil || !s.Left() || !l.Sweeteners[0].Origin.Own() {
		t.Errorf("left %t, %v, want honey one's own", s.Left(), err)
	}
}

// Ensure that a must being built follows the handbook, and finds what was added.
func TestHandbook_MustFollows(t *testing.T) {
	s := handbookIn(t, t.TempDir(), 80, 24)
	turnTo(s.Screen, "N6")
	s.Press("i", "n").Type("honey").Press("enter")
	gravity := func() string {
		for line := range strings.SplitSeq(s.Text(), "\n") {
			if strings.Contains(line, "gravity") {
				return line
			}
		}
		return ""
	}
	before := gravity()
	s.Press("esc", "h").Type("/honey").Press("enter", "e", "ctrl+u").Type("wet honey").Press("tab", "tab", "tab", "ctrl+u").Type("37.2%")
	s = field(s, "glucose")
	s.Press("ctrl+u").Type("11.28%").Press("enter").See("wet honey is in your handbook").Press("q", "i").See("wet honey")
	if after := gravity(); before == "" || after == before {
		t.Errorf("gravity with the printed honey %q, with the own one %q; want another", before, after)
	}
	s.Press("n").Type("wet h").See("wet honey")
}
