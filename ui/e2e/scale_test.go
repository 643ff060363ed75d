package e2e

import "testing"

// Ensure that a vessel on the scale is understood while its mass is typed, that its tare
// can be set from the shelf, and that the pane and the journal tell what the scale knows,
// on every size of screen.
func TestScale(t *testing.T) {
	for _, size := range [][2]int{{45, 30}, {80, 24}, {180, 50}} {
		path := newDemo(t)
		s := openAt(t, path, &clock{evening}, size[0], size[1])
		selectLabel(s, "N1")

		// The tare is what the person weighed, whatever the demo had.
		s.Press("V").See("What is known of N1", "6.4kg", "its mass when empty").Fits()
		s.Press("ctrl+u").Type("heavy").Press("enter").See("mass").Press("ctrl+u").Type("6.5kg").Press("enter").See("N1 is written down anew").Fits()

		// 19.2 L of 1.003 weigh 19.3 kg; 24.6 less 6.5 are a litre less than that.
		s.Press("r").Type("24.6kg").See("drink 17.", "the journal", "reckons 19.", "less than").Fits()
		s.Press("enter").See("written down", "by weight, not 19.").Fits()
		if size[1] >= 50 {
			s.See("lees, a sample")
		}
		s.Press("l").See("weighs 24.60 kg", "drink 17.").Fits().Press("esc")

		// The marks of the vessel settle it: the journal follows, and nothing is off.
		s.Press("r").Type("18.2l").See("18.2 L by its marks", "less than").Fits().Press("enter").See("written down").DontSee("by weight, not")

		// Two weighings of a ferment whose gravity was known at the first.
		s.Press("r").Type("1.002 24.60kg").Press("enter").See("written down").DontSee("1.002 by weight")
		s.Press("r").Type("24.55kg").See("lost 50 g since", "by weight").Fits()
		s.Press("esc")
	}
}

// Ensure that a vessel without a tare says what is missing, and how to give it.
func TestScale_NoTare(t *testing.T) {
	s := openAt(t, newDemo(t), &clock{evening}, 45, 30)
	selectLabel(s, "S4")
	s.Press("V").Press("ctrl+u").Press("enter").See("written down anew")
	s.Press("r").Type("24.6kg").See("needs the vessel's tare", "V on the shelf").Fits()
}
