package plot

import "slices"

// Runes names a set of glyphs that a terminal can be trusted to show. Output
// holds nothing outside the chosen set except the letters of labels that the
// caller passed in, and with ASCII not even those: there, a foreign letter
// becomes a question mark.
type Runes uint8

const (
	// Braille packs two by four dots into a cell. The sharpest picture, for
	// terminals with a modern font.
	Braille Runes = iota
	// Blocks has eighth blocks and box drawing but no braille, for fonts that
	// show braille as tofu or as rings.
	Blocks
	// Console is the short list that the fonts of the Linux console share.
	Console
	// ASCII is for serial lines, printers, and locales without UTF-8.
	ASCII
)

// glyphs is one set of runes by what each is for.
type glyphs struct {
	axisY, axisX, corner, tickY, tickX rune
	grid, ref, event, now              rune
	chosen, pointer                    rune // the line of what is pointed at, and what points
	line, dashed, band                 rune // band and line as the key shows them
	down, up, wall, downEnd, upEnd     rune // ┐ ┘ │ └ ┌: how a stepped line turns
	rest                               rune // the unfilled end of a bar
	cut                                rune // ends a label that did not fit
	marks                              []rune
	fills                              []rune
	levels                             []rune // heights of a sparkline, lowest first
}

var glyphSets = [...]glyphs{
	Braille: {
		axisY: '│', axisX: '─', corner: '└', tickY: '┤', tickX: '┬',
		grid: '·', ref: '╌', event: '┊', now: '│',
		chosen: '┃', pointer: '▼',
		line: '⠒', dashed: '╌', band: '⢕',
		rest: '·', cut: '…',
		marks: []rune("•ox+▲▼"),
		fills: []rune("█▓▒░#=+:"),
	},
	Blocks: {
		axisY: '│', axisX: '─', corner: '└', tickY: '┤', tickX: '┬',
		grid: '·', ref: '╌', event: '┊', now: '│',
		chosen: '┃', pointer: '▼',
		line: '─', dashed: '╌', band: '░',
		down: '┐', up: '┘', wall: '│', downEnd: '└', upEnd: '┌',
		rest: '·', cut: '…',
		marks:  []rune("•ox+▲▼"),
		fills:  []rune("█▓▒░#=+:"),
		levels: []rune("▁▂▃▄▅▆▇█"),
	},
	Console: {
		axisY: '│', axisX: '─', corner: '└', tickY: '─', tickX: '│',
		grid: '·', ref: '·', event: ':', now: '│',
		chosen: '║', pointer: '▼',
		line: '─', dashed: '-', band: '░',
		down: '┐', up: '┘', wall: '│', downEnd: '└', upEnd: '┌',
		rest: '·', cut: '~',
		marks:  []rune("•ox+▲▼"),
		fills:  []rune("█▒░#=+:"),
		levels: []rune("_.─°"),
	},
	ASCII: {
		axisY: '|', axisX: '-', corner: '+', tickY: '+', tickX: '+',
		grid: '.', ref: '~', event: ':', now: '|',
		chosen: '!', pointer: 'V',
		line: '-', dashed: '-', band: '.',
		wall: '|',
		rest: '.', cut: '~',
		marks:  []rune("*ox+@^"),
		fills:  []rune("#=%:@&"),
		levels: []rune("_.-'^"),
	},
}

// String returns the name of the set, as ParseRunes reads it.
func (r Runes) String() string {
	switch r {
	case Braille:
		return "braille"
	case Blocks:
		return "blocks"
	case Console:
		return "console"
	}
	return "ascii"
}

// ParseRunes is the inverse of [Runes.String].
func ParseRunes(name string) (Runes, bool) {
	for r := Braille; r <= ASCII; r++ {
		if r.String() == name {
			return r, true
		}
	}
	return ASCII, false
}

// set returns the glyphs of r; an unknown set is ASCII, which shows anywhere.
func (r Runes) set() *glyphs {
	if int(r) < len(glyphSets) {
		return &glyphSets[r]
	}
	return &glyphSets[ASCII]
}

// Mark returns the rune that marks the points of the i-th series.
func (r Runes) Mark(i int) rune { return cycle(r.set().marks, i) }

// Fill returns the rune that fills the i-th part of a bar. Past the shades it
// goes on with the letters a to z.
func (r Runes) Fill(i int) rune {
	fills := r.set().fills
	if i = max(i, 0); i < len(fills) {
		return fills[i]
	}
	return 'a' + rune((i-len(fills))%26)
}

// Has reports whether a drawing in this set may hold c. Printable ASCII
// belongs to every set.
func (r Runes) Has(c rune) bool {
	if ' ' <= c && c <= '~' {
		return true
	}
	g := r.set()
	if c <= '~' || g == &glyphSets[ASCII] {
		return false
	}
	if r == Braille && isDots(c) {
		return true
	}
	switch c {
	case g.axisY, g.axisX, g.corner, g.tickY, g.tickX, g.grid, g.ref, g.event,
		g.now, g.chosen, g.pointer, g.line, g.dashed, g.band, g.down, g.up, g.wall, g.downEnd, g.upEnd, g.rest, g.cut:
		return true
	}
	return slices.Contains(g.marks, c) || slices.Contains(g.fills, c) || slices.Contains(g.levels, c)
}

func cycle(runes []rune, i int) rune { return runes[max(i, 0)%len(runes)] }

// noDots is the braille cell with no dot raised; dots are bits above it.
const noDots rune = 0x2800

func isDots(c rune) bool { return noDots <= c && c <= noDots|0xff }

// dotBits holds the bit of each dot of a braille cell, by row and column.
var dotBits = [4][2]rune{{0x01, 0x08}, {0x02, 0x10}, {0x04, 0x20}, {0x40, 0x80}}
