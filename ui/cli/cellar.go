package cli

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui"
)

// path returns where the cellar is: the flag, else $GLASSROW_CELLAR, else
// glassrow/cellar.db in the user's data directory.
func (a *app) path() (string, error) {
	for _, named := range []string{a.cellar, a.Getenv("GLASSROW_CELLAR")} {
		if named != "" {
			return filepath.Abs(named)
		}
	}
	dir, ok := DataDir(a.Getenv)
	if !ok {
		return "", errors.New("no home directory is known; name the cellar with --cellar FILE")
	}
	return filepath.Join(dir, "cellar.db"), nil
}

// DataDir returns the folder that the program keeps its things in, and whether
// there is one: glassrow in the user's data directory.
func DataDir(getenv func(string) string) (dir string, ok bool) {
	// The XDG base directory specification says to ignore a relative path.
	if dir := getenv("XDG_DATA_HOME"); filepath.IsAbs(dir) {
		return filepath.Join(dir, "glassrow"), true
	}
	for _, home := range []string{getenv("HOME"), getenv("USERPROFILE")} {
		if filepath.IsAbs(home) {
			return filepath.Join(home, ".local", "share", "glassrow"), true
		}
	}
	return "", false
}

// open opens the cellar and reads the shelf.
func (a *app) open() (ui.Store, model.Shelf, error) {
	path, err := a.path()
	if err != nil {
		return nil, model.Shelf{}, err
	}
	store, err := a.Open(path)
	if errors.Is(err, ErrNoCellar) {
		return nil, model.Shelf{}, noCellar(path)
	}
	if err != nil {
		return nil, model.Shelf{}, err
	}
	shelf, err := store.Shelf()
	return store, shelf, err
}

// noCellar says how to get one.
func noCellar(path string) error {
	return fmt.Errorf("no cellar at %s; "+
		"make one with glassrow vessel add LABEL --kind carboy --capacity 23L or on the dashboard, glassrow, or name another with --cellar FILE", path)
}

// existing returns where the cellar is, and complains when there is none. A cellar that
// cannot be opened is there all the same.
func (a *app) existing() (string, error) {
	path, err := a.path()
	if err != nil {
		return "", err
	}
	if _, err := a.Open(path); errors.Is(err, ErrNoCellar) {
		return "", noCellar(path)
	}
	return path, nil
}

// spot is a vessel of the cellar and the batch in it.
type spot struct {
	store    ui.Store
	settings model.Settings
	shelf    model.Shelf
	vessel   model.Vessel
	batch    model.Batch
}

// find opens the cellar and looks for the batch that a person means: the one in the
// vessel with that label, else the one with that number (#4), lot or name, which may be
// in no vessel any more.
func (a *app) find(name string) (spot, error) {
	store, shelf, err := a.open()
	if err != nil {
		return spot{}, err
	}
	at := spot{store: store, settings: shelf.Settings, shelf: shelf}
	sum, v, err := locate(store, shelf, name)
	if err != nil {
		return spot{}, err
	}
	at.vessel = v
	if at.batch, err = store.Batch(sum.Batch); err != nil {
		return spot{}, err
	}
	return at, nil
}

// locate finds the batch that a person means, and the vessel it is in or what stands for
// one.
func locate(store ui.Store, shelf model.Shelf, name string) (model.Summary, model.Vessel, error) {
	if v, ok := shelf.VesselNamed(name); ok {
		sum, ok := shelf.BatchIn(v.ID)
		if !ok {
			return sum, v, fmt.Errorf("nothing is in %s; begin with glassrow start NAME --vessel %s", v.Label, v.Label)
		}
		return sum, v, nil
	}
	sum, err := batchNamed(shelf, name)
	if err != nil {
		return sum, model.Vessel{}, err
	}
	if id, ok := model.BatchOfLot(name); ok && sum.Batch == id {
		b, err := store.Batch(id)
		if err != nil {
			return sum, model.Vessel{}, err
		}
		if !strings.EqualFold(b.Lot(), strings.TrimSpace(name)) {
			return sum, model.Vessel{}, fmt.Errorf("no batch of lot %q; that of number %d is %s", name, id, b.Lot())
		}
	}
	return sum, vesselOf(shelf, sum), nil
}

// batchNamed finds a batch by its number, lot or name.
func batchNamed(shelf model.Shelf, name string) (model.Summary, error) {
	id, numbered := model.BatchOfLot(name)
	if digits, ok := strings.CutPrefix(strings.TrimSpace(name), "#"); ok {
		n, err := strconv.ParseUint(digits, 10, 64)
		id, numbered = model.BatchID(n), err == nil
	}
	if numbered {
		if i := slices.IndexFunc(shelf.Batches, func(s model.Summary) bool { return s.Batch == id }); i >= 0 {
			return shelf.Batches[i], nil
		}
		return model.Summary{}, fmt.Errorf("no batch has the number %d", id)
	}
	// A batch that was split off and undone is none any more.
	batches := slices.DeleteFunc(slices.Clone(shelf.Batches), model.Summary.Undone)
	found, ok, several := model.FindNamed(batches, func(s model.Summary) []string { return []string{s.Name} }, name)
	if ok && strings.EqualFold(found.Name, strings.TrimSpace(name)) {
		return found, nil
	}
	if ok { // part of a name may be a label mistyped, and some commands write
		several = []model.Summary{found}
	}
	if len(several) > 0 {
		could := make([]string, 0, 6)
		for _, s := range several[:min(6, len(several))] {
			could = append(could, fmt.Sprintf("#%d %s", s.Batch, s.Name))
		}
		return model.Summary{}, fmt.Errorf("%q could be %s; write the whole name, or the number in quotes", name, strings.Join(could, " or "))
	}
	_, err := vesselNamed(shelf, name)
	return model.Summary{}, err
}

// vesselOf is the vessel that a batch is in. What is in none answers to its number.
func vesselOf(shelf model.Shelf, sum model.Summary) model.Vessel {
	for _, v := range shelf.Vessels {
		if v.ID == sum.Vessel && v.ID != 0 {
			return v
		}
	}
	return model.Vessel{Label: fmt.Sprintf("#%d", sum.Batch)}
}

// vesselNamed is [model.Shelf.VesselNamed] with an error that lists the labels.
func vesselNamed(shelf model.Shelf, label string) (model.Vessel, error) {
	if v, ok := shelf.VesselNamed(label); ok {
		return v, nil
	}
	if len(shelf.Vessels) == 0 {
		return model.Vessel{}, fmt.Errorf("no vessel %q, for the cellar has none yet; glassrow vessel add makes one", label)
	}
	labels := labelsOf(shelf)
	rest := ""
	if len(labels) > 12 {
		labels, rest = labels[:12], " and more"
	}
	return model.Vessel{}, fmt.Errorf("no vessel %q; there are %s%s", label, strings.Join(labels, ", "), rest)
}

// labelsOf returns the labels in the order in which one walks past the vessels.
func labelsOf(shelf model.Shelf) []string {
	labels := make([]string, len(shelf.Vessels))
	for i, v := range shelf.Vessels {
		labels[i] = v.Label
	}
	slices.SortFunc(labels, model.CompareLabels)
	return labels
}

// label returns what is written on a vessel.
func (s spot) label(id model.VesselID) string {
	for _, v := range s.shelf.Vessels {
		if v.ID == id {
			return v.Label
		}
	}
	return ""
}
