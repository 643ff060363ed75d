package calc

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Ensure that acid adds up, and says how much of the fruit it knows.
func TestMust_AcidGuess(t *testing.T) {
	t.Run("adds what the tables say", func(t *testing.T) {
		// 490 g of blackcurrants at 26 to 32 g/kg and 940 g of plums at 6 to 15.
		m, err := NewMust(plainWater(t, 3),
			FruitPortion{Fruit: blackcurrant(t), Mass: 500}, FruitPortion{Fruit: plum(t), Mass: 1000})
		wantNoError(t, err)
		g, err := m.AcidGuess()
		wantNoError(t, err)
		v := float64(mustFigures(t, m).Drink)
		wantNear(t, "lowest", "", g.Low, (0.49*26+0.94*6)/v, 1e-9)
		wantNear(t, "highest", "", g.High, (0.49*32+0.94*15)/v, 1e-9)
		wantNear(t, "share", "", g.Share, 1, 1e-12)
	})
	t.Run("leaves out what no table tells", func(t *testing.T) {
		m, err := NewMust(plainWater(t, 3),
			FruitPortion{Fruit: potato(t), Mass: 1000, Prepared: true}, FruitPortion{Fruit: plum(t), Mass: 1000, Prepared: true})
		wantNoError(t, err)
		g, err := m.AcidGuess()
		wantNoError(t, err)
		wantNear(t, "share", "", g.Share, 0.5, 1e-12)
		wantNear(t, "lowest", "", g.Low, 6/float64(mustFigures(t, m).Drink), 1e-9)
	})
	t.Run("is none without fruit, or without a liquid", func(t *testing.T) {
		m, err := NewMust(plainWater(t, 3))
		wantNoError(t, err)
		for _, m := range []Must{m, {}} {
			if g, err := m.AcidGuess(); err != nil || g != (Guess{}) {
				t.Errorf("%v, %v", g, err)
			}
			if g := m.PHGuess(); g != (Guess{}) {
				t.Errorf("pH %v", g)
			}
		}
		dry, err := NewMust(solids(map[Component]Gram{Sucrose: 1}))
		wantNoError(t, err)
		if g, err := dry.AcidGuess(); !errors.Is(err, ErrOutOfRange) || g != (Guess{}) {
			t.Errorf("dry sugar: %v, %v", g, err)
		}
	})
}

// Ensure that the guess of pH is a range that holds what the tables say.
func TestMust_PHGuess(t *testing.T) {
	t.Run("of juice alone is the table's", func(t *testing.T) {
		m, err := NewMust(Liquid{}, FruitPortion{Fruit: plum(t), Mass: 1000})
		wantNoError(t, err)
		g := m.PHGuess()
		wantNear(t, "lowest", "", g.Low, 2.8, 1e-12)
		wantNear(t, "highest", "", g.High, 4.5, 1e-12)
	})
	t.Run("rises by half a unit at most when thinned ten times", func(t *testing.T) {
		f := plum(t)
		juice := float64(f.Juice.Mass())
		var water Liquid
		water.grams[Water] = 9 * 1000 * juice
		m, err := NewMust(water, FruitPortion{Fruit: f, Mass: 1000, Prepared: true})
		wantNoError(t, err)
		g := m.PHGuess()
		wantNear(t, "lowest", "", g.Low, 2.8, 1e-12)
		wantNear(t, "highest", "", g.High, 5.0, 1e-9)
	})
	t.Run("never passes that of water, unless the fruit does", func(t *testing.T) {
		for _, high := range []float64{5, 8} {
			f := plum(t)
			f.PH.High = high
			m, err := NewMust(plainWater(t, 1000), FruitPortion{Fruit: f, Mass: 0.001})
			wantNoError(t, err)
			wantNear(t, "highest", high, m.PHGuess().High, max(7, high), 1e-12)
		}
	})
	t.Run("weighs by acid", func(t *testing.T) {
		// 29 parts of acid from blackcurrants at 3.3, 10.5 from plums at 2.8 to 4.5, and
		// with acid unknown 10, at 5.
		unknown := plum(t)
		unknown.Acid, unknown.PH = Span{}, Span{5, 5}
		m, err := NewMust(Liquid{}, FruitPortion{Fruit: blackcurrant(t), Mass: 1000, Prepared: true},
			FruitPortion{Fruit: plum(t), Mass: 1000, Prepared: true}, FruitPortion{Fruit: unknown, Mass: 1000, Prepared: true},
			FruitPortion{Fruit: potato(t), Mass: 1000, Prepared: true})
		wantNoError(t, err)
		g := m.PHGuess()
		wantNear(t, "lowest", "", g.Low, (29*3.3+10.5*2.8+10*5)/49.5, 1e-9)
		wantNear(t, "highest", "", g.High, (29*3.3+10.5*4.5+10*5)/49.5, 1e-9)
		wantNear(t, "share", "", g.Share, 0.75, 1e-12)
	})
	t.Run("stays within the fruit and the thinning", rapid.MakeCheck(func(t *rapid.T) {
		m, _ := drawMust(t)
		lowest, highest := math.Inf(1), 0.0
		for i := range m.fruit {
			lo := rapid.Float64Range(2, 4).Draw(t, "low")
			hi := lo + rapid.Float64Range(0, 2).Draw(t, "wide")
			m.fruit[i].Fruit.PH, m.fruit[i].Fruit.Acid = Span{lo, hi}, Span{1, 20}
			lowest, highest = min(lowest, lo), max(highest, hi)
		}
		g := m.PHGuess()
		if len(m.fruit) == 0 {
			return
		}
		if g.Low < lowest-1e-9 || g.High < g.Low || g.High > highest+2 {
			t.Fatalf("PHGuess %+v of fruit from %v to %v", g, lowest, highest)
		}
	}))
}
