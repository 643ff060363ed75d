package calc

import (
	"fmt"
	"slices"
)

// TermRule is a law that says how a drink may be called by its sugar.
type TermRule string

// The rules. Their limits are in grams per litre of glucose and fructose together,
// so lactose does not count.
const (
	// EUStill is for still wine: EU 2019/33, Annex III part B.
	EUStill TermRule = "eu-still"

	// EUSparkling is for sparkling wine: EU 2019/33, Annex III part A.
	EUSparkling TermRule = "eu-sparkling"

	// OIVStill is the definition for still wine in the OIV's code, part I.
	OIVStill TermRule = "oiv-still"
)

// TermRules returns the rules.
func TermRules() []TermRule { return []TermRule{EUStill, EUSparkling, OIVStill} }

// LegalTerm is a word that a law has for a sweetness, and the words that mean the
// same by that law.
type LegalTerm struct {
	Name string
	Also []string
}

// termLimit is the most sugar that a term allows.
type termLimit struct {
	name  string
	also  []string
	most  float64 // g/L
	below bool    // the limit itself is too much already

	// With acidity to match, more is allowed: up to mostMatched when the sugar is
	// at most overAcidity above the total acidity, in g/L as tartaric acid.
	mostMatched float64
	overAcidity float64
}

// termLimits are the terms of each rule from dry to sweet; what no other allows has
// the last.
//
// At 45 g/L of a still wine the wordings overlap: medium reaches to 45 and sweet
// begins there. The French guide to the regulation says below 45, as
// [SweetnessBand] does. Of a sparkling wine several terms may hold; the driest is
// the one most worth having. Brut nature also asks that no sugar was added after the
// second fermentation. The OIV lets medium dry go on to 18 g/L within 2 g/L of the
// acidity (a wine dictionary's wording; the EU has 10).
var termLimits = map[TermRule][]termLimit{
	EUStill: {
		{name: "dry", most: 4, mostMatched: 9, overAcidity: 2},
		{name: "medium dry", most: 12, mostMatched: 18, overAcidity: 10},
		{name: "medium", also: []string{"medium sweet"}, most: 45, below: true},
		{name: "sweet"},
	},
	EUSparkling: {
		{name: "brut nature", most: 3, below: true},
		{name: "extra brut", most: 6},
		{name: "brut", most: 12, below: true},
		{name: "extra dry", most: 17},
		{name: "sec", also: []string{"dry"}, most: 32},
		{name: "demi-sec", also: []string{"medium dry"}, most: 50},
		{name: "doux", also: []string{"sweet"}},
	},
	OIVStill: {
		{name: "dry", most: 4, mostMatched: 9, overAcidity: 2},
		{name: "medium dry", most: 12, mostMatched: 18, overAcidity: 2},
		{name: "semi-sweet", most: 45, below: true},
		{name: "sweet"},
	},
}

// decimalSlack makes 8.3 − 6.3 no more than 2: readings are decimal, and binary
// fractions miss them by a hair.
const decimalSlack = 1e-9

// Term returns the driest term that the rule allows a drink with so much sugar.
// Acidity is total acidity as tartaric acid; with 0, not measured, no more sugar is
// allowed on account of it.
//
// sugar from 0 to 1000 g/L and acidity from 0 to 100; otherwise the error wraps
// [ErrOutOfRange] or [ErrNotANumber]. An unknown rule wraps [ErrOutOfRange].
// 8.5 g/L with an acidity of 7 are dry in the EU, without it medium dry.
func Term(rule TermRule, sugar, acidity GramPerLitre) (LegalTerm, error) {
	limits, ok := termLimits[rule]
	if !ok {
		return LegalTerm{}, fmt.Errorf("rule %q is not one of %s: %w", rule, oneOf(TermRules()), ErrOutOfRange)
	}
	if err := inRange("sugar", float64(sugar), 0, 1000, " g/L"); err != nil {
		return LegalTerm{}, err
	}
	if err := inRange("acidity", float64(acidity), 0, 100, " g/L"); err != nil {
		return LegalTerm{}, err
	}
	last := len(limits) - 1
	for _, l := range limits[:last] {
		if l.allows(float64(sugar), float64(acidity)) {
			return l.term(), nil
		}
	}
	return limits[last].term(), nil
}

// TermSugar returns the sugar of drinks that the rule calls by a name, acidity left
// aside: from the limit of the driest term before to its own, from and to in g/L. The
// sweetest term has no upper limit and to is 0. An unknown rule or name wraps
// [ErrOutOfRange]. Brut, of sparkling wine, is from 6 to 12.
func TermSugar(rule TermRule, name string) (from, to GramPerLitre, err error) {
	limits, ok := termLimits[rule]
	if !ok {
		return 0, 0, fmt.Errorf("rule %q is not one of %s: %w", rule, oneOf(TermRules()), ErrOutOfRange)
	}
	for _, l := range limits {
		if l.name == name || slices.Contains(l.also, name) {
			return from, GramPerLitre(l.most), nil
		}
		from = GramPerLitre(l.most)
	}
	return 0, 0, fmt.Errorf("%q is no term of %s: %w", name, rule, ErrOutOfRange)
}

// TermNames returns the names a rule has, from dry to sweet, without those that mean
// the same; none of an unknown rule.
func TermNames(rule TermRule) []string {
	var names []string
	for _, l := range termLimits[rule] {
		names = append(names, l.name)
	}
	return names
}

func (l termLimit) term() LegalTerm {
	return LegalTerm{Name: l.name, Also: append([]string(nil), l.also...)}
}

func (l termLimit) allows(sugar, acidity float64) bool {
	if l.below {
		return sugar < l.most-decimalSlack
	}
	if sugar <= l.most+decimalSlack {
		return true
	}
	return acidity > 0 && sugar <= l.mostMatched+decimalSlack && sugar-acidity <= l.overAcidity+decimalSlack
}
