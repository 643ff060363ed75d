package plot

import (
	"strings"
	"unicode/utf8"

	"github.com/clipperhouse/uax29/v2/graphemes"
)

// maxSide caps a drawing's width and height: no terminal is larger, and a
// nonsensical size must not eat the memory.
const maxSide = 4096

// cell is one place on the grid. The zero rune is a blank.
type cell struct {
	r    rune
	role Role
}

// taken stands in the cell that the right half of a wide letter covers.
const taken rune = -1

// canvas is a grid of cells. Everything that writes to it clips.
type canvas struct {
	w, h  int
	set   Runes
	g     *glyphs
	cells []cell
	wide  bool           // some letter is not one rune in one cell
	long  map[int]string // letters of several runes, by cell
}

func newCanvas(w, h int, set Runes) *canvas {
	w, h = min(max(w, 0), maxSide), min(max(h, 0), maxSide)
	return &canvas{w: w, h: h, set: set, g: set.set(), cells: make([]cell, w*h)}
}

// put draws one rune, one cell wide.
func (c *canvas) put(x, y int, r rune, role Role) {
	if uint(x) >= uint(c.w) || uint(y) >= uint(c.h) {
		return
	}
	i := y*c.w + x
	if c.wide {
		c.split(i, x)
	}
	c.cells[i] = cell{r, role}
}

// split makes room at cell i, in column x, for something new: the other half
// of a wide letter and the marks of a long one go with what stood there.
func (c *canvas) split(i, x int) {
	delete(c.long, i)
	if c.cells[i].r == taken {
		c.cells[i-1] = cell{}
		delete(c.long, i-1)
	}
	if x+1 < c.w && c.cells[i+1].r == taken {
		c.cells[i+1] = cell{}
	}
}

// free reports whether n cells from x on hold nothing a label would hide.
func (c *canvas) free(x, y, n int) bool {
	if x < 0 || y < 0 || x+n > c.w || y >= c.h {
		return false
	}
	for _, at := range c.cells[y*c.w+x:][:max(n, 0)] {
		if at.r != 0 && at.role != RoleGrid && (at.role != RoleRef || at.r != c.g.ref) {
			return false
		}
	}
	return true
}

// text writes clean text from x on, as far as the line goes.
func (c *canvas) text(x, y int, s string, role Role) {
	if uint(y) >= uint(c.h) {
		return
	}
	if plainASCII(s) {
		for i := range len(s) {
			c.letter(x+i, y, rune(s[i]), role)
		}
		return
	}
	for it := graphemes.FromString(s); it.Next(); {
		cluster := it.Value()
		w := measure.StringWidth(cluster)
		if x < 0 || x+w > c.w {
			return
		}
		r, n := utf8.DecodeRuneInString(cluster)
		c.letter(x, y, r, role)
		c.wide = c.wide || w == 2 || n < len(cluster)
		if w == 2 {
			c.put(x+1, y, 0, role)
			c.put(x, y, r, role)
			c.cells[y*c.w+x+1] = cell{taken, role}
		}
		if n < len(cluster) {
			if c.long == nil {
				c.long = make(map[int]string)
			}
			c.long[y*c.w+x] = cluster
		}
		x += w
	}
}

// letter is put, with a space left blank so that it needs no style.
func (c *canvas) letter(x, y int, r rune, role Role) {
	if r == ' ' {
		r = 0
	}
	c.put(x, y, r, role)
}

// lines returns the drawing, one string a row. Without paint they all share
// one backing string.
func (c *canvas) lines(paint func(Role, string) string) []string {
	out := make([]string, c.h)
	if c.w == 0 {
		return out
	}
	plain, starts := c.plain()
	if paint == nil {
		for y := range out {
			out[y] = plain[starts[y*c.w]:starts[(y+1)*c.w]]
		}
		return out
	}
	var b strings.Builder
	ends := make([]int, c.h)
	b.Grow(len(plain) + 24*c.h)
	for y := range out {
		row, at := c.cells[y*c.w:(y+1)*c.w], starts[y*c.w:]
		from := 0 // first cell not yet written
		for from < c.w {
			first, end := run(row, from)
			b.WriteString(plain[at[from]:at[first]])
			if first < end {
				b.WriteString(paint(row[first].role, plain[at[first]:at[end]]))
			}
			from = end
		}
		ends[y] = b.Len()
	}
	all, start := b.String(), 0
	for y, end := range ends {
		out[y], start = all[start:end], end
	}
	return out
}

// run finds the next run of one role at or after from: the blanks before
// first belong to nobody, and blanks between two cells of the role to the run.
func run(row []cell, from int) (first, end int) {
	first = from
	for first < len(row) && row[first].r == 0 {
		first++
	}
	end = first
	for x := first; x < len(row); x++ {
		if row[x].r == 0 {
			continue
		}
		if row[x].role != row[first].role {
			break
		}
		end = x + 1
	}
	return first, end
}

// plain returns the whole grid as one string, and where each cell starts in it.
func (c *canvas) plain() (string, []int) {
	var b strings.Builder
	b.Grow(c.w*c.h + c.w*c.h/2)
	starts := make([]int, len(c.cells)+1)
	for i, at := range c.cells {
		starts[i] = b.Len()
		if c.long != nil {
			if cluster, ok := c.long[i]; ok {
				b.WriteString(cluster)
				continue
			}
		}
		switch at.r {
		case 0:
			b.WriteByte(' ')
		case taken:
		default:
			b.WriteRune(at.r)
		}
	}
	starts[len(c.cells)] = b.Len()
	return b.String(), starts
}
