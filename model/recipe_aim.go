package model

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"cellar.local/glassrow/calc"
)

// MustAim is what one ingredient of a recipe brings about: a gravity or a strength, or
// of an acid or a carbonate a pH or an acidity, counted once all juice has left the fruit
// and all that is held back is in. The zero MustAim is none.
//
// A pH is a range, whose ends may be the same. As little goes in as brings the middle of
// the guess there: acid cannot be taken out again.
type MustAim struct {
	SG            calc.SG
	Strength      calc.PercentVol // potential, as the law reckons it
	PHLow, PHHigh calc.PH
	Acidity       calc.Acidity // titratable, as tartaric acid
}

// Set reports whether there is an aim.
func (a MustAim) Set() bool { return a != MustAim{} }

// sour reports whether the aim is one that only acids and carbonates have.
func (a MustAim) sour() bool { return a.PHHigh != 0 || a.Acidity != 0 }

// checkAim reports why the ingredient cannot have the aim, or nil.
func (i RecipeItem) checkAim(a MustAim) error {
	switch {
	case a.sour() && !i.Stuff.IsAcid():
		return fmt.Errorf("%s cannot be aimed at %s; put in an acid or a carbonate and aim that: %w", i.Stuff.Name(), a.Text(), ErrInvalid)
	case a.Set() && !a.sour() && i.Stuff.IsAcid():
		return fmt.Errorf("%s cannot be aimed at %s; aim it at a pH such as 3.3-3.5, or at 6.5g/L: %w", i.Stuff.Name(), a.Text(), ErrInvalid)
	}
	return nil
}

// Text returns the aim as [ParseWish] understands it: 1.095, 12%, pH3.3-3.5 or 6.5g/L.
func (a MustAim) Text() string {
	switch {
	case a.SG != 0:
		return strconv.FormatFloat(float64(a.SG), 'f', -1, 64)
	case a.Strength != 0:
		return strconv.FormatFloat(float64(a.Strength), 'f', -1, 64) + "%"
	case a.PHHigh != a.PHLow:
		return "pH" + plainNumber(a.PHLow) + "-" + plainNumber(a.PHHigh)
	case a.PHHigh != 0:
		return "pH" + plainNumber(a.PHHigh)
	case a.Acidity != 0:
		return plainNumber(a.Acidity) + "g/L"
	}
	return ""
}

func plainNumber[T ~float64](x T) string { return strconv.FormatFloat(float64(x), 'f', -1, 64) }

// miss returns by how much a must falls short of the aim.
func (a MustAim) miss(f calc.Figures) float64 {
	if a.SG != 0 {
		return float64(a.SG - f.SG)
	}
	return float64(a.Strength - calc.PercentVol(f.Fermentable/calc.SugarPerPercentVol))
}

// Wish is what a person types of an ingredient: one of an amount, an aim, and a volume
// for the whole to be topped up to.
type Wish struct {
	Mass calc.Gram
	Aim  MustAim
	Fill calc.Litre
}

// What can be wished of a must.
const (
	minMustGravity, maxMustGravity calc.SG         = 1.000, 1.200
	minMustStrength                calc.PercentVol = 0.5
	maxMustStrength                calc.PercentVol = 25
	minAimedPH, maxAimedPH         calc.PH         = 2.5, 5
	minAimedAcid, maxAimedAcid     calc.Acidity    = 0.5, 30
)

// ParseWish understands what people type when they build a must:
//
//	1.5kg   2lb        so much of it
//	1.095   24Bx       until the must is at that gravity
//	12%                until it could come to that strength
//	3.3-3.5 ph3.4      of an acid or a carbonate: until the must is within that pH
//	6.5g/L  ta6.5      or until it has that acidity, as tartaric acid
//	19L     5gal       the whole topped up with water to that
func ParseWish(text string) (Wish, error) {
	s := strings.ToLower(strings.Join(strings.Fields(text), ""))
	if m, err := ParseMass(s); err == nil {
		return Wish{Mass: m}, nil
	}
	if aim, is, err := parseSourAim(s); is {
		return Wish{Aim: aim}, err
	}
	if v, err := ParseVolume(s); err == nil {
		if v < 0.05 || v > 100000 {
			return Wish{}, fmt.Errorf("volume %q is outside 0.05 to 100000 L: %w", text, ErrInvalid)
		}
		return Wish{Fill: v}, nil
	}
	if number, ok := strings.CutSuffix(strings.TrimSuffix(s, "vol"), "%"); ok {
		x, rest, err := splitUnit(number)
		if abv := calc.PercentVol(x); err == nil && rest == "" && abv >= minMustStrength && abv <= maxMustStrength {
			return Wish{Aim: MustAim{Strength: abv}}, nil
		}
		return Wish{}, fmt.Errorf("strength %q cannot be; write 12%%, %.1f to %.0f: %w", text, float64(minMustStrength), float64(maxMustStrength), ErrInvalid)
	}
	sg, err := ParseGravity(s)
	if err != nil || !strings.ContainsAny(s, ".,bp") && len(s) < 4 {
		return Wish{}, fmt.Errorf("%q is not understood; write an amount such as 1.5kg, a gravity 1.095, a strength 12%%, a pH 3.3-3.5 of an acid, or a volume 19L to top up to: %w", text, ErrInvalid)
	}
	if sg <= minMustGravity || sg > maxMustGravity {
		return Wish{}, fmt.Errorf("gravity %.4f of a must cannot be; want above %.3f, to %.3f: %w", float64(sg), float64(minMustGravity), float64(maxMustGravity), ErrInvalid)
	}
	return Wish{Aim: MustAim{SG: sg}}, nil
}

// parseSourAim understands a pH, a range of it, or an acidity; is tells whether it was
// meant as one of them. A bare number is a pH where no gravity can be.
func parseSourAim(s string) (aim MustAim, is bool, err error) {
	s = strings.NewReplacer(",", ".", "–", "-", "to", "-").Replace(s)
	ta, isTA := strings.CutPrefix(s, "ta")
	if !isTA {
		ta, isTA = strings.CutSuffix(s, "g/l")
	}
	if isTA {
		x, err := strconv.ParseFloat(strings.TrimSuffix(ta, "g/l"), 64)
		if err != nil || !(calc.Acidity(x) >= minAimedAcid && calc.Acidity(x) <= maxAimedAcid) {
			return aim, true, fmt.Errorf("acidity %q cannot be; write 6.5g/L, %.1f to %.0f as tartaric acid: %w", s, float64(minAimedAcid), float64(maxAimedAcid), ErrInvalid)
		}
		return MustAim{Acidity: calc.Acidity(x)}, true, nil
	}
	ends, named := strings.CutPrefix(s, "ph")
	from, to, isRange := strings.Cut(ends, "-")
	if !isRange {
		to = from
	}
	low, errLow := strconv.ParseFloat(from, 64)
	high, errHigh := strconv.ParseFloat(to, 64)
	understood := errLow == nil && errHigh == nil
	if !named && !(understood && strings.Contains(from, ".") && low >= 2) {
		return aim, false, nil
	}
	if !understood || !(calc.PH(low) >= minAimedPH && low <= high && calc.PH(high) <= maxAimedPH) {
		return aim, true, fmt.Errorf("pH %q cannot be; write 3.4 or 3.3-3.5, from %.1f to %.1f: %w", ends, float64(minAimedPH), float64(maxAimedPH), ErrInvalid)
	}
	return MustAim{PHLow: calc.PH(low), PHHigh: calc.PH(high)}, true, nil
}

// Granted returns the recipe with the wish for its i-th ingredient, or for water where
// i is after the last, worked out. The error says why it cannot be.
func (r Recipe) Granted(i int, w Wish) (Recipe, error) {
	switch {
	case w.Fill > 0:
		return r.FilledTo(w.Fill).Work()
	case w.Aim.Set():
		return r.SolveFor(i, w.Aim)
	}
	return r.With(i, w.Mass).Work()
}

// SolveFor returns the recipe with as much of the i-th ingredient, or of water where i
// is after the last, as meets the aim; see [Recipe.Work].
func (r Recipe) SolveFor(i int, aim MustAim) (Recipe, error) {
	var it RecipeItem
	if it.Stuff.Sweetener = aWater(); i < len(r.Items) {
		it = r.Items[i]
	}
	if err := it.checkAim(aim); err != nil {
		return r, err
	}
	return r.AimedAt(i, aim).Work()
}

// Work returns the recipe with the amounts worked out that its aims and its volume ask
// for, and the nutrient. A gravity is met within 1e-7. The error wraps
// [calc.ErrUnreachable] when no amount of an ingredient gets there, or when there is no
// room for all of it in the volume; the recipe that comes back with it is as it was.
func (r Recipe) Work() (Recipe, error) {
	worked, err := r.worked()
	if err == nil {
		worked, err = worked.nourished()
	}
	if err != nil {
		return r, err
	}
	return worked, nil
}

// rounds is how often sugar and acid are worked out in turn at most. Each is a little
// of the other's must: a gram of acid moves the sugar by a gram, and so the acid by a
// thousandth.
const rounds = 6

func (r Recipe) worked() (Recipe, error) {
	sweet, sour := r.aimed(false), r.aimed(true)
	for range rounds {
		var err error
		if r, err = r.solved(sweet); err != nil || sour < 0 {
			return r, err
		}
		before := r.Items[sour].Mass
		if r, err = r.solved(sour); err != nil {
			return r, err
		}
		if math.Abs(float64(r.Items[sour].Mass-before)) < 1e-6 {
			return r, nil
		}
	}
	return r.solved(sweet)
}

// aimed returns which ingredient has an aim of a kind; -1: none.
func (r Recipe) aimed(sour bool) int {
	for i := 0; i <= len(r.Items); i++ {
		if _, aim := r.row(i); aim.Set() && aim.sour() == sour {
			return i
		}
	}
	return -1
}

// solved returns the recipe with as much of the i-th ingredient as meets its aim, and
// filled up.
func (r Recipe) solved(i int) (Recipe, error) {
	if i < 0 {
		return r.filled()
	}
	_, aim := r.row(i)
	mass, ok := crossing(func(m float64) float64 { return r.try(i, calc.Gram(m), aim) })
	if !ok {
		return r, r.outOfReach(i, aim)
	}
	return r.put(i, calc.Gram(mass)).filled()
}

// outOfReach says what cannot be reached.
func (r Recipe) outOfReach(i int, aim MustAim) error {
	name, within := "water", ""
	if i < len(r.Items) {
		name = r.Items[i].Stuff.Name()
	}
	if r.Fill > 0 {
		within = fmt.Sprintf(" in %.4g L", float64(r.Fill))
	}
	if aim.sour() {
		within += r.put(i, 0).otherWay()
	}
	return fmt.Errorf("no amount of %s brings the must to %s%s: %w", name, aim.Text(), within, calc.ErrUnreachable)
}

// otherWay says where the guess stands without an acid or a carbonate, and what goes the
// other way.
func (r Recipe) otherWay() string {
	r, err := r.filled()
	if err != nil {
		return ""
	}
	must, err := r.Must()
	if err != nil {
		return ""
	}
	v, err := must.AllOut().Volume()
	if err != nil || v == 0 {
		return ""
	}
	g := r.soured(must, v)
	return fmt.Sprintf("; without it the guess is pH %.1f and %.1f g/L; an acid lowers the pH, a carbonate raises it", float64(g.AboutPH), float64(g.AboutAcidity))
}

// put sets the mass of the i-th ingredient and leaves its aim.
func (r Recipe) put(i int, mass calc.Gram) Recipe {
	if i == len(r.Items) {
		r.Water = mass
		return r
	}
	items := make([]RecipeItem, len(r.Items))
	copy(items, r.Items)
	items[i].Mass = mass
	r.Items = items
	return r
}

// filled tops the recipe up with water, if it has a volume to fill.
func (r Recipe) filled() (Recipe, error) {
	if r.Fill == 0 {
		return r, nil
	}
	dry := r
	dry.Water = 0
	must, err := dry.Must()
	if err != nil {
		return r, err
	}
	full, err := must.MadeUpTo(r.Fill)
	if err != nil {
		return r, err
	}
	r.Water = max(0, full.AllOut().Of(calc.Water)-must.AllOut().Of(calc.Water))
	return r, nil
}

// try returns by how much the must would miss the aim; NaN where it would be no liquid
// or have no room.
func (r Recipe) try(i int, mass calc.Gram, aim MustAim) float64 {
	r, err := r.put(i, mass).filled()
	if err != nil {
		return math.NaN()
	}
	must, err := r.Must()
	if err != nil {
		return math.NaN()
	}
	f, err := must.AllOut().Figures()
	if err != nil || f.Volume == 0 {
		return math.NaN()
	}
	if aim.sour() {
		return aim.missSour(r.soured(must, f.Volume), r.Items[i].Stuff.Sour.Alkali > 0)
	}
	return aim.miss(f)
}

// crossing returns the smallest mass at which miss goes through nothing, from either
// side. miss may be NaN at the ends, where there is no liquid or no room.
func crossing(miss func(float64) float64) (float64, bool) {
	const least, most, grow, met = 1.0, maxMass, 1.3, 1e-12
	from, before := 0.0, miss(0)
	if math.Abs(before) < met {
		return 0, true
	}
	for m := least; m <= most; m *= grow {
		now, at := miss(m), m
		if math.IsNaN(now) && !math.IsNaN(before) {
			at = brink(miss, from, m)
			now = miss(at)
		}
		if !math.IsNaN(before) && before > 0 != (now > 0) {
			return halved(miss, from, at, before > 0), true
		}
		if at != m {
			return 0, false
		}
		from, before = m, now
	}
	return 0, false
}

// brink returns the greatest mass between lo and hi at which there is still a figure.
func brink(miss func(float64) float64, lo, hi float64) float64 {
	for range 60 {
		if mid := (lo + hi) / 2; math.IsNaN(miss(mid)) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return lo
}

// halved closes in on the place where miss changes sign between lo and hi.
func halved(miss func(float64) float64, lo, hi float64, short bool) float64 {
	for range 60 {
		if mid := (lo + hi) / 2; miss(mid) > 0 == short {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}
