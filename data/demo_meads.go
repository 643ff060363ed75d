package data

import (
	"time"

	"cellar.local/glassrow/model"
)

// The meads of the demo cellar. Figures in a pace are chosen so that the curve
// tells the story of the notes.

// heatherMead is in its long tail.
func heatherMead() recipe {
	const salts = "nutrient salts"
	return recipe{
		name: "Heather-honey mead", drink: model.Mead, vessel: "N1", began: 38, volume: 19.5, read: 1.106,
		must: []helping{{6600, "honey", "heather honey"}},

		lines: 0.002, room: 18,
		readings: []float64{37, 36, 35, 34, 33, 32, 31, 29, 27, 25, 22, 19, 16, 12},
		events: []event{
			{38, pitches(model.WineYeast, "dry mead yeast, two packets", 15, pace{lag: 1.8, peak: 22, half: 130, limit: 15.5})},
			{38, says("Honey came like jelly; stood the tubs in warm water till it ran. Smells of moor and resin.")},
			{38, plans(model.Meal{What: salts, Mass: 6, After: 48 * time.Hour}, model.Meal{What: salts, Mass: 6, After: 96 * time.Hour},
				model.Meal{What: salts, Mass: 6, After: 144 * time.Hour, Mark: 1.071})},
			{36, feeds(1)},
			{36, says("Stirred hard to drive the gas off.")},
			{34, feeds(2)},
			{34, says("Foaming well.")},
			{32, feeds(3)},
			{32, says("Getting on for a third of the sugar gone. No more after this.")},
			{16, says("Dropping clear at the neck. Still ticking.")},
			{6, reads(3.6, "waxy, a little sharp, alcohol warm but not hot")},
		},
	}
}

// seaBuckthornMead is in trouble: sour, hungry and cold, with food left.
func seaBuckthornMead() recipe {
	return recipe{
		name: "Sea-buckthorn mead", drink: model.Mead, vessel: "N3", began: 33, volume: 4.6, read: 1.102,
		must: []helping{{1430, "honey", ""}, {500, "sea-buckthorn juice", ""}},

		lines: 0.001, room: 15,
		readings: []float64{31, 29, 28, 26, 24, 22, 20, 18, 15, 12, 8, 4, 1},
		events: []event{
			{33, says("Berries frozen on the branch, knocked off and pressed. Fierce orange.")},
			{33, pitches(model.WineYeast, "white wine yeast", 14, pace{lag: 3.2, peak: 13, half: 60, limit: 6.4})},
			{26, reads(2.9, "sour enough to make you blink")},
			{18, says("Cold snap, the shelf was down to 12 in the morning. Wrapped it.")},
			{8, says("No bubbles for days and still like syrup with lemon in it.")},
			{4, says("Warmed to 19 and roused the lees. We shall see.")},
			{1, plans(model.Meal{What: "yeast hulls", Mass: 1.5, After: 35 * 24 * time.Hour}, model.Meal{What: "yeast hulls", Mass: 1.5, Mark: 1.045})},
		},
	}
}

// blackcurrantMelomel is off the fruit and dry.
func blackcurrantMelomel() recipe {
	return recipe{
		name: "Blackcurrant melomel", drink: model.Mead, vessel: "N6", began: 24, volume: 10.8, read: 1.094,
		must: []helping{{2590, "honey", ""}}, fruit: []helping{{3000, "blackcurrant", ""}},

		lines: 0.002, room: 19,
		readings: []float64{23, 22.5, 22, 21.5, 21, 20, 19, 18, 17, 15, 13, 11, 8, 5, 2},
		events: []event{
			{24, says("Fruit frozen, thawed and crushed in a bag. Pectic enzyme in, yeast tomorrow.")},
			{23, pitches(model.WineYeast, "red wine yeast", 14, pace{lag: 0.9, peak: 54, half: 40, limit: 13.1})},
			{21, says("Cap pushed down morning and evening. The lid wears a purple ring.")},
			{17, takesFruitOut},
			{17, says("Bag lifted and drained, not squeezed.")},
			{17, racksTo("N4", 0.7)},
			{16, putsIn(helping{400, "raspberry", ""})},
			{16, says("A bag of raspberries for the nose, frozen since the summer.")},
			{11, takesFruitOut},
			{11, says("Raspberries out, pale as paper.")},
			{2, reads(3.3, "bramble, tart, wants a year")},
		},
	}
}

// buckwheatMead has come to the end of its yeast, sweet and strong.
func buckwheatMead() recipe {
	return recipe{
		name: "Buckwheat mead", drink: model.Mead, vessel: "N1", began: 204, volume: 19.8, read: 1.122,
		must: []helping{{7630, "honey", "buckwheat honey"}},

		lines: 0.001, room: 17,
		readings: []float64{202, 200, 198, 196, 194, 191, 188, 184, 180, 175, 168, 161, 154, 147, 133, 112, 84, 56, 28, 9},
		events: []event{
			{204, pitches(model.HighYeast, "strong mead yeast, rehydrated", 16.5, pace{lag: 2.4, peak: 20, half: 70, limit: 16.4})},
			{204, says("Honey dark as tar and smelling of a stable, in the best way.")},
			{188, stirsIn(helping{900, "honey", "buckwheat honey"}, "feed")},
			{175, stirsIn(helping{900, "honey", "buckwheat honey"}, "feed")},
			{147, racksTo("B1", 1.3)},
			{147, says("Into the barrel, filled to the bung. Old oak, more air than wood by now.")},
			{84, says("Malt, molasses, wood. Topped the airlock with spirit.")},
			{9, reads(3.9, "round at last; leave it another winter")},
		},
	}
}
