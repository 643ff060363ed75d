package cli_test

import (
	"fmt"
	"slices"
	"sync"
	"time"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui"
	"cellar.local/glassrow/ui/cli"
	"cellar.local/glassrow/ui/cli/clitest"
)

// shelves keeps cellars in memory by their path, as a disk would.
type shelves map[string]*memory

// memoryCellars returns cellars that live as long as a script.
func memoryCellars() clitest.Cellars {
	disk := shelves{}
	return clitest.Cellars{Open: disk.open, Create: disk.create, Demo: disk.demo, Sweeteners: sweeteners(), Handbook: handbook()}
}

func (d shelves) open(path string) (ui.Store, error) {
	if m, ok := d[path]; ok {
		return m, nil
	}
	return nil, fmt.Errorf("open %s: %w", path, cli.ErrNoCellar)
}

func (d shelves) create(path string, s model.Settings) (ui.Store, error) {
	if _, ok := d[path]; ok {
		return nil, fmt.Errorf("%s is there already", path)
	}
	d[path] = &memory{path: path, settings: s}
	return d[path], nil
}

// demo is a small cellar with one batch stuck and one vessel empty.
func (d shelves) demo(path string, now time.Time) (ui.Store, error) {
	s, err := d.create(path, model.Settings{CellarName: "Boathouse"})
	if err != nil {
		return nil, err
	}
	days := func(n int) time.Time { return now.AddDate(0, 0, -n) }
	n1, err := s.AddVessel(model.Vessel{Label: "N1", Kind: model.Demijohn, Capacity: 5, Place: "north shelf", Added: now})
	if err != nil {
		return nil, err
	}
	n6, err := s.AddVessel(model.Vessel{Label: "N6", Kind: model.Bucket, Capacity: 23, Added: now})
	if err != nil {
		return nil, err
	}
	entries := []model.Entry{
		{At: days(40), Body: model.Must{Vessel: n1.ID, Volume: 4.5, Gravity: 1.09}},
		{At: days(40), Body: model.Pitch{Yeast: model.WineYeast}},
	}
	for i, sg := range []calc.SG{1.06, 1.04, 1.031, 1.03, 1.03} {
		entries = append(entries, model.Entry{At: days(36 - 4*i), Body: model.Reading{Gravity: sg, Scale: model.ScaleSG, Calibration: 20}})
	}
	if _, err = s.StartBatch(model.Batch{Name: "Damson wine", Drink: model.Wine, Entries: entries}); err != nil {
		return nil, err
	}
	bottled := []model.Entry{
		{At: days(500), Body: model.Must{Vessel: n6.ID, Volume: 11, Gravity: 1.09}},
		{At: days(500), Body: model.Pitch{Yeast: model.WineYeast}},
		{At: days(400), Body: model.Reading{Gravity: 0.994, Scale: model.ScaleSG, Calibration: 20}},
		{At: days(388), Body: model.Bottle{Count: 13, Size: 0.75}},
		{At: days(330), Body: model.Tasted{Bottles: 1, Marked: true, Mark: 5, Words: "shut"}},
		{At: days(175), Body: model.Tasted{Bottles: 6}},
		{At: days(118), Body: model.Tasted{Bottles: 1, Marked: true, Mark: 8.5}},
	}
	_, err = s.StartBatch(model.Batch{Name: "Quince wine", Drink: model.Wine, Entries: bottled})
	return s, err
}

// memory is a ui.Store without a disk.
type memory struct {
	mu       sync.Mutex
	path     string
	revision uint64
	settings model.Settings
	vessels  []model.Vessel
	batches  []model.Batch
	series   map[model.BatchID][]model.DeviceReading
	recipes  []model.Recipe
	plans    map[model.BatchID][]model.Plan
}

var _ ui.Store = (*memory)(nil)

func (m *memory) Path() string { return m.path }

func (m *memory) Revision() (uint64, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.revision, nil
}

func (m *memory) Shelf() (model.Shelf, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.shelf(), nil
}

func (m *memory) shelf() model.Shelf {
	s := model.Shelf{Revision: m.revision, Settings: m.settings, Vessels: append([]model.Vessel(nil), m.vessels...)}
	for _, b := range m.batches {
		s.Batches = append(s.Batches, model.Summarise(b))
	}
	return s
}

func (m *memory) Batch(id model.BatchID) (model.Batch, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	i, err := m.index(id)
	if err != nil {
		return model.Batch{}, err
	}
	return m.batches[i], nil
}

func (m *memory) index(id model.BatchID) (int, error) {
	if id == 0 || int(id) > len(m.batches) {
		return 0, fmt.Errorf("no batch %d in %s", id, m.path)
	}
	return int(id) - 1, nil
}

func (m *memory) AddVessel(v model.Vessel) (model.Vessel, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if err := v.Validate(); err != nil {
		return v, err
	}
	if _, taken := m.shelf().VesselNamed(v.Label); taken {
		return v, fmt.Errorf("there is a vessel %s already: %w", v.Label, model.ErrInvalid)
	}
	v.ID = model.VesselID(len(m.vessels) + 1)
	m.vessels = append(m.vessels, v)
	m.revision++
	return v, nil
}

func (m *memory) ChangeVessel(v model.Vessel) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if err := v.Validate(); err != nil {
		return err
	}
	if other, taken := m.shelf().VesselNamed(v.Label); taken && other.ID != v.ID {
		return fmt.Errorf("there is a vessel %s already: %w", other.Label, model.ErrInvalid)
	}
	for i := range m.vessels {
		if m.vessels[i].ID == v.ID {
			m.vessels[i] = v
			m.revision++
			return nil
		}
	}
	return fmt.Errorf("no vessel %d in %s", v.ID, m.path)
}

func (m *memory) StartBatch(b model.Batch) (model.Batch, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	b.ID = model.BatchID(len(m.batches) + 1)
	entries := b.Entries
	b.Entries = nil
	b, err := numbered(b, entries)
	if err != nil {
		return b, err
	}
	m.batches = append(m.batches, b)
	m.revision++
	return b, nil
}

func (m *memory) Append(id model.BatchID, entries ...model.Entry) (model.Batch, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	i, err := m.index(id)
	if err != nil {
		return model.Batch{}, err
	}
	if len(entries) > 1 {
		entries = append([]model.Entry(nil), entries...)
		for i := range entries {
			entries[i].Deed = m.revision + 1
		}
	}
	b, err := numbered(m.batches[i], entries)
	if err != nil {
		return model.Batch{}, err
	}
	m.batches[i] = b
	m.revision++
	return b, nil
}

func (m *memory) Record(all ...model.DeviceReadings) ([]model.Taken, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.series == nil {
		m.series = make(map[model.BatchID][]model.DeviceReading)
	}
	var out []model.Taken
	added := 0
	for _, d := range all {
		i, err := m.index(d.Batch)
		if err != nil {
			return nil, err
		}
		t := model.Taken{Batch: d.Batch}
		for _, r := range d.Readings {
			at := slices.IndexFunc(m.series[d.Batch], func(was model.DeviceReading) bool { return was.At.Equal(r.At) })
			switch {
			case at < 0:
				t.Added++
				m.series[d.Batch] = append(m.series[d.Batch], r)
				continue
			case m.series[d.Batch][at].Gravity != r.Gravity:
				t.Other++
			}
			t.There++
		}
		m.batches[i].Series = model.SpellsOf(m.series[d.Batch])
		out, added = append(out, t), added+t.Added
	}
	if added > 0 {
		m.revision++
	}
	return out, nil
}

func (m *memory) Write(writings ...model.Writing) ([]model.Batch, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.write(writings)
}

// write adds to several journals, or to none.
func (m *memory) write(writings []model.Writing) ([]model.Batch, error) {
	all := append([]model.Batch(nil), m.batches...)
	var out []model.Batch
	fresh := model.BatchID(0)
	for _, w := range writings {
		b, entries := w.New, w.Entries
		if w.Batch == 0 {
			fresh = model.BatchID(len(all) + 1)
			entries, b.Entries, b.ID = b.Entries, nil, fresh
			all = append(all, b)
		} else {
			b = all[w.Batch-1]
		}
		entries = append([]model.Entry(nil), entries...)
		for i, e := range entries {
			entries[i].Deed = m.revision + 1
			if d, ok := e.Body.(model.Draw); ok && d.To == 0 && fresh != 0 {
				d.To = fresh
				entries[i].Body = d
			}
		}
		b, err := numbered(b, entries)
		if err != nil {
			return nil, err
		}
		all[b.ID-1] = b
		out = append(out, b)
	}
	m.batches = all
	m.revision++
	return out, nil
}

func (m *memory) Undo(id model.BatchID, at time.Time, reason string) ([]model.Batch, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	i, err := m.index(id)
	if err != nil {
		return nil, err
	}
	last, _ := m.batches[i].LastUndoable()
	var writings []model.Writing
	for _, b := range append([]model.BatchID{id}, model.Others(m.batches[i].Deed(last))...) {
		w := model.Writing{Batch: b}
		for _, e := range m.batches[b-1].Deed(last) {
			w.Entries = append(w.Entries, model.Entry{At: at, Recorded: at, Body: model.Void{Entry: e.ID, Reason: reason}})
		}
		writings = append(writings, w)
	}
	return m.write(writings)
}

// numbered adds entries to a journal that they must leave possible.
func numbered(b model.Batch, entries []model.Entry) (model.Batch, error) {
	b.Entries = append([]model.Entry(nil), b.Entries...)
	for _, e := range entries {
		if err := e.Body.Validate(); err != nil {
			return b, err
		}
		e.ID = model.EntryID(len(b.Entries) + 1)
		b.Entries = append(b.Entries, e)
	}
	if sum := model.Summarise(b); sum.Problem != "" {
		return b, fmt.Errorf("%s: %w", sum.Problem, model.ErrInvalid)
	}
	return b, nil
}

func (m *memory) SaveSettings(s model.Settings) error {
	if err := s.Validate(); err != nil {
		return err
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	m.settings = s
	m.revision++
	return nil
}

// sweeteners are a few rows of the handbook, with its names and compositions:
// honey is the average of 490 US honeys (White 1962), sugar 99.8 % sucrose (USDA
// SR26). The malt extracts are only there to be mistaken for each other.
func sweeteners() []model.Sweetener {
	row := func(id, name string, of parts, caution string, aliases ...string) model.Sweetener {
		i, err := calc.NewIngredient(name, of)
		if err != nil {
			panic(err)
		}
		return model.Sweetener{ID: id, Ingredient: i, Aliases: aliases, Form: "as sold", Caution: caution, Source: "a food table"}
	}
	return []model.Sweetener{
		row("honey_average", "honey", parts{calc.Water: 17.2, calc.Sucrose: 1.31, calc.Glucose: 31.28, calc.Fructose: 38.19,
			calc.Maltose: 7.31, calc.OtherSolids: 4.71}, "Not for children under 12 months, even cooked or in food: infant botulism."),
		row("white_sugar", "white sugar", parts{calc.Sucrose: 99.8, calc.OtherSolids: 0.18, calc.Water: 0.02}, "", "sugar", "sucrose"),
		row("malt_extract_liquid", "malt extract, liquid", parts{calc.Maltose: 40, calc.Dextrin: 40, calc.Water: 20}, ""),
		row("malt_extract_dry", "malt extract, dry", parts{calc.Maltose: 50, calc.Dextrin: 47, calc.Water: 3}, ""),
		row("lactose", "lactose", parts{calc.Lactose: 95, calc.Water: 5}, "Holds milk.", "milk sugar"),
		row("sucralose", "sucralose", parts{calc.Sucralose: 1}, ""),
	}
}
