package sheet

import (
	"bytes"
	_ "embed"
	"html/template"
)

//go:embed sheet.html
var page string

// HTML writes the sheet as one page that stands by itself: no script, nothing to fetch,
// sized for paper, where it is black on white, and for a narrow screen. The template escapes all that is not the drawing,
// which is made of figures and of our own words.
func (s Sheet) HTML() (string, error) {
	t, err := template.New("sheet").Parse(page)
	if err != nil {
		return "", err // our own slip; a test writes every kind of section
	}
	var b bytes.Buffer
	if err := t.Execute(&b, s); err != nil {
		return "", err
	}
	return b.String(), nil
}

// SVG is the drawing for the page.
func (c Curve) SVG() template.HTML { return template.HTML(c.svg()) }

// Caption is what stands under it.
func (c Curve) Caption() string { return c.caption() }

// Drawn reports whether there is a curve at all.
func (c Curve) Drawn() bool { return !c.empty() }

// Aligned is a cell with the class of its column.
type Aligned struct{ Text, Class string }

// Cells returns a row with the class of each column.
func (t Table) Cells(row []string) []Aligned {
	out := make([]Aligned, len(row))
	for i, text := range row {
		out[i].Text = text
		switch {
		case i < len(t.Right) && t.Right[i]:
			out[i].Class = "figure"
		case i == t.Words:
			out[i].Class = "words"
		}
	}
	return out
}

// Class tells a short list of pairs from a table as wide as the page.
func (t Table) Class() string {
	if len(t.Head) == 2 {
		return "pairs"
	}
	return "wide"
}

// shortRows is as many rows as are kept on one page (choice: a third of it).
const shortRows = 15

// Long reports whether the table may be broken over pages.
func (t Table) Long() bool { return len(t.Rows) > shortRows }

// Continues reports whether a row belongs to the day above it: a page does not begin
// with it.
func (t Table) Continues(row []string) bool { return len(row) > 0 && row[0] == "" }
