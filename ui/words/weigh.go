package words

import (
	"strings"
	"time"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// Weighed says in sentences what a vessel on the scale comes to: what is in it, how far
// the ferment has come, and what does not fit the journal. Nothing of a weighing that
// says nothing.
func (w Words) Weighed(k model.Weighing, by model.ByScale, in *time.Location) []string {
	var said []string
	if k.Fruit {
		return []string{"nothing is made of it: the fruit in it weighs too"}
	}
	if by.Volume != 0 {
		said = append(said, w.drinkThere(by))
	}
	if text := w.ByWeight(k, by, in); text != "" {
		said = append(said, text)
	}
	return said
}

// drinkThere says how much drink there is, and what the journal reckons if that is
// something else.
func (w Words) drinkThere(by model.ByScale) string {
	text := "drink " + w.Mass(by.Drink) + " = " + w.VolumePlusMinus(by.Volume, by.PlusMinus)
	if short := by.Short(); short != 0 {
		text += "; the journal reckons " + w.Volume(by.Reckoned) + ": " + w.short(short) + " than written down"
	}
	return text
}

// VolumePlusMinus writes 17.9 ±0.1 L.
func (w Words) VolumePlusMinus(v, pm calc.Litre) string {
	one := w.FineVolume(v)
	if w.US || v >= 10 {
		one = w.Volume(v)
	}
	number, unit, _ := strings.Cut(one, " ")
	digits := len(number) - 1 - strings.Index(number, ".")
	if !strings.Contains(number, ".") {
		digits = 0
	}
	spread := float64(pm)
	switch unit {
	case "gal":
		spread /= calc.LitresPerUSGallon
	case "mL":
		spread *= 1000
	}
	return number + " " + w.spread(spread, digits) + " " + unit
}

// spread writes an uncertainty; what would round to nothing is one of the last digit.
func (w Words) spread(spread float64, digits int) string {
	text := decimals(spread, digits)
	if strings.Trim(text, "0.") == "" {
		text = text[:len(text)-1] + "1"
	}
	return w.sign("±", "+-") + text
}

func (w Words) short(v calc.Litre) string {
	if v < 0 {
		return w.Volume(-v) + " more"
	}
	return w.Volume(v) + " less"
}

// GravityPlusMinus writes 1.038 ±0.002.
func (w Words) GravityPlusMinus(sg, pm calc.SG) string {
	return w.Gravity(sg) + " " + w.spread(float64(pm), 3)
}

// ByWeight says how far the ferment has come by the mass that it lost; empty when
// nothing is to be held against it.
func (w Words) ByWeight(k model.Weighing, by model.ByScale, in *time.Location) string {
	since := " since the must"
	if !by.Must {
		since = " since " + by.Since.In(in).Format("2 Jan")
	}
	switch {
	case by.Since.IsZero():
		return ""
	case by.Lost < 0 && by.SG == 0:
		return w.Mass(-by.Lost) + " heavier" + since + ": something went in that is not written down"
	case by.SG == 0:
		return "lost " + w.Mass(by.Lost) + since + ", " + w.Mass(by.Unexplained) + " more than its sugar can give: something left that is not written down"
	}
	text := "lost " + w.Mass(max(0, by.Lost)) + since + ": " + w.GravityPlusMinus(by.SG, by.SGPlusMinus) + " by weight, " + w.Strength(by.Strength, by.StrengthPlusMinus)
	if points, off := k.Off(by); off {
		text += "; the hydrometer says " + w.WholePoints(points)[1:] + upOrDown(points)
	}
	return text
}

func upOrDown(points float64) string {
	if points < 0 {
		return " lower"
	}
	return " higher"
}

// OnScale says in a few words what there is to tell of a vessel on the scale, for a
// screen with little room: 17.9 L by weight, not 18.5; 1.038 ±0.002 by weight. Where a
// line is short it is brief, and leaves the uncertainty out.
func (w Words) OnScale(k model.Weighing, by model.ByScale, brief bool) []string {
	var said []string
	if by.Short() != 0 {
		said = append(said, w.Volume(by.Volume)+" by weight, not "+w.Volume(by.Reckoned))
	}
	switch {
	case by.Since.IsZero():
	case by.Lost < 0 && by.SG == 0:
		said = append(said, w.Mass(-by.Lost)+" heavier than written down")
	case by.SG == 0:
		said = append(said, w.Mass(by.Unexplained)+" lighter than written down")
	default:
		text := w.GravityPlusMinus(by.SG, by.SGPlusMinus) + " by weight"
		if brief {
			text = w.Gravity(by.SG) + " by weight"
		}
		if _, off := k.Off(by); off {
			text += ", not " + w.Gravity(k.SG())
		}
		said = append(said, text)
	}
	return said
}

// WhyShort says what usually explains that less or more is in the vessel than the
// journal reckons, and how to make the journal agree; empty when it does.
func (w Words) WhyShort(by model.ByScale) string {
	switch short := by.Short(); {
	case short > 0:
		return "Usually lees, a sample, a loss in racking or what went through the air-lock. To make the journal agree, write down a draw of " +
			w.FineVolume(short) + ", or read the level."
	case short < 0:
		return "Usually water or another drink poured in, or a must made fuller than written down. To make the journal agree, write down what came, or read the level."
	}
	return ""
}

// NoTare says what is missing to tell the volume of a vessel on the scale.
func NoTare(label string) string {
	return "how much drink that is needs the vessel's tare, its mass when empty: V on the shelf, or glassrow vessel set " + label + " --tare 6.4kg"
}

// Levelled says what the marks of a vessel showed against the journal, which follows
// them; empty where the two agree.
func (w Words) Levelled(l model.Levelled) string {
	short := l.Short()
	if short == 0 {
		return ""
	}
	return w.short(short) + " than the " + w.Volume(l.Reckoned) + " of the journal, which follows"
}

// Tare writes the mass of an empty vessel; nothing where it is not known.
func (w Words) Tare(m calc.Gram) string {
	if m == 0 {
		return ""
	}
	return w.Mass(m)
}

// Vessel says what a vessel is: carboy, 23.0 L, 6400 g empty, north shelf.
func (w Words) Vessel(v model.Vessel) string {
	text := string(v.Kind) + ", " + w.Volume(v.Capacity)
	if v.Tare != 0 {
		text += ", " + w.Mass(v.Tare) + " empty"
	}
	if v.Place != "" {
		text += ", " + v.Place
	}
	return w.Text(text)
}

// Heft says behind an entry what its mass and its level come to, each with the arrow
// that leads from what was read; nothing of an entry without.
func (w Words) Heft(k model.Weighing, l model.Levelled, tares model.Tares, in *time.Location) string {
	var said []string
	if k.Entry != 0 {
		tare := calc.Gram(0)
		if tares != nil {
			tare = tares(k.Vessel)
		}
		said = w.Weighed(k, k.With(tare), in)
	}
	if text := w.Levelled(l); text != "" {
		said = append(said, text)
	}
	if len(said) == 0 {
		return ""
	}
	return " " + w.Arrow() + " " + strings.Join(said, "; ")
}
