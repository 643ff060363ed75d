package words

import (
	"fmt"
	"time"

	"cellar.local/glassrow/model"
)

// Best says when a batch was at its best, and on how many marks that rests.
func (w Words) Best(b model.Best, in *time.Location) string {
	how := fmt.Sprintf("the higher of %d marks", b.Marks)
	if b.Marks > 2 {
		how = fmt.Sprintf("the top of an average of %d marks", b.Marks)
	}
	when := "best"
	if b.Last {
		when = "best so far, and at the last,"
	}
	return fmt.Sprintf("%s on %s: %s of 10, %s", when, b.At.In(in).Format("2 Jan 2006"), Mark(b.Mark), how)
}

// Mark writes a mark to the tenth: 8, 7.3.
func Mark(x float64) string { return fmt.Sprintf("%.3g", x) }

// Opening says what was said of bottles taken, their mark apart.
func (w Words) Opening(t model.Tasted) string {
	text := ""
	if !t.Marked || t.Bottles != 1 {
		text = Count(t.Bottles, "bottle", "bottles") + " taken"
	}
	switch {
	case t.Bottles == 0 && !t.Marked:
		text = "tasted"
	case t.Bottles == 0:
		text = ""
	}
	if t.Words != "" && text != "" {
		text += "; "
	}
	return w.Text(text + t.Words)
}

// BottleHazard warns of bottles that may burst; empty when nothing speaks for it.
func (w Words) BottleHazard(h model.Hazard) string {
	const care = " Keep them cold, in a closed crate, and open them with goggles and gloves on."
	switch {
	case h.Restarted:
		return "DANGER: it has begun to ferment again, and these bottles can burst." + care
	case h.Sugar > 0:
		return "DANGER: it holds " + w.PerLitre(h.Sugar) + " of sugar that living yeast could eat, and what is written down does not keep it from it: these bottles can burst." + care
	}
	return ""
}
