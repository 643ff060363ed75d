package ui

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/ui/words"
)

// View implements tea.Model.
func (a app) View() string {
	if a.w <= 0 || a.h <= 0 {
		return ""
	}
	if tooSmall(a.w, a.h) {
		return a.smallView()
	}
	now, st := a.opts.Now(), a.opts.Styles
	l := layOut(a.w, a.h, len(a.shelf.rows))
	lines := []string{a.header(l.header.w, now)}
	body := a.body(l, now)
	foot := a.footer(l.footer.w, now)
	if a.focus == onConfirm {
		question := a.confirm.view(a.w, a.opts.Glyphs, st)
		foot = append(question, a.keyLine(a.confirm.keys, a.w))
	}
	// What the footer needs beyond its own lines it takes from the body.
	body = body[:max(0, min(len(body), a.h-len(lines)-len(foot)))]
	lines = append(lines, padLines(body, a.w, a.h-len(lines)-len(foot))...)
	for _, f := range foot {
		lines = append(lines, fit(f, a.w))
	}
	return strings.Join(lines[:min(len(lines), a.h)], "\n")
}

// smallView is for a terminal in which nothing useful fits.
func (a app) smallView() string {
	text := fmt.Sprintf("%dx%d is too small: want %dx%d", a.w, a.h, minWidth, minHeight)
	lines := wrap(text, a.w)
	return strings.Join(lines[:min(len(lines), a.h)], "\n")
}

// header says whose cellar it is, how it stands, and the time.
func (a app) header(w int, now time.Time) string {
	st := a.opts.Styles
	name := a.opts.Glyphs.text(a.shelf.shelf.Settings.CellarName)
	if name == "" {
		name = "glassrow"
	}
	left := " " + st.Title.Render(cut(name, w/2))
	if a.shelf.loaded {
		left += "  " + a.shelf.headline(now, w < 60, st)
	}
	right := now.Format("Mon 2 Jan 15:04") + " "
	if w < 70 {
		right = now.Format("15:04") + " "
	}
	return sides(left, st.Muted.Render(right), w)
}

// body is what stands between header and footer.
func (a app) body(l screenLayout, now time.Time) []string {
	st, say := a.opts.Styles, a.words()
	w, h := a.w, l.shelf.h
	if !l.beside {
		h += l.batch.h
	}
	switch a.showing() {
	case onWelcome:
		return a.welcome.view(w, h, st)
	case onSweeten:
		p := a.sweeten
		p.asking = a.focus == onConfirm
		return p.view(w, h, say, st)
	case onBench:
		return a.bench.view(w, h, say, st)
	case onFizz:
		return a.fizz.view(w, h, say, st)
	case onKeep:
		return a.keep.view(w, h, say, st)
	case onPlans:
		return a.plans.view(w, h, say, st)
	case onMust:
		return a.must.view(w, h, say, st)
	case onRecipes:
		return a.recipes.view(w, h, say, st)
	case onDue:
		return a.due.view(w, h, now, st)
	case onForm:
		return a.form.view(w, h, st)
	case onMenu:
		return a.menu.view(w, h, st)
	case onJournal:
		if a.journal.strike.open { // the question must not hide what it is about
			h -= len(a.journal.strike.view(w, st)) - 1
		}
		return a.journal.view(w, h, now, say, a.shelf.label, a.shelf.shelf.Tare, st)
	case onHandbook:
		return a.handbook.view(w, h, say, st)
	case onRowForm:
		return a.rowForm.view(w, h, say, st)
	case onBottles:
		return a.bottles.view(w, h, now, say, st)
	case onHelp:
		return padLines(helpLines(a.helping, w, h, a.opts.Glyphs, st)[a.helpFrom:], w, h)
	}
	shelf := a.shelf.view(l.shelf.w, l.shelf.h, now, st)
	row, ok := a.shelf.labelled(a.batch.label)
	if !ok {
		return padLines(shelf, w, h)
	}
	batch := a.batch.view(row, l.batch.w, l.batch.h, now, say, st)
	if l.beside {
		return beside(shelf, batch, strings.Repeat(" ", gutter))
	}
	return append(shelf, batch...)
}

// showing returns the focus whose pane fills the body: a question and the entry
// line leave what is under them in sight.
func (a app) showing() focus {
	f := a.focus
	for i := len(a.below) - 1; i >= 0 && (f == onConfirm || f == onEntry); i-- {
		f = a.below[i]
	}
	return f
}

// footer is the status line, or the line being typed, and the keys.
func (a app) footer(w int, now time.Time) []string {
	st, say := a.opts.Styles, a.words()
	switch a.focus {
	case onEntry:
		return append(a.entry.view(w, now, say, st), a.keyLine(a.entry.keys, w))
	case onSweeten:
		if a.sweeten.typing != typingNothing {
			return append(a.statusLines(w), a.keyLine(newTargetKeys(), w))
		}
		return append(a.statusLines(w), a.keyLine(a.sweeten.keys, w))
	case onBench:
		return append(a.statusLines(w), a.keyLine(a.bench.footKeys(), w))
	case onFizz:
		return append(a.statusLines(w), a.keyLine(a.fizz.keys, w))
	case onKeep:
		if a.keep.typing {
			return append(a.statusLines(w), a.keyLine(newTargetKeys(), w))
		}
		return append(a.statusLines(w), a.keyLine(a.keep.keys, w))
	case onPlans:
		return append(a.statusLines(w), a.keyLine(a.plans.keys, w))
	case onMust:
		if a.must.typing != mustTypesNothing {
			return append(a.statusLines(w), a.keyLine(a.must.lineKeys(), w))
		}
		return append(a.statusLines(w), a.keyLine(a.must.keys, w))
	case onRecipes:
		return append(a.statusLines(w), a.keyLine(a.recipes.keys, w))
	case onDue:
		if a.due.typing != dueNothing {
			return append(a.due.line(w, st), a.keyLine(newLineKeys().inRound(false), w))
		}
		return append(a.statusLines(w), a.keyLine(a.due.footKeys(), w))
	case onForm:
		return append(a.statusLines(w), a.keyLine(a.form.keys, w))
	case onMenu:
		return append(a.statusLines(w), a.keyLine(a.menu.keys, w))
	case onJournal:
		if a.journal.strike.open {
			return append(a.journal.strike.view(w, st), a.keyLine(a.journal.strike.keys, w))
		}
		return append(a.statusLines(w), a.keyLine(a.journal.keys, w))
	case onHandbook:
		return append(a.statusLines(w), a.keyLine(a.handbook.footKeys(), w))
	case onRowForm:
		return append(a.statusLines(w), a.keyLine(a.rowForm.keys, w))
	case onBottles:
		return append(a.statusLines(w), a.keyLine(a.bottles.keys, w))
	case onHelp:
		return []string{"", a.keyLine(newHelpKeys().scrolling(a.helpRest() > 0 || a.helpFrom > 0), w)}
	case onWelcome:
		return []string{"", " " + a.welcome.footer(st)}
	}
	if line := a.batch.markLine(w, now, say, a.shelf.label, st); line != "" && a.status.text == "" {
		return []string{line, a.keyLine(a.shelf.footKeys(), w)}
	}
	return append(a.statusLines(w), a.keyLine(a.shelf.footKeys(), w))
}

// statusLines says what happened. What is longer than a line takes more of them: it may
// be a caution, or what to do about an error.
func (a app) statusLines(w int) []string {
	st := a.opts.Styles
	text, paint := a.opts.Glyphs.text(a.status.text), st.Muted
	switch a.status.kind {
	case saidGood:
		paint = st.Good
	case saidBad:
		paint = st.Bad
	}
	if text == "" && a.opts.Demo {
		text, paint = "the demo cellar: an invented one, thrown away when you leave", st.Muted
	}
	if width(text) <= w-1 {
		return []string{" " + paint.Render(text)}
	}
	var lines []string
	for _, l := range wrap(text, w-1) {
		lines = append(lines, " "+paint.Render(l))
	}
	return lines[:min(len(lines), mostStatusLines)]
}

// mostStatusLines is how far a message may reach into the body.
const mostStatusLines = 4

// keyLine lists the keys of a focus, as many as fit; the last two, help and the
// way out, always do.
func (a app) keyLine(keys keyMap, w int) string {
	st := a.opts.Styles
	var shown []string
	for _, b := range keys.ShortHelp() {
		if b.Enabled() {
			shown = append(shown, keyHint(asciiKeys(b.Help().Key, a.opts.Glyphs), b.Help().Desc, st))
		}
	}
	for len(shown) > 2 && width(strings.Join(shown, "  "))+1 > w {
		shown = append(shown[:len(shown)-3], shown[len(shown)-2:]...)
	}
	return " " + strings.Join(shown, "  ")
}

func keyHint(k, what string, st *Styles) string {
	return st.Key.Render(k) + " " + st.Muted.Render(what)
}

// asciiKeys spells the arrows out where the terminal has none.
func asciiKeys(s string, g Glyphs) string {
	if g.Signs == words.AnySign {
		return s
	}
	return strings.NewReplacer("↑", "up", "↓", "down", "←", "left", "→", "right").Replace(s)
}

// helpLines lists every key of a focus, its groups side by side where there is
// room, and how a reading is typed. What is longer than h lines is for scrolling.
func helpLines(keys keyMap, w, h int, g Glyphs, st *Styles) []string {
	const column = 38
	var groups [][]string
	for _, group := range keys.FullHelp() {
		var lines []string
		told := ""
		for _, b := range group {
			if b.Enabled() && !slices.Contains(strings.Fields(told), b.Help().Key) {
				lines = append(lines, helpLine(b, g, st))
			}
			told = b.Help().Key // ← → tells of the next binding, →, too
		}
		groups = append(groups, lines)
	}
	lines := []string{rule("Keys", w, g, st), ""}
	perRow := max(1, w/column)
	for i := 0; i < len(groups); i += perRow {
		block := groups[i]
		for _, next := range groups[i+1 : min(len(groups), i+perRow)] {
			n := max(len(block), len(next))
			left := max(column, widest(block))
			block = beside(padLines(block, left, n), padLines(next, min(max(column, widest(next)), w-left), n), "")
		}
		lines = append(lines, block...)
		lines = append(lines, "")
	}
	lines = append(lines, indented(wrap("A reading is typed as 1.034, 1034, 34 or 8.5bx; add @21c or @70f for the sample, ph3.4, 24.6kg of the vessel, 18.5l by its marks, !2d, a note after ;", w-4), st.Muted.Render)...)
	if len(lines) > h { // no room for air
		lines = slices.DeleteFunc(lines, func(l string) bool { return strings.TrimSpace(l) == "" })
	}
	return lines
}

// helpRest returns how many lines of the help are still below the screen.
func (a app) helpRest() int {
	h := a.h - layOut(a.w, a.h, 0).header.h - layOut(a.w, a.h, 0).footer.h
	return max(0, len(helpLines(a.helping, a.w, h, a.opts.Glyphs, a.opts.Styles))-a.helpFrom-h)
}

// helpKey scrolls the help where it is longer than the screen; any other key leaves.
func (a app) helpKey(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	keys := newHelpKeys()
	switch rest := a.helpRest(); {
	case key.Matches(k, keys.Down) && rest > 0:
		a.helpFrom += min(rest, helpStep)
	case key.Matches(k, keys.Up) && a.helpFrom > 0:
		a.helpFrom = max(0, a.helpFrom-helpStep)
	case key.Matches(k, keys.Down, keys.Up) && (rest > 0 || a.helpFrom > 0): // at an end
	default:
		a.leave()
	}
	return a, nil
}

// helpStep is how far a key scrolls the help.
const helpStep = 5

func helpLine(b key.Binding, g Glyphs, st *Styles) string {
	return "  " + st.Key.Render(fit(asciiKeys(b.Help().Key, g), 12)) + " " + b.Help().Desc
}

func widest(lines []string) int {
	most := 0
	for _, l := range lines {
		most = max(most, width(l))
	}
	return most
}
