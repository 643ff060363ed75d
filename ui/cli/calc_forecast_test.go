package cli

import (
	"errors"
	"strings"
	"testing"

	"cellar.local/glassrow/model"
)

// Ensure that lines of hours and gravity are read in any order, times counted from the
// earliest, headings and remarks passed over.
func TestReadTimedGravities(t *testing.T) {
	got, start, err := readTimedGravities(strings.NewReader("\ufefftime_h,sg\n# by the stove\n 48h , 1.062 ,roused\n24,1080\n\n96,8.5bx\n"))
	if err != nil || start != 24 || len(got) != 3 {
		t.Fatalf("got %v from %v, %v", got, start, err)
	}
	if got[0].At != 0 || got[0].SG != 1.080 || got[1].At != 24 || got[1].SG != 1.062 || got[2].At != 72 {
		t.Errorf("got %v", got)
	}
	for _, wrong := range []string{"", "time_h,sg\n", "24\n", "0,1.08\nx,1.07\n", "0,1.08\n24,8.5\n", "0,1.08\n24,\n"} {
		if _, _, err := readTimedGravities(strings.NewReader(wrong)); !errors.Is(err, model.ErrInvalid) {
			t.Errorf("%q: %v, want it refused", wrong, err)
		}
	}
}

func FuzzReadTimedGravities(f *testing.F) {
	f.Add("time_h,sg\n0,1.084\n24,1.081\n")
	f.Add("48h,34,note\n")
	f.Fuzz(func(t *testing.T, text string) {
		got, _, err := readTimedGravities(strings.NewReader(text))
		if err != nil {
			return
		}
		for _, r := range got {
			if r.At < 0 || !(r.SG > 0.8 && r.SG < 1.4) {
				t.Fatalf("%q gives %v", text, got)
			}
		}
	})
}
