package model

import (
	"fmt"
	"strings"

	"cellar.local/glassrow/calc"
)

// waterName is what water is called where it is stirred in.
const waterName = "water"

// Water is what to top up with.
func Water() calc.Ingredient {
	water, err := calc.NewIngredient(waterName, map[calc.Component]calc.Gram{calc.Water: 1})
	if err != nil {
		panic(err) // a gram of water weighs a gram
	}
	return water
}

// isWater reports whether a name means water.
func isWater(name string) bool { return foldName(name) == waterName }

// aWater is water among the sweeteners: nothing to taste, but something to stir in.
func aWater() Sweetener { return Sweetener{ID: waterName, Ingredient: Water(), Form: "liquid"} }

// ParseWater understands an amount of water, 500mL or 500g, as its mass. A litre of it
// weighs what it does at 20 °C.
func ParseWater(text string) (calc.Gram, error) {
	if m, err := ParseMass(text); err == nil {
		return m, nil
	}
	v, err := ParseVolume(text)
	if err != nil {
		return 0, fmt.Errorf("water %q is not understood; write 500mL or 500g: %w", text, ErrInvalid)
	}
	density, err := calc.WaterDensity(20)
	if err != nil {
		return 0, err
	}
	return calc.Gram(float64(v) * float64(density)), nil // kg/m³ is g/L
}

// TopUp is water poured in to fill a vessel up, as an entry.
func TopUp(water calc.Gram) Addition {
	return Addition{Portion: Portion{Ingredient: Water(), Mass: water}, Purpose: "top up"}
}

// ParseDose understands something given in little: bentonite 5g, or a name alone where
// nobody weighed it.
func ParseDose(text string) (name string, mass calc.Gram, err error) {
	text = strings.TrimSpace(text)
	if name, mass, err = ParsePortion(text); err == nil {
		return name, mass, nil
	}
	if strings.ContainsAny(text, "0123456789") {
		return "", 0, fmt.Errorf("%q is not understood; write a name and an amount, as in DAP 5g, or a name alone: %w", text, ErrInvalid)
	}
	return text, 0, nil
}
