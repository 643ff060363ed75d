package data

import "cellar.local/glassrow/model"

// The beers of the demo cellar, and what is neither wine nor beer.

// oatStout is at full pace.
func oatStout() recipe {
	return recipe{
		name: "Oat stout", drink: model.Beer, vessel: "S2", began: 3, volume: 20.5, read: 1.060,
		must: []helping{{13700, "stout wort", ""}, {450, "lactose", ""}},

		lines: 0.001, room: 19,
		readings: []float64{2.5, 2, 1.5, 1, 0.5, 0},
		events: []event{
			{3, says("Oats toasted in the oven first. Cooled in the tide pool by the slip.")},
			{3, pitches(model.AleYeast, "ale yeast, slurry from the brown", 10, pace{lag: 0.7, peak: 48, half: 30, limit: 13})},
			{1, says("Through the airlock and over the floor. Blow-off hose fitted.")},
		},
	}
}

// brownAle is at its natural limit: flat, with nothing left that the yeast can use.
func brownAle() recipe {
	return recipe{
		name: "Brown ale", drink: model.Beer, vessel: "S4", began: 27, volume: 13, read: 1.049,
		must: []helping{{8610, "brown ale wort", ""}},

		lines: 0.001, room: 19,
		readings: []float64{26.5, 26, 25.5, 25, 24, 23, 22, 20, 17, 14, 10, 7, 3},
		events: []event{
			{27, pitches(model.AleYeast, "ale yeast", 10, pace{lag: 0.6, peak: 44, half: 22, limit: 13})},
			{20, says("Looks done. Leaving it a few days to tidy up after itself.")},
			{10, says("Stopped higher than hoped. Mashed hot, so it is body and not sugar.")},
			{3, reads(4.2, "nuts, toffee, soft; more yeast would find nothing")},
		},
	}
}

// windfallPerry is in the vessel and waits for its yeast.
func windfallPerry() recipe {
	return recipe{
		name: "Windfall perry", drink: model.Perry, vessel: "N2", began: 0, volume: 19.5, read: 1.057,
		must: []helping{{19000, "windfall pear juice", ""}}, fruit: []helping{{1200, "blackberry", ""}},

		lines: 0.001, room: 16,
		events: []event{
			{0, says("Four sacks of windfalls from the lane, milled and pressed. Brambles from the same lane, crushed in a bag, for the colour. A pinch of sulfite against the wild things; yeast goes in tomorrow.")},
		},
	}
}

// elderflowerSparkling is in the keg with its priming sugar.
func elderflowerSparkling() recipe {
	return recipe{
		name: "Elderflower sparkling", drink: model.Other, vessel: "S2", began: 29, volume: 11, read: 1.042,
		must: []helping{{1160, "white sugar", ""}, {260, "lemon juice", ""}},

		lines: 0.001, room: 18,
		readings: []float64{28, 27, 26, 25, 23, 21, 18, 15, 12, 9, 6, 2},
		events: []event{
			{29, says("Twenty-five heads, dry and in full sun, green stalk cut away.")},
			{29, pitches(model.WineYeast, "sparkling wine yeast", 0, pace{lag: 1.8, peak: 24, half: 30, limit: 15})},
			{27, says("Nutrient in, half a dose. Foam like a hedge in June.")},
			{5, racksTo("K1", 0.4)},
			{5, stirsIn(helping{85, "white sugar", ""}, "prime")},
			{5, wakes(pace{lag: 2, peak: 1.2, half: 3, limit: 15})},
			{5, says("Into the keg with its sugar, lid set, relief valve tried. Three weeks by the stove.")},
		},
	}
}
