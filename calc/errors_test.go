package calc

import (
	"errors"
	"testing"
)

// Ensure that what is refused is said in figures and words that people write, with what
// would do.
func TestErrors_ReadAsPeopleWrite(t *testing.T) {
	honey, wine := ingredient(t, sweetKinds["honey"]), must(DrinkOf(5, 0.998, 12))(t)
	for want, err := range map[string]error{
		"volume 0 L is outside 0.001 to 1000000 L: out of range":                             second(PrimingSugar(0, 2.4, 18, honey)),
		"mass of the ingredient -0.25 g is outside 0 to 1000000000 g: out of range":          second(honey.Gravity(-0.25, 1)),
		`feeding in "fifths" is not one of halves, thirds, quarters: out of range`:           second(FeedSplit("fifths").ShareOut(1, 24)),
		"target gravity 1.5: no amount of the ingredient gets there: cannot be reached":      second(honey.AmountFor(wine, TargetSG(1.5))),
		"target gravity 0.9: no amount of water gets there: cannot be reached":               second(WaterFor(wine, TargetSG(0.9))),
		"a glass of 6 L is more than the 5 L there are: out of range":                        second(honey.Ladder(wine, Ladder{Glass: 6, Glasses: 2, To: TargetSG(1.02)})),
		"target gravity 0.99 is below today's 0.998: cannot be reached":                      second(honey.Ladder(wine, Ladder{Glass: 0.05, Glasses: 2, To: TargetSG(0.99)})),
		"target sweetness 30 g/L is below today's 53.6 g/L: cannot be reached":               second(honey.AmountFor(must(DrinkOf(5, 1.008, 12))(t), TargetSweetness(30))),
		"target gravity 0.998 is below today's 0.99804: cannot be reached":                   second(honey.AmountFor(must(DrinkOf(5, 0.99804, 12))(t), TargetSG(0.998))),
		"first glass, at gravity 1.03, is past the last, at gravity 1.02: cannot be reached": second(honey.Ladder(wine, Ladder{Glass: 0.05, Glasses: 2, From: TargetSG(1.03), To: TargetSG(1.02)})),
	} {
		if err == nil || err.Error() != want {
			t.Errorf("error %v, want %s", err, want)
		}
	}
	if err := inRange("x", 2e15, 0, 1, ""); !errors.Is(err, ErrOutOfRange) || err.Error() != "x 2e+15 is outside 0 to 1: out of range" {
		t.Errorf("error %v", err)
	}
}
