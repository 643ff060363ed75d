package ui

import (
	"fmt"
	"strings"

	"cellar.local/glassrow/model"
)

// describe says an entry in one line, for the journal and for questions.
func describe(e model.Entry, u units) string {
	return u.g.text(describeBody(e.Body, u))
}

func describeBody(body model.Body, u units) string {
	switch b := body.(type) {
	case model.Must:
		parts := []string{"must, " + u.volume(b.Volume)}
		if b.Gravity != 0 {
			parts = append(parts, "at "+u.gravity(b.Gravity))
		}
		for _, p := range b.Ingredients {
			parts = append(parts, u.mass(p.Mass)+" "+p.Ingredient.Name)
		}
		return strings.Join(parts, ", ")
	case model.Pitch:
		if b.Name != "" {
			return "yeast, " + b.Name + " (" + string(b.Yeast) + ")"
		}
		return "yeast, " + string(b.Yeast)
	case model.Reading:
		return "reading " + readingText(b, u)
	case model.Addition:
		text := u.mass(b.Portion.Mass) + " of " + b.Portion.Ingredient.Name
		if b.Purpose != "" {
			text += " to " + b.Purpose
		}
		return text
	case model.Rack:
		if b.Volume == 0 {
			return "racked"
		}
		return "racked, " + u.volume(b.Volume)
	case model.Bottle:
		return fmt.Sprintf("bottled, %d of %s", b.Count, u.volume(b.Size))
	case model.Note:
		return b.Text
	case model.Void:
		text := fmt.Sprintf("struck out entry %d", b.Entry)
		if b.Reason != "" {
			text += ", " + b.Reason
		}
		return text
	}
	return string(body.Kind())
}

func readingText(r model.Reading, u units) string {
	var parts []string
	if r.HasGravity() {
		parts = append(parts, u.gravity(r.Gravity))
	}
	if r.HasTemperature {
		parts = append(parts, u.temperature(r.Temperature))
	}
	if r.PH != 0 {
		parts = append(parts, fmt.Sprintf("pH %.2f", r.PH))
	}
	text := strings.Join(parts, ", ")
	if r.Note != "" {
		text += "; " + r.Note
	}
	return text
}
