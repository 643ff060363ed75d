package words

import (
	"fmt"
	"strings"

	"cellar.local/glassrow/model"
)

// Labels returns what is written on a vessel; nothing if it is not known.
type Labels func(model.VesselID) string

// Entry says in one line what an entry is about, safe to print. Vessels are named
// where labels is not nil.
func (w Words) Entry(body model.Body, labels Labels) string { return w.Text(w.entry(body, labels)) }

func (w Words) entry(body model.Body, labels Labels) string {
	switch b := body.(type) {
	case model.Must:
		return w.must(b, labels)
	case model.Pitch:
		if b.Name != "" {
			return "yeast, " + b.Name + " (" + string(b.Yeast) + ")"
		}
		return "yeast, " + string(b.Yeast)
	case model.Reading:
		return "reading " + w.reading(b)
	case model.Addition:
		text := w.Mass(b.Portion.Mass) + " of " + b.Portion.Ingredient.Name
		if b.Purpose != "" {
			text += " to " + b.Purpose
		}
		return text
	case model.Rack:
		text := "racked" + labels.after(" to ", b.To)
		if b.Volume != 0 {
			text += ", " + w.Volume(b.Volume)
		}
		return text
	case model.Bottle:
		text := fmt.Sprintf("bottled, %d of %s", b.Count, w.SmallVolume(b.Size))
		if b.Closure != "" {
			text += ", " + b.Closure
		}
		return text
	case model.Stabilise:
		return "stabilised, " + b.String()
	case model.Bench:
		return w.bench(b)
	case model.Tasting:
		return tasting(b)
	case model.Note:
		return b.Text
	case model.Void:
		text := fmt.Sprintf("struck out entry %d", b.Entry)
		if b.Reason != "" {
			text += ", " + b.Reason
		}
		return text
	}
	return w.inVessel(body, labels)
}

func (w Words) must(m model.Must, labels Labels) string {
	parts := []string{"must, " + w.Volume(m.Volume) + labels.after(" into ", m.Vessel)}
	if m.Gravity != 0 {
		parts = append(parts, "at "+w.Gravity(m.Gravity))
	}
	for _, p := range m.Ingredients {
		parts = append(parts, w.Mass(p.Mass)+" "+p.Ingredient.Name)
	}
	for _, p := range m.Fruit {
		parts = append(parts, w.fruit(p))
	}
	return strings.Join(parts, ", ")
}

// bench says a row of glasses without giving a blind order away.
func (w Words) bench(b model.Bench) string {
	text := fmt.Sprintf("bench, %d glasses of %s", len(b.Poured), w.SmallVolume(b.Glass))
	names := make([]string, 0, 2)
	for _, i := range b.Sweeteners() {
		names = append(names, i.Name)
	}
	text += " with " + strings.Join(names, " against ")
	if b.Blind() {
		text += ", blind"
	}
	return text
}

func tasting(t model.Tasting) string {
	var marks []string
	for i, g := range t.Glasses {
		if g.Marked {
			marks = append(marks, fmt.Sprintf("%d: %g", i+1, g.Mark))
		}
	}
	if len(marks) == 0 {
		return "tasted the bench"
	}
	return "tasted the bench, marks by the ladder " + strings.Join(marks, ", ")
}

// reading writes what the instruments said; the gravity on the scale on which it
// was read.
func (w Words) reading(r model.Reading) string {
	var parts []string
	if r.HasGravity() {
		parts = append(parts, model.Reading{Gravity: r.Gravity, Scale: r.Scale}.String())
	}
	if r.HasTemperature {
		parts = append(parts, w.Temperature(r.Temperature))
	}
	if r.PH != 0 {
		parts = append(parts, fmt.Sprintf("pH %.2f", r.PH))
	}
	parts = append(parts, w.besides(r)...)
	text := strings.Join(parts, ", ")
	if r.Note != "" {
		text += "; " + r.Note
	}
	return text
}

// after puts a vessel's label after a preposition, if there is one.
func (l Labels) after(preposition string, id model.VesselID) string {
	if l == nil {
		return ""
	}
	if label := l(id); label != "" {
		return preposition + label
	}
	return ""
}
