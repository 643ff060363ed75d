package words

import (
	"fmt"
	"strings"
	"time"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/cells"
)

// Millilitres writes a small volume as a syringe shows it: 1.25 mL.
func (w Words) Millilitres(v calc.Litre) string { return decimals(float64(v)*1000, 2) + " mL" }

// SmallVolume writes the volume of a glass or a jug, in millilitres below a litre
// whatever the person's units: 50 mL.
func (w Words) SmallVolume(v calc.Litre) string {
	if v < 1 {
		return decimals(float64(v)*1000, 0) + " mL"
	}
	return w.Volume(v)
}

// FineMass writes a dose for a glass: 0.62 g, 12 mg.
func (w Words) FineMass(m calc.Gram) string {
	if m >= 0.1 && m < 10 {
		return decimals(float64(m), 2) + " g"
	}
	if m > 0 && m < 0.1 {
		return decimals(float64(m)*1000, 1) + " mg"
	}
	return w.Mass(m)
}

// Dose says what goes into a glass of a bench: nothing, 1.20 g, 2.40 mL of syrup.
func (w Words) Dose(g model.GlassOf) string {
	switch {
	case g.Portion.Mass == 0:
		return "nothing"
	case g.Syrup > 0:
		return w.Millilitres(g.Syrup)
	}
	return w.FineMass(g.Portion.Mass)
}

// Syrup says how to make the syrup of a bench; nothing when it is dosed by the scale.
func (w Words) Syrup(b model.Bench) []string {
	size, mass := b.SyrupToMake()
	if size == 0 {
		return nil
	}
	var out []string
	for _, i := range b.Sweeteners() {
		out = append(out, fmt.Sprintf("Syrup of %s: weigh %s into a measuring jug, fill up with warm water to %s, stir till clear, let it cool. Draw it with a syringe.",
			w.Text(i.Name), w.FineMass(mass), w.SmallVolume(size)))
	}
	return out
}

// BenchCard is a bench for paper: what to pour into which glass, and room for marks.
// It keeps to width columns. A blind order stands on a part of its own, which whoever
// tastes should not see.
func (w Words) BenchCard(vessel, batch string, b model.Bench, glasses []model.GlassOf, at time.Time, width int) []string {
	lines := cells.Wrap(w.Text(fmt.Sprintf("Bench of %s, %s, %s", vessel, batch, at.Format("2 January 2006"))), width)
	lines = append(lines, cells.Wrap(fmt.Sprintf("%d glasses of %s of the drink; %s in all", len(b.Poured), w.SmallVolume(b.Glass), w.SmallVolume(b.Drawn())), width)...)
	lines = append(lines, "")
	for _, text := range w.Syrup(b) {
		lines = append(append(lines, cells.Wrap(text, width)...), "")
	}
	order, several := b.Order(), len(b.Sweeteners()) > 1
	if b.Blind() {
		lines = append(lines, "For who pours; fold it over before tasting:")
	}
	for place, k := range order {
		if k >= len(glasses) {
			continue
		}
		g := glasses[k]
		line := fmt.Sprintf("  %-3s %-10s", b.PlaceName(place), w.Dose(g))
		if several || place == 0 {
			line += " " + w.Text(g.Portion.Ingredient.Name)
		}
		lines = append(lines, cells.Cut(strings.TrimRight(line, " "), width))
	}
	lines = append(lines, "", "To taste, marks 0 to 10:")
	for place := range order {
		lines = append(lines, "  "+fmt.Sprintf("%-3s", b.PlaceName(place))+" ____  "+strings.Repeat("_", max(4, min(40, width-13))))
	}
	return lines
}
