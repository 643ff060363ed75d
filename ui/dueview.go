package ui

import (
	"strings"
	"time"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// dueSpan is how soon something is due.
type dueSpan uint8

const (
	dueLate dueSpan = iota
	dueToday
	dueAhead
)

// spanOf tells how soon something is due. What is due now is due today, though midnight
// may lie between.
func spanOf(d model.Due, now time.Time) dueSpan {
	switch {
	case d.Late(now):
		return dueLate
	case d.At.Sub(now) < model.DueNow, d.At.In(now.Location()).Format(time.DateOnly) == now.Format(time.DateOnly):
		return dueToday
	}
	return dueAhead
}

func (s dueSpan) String() string { return [...]string{"late", "today", "later"}[s] }

// view draws what is due in w by h cells: the list, and under it why the chosen one is.
func (p duePane) view(w, h int, now time.Time, st *Styles) []string {
	g := p.opts.Glyphs
	title := rule("What to do", w, g, st)
	d, ok := p.selected()
	if !ok {
		return padLines(append([]string{title, ""}, indented(wrap("Nothing is due.", w-4), st.Good.Render)...), w, h)
	}
	why := p.why(d, w, now, st)
	room := max(3, h-1-len(why))
	var list []string
	at := 0
	for i, due := range p.all {
		span := spanOf(due.Due, now)
		if i == 0 || span != spanOf(p.all[i-1].Due, now) {
			list = append(list, p.heading(span, st))
		}
		if i == p.cursor {
			at = len(list)
		}
		list = append(list, p.item(i, w, now, st))
	}
	from := max(0, firstShown(at, len(list), room))
	lines := append([]string{title}, padLines(list[from:min(len(list), from+room)], w, room)...)
	return padLines(append(lines, why...), w, h)
}

func (p duePane) heading(s dueSpan, st *Styles) string {
	text := "  " + strings.ToUpper(s.String())
	if s == dueLate {
		return st.Warn.Render(text)
	}
	return st.Muted.Render(text)
}

// whatMost is as far from its batch as a thing to do may stand.
const whatMost = 60

// item is one thing due in a line: a mark, the vessel, what, when, and where there is
// room the name.
func (p duePane) item(i, w int, now time.Time, st *Styles) string {
	g := p.opts.Glyphs
	d := p.all[i]
	pointer, mark := " ", " "
	if i == p.cursor {
		pointer = st.Key.Render(g.Pointer)
	}
	when := fitRight(words.Due(d.Due.At, now), 9)
	if spanOf(d.Due, now) == dueLate {
		mark, when = st.Warn.Render(g.Late), st.Warn.Render(when)
	}
	label, what := fit(g.text(dueLabel(d)), 5), g.text(d.Due.What)
	name, room := 0, max(8, w-21)
	if w >= 64 {
		name = min(28, (w-22)/2)
		room = min(max(8, w-22-name), whatMost)
	}
	if i == p.cursor {
		label, what = st.Chosen.Render(label), st.Chosen.Render(cut(what, room))
	}
	line := pointer + " " + mark + " " + label + " " + when + "  " + fit(what, room)
	if name > 0 {
		line += " " + st.Muted.Render(cut(g.text(d.Row.Batch.Name), name))
	}
	return line
}

// why is what speaks for the chosen one, and when it is due to the minute.
func (p duePane) why(d model.DueRow, w int, now time.Time, st *Styles) []string {
	g := p.opts.Glyphs
	at := d.Due.At.In(now.Location())
	day := at.Format("Mon 2 Jan 15:04")
	if at.Year() != now.Year() {
		day = at.Format("Mon 2 Jan 2006")
	}
	lines := []string{rule(g.text(dueLabel(d)+"  "+d.Row.Batch.Name), w, g, st)}
	lines = append(lines, indented(wrap(g.text(d.Due.What+", "+day), w-4), st.Strong.Render)...)
	if d.Due.Because != "" {
		lines = append(lines, indented(wrap(g.text("because "+d.Due.Because), w-4), st.Plain.Render)...)
	}
	return append(lines, "")
}

// line draws the line being typed, and under it what it would mean.
func (p duePane) line(w int, st *Styles) []string {
	g := p.opts.Glyphs
	prompt, hint := "put off "+p.about.Due.What+" until ", "2d, friday, 20dec, or 18:30"
	if p.typing == dueNew {
		prompt, hint = "remind me of "+dueLabel(p.about)+" ", "what, and when: buy corks 20dec"
	}
	prompt = " " + st.Muted.Render(cut(g.text(prompt), max(8, w/2)))
	return []string{prompt + typedIn(p.input, w-width(prompt)-1), " " + p.understood(hint, w, st)}
}

// understood says what the text would mean, what is wrong with it, or what can be typed.
func (p duePane) understood(hint string, w int, st *Styles) string {
	text := func(s string) string { return cut(p.opts.Glyphs.text(s), w-1) }
	switch {
	case p.saving:
		return st.Muted.Render("saving")
	case p.trouble != "":
		return st.Bad.Render(text(p.trouble))
	case strings.TrimSpace(p.input.Value()) == "":
		return st.Muted.Render(text(hint))
	}
	_, said, err := p.typed()
	if err != nil {
		return st.Warn.Render(text(words.PlainError(err)))
	}
	return st.Good.Render(text(said))
}

// dueLines lists the first few things due of a batch.
func dueLines(row model.Row, w int, now time.Time, g Glyphs, st *Styles) []string {
	dues := row.Dues()
	if len(dues) == 0 {
		return nil
	}
	lines := []string{"", st.Heading.Render(fit("  Due", w))}
	for _, d := range dues[:min(len(dues), dueMost)] {
		mark, when := " ", fit(words.Due(d.At, now), 12)
		if spanOf(d, now) == dueLate {
			mark, when = st.Warn.Render(g.Late), st.Warn.Render(when)
		}
		text := d.What
		if d.Because != "" {
			text += ": " + d.Because
		}
		lines = append(lines, mark+" "+when+"  "+cut(g.text(text), w-16))
	}
	return lines
}
