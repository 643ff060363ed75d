package words

import (
	"fmt"

	"cellar.local/glassrow/calc"
)

// LateSugar says what fruit in a vessel still holds; nothing when there is none in it,
// or none that matters.
func (w Words) LateSugar(g calc.Gram, room calc.Litre) string {
	switch {
	case room <= 0:
		return ""
	case g < spentFruit:
		return fmt.Sprintf("fruit in it (%s), its sugar all but out", w.Volume(room))
	}
	return fmt.Sprintf("+%s of sugar still in the fruit (%s)", w.Mass(g), w.Volume(room))
}

// spentFruit is the sugar that is not worth speaking of.
const spentFruit calc.Gram = 1
