package e2e

import (
	"math/rand/v2"
	"testing"
)

// Ensure that no order of keys breaks a screen: a few thousand at random, on three
// sizes of terminal, each frame exactly as large as it may be. The seed is fixed,
// so a fault found once is found again.
func TestScreens_AnyKeys(t *testing.T) {
	keys := []string{"enter", "esc", "tab", "shift+tab", "up", "down", "left", "right", "home", "end", "pgup", "pgdown",
		"backspace", "space", "ctrl+u", "shift+left", "shift+right", ".", ",", ";", "@", "!", "=", "[", "]", "?", "/", "0", "1", "9"}
	for r := 'a'; r <= 'z'; r++ {
		keys = append(keys, string(r))
	}
	sizes := [][2]int{{45, 30}, {80, 24}, {180, 50}}
	for seed := range uint64(6) {
		random := rand.New(rand.NewPCG(seed, 1))
		size := sizes[int(seed)%len(sizes)]
		s := openAt(t, newDemo(t), &clock{evening}, size[0], size[1])
		for i := 0; i < 600 && !s.Left(); i++ {
			k := keys[random.IntN(len(keys))]
			if k == "q" && random.IntN(4) > 0 {
				continue
			}
			s.Press(k)
			if i%5 == 0 {
				s.Fits()
			}
		}
	}
}
