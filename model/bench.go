package model

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"cellar.local/glassrow/calc"
)

// The kinds of a tasting on the bench.
const (
	KindBench   Kind = "bench"
	KindTasting Kind = "tasting"
)

// Bench is a row of glasses drawn from the batch and sweetened each a little more. It
// is written down when they are poured; what they tasted like is a [Tasting].
type Bench struct {
	Glass  calc.Litre // of the drink in each
	Poured []Portion  // what went into each glass, in the order of the ladder; a mass of 0 is none
	Syrup  calc.GramPerLitre
	Seed   uint64 // of the blind order; 0: the glasses stand in the order of the ladder
}

// Tasting is what somebody thought of the glasses of a bench.
type Tasting struct {
	Bench   EntryID
	Glasses []Taste // in the order of the ladder
}

// Taste is one glass on the tongue.
type Taste struct {
	Marked bool
	Mark   float64 // 0 to 10
	Words  string
}

// Kind implements Body.
func (Bench) Kind() Kind { return KindBench }

// Kind implements Body.
func (Tasting) Kind() Kind { return KindTasting }

// mostPoured is more glasses than anybody can tell apart.
const mostPoured = 12

// Validate implements Body.
func (b Bench) Validate() error {
	if !(b.Glass >= 0.001 && b.Glass <= 1) {
		return fmt.Errorf("a glass of %.4g L is outside 1 mL to 1 L: %w", float64(b.Glass), ErrInvalid)
	}
	if n := len(b.Poured); n < 2 || n > mostPoured {
		return fmt.Errorf("%d glasses is outside 2 to %d: %w", n, mostPoured, ErrInvalid)
	}
	if !(b.Syrup >= 0 && b.Syrup <= 2000) {
		return fmt.Errorf("syrup of %.4g g/L is outside 0 to 2000: %w", float64(b.Syrup), ErrInvalid)
	}
	for _, p := range b.Poured {
		if p.Mass == 0 {
			p.Mass = 1 // as it is, which is a glass too
		}
		if err := p.Validate(); err != nil {
			return err
		}
	}
	return nil
}

// Validate implements Body.
func (t Tasting) Validate() error {
	if t.Bench == 0 || len(t.Glasses) < 2 || len(t.Glasses) > mostPoured {
		return fmt.Errorf("a tasting is of the 2 to %d glasses of a bench: %w", mostPoured, ErrInvalid)
	}
	said := false
	for _, g := range t.Glasses {
		if !(g.Mark >= 0 && g.Mark <= mostMark) {
			return fmt.Errorf("mark %.4g is outside 0 to %d: %w", g.Mark, mostMark, ErrInvalid)
		}
		if err := plainText("words on a glass", g.Words, maxText, false); err != nil {
			return err
		}
		said = said || g.Marked || g.Words != ""
	}
	if !said {
		return fmt.Errorf("no glass has a mark yet: %w", ErrInvalid)
	}
	return nil
}

// TastingOf understands what was said of the glasses of a bench, in their places at the
// table; the tasting has them in the order of the ladder.
func TastingOf(bench EntryID, b Bench, said []string) (Tasting, error) {
	t := Tasting{Bench: bench, Glasses: make([]Taste, len(b.Poured))}
	for place, k := range b.Order() {
		taste, err := ParseTaste(said[place])
		if err != nil {
			return t, fmt.Errorf("glass %s: %w", b.PlaceName(place), err)
		}
		t.Glasses[k] = taste
	}
	return t, t.Validate()
}

const mostMark = 10

// ParseTaste understands what is said of a glass: a mark from 0 to 10, words, or both,
// as in 7.5 honey, a little thick.
func ParseTaste(text string) (Taste, error) {
	s := strings.TrimSpace(text)
	number, words, _ := strings.Cut(s, " ")
	x, err := strconv.ParseFloat(strings.Replace(strings.TrimSuffix(strings.TrimRight(number, ",;:"), "/10"), ",", ".", 1), 64)
	if err != nil {
		return Taste{Words: s}, plainText("words on a glass", s, maxText, false)
	}
	if !(x >= 0 && x <= mostMark) {
		return Taste{}, fmt.Errorf("mark %q is outside 0 to %d: %w", number, mostMark, ErrInvalid)
	}
	words = strings.TrimSpace(words)
	return Taste{Marked: true, Mark: x, Words: words}, plainText("words on a glass", words, maxText, false)
}

// Drawn returns how much of the batch went into the glasses.
func (b Bench) Drawn() calc.Litre { return b.Glass * calc.Litre(len(b.Poured)) }

// Blind reports whether the glasses stand in an order that the taster does not know.
func (b Bench) Blind() bool { return b.Seed != 0 }

// Order returns for each place at the table which glass of the ladder stands there.
func (b Bench) Order() []int {
	if b.Blind() {
		return calc.BlindOrder(b.Seed, len(b.Poured))
	}
	order := make([]int, len(b.Poured))
	for i := range order {
		order[i] = i
	}
	return order
}

// PlaceName is what is written on the glass at a place: A, B, C when they stand blind,
// else 1, 2, 3.
func (b Bench) PlaceName(place int) string {
	if b.Blind() {
		return string(rune('A' + place))
	}
	return strconv.Itoa(place + 1)
}

// Sweeteners returns what the glasses were sweetened with, each once, in their order.
func (b Bench) Sweeteners() []calc.Ingredient {
	var out []calc.Ingredient
	for _, p := range b.Poured {
		if !slices.ContainsFunc(out, func(i calc.Ingredient) bool { return i.Name == p.Ingredient.Name }) {
			out = append(out, p.Ingredient)
		}
	}
	return out
}

// GlassOf is a glass of a bench, worked out.
type GlassOf struct {
	Portion Portion
	Syrup   calc.Litre // that holds the dose; 0: weighed
	After   calc.Figures
	Vessel  calc.Gram // of the sweetener, for the whole vessel to taste the same
}

// Glasses works the glasses of a bench out again, for the batch as it was when they
// were drawn, and what its vessel takes as it is now.
func (b Bench) Glasses(drawnFrom, now calc.Liquid) ([]GlassOf, error) {
	v, err := drawnFrom.Volume()
	if err != nil {
		return nil, err
	}
	if v <= 0 {
		return nil, fmt.Errorf("glasses from an empty vessel: %w", ErrInvalid)
	}
	vessel, err := now.Volume()
	if err != nil {
		return nil, err
	}
	glass := drawnFrom.Scaled(float64(b.Glass) / float64(v))
	out := make([]GlassOf, len(b.Poured))
	for i, p := range b.Poured {
		g := GlassOf{Portion: p, Vessel: p.Mass * calc.Gram(vessel/b.Glass)}
		stirred := p.Liquid()
		if b.Syrup > 0 && p.Mass > 0 {
			_, litre, err := p.Ingredient.SyrupOf(b.Syrup)
			if err != nil {
				return nil, err
			}
			g.Syrup = calc.Litre(float64(p.Mass) / float64(b.Syrup))
			stirred = litre.Scaled(float64(g.Syrup))
		}
		if g.After, err = glass.Plus(stirred).Figures(); err != nil {
			return nil, err
		}
		if b.Syrup > 0 && p.Mass > 0 {
			if g.Vessel, err = p.Ingredient.AmountFor(now, calc.TargetSweetness(g.After.Sweetness)); err != nil {
				g.Vessel = 0 // the syrup's water made the glass less sweet than the vessel is
			}
		}
		out[i] = g
	}
	return out, nil
}

// BenchPlan is what a bench is to be.
type BenchPlan struct {
	With     Sweetener
	Against  Sweetener // without an ID: nothing
	Glass    calc.Litre
	Glasses  int
	From, To calc.GramPerLitre // perceived sweetness
	Syrup    calc.GramPerLitre
	Seed     uint64
}

// Pour works the plan out for a batch. Against another sweetener the first has the
// greater half of the glasses, and both go from the same taste to the same.
func (p BenchPlan) Pour(l calc.Liquid) (Bench, error) {
	b := Bench{Glass: p.Glass, Syrup: p.Syrup, Seed: p.Seed}
	counts := map[bool][]int{false: {p.Glasses}, true: {p.Glasses - p.Glasses/2, p.Glasses / 2}}[p.Against.ID != ""]
	ladder := calc.Ladder{Glass: p.Glass, From: calc.TargetSweetness(p.From), To: calc.TargetSweetness(p.To), Syrup: p.Syrup}
	for i, n := range counts {
		with := []Sweetener{p.With, p.Against}[i]
		extra := 0
		if i > 0 || n == 1 {
			extra = 1 // one glass left as it is will do for both
		}
		ladder.Glasses = n + extra
		rungs, err := with.Ingredient.Ladder(l, ladder)
		if err != nil {
			return Bench{}, err
		}
		if i > 0 && n > 1 && rungs[0].Dose > 0 {
			ladder.Glasses = n
			if rungs, err = with.Ingredient.Ladder(l, ladder); err != nil {
				return Bench{}, err
			}
		}
		for _, r := range rungs[len(rungs)-n:] {
			b.Poured = append(b.Poured, Portion{with.Ingredient, r.Dose})
		}
	}
	return b, b.Validate()
}

// SyrupToMake returns how much syrup to make for the glasses, with some to spare, and
// the mass of sweetener in it: enough that a kitchen scale can weigh it.
func (b Bench) SyrupToMake() (calc.Litre, calc.Gram) {
	if b.Syrup <= 0 {
		return 0, 0
	}
	need := make(map[string]float64)
	most := 0.0
	for _, p := range b.Poured {
		need[p.Ingredient.Name] += float64(p.Mass) / float64(b.Syrup)
		most = max(most, need[p.Ingredient.Name])
	}
	for _, size := range []float64{0.05, 0.1, 0.2, 0.25, 0.5, 1, 2, 5} {
		if size >= 1.15*most && size*float64(b.Syrup) >= leastWeighed {
			return calc.Litre(size), calc.Gram(size * float64(b.Syrup))
		}
	}
	size := max(1.15*most, leastWeighed/float64(b.Syrup))
	return calc.Litre(size), calc.Gram(size * float64(b.Syrup))
}

// leastWeighed is what a kitchen scale shows well enough, in grams (common practice).
const leastWeighed = 1.0

// UsualSyrup returns the strength of a syrup that suits a sweetener: half a kilogram a
// litre of a sugar, and of an intense one as much less as it is sweeter.
func UsualSyrup(s Sweetener) calc.GramPerLitre {
	if !s.Intense() {
		return 500
	}
	for c := calc.GramPerLitre(10); c > 0.01; c /= 10 {
		if c*calc.GramPerLitre(s.Ingredient.PerGram.Sweetness()) <= 700 {
			return c
		}
	}
	return 0.01
}

// LastBench returns the newest bench of the batch that counts, and its newest tasting
// if there is one.
func (b Batch) LastBench() (bench Entry, tasting Entry, ok bool) {
	live := b.Live()
	for _, e := range live {
		if _, is := e.Body.(Bench); is && e.ID > bench.ID {
			bench = e
		}
	}
	for _, e := range live {
		if t, is := e.Body.(Tasting); is && t.Bench == bench.ID && e.ID > tasting.ID {
			tasting = e
		}
	}
	return bench, tasting, bench.ID != 0
}

// Liking is what the marks of a tasting come to for one sweetener.
type Liking struct {
	Ingredient calc.Ingredient
	Mean       float64 // of its marks
	Marks      int
	Preference calc.Preference // of the sweetness
}

// Likings returns what was thought of each sweetener, the best liked first.
func (t Tasting) Likings(b Bench, glasses []GlassOf) []Liking {
	var out []Liking
	for _, i := range b.Sweeteners() {
		l := Liking{Ingredient: i}
		var marks []calc.Scored
		for k, g := range glasses {
			if g.Portion.Ingredient.Name == i.Name && k < len(t.Glasses) && t.Glasses[k].Marked {
				l.Mean += t.Glasses[k].Mark
				marks = append(marks, calc.Scored{At: float64(g.After.Sweetness), Score: t.Glasses[k].Mark})
			}
		}
		if l.Marks = len(marks); l.Marks == 0 {
			continue
		}
		l.Mean /= float64(l.Marks)
		var err error
		if l.Preference, err = calc.Prefer(marks); err == nil {
			out = append(out, l)
		}
	}
	slices.SortStableFunc(out, func(a, b Liking) int {
		switch {
		case a.Mean > b.Mean:
			return -1
		case a.Mean < b.Mean:
			return 1
		}
		return 0
	})
	return out
}

// Before returns what the batch was just before an entry of it happened, as the journal
// has it now.
func (b Batch) Before(id EntryID) (State, error) {
	var earlier []Entry
	for _, e := range b.Live() {
		if e.ID == id {
			break
		}
		earlier = append(earlier, e)
	}
	b.Entries = earlier
	return Replay(b, endOfTime)
}

// ParseEnds takes where the ladder begins and ends, as people type it: what [ParseAim]
// understands of With, or "as it is".
func (p *BenchPlan) ParseEnds(from, to string, s State) error {
	for _, end := range []struct {
		text string
		into *calc.GramPerLitre
	}{{from, &p.From}, {to, &p.To}} {
		if t := strings.ToLower(strings.TrimSpace(end.text)); t == "as it is" || t == "" || t == "0" {
			*end.into = s.Figures.Sweetness
			continue
		}
		aim, err := ParseAim(end.text)
		if err != nil {
			return err
		}
		if *end.into, err = aim.Sweetness(s.Liquid, p.With.Ingredient); err != nil {
			return err
		}
	}
	return nil
}

// ParseSyrup takes the strength of a syrup as people type it, grams in a litre; empty
// is what suits With.
func (p *BenchPlan) ParseSyrup(text string) error {
	s := strings.TrimSpace(strings.TrimSuffix(strings.ToLower(strings.TrimSpace(text)), "g/l"))
	if s == "" {
		p.Syrup = UsualSyrup(p.With)
		return nil
	}
	x, err := strconv.ParseFloat(s, 64)
	if err != nil || !(x > 0 && x <= 2000) {
		return fmt.Errorf("syrup %q is not understood; write grams in a litre, such as 500: %w", text, ErrInvalid)
	}
	p.Syrup = calc.GramPerLitre(x)
	return nil
}
