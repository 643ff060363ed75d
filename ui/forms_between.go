package ui

import (
	"fmt"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// The forms for what passes from one batch to another. The other journal is not on the
// screen, so it is read when it is chosen; what is written is reckoned from both as they
// are then.

// otherLoadedMsg carries the journal of a batch that a form asked for.
type otherLoadedMsg struct{ batch model.Batch }

func loadOther(s Store, id model.BatchID) tea.Cmd {
	return func() tea.Msg {
		b, err := s.Batch(id)
		if err != nil {
			return loadFailedMsg{err}
		}
		return otherLoadedMsg{b}
	}
}

// takeOther keeps a journal that was read for the form.
func (p *formPane) takeOther(b model.Batch, now time.Time) {
	others := make(map[model.BatchID]model.Batch, len(p.others)+1)
	for id, one := range p.others {
		others[id] = one
	}
	others[b.ID] = b
	p.others = others
	p.retell(now)
}

// The fields of a blend.
const (
	blendFrom = iota
	blendVolume
)

// openBlend asks which of the other batches is poured in, and how much.
func (a app) openBlend(row model.Row) (tea.Model, tea.Cmd) { return a.openPouring(row, false) }

// openTopUp asks what the vessel is filled up with, water or another batch.
func (a app) openTopUp(row model.Row) (tea.Model, tea.Cmd) { return a.openPouring(row, true) }

// openPouring asks what is poured in and how much: another batch or, if it may be, water.
func (a app) openPouring(row model.Row, water bool) (tea.Model, tea.Cmd) {
	var from []model.Row // water is the zero row
	var names []string
	title, hint, check := "Pour into ", "how much of it, 1.5L", parses(model.ParseVolume)
	if water {
		from, names, title = append(from, model.Row{}), append(names, "water"), "Top up "
		check = nil // of water a mass will do
		if room := row.Vessel.Capacity - a.batch.state.InVessel(); room > 0 {
			hint += "; room for " + a.words().FineVolume(room)
		}
	}
	for _, r := range roundOf(a.shelf.rows) {
		if r.Batch.Batch != row.Batch.Batch {
			from = append(from, r)
			names = append(names, cut(a.opts.Glyphs.text(r.Vessel.Label+" "+r.Batch.Name), longestChoice))
		}
	}
	if len(from) == 0 {
		a.status = status{"no other batch is in a vessel", saidPlain}
		return a, nil
	}
	into, say := a.batch.batch, a.words()
	p := &a.form
	p.open(title+row.Vessel.Label+", "+row.Batch.Name, row, []field{
		blendFrom:   choiceField("from", names),
		blendVolume: textField("volume", hint, "").checked(check),
		2:           whenField(),
	}, func(p formPane, s Store, t ticket, now time.Time) (tea.Cmd, error) {
		other := from[p.fields[blendFrom].choice]
		if other.Empty() {
			e, err := p.waterTyped(now)
			if err == nil {
				err = e.Body.Validate()
			}
			return appendEntries(s, t, into.ID, now, row.Vessel.Label+": topped up; u undoes it", e), err
		}
		volume, at, err := p.volumeAndTime(blendVolume, now)
		if err != nil {
			return nil, err
		}
		said := fmt.Sprintf("%s: %s of %s poured in; u undoes it", row.Vessel.Label, say.Volume(volume), other.Batch.Name)
		return pourOver(s, t, other.Batch.Batch, into.ID, volume, at, now, said), nil
	})
	p.coming = func(p formPane, now time.Time) []string {
		other := from[p.fields[blendFrom].choice]
		if other.Empty() {
			e, err := p.waterTyped(now)
			if err != nil || e.Body.Validate() != nil {
				return nil
			}
			return p.comesOf([]model.Writing{{Batch: into.ID, Entries: []model.Entry{e}}}, e.At, say, []model.Vessel{row.Vessel}, into)
		}
		b, read := p.others[other.Batch.Batch]
		volume, at, err := p.volumeAndTime(blendVolume, now)
		if err != nil || !read {
			return nil
		}
		writings, err := model.PourOver(b, into, volume, at, now)
		if err != nil {
			return []string{words.PlainError(err)}
		}
		return p.comesOf(writings, at, say, []model.Vessel{row.Vessel, other.Vessel}, into, b)
	}
	p.wants = func(p formPane) model.BatchID { return from[p.fields[blendFrom].choice].Batch.Batch }
	m, _ := a.openForm()
	if id, unread := p.unread(); unread {
		return m, loadOther(a.opts.Store, id)
	}
	return m, nil
}

// waterTyped is the topping up with water that is typed.
func (p formPane) waterTyped(now time.Time) (model.Entry, error) {
	m, err := model.ParseWater(p.fields[blendVolume].value())
	if err != nil {
		return model.Entry{}, err
	}
	at, err := p.when(now)
	return model.Entry{At: at, Recorded: now, Body: model.TopUp(m)}, err
}

// longestChoice is what a choice may take of a line on the narrowest screen.
const longestChoice = 26

// volumeAndTime returns what the i-th field and the last say.
func (p formPane) volumeAndTime(i int, now time.Time) (calc.Litre, time.Time, error) {
	v, err := model.ParseVolume(p.fields[i].value())
	if err != nil {
		return 0, time.Time{}, err
	}
	at, err := p.when(now)
	return v, at, err
}

// pourOver writes a pour from both journals as they are.
func pourOver(s Store, t ticket, from, into model.BatchID, volume calc.Litre, at, now time.Time, said string) tea.Cmd {
	return func() tea.Msg {
		source, err := s.Batch(from)
		if err != nil {
			return writeFailedMsg{t, err}
		}
		target, err := s.Batch(into)
		if err != nil {
			return writeFailedMsg{t, err}
		}
		writings, err := model.PourOver(source, target, volume, at, now)
		if err != nil {
			return writeFailedMsg{t, err}
		}
		batches, err := s.Write(writings...)
		return writtenTogether(t, batches, err, now, said)
	}
}

// The fields of a split.
const (
	splitInto = iota
	splitVolume
	splitName
)

// openSplit asks how much goes into which empty vessel, and what it is called there.
func (a app) openSplit(row model.Row) (tea.Model, tea.Cmd) {
	free := a.shelf.free()
	if len(free) == 0 {
		a.status = status{"no empty vessel to split into; " + a.shelf.keys.NewVessel.Help().Key + " adds one", saidPlain}
		return a, nil
	}
	whole, say := a.batch.batch, a.words()
	p := &a.form
	writings := func(p formPane, now time.Time) ([]model.Writing, time.Time, error) {
		volume, at, err := p.volumeAndTime(splitVolume, now)
		if err != nil {
			return nil, at, err
		}
		v := free[p.fields[splitInto].choice]
		name := p.fields[splitName].value()
		if name == "" {
			name = whole.Name + ", " + v.Label
		}
		w, err := model.Split(whole, name, v, volume, at, now)
		return w, at, err
	}
	p.open("Split "+row.Vessel.Label+", "+row.Batch.Name, row, []field{
		splitInto:   choiceField("into", labelsOfVessels(free)),
		splitVolume: textField("volume", "how much goes over, 9L", "").checked(parses(model.ParseVolume)),
		splitName:   textField("name", "of the part; empty: the name and the vessel", ""),
		3:           whenField(),
	}, func(p formPane, s Store, t ticket, now time.Time) (tea.Cmd, error) {
		w, _, err := writings(p, now)
		if err != nil {
			return nil, err
		}
		said := fmt.Sprintf("%s is in %s now; u undoes it", w[0].New.Name, free[p.fields[splitInto].choice].Label)
		return writeTogether(s, t, now, said, w...), nil
	})
	p.coming = func(p formPane, now time.Time) []string {
		if _, _, err := p.volumeAndTime(splitVolume, now); err != nil {
			return nil
		}
		w, at, err := writings(p, now)
		if err != nil {
			return []string{words.PlainError(err)}
		}
		return p.comesOf(w, at, say, []model.Vessel{free[p.fields[splitInto].choice], row.Vessel}, whole)
	}
	return a.openForm()
}

func labelsOfVessels(all []model.Vessel) []string {
	labels := make([]string, len(all))
	for i, v := range all {
		labels[i] = v.Label
	}
	return labels
}

// free returns the empty vessels.
func (p shelfPane) free() []model.Vessel {
	var free []model.Vessel
	for _, r := range p.rows {
		if r.Empty() {
			free = append(free, r.Vessel)
		}
	}
	return free
}
