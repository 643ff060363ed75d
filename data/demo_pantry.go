package data

import (
	"fmt"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// pantry holds what the demo cellar's drinks are made of, by name.
type pantry struct {
	poured map[string]calc.Ingredient
	fruit  map[string]calc.Fruit
}

// newPantry puts the handbook's sweeteners and fruit, by name, beside the juices and
// worts.
func newPantry(handbook model.Larder) (pantry, error) {
	p := pantry{poured: make(map[string]calc.Ingredient), fruit: make(map[string]calc.Fruit)}
	for _, s := range handbook.Sweeteners {
		p.poured[s.Name()] = s.Ingredient
	}
	for _, f := range handbook.Fruits {
		p.fruit[f.Name()] = f.Fruit
	}
	for _, f := range demoFruit {
		i, err := f.ingredient()
		if err != nil {
			return p, err
		}
		p.poured[f.name] = i
	}
	return p, nil
}

// portion weighs out a helping.
func (p pantry) portion(h helping) (model.Portion, error) {
	i, ok := p.poured[h.what]
	if !ok {
		return model.Portion{}, fmt.Errorf("the pantry has no %s", h.what)
	}
	if h.as != "" {
		i.Name = h.as
	}
	return model.Portion{Ingredient: i, Mass: h.mass}, nil
}

// fruitPortion weighs out a helping of crushed fruit.
func (p pantry) fruitPortion(h helping) (calc.FruitPortion, error) {
	f, ok := p.fruit[h.what]
	if !ok {
		return calc.FruitPortion{}, fmt.Errorf("the pantry has no %s", h.what)
	}
	return calc.FruitPortion{Fruit: f, Mass: h.mass, Crushed: true}, nil
}

// fruit is what a hundred grams of fruit, juice or wort give to a must, in grams.
// The rest is water; pulp that never dissolves is counted with it.
type fruit struct {
	name                                             string
	sucrose, glucose, fructose, maltose, maltotriose float64
	dextrin, sorbitol, acid, solids                  float64
}

// demoFruit is invented within what fruit and malt are like: sugars from food
// tables where they print them, the rest plausible. For the demo cellar only.
var demoFruit = []fruit{
	{name: "damsons", sucrose: 0.95, glucose: 5.2, fructose: 3.4, sorbitol: 0.8, acid: 2.1, solids: 1.6},
	{name: "plums", sucrose: 2.57, glucose: 4.7, fructose: 2.2, sorbitol: 0.6, acid: 1.3, solids: 1.1},
	{name: "quinces", sucrose: 0.29, glucose: 2.3, fructose: 3.7, sorbitol: 0.7, acid: 1.0, solids: 1.2},
	{name: "sea-buckthorn juice", glucose: 2.6, fructose: 0.9, acid: 3.6, solids: 1.5},
	{name: "windfall pear juice", sucrose: 1.1, glucose: 2.7, fructose: 6.9, sorbitol: 2.1, acid: 0.6, solids: 0.8},
	{name: "beetroot", sucrose: 6.5, glucose: 0.3, fructose: 0.2, acid: 0.3, solids: 2.4},
	{name: "lemon juice", sucrose: 0.43, glucose: 0.99, fructose: 1.1, acid: 4.9, solids: 0.4},
	{name: "stout wort", sucrose: 0.7, glucose: 1.5, fructose: 0.2, maltose: 8.0, maltotriose: 2.4, dextrin: 5.2, solids: 1.9},
	{name: "brown ale wort", sucrose: 0.6, glucose: 1.4, fructose: 0.2, maltose: 7.6, maltotriose: 2.2, dextrin: 5.6, solids: 1.6},
}

func (f fruit) ingredient() (calc.Ingredient, error) {
	water := 100 - f.sucrose - f.glucose - f.fructose - f.maltose - f.maltotriose - f.dextrin - f.sorbitol - f.acid - f.solids
	return calc.NewIngredient(f.name, map[calc.Component]calc.Gram{
		calc.Water: calc.Gram(water), calc.Sucrose: calc.Gram(f.sucrose), calc.Glucose: calc.Gram(f.glucose),
		calc.Fructose: calc.Gram(f.fructose), calc.Maltose: calc.Gram(f.maltose), calc.Maltotriose: calc.Gram(f.maltotriose),
		calc.Dextrin: calc.Gram(f.dextrin), calc.Sorbitol: calc.Gram(f.sorbitol), calc.Acid: calc.Gram(f.acid),
		calc.OtherSolids: calc.Gram(f.solids),
	})
}
