package e2e

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"cellar.local/glassrow/data"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// life is a batch from a recipe to its last bottles: what is done on each day, by keys
// and by commands.
var life = []struct {
	after time.Duration // since the step before
	keys  func(session)
	see   []string   // on the screen after it
	said  [][]string // the commands that do the same
}{
	{0, func(s session) {
		s.addVessel("N1", "23L").addVessel("N2", "23L").Press("home")
		s.Press("i", "n").Type("honey").Press("enter").Press("t").Type("18L").Press("enter").Press("t").Type("1.095").Press("enter").See("to 1.095")
		s.Press("n").Type("tartaric").Press("enter").See("tartaric acid").Press("t").Type("3.3-3.4").Press("enter").See("pH3.3-3.4", "meter")
		s.Press("n").Type("phosphate").Press("enter").See("missing", "in thirds").Press("f").See("in quarters")
		s.Press("y", "y").See("▸high").Press("enter").Type("Creek mead").Press("enter").See("Start Creek mead in N1").Press("y").See("has begun")
	}, []string{"Creek mead", "1.095", "lag"}, [][]string{
		{"vessel", "add", "N1", "--kind", "carboy", "--capacity", "23L"},
		{"vessel", "add", "N2", "--kind", "carboy", "--capacity", "23L"},
		{"recipe", "keep", "Creek mead", "--kind", "mead", "--volume", "18L", "--add", "honey", "--to", "1.095",
			"--add", "tartaric acid", "--ph", "3.3-3.4", "--nutrient", "DAP in quarters", "--yeast", "high"},
		{"recipe", "start", "Creek mead", "--vessel", "N1"},
	}},
	{time.Hour, func(s session) {
		s.Press("e", "l").Type("DAP 12g").Press("tab", "right").See("thirds").Press("enter").See("plan written down")
	}, nil,
		[][]string{{"feed", "N1", "DAP 12g", "--plan", "thirds"}}},
	{day, func(s session) {
		s.Press("d").See("feed 4 g DAP", "feed 4.1 g diammonium").Press("esc")
		s.Press("e", "n").Type("DAP 5g").Press("enter").See("of the plan")
	}, nil,
		[][]string{{"feed", "N1", "DAP 5g"}}},
	{3 * day, func(s session) { s.Press("r").Type("1.062 @21c; bread").Press("enter") }, []string{"1.062"},
		[][]string{{"record", "N1", "1.062", "@21c", "; bread"}}},
	{5 * day, func(s session) { s.Press("r").Type("1.030").Press("enter") }, []string{"1.030", "working"},
		[][]string{{"record", "N1", "1.030"}}},
	{12 * day, func(s session) { s.Press("r").Type("0.995 ph3.4 so2=5").Press("enter") }, []string{"0.995"},
		[][]string{{"record", "N1", "0.995", "ph3.4", "so2=5"}}},
	{7 * day, func(s session) { s.Press("r").Type("0.991").Press("enter") }, nil, [][]string{{"record", "N1", "0.991"}}},
	{7 * day, func(s session) { s.Press("r").Type("0.991").Press("enter") }, []string{"0.991"},
		[][]string{{"record", "N1", "0.991"}}},
	{day, func(s session) { s.Press("m").Press("tab").Type("17L").Press("enter").See("racked") }, []string{"N2"},
		[][]string{{"rack", "N1", "--to", "N2", "--volume", "17L"}}},
	{day, func(s session) { selectLabel(s, "N2"); s.Press("e", "w").Type("300mL").Press("enter").See("topped up") }, nil,
		[][]string{{"topup", "N2", "--water", "300mL"}}},
	{day, func(s session) {
		selectLabel(s, "N2")
		s.Press("e", "f").Type("bentonite 10g").Press("enter").See("fining written down")
	}, nil,
		[][]string{{"fine", "N2", "bentonite 10g"}}},
	{30 * day, func(s session) { selectLabel(s, "N2"); s.Press("r").Type("0.991").Press("enter") }, []string{"0.991"},
		[][]string{{"record", "N2", "0.991"}}},
	{day, func(s session) {
		selectLabel(s, "N2")
		s.Press("f").Type("22").Press("tab", "ctrl+u").Type("750mL").Press("tab").Type("cork").Press("enter").See("bottling written down")
	}, nil, [][]string{{"bottle", "N2", "--count", "22", "--size", "750mL", "--closure", "cork"}}},
	{200 * day, func(s session) {
		s.Press("c").See("22 of 22").Press("t").Type("8").Press("tab").Type("honey, long").Press("enter").See("21 of 22")
	}, nil, [][]string{{"taste", "Creek mead", "--mark", "8", "--words", "honey, long"}}},
	{20 * day, func(s session) {
		s.Press("c", "g").Press("ctrl+u").Type("9").Press("tab").Type("to the mill").Press("enter").See("12 of 22")
	}, nil, [][]string{{"taste", "Creek mead", "--bottles", "9", "--words", "to the mill"}}},
}

const day = 24 * time.Hour

// Ensure that a batch can live from its recipe to the tenth bottle by keys at 80x24,
// the program closed and opened again at each step; that the same life by commands
// leaves the same journal; and that each step shows the same figures to both.
func TestLife_ByKeysAndByCommands(t *testing.T) {
	byKeys, byCommands := newCellar(t), filepath.Join(t.TempDir(), "cellar.db")
	if _, err := data.Create(byCommands, model.Settings{CellarName: "Test cellar"}); err != nil {
		t.Fatal(err)
	}
	c := &clock{evening.AddDate(-1, 0, 0)}
	said := newCommands(t, byCommands)
	said.deps.Now = c.now
	for i, step := range life {
		c.at = c.at.Add(step.after)
		step.keys(openAt(t, byKeys, c, 80, 24))
		openAt(t, byKeys, c, 80, 24).See(step.see...)
		for _, args := range step.said {
			if out, ok := said.run(args...); !ok {
				t.Fatalf("step %d: glassrow %s refused: %s %s", i, strings.Join(args, " "), out, said.deps.Err)
			}
		}
		keys, commands := figuresOf(t, byKeys), figuresOf(t, byCommands)
		if diff := cmp.Diff(keys, commands, cmpopts.EquateApprox(1e-6, 0)); diff != "" {
			t.Fatalf("step %d: by keys and by commands it is not the same:\n%s", i, diff)
		}
	}
	_, keys := batchIn(t, byKeys)
	_, commands := batchIn(t, byCommands)
	told := func(b model.Batch) (out []string) {
		for _, e := range b.Entries {
			out = append(out, e.At.Format(time.DateTime)+" "+words.Words{}.Entry(e.Body, nil))
		}
		return out
	}
	if diff := cmp.Diff(told(keys), told(commands)); diff != "" {
		t.Errorf("the two journals differ:\n%s", diff)
	}
	if s, err := model.Replay(keys, c.at); err != nil || s.Bottles-s.Taken != 12 {
		t.Errorf("%d bottles are left, %v; want 12", s.Bottles-s.Taken, err)
	}
}

// lifeFigures are what the shelf says of a batch, from the summary and from the journal.
type lifeFigures struct {
	Standing        model.Standing
	SG, ABV, Volume float64
	Bottles, Taken  int
}

func figuresOf(t *testing.T, path string) lifeFigures {
	t.Helper()
	sum, b := batchIn(t, path)
	s, err := model.Replay(b, evening.AddDate(10, 0, 0))
	if err != nil {
		t.Fatal(err)
	}
	f := lifeFigures{s.Standing, float64(s.SG()), float64(s.Strength), float64(s.Figures.Volume), s.Bottles, s.Taken}
	stored := lifeFigures{sum.Standing, float64(sum.SG), float64(sum.Strength), float64(sum.Volume), sum.Bottles, s.Taken}
	if diff := cmp.Diff(f, stored, cmpopts.EquateApprox(1e-12, 0)); diff != "" {
		t.Fatalf("the summary is not that of the journal:\n%s", diff)
	}
	return f
}

// batchIn returns the only batch of a cellar, read afresh from the file.
func batchIn(t *testing.T, path string) (model.Summary, model.Batch) {
	t.Helper()
	s, err := data.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	shelf, err := s.Shelf()
	if err != nil || len(shelf.Batches) != 1 {
		t.Fatalf("%d batches, %v; want 1", len(shelf.Batches), err)
	}
	b, err := s.Batch(shelf.Batches[0].Batch)
	if err != nil {
		t.Fatal(err)
	}
	return shelf.Batches[0], b
}
