package ui

import (
	"fmt"
	"time"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// diaryWriter draws the lines of the journal in w cells.
type diaryWriter struct {
	journalPane
	w      int
	now    time.Time
	say    words.Words
	labels words.Labels
	tares  model.Tares
	st     *Styles
}

// view draws the journal in w by h cells.
func (p journalPane) view(w, h int, now time.Time, say words.Words, labels words.Labels, tares model.Tares, st *Styles) []string {
	d := diaryWriter{p, w, now, say, labels, tares, st}
	lines := []string{rule("Journal of "+p.opts.Glyphs.text(p.batch.Name), w, p.opts.Glyphs, st)}
	lines = append(lines, "  "+st.Muted.Render(cut(p.heading(), w-2)))
	if h > diaryTall {
		lines = append(lines, indented(wrap(p.opts.Glyphs.text(p.strength), w-4), st.Muted.Render)...)
	}
	if len(p.shown) == 0 {
		lines = append(lines, "", "  "+words.NothingOf(p.only)+"; "+p.keys.Only.Help().Key+" shows something else")
		return padLines(lines, w, h)
	}
	return padLines(append(lines, d.around(h-len(lines))...), w, h)
}

// diaryTall is the height from which there is room for more than the entries.
const diaryTall = 12

// heading says what is shown and in which order.
func (p journalPane) heading() string {
	order := "newest first"
	if p.oldestFirst {
		order = "oldest first"
	}
	if p.only == model.AllOfIt {
		return fmt.Sprintf("%s, %s", words.Count(len(p.diary), "entry", "entries"), order)
	}
	return fmt.Sprintf("%s: %d of %d, %s", words.Strand(p.only), len(p.shown), len(p.diary), order)
}

// around draws as much of the diary about the cursor as h lines hold. A journal can
// have thousands of lines, and only these are worked out.
func (d diaryWriter) around(h int) []string {
	from, to := d.cursor, d.cursor+1
	n := 1 + len(d.entry(d.cursor)) // the day above the first is always told
	room := func(i int) bool { return n+len(d.block(i)) <= h }
	for from > 0 && n+len(d.block(from-1)) <= h/2 {
		from--
		n += len(d.block(from))
	}
	for to < len(d.shown) && room(to) {
		n += len(d.block(to))
		to++
	}
	for from > 0 && to == len(d.shown) && room(from-1) {
		from--
		n += len(d.block(from))
	}
	lines := append([]string{d.day(from)}, d.entry(from)...)
	for i := from + 1; i < len(d.shown) && len(lines) < h; i++ {
		lines = append(lines, d.block(i)...)
	}
	return lines[:min(len(lines), max(0, h))]
}

// block is the i-th entry with its day above it where that is a new one.
func (d diaryWriter) block(i int) []string {
	lines := d.entry(i)
	if i == 0 || d.date(i) != d.date(i-1) {
		lines = append([]string{d.day(i)}, lines...)
	}
	return lines
}

func (d diaryWriter) at(i int) model.Told { return d.diary[d.shown[i]] }

// date is midnight of the i-th entry's day, as a day that has no zone.
func (d diaryWriter) date(i int) time.Time { return dateOf(d.at(i).At, d.now) }

func dateOf(t, now time.Time) time.Time {
	y, m, day := t.In(now.Location()).Date()
	return time.Date(y, m, day, 0, 0, 0, 0, time.UTC)
}

// day is the heading of the i-th entry's day.
func (d diaryWriter) day(i int) string {
	date := d.date(i)
	text := dayText(date, d.now)
	if start := d.state.Started; !start.IsZero() && !date.Before(dateOf(start, d.now)) {
		text += fmt.Sprintf(", day %d", int(date.Sub(dateOf(start, d.now)).Hours()/24))
	}
	return d.st.Heading.Render(cut(text, d.w))
}

// dayText writes a date with its weekday, and the year where that is another.
func dayText(date, now time.Time) string {
	if date.Year() != now.Year() {
		return date.Format("Mon 2 Jan 2006")
	}
	return date.Format("Mon 2 Jan")
}

// entry draws the i-th entry, over as many lines as it needs.
func (d diaryWriter) entry(i int) []string {
	t := d.at(i)
	pointer := "  "
	if i == d.cursor {
		pointer = d.st.Key.Render(d.opts.Glyphs.Pointer) + " "
	}
	head := fmt.Sprintf("%s  %3d  ", t.At.In(d.now.Location()).Format("15:04"), t.ID)
	style := d.st.Plain
	switch {
	case !t.Counts:
		style = d.st.Muted
	case i == d.cursor:
		style = d.st.Chosen
	}
	var lines []string
	for k, l := range wrap(d.text(t), max(1, d.w-2-width(head))) {
		if k > 0 {
			pointer, head = "  ", repeat(" ", len(head))
		}
		lines = append(lines, pointer+d.st.Muted.Render(head)+style.Render(l))
	}
	return lines
}

// text says the entry, what the journal makes of it, and when it was written if that
// was later.
func (d diaryWriter) text(t model.Told) string {
	text := d.say.Entry(t.Body, d.labels)
	switch r, reading := t.Body.(model.Reading); {
	case reading && t.SG != 0:
		note := r.Note
		r.Note = ""
		text = d.say.Entry(r, d.labels) + d.gravity(t, r)
		if note != "" {
			text += "; " + d.opts.Glyphs.text(note)
		}
	case t.SG != 0 && t.Body.Kind() != model.KindMust:
		text += " " + d.say.Arrow() + " " + d.say.FineGravity(t.SG)
	}
	text += d.opts.Glyphs.text(d.say.Heft(t.Weighing, t.Level, d.tares, d.now.Location()))
	if t.Struck.Entry != 0 {
		why := ""
		if t.Struck.Reason != "" {
			why = ": " + d.opts.Glyphs.text(t.Struck.Reason)
		}
		text = "(struck out" + why + ") " + text
	}
	return text + d.late(t)
}

// gravity says what a reading comes to: corrected, where that differs, the points
// since the gravity before, and the strength then.
func (d diaryWriter) gravity(t model.Told, r model.Reading) string {
	text := ""
	if corrected := d.say.FineGravity(t.SG); corrected != d.say.FineGravity(calc.SG(r.Gravity)) || r.Scale != model.ScaleSG {
		text = " " + d.say.Arrow() + " " + corrected
	}
	switch change := d.say.WholePoints(t.Change); {
	case t.First:
	case change == d.say.WholePoints(0):
		text += ", no change"
	default:
		text += ", " + change
	}
	if abv, err := t.Strength(); err == nil {
		text += ", " + d.say.Strength(abv, 0)
	}
	return text
}

// writtenLate is longer than one takes from the vessel to the keyboard.
const writtenLate = 15 * time.Minute

// late says when an entry was written down, where that was not at once.
func (d diaryWriter) late(t model.Told) string {
	if t.Recorded.Sub(t.At) < writtenLate {
		return ""
	}
	written := t.Recorded.In(d.now.Location())
	if dateOf(t.Recorded, d.now) == dateOf(t.At, d.now) {
		return written.Format(" (written 15:04)")
	}
	return " (written " + dayText(dateOf(t.Recorded, d.now), d.now) + written.Format(" 15:04)")
}
