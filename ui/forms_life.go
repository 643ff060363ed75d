package ui

import (
	"fmt"
	"strconv"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// The forms of the menu: what happens to a batch in its vessel, and between batches.
// Where an entry changes what is in the glass the form tells what will come of it.

// foretell makes the form tell what the entry being typed would make of the batch, in the
// vessel that it is then in.
func (p *formPane) foretell(b model.Batch, say words.Words, now time.Time, in func(formPane) model.Vessel, body func(formPane) (model.Body, error)) {
	p.coming = func(p formPane, now time.Time) []string {
		typed, err := body(p)
		if err != nil || typed.Validate() != nil {
			return nil // not typed yet; enter says what is missing
		}
		at, err := p.when(now)
		if err != nil {
			return nil
		}
		e := model.Entry{At: at, Recorded: now, Body: typed}
		return p.comesOf([]model.Writing{{Batch: b.ID, Entries: []model.Entry{e}}}, at, say, []model.Vessel{in(p)}, b)
	}
	p.retell(now)
}

// whereItIs is the vessel that most things leave a batch in.
func whereItIs(p formPane) model.Vessel { return p.row.Vessel }

// when returns the time typed in the last field.
func (p formPane) when(now time.Time) (time.Time, error) {
	return model.ParseWhen(p.fields[len(p.fields)-1].value(), now)
}

// comesOf says what writings make of the batches, each in its vessel.
func (p formPane) comesOf(writings []model.Writing, at time.Time, say words.Words, in []model.Vessel, there ...model.Batch) []string {
	after, err := model.Becomes(writings, at, there...)
	if err != nil {
		return []string{words.PlainError(err)}
	}
	var lines []string
	for i, s := range after {
		lines = append(lines, becomes(in[i], s, say))
		if over := s.InVessel() - in[i].Capacity; s.Vessel != 0 && over > in[i].Capacity/1000 {
			lines = append(lines, fmt.Sprintf("That is more than %s holds, %s.", in[i].Label, say.FineVolume(in[i].Capacity)))
		}
	}
	return lines
}

// becomes says in a line what is in a vessel.
func becomes(v model.Vessel, s model.State, say words.Words) string {
	if s.Vessel == 0 {
		return v.Label + ": empty"
	}
	return fmt.Sprintf("%s: %s of %s, %s, %s", v.Label, say.FineVolume(s.InVessel()), say.Volume(v.Capacity),
		say.FineGravity(s.Figures.SG), say.Strength(s.Strength, 0))
}

// openForm shows what a menu line has prepared in the form.
func (a app) openForm() (tea.Model, tea.Cmd) {
	a.status = status{}
	a.enter(onForm)
	return a, nil
}

// openStir asks when the cap was punched down.
func (a app) openStir(row model.Row) (tea.Model, tea.Cmd) {
	a.form.openEntry("Stir", "stirring written down", row, nil, func(formPane) (model.Body, error) { return model.Stir{}, nil })
	return a.openForm()
}

// openPress asks what drink was left when the fruit came out.
func (a app) openPress(row model.Row) (tea.Model, tea.Cmd) {
	body := func(p formPane) (press model.Body, err error) {
		v, err := optionalVolume(p.fields[0].value())
		return model.Press{Volume: v}, err
	}
	a.form.openEntry("Take the fruit out of", "fruit out", row, []field{
		textField("left", "drink in it after, 17L; may stay empty", "").checked(parses(model.ParseVolume)),
	}, body)
	a.form.foretell(a.batch.batch, a.words(), a.opts.Now(), whereItIs, body)
	return a.openForm()
}

func optionalVolume(text string) (calc.Litre, error) {
	if text == "" {
		return 0, nil
	}
	return model.ParseVolume(text)
}

// openWater asks how much water fills the vessel up.
func (a app) openWater(row model.Row) (tea.Model, tea.Cmd) {
	body := func(p formPane) (model.Body, error) {
		m, err := model.ParseWater(p.fields[0].value())
		return model.TopUp(m), err
	}
	hint := "500mL or 500g"
	if room := row.Vessel.Capacity - a.batch.state.InVessel(); room > 0 {
		hint += "; room for " + a.words().FineVolume(room)
	}
	a.form.openEntry("Top up with water:", "topped up", row, []field{textField("water", hint, "").checked(parses(model.ParseWater))}, body)
	a.form.foretell(a.batch.batch, a.words(), a.opts.Now(), whereItIs, body)
	return a.openForm()
}

// openDraw asks how much was taken out.
func (a app) openDraw(row model.Row) (tea.Model, tea.Cmd) {
	body := func(p formPane) (model.Body, error) {
		v, err := model.ParseVolume(p.fields[0].value())
		return model.Draw{Volume: v, Why: p.fields[1].value()}, err
	}
	a.form.openEntry("Draw off", "drawn off", row, []field{
		textField("volume", "500mL; drunk, spilt or poured away", "").checked(parses(model.ParseVolume)),
		textField("why", "may stay empty", ""),
	}, body)
	a.form.foretell(a.batch.batch, a.words(), a.opts.Now(), whereItIs, body)
	return a.openForm()
}

// openFine asks what was stirred in to clear the drink.
func (a app) openFine(row model.Row) (tea.Model, tea.Cmd) {
	a.form.openEntry("Fine", "fining written down", row, []field{
		textField("with", "bentonite 10g, or a name alone", ""),
	}, func(p formPane) (model.Body, error) {
		name, mass, err := model.ParseDose(p.fields[0].value())
		return model.Fine{Agent: name, Mass: mass}, err
	})
	a.form.note = "Finings of milk, egg or fish can hurt who is allergic to them: write on the label what went in, as your local rules want it."
	return a.openForm()
}

// openMove asks where the vessel stands now.
func (a app) openMove(row model.Row) (tea.Model, tea.Cmd) {
	a.form.openEntry("Move", "moved", row, []field{
		textField("to", "such as south shelf", ""),
	}, func(p formPane) (model.Body, error) { return model.Move{Place: p.fields[0].value()}, nil })
	return a.openForm()
}

// openTaste asks how it tastes, out of the vessel or out of bottles filled from it.
func (a app) openTaste(row model.Row) (tea.Model, tea.Cmd) {
	a.form.openEntry("Taste", "taste written down", row, []field{
		textField("mark", "0 to 10; may stay empty", ""),
		textField("words", "what it tastes of", ""),
		textField("bottles", "opened for it; 0 is out of the vessel", "0"),
	}, tasteOrBottleTyped)
	return a.openForm()
}

// tasteOrBottleTyped is a taste out of the vessel, or out of bottles filled from it.
func tasteOrBottleTyped(p formPane) (model.Body, error) {
	t, err := tasteTyped(p)
	if err != nil {
		return nil, err
	}
	t.Bottles, err = strconv.Atoi(p.fields[2].value())
	if err != nil {
		return nil, fmt.Errorf("number of bottles %q is not understood; write 0 or 1: %w", p.fields[2].value(), model.ErrInvalid)
	}
	return t, nil
}
