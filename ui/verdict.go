package ui

import (
	"fmt"
	"strings"
	"time"

	"cellar.local/glassrow/model"
)

// finding is one thought of the verdict: what kind it is, and what it says.
type finding struct {
	head  string
	text  string
	order int // of importance, when there is no room for all
}

// verdictRoom returns how many lines of a pane of h the verdict may take.
func verdictRoom(h int) int {
	switch {
	case h < 11:
		return 2
	case h < 20:
		return 7
	case h < 30:
		return 9
	}
	return 18
}

// verdict says what the batch is doing and why, where it ends, when the next reading
// decides, what it is not, and what to look at first: the most important as far as
// there is room, in the same order everywhere.
func (p batchPane) verdict(row model.Row, w, room int, now time.Time, st *Styles) []string {
	const column = 8
	head := column
	if w >= 60 {
		head = max(column, len(p.state.Standing))
	}
	all := p.findings(row, standingWord(p.state.Standing, head), now)
	var lines [][]string
	for _, f := range all {
		lines = append(lines, wrap(p.opts.Glyphs.text(f.text), w-head-3))
	}
	shown := fitting(all, lines, room)
	var out []string
	said := ""
	for i, f := range all {
		if !shown[i] {
			continue
		}
		for k, l := range lines[i] {
			text := ""
			if k == 0 && f.head != said {
				text, said = f.head, f.head
			}
			style := st.Muted
			if f.head == all[0].head {
				style = st.Standing(p.state.Standing, row.Batch.Trouble)
			}
			out = append(out, "  "+style.Render(fit(text, head))+" "+l)
		}
	}
	return out[:min(len(out), room)]
}

// fitting chooses the findings to show in so many lines, the most important first; the
// first of all is shown in any case.
func fitting(all []finding, lines [][]string, room int) []bool {
	shown := make([]bool, len(all))
	for order := range len(all) + 10 {
		for i, f := range all {
			if f.order != order {
				continue
			}
			if n := len(lines[i]); n <= room || i == 0 {
				shown[i], room = true, room-n
			}
		}
	}
	return shown
}

// findings lists what there is to say of the batch, what it does under the word for it.
func (p batchPane) findings(row model.Row, word string, now time.Time) []finding {
	s := p.state
	var all []finding
	for i, e := range s.Evidence {
		order := 3
		if i == 0 || s.Standing == model.Restarting {
			order = i // a hazard is told before anything else
		}
		all = append(all, finding{word, e, order})
	}
	if ends := p.ends(now); ends != "" {
		all = append(all, finding{"ends", ends, 1})
	}
	if !s.Decides.IsZero() {
		all = append(all, finding{"decides", "a reading " + onDate(s.Decides, now) + " tells " + s.Question, 2})
	}
	if off := s.NaiveMisleads(); off != "" {
		all = append(all, finding{"strength", off, 6})
	}
	for _, r := range s.RuledOut {
		all = append(all, finding{"is not", r, 5})
	}
	for i, c := range s.Causes {
		order := 7
		if i == 0 {
			order = 4
			if row.Batch.Trouble {
				order = 1
			}
		}
		all = append(all, finding{"check", c.What + " (" + c.Clue + "): " + c.Check, order})
	}
	return all
}

// ends says where the ferment ends and when, or why that cannot be told.
func (p batchPane) ends(now time.Time) string {
	o := p.outlook
	switch {
	case !o.Known && strings.HasPrefix(o.Why, "too few"), !o.Known && strings.HasPrefix(o.Why, "it has hardly"):
		return "not to be told yet: " + o.Why
	case !o.Known:
		return ""
	}
	where := fmt.Sprintf("at %.3f (%.3f to %.3f)", float64(o.Final.Median), float64(o.Final.Low), float64(o.Final.High))
	if o.Finish.High.Before(now) {
		return where + ", and should be there by now"
	}
	day := func(t time.Time) string {
		if t.Before(now) {
			return "now"
		}
		return t.In(now.Location()).Format("2 Jan")
	}
	return fmt.Sprintf("%s, likely %s (%s to %s)", where, onDate(o.Finish.Median, now), day(o.Finish.Low), day(o.Finish.High))
}

// onDate says a day: today, tomorrow, on Tue 17 Mar, on 3 May 2027.
func onDate(t, now time.Time) string {
	t = t.In(now.Location())
	y, m, d := now.Date()
	switch days := int(time.Date(t.Year(), t.Month(), t.Day(), 12, 0, 0, 0, time.UTC).Sub(time.Date(y, m, d, 12, 0, 0, 0, time.UTC)).Hours() / 24); {
	case days == 0:
		return "today"
	case days == 1:
		return "tomorrow"
	case t.Year() != y:
		return t.Format("on 2 Jan 2006")
	}
	return t.Format("on Mon 2 Jan")
}
