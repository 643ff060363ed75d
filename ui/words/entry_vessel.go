package words

import (
	"fmt"
	"strings"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// inVessel says what happens to a batch in its vessel, between batches and after.
func (w Words) inVessel(body model.Body, labels Labels) string {
	switch b := body.(type) {
	case model.Fruited:
		return w.fruit(b.Portion) + " in"
	case model.Press:
		if b.Volume != 0 {
			return "fruit out, " + w.Volume(b.Volume) + " left"
		}
		return "fruit out"
	case model.Fine:
		return "fined with " + w.some(b.Mass, b.Agent)
	case model.Stir:
		return "stirred"
	case model.Move:
		return "moved to " + b.Place
	case model.FeedPlan:
		return w.feedPlan(b)
	case model.Feed:
		return "fed " + w.some(b.Mass, b.What)
	case model.Draw:
		text := w.Volume(b.Volume) + " drawn off"
		if b.Why != "" {
			text += ", " + b.Why
		}
		return text
	case model.Pour:
		v, err := b.Liquid.Volume()
		if err != nil {
			return b.Name + " poured in"
		}
		return w.Volume(v) + " of " + b.Name + " poured in"
	case model.Part:
		return "split from " + b.Name + ", " + w.Volume(b.Volume) + labels.after(" into ", b.Vessel)
	case model.Tasted:
		return tasted(b)
	case model.Reminder:
		return "remind: " + b.What + ", " + b.Due.Format("2 Jan 2006")
	case model.Tick:
		return tick(b)
	case model.Distrust:
		return distrust(b)
	}
	return string(body.Kind())
}

func distrust(d model.Distrust) string {
	const moment = "2 Jan 2006 15:04"
	text := "device distrusted from " + d.From.UTC().Format(moment) + " to " + d.To.UTC().Format(moment) + " UTC"
	if d.Reason != "" {
		text += ", " + d.Reason
	}
	return text
}

// some says an amount where it was weighed.
func (w Words) some(m calc.Gram, of string) string {
	if m == 0 {
		return of
	}
	return w.FineMass(m) + " of " + of
}

func (w Words) fruit(p calc.FruitPortion) string {
	text := w.Mass(p.Mass) + " "
	if p.Crushed {
		text += "crushed "
	}
	return text + p.Fruit.Name
}

func (w Words) feedPlan(p model.FeedPlan) string {
	doses := make([]string, len(p.Doses))
	for i, d := range p.Doses {
		doses[i] = w.some(d.Mass, d.What)
		switch {
		case d.Mark != 0 && d.After != 0:
			doses[i] += fmt.Sprintf(" at %s or after %s", w.Gravity(d.Mark), Span(d.After))
		case d.Mark != 0:
			doses[i] += " at " + w.Gravity(d.Mark)
		default:
			doses[i] += " after " + Span(d.After)
		}
	}
	return "feed plan: " + strings.Join(doses, "; ")
}

// tasted says bottles without a mark as taken: nobody knows whether they were tasted.
func tasted(t model.Tasted) string {
	text := "tasted"
	switch {
	case t.Bottles > 0 && !t.Marked:
		text = Count(t.Bottles, "bottle", "bottles") + " taken"
	case t.Bottles > 0:
		text += ", " + Count(t.Bottles, "bottle", "bottles")
	}
	if t.Marked {
		text += fmt.Sprintf(", %g of 10", t.Mark)
	}
	if t.Words != "" {
		text += "; " + t.Words
	}
	return text
}

func tick(t model.Tick) string {
	text := "done: " + t.Due
	if !t.Until.IsZero() {
		text = "put off to " + t.Until.Format("2 Jan 2006") + ": " + t.Due
	}
	if t.Words != "" {
		text += "; " + t.Words
	}
	return text
}

// besides says what a reading holds besides gravity, temperature and pH.
func (w Words) besides(r model.Reading) []string {
	var parts []string
	if r.Acid != 0 {
		parts = append(parts, fmt.Sprintf("acid %.1f g/L", float64(r.Acid)))
	}
	if r.HasFreeSO2 {
		parts = append(parts, fmt.Sprintf("free SO2 %.0f mg/L", float64(r.FreeSO2)))
	}
	if r.Mass != 0 {
		parts = append(parts, "weighs "+w.Mass(r.Mass))
	}
	if r.Level != 0 {
		parts = append(parts, "level "+w.Volume(r.Level))
	}
	return parts
}
