package e2e

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"testing"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/data"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/cli"
	"cellar.local/glassrow/ui/words"
)

// commands is the command line on a cellar, at the evening of the tests.
type commands struct {
	t    *testing.T
	path string
	deps cli.Deps
}

func newCommands(t *testing.T, path string) commands {
	return commands{t, path, cli.Deps{
		Open: openOnDisk, Create: createOnDisk, Demo: demoOnDisk,
		Sweeteners: read(t, data.Sweeteners), Handbook: realHandbook(t),
		Now: (&clock{evening}).now, Getenv: func(string) string { return "" }, In: strings.NewReader(""),
	}}
}

// run carries out a command and returns what it printed; ok is false when it refused.
func (c commands) run(args ...string) (out string, ok bool) {
	var stdout, stderr bytes.Buffer
	c.deps.Out, c.deps.Err = &stdout, &stderr
	code := cli.Run(c.deps, append([]string{"--cellar", c.path}, args...))
	return stdout.String(), code == 0
}

// ask carries out a command with --json and reads the answer.
func ask[T any](c commands, args ...string) (answer T, ok bool) {
	c.t.Helper()
	out, ok := c.run(append(args, "--json")...)
	if !ok {
		return answer, false
	}
	if err := json.Unmarshal([]byte(out), &answer); err != nil {
		c.t.Fatalf("glassrow %s: %v in %s", strings.Join(args, " "), err, out)
	}
	return answer, true
}

// told is what a command says of a drink.
type told struct {
	SG        float64 `json:"sg"`
	Volume    float64 `json:"volume_l"`
	ABV       float64 `json:"abv_pct"`
	Sugar     float64 `json:"residual_sugar_g_l"`
	Sweetness float64 `json:"sweetness_g_l"`
	Band      string  `json:"band"`
}

type toldSweetening struct {
	Mass float64 `json:"mass_g"`
	told
	Before told `json:"before"`
}

// randomBatch makes a cellar with one batch in V1 that has come to an end somewhere.
func randomBatch(t *testing.T, r *rand.Rand) string {
	t.Helper()
	drink := model.Drinks()[r.IntN(len(model.Drinks()))]
	volume := calc.Litre(math.Round(20+400*r.Float64()) / 20)
	from := 1.040 + 0.070*r.Float64()
	to := max(0.992, from-0.03-0.09*r.Float64())
	read := func(days int) model.Entry {
		return model.Entry{At: evening.AddDate(0, 0, -days), Body: model.Reading{Gravity: calc.SG(to), Scale: model.ScaleSG, Calibration: 20}}
	}
	b := model.Batch{ID: 1, Name: "Some drink", Drink: drink, Entries: []model.Entry{
		{At: evening.AddDate(0, 0, -90), Body: model.Must{Vessel: 1, Volume: volume, Gravity: calc.SG(from)}},
		{At: evening.AddDate(0, 0, -90), Body: model.Pitch{Yeast: model.WineYeast}},
		read(40), read(20), read(2),
	}}
	for i := range b.Entries {
		b.Entries[i].ID, b.Entries[i].Recorded = model.EntryID(i+1), b.Entries[i].At
	}
	path := filepath.Join(t.TempDir(), "random.db")
	vessels := []model.Vessel{{ID: 1, Label: "V1", Kind: model.Demijohn, Capacity: volume * 2, Added: evening.AddDate(0, 0, -100)}}
	if _, err := data.CreateFilled(path, model.Settings{CellarName: "Shed"}, vessels, []model.Batch{b}); err != nil {
		t.Fatal(err)
	}
	return path
}

// sample seeds a walk over random batches.
func sample() *rand.Rand { return rand.New(rand.NewPCG(11, 2026)) }

// randomAim returns an amount or a target, as typed in the planner and as flags.
func randomAim(r *rand.Rand, sw model.Sweetener) (typed string, flags []string) {
	if sw.Intense() {
		mass := fmt.Sprintf("%dmg", 50+r.IntN(500))
		return mass, []string{"--amount", mass}
	}
	switch r.IntN(3) {
	case 0:
		mass := fmt.Sprintf("%dg", 20+r.IntN(600))
		return mass, []string{"--amount", mass}
	case 1:
		sg := fmt.Sprintf("%.4f", 1.012+0.03*r.Float64())
		return sg, []string{"--to", sg}
	}
	sugar := fmt.Sprint(40 + r.IntN(80))
	return sugar + "g/l", []string{"--sugar", sugar}
}

// shows asks that a line of the screen begins with a name and has figures in it, in
// their order, as they are printed.
func shows(t *testing.T, s session, name string, figures ...string) {
	t.Helper()
	for _, line := range strings.Split(s.Text(), "\n") {
		rest, ok := strings.CutPrefix(strings.TrimSpace(line), name+" ")
		if !ok {
			continue
		}
		for _, f := range figures {
			before, after, found := strings.Cut(rest, f)
			if !found || strings.TrimRight(before, " ") == before && before != "" {
				t.Errorf("%q does not show %q, as the command does", line, figures)
				return
			}
			rest = after
		}
		return
	}
	t.Errorf("no line %q on\n%s", name, s.Text())
}

// Ensure that what the planner shows of any batch is what the command says of it, to
// the last digit, and that what one cannot reach the other cannot either.
func TestAgree_PlannerAndSweeten(t *testing.T) {
	r, say, reached := sample(), words.Words{}, 0
	for range 40 {
		path := randomBatch(t, r)
		c := newCommands(t, path)
		sw := c.deps.Sweeteners[r.IntN(len(c.deps.Sweeteners))]
		typed, flags := randomAim(r, sw)
		s := openAt(t, path, &clock{evening}, 180, 50).plan(sw, typed)
		args := append([]string{"sweeten", "V1", "--with", sw.Name()}, flags...)
		want, ok := ask[toldSweetening](c, args...)
		if !ok {
			s.DontSee("keeps         the ").See("target")
			continue
		}
		reached++
		b := want.Before
		shows(t, s, "amount", say.Mass(calc.Gram(want.Mass)))
		shows(t, s, "gravity", say.FineGravity(calc.SG(b.SG)), say.FineGravity(calc.SG(want.SG)))
		shows(t, s, "sugar", say.PerLitre(calc.GramPerLitre(b.Sugar)), say.PerLitre(calc.GramPerLitre(want.Sugar)), want.Band)
		shows(t, s, "tastes like", say.PerLitre(calc.GramPerLitre(b.Sweetness)), say.PerLitre(calc.GramPerLitre(want.Sweetness)))
		shows(t, s, "strength", say.Strength(calc.PercentVol(b.ABV), 0), say.Strength(calc.PercentVol(want.ABV), 0))
		shows(t, s, "volume", say.FineVolume(calc.Litre(b.Volume)), say.FineVolume(calc.Litre(want.Volume)))
		c.sameAsDry(sw, want)
		if t.Failed() {
			t.Fatalf("glassrow %s\n%s", strings.Join(args, " "), s.Text())
		}
	}
	if reached < 25 {
		t.Errorf("only %d of 40 batches could be sweetened", reached)
	}
}

// plan opens the planner on V1 with a sweetener and an aim.
func (s session) plan(sw model.Sweetener, typed string) session {
	selectLabel(s, "V1")
	s.Press("s")
	for !strings.Contains(s.Text(), "1 "+sw.Name()+" ›") {
		s.Press("up")
	}
	s.Type("t" + typed).Press("enter")
	return s
}

// sameAsDry asks calc sweeten about the drink by volume, gravity and strength alone. It
// takes what is dissolved for no sugar, and knows nothing of glycerol: sugar and taste
// are those of what is added, thinned by as much.
func (c commands) sameAsDry(sw model.Sweetener, want toldSweetening) {
	c.t.Helper()
	b := want.Before
	got, ok := ask[toldSweetening](c, "calc", "sweeten", "--volume", fmt.Sprintf("%.7gL", b.Volume), "--sg", fmt.Sprintf("%.7g", b.SG),
		"--abv", fmt.Sprintf("%.7g", b.ABV), "--with", sw.Name(), "--amount", fmt.Sprintf("%.7gg", want.Mass))
	if !ok {
		c.t.Errorf("calc sweeten refuses %+v", b)
		return
	}
	thinned := b.Volume / want.Volume
	for _, q := range []struct {
		what           string
		got, want, off float64
	}{
		{"sg", got.SG, want.SG, 2e-6}, {"abv_pct", got.ABV, want.ABV, 2e-5}, {"volume_l", got.Volume, want.Volume, 2e-6 * want.Volume},
		{"residual_sugar_g_l", got.Sugar, want.Sugar - b.Sugar*thinned, 2e-4},
		{"sweetness_g_l", got.Sweetness, want.Sweetness - b.Sweetness*thinned, 2e-4},
	} {
		if math.Abs(q.got-q.want) > q.off {
			c.t.Errorf("calc sweeten says %s %v, sweeten %v", q.what, q.got, q.want)
		}
	}
}

type toldPriming struct {
	Mass     float64 `json:"mass_g"`
	Residual float64 `json:"residual_co2_vol"`
}

type toldSealed struct {
	Volumes float64 `json:"co2_vol"`
	WithAir float64 `json:"gauge_bar_with_air"`
	Verdict string  `json:"verdict"`
}

// Ensure that the fizz pane primes with what calc prime says, digit for digit, and that
// a drink left still with table sugar in it comes to the gas and the pressure that calc
// sealed says. The command reckons all sugar as sucrose, which is up to a twentieth too
// much where the drink holds other kinds of its own, so it is asked about drinks that
// hold next to none.
func TestAgree_FizzAndPrime(t *testing.T) {
	r, say, sealed := sample(), words.Words{}, 0
	for range 12 {
		path := randomBatch(t, r)
		c := newCommands(t, path)
		sugar, err := model.NamedSweetener(c.deps.Sweeteners, "white sugar")
		if err != nil {
			t.Fatal(err)
		}
		mass := fmt.Sprintf("%dg", 20+r.IntN(200))
		s := openAt(t, path, &clock{evening}, 120, 50).plan(sugar, mass)
		s.Press("f").See("Fizz V1", "‹ prime ›")
		after, ok := ask[toldSweetening](c, "sweeten", "V1", "--with", "white sugar", "--amount", mass)
		if !ok {
			t.Fatal("sweeten refuses", mass)
		}
		volume, abv := fmt.Sprintf("%.7gL", after.Volume), fmt.Sprintf("%.7g", after.ABV)
		prime, ok := ask[toldPriming](c, "calc", "prime", "--volume", volume, "--abv", abv, "--co2", "2.4", "--temp", "20C", "--with", "white sugar", "--store", "28C")
		if !ok {
			t.Fatal("calc prime refuses", volume)
		}
		shows(t, s, "gas in it now", fmt.Sprintf("%.2f vol", prime.Residual))
		shows(t, s, "priming", say.Mass(calc.Gram(prime.Mass)), fmt.Sprintf("%.1f g/L", prime.Mass/after.Volume))
		for !strings.Contains(s.Text(), "‹ leave it still ›") {
			s.Press("right")
		}
		held := fieldAfter(t, s.Text(), "sugar held")
		if after.Before.Sugar > 0.05 {
			continue
		}
		sealed++
		shut, ok := ask[toldSealed](c, "calc", "sealed", "--sugar", fmt.Sprintf("%.7g", after.Sugar), "--temp", "20C", "--store", "28C", "--abv", abv)
		if !ok {
			t.Fatal("calc sealed refuses", after.Sugar)
		}
		if want := say.PerLitre(calc.GramPerLitre(after.Sugar)); want != held+" g/L" {
			t.Errorf("the pane holds %s g/L of sugar, the command %s", held, want)
		}
		shows(t, s, "if all ferments", fmt.Sprintf("%.2f vol", shut.Volumes))
		shows(t, s, "at its warmest", say.Pressure(calc.BarGauge(shut.WithAir)))
		shows(t, s, "the bottle", shut.Verdict)
		if t.Failed() {
			t.Fatal(s.Text())
		}
	}
	if sealed < 4 {
		t.Errorf("only %d drinks were dry", sealed)
	}
}

// fieldAfter returns the first word after a name on the screen.
func fieldAfter(t *testing.T, text, name string) string {
	t.Helper()
	_, rest, ok := strings.Cut(text, name)
	if f := strings.Fields(rest); ok && len(f) > 0 {
		return f[0]
	}
	t.Fatalf("no %q on\n%s", name, text)
	return ""
}

type toldBench struct {
	Glasses []struct {
		Dose   float64 `json:"dose_g"`
		SG     float64 `json:"sg"`
		Vessel float64 `json:"vessel_mass_g"`
	} `json:"glasses"`
}

// Ensure that the bench pours what the commands say, bench LABEL and calc bench, glass for
// glass.
func TestAgree_BenchAndCalc(t *testing.T) {
	r, say := sample(), words.Words{}
	for range 12 {
		path := randomBatch(t, r)
		c := newCommands(t, path)
		b, ok := ask[toldSweetening](c, "sweeten", "V1", "--with", "honey", "--amount", "0g")
		if !ok {
			t.Fatal("sweeten refuses 0g")
		}
		upto := fmt.Sprintf("%.4f", b.SG+0.004+0.02*r.Float64())
		ladder, ok := ask[toldBench](c, "calc", "bench", "--volume", fmt.Sprintf("%.7gL", b.Volume), "--sg", fmt.Sprintf("%.7g", b.SG),
			"--abv", fmt.Sprintf("%.7g", b.ABV), "--with", "honey", "--glass", "50mL", "--upto", upto, "--glasses", "5")
		if !ok {
			t.Fatal("calc bench refuses", b)
		}
		honey, err := model.NamedSweetener(c.deps.Sweeteners, "honey")
		if err != nil {
			t.Fatal(err)
		}
		s := openAt(t, path, &clock{evening}, 120, 50).plan(honey, "0g")
		s.Press("b").See("Bench V1").Press("tab", "tab", "tab", "tab", "tab", "ctrl+u").Type(upto)
		card, ok := c.run("bench", "V1", "--with", "honey", "--to", upto)
		if !ok {
			t.Fatal("bench refuses", upto)
		}
		for k, g := range ladder.Glasses {
			row := benchRow(t, s.Text(), k+1)
			if want := fmt.Sprint(k+1) + "   " + row.dose; !strings.Contains(card, want) {
				t.Errorf("glass %d takes %s on the bench; the card is\n%s", k+1, row.dose, card)
			}
			if dose := say.FineMass(calc.Gram(g.Dose)); k > 0 && row.dose != dose || row.sg != say.FineGravity(calc.SG(g.SG)) || row.vessel != say.Mass(calc.Gram(g.Vessel)) {
				t.Errorf("glass %d is %+v, calc bench says %s, %v, %v", k+1, row, dose, g.SG, say.Mass(calc.Gram(g.Vessel)))
			}
		}
		if t.Failed() {
			t.Fatal(s.Text())
		}
	}
}

// rung is a line of the bench on the screen.
type rung struct{ dose, sg, vessel string }

func benchRow(t *testing.T, text string, glass int) rung {
	t.Helper()
	_, text, _ = strings.Cut(text, "tastes")
	for _, line := range strings.Split(text, "\n") {
		f := strings.Fields(line)
		switch {
		case len(f) < 6 || f[0] != fmt.Sprint(glass):
		case f[1] == "nothing":
			return rung{f[1], f[2], f[5] + " " + f[6]}
		default:
			return rung{f[1] + " " + f[2], f[3], f[6] + " " + f[7]}
		}
	}
	t.Fatalf("no glass %d on\n%s", glass, text)
	return rung{}
}
