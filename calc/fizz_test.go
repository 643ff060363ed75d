package calc

import (
	"errors"
	"math"
	"testing"
)

// Ensure that the sugar a drink still holds counts with what it is primed with: the
// table of bottles closed at 20 °C has 12 g/L at 4.0 volumes, 3.6 bar at 20 °C and 5.1
// at 30 (reference notes on carbonation, section 5), whoever stirred it in. The sugar
// takes room, so that it is a little less than 12 g/L here.
func TestBottling_Primed(t *testing.T) {
	sugar := must(NewIngredient("sugar", map[Component]Gram{Sucrose: 1}))(t)
	water := must(WaterOf(10))(t)
	b := must(BottledAt(20, 0.04, 0))(t)
	for _, held := range []Gram{0, 60, 120} {
		l := water.Plus(sugar.Amount(held))
		for _, row := range []struct {
			at    Celsius
			gauge BarGauge
		}{{20, 3.6}, {30, 5.1}} {
			s, err := b.Primed(l, sugar, 120-held, row.at)
			if err != nil || math.Abs(float64(s.Gauge-row.gauge)) > 0.1 || math.Abs(float64(s.Volumes())-4.0) > 0.06 {
				t.Errorf("%v g held, %v g stirred in, %v °C: %.2f volumes, %.2f bar, %v", held, 120-held, row.at, s.Volumes(), s.Gauge, err)
			}
		}
	}
	if _, err := b.Primed(water, sugar, Gram(math.NaN()), 20); !errors.Is(err, ErrNotANumber) {
		t.Errorf("a mass that is no number: %v", err)
	}
	if _, err := b.Primed(water, sugar, 9000, 20); !errors.Is(err, ErrOutOfRange) {
		t.Errorf("a syrup: %v", err)
	}
}

// Ensure that a fall of gravity in the bottle makes the gas it was reckoned for: about
// half a volume a point (same notes).
func TestFermentation_ToCO2(t *testing.T) {
	l := must(LiquidOf(10, 1.012, 6, AppleSolids()))(t)
	rule := Fermentation{Yield: MustYield()}
	done := must(rule.ToCO2(l, VolumesCO2(1.5).GramPerLitre()))(t)
	if got := float64(done.CO2) / 10; math.Abs(got-1.5*1.9635) > 0.001 {
		t.Errorf("%v g/L of gas, want %v", got, 1.5*1.9635)
	}
	sg := must(done.Liquid.SG())(t)
	if fall := 12 - sg.Points(); fall < 2.5 || fall > 3.2 {
		t.Errorf("gravity falls by %v points for 1.5 volumes, want a little under 3", fall)
	}
	if _, err := rule.ToCO2(l, 40); !errors.Is(err, ErrUnreachable) {
		t.Errorf("more gas than there is sugar for: %v", err)
	}
	checkRange(t, 0, 160, 0.001, func(x float64) error { return unlessFull(second(rule.ToCO2(l, GramPerLitre(x)))) })
	if _, err := (Fermentation{}).ToCO2(l, 1); !errors.Is(err, ErrUnreachable) {
		t.Errorf("a yeast without a yield: %v", err)
	}
}
