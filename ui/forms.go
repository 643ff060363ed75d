package ui

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// The forms: each lists its fields by place and says what to make of them.

const (
	vesselLabel = iota
	vesselKind
	vesselCapacity
	vesselPlace
	vesselTare
)

// vesselFields ask what there is to know of a vessel.
func vesselFields(label, capacity, place, tare string) []field {
	return []field{
		vesselLabel:    textField("label", "what is written on it, such as N1", label),
		vesselKind:     choiceField("kind", model.VesselKinds()),
		vesselCapacity: textField("holds", "23L or 6gal", capacity).checked(parses(model.ParseVolume)),
		vesselPlace:    textField("place", "may stay empty", place),
		vesselTare:     textField("tare", "its mass when empty, 6.4kg or 14lb; may stay empty", tare).checked(parses(model.ParseMass)),
	}
}

// openVesselChange asks what is to be corrected about a vessel.
func (p *formPane) openVesselChange(row model.Row, say words.Words) {
	v := row.Vessel
	holds, tare := model.Reading{Level: v.Capacity}.String(), ""
	if v.Tare != 0 {
		tare = model.Reading{Mass: v.Tare}.String()
	}
	if say.US {
		holds, tare = say.FineVolume(v.Capacity), say.Tare(v.Tare)
	}
	p.open("What is known of "+v.Label, row, vesselFields(v.Label, holds, v.Place, tare),
		func(p formPane, s Store, t ticket, now time.Time) (tea.Cmd, error) {
			next, err := p.vessel(v.Added)
			next.ID = v.ID
			if p.fields[vesselCapacity].value() == holds { // rounded for the screen
				next.Capacity = v.Capacity
			}
			if p.fields[vesselTare].value() == tare {
				next.Tare = v.Tare
			}
			return changeVessel(s, t, next), err
		})
	p.fields[vesselKind].choice = max(0, slices.Index(model.VesselKinds(), v.Kind))
	p.focusField(vesselTare)
}

// openVessel asks for a new vessel.
func (p *formPane) openVessel() {
	p.open("A new vessel", model.Row{}, vesselFields("", "", "", ""), func(p formPane, s Store, t ticket, now time.Time) (tea.Cmd, error) {
		v, err := p.vessel(now)
		return addVessel(s, t, v), err
	})
}

// vessel returns the vessel as typed.
func (p formPane) vessel(now time.Time) (model.Vessel, error) {
	capacity, err := model.ParseVolume(p.fields[vesselCapacity].value())
	if err != nil {
		return model.Vessel{}, err
	}
	tare, err := optionalMass(p.fields[vesselTare].value())
	if err != nil {
		return model.Vessel{}, err
	}
	v := model.Vessel{
		Tare:     tare,
		Label:    p.fields[vesselLabel].value(),
		Kind:     model.VesselKind(p.fields[vesselKind].value()),
		Capacity: capacity,
		Place:    p.fields[vesselPlace].value(),
		Added:    now,
	}
	return v, v.Validate()
}

const (
	batchName = iota
	batchDrink
	batchVolume
	batchGravity
	batchIngredients
	batchYeast
	batchWhen
)

// notYet stands for a must with no yeast in it yet.
const notYet model.YeastGroup = "not pitched yet"

// openBatch asks for a new batch in the vessel of row.
func (p *formPane) openBatch(row model.Row) {
	p.open("A new batch in "+row.Vessel.Label, row, []field{
		batchName:        textField("name", "such as Heather mead", ""),
		batchDrink:       choiceField("drink", model.Drinks()),
		batchVolume:      textField("volume", "19L or 5gal", "").checked(parses(model.ParseVolume)),
		batchGravity:     textField("gravity", "1.098, or empty to compute it from what went in", "").checked(parses(model.ParseGravity)),
		batchIngredients: textField("made of", "honey 5kg, crushed plum 4kg", ""),
		batchYeast:       choiceField("yeast", append([]model.YeastGroup{notYet}, model.YeastGroups()...)),
		batchWhen:        whenField(),
	}, func(p formPane, s Store, t ticket, now time.Time) (tea.Cmd, error) {
		b, err := p.batch(now)
		return startBatch(s, t, b, now), err
	})
	p.note = fruitNote
}

// fruitNote belongs to every form that takes fruit.
const fruitNote = "Of fruit, stones, pips and kernels hold a cyanide-forming substance: crush the flesh, not those. Whole fruit gives its juice over days, crushed fruit most of it at once."

func whenField() field { return usually("when", "now, 2d, yesterday, 20nov", "now") }

// batch returns the batch as typed, with its first entries.
func (p formPane) batch(now time.Time) (model.Batch, error) {
	f := p.fields
	var b model.Batch
	at, err := model.ParseWhen(f[batchWhen].value(), now)
	if err != nil {
		return b, err
	}
	must := model.Must{Vessel: p.row.Vessel.ID}
	if must.Volume, err = model.ParseVolume(f[batchVolume].value()); err != nil {
		return b, err
	}
	if must.Gravity, err = optionalGravity(f[batchGravity].value()); err != nil {
		return b, err
	}
	if must.Ingredients, must.Fruit, err = p.opts.larder().ParseStuff(f[batchIngredients].value()); err != nil {
		return b, err
	}
	b = model.Batch{Name: f[batchName].value(), Drink: model.Drink(f[batchDrink].value())}
	b.Entries = []model.Entry{{At: at, Recorded: now, Body: must}}
	if yeast := model.YeastGroup(f[batchYeast].value()); yeast != notYet {
		b.Entries = append(b.Entries, model.Entry{At: at, Recorded: now, Body: model.Pitch{Yeast: yeast}})
	}
	return b, model.CheckStart(b, p.row.Vessel)
}

func optionalMass(text string) (calc.Gram, error) {
	if text == "" {
		return 0, nil
	}
	return model.ParseMass(text)
}

func optionalGravity(text string) (calc.SG, error) {
	if text == "" {
		return 0, nil
	}
	return model.ParseGravity(text)
}

// openEntry asks for an entry of the batch in row; the last field is the time.
func (p *formPane) openEntry(title, said string, row model.Row, fields []field, body func(formPane) (model.Body, error)) {
	p.open(title+" "+row.Vessel.Label+", "+row.Batch.Name, row, append(fields, whenField()),
		func(p formPane, s Store, t ticket, now time.Time) (tea.Cmd, error) {
			at, err := model.ParseWhen(p.fields[len(p.fields)-1].value(), now)
			if err != nil {
				return nil, err
			}
			b, err := body(p)
			if err != nil {
				return nil, err
			}
			if err := b.Validate(); err != nil {
				return nil, err
			}
			e := model.Entry{At: at, Recorded: now, Body: b}
			return appendEntries(s, t, p.row.Batch.Batch, now, p.row.Vessel.Label+": "+said+"; u undoes it", e), nil
		})
}

// openPitch asks which yeast went in.
func (p *formPane) openPitch(row model.Row) {
	p.openEntry("Yeast into", "yeast written down", row, []field{
		choiceField("yeast", model.YeastGroups()),
		textField("name", "your own words for it; may stay empty", ""),
		textField("stands", "alcohol it stands, if the packet says: 16", ""),
	}, func(p formPane) (model.Body, error) {
		pitch := model.Pitch{Yeast: model.YeastGroup(p.fields[0].value()), Name: p.fields[1].value()}
		if text := strings.TrimRight(p.fields[2].value(), " %vol"); text != "" {
			x, err := strconv.ParseFloat(text, 64)
			if err != nil {
				return nil, fmt.Errorf("alcohol %q is not understood; write a number such as 16: %w", text, model.ErrInvalid)
			}
			pitch.Tolerance = calc.PercentVol(x)
		}
		return pitch, nil
	})
}

// openAddition asks for something stirred in, such as a feed of honey.
func (p *formPane) openAddition(row model.Row) {
	p.openEntry("Stir into", "addition written down", row, []field{
		textField("what", "honey 300g, crushed plum 2kg", ""),
		textField("why", "feed, sweeten, prime; may stay empty", ""),
	}, func(p formPane) (model.Body, error) {
		portions, fruit, err := p.opts.larder().ParseStuff(p.fields[0].value())
		if err != nil {
			return nil, err
		}
		if len(portions)+len(fruit) != 1 {
			return nil, fmt.Errorf("write one thing and how much, as honey 300g: %w", model.ErrInvalid)
		}
		if len(fruit) == 1 {
			return model.Fruited{Portion: fruit[0]}, nil
		}
		return model.Addition{Portion: portions[0], Purpose: p.fields[1].value()}, nil
	})
	p.note = fruitNote
}

// openRack asks which of the free vessels the batch moves to.
func (p *formPane) openRack(row model.Row, free []model.Vessel, b model.Batch, say words.Words) {
	body := func(p formPane) (model.Body, error) {
		v, err := optionalVolume(p.fields[1].value())
		return model.Rack{To: free[p.fields[0].choice].ID, Volume: v}, err
	}
	p.openEntry("Rack", "racked", row, []field{
		choiceField("into", labelsOfVessels(free)),
		textField("volume", "what arrived, 18L; empty if nothing was left behind", "").checked(parses(model.ParseVolume)),
	}, body)
	p.foretell(b, say, p.opts.Now(), func(p formPane) model.Vessel { return free[p.fields[0].choice] }, body)
}

// The fields of a bottling.
const (
	bottleCount = iota
	bottleSize
	bottleClosure
	bottleRest
)

// openBottling asks how many bottles were filled.
func (p *formPane) openBottling(row model.Row, risk calc.GramPerLitre) {
	p.openEntry("Bottle", "bottling written down", row, []field{
		bottleCount:   textField("bottles", "how many", ""),
		bottleSize:    usually("of", "750mL, 500mL, 12floz", "750mL").checked(parses(model.ParseVolume)),
		bottleClosure: textField("closure", "cork, crown cap; may stay empty", ""),
		bottleRest:    choiceField("then", []string{"the vessel is empty", "the rest stays in it"}),
	}, bottleTyped)
	if risk > 0 {
		p.note = fmt.Sprintf("DO NOT CLOSE THIS IN. It holds %.0f g/L of sugar and nothing that keeps its yeast from it. In closed bottles it makes up to %s: they burst, and the glass flies. Stabilise it first (s, then r), or let it ferment out.", float64(risk), p.wouldMake(row, risk))
		return
	}
	p.note = "Living yeast and any sugar it can use make pressure in a closed bottle. Wait for two equal readings at least three days apart, and keep the first bottles where a burst hurts nobody."
}

func bottleTyped(p formPane) (model.Body, error) {
	n, err := strconv.Atoi(p.fields[bottleCount].value())
	if err != nil {
		return nil, fmt.Errorf("number of bottles %q is not understood; write 24: %w", p.fields[bottleCount].value(), model.ErrInvalid)
	}
	size, err := model.ParseVolume(p.fields[bottleSize].value())
	if err != nil {
		return nil, err
	}
	return model.Bottle{Count: n, Size: size, Closure: p.fields[bottleClosure].value(), Rest: p.fields[bottleRest].choice == 1}, nil
}

// countBottles makes the form say how many bottles fit, and what they leave.
func (p *formPane) countBottles(s model.State, say words.Words, now time.Time) {
	there := s.Figures.Volume
	p.coming = func(p formPane, _ time.Time) []string {
		size, err := model.ParseVolume(p.fields[bottleSize].value())
		if err != nil || size <= 0 {
			return nil
		}
		told := fmt.Sprintf("%s fills %d bottles of %s.", say.FineVolume(there), model.BottlesIn(there, size), say.SmallVolume(size))
		n, err := strconv.Atoi(p.fields[bottleCount].value())
		if err != nil || n < 1 {
			return []string{told}
		}
		left := there - calc.Litre(n)*size
		switch {
		case left < 0:
			told += fmt.Sprintf(" %d take %s more than is there.", n, say.FineVolume(-left))
		case p.fields[bottleRest].choice == 1:
			told += fmt.Sprintf(" After %d, %s stays in %s.", n, say.FineVolume(left), p.row.Vessel.Label)
		default:
			told += fmt.Sprintf(" After %d, %s is left behind as lees.", n, say.FineVolume(left))
		}
		return []string{told}
	}
	p.retell(now)
}

// wouldMake says the pressure that so much sugar makes in a closed bottle in a warm
// room.
func (p formPane) wouldMake(row model.Row, sugar calc.GramPerLitre) string {
	bar, err := model.PressureIn(sugar, row.Batch.Strength)
	if err != nil {
		return "a burst"
	}
	return fmt.Sprintf("%.0f bar", float64(bar))
}

// openBatchForm asks for a batch in the selected vessel, if it is free.
func (a app) openBatchForm() (tea.Model, tea.Cmd) {
	row, ok := a.shelf.selected()
	switch {
	case !ok:
		a.status = status{a.shelf.whyNoBatch(), saidPlain}
	case !row.Empty():
		a.status = status{row.Vessel.Label + " holds " + row.Batch.Name + "; choose an empty vessel", saidPlain}
	default:
		a.status = status{}
		a.form.openBatch(row)
		a.enter(onForm)
	}
	return a, nil
}

// openRackForm asks where the batch goes, if there is anywhere.
func (a app) openRackForm(row model.Row) (tea.Model, tea.Cmd) {
	free := a.shelf.free()
	if len(free) == 0 {
		a.status = status{"no empty vessel to rack into; " + a.shelf.keys.NewVessel.Help().Key + " adds one", saidPlain}
		return a, nil
	}
	a.status = status{}
	a.form.openRack(row, free, a.batch.batch, a.words())
	a.enter(onForm)
	return a, nil
}
