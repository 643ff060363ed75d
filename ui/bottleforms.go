package ui

import (
	"fmt"
	"strconv"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// takes is what bottles are taken for.
type takes uint8

const (
	takesToTaste takes = iota // one, to be marked
	takesAway                 // some, that nobody here tastes
	takesToTest               // one, opened for its pressure
)

// openTake asks what is to be written down of bottles taken, if there are any.
// It is written down as the doing of what is due under a key, which may be empty.
func (a *app) openTake(b bottled, why takes, due string) {
	if err := b.stock.CanTake(1, a.opts.Now()); err != nil {
		a.status = status{b.batch.Name + ": " + words.PlainError(err), saidPlain}
		return
	}
	title, fields, body := "Taste a bottle of ", tasteFields(), tasteTyped
	switch why {
	case takesAway:
		title, fields, body = "Take away bottles of ", giveFields(), givenTyped
	case takesToTest:
		title, fields, body = "Open a test bottle of ", testFields(), testTyped
	}
	a.bottles.stays = b.batch.ID
	a.form.open(title+b.batch.Name, b.row(), append(fields, whenField()), takeMaker(b, body, due))
	if why == takesToTest {
		a.form.note = "Open it cold, and shield your face: pressure throws the closure, and glass can burst."
	}
	a.enter(onForm)
}

func testFields() []field {
	return []field{textField("words", "flat, as meant, or gushing; may stay empty", "")}
}

func testTyped(p formPane) (model.Tasted, error) {
	return model.Tasted{Bottles: 1, Words: p.fields[0].value()}, nil
}

func tasteFields() []field {
	return []field{
		textField("mark", "0 to 10; may stay empty", ""),
		textField("words", "may stay empty", ""),
	}
}

func tasteTyped(p formPane) (model.Tasted, error) {
	t := model.Tasted{Bottles: 1, Words: p.fields[1].value()}
	mark, err := model.ParseTaste(p.fields[0].value())
	if err != nil {
		return t, err
	}
	if mark.Words != "" {
		return t, fmt.Errorf("mark %q is not understood; write 0 to 10, as 7.5, or nothing: %w", p.fields[0].value(), model.ErrInvalid)
	}
	t.Marked, t.Mark = mark.Marked, mark.Mark
	return t, nil
}

func giveFields() []field {
	return []field{
		textField("bottles", "how many", "1"),
		textField("words", "for whom, or broken; may stay empty", ""),
	}
}

func givenTyped(p formPane) (model.Tasted, error) {
	n, err := strconv.Atoi(p.fields[0].value())
	if err != nil || n < 1 {
		return model.Tasted{}, fmt.Errorf("number of bottles %q is not understood; write 1 or more: %w", p.fields[0].value(), model.ErrInvalid)
	}
	return model.Tasted{Bottles: n, Words: p.fields[1].value()}, nil
}

// takeMaker turns what was typed into the entry; the last field is the time. Bottles
// that were not there are refused.
func takeMaker(b bottled, body func(formPane) (model.Tasted, error), due string) formMaker {
	return func(p formPane, s Store, t ticket, now time.Time) (tea.Cmd, error) {
		at, err := model.ParseWhen(p.fields[len(p.fields)-1].value(), now)
		if err != nil {
			return nil, err
		}
		taken, err := body(p)
		if err != nil {
			return nil, err
		}
		if err := taken.Validate(); err != nil {
			return nil, err
		}
		if err := b.stock.CanTake(taken.Bottles, at); err != nil {
			return nil, err
		}
		said := fmt.Sprintf("%s: %s taken, %s; u undoes it", b.batch.Name,
			words.Count(taken.Bottles, "bottle", "bottles"), bottlesLeft(b.stock.Left-taken.Bottles))
		e := model.Entry{At: at, Recorded: now, Body: taken}
		entries := []model.Entry{e}
		if due != "" {
			entries = b.batch.Settled(due, e)
		}
		return appendEntries(s, t, b.batch.ID, now, said, entries...), nil
	}
}

func bottlesLeft(n int) string {
	switch n {
	case 0:
		return "none left"
	case 1:
		return "the last one is left"
	}
	return strconv.Itoa(n) + " left"
}
