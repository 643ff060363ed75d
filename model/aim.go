package model

import (
	"fmt"
	"strconv"
	"strings"

	"cellar.local/glassrow/calc"
)

// Aim is what a person wants of an addition: so much of it, or enough for a
// target.
type Aim struct {
	Mass   calc.Gram // when Target is nil
	Target *calc.Target
	Text   string // the target in words that ParseAim understands; empty of a mass
}

// ParseAim understands what people type when they sweeten:
//
//	300g   2lb   40mg        so much of it
//	1.012                    until the hydrometer reads that
//	25g/l                    until that much sugar is in a litre
//	taste 30                 until it tastes like 30 g/L of table sugar
//	off-dry   medium         the middle of that band
//	eu medium dry   brut     the middle of what a law calls that
func ParseAim(text string) (Aim, error) {
	s := strings.Join(strings.Fields(strings.ToLower(text)), " ")
	for _, b := range calc.SweetnessBands() {
		if s == b.String() {
			return aimAt(calc.TargetSugar(b.Sugar()), s), nil
		}
	}
	if sugar, ok := legalSugar(s); ok {
		return aimAt(calc.TargetFermentable(sugar), s), nil
	}
	for _, word := range []string{"tastes like", "tastes", "taste"} {
		if number, ok := strings.CutPrefix(s, word+" "); ok {
			x, err := parsePerLitre("sweetness", text, strings.TrimSuffix(strings.ReplaceAll(number, " ", ""), "g/l"), "taste 30")
			return AimAtSweetness(x), err
		}
	}
	if number, ok := strings.CutSuffix(strings.ReplaceAll(s, " ", ""), "g/l"); ok {
		x, err := parsePerLitre("sugar", text, number, "25g/l")
		return aimAt(calc.TargetSugar(x), s), err
	}
	if mass, err := ParseMass(s); err == nil {
		return Aim{Mass: mass}, nil
	}
	if sg, err := ParseGravity(s); err == nil && strings.Contains(s, ".") {
		return aimAt(calc.TargetSG(sg), s), nil
	}
	return Aim{}, fmt.Errorf("%q is not understood; write 300g, 1.012, 25g/l, taste 30, or a word such as off-dry or brut: %w", text, ErrInvalid)
}

func aimAt(t calc.Target, text string) Aim { return Aim{Target: &t, Text: text} }

// AimAtSweetness returns the aim of tasting like so much table sugar.
func AimAtSweetness(c calc.GramPerLitre) Aim {
	return aimAt(calc.TargetSweetness(c), "taste "+strconv.FormatFloat(float64(c), 'f', -1, 64))
}

func parsePerLitre(what, text, number, example string) (calc.GramPerLitre, error) {
	x, rest, err := splitUnit(number)
	if err != nil || rest != "" || !(x >= 0 && x <= 500) {
		return 0, fmt.Errorf("%s %q cannot be; write %s, 0 to 500: %w", what, text, example, ErrInvalid)
	}
	return calc.GramPerLitre(x), nil
}

// termRules are the words before a legal term that say whose it is.
var termRules = []struct {
	word string
	rule calc.TermRule
}{
	{"eu still ", calc.EUStill}, {"eu sparkling ", calc.EUSparkling}, {"eu ", calc.EUStill},
	{"oiv still ", calc.OIVStill}, {"oiv ", calc.OIVStill}, {"sparkling ", calc.EUSparkling},
	{"", calc.EUStill}, {"", calc.EUSparkling}, // brut and sec belong to nobody else
}

// legalSugar returns a sugar content well inside a legal term: half-way between its
// limits, and a third above where the sweetest begins.
func legalSugar(s string) (calc.GramPerLitre, bool) {
	s = strings.Replace(strings.ReplaceAll(s, "eu-", "eu "), "oiv-", "oiv ", 1)
	for _, r := range termRules {
		name, ok := strings.CutPrefix(s, r.word)
		if !ok {
			continue
		}
		from, to, err := calc.TermSugar(r.rule, name)
		switch {
		case err != nil:
			continue
		case to == 0:
			return from * 4 / 3, true
		}
		return (from + to) / 2, true
	}
	return 0, false
}

// AmountFor returns the mass of the ingredient that meets the aim in l.
func (a Aim) AmountFor(l calc.Liquid, i calc.Ingredient) (calc.Gram, error) {
	if a.Target == nil {
		return a.Mass, nil
	}
	return i.AmountFor(l, *a.Target)
}

// Sweetness returns how sweet l would taste with as much of the ingredient in it as
// the aim asks for.
func (a Aim) Sweetness(l calc.Liquid, i calc.Ingredient) (calc.GramPerLitre, error) {
	mass, err := a.AmountFor(l, i)
	if err != nil {
		return 0, err
	}
	f, err := l.Plus(i.Amount(mass)).Figures()
	return f.Sweetness, err
}
