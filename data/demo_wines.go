package data

import "cellar.local/glassrow/model"

// The wines of the demo cellar.

// damsonWine was working and went up: what was tipped in is only a note.
func damsonWine() recipe {
	return recipe{
		name: "Damson wine", drink: model.Wine, vessel: "N6", began: 10, volume: 12.4, read: 1.092,
		must: []helping{{5200, "damsons", ""}, {2250, "white sugar", ""}},

		lines: 0.001, room: 19,
		readings: []float64{9, 8, 7.5, 7, 6, 4, 3, 1, 0},
		events: []event{
			{10, says("Stones left in, none cracked. They come out before two weeks are up.")},
			{10, pitches(model.WineYeast, "red wine yeast", 14, pace{lag: 1.5, peak: 34, half: 70, limit: 15})},
			{7, reads(3.2, "")},
			{5, slips(1.105)},
			{5, strikesOut("typed 1.105 for 1.055")},
			{5, reads(0, "looked again, at eye height this time")},
			{4, racksTo("S1", 1.9)},
			{4, says("Strained through the cloth. Bucket is scrubbed and free.")},
			{1, forgets(helping{430, "white sugar", ""}, "Colour of a good bruise. Tipped the jug of damson syrup in while I was at it.")},
		},
	}
}

// beetrootWine is dry, stabilised and sweetened with what yeast cannot eat.
func beetrootWine() recipe {
	return recipe{
		name: "Beetroot wine", drink: model.Wine, vessel: "S4", began: 148, volume: 5.4, read: 1.086,
		must: []helping{{2000, "beetroot", ""}, {1040, "white sugar", ""}, {90, "lemon juice", ""}},

		lines: 0.001, room: 18,
		readings: []float64{147, 146, 145, 144, 142, 140, 138, 135, 131, 126, 119, 105, 77, 49, 30, 25, 16, 6},
		events: []event{
			{148, pitches(model.WineYeast, "white wine yeast", 14, pace{lag: 1.3, peak: 30, half: 80, limit: 15.5})},
			{148, says("Simmered the roots till tender and took the water only. Kitchen looks like a crime.")},
			{138, racksTo("N5", 0.6)},
			{77, says("Earth gone off the nose, something like sherry coming.")},
			{30, says("Bone dry and a bit stern.")},
			{30, stabilises(model.Stabilise{Sulfite: 0.35, Sorbate: 0.9})},
			{30, stirsIn(helping{75, "erythritol", ""}, "sweeten")},
			{16, reads(3.5, "rounder; nothing for the yeast in it")},
		},
	}
}

// plumWine was dry, was sweetened with live yeast in it, and is off again.
func plumWine() recipe {
	return recipe{
		name: "Plum wine", drink: model.Wine, vessel: "S4", began: 74, volume: 5.3, read: 1.084,
		must: []helping{{2200, "plums", ""}, {900, "white sugar", ""}},

		lines: 0.001, room: 19,
		readings: []float64{73, 72, 71, 70, 69, 67, 65, 62, 58, 54, 47, 40, 33, 19, 9, 8, 6, 4, 2, 0},
		events: []event{
			{74, pitches(model.WineYeast, "white wine yeast", 14, pace{lag: 1.2, peak: 32, half: 80, limit: 16})},
			{65, racksTo("S3", 0.6)},
			{33, racksTo("S3", 0.2)},
			{33, says("Off the lees and back into the same jar, rinsed.")},
			{19, says("Clear as a window. Thin, though.")},
			{9, stirsIn(helping{260, "honey", ""}, "sweeten")},
			{9, wakes(pace{lag: 3, peak: 8, half: 40, limit: 16})},
			{9, says("Sweetened with honey straight into the jar. It was dry and still for a month, surely safe.")},
			{4, says("It is bubbling again. No sulfite, no sorbate: my own fault. Not to be bottled.")},
		},
	}
}

// quinceWine went into bottles last year, and some of them have been drunk. It was too
// much for one carboy: what was over stood beside it, for topping up.
func quinceWine() recipe {
	return recipe{
		name: "Quince wine", drink: model.Wine, vessel: "S2", began: 561, volume: 16, read: 1.084,
		must: []helping{{6570, "quinces", ""}, {2900, "white sugar", ""}},

		lines: 0.001, room: 17,
		readings: []float64{560, 559, 558, 557, 556, 554, 552, 550, 547, 543, 537, 530, 516, 488, 460, 432, 407, 392},
		events: []event{
			{561, says("Grated whole, cores and all. The room smells of roses and pears.")},
			{561, pitches(model.WineYeast, "white wine yeast", 14, pace{lag: 1.6, peak: 26, half: 80, limit: 15.5})},
			{552, splitsOff(4.6, dryQuince(), 12)},
			{552, racksTo("S1", 1)},
			{516, racksTo("S1", 0.7)},
			{516, topsUpFromPart(0.6)},
			{488, says("Pectin haze that will not drop. Enzyme again.")},
			{432, says("Bright. Put a lamp behind it to be sure.")},
			{407, stabilises(model.Stabilise{Sulfite: 0.8, Sorbate: 2.1})},
			{407, says("Two weeks of waiting now.")},
			{392, stirsIn(helping{150, "white sugar", ""}, "sweeten")},
			{388, reads(3.3, "just off dry, quince to the end")},
			{388, bottles(13, 0.75)},
			{388, says("Thirteen bottles and a glass for the cook. Corks waxed.")},
			{330, tastes(5, "shut, all cork and cellar; far too soon")},
			{262, tastes(6.5, "quince on the nose, still sharp underneath")},
			{189, tastes(8, "round, honeyed skin, long; the neighbours said the same")},
			{175, takes(3, "to the mill, for the wedding")},
			{118, tastes(8.5, "as good as it has been: quince, pear, a little wax")},
			{47, tastes(7.5, "softer, the edge is going; not to be kept for ever")},
		},
	}
}

// dryQuince is the part of the quince wine that nobody sweetened. All of it is drunk.
func dryQuince() recipe {
	return recipe{
		name: "Dry quince", drink: model.Wine, vessel: "S3", began: 552,

		lines: 0.001, room: 17,
		readings: []float64{537, 530, 460, 392},
		events: []event{
			{516, racksTo("S3", 0.1)},
			{432, says("Clearer than the big one, and harder.")},
			{388, bottles(5, 0.75)},
			{330, tastes(4, "all elbows")},
			{262, tastes(6, "for oysters, and nothing else")},
			{189, tastes(6.5, "dry as a stone, clean")},
			{118, takes(2, "the last of it, with the mussels")},
		},
	}
}
