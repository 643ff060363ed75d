package model

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"cellar.local/glassrow/calc"
)

// Safeguards is what stands between the yeast of a batch and sugar, as far as the
// journal tells. A person may know better, and change it.
type Safeguards struct {
	Finished  bool // gravity has stood still for some days
	Clear     bool // racked, so taken to be bright
	Tolerance calc.PercentVol

	PH     calc.PH // last read; 0: never
	PHRead time.Time

	FreeSO2 calc.MilligramPerLitre // what is likely still free of the sulfite added
	Sorbate calc.MilligramPerLitre // potassium sorbate

	Filtered, Chilled bool
	Heat              calc.PU

	Left calc.GramPerLitre // sugar in it that its yeast could still take
}

// finishedDays is how long gravity must have stood still (cautions, section 1: three
// days at the least).
const finishedDays = 3.0

// Safeguards reads the journal for what keeps the batch from starting again. s is its
// state now.
func (b Batch) Safeguards(s State) (Safeguards, error) {
	g := Safeguards{Finished: s.stillDays >= finishedDays, Tolerance: s.Tolerance, Left: min(s.keptSweet, s.Figures.Fermentable)}
	if s.hasFood() || !g.Finished {
		g.Left = s.Figures.Fermentable
	}
	if s.Figures.Volume > 0 {
		g.Left += calc.GramPerLitre(s.LateSugar) / calc.GramPerLitre(s.Figures.Volume) // it may be out by now
	}
	for _, e := range b.Live() {
		switch body := e.Body.(type) {
		case Rack:
			g.Clear = true
		case Reading:
			if body.PH != 0 {
				g.PH, g.PHRead = calc.PH(body.PH), e.At
			}
		case Stabilise:
			at, err := b.Before(e.ID)
			if err != nil {
				return g, err
			}
			if err := g.add(body, at.Figures.Volume); err != nil {
				return g, err
			}
		}
	}
	return g, nil
}

// add counts what was done for a volume of it.
func (g *Safeguards) add(s Stabilise, v calc.Litre) error {
	g.Filtered, g.Chilled, g.Heat = g.Filtered || s.Filtered, g.Chilled || s.Chilled, g.Heat+calc.PU(s.PU)
	if v <= 0 {
		return nil
	}
	free, err := calc.PotassiumMetabisulfite().FreeAfter(s.Sulfite, v)
	if err != nil {
		return err
	}
	g.FreeSO2 += free
	g.Sorbate += calc.ConcentrationOf(s.Sorbate, v)
	return nil
}

// Assess judges whether the batch would keep, with a trial stirred in or, without one,
// as it is.
func (g Safeguards) Assess(s State, t *Trial, table calc.SorbateTable) (calc.Assessment, error) {
	p := calc.Protection{
		Fermentable: g.Left, Finished: g.Finished, Clear: g.Clear, ABV: s.Strength, Tolerance: g.Tolerance, PH: g.PH,
		Sorbate: g.Sorbate, SterileFiltered: g.Filtered, Heat: g.Heat, KeptCold: g.Chilled,
	}
	if t != nil {
		p.Fermentable += max(0, t.After.Fermentable-t.Before.Fermentable)
		p.ABV = t.After.Strength
	}
	if g.FreeSO2 > 0 {
		ph := g.PH
		if ph == 0 {
			ph = guessedPH // the sulfite is in it; that nobody read the pH is told of the sorbate
		}
		molecular, err := calc.MolecularSO2(g.FreeSO2, min(max(ph, leastSulfitePH), mostSulfitePH))
		if err != nil {
			return calc.Assessment{}, err
		}
		p.Molecular = molecular
	}
	return calc.Stabilised(p, table)
}

// Where the sulfite formula holds; see [calc.MolecularSO2].
const leastSulfitePH, mostSulfitePH calc.PH = 2.8, 4.2

// StabilisePlan is what to add so that a batch keeps its sugar.
type StabilisePlan struct {
	PH      calc.PH
	Guessed bool                   // the pH was never read
	Free    calc.MilligramPerLitre // free SO2 to reach
	Sulfite calc.SulfiteDose       // potassium metabisulfite
	Sorbate calc.SorbateDose       // what is missing of it
	Total   calc.MilligramPerLitre // SO2 added in all, for the limits

	// TooMuch is set when what the pH asks for is over a limit: then neither
	// sulfite nor sorbate, which is never without it, is offered.
	TooMuch bool
}

// guessedPH is what many wines and meads have, when nobody has read it.
const guessedPH calc.PH = 3.5

// Plan works out the sulfite and the sorbate for v litres of a strength: sulfite for
// the molecular SO2 of a sweet drink, sorbate by the table, less what is there.
func (g Safeguards) Plan(v calc.Litre, abv calc.PercentVol, table calc.SorbateTable) (StabilisePlan, error) {
	p := StabilisePlan{PH: g.PH, Guessed: g.PH == 0}
	if p.Guessed {
		p.PH = guessedPH
	}
	var err error
	if p.Free, err = calc.FreeSO2For(calc.MolecularSO2White, min(max(p.PH, leastSulfitePH), mostSulfitePH)); err != nil {
		return p, err
	}
	if p.Sulfite, err = calc.PotassiumMetabisulfite().Dose(p.Free, g.FreeSO2, v); err != nil {
		return p, err
	}
	if p.Sorbate, err = table.Dose(abv, min(max(p.PH, 2.5), 5), v); err != nil {
		return p, err
	}
	p.Sorbate = p.Sorbate.Less(g.Sorbate, v)
	p.Total = p.Sulfite.Add + g.FreeSO2/calc.FirstSulfiteFreeHigh
	return p, nil
}

// Within returns the plan with nothing to add when it would take the drink over the
// highest of the limits, and the plan as it is when there is no limit.
func (p StabilisePlan) Within(limits ...calc.MilligramPerLitre) StabilisePlan {
	if len(limits) == 0 || p.Total <= slices.Max(limits) {
		return p
	}
	p.TooMuch = true
	p.Sulfite.Mass, p.Sorbate.Mass = 0, 0
	return p
}

// Needed reports whether anything is to be added.
func (p StabilisePlan) Needed() bool { return p.Sulfite.Mass > 0 || p.Sorbate.Mass > 0 }

// Entry returns the stabilising to write down.
func (p StabilisePlan) Entry() Stabilise {
	return Stabilise{Sulfite: p.Sulfite.Mass, Sorbate: p.Sorbate.Mass}
}

// Steps returns what comes after the sulfite and the sorbate, which go in at a time:
// sweetening a day later, and two readings a week apart that must be the same before it
// is bottled (stabilising notes).
func (p StabilisePlan) Steps(at time.Time) []Reminder {
	return []Reminder{
		{"sweeten it, if it is to be sweet", at.AddDate(0, 0, 1), KindAddition},
		{"read it, the first of two before bottling", at.AddDate(0, 0, 8), KindReading},
		{"read it; if both are the same, bottle: contains sulphites", at.AddDate(0, 0, 15), KindReading},
	}
}

// AfterPlan returns the safeguards once the plan is carried out.
func (g Safeguards) AfterPlan(p StabilisePlan) Safeguards {
	g.PH = p.PH
	g.FreeSO2 = max(g.FreeSO2, p.Free)
	g.Sorbate += p.Sorbate.Sorbate
	return g
}

// SugarAtRisk returns the sugar that living yeast in the batch could make gas of, were
// it closed in now; none when the batch is known to keep.
func (b Batch) SugarAtRisk(s State, table calc.SorbateTable) (calc.GramPerLitre, error) {
	g, err := b.Safeguards(s)
	if err != nil {
		return 0, err
	}
	a, err := g.Assess(s, nil, table)
	if err != nil || a.Verdict >= calc.StabilityLikely || g.Left <= harmlessSugar {
		return 0, err
	}
	return g.Left, nil
}

// ParsePH understands a pH: 3.4, ph3.4.
func ParsePH(text string) (calc.PH, error) {
	r, err := ParseReading("ph"+trimPH(text), DefaultCalibration)
	if err != nil || r.PH == 0 || r.HasGravity() {
		return 0, fmt.Errorf("pH %q is not understood; write a number such as 3.4: %w", text, ErrInvalid)
	}
	return calc.PH(r.PH), nil
}

func trimPH(text string) string {
	s := strings.ToLower(strings.TrimSpace(text))
	return strings.TrimLeft(strings.TrimPrefix(s, "ph"), " =")
}

// SulfiteLimits returns which of all the rules are for a drink of this kind with so
// much sugar.
func (d Drink) SulfiteLimits(all []calc.SulfiteLimit, sugar calc.GramPerLitre) []calc.SulfiteLimit {
	var out []calc.SulfiteLimit
	for _, l := range all {
		if l.For(sugar) && d.under(l) {
			out = append(out, l)
		}
	}
	return out
}

// under reports whether a rule is for this kind of drink.
func (d Drink) under(l calc.SulfiteLimit) bool {
	switch d {
	case Beer:
		return l.ID == "eu_beer"
	case Mead, Cider, Perry:
		return l.ID == "eu_cider_mead" || l.ID == "us_wine"
	}
	return strings.HasPrefix(l.ID, "eu_white") || l.ID == "us_wine"
}
