package ui

import "testing"

// Ensure that on every screen the parts lie inside it and do not overlap.
func TestLayOut(t *testing.T) {
	for w := minWidth; w <= 220; w++ {
		for _, h := range []int{minHeight, 15, 24, 30, 50, 90} {
			for _, vessels := range []int{0, 1, 12, 1000} {
				l := layOut(w, h, vessels)
				parts := []rect{l.header, l.shelf, l.batch, l.footer}
				for i, r := range parts {
					if r.x < 0 || r.y < 0 || r.w <= 0 || r.h < 0 || r.x+r.w > w || r.y+r.h > h {
						t.Fatalf("layOut(%d, %d, %d): part %d is %+v, outside the screen", w, h, vessels, i, r)
					}
					for j, o := range parts[:i] {
						if r.x < o.x+o.w && o.x < r.x+r.w && r.y < o.y+o.h && o.y < r.y+r.h {
							t.Fatalf("layOut(%d, %d, %d): parts %d and %d overlap: %+v %+v", w, h, vessels, j, i, o, r)
						}
					}
				}
			}
		}
	}
}

// Ensure that a shelf line always has room for a name, and never runs over.
func TestColumnsFor(t *testing.T) {
	for w := minWidth; w <= shelfMost; w++ {
		c := columnsFor(w)
		if c.name < 8 {
			t.Errorf("columnsFor(%d): %d cells for the name, want at least 8", w, c.name)
		}
	}
}
