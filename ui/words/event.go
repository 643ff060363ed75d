package words

import "cellar.local/glassrow/model"

// Event is the letter and the word of an event on a curve, on the screen and on paper;
// 0 for one that has none.
func Event(k model.Kind) (letter rune, word string) {
	switch k {
	case model.KindPitch:
		return 'y', "yeast"
	case model.KindAddition:
		return 'a', "addition"
	case model.KindRack:
		return 'r', "racked"
	case model.KindBottle:
		return 'b', "bottled"
	case model.KindStabilise:
		return 's', "stabilised"
	case model.KindFruit:
		return 'f', "fruit in"
	case model.KindPress:
		return 'o', "fruit out"
	case model.KindPour:
		return 'p', "poured in"
	case model.KindDraw:
		return 'd', "drawn off"
	case model.KindPart:
		return 't', "split off"
	}
	return 0, ""
}
