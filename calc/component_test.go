package calc

import (
	"math"
	"testing"
)

// Ensure that every component has a name of its own and is found again by it, which
// is what records on disk rely on.
func TestComponentNamed(t *testing.T) {
	seen := make(map[string]bool)
	for _, c := range Components() {
		name := c.String()
		if name == "" || seen[name] {
			t.Errorf("component %d has the name %q, want one of its own", c, name)
		}
		seen[name] = true
		if got, ok := ComponentNamed(name); got != c || !ok {
			t.Errorf("ComponentNamed(%q) = %v, %v, want %v", name, got, ok, c)
		}
	}
	for _, name := range []string{"", "Water", "unknown component", "sucrose "} {
		if got, ok := ComponentNamed(name); ok {
			t.Errorf("ComponentNamed(%q) = %v, want none", name, got)
		}
	}
}

// Ensure that a number that is no component answers without a panic.
func TestComponent_Unknown(t *testing.T) {
	for _, c := range []Component{componentCount, math.MaxUint8} {
		if c.String() != "unknown component" || c.Fermentable() || c.Sugar() || c.RelativeSweetness() != 0 {
			t.Errorf("component %d: %q, fermentable %v, sugar %v, sweetness %v",
				c, c, c.Fermentable(), c.Sugar(), c.RelativeSweetness())
		}
		if got := HoneySolids().Of(c); got != 0 {
			t.Errorf("Of(%d) = %v, want 0", c, got)
		}
		if got, err := HoneySolids().Plus(plainWater(t, 1)).PerLitre(c); got != 0 || err != nil {
			t.Errorf("PerLitre(%d) = %v, %v, want 0", c, got, err)
		}
		if _, err := NewLiquid(map[Component]Gram{c: 1}); err == nil {
			t.Errorf("NewLiquid of component %d: no error", c)
		}
	}
}

// Ensure that what yeast can eat is told from what it leaves.
func TestComponent_Fermentable(t *testing.T) {
	eaten := map[Component]bool{Sucrose: true, Glucose: true, Fructose: true, Maltose: true, Maltotriose: true}
	for _, c := range Components() {
		if got := c.Fermentable(); got != eaten[c] {
			t.Errorf("%v fermentable: %v, want %v", c, got, eaten[c])
		}
		if got, want := c.Sugar(), eaten[c] || c == Lactose; got != want {
			t.Errorf("%v is sugar: %v, want %v", c, got, want)
		}
	}
}

// Ensure that splitting gains the water that chemistry says: 1.0526 and 1.0714 g of
// hexose from a gram of di- and trisaccharide (kinetics notes, section 5).
func TestComponent_Hexose(t *testing.T) {
	for c, want := range map[Component]float64{Sucrose: 1.05263, Glucose: 1, Fructose: 1, Maltose: 1.05263, Maltotriose: 1.07143, Lactose: 0, Dextrin: 0} {
		l, err := NewLiquid(map[Component]Gram{c: 1})
		wantNoError(t, err)
		wantNear(t, "Hexose", c, float64(l.Hexose()), want, 0.00001)
	}
}

// Ensure that sweetness per gram lies within the range found in print, for those of
// which the stored sweetener table gives one.
func TestComponent_RelativeSweetness(t *testing.T) {
	for c, want := range map[Component][2]float64{
		Sucrose: {1, 1}, Glucose: {0.5, 0.8}, Fructose: {1, 1.8}, Lactose: {0.16, 0.4}, Erythritol: {0.6, 0.8},
		Xylitol: {0.9, 1}, Sorbitol: {0.5, 0.7}, Allulose: {0.6, 0.75}, Sucralose: {320, 1000}, Stevia: {200, 400},
		Saccharin: {200, 700}, AcesulfameK: {200, 300}, Water: {0, 0}, Ethanol: {0, 0},
	} {
		if got := c.RelativeSweetness(); got < want[0] || got > want[1] {
			t.Errorf("%v is %v as sweet as sucrose, want %v to %v", c, got, want[0], want[1])
		}
	}
}
