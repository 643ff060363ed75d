package e2e

import (
	"errors"
	"path/filepath"
	"strings"
	"testing"

	"cellar.local/glassrow/data"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui"
	"cellar.local/glassrow/ui/uitest"
)

// Ensure that a new user gets from no file to three readings on three dates
// without leaving the dashboard, and that it is all there after a restart.
func TestFirstRun_FromNothingToThreeReadings(t *testing.T) {
	path := filepath.Join(t.TempDir(), "new", "cellar.db")
	c := &clock{evening}
	o := options(t, c)
	o.Path = path
	o.Create = func(set model.Settings) (ui.Store, error) { return data.Create(path, set) }
	s := session{uitest.Start(t, ui.New(o), 80, 24), nil, c}

	s.See("There is no cellar yet", path).Type("Shed").Press("enter").See("made "+path, "Shed", "No vessels yet")
	s.addVessel("N1", "23L").See("N1", "empty")
	s.startBatch("Heather mead", "19L", "1.104", "6d").See("Heather mead", "1.104", "lag")
	s.Press("r").Type("1.082 @21c !4d").See("1.082 at 21 °C → 1.0823", "Tue 10 Mar").Press("enter").See("N1: 1.082")
	s.Press("r").Type("1.060 !2d; smells of bread").Press("enter").See("N1: 1.060")
	s.Press("r").Type("41").See("1.041").Press("enter").See("1.041", "working")

	open(t, path).See("Shed", "Heather mead", "1.041", "working").Press("l").
		See("reading 1.082, 21 °C", "smells of bread", "must, 19.0 L into N1, at 1.104", "yeast, wine")
}

// Ensure that what another session writes shows up by itself.
func TestDashboard_SeesWhatAnotherSessionWrites(t *testing.T) {
	path := newCellar(t)
	here := open(t, path).addVessel("N1", "23L").startBatch("Perry", "20L", "1.055", "2d")
	there := open(t, path).See("Perry", "1.055")
	there.Press("r").Type("1.043").Press("enter").See("N1: 1.043")
	here.DontSee("1.043")
	here.Send(ui.LookNow()).See("1.043")
}

// Ensure that a reading survives the end of the program and that a slip of the
// finger does not: its text stays and nothing is written.
func TestReading_SurvivesRestart(t *testing.T) {
	path := newCellar(t)
	s := open(t, path).addVessel("N1", "23L").startBatch("Mead", "20L", "1.090", "3d")
	s.Press("r").Type("1.100").Press("enter").See("Odd: 10 points up", "Enter again").Press("ctrl+u")
	s.Type("1.034@21c").See("1.034 at 21 °C").Press("enter").See("N1: 1.034 @21c written down")
	s = open(t, path)
	s.See("1.034").Press("r").Type("9.9").Press("enter").See("could be Brix or points", "9.9")
	s.Press("esc", "u").See("Strike out of Mead: reading 1.034").Press("y").See("struck out").See("1.090")
}

// Ensure that nonsense gets a message that names it and says what to do, and that
// the text stays to be mended.
func TestReading_RefusesWhatCannotBe(t *testing.T) {
	s := open(t, newCellar(t)).addVessel("N1", "23L").startBatch("Mead", "20L", "1.090", "3d")
	for text, reason := range map[string]string{
		"0.3":          "0.3",
		"9.9":          "9.9bx",
		"honey":        `"honey" is not understood`,
		"1.034 @200c":  "200 °C cannot be",
		"1.034 1.035":  "second gravity",
		"ph11":         "pH 11",
		"1.034 !2030":  "2030",
		"1.034 !1jan1": "time",
		"; only words": "type a gravity",
		"1.5":          "1.5",
	} {
		s.Press("r").Type(text).Press("enter").See(reason, text).Press("esc")
	}
	b, err := s.store.Batch(1)
	if err != nil || len(b.Entries) != 2 {
		t.Fatalf("the journal has %d entries, %v; want the must and the yeast", len(b.Entries), err)
	}
}

// Ensure that the round takes one reading a vessel and that skipping leaves one
// out.
func TestRound_WalksTheShelf(t *testing.T) {
	s := open(t, newCellar(t))
	s.Press("w").See("nothing to walk")
	s.addVessel("N10", "23L").startBatch("Third", "20L", "1.050", "3d")
	s.addVessel("N2", "23L").startBatch("Second", "20L", "1.060", "3d")
	s.addVessel("N1", "23L").startBatch("First", "20L", "1.070", "3d")
	s.Press("w").See("1 of 3", "reading of N1").Type("1.060").Press("enter")
	s.See("2 of 3", "reading of N2").Press("tab")
	s.See("3 of 3", "reading of N10").Type("1.045").Press("tab").See("Not written yet").Press("enter")
	s.See("the round is done", "1.060", "1.045")
	s.Press("w", "tab", "shift+tab").See("1 of 3").Press("esc").DontSee("reading of")
}

// Ensure that a sweetener can be tried at will, committed, and taken back to the
// very figures from before.
func TestSweeten_TryCommitUndo(t *testing.T) {
	path := dryWine(t)
	s := open(t, path)
	id := selectLabel(s, "N5")
	before := replay(t, s, id)
	s.Press("s").See("Sweeten N5", "honey")
	for range 5 {
		s.Press("right")
	}
	s.See("points").Press("pgup", "pgdown", "left").Press("t").Type("1.008").Press("enter").See("1.0080")
	s.Press("down").DontSee("honey, floral").Press("t").Type("25g/l").Press("enter").See("25.0 g/L", "medium")
	s.Press("t").Type("off-dry").Press("enter").See("8.0 g/L", "off-dry")
	s.Press("t").Type("0.9").Press("enter").See("0.9").Press("esc")
	s.Press("t").Type("0.990").Press("enter").See("below today's").Press("esc")
	s.Press("t").Type("5kg").Press("enter", "enter").See("would not fit", "holds").DontSee("Stir ")
	s.Press("t").Type("300g").Press("enter", "enter").See("Stir 300 g", "sealed glass can burst").Press("n").See("now")
	s.Press("enter", "y").See("written down")
	after := replay(t, s, id)
	if after.Figures.SG <= before.Figures.SG {
		t.Errorf("after 300 g the gravity is %v, before %v", after.Figures.SG, before.Figures.SG)
	}
	s.Press("u").See("Strike out").Press("y", "esc")
	if undone := replay(t, s, id); undone.Liquid != before.Liquid {
		t.Errorf("undone: %v, before: %v", undone.Figures, before.Figures)
	}
	again, err := data.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	b, err := again.Batch(id)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(b.Entries); b.Entries[n-1].Body.Kind() != model.KindVoid || b.Entries[n-2].Body.Kind() != model.KindAddition {
		t.Errorf("the journal ends with %q and %q, want the addition and its void", b.Entries[n-2].Body.Kind(), b.Entries[n-1].Body.Kind())
	}
}

// selectLabel walks to a vessel and returns its batch.
func selectLabel(s session, label string) model.BatchID {
	shelf, _ := s.store.Shelf()
	s.Press("home")
	for range shelf.Vessels {
		for line := range strings.SplitSeq(s.Text(), "\n") {
			if (strings.HasPrefix(line, "▸") || strings.HasPrefix(line, ">")) && strings.Contains(line, " "+label+" ") {
				v, _ := shelf.VesselNamed(label)
				b, _ := shelf.BatchIn(v.ID)
				return b.Batch
			}
		}
		s.Press("down")
	}
	return 0
}

func replay(t *testing.T, s session, id model.BatchID) model.State {
	t.Helper()
	b, err := s.store.Batch(id)
	if err != nil {
		t.Fatal(err)
	}
	state, err := model.Replay(b, s.clock.now())
	if err != nil {
		t.Fatal(err)
	}
	return state
}

// Ensure that leaving while a save is under way waits for it.
func TestQuit_WaitsForTheSave(t *testing.T) {
	path := newCellar(t)
	s := open(t, path).addVessel("N1", "23L").startBatch("Mead", "20L", "1.090", "3d")
	s.Press("r").Type("1.080").Hold().Press("enter").See("saving")
	s.Press("esc", "q")
	if s.Left() {
		t.Fatal("left before the reading was on disk")
	}
	s.Release()
	open(t, path).See("1.080")
}

// Ensure that an entry can be struck out of the middle of the journal and brought
// back.
func TestJournal_StrikesOutAndBringsBack(t *testing.T) {
	s := open(t, newCellar(t)).addVessel("N1", "23L").startBatch("Mead", "20L", "1.090", "9d")
	s.Press("r").Type("1.070 !6d").Press("enter").Press("r").Type("1.050 !3d").Press("enter")
	s.Press("l", "down", "x").See("Strike this out of Mead?", "reading 1.070", "no figure changes")
	s.Press("esc").See("left as it was").Press("up", "x").See("strength 5.3 → 2.6 % vol", "gravity 1.050 → 1.070")
	s.Type("read through foam").Press("enter").See("struck out: reading 1.050", "(struck out: read through foam) reading 1.050")
	s.Press("x").See("Bring this back into Mead?", "strength 2.6 → 5.3 % vol").Press("enter").See("brought back", "reading 1.050, -20 points")
	s.Press("end", "x").See("the must stays")
	s.Press("esc").See("1.050")
}

// Ensure that a failing disk keeps the text on the line and says what happened.
func TestWriteFailure_KeepsTheText(t *testing.T) {
	path := newCellar(t)
	open(t, path).addVessel("N1", "23L").startBatch("Mead", "20L", "1.090", "3d")
	real, err := data.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	o := options(t, &clock{evening})
	o.Store = failing{real}
	s := uitest.Start(t, ui.New(o), 80, 24)
	s.Press("r").Type("1.080").Press("enter").See("not written", "no room on the disk", "reading of N1 1.080")
}

type failing struct{ ui.Store }

func (failing) Append(model.BatchID, ...model.Entry) (model.Batch, error) {
	return model.Batch{}, errors.New("no room on the disk")
}

// Ensure that every screen fits every terminal, and that the smallest is told
// plainly.
func TestScreens_FitEveryTerminal(t *testing.T) {
	s := open(t, newDemo(t))
	everywhere := func() {
		t.Helper()
		for _, size := range [][2]int{{180, 50}, {111, 31}, {80, 24}, {60, 15}, {45, 30}, {40, 12}, {20, 5}, {1, 1}} {
			s.Resize(size[0], size[1]).Fits()
		}
		s.Resize(80, 24)
	}
	for range 12 { // every standing
		everywhere()
		s.Press("down")
	}
	s.Press("home")
	s.Resize(20, 5).See("too small")
	s.Resize(80, 24).Press("down", "r").Type("1.0")
	everywhere()
	s.Press("esc", "s", "right", "right")
	everywhere()
	s.Press("=", "m", "n", "n", "tab")
	everywhere()
	s.Press("t")
	everywhere()
	s.Press("esc", "w").Type("a plan with a name that goes on").Press("enter", "o")
	everywhere()
	s.Press("esc", "r")
	everywhere()
	s.Press("p")
	everywhere()
	s.Press("esc", "esc", "f")
	everywhere()
	s.Press("right")
	everywhere()
	s.Press("right")
	everywhere()
	s.Press("esc", "b")
	everywhere()
	s.Press("enter")
	everywhere()
	s.Press("ctrl+p")
	everywhere()
	s.Press("esc").Type("5").Press("enter").Type("6").Press("enter").Type("7").Press("enter").Type("8").Press("enter").Type("7").Press("enter").See("on average")
	everywhere()
	s.Press("esc", "enter")
	everywhere()
	s.Press("n", "esc", "l")
	everywhere()
	s.Press("x")
	everywhere()
	s.Press("esc", "f")
	everywhere()
	s.Press("F")
	s.Press("esc", "v").Type("a label that is far too long for any vessel and then some more of it")
	everywhere()
	s.Press("esc", "?")
	everywhere()
	s.Press("esc", "U")
	everywhere()
}

// Ensure that no control character of a name or a note reaches the terminal.
func TestText_HasNoControlCharacters(t *testing.T) {
	s := open(t, newCellar(t)).addVessel("N1", "23L").startBatch("Mead", "20L", "1.090", "3d")
	now := s.clock.now()
	_, err := s.store.Append(1, model.Entry{At: now, Recorded: now, Body: model.Note{Text: "a\x1b[2Jb"}})
	if !errors.Is(err, model.ErrInvalid) {
		t.Errorf("a note with an escape sequence: %v, want it refused", err)
	}
	s.Press("n").Type("plain words").Press("enter").Press("l").See("plain words")
}

// Ensure that the demo says at a glance how the cellar stands.
func TestDemo_ShowsTheCellar(t *testing.T) {
	open(t, newDemo(t)).See("Tern Point boathouse", "12 vessels", "in trouble")
}

// Ensure that the rest of a batch's life can be written down too: yeast, a feed,
// another vessel, bottles.
func TestLife_YeastFeedRackBottle(t *testing.T) {
	path := newCellar(t)
	s := open(t, path).addVessel("N1", "23L").addVessel("N2", "20L")
	s.Press("home").Press("b").Type("Quince wine").Press("tab", "right", "tab").Type("19L").Press("tab").Type("1.090")
	s.Press("tab", "tab", "tab", "ctrl+u").Type("20d").Press("enter").See("Quince wine has begun", "no yeast")
	s.Press("y").See("Yeast into N1").Press("tab").Type("house strain").Press("tab").Type("16").Press("tab", "ctrl+u").Type("19d").Press("enter")
	s.See("yeast written down")
	s.Press("a").See("Stir into N1").Type("unobtainium 3kg").Press("tab", "tab", "enter").See(`"unobtainium" is not in the handbook`)
	s.Press("up", "up", "ctrl+u").Type("honey 500g").Press("tab").Type("feed").Press("tab", "ctrl+u").Type("15d").Press("enter").See("addition written down")
	s.Press("r").Type("0.996 !5d").Press("enter").See("0.996")
	s.Press("m").See("Rack N1", "N2").Press("tab").Type("18L").Press("tab", "enter").See("N1: racked", "N2  Quince wine") // the cursor goes with the drink
	s.Press("u", "y").See("N1  Quince wine").Press("m").Press("tab").Type("18L").Press("tab", "enter").See("N2  Quince wine")
	s.Press("f").See("Bottle N2", "burst").Type("500").Press("tab", "tab", "tab", "enter").See("500 bottles hold").Press("up", "up", "up", "ctrl+u").
		Type("23").Press("tab", "tab", "tab", "enter").See("bottling written down")
	selectLabel(s, "N2")
	s.See("nothing in it")
	b, err := s.store.Batch(1)
	if err != nil {
		t.Fatal(err)
	}
	if sum := model.Summarise(b); sum.Standing != model.Bottled || sum.Bottles != 23 {
		t.Errorf("standing %q with %d bottles, want bottled with 23", sum.Standing, sum.Bottles)
	}
}
