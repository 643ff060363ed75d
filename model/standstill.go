package model

import (
	"fmt"
	"math"
	"strings"
	"time"

	"cellar.local/glassrow/calc"
)

// standsStill is a batch that is proven to stand: stuck, done, resting or stable, by
// what is left in it and what was done since.
func (s *State) standsStill(still stretch) Verdict {
	s.stillDays = still.days
	v := Verdict{Evidence: []string{stillText(still)}}
	switch {
	case s.held() && s.leftToEat():
		v.Evidence = append(v.Evidence, s.sugarLeft()+", kept by what was done")
		v.RuledOut = append(v.RuledOut, "stuck: it was stopped")
		v.Standing = s.doneStanding(still, &v)
		return v
	case s.hasFood():
		return s.stuck(v)
	}
	sweet := min(s.keptSweet, s.Figures.Fermentable) >= noticeableSugar
	switch {
	case sweet && !s.leftToEat():
		s.sayKeptSweet(&v)
	case s.Figures.Fermentable-s.SugarPM <= dryGramsL:
		s.sayNothingLeft(&v)
	case !s.leftToEat():
		v.Evidence = append(v.Evidence, s.sugarLeft()+", of kinds that many yeasts leave: more yeast will hardly help")
		v.RuledOut = append(v.RuledOut, "stuck: what this yeast surely eats is gone")
	default:
		v.Evidence = append(v.Evidence, fmt.Sprintf("%s at %.1f ± %.1f %% vol: at the limit of this yeast (%.1f)",
			s.sugarLeft(), float64(s.Strength), float64(s.PlusMinus), float64(s.Tolerance)))
		v.RuledOut = append(v.RuledOut, "stuck: it has come as far as its yeast stands",
			"more of this yeast: it would not stand the alcohol either")
	}
	v.Standing = s.doneStanding(still, &v)
	return v
}

// doneStanding tells how long done a batch is.
func (s *State) doneStanding(still stretch, v *Verdict) Standing {
	began := s.Read.Add(-days(still.days))
	racked := s.racked.After(began) && still.days >= 5
	switch {
	case s.held():
		v.Evidence = append(v.Evidence, "stabilised with "+s.stabilisedBy.String())
		v.RuledOut = append(v.RuledOut, "waking up: what was done keeps yeast down")
		return Stable
	case s.keptSweet < noticeableSugar && still.days >= stableDays && s.Figures.Fermentable-s.SugarPM <= dryGramsL:
		v.Evidence = append(v.Evidence, "still for two months and dry")
		v.RuledOut = append(v.RuledOut, "waking up: there is nothing to wake for, as long as no sugar is added")
		return Stable
	}
	if !s.stabilised.IsZero() {
		v.Evidence = append(v.Evidence, "stabilised with "+s.stabilisedBy.String()+", which alone does not hold yeast down")
	}
	switch {
	case racked:
		v.Evidence = append(v.Evidence, "racked off its lees since")
		return Resting
	case still.days >= restDays:
		return Resting
	}
	return Done
}

func stillText(still stretch) string {
	text := fmt.Sprintf("%s in %s, less than a reading can tell", points(math.Abs(still.fall)), daysText(still.days))
	if math.Abs(still.fall) < 0.05 {
		text = "no change in " + daysText(still.days)
	}
	return text + ", " + counted(still.readings, "reading")
}

func (s *State) sugarLeft() string {
	return fmt.Sprintf("%.0f ± %.0f g/L of sugar left", math.Round(float64(s.Figures.Fermentable))+0, float64(s.SugarPM))
}

// stuck is a batch that stands with food left.
func (s *State) stuck(v Verdict) Verdict {
	v.Standing = Stuck
	left := s.sugarLeft()
	if s.Tolerance > 0 {
		left += fmt.Sprintf("; at %.1f of the %.1f %% vol this yeast stands", float64(s.Strength), float64(s.Tolerance))
	}
	v.Evidence = append(v.Evidence, left, fmt.Sprintf("if done it would read about %.3f", float64(s.expectedEnd())))
	v.RuledOut = []string{
		fmt.Sprintf("done: at least %s is left that yeast eats", gramsPerLitre(s.sureFood-s.SugarPM)),
		"slow: a fall of a point a day would have shown",
	}
	v.Causes = s.causes(false)
	return v
}

// expectedEnd returns where gravity would come to rest if the yeast ate all that it
// can.
func (s *State) expectedEnd() calc.SG {
	rule := s.drink.Fermentation()
	done, err := rule.Run(s.Liquid, rule.UpTo(s.Liquid, s.Tolerance))
	if err != nil {
		return s.SG()
	}
	sg, err := done.Liquid.SG()
	if err != nil {
		return s.SG()
	}
	return sg
}

// sayNothingLeft is the batch with nothing wrong: it stands because there is nothing
// left to eat, whatever its hydrometer reads.
func (s *State) sayNothingLeft(v *Verdict) {
	v.Evidence = append(v.Evidence, fmt.Sprintf("nothing left to eat (%.0f ± %.0f g/L of sugar): more yeast will not help",
		math.Round(float64(s.Figures.Fermentable))+0, float64(s.SugarPM)))
	v.RuledOut = append(v.RuledOut, "stuck: there is no food to be stuck on", "more yeast: it would find nothing")
	body := s.Figures.Extract - s.Figures.Fermentable
	if s.SG() <= 1 || body <= 0 {
		return
	}
	of := ""
	if dextrin := s.perLitre(calc.Dextrin); dextrin > body/2 {
		of = ", most of it dextrin"
	} else if sugar := s.perLitre(calc.Lactose); sugar > body/2 {
		of = ", most of it lactose"
	}
	v.Evidence = append(v.Evidence, fmt.Sprintf("what holds it at %.3f is %s that yeast cannot eat%s: nothing is wrong",
		float64(s.SG()), gramsPerLitre(body), of))
	if end, ok := s.endWithSugar(10); ok {
		v.RuledOut = append(v.RuledOut, fmt.Sprintf("more sugar: it would only ferment, and end near the same gravity (10 g/L more: %.3f)", float64(end)))
	}
}

func (s *State) perLitre(c calc.Component) calc.GramPerLitre {
	if s.Figures.Volume == 0 {
		return 0
	}
	return calc.GramPerLitre(s.Liquid.Of(c)) / calc.GramPerLitre(s.Figures.Volume)
}

// endWithSugar returns where gravity would end if so much sugar a litre were stirred in
// and fermented out.
func (s *State) endWithSugar(more calc.GramPerLitre) (calc.SG, bool) {
	sugar, err := calc.NewLiquid(map[calc.Component]calc.Gram{calc.Sucrose: calc.Gram(float64(more) * float64(s.Figures.Volume))})
	if err != nil {
		return 0, false
	}
	before, err := s.Liquid.SG()
	if err != nil {
		return 0, false
	}
	rule := s.drink.Fermentation()
	done, err := rule.Run(s.Liquid.Plus(sugar), sugar.Hexose())
	if err != nil {
		return 0, false
	}
	end, err := done.Liquid.SG()
	return s.SG() + end - before, err == nil
}

// sayKeptSweet is a batch that was done and then sweetened.
func (s *State) sayKeptSweet(v *Verdict) {
	v.RuledOut = append(v.RuledOut, "stuck: it was done before it was sweetened")
	text := s.sugarLeft() + ", what it was sweetened with"
	held := s.held()
	switch {
	case held:
		v.Evidence = append(v.Evidence, text)
	case len(looksAfter(s.looks(), s.sweetened)) < 2:
		v.Evidence = append(v.Evidence, text+"; read it again in a few days, for living yeast can wake")
	default:
		v.Evidence = append(v.Evidence, text+": still so far, yet living yeast can wake")
	}
	if wait := s.sweetened.Add(days(14)); !held && s.Last.At.Before(wait) {
		v.Decides, v.Question = wait, "whether yeast wakes to the sugar"
	}
}

// causes lists what may be wrong with a batch that is stuck, slow or has not begun, a
// misreading first, then what the journal speaks for; the clues are those of the
// diagnosis notes, section 4. moves tells that it still falls or has not begun.
func (s *State) causes(moves bool) []Cause {
	all := []Cause{{What: "a misreading", Clue: "it costs nothing to rule out",
		Check: "read again first: fresh sample, bubbles spun off, its temperature"}}
	add := func(fits bool, what, clue, check string) {
		if fits {
			all = append(all, Cause{what, clue, check})
		}
	}
	t, known := s.lastWarmth()
	begun := s.Original.Points()-s.SG().Points() >= lagPoints
	add(known && t <= 16 || s.chilled(), "cold", s.coldClue(t), "warm it slowly to about 20 °C, rouse the lees")
	add(s.hottest() >= 30, "heat", fmt.Sprintf("it was at %.0f °C", float64(s.hottest())), "cool it, then pitch fresh yeast used to the alcohol")
	add(!s.nutrients && s.drink != Beer && s.poorInNitrogen(), "too little nitrogen", "honey and sugar bring next to none, and no nutrient is in the journal",
		s.feedCheck())
	add(s.lowestPH > 0 && s.lowestPH < 3, "too sour for the yeast", fmt.Sprintf("pH %.1f was read", s.lowestPH), "read the pH; raise it to 3.2 with potassium carbonate")
	add(s.Tolerance > 0 && begun && s.Strength >= 0.8*s.Tolerance, "alcohol near what the yeast stands",
		fmt.Sprintf("%.1f of %.1f %% vol", float64(s.Strength), float64(s.Tolerance)), "pitch a yeast that stands more, used to the alcohol; or let it be")
	add(s.Original >= 1.110 && (moves || s.Strength < 0.5*s.Tolerance), "a must too strong to start in", fmt.Sprintf("it began at %.3f", float64(s.Original)), "thin it, or feed the sugar in steps next time")
	if s.drink == Beer {
		left := s.apparentAttenuation()
		add(begun && left >= 0.5 && left <= 0.68, "maltose left", fmt.Sprintf("stopped at %.0f %% apparent attenuation", 100*left), "rouse and warm it; another strain if it does not take")
		add(begun, "yeast dropped out early", "beer that stops bright", "look whether it is bright; rouse it")
	} else {
		fructose := s.perLitre(calc.Fructose)
		add(begun && s.sureFood <= 40 && fructose > 0.6*s.sureFood, "fructose left", gramsPerLitre(fructose)+" of it by the uptake order", "a yeast that takes fructose well")
	}
	add(!known, "cold or heat", "no temperature is in the journal", "measure the liquid, not the room")
	const most = 5
	return all[:min(len(all), most)]
}

// feedCheck says what a feed would still do: after the first third of the fall it is
// weak medicine.
func (s *State) feedCheck() string {
	done := (s.Original.Points() - s.SG().Points()) / math.Max(1, s.Original.Points())
	if done < 1.0/3 {
		return "feed it now, while less than a third of the sugar is gone"
	}
	return "feed before the first third next time; so late it helps little"
}

func (s *State) poorInNitrogen() bool { return s.drink.nitrogen() < 140 }

// apparentAttenuation returns the share of the extract that seems to be gone.
func (s *State) apparentAttenuation() float64 {
	if s.Original.Points() <= 0 {
		return 0
	}
	return (s.Original.Points() - s.SG().Points()) / s.Original.Points()
}

func (s *State) coldClue(t calc.Celsius) string {
	if s.chilled() {
		return fmt.Sprintf("the sample cooled to %.0f °C as it slowed", float64(t))
	}
	return fmt.Sprintf("the last sample had %.0f °C", float64(t))
}

// warmth is the temperature of a sample.
type warmth struct {
	at time.Time
	t  calc.Celsius
}

// lastWarmth returns the mean of the last three temperatures read.
func (s *State) lastWarmth() (calc.Celsius, bool) {
	n := len(s.warmths)
	if n == 0 {
		return 0, false
	}
	recent := s.warmths[max(0, n-3):]
	sum := calc.Celsius(0)
	for _, w := range recent {
		sum += w.t
	}
	return sum / calc.Celsius(len(recent)), true
}

func (s *State) hottest() calc.Celsius {
	hot := calc.Celsius(0)
	for _, w := range s.warmths {
		hot = max(hot, w.t)
	}
	return hot
}

// chilled reports whether the samples have cooled by four degrees or more.
func (s *State) chilled() bool {
	t, ok := s.lastWarmth()
	return ok && t <= 18 && s.hottest()-t >= 4
}

// mentionsNutrients reports whether words speak of food for the yeast.
func mentionsNutrients(text string) bool {
	text = strings.ToLower(text)
	for _, word := range []string{"nutrient", "ammonium", "phosphate", "yeast hull", "yeast food"} {
		if strings.Contains(text, word) {
			return true
		}
	}
	return false
}
