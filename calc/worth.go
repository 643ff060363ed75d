package calc

// FermentableShare returns how much of what is dissolved the yeast can use, from 0 to
// 1: pure sugar has 1, honey 0.94, erythritol 0. Nothing dissolved has 0.
func (l Liquid) FermentableShare() float64 {
	extract := l.Extract()
	if extract <= 0 {
		return 0
	}
	return float64(l.Fermentable() / extract)
}

// Gravity returns what so much of the ingredient, made up with water to v litres,
// reads on a hydrometer: 100 g of table sugar in a litre 1.0386, a pound in a US
// gallon 1.0462.
//
// mass from 0 to 1e9 g, v from 0 to a million litres; otherwise the error wraps
// [ErrOutOfRange] or [ErrNotANumber]. More than goes into v litres, or nearly so, is one
// that wraps [ErrUnreachable].
func (i Ingredient) Gravity(mass Gram, v Litre) (SG, error) {
	if err := inRange("mass of "+i.Name, float64(mass), 0, maxGrams, " g"); err != nil {
		return 0, err
	}
	full, err := MadeUpTo(i.Amount(mass), v)
	if err != nil {
		return 0, err
	}
	return full.SG()
}

// Gravity returns what so much of the fruit as bought, its waste taken off and the
// vessel filled with water to v litres, reads once all its juice is out: the pulp
// takes up room, and no hydrometer feels it.
//
// Errors are those of [Must.MadeUpTo].
func (f Fruit) Gravity(mass Gram, v Litre) (SG, error) {
	must, err := NewMust(Liquid{}, FruitPortion{Fruit: f, Mass: mass})
	if err != nil {
		return 0, err
	}
	full, err := must.MadeUpTo(v)
	if err != nil {
		return 0, err
	}
	figures, err := full.Figures()
	return figures.SGAllOut, err
}
