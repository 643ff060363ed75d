package model

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"cellar.local/glassrow/calc"
)

// Caution is something that whoever is handed a glass should know, and what in the
// journal it follows from.
type Caution struct {
	Allergen bool   // of those that food law wants declared
	What     string // contains gluten
	Why      string // malt extract, dry
}

// warning is a rule: what to say of a batch that holds something.
type warning struct {
	allergen bool
	what     string
	words    []string         // whole words of an ingredient's name or of a note, in lower case
	contains []calc.Component // or these by composition
	least    calc.Gram        // of them in a gram; 0: more than a trace
	drinks   []Drink          // or the drink is usually made of it, though the journal names nothing
	made     string           // why a drink of those kinds is warned of
}

// warnings returns the rules: the allergens that EU regulation 1169/2011, annex II,
// lists, as far as they come into a cellar, then what harms somebody (cautions,
// section 4; shellfish, soya, sesame and lupin from memory).
func warnings() []warning {
	return []warning{
		{allergen: true, what: "contains gluten (cereals)",
			words:  []string{"malt", "malts", "malted", "barley", "wheat", "rye", "spelt", "oat", "oats", "wort", "bran"},
			drinks: []Drink{Beer}, made: "beer is usually brewed from barley"},
		{allergen: true, what: "contains milk (lactose); not for people who cannot take lactose",
			words: []string{"lactose", "milk", "whey", "casein", "caseinate"}, contains: []calc.Component{calc.Lactose}},
		{allergen: true, what: "contains egg", words: []string{"egg", "eggs", "albumen", "albumin", "lysozyme"}},
		{allergen: true, what: "contains fish (isinglass; some rules exempt it as a fining)", words: []string{"isinglass", "fish"}},
		{allergen: true, what: "may contain shellfish (chitosan is often made from it; ask the maker)", words: []string{"chitosan", "shellfish"}},
		{allergen: true, what: "contains nuts", words: []string{"nut", "nuts", "almond", "almonds", "hazelnut", "hazelnuts", "walnut", "walnuts",
			"pecan", "pecans", "cashew", "cashews", "pistachio", "pistachios", "macadamia", "macadamias", "marzipan"}},
		{allergen: true, what: "contains peanuts", words: []string{"peanut", "peanuts"}},
		{allergen: true, what: "contains celery", words: []string{"celery", "celeriac"}},
		{allergen: true, what: "contains mustard", words: []string{"mustard"}},
		{allergen: true, what: "contains sesame", words: []string{"sesame", "tahini"}},
		{allergen: true, what: "contains soya", words: []string{"soya", "soy", "soybean", "soybeans"}},
		{allergen: true, what: "contains lupin", words: []string{"lupin", "lupins"}},
		{what: "honey in any form is not for a child under a year: infant botulism",
			words: []string{"honey", "honeycomb"}, drinks: []Drink{Mead}, made: "mead is made of honey"},
		{what: "bee products can cause allergic reactions", words: []string{"pollen", "propolis", "royal jelly"}},
		{what: "xylitol poisons dogs and harms ferrets: keep the drink, the lees and the packet from pets",
			words: []string{"xylitol"}, contains: []calc.Component{calc.Xylitol}},
		{what: "a source of phenylalanine: not for people with phenylketonuria",
			words: []string{"aspartame"}, contains: []calc.Component{calc.Aspartame}},
		{what: "laxative in quantity", least: 0.2, words: []string{"erythritol", "xylitol", "sorbitol", "maltitol", "allulose"},
			contains: []calc.Component{calc.Erythritol, calc.Xylitol, calc.Sorbitol, calc.Allulose}},
		{what: "grapes, raisins, hops and alcohol are dangerous to dogs",
			words: []string{"grape", "grapes", "raisin", "raisins", "hop", "hops"}, drinks: []Drink{Beer}, made: "beer is usually hopped"},
	}
}

// Cautions returns what to say of the batch as its journal has it: allergens first,
// then other harm, then what the handbook adds about making it. It goes by what was
// written down; the composition of an ingredient, its name, and words in notes.
func (b Batch) Cautions(l Larder) []Caution {
	in := b.wentIn()
	out := []Caution{b.sulfite(in)}
	told := make(map[string]bool) // names of what a rule has spoken of
	for _, w := range warnings() {
		if c, ok := w.judge(b.Drink, in, told); ok {
			out = append(out, c)
		}
	}
	slices.SortStableFunc(out, func(x, y Caution) int { return cmpBool(y.Allergen, x.Allergen) })
	return append(append(out, handbookCautions(in, told, l)...), b.poured()...)
}

// judge applies the rule to what went in and marks the names it spoke of. Words in a
// note are no proof that something went in: of an allergen they say may contain, and of
// the rest nothing.
func (w warning) judge(d Drink, in []ingoing, told map[string]bool) (Caution, bool) {
	var sure, perhaps []string
	for _, i := range in {
		switch {
		case !w.fits(i):
		case i.name != "":
			sure, told[i.name] = append(sure, i.name), true
		case w.allergen:
			perhaps = append(perhaps, i.reason())
		}
	}
	c := Caution{Allergen: w.allergen, What: w.what}
	switch {
	case len(sure) > 0:
		c.Why = strings.Join(unique(sure), "; ")
	case slices.Contains(w.drinks, d):
		c.Why = w.made + ", and no entry says otherwise"
	case len(perhaps) > 0:
		c.Why = strings.Join(unique(perhaps), "; ")
		if rest, ok := strings.CutPrefix(w.what, "contains "); ok {
			c.What = "may contain " + rest
		}
	default:
		return Caution{}, false
	}
	return c, true
}

func cmpBool(x, y bool) int {
	switch {
	case x == y:
		return 0
	case x:
		return 1
	}
	return -1
}

// handbookCautions are what the handbook says of ingredients that no rule spoke of.
func handbookCautions(in []ingoing, told map[string]bool, l Larder) []Caution {
	var out []Caution
	for _, i := range in {
		if i.name == "" || told[i.name] {
			continue
		}
		told[i.name] = true
		if text := l.cautionOf(i.name); text != "" {
			out = append(out, Caution{What: text, Why: i.name})
		}
	}
	return out
}

// cautionOf is the caution of the row with just that name. Here nobody is asked back
// which row was meant, so half a name, which [Larder.Find] takes, is not enough.
func (l Larder) cautionOf(name string) string {
	is := func(n string) bool { return singular(foldName(n)) == singular(foldName(name)) }
	for _, s := range l.Sweeteners {
		if slices.ContainsFunc(s.names(), is) {
			return s.Caution
		}
	}
	for _, f := range l.Fruits {
		if slices.ContainsFunc(f.names(), is) {
			return f.Caution
		}
	}
	return ""
}

// ingoing is something that went into a batch, or words about it.
type ingoing struct {
	name  string // of an ingredient; empty for a note
	note  string
	holds calc.Liquid // a gram of it
	entry Entry
}

// reason names it as the cause of a caution.
func (i ingoing) reason() string {
	if i.name != "" {
		return i.name
	}
	return "a note of " + i.entry.At.Format("2 Jan 2006") + " speaks of it"
}

// wentIn lists what the live entries say went in.
func (b Batch) wentIn() []ingoing {
	var out []ingoing
	portion := func(e Entry, p Portion) {
		out = append(out, ingoing{name: p.Ingredient.Name, holds: p.Ingredient.PerGram, entry: e})
	}
	fruit := func(e Entry, f calc.FruitPortion) {
		out = append(out, ingoing{name: f.Fruit.Name, holds: f.Fruit.Juice, entry: e})
	}
	for _, e := range b.Live() {
		switch body := e.Body.(type) {
		case Must:
			for _, p := range body.Ingredients {
				portion(e, p)
			}
			for _, f := range body.Fruit {
				fruit(e, f)
			}
		case Fruited:
			fruit(e, body.Portion)
		case Addition:
			portion(e, body.Portion)
		case Fine:
			out = append(out, ingoing{name: body.Agent, entry: e})
		case Feed:
			out = append(out, ingoing{name: body.What, entry: e})
		case Pour:
			out = append(out, ingoing{name: body.Name, holds: gramOf(body.Liquid), entry: e})
		case Note: // not that of a reading, which says how it smells
			out = append(out, ingoing{note: body.Text, entry: e})
		}
	}
	return out
}

// gramOf returns a gram of a liquid.
func gramOf(l calc.Liquid) calc.Liquid {
	if l.Mass() <= 0 {
		return calc.Liquid{}
	}
	return l.Scaled(1 / float64(l.Mass()))
}

// poured points to the sheets of what was poured in: what they name is not in this
// journal.
func (b Batch) poured() []Caution {
	var out []Caution
	for _, e := range b.Live() {
		if p, ok := e.Body.(Pour); ok {
			out = append(out, Caution{What: "holds what " + p.Name + " holds: look at what is said of that too", Why: "poured in on " + e.At.Format("2 Jan 2006")})
		}
	}
	return out
}

// fits reports whether the rule speaks of it.
func (w warning) fits(i ingoing) bool {
	for _, c := range w.contains {
		if i.holds.Of(c) > max(w.least, traceOfIt) {
			return true
		}
	}
	said := " " + strings.Join(lettersOnly(i.name+" "+i.note), " ") + " "
	return slices.ContainsFunc(w.words, func(word string) bool { return strings.Contains(said, " "+word+" ") })
}

// traceOfIt is how much of a gram must be of a component for a rule to speak of it.
const traceOfIt calc.Gram = 0.005

// lettersOnly cuts a text into its words in lower case.
func lettersOnly(s string) []string {
	return strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return !unicode.IsLetter(r) })
}

// sulfite says what was added and what that comes to against the amount from which a
// label has to say so.
func (b Batch) sulfite(in []ingoing) Caution {
	var salt calc.Gram
	var so2 calc.MilligramPerLitre
	for _, e := range b.Live() {
		s, ok := e.Body.(Stabilise)
		if !ok || s.Sulfite == 0 {
			continue
		}
		salt += s.Sulfite
		if at, err := b.Before(e.ID); err == nil && at.Figures.Volume > 0 {
			so2 += calc.ConcentrationOf(s.Sulfite*calc.Gram(calc.PotassiumMetabisulfite().SO2), at.Figures.Volume)
		}
	}
	named := warning{words: []string{"sulfite", "sulphite", "sulfites", "sulphites", "metabisulfite", "metabisulphite", "campden"}}
	i := slices.IndexFunc(in, func(i ingoing) bool { return i.name != "" && named.fits(i) })
	c := Caution{Allergen: true, What: "contains sulphites: with asthma some people react to them, some of them badly"}
	switch {
	case so2 > calc.SulfiteStatement:
		c.Why = fmt.Sprintf("%.3g g of metabisulfite, about %.0f mg/L of SO2 added; above %.0f mg/L a label has to say so", float64(salt), float64(so2), float64(calc.SulfiteStatement))
	case salt > 0:
		c.What = "may contain sulphites: with asthma some people react to them, some of them badly"
		c.Why = fmt.Sprintf("%.3g g of metabisulfite, about %.1f mg/L of SO2 added, and yeast makes some more; a label has to say so above %.0f mg/L, which only a measurement can tell",
			float64(salt), float64(so2), float64(calc.SulfiteStatement))
	case i >= 0:
		c.Why = in[i].reason()
	default:
		c.What = "may contain sulphites"
		c.Why = fmt.Sprintf("none is written down as added, but yeast alone can make more than the %.0f mg/L from which a label has to say so; only a measurement can tell", float64(calc.SulfiteStatement))
	}
	return c
}

// unique keeps the first of equal texts.
func unique(all []string) []string {
	var out []string
	for _, s := range all {
		if !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}
