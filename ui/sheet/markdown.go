package sheet

import (
	"strings"
	"unicode"
)

// Markdown writes the sheet as Markdown with tables, as most programs read it.
func (s Sheet) Markdown() string {
	var b strings.Builder
	line := func(parts ...string) { b.WriteString(strings.Join(parts, "") + "\n") }
	line("# ", escape(s.Title))
	line()
	facts := Table{Head: []string{"", ""}, Right: []bool{false, false}}
	for _, r := range s.Facts {
		facts.Rows = append(facts.Rows, []string{r.Name, r.Value})
	}
	writeTable(&b, facts)
	for _, sec := range s.Sections {
		line()
		line("## ", escape(sec.Title))
		writeParagraphs(&b, sec.Text)
		if chart := sec.Curve.text(); chart != nil {
			line()
			line("```text")
			for _, l := range chart {
				line(strings.TrimRight(l, " "))
			}
			line("```")
			writeParagraphs(&b, []string{sec.Curve.caption()})
		}
		if len(sec.Table.Rows) > 0 {
			line()
			writeTable(&b, sec.Table)
		}
		if len(sec.Items) > 0 {
			line()
		}
		for _, item := range sec.Items {
			line("- ", escape(item))
		}
	}
	line()
	line("---")
	writeParagraphs(&b, s.Foot)
	return b.String()
}

func writeParagraphs(b *strings.Builder, all []string) {
	for _, text := range all {
		if text != "" {
			b.WriteString("\n" + escape(text) + "\n")
		}
	}
}

func writeTable(b *strings.Builder, t Table) {
	row := func(cells []string) {
		b.WriteString("|")
		for _, c := range cells {
			b.WriteString(" " + escape(c) + " |")
		}
		b.WriteString("\n")
	}
	row(t.Head)
	b.WriteString("|")
	for _, right := range t.Right {
		if right {
			b.WriteString(" ---: |")
		} else {
			b.WriteString(" --- |")
		}
	}
	b.WriteString("\n")
	for _, cells := range t.Rows {
		row(cells)
	}
}

// marks are the letters that mean something to Markdown wherever they stand.
const marks = "\\`*_[]<>|~&$"

// escape makes text stand in Markdown as it is: one line, no table cell ended, no tag,
// link, code or emphasis begun, and nothing at its start that would make it a heading,
// a list, a quote or a rule.
func escape(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	var b strings.Builder
	for i, r := range s {
		switch {
		case !unicode.IsPrint(r):
			b.WriteRune('?')
			continue
		case strings.ContainsRune(marks, r), i == 0 && strings.ContainsRune("#-+=:", r), opensList(s, i),
			r == ':' && strings.HasPrefix(s[i:], "://"), r == '@':
			b.WriteByte('\\')
		}
		b.WriteRune(r)
	}
	return b.String()
}

// opensList reports whether the letter at i is the point or bracket after a number at
// the start of a line, which makes it an item of a list.
func opensList(s string, i int) bool {
	if i == 0 || s[i] != '.' && s[i] != ')' {
		return false
	}
	return strings.Trim(s[:i], "0123456789") == "" && (i+1 == len(s) || s[i+1] == ' ')
}
