package ui

import (
	"fmt"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// openFeed asks what the yeast was given.
func (a app) openFeed(row model.Row) (tea.Model, tea.Cmd) { return a.openFeedOf(row, "", "") }

// openFeedOf asks what the yeast was given, with something typed already: the dose that
// was due under a key.
func (a app) openFeedOf(row model.Row, typed, due string) (tea.Model, tea.Cmd) {
	b, o, say := a.batch.batch, a.opts, a.words()
	look := func(p formPane, now time.Time) (model.Feeding, error) {
		name, mass, err := model.ParseDose(p.fields[0].value())
		if err != nil {
			return model.Feeding{}, err
		}
		at, err := p.when(now)
		if err != nil {
			return model.Feeding{}, err
		}
		return b.Feeding(name, mass, at, o.Nutrients, due)
	}
	p := &a.form
	p.open("Feed "+row.Vessel.Label+", "+row.Batch.Name, row, []field{
		textField("what", "DAP 5g, or a name alone", typed).offering(func(begun string) []string { return b.Offered(o.Nutrients, begun) }),
		whenField(),
	}, func(p formPane, s Store, t ticket, now time.Time) (tea.Cmd, error) {
		f, err := look(p, now)
		if err != nil {
			return nil, err
		}
		at, err := p.when(now)
		return feedYeast(s, t, row, f.Feed, due, at, now, o.Nutrients), err
	})
	p.note = "Stir or swirl the gas out before powder goes in, or it boils over."
	p.coming = func(p formPane, now time.Time) []string {
		f, err := look(p, now)
		if err != nil {
			return nil // not typed yet; enter says what is missing
		}
		return feedingTold(f, row.Batch.Drink, say)
	}
	p.doubts = func(p formPane, now time.Time) []string {
		f, err := look(p, now)
		if err != nil {
			return nil
		}
		return f.Cautions()
	}
	p.retell(o.Now())
	return a.openForm()
}

// feedingTold says what a feeding brings, and what the must has had.
func feedingTold(f model.Feeding, d model.Drink, say words.Words) []string {
	var told []string
	switch {
	case f.Source.ID == "":
		told = append(told, f.Feed.What+" is not in the handbook: its nitrogen is not known.")
	case f.Feed.Mass == 0:
		told = append(told, f.Source.Name+", not weighed: the nitrogen it brings is not known.")
	default:
		told = append(told, fmt.Sprintf("%s of %s: %.0f mg/L of nitrogen for the yeast (YAN).",
			say.FineMass(f.Feed.Mass), f.Source.Name, float64(f.Feed.Nitrogen)))
	}
	so := "Nothing given before"
	if f.Before > 0 {
		so = fmt.Sprintf("%.0f mg/L given before, %.0f with this", float64(f.Before), float64(f.Before+f.Feed.Nitrogen))
	}
	told = append(told, so+"; "+ownNitrogen(f.Own, d, say)+".")
	if dose := f.Dosed(); dose != "" {
		told = append(told, "This is "+dose+".")
	}
	return told
}

// ownNitrogen says what a must likely had before anything was given.
func ownNitrogen(g model.NitrogenGuess, d model.Drink, say words.Words) string {
	if g.Low == g.High {
		return fmt.Sprintf("of itself %s has some %.0f mg/L", drinkMust(d), g.Low)
	}
	text := fmt.Sprintf("of itself this must had some %.0f to %.0f mg/L", g.Low, g.High)
	if len(g.Unknown) > 0 {
		text += ", and what its fruit brought"
	}
	return say.Text(text)
}

// drinkMust names what such a drink is made from.
func drinkMust(d model.Drink) string {
	if d == model.Other {
		return "a must"
	}
	return "the must of a " + string(d)
}

// openFeedPlan asks what nutrient to share out over the fermentation, and how; it offers
// as much as is missing.
func (a app) openFeedPlan(row model.Row) (tea.Model, tea.Cmd) {
	splits, b, o, say := calc.FeedSplits(), a.batch.batch, a.opts, a.words()
	look := func(p formPane, now time.Time) (model.Feeding, error) {
		name, mass, err := model.ParseDose(p.fields[0].value())
		if err != nil {
			return model.Feeding{}, err
		}
		return b.Feeding(name, mass, now, o.Nutrients, "")
	}
	body := func(p formPane) (model.Body, error) {
		name, mass, err := model.ParseDose(p.fields[0].value())
		if err != nil {
			return nil, err
		}
		return model.PlanFeeding(name, mass, splits[p.fields[1].choice], row.Batch.Original)
	}
	p := &a.form
	p.openEntry("Plan the feeding of", "plan written down; d tells when each dose is due", row, []field{
		textField("what", "how much in all, DAP 12g", "").
			offering(func(begun string) []string { return b.OfferedMissing(o.Now(), o.Nutrients, begun) }),
		choiceField("in", splits),
	}, body)
	p.note = "Halves: when the yeast has woken up, and at a third of the drop. Thirds: once more before two thirds. Quarters: after one, two and three days, and at a third of the drop."
	p.coming = func(p formPane, now time.Time) []string {
		f, err := look(p, now)
		if err != nil {
			return nil
		}
		told := missingTold(f, row.Batch.Drink, say)
		if plan, err := body(p); err == nil {
			told = append(told, "The doses: "+dosesTold(plan.(model.FeedPlan), say)+".")
		}
		return told
	}
	p.doubts = func(p formPane, now time.Time) []string {
		f, err := look(p, now)
		if err != nil {
			return nil
		}
		return f.Cautions()
	}
	p.retell(o.Now())
	return a.openForm()
}

// dosesTold says how much is due when.
func dosesTold(p model.FeedPlan, say words.Words) string {
	doses := make([]string, len(p.Doses))
	for i, meal := range p.Doses {
		doses[i] = say.FineMass(meal.Mass) + " at " + say.Meals(p.Doses[i:i+1])
	}
	return strings.Join(doses, ", ")
}

// missingTold says what nitrogen the must wants by its sugar, what is there, and how much
// of the nutrient makes up for the rest.
func missingTold(f model.Feeding, d model.Drink, say words.Words) []string {
	if f.Source.ID == "" {
		return []string{f.Feed.What + " is not in the handbook: how much is missing is not known."}
	}
	plan, known := f.Missing()
	if !known {
		return []string{"No scale tells how much nitrogen a must of this gravity wants."}
	}
	has := ownNitrogen(f.Own, d, say)
	if f.Before > 0 {
		has += fmt.Sprintf(", %.0f was given", float64(f.Before))
	}
	if f.Planned > 0 {
		has += fmt.Sprintf(", %.0f is planned", float64(f.Planned))
	}
	wants := fmt.Sprintf("By its sugar it wants %.0f mg/L of nitrogen (YAN); %s. ", float64(plan.Target), has)
	if plan.Mass == 0 {
		return []string{wants + "None is missing."}
	}
	return []string{wants + fmt.Sprintf("%.0f are missing: %.1f g of %s.", float64(plan.Add), float64(plan.Mass), f.Source.Name)}
}

// feedYeast writes a feeding into the journal as it is by now: another session may have
// given the dose.
func feedYeast(s Store, t ticket, row model.Row, fed model.Feed, due string, at, now time.Time, food model.Nutrients) tea.Cmd {
	return func() tea.Msg {
		b, err := s.Batch(row.Batch.Batch)
		if err != nil {
			return writeFailedMsg{t, err}
		}
		f, err := b.Feeding(fed.What, fed.Mass, at, food, due)
		if err != nil {
			return writeFailedMsg{t, err}
		}
		said := "feed written down"
		if dose := f.Dosed(); dose != "" {
			said = "fed, " + dose
		}
		return appendEntries(s, t, b.ID, now, row.Vessel.Label+": "+said+"; u undoes it", model.Entry{At: at, Recorded: now, Body: f.Feed})()
	}
}
