package model

import (
	"fmt"
	"strings"

	"cellar.local/glassrow/calc"
)

// Souring is what a gram of an acid or of a carbonate does to the pH. The zero Souring
// is that of anything else.
type Souring struct {
	PKs    calc.PKs
	Moles  float64 // of acid in a gram
	Alkali float64 // moles of acid groups that a gram neutralises
}

// acidStuff returns an acid as something that can go into a must.
func acidStuff(a calc.AcidKind) (Stuff, error) {
	i, err := calc.NewIngredient(a.Name, map[calc.Component]calc.Gram{calc.Acid: calc.Gram(a.Purity), calc.Water: calc.Gram(1 - a.Purity)})
	return Stuff{
		Sweetener: Sweetener{ID: a.ID, Ingredient: i, Aliases: a.Aliases, Form: "acid", Notes: a.Notes, Source: a.Source},
		Sour:      Souring{PKs: a.PKs, Moles: a.MolesPerGram()},
	}, err
}

// carbonateStuff is the same of what takes acid away. Its carbonic acid, up to 0.44 g of
// a gram, is reckoned as if it stayed in the must: 0.0003 of gravity at 2 g/L.
func carbonateStuff(c calc.Carbonate) (Stuff, error) {
	i, err := calc.NewIngredient(c.Name, map[calc.Component]calc.Gram{calc.OtherSolids: 1})
	return Stuff{
		Sweetener: Sweetener{ID: c.ID, Ingredient: i, Aliases: c.Aliases, Form: "carbonate", Notes: c.Notes, Source: c.Source},
		Sour:      Souring{Alkali: c.AlkaliPerGram()},
	}, err
}

// forPH returns the acids of the larder that are sold for drinks and whose pK are
// known, and the carbonates.
func (l Larder) forPH() []Stuff {
	var out []Stuff
	for _, a := range l.Acids {
		if s, err := acidStuff(a); err == nil && a.Addable && a.PKs != (calc.PKs{}) {
			out = append(out, s)
		}
	}
	for _, c := range l.Carbonates {
		if s, err := carbonateStuff(c); err == nil {
			out = append(out, s)
		}
	}
	return out
}

// SourBasis is what a guess of the pH rests on.
type SourBasis uint8

// The bases, from the best to the worst.
const (
	ByFruit   SourBasis = iota
	ByHoney             // which hardly buffers
	ByNothing           // water and sugar: nothing in it buffers
)

// Soured is the pH and the acidity of a must with acid or a carbonate in it, as a guess.
type Soured struct {
	PH           calc.Span
	AboutPH      calc.PH // the middle by the tables
	Acidity      calc.Span
	AboutAcidity calc.Acidity // as tartaric acid
	Basis        SourBasis
}

// Honey, from memory of 490 of them (White 1962): free acid in meq/kg, as its lowest and
// highest, and the pH, lowest, highest and on average.
const (
	honeyAcidLow, honeyAcidHigh         = 6.75, 47.2
	honeyPHLow, honeyPHHigh     float64 = 3.42, 6.10
	honeyPH                     calc.PH = 3.91
)

// A fruit of which no table tells: acid in g/kg and pH between what most have [choice].
const (
	usualAcidLow, usualAcidHigh         = 5, 15
	usualPHLow, usualPHHigh     float64 = 2.8, 4.2
)

// sourSources returns what the ingredients bring to v litres, and what that rests on.
func (r Recipe) sourSources(v calc.Litre) ([]calc.AcidSource, SourBasis) {
	var out []calc.AcidSource
	basis := ByNothing
	per := func(s calc.Span, amount float64) calc.Span {
		return calc.Span{Low: s.Low * amount / float64(v), High: s.High * amount / float64(v)}
	}
	for _, i := range r.Items {
		switch {
		case i.Mass == 0:
		case i.Stuff.IsFruit():
			f := i.Stuff.Fruit
			acid := f.Fruit.Acid
			if !acid.Known() {
				acid = calc.Span{Low: usualAcidLow, High: usualAcidHigh}
			}
			pks, equivalent := mainAcid(f.MainAcid)
			s := calc.AcidSource{PKs: pks, Acidity: per(acid, float64(i.FruitPortion().Edible())/1000*calc.TartaricEquivalent/equivalent)}
			if p := f.Fruit.PH; p.Known() {
				s.PH = calc.PH(p.Low+p.High) / 2
			}
			out, basis = append(out, s), ByFruit
		case strings.HasPrefix(i.Stuff.ID(), "honey"):
			acid := calc.Span{Low: honeyAcidLow, High: honeyAcidHigh}
			out = append(out, calc.AcidSource{PKs: calc.GluconicPKs(), Acidity: per(acid, float64(i.Mass)/1e6*calc.TartaricEquivalent), PH: honeyPH})
			basis = min(basis, ByHoney)
		}
	}
	return out, basis
}

// mainAcid returns the acid that a table names first, and grams of it for one
// equivalent; malic acid where none is named.
func mainAcid(name string) (calc.PKs, float64) {
	switch first, _, _ := strings.Cut(name, " "); first {
	case "tartaric":
		return calc.TartaricPKs(), calc.TartaricEquivalent
	case "citric", "isocitric":
		return calc.CitricPKs(), calc.CitricEquivalent
	}
	return calc.MalicPKs(), calc.MalicEquivalent
}

// soured guesses the pH of the must, whose litres once all is out are v, with the acid
// and the carbonate of the recipe.
func (r Recipe) soured(must calc.Must, v calc.Litre) Soured {
	sources, basis := r.sourSources(v)
	var span calc.Span
	var about calc.PH
	switch guess := must.PHGuess(); {
	case guess.Known():
		span, about = guess.Span, calc.PH(guess.Low+guess.High)/2
	case basis == ByFruit:
		span, about = calc.Span{Low: usualPHLow, High: usualPHHigh}, calc.PH(usualPHLow+usualPHHigh)/2
	case basis == ByHoney:
		span, about = calc.Span{Low: honeyPHLow, High: honeyPHHigh}, honeyPH
	}
	g := calc.GuessBalance(span, about, sources)
	for _, i := range r.Items {
		perLitre := float64(i.Mass) / float64(v)
		switch s := i.Stuff.Sour; {
		case s.Alkali > 0:
			g = g.PlusAlkali(s.Alkali * perLitre)
		case s.Moles > 0:
			g = g.Plus(s.PKs, s.Moles*perLitre)
		}
	}
	out := Soured{Basis: basis}
	out.PH, out.AboutPH = g.PH()
	out.Acidity, out.AboutAcidity = g.Acidity()
	return out
}

// sours reports whether there is an acid or a carbonate in the recipe.
func (r Recipe) sours() bool {
	for _, i := range r.Items {
		if i.Stuff.IsAcid() {
			return true
		}
	}
	return false
}

// missSour returns by how much a must falls short of the aim, the way in which the
// ingredient moves it; nothing anywhere within a range, so that as little goes in as
// does.
func (a MustAim) missSour(s Soured, raises bool) float64 {
	x, low, high := float64(s.AboutPH), float64(a.PHLow), float64(a.PHHigh)
	if a.Acidity != 0 {
		x, low, high = -float64(s.AboutAcidity), -float64(a.Acidity), -float64(a.Acidity)
	}
	short, past := x-high, x-low
	if raises {
		short, past = low-x, high-x
	}
	switch {
	case short > 0:
		return short
	case past < 0:
		return past
	}
	return 0
}

// AcidAdvice says how far the guess of the pH can be trusted, for people; nothing
// without an acid or a carbonate. It is told once.
func (r Recipe) AcidAdvice(f RecipeFigures) []string {
	s := f.Soured
	if s == nil {
		return nil
	}
	var out []string
	for _, i := range r.Items {
		if a := i.Aim; i.Stuff.IsAcid() && a.sour() {
			out = append(out, a.against(i, *s)...)
		}
	}
	switch s.Basis {
	case ByHoney:
		out = append(out, "Honey and water hardly buffer: this is very uncertain.")
	case ByNothing:
		out = append(out, "Nothing in it buffers: it rests on the water, and is very uncertain.")
	}
	return append(out, "Put in half, stir, measure with a meter, and only then the rest.")
}

// against says how the guess stands to what was asked of it.
func (a MustAim) against(i RecipeItem, s Soured) []string {
	var out []string
	if i.Mass == 0 {
		out = append(out, "By the guess the must is there without "+i.Stuff.Name()+".")
	}
	if a.Acidity != 0 {
		return append(out, fmt.Sprintf("The acidity may be anything from %.1f to %.1f g/L.", s.Acidity.Low, s.Acidity.High))
	}
	if s.PH.High-s.PH.Low > float64(a.PHHigh-a.PHLow)+0.05 {
		out = append(out, fmt.Sprintf("The guess, pH %.1f to %.1f, is wider than asked.", s.PH.Low, s.PH.High))
	}
	return out
}
