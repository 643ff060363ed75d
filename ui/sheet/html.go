package sheet

import (
	"bytes"
	_ "embed"
	"html/template"
)

//go:embed sheet.html
var page string

// HTML writes the sheet as one page that stands by itself: black on white, no script,
// nothing to fetch, sized for paper. The template escapes all that is not the drawing,
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

// Cells returns a row with the alignment of each column.
func (t Table) Cells(row []string) []Aligned {
	out := make([]Aligned, len(row))
	for i, text := range row {
		out[i].Text = text
		if i < len(t.Right) && t.Right[i] {
			out[i].Class = "figure"
		}
	}
	return out
}
