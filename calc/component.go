package calc

// Component is one thing a drink is made of, kept apart from the others
// because the yeast, the tongue or the hydrometer treats it differently.
type Component uint8

// The components of a liquid. Their order is the order in which screens and
// scripts list them; records on disk use names, not these numbers.
const (
	Water Component = iota
	Ethanol

	// Sugars that brewer's and wine yeast ferment, in order of uptake.
	Sucrose
	Glucose
	Fructose
	Maltose
	Maltotriose

	// Carbohydrate and polyols that such yeast leaves.
	Lactose
	Dextrin  // and other carbohydrate too large for the yeast
	Glycerol // made by the yeast itself
	Erythritol
	Xylitol
	Sorbitol
	Allulose

	Acid        // organic acids together
	OtherSolids // protein, minerals, gums, tannin

	// High-intensity sweeteners: milligrams that the tongue notices and the
	// hydrometer does not.
	Sucralose
	Stevia
	Saccharin
	AcesulfameK
	Aspartame
	MonkFruit

	componentCount
)

// trait is what the program knows of a component besides its mass.
type trait struct {
	name      string
	hexose    float64 // grams of hexose that the yeast gets from one gram; 0: none
	sweetness float64 // sweetness of one gram, sucrose = 1
}

// Splitting a disaccharide takes up one molecule of water, a trisaccharide two.
// Molar masses in g/mol: hexose 180.156, sucrose and maltose 342.297,
// maltotriose 504.44 (computed from IUPAC atomic weights). The gains are
// 2·180.156/342.297 = 1.05263 and 3·180.156/504.44 = 1.07142.
const (
	molarMassHexose       = 180.156
	molarMassDisaccharide = 342.297
	molarMassMaltotriose  = 504.438

	hexosePerDisaccharide = 2 * molarMassHexose / molarMassDisaccharide
	hexosePerMaltotriose  = 3 * molarMassHexose / molarMassMaltotriose
)

// Sweetness of a gram against a gram of sucrose. Sources: stored reviews and
// Codex-based tables named row by row in the sweetener table (glucose 0.74,
// fructose 1.7 when cool, lactose 0.2, erythritol 0.65, xylitol 1.0, sorbitol
// 0.6, allulose 0.7; the US FDA multiplier list for the high-intensity ones).
// Maltose 0.4, maltotriose 0.3, dextrin 0.05 and glycerol 0.6 are from memory.
var traits = [componentCount]trait{
	Water:       {name: "water"},
	Ethanol:     {name: "ethanol"},
	Sucrose:     {name: "sucrose", hexose: hexosePerDisaccharide, sweetness: 1},
	Glucose:     {name: "glucose", hexose: 1, sweetness: 0.74},
	Fructose:    {name: "fructose", hexose: 1, sweetness: 1.7},
	Maltose:     {name: "maltose", hexose: hexosePerDisaccharide, sweetness: 0.4},
	Maltotriose: {name: "maltotriose", hexose: hexosePerMaltotriose, sweetness: 0.3},
	Lactose:     {name: "lactose", sweetness: 0.2},
	Dextrin:     {name: "dextrin", sweetness: 0.05},
	Glycerol:    {name: "glycerol", sweetness: 0.6},
	Erythritol:  {name: "erythritol", sweetness: 0.65},
	Xylitol:     {name: "xylitol", sweetness: 1},
	Sorbitol:    {name: "sorbitol", sweetness: 0.6},
	Allulose:    {name: "allulose", sweetness: 0.7},
	Acid:        {name: "acid"},
	OtherSolids: {name: "other solids"},
	Sucralose:   {name: "sucralose", sweetness: 600},
	Stevia:      {name: "stevia", sweetness: 300},
	Saccharin:   {name: "saccharin", sweetness: 400},
	AcesulfameK: {name: "acesulfame-K", sweetness: 200},
	Aspartame:   {name: "aspartame", sweetness: 200},
	MonkFruit:   {name: "monk fruit", sweetness: 175},
}

// Components returns every component in listing order.
func Components() []Component {
	all := make([]Component, componentCount)
	for i := range all {
		all[i] = Component(i)
	}
	return all
}

// String returns the component's everyday name in lower case.
func (c Component) String() string {
	if c >= componentCount {
		return "unknown component"
	}
	return traits[c].name
}

// ComponentNamed returns the component whose String is name.
func ComponentNamed(name string) (Component, bool) {
	for i, t := range traits {
		if t.name == name {
			return Component(i), true
		}
	}
	return 0, false
}

// Fermentable reports whether brewer's and wine yeast can live on c.
func (c Component) Fermentable() bool { return c < componentCount && traits[c].hexose > 0 }

// Sugar reports whether c counts as sugar when sugar per litre is told:
// everything fermentable, and lactose.
func (c Component) Sugar() bool { return c.Fermentable() || c == Lactose }

// RelativeSweetness returns the sweetness of one gram of c where a gram of
// sucrose has 1. It is an average of published panels, good to about a fifth.
func (c Component) RelativeSweetness() float64 {
	if c >= componentCount {
		return 0
	}
	return traits[c].sweetness
}
